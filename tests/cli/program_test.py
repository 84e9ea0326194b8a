#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The program as a whole process: program_test.py PROGRAM SOURCE_DIR.

What a string stream cannot show: real exit statuses, pipes, full disks, files, a terminal.
"""
import functools
import json
import os
import pty
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
import unicodedata
import unittest

PROGRAM = os.path.abspath(sys.argv[1])
SOURCE = os.path.abspath(sys.argv[2])
INSIDE, WARNING, UNUSABLE, FAILED = 0, 1, 2, 3
WIDTH = 80
PATIENCE_SECONDS = 600  # only a run that would never end is still there then


def fixture(name):
    return os.path.join(SOURCE, "fixtures", name)


def run(*arguments, **keywords):
    return subprocess.run([PROGRAM, *arguments], capture_output=True, text=True,
                          timeout=PATIENCE_SECONDS, **keywords)


@functools.lru_cache(maxsize=None)
def printed(*arguments):
    """Standard output of a run that several tests look at: it is made once."""
    return run(*arguments).stdout


def columns(line):
    return sum(0 if unicodedata.combining(letter) else
               2 if unicodedata.east_asian_width(letter) in "WF" else 1 for letter in line)


def examples(text):
    """Command lines of a help text: two spaces, the program's name; a backslash goes on."""
    joined = re.sub(r"\\\n\s*", "", text)
    return re.findall(r"^  (stackfit .*)$", joined, re.MULTILINE)


def numbers(value, path=""):
    """Every number of a JSON value by its path."""
    if isinstance(value, dict):
        for key, item in value.items():
            yield from numbers(item, f"{path}/{key}")
    elif isinstance(value, list):
        for index, item in enumerate(value):
            yield from numbers(item, f"{path}/{index}")
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        yield path, value


class Folder(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.mkdtemp(prefix="stackfit_program_test_")
        self.addCleanup(shutil.rmtree, self.folder)

    def file(self, name):
        return os.path.join(self.folder, name)


class ExitStatus(Folder):
    def test_inside_warning_and_unusable(self):
        self.assertEqual(run("pick", fixture("shed_bank.json")).returncode, INSIDE)
        self.assertEqual(run("pick", fixture("too_few_shims.json")).returncode, WARNING)
        for arguments in (["pick", self.file("none.json")], ["pick"], ["pick", "--frob"],
                          ["stack"], []):
            result = run(*arguments)
            self.assertEqual(result.returncode, UNUSABLE, arguments)
            self.assertEqual(result.stdout, "", arguments)
            self.assertNotEqual(result.stderr, "", arguments)

    def test_every_broken_fixture_is_refused(self):
        broken = fixture("broken")
        for name in sorted(os.listdir(broken)):
            if not name.endswith(".json"):
                continue
            result = run("pick", os.path.join(broken, name))
            self.assertEqual(result.returncode, UNUSABLE, name)
            self.assertEqual(result.stdout, "", name)

    def test_closed_pipe_and_full_disk(self):
        reader, writer = os.pipe()
        os.close(reader)
        process = subprocess.run([PROGRAM, "pick", fixture("shed_bank.json")], stdout=writer,
                                 stderr=subprocess.PIPE, text=True, timeout=PATIENCE_SECONDS)
        os.close(writer)
        self.assertEqual(process.returncode, FAILED)
        if os.path.exists("/dev/full"):
            with open("/dev/full", "w") as full:
                process = subprocess.run([PROGRAM, "pick", fixture("shed_bank.json")],
                                         stdout=full, stderr=subprocess.PIPE, timeout=PATIENCE_SECONDS)
            self.assertEqual(process.returncode, FAILED)

    def test_standard_input(self):
        with open(fixture("shed_bank.json"), encoding="utf-8") as build:
            self.assertEqual(run("pick", "-", input=build.read()).returncode, INSIDE)
        with open(fixture("used_twelve.csv"), encoding="utf-8") as table:
            text = table.read()
        self.assertEqual(run("check", "-", input=text).returncode, WARNING)
        self.assertEqual(run("pick", "-", input=text).returncode, UNUSABLE)


class Output(Folder):
    def builds(self):
        folder = os.path.join(SOURCE, "fixtures")
        return [os.path.join(folder, name) for name in sorted(os.listdir(folder))
                if name.endswith(".json")]

    # What is looked at of every build; the chance where it prints, and not over and over.
    VIEWS = (("pick",), ("pressure", "--no-chance"),
             ("pick", "--assumed", "--no-chance"), ("pressure", "--assumed", "--no-chance"),
             ("pick", "--all", "--units", "in,psi,lbf,F"),
             ("pressure", "--all", "--units", "in,psi,lbf,F"))

    def test_eighty_columns_and_no_escapes(self):
        for build in self.builds():
            for command, *more in self.VIEWS:
                text = printed(command, build, *more)
                self.assertNotIn("\x1b", text)
                for line in text.splitlines():
                    self.assertLessEqual(columns(line), WIDTH, (build, command, more, line))

    def test_help_is_eighty_columns_too(self):
        for arguments in (["--help"], ["pick", "--help"], ["pressure", "--help"],
                          ["check", "--help"], ["gauge", "--help"], ["new", "--help"],
                          ["softness", "--help"], ["size", "--help"], ["sort", "--help"]):
            result = run(*arguments)
            self.assertEqual(result.returncode, INSIDE)
            for line in result.stdout.splitlines():
                self.assertLessEqual(columns(line), WIDTH, line)

    def test_json_parses_and_has_one_shape(self):
        shapes = set()
        for build in self.builds():
            for command, *more in (("pick",), ("pressure", "--no-chance")):
                answer = json.loads(printed(command, build, "--json", *more))
                shapes.add(tuple(answer))
                self.assertEqual(answer["question"], command)
        self.assertEqual(len(shapes), 1)

    def test_first_and_last_words(self):
        for build in self.builds():
            for command, *more in self.VIEWS:
                text = " ".join(printed(command, build, *more).split())
                self.assertTrue(text.startswith("STOP:"), text[:40])
                self.assertIn("local codes overrule", text)
                self.assertIn("licensed or qualified person", text)

    def test_terminal_gets_colour_unless_refused(self):
        for refused in (False, True):
            environment = dict(os.environ, TERM="xterm")
            environment.pop("NO_COLOR", None)
            if refused:
                environment["NO_COLOR"] = "1"
            controller, terminal = pty.openpty()
            process = subprocess.Popen([PROGRAM, "pick", fixture("shed_bank.json")],
                                       stdout=terminal, stderr=subprocess.DEVNULL,
                                       env=environment)
            os.close(terminal)
            seen = b""
            while True:
                try:
                    piece = os.read(controller, 4096)
                except OSError:  # Linux: the other side has gone
                    break
                if not piece:
                    break
                seen += piece
            process.wait(timeout=PATIENCE_SECONDS)
            os.close(controller)
            self.assertEqual(b"\x1b" in seen, not refused)

    def test_examples_of_the_help_work_as_typed(self):
        found = []
        for arguments in (["--help"], ["pick", "--help"], ["pressure", "--help"],
                          ["check", "--help"], ["gauge", "--help"], ["new", "--help"],
                          ["softness", "--help"], ["sort", "--help"]):
            found += examples(run(*arguments).stdout)
        found += examples(run("pick").stderr) + examples(run("check").stderr)
        found += examples(run("sort").stderr)
        self.assertGreaterEqual(len(found), 8)
        for line in found:
            words = shlex.split(line)
            result = subprocess.run([PROGRAM, *words[1:]], cwd=SOURCE, capture_output=True,
                                    text=True, timeout=PATIENCE_SECONDS)
            self.assertIn(result.returncode, (INSIDE, WARNING), (line, result.stderr))
            self.assertNotEqual(result.stdout, "", line)


# What a search tells besides the plan; of sheets as placed nothing was sought.
SOUGHT = ("/best_margin", "/margin_bound", "/margin_gap")


def figures(part):
    return {path: value for path, value in numbers(part) if path not in SOUGHT}


class Saving(Folder):
    def test_pressure_on_a_saved_build_gives_the_same_numbers(self):
        for name in ("shed_bank.json", "boat_hand_slid.json", "van_sixteen.json"):
            saved = self.file(name)
            picked = json.loads(run("pick", fixture(name), "--save", saved, "--json").stdout)
            seen = json.loads(run("pressure", saved, "--json").stdout)
            for part in ("plan", "insertion", "band", "soft", "stiff", "moves"):
                before = figures(picked[part])
                after = figures(seen[part])
                self.assertEqual(before.keys(), after.keys(), (name, part))
                for path, value in before.items():
                    self.assertAlmostEqual(after[path], value, delta=1e-9 * max(1, abs(value)),
                                           msg=f"{name} {part}{path}")

    def test_an_input_is_never_written_over(self):
        build = self.file("build.json")
        shutil.copy(fixture("shed_bank.json"), build)
        with open(build, "rb") as before:
            bytes_before = before.read()
        linked = self.file("link.json")
        os.symlink(build, linked)
        for target in (build, linked, os.path.join(self.folder, ".", "build.json")):
            result = run("pick", build, "--save", target)
            self.assertEqual(result.returncode, FAILED, target)
            with open(build, "rb") as after:
                self.assertEqual(after.read(), bytes_before)

    def test_a_place_that_cannot_be_written_ends_with_3(self):
        result = run("pick", fixture("shed_bank.json"), "--save",
                     self.file("no/such/folder/built.json"))
        self.assertEqual(result.returncode, FAILED)
        self.assertIn("was not written", result.stderr)


class Chance(Folder):
    def test_the_same_bytes_on_one_thread_and_on_two(self):
        for name in ("shed_bank.json", "bench_frame.json"):
            one, two = (run("pick", fixture(name), "--json", "--threads", threads).stdout
                        for threads in ("1", "2"))
            self.assertGreater(json.loads(one)["chance"]["samples"], 0)
            self.assertEqual(one, two, name)

    def test_a_chance_that_is_needed_decides_the_exit_status(self):
        ask = ("pick", fixture("boat_hand_slid.json"), "--by", "margin")
        self.assertEqual(run(*ask).returncode, INSIDE)
        self.assertEqual(run(*ask, "--need-chance", "10").returncode, INSIDE)
        poor = run("pressure", fixture("four_years.json"), "--need-chance", "99")
        self.assertEqual(poor.returncode, WARNING)

    def test_where_no_draw_fails_it_is_more_than(self):
        wide = ("pick", fixture("bench_frame.json"), "--set", "cell.range.low=0.1 kPa",
                "--set", "cell.range.high=2 MPa")
        chance = json.loads(run(*wide, "--json").stdout)["chance"]
        self.assertEqual(chance["chance"], 1)
        self.assertAlmostEqual(chance["more_than"], min(1 - 3 / chance["samples"], 0.999))
        self.assertIn("more than 999 in 1000", " ".join(run(*wide).stdout.split()))

    def test_no_chance_draws_nothing(self):
        answer = json.loads(run("pick", fixture("shed_bank.json"), "--no-chance",
                                "--json").stdout)
        self.assertIsNone(answer["chance"])


class CellsMayMove(Folder):
    BUILD = "cells_may_move/mixed_eight.json"

    def test_the_order_is_shown_and_kept(self):
        saved = self.file("built.json")
        picked = json.loads(run("pick", fixture(self.BUILD), "--save", saved, "--json").stdout)
        order = picked["order"]
        self.assertEqual(sorted(order["ids"]), list("ABCDEFGH"))
        self.assertEqual(order["ids"], ["ABCDEFGH"[place - 1] for place in order["places"]])
        self.assertGreater(order["moved"], 0)
        self.assertTrue(order["proven"] and order["fewest_moved_proven"])
        self.assertLess(picked["plan"]["terminal_deviation_mm"], order["deviation_as_listed_mm"])
        self.assertLessEqual(order["deviation_bound_mm"],
                             picked["plan"]["terminal_deviation_mm"] + 1e-9)
        self.assertEqual([cell["id"] for cell in picked["cells"]], order["ids"])
        # In series each cell is turned about from its neighbour, whichever it is.
        self.assertEqual([cell["plus_near_side"] for cell in picked["cells"]], 4 * [True, False])

        seen = json.loads(run("pressure", saved, "--json").stdout)
        self.assertIsNone(seen["order"])
        self.assertEqual([cell["id"] for cell in seen["cells"]], order["ids"])
        for part in ("plan", "insertion", "moves", "sense_lead_v"):
            before = figures(picked[part])
            after = figures(seen[part])
            self.assertEqual(before.keys(), after.keys(), part)
            for path, value in before.items():
                self.assertAlmostEqual(after[path], value, delta=1e-9 * max(1, abs(value)),
                                       msg=part + path)

    def test_the_order_is_told_in_words(self):
        ids = json.loads(printed("pick", fixture(self.BUILD), "--json"))["order"]["ids"]
        text = printed("pick", fixture(self.BUILD))
        self.assertIn("order of the cells from the fixed wall: " + ", ".join(ids), text)
        self.assertRegex(text, r"wall \|.\|" + r"\|.\|".join(rf" {one} " for one in ids) + r"\|")
        self.assertIn(f"sheets, cell {ids[0]}, sheets, cell {ids[1]} ... cell {ids[7]}", text)
        self.assertIn("none is better", " ".join(text.split()))
        for line in text.splitlines():
            self.assertLessEqual(columns(line), WIDTH, line)

    def test_cells_stay_where_that_is_not_said(self):
        # Order and sheets go together by the margin, so the order as listed must as well.
        stay = ["pick", fixture(self.BUILD), "--by", "margin", "--set", "cells_may_move=false"]
        answer = json.loads(printed(*stay, "--json"))
        self.assertIsNone(answer["order"])
        self.assertEqual("".join(cell["id"] for cell in answer["cells"]), "ABCDEFGH")
        self.assertNotIn("order of the cells", printed(*stay))
        moved = json.loads(printed("pick", fixture(self.BUILD), "--json"))
        self.assertAlmostEqual(answer["plan"]["terminal_deviation_mm"],
                               moved["order"]["deviation_as_listed_mm"], delta=1e-9)

    def test_cells_of_a_table_without_ids_keep_their_numbers(self):
        with open(fixture(self.BUILD), encoding="utf-8") as text:
            build = json.loads("".join(line for line in text if not line.startswith("//")))
        with open(self.file("cells.csv"), "w", encoding="utf-8") as table:
            table.write("edge,middle,voltage,signs\n")
            for cell in build.pop("cells"):
                table.write(f"{cell['edge']},{cell['middle']},{cell['voltage']},none\n")
        build["measured"] = "cells.csv"
        with open(self.file("build.json"), "w", encoding="utf-8") as text:
            json.dump(build, text)
        saved = self.file("built.json")
        picked = json.loads(run("pick", self.file("build.json"), "--save", saved,
                                "--json").stdout)
        self.assertEqual(picked["order"]["ids"], [str(n) for n in picked["order"]["places"]])
        self.assertGreater(picked["order"]["moved"], 0)
        seen = json.loads(run("pressure", saved, "--json").stdout)
        self.assertEqual([cell["id"] for cell in seen["cells"]], picked["order"]["ids"])
        self.assertAlmostEqual(seen["plan"]["terminal_deviation_mm"],
                               picked["plan"]["terminal_deviation_mm"], delta=1e-9)

    def test_cells_that_leave_their_parallel_group_are_a_warning(self):
        answer = json.loads(printed("pick", fixture(self.BUILD), "--json", "--set", "series=4",
                                    "--set", "parallel=2"))
        codes = [warning["code"] for warning in answer["warnings"]]
        self.assertEqual(answer["order"]["groups_change"], "cells_change_groups" in codes)
        self.assertTrue(answer["order"]["groups_change"])
        self.assertEqual([cell["plus_near_side"] for cell in answer["cells"]],
                         2 * [True, True, False, False])

    def test_bars_over_the_swing(self):
        bars = json.loads(printed("pick", fixture(self.BUILD), "--json"))["plan"]["terminals"]
        # (6.4 - 6) / 2 + (7 - 6) / 2
        self.assertAlmostEqual(bars["play_mm"], 0.7, delta=1e-9)
        self.assertTrue(bars["go_on"])
        self.assertIn("each bar goes on", printed("pick", fixture(self.BUILD)))
        tight = json.loads(printed("pick", fixture(self.BUILD), "--json", "--set",
                                   "cell.terminals.slot=6.4 mm", "--set",
                                   "cell.terminals.spacing=61 mm"))
        self.assertFalse(tight["plan"]["terminals"]["go_on"])
        found = [w for w in tight["warnings"] if w["code"] == "bar_does_not_go_on"]
        self.assertEqual(len(found), 1)
        self.assertAlmostEqual(found[0]["size"], tight["plan"]["terminal_deviation_mm"],
                               delta=1e-9)


class Mending(Folder):
    def test_a_remedy_as_printed_gives_exit_0(self):
        """The lines are pasted into a shell, as a person would."""
        text = run("pick", fixture("too_few_shims.json"), "--all").stdout
        lines = [line.strip() for line in text.splitlines() if line.startswith("    --set ")]
        self.assertGreater(len(lines), 0)
        for line in lines:
            command = f"{shlex.quote(PROGRAM)} pick {shlex.quote(fixture('too_few_shims.json'))}"
            result = subprocess.run(f"{command} {line}", shell=True, capture_output=True,
                                    text=True, timeout=PATIENCE_SECONDS)
            self.assertEqual(result.returncode, INSIDE, (line, result.stdout, result.stderr))


class Stopping(Folder):
    def test_a_sign_or_a_swollen_cell_is_refused_outright(self):
        for change in ("cells.2.signs=smell", "cells.2.middle=61.5"):
            result = run("pick", fixture("shed_bank.json"), "--set", change)
            self.assertEqual(result.returncode, WARNING, change)
            self.assertTrue(result.stdout.startswith("STOP: cell C"), result.stdout[:60])
            for never in ("WHERE THE SHIMS GO", "PUT IT TOGETHER", "ONE OF THESE MENDS IT",
                          "FITS"):
                self.assertNotIn(never, result.stdout)
            saved = self.file("built.json")
            run("pick", fixture("shed_bank.json"), "--set", change, "--save", saved)
            self.assertFalse(os.path.exists(saved))


class New(Folder):
    def test_forms_are_written_and_a_file_is_never_written_over(self):
        form = self.file("form.json")
        self.assertEqual(run("new", form, "--blank").returncode, INSIDE)
        again = run("new", form, "--blank")
        self.assertEqual(again.returncode, FAILED)
        self.assertIn("is there already", again.stderr)
        self.assertEqual(run("new", self.file("form.csv"), "--blank").returncode, INSIDE)
        sheet = run("new", "--measure", "--cells", "16")
        self.assertEqual(sheet.returncode, INSIDE)
        self.assertEqual(run("new", "--blank", "--measure").returncode, UNUSABLE)

    def test_an_unfilled_form_is_refused_with_what_it_lacks(self):
        form = self.file("form.json")
        run("new", form, "--blank")
        result = run("pick", form)
        self.assertEqual(result.returncode, UNUSABLE)
        self.assertIn("box", result.stderr)

    def test_interview_on_a_terminal_with_enter_to_all_but_four_facts(self):
        facts = {"How many cells": "8s", "big flat side": "141x183",
                 "data sheet print for the thickness": "58.4+-0.5 mm 30-40% 215kgf",
                 "long is the box": "474"}
        build = self.file("asked.json")
        controller, terminal = pty.openpty()
        process = subprocess.Popen([PROGRAM, "new", build], stdin=terminal, stdout=terminal,
                                   stderr=terminal)
        os.close(terminal)
        question, said, used = "", "", set()
        while True:
            try:
                piece = os.read(controller, 4096).decode("utf-8", "replace")
            except OSError:  # Linux: the other side has gone
                break
            if not piece:
                break
            said += piece
            question += piece
            if not question.endswith("> "):
                continue
            flowed = " ".join(question.split())
            fact = next((key for key in facts if key in flowed), None)
            used.add(fact)
            os.write(controller, (facts.get(fact, "") + "\n").encode())
            question = ""
        self.assertEqual(process.wait(timeout=PATIENCE_SECONDS), INSIDE, said)
        os.close(controller)
        self.assertEqual(used, {None, *facts}, said)
        answered = run("pick", build)
        self.assertIn(answered.returncode, (INSIDE, WARNING), answered.stderr)
        self.assertIn("*", answered.stdout)

    def test_questions_go_to_standard_error(self):
        result = run("new", input="")
        self.assertEqual(result.returncode, UNUSABLE)
        self.assertEqual(result.stdout, "")
        self.assertIn("chemistry", result.stderr)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
