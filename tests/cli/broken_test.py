#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Bad input, each as a whole process: broken_test.py PROGRAM SOURCE_DIR.

Files that are wrong are stored below fixtures/broken; its cases.txt says which command reads each
and what must be said of it. What is too large to store, or is no file, is made here. Whatever is
read, a run ends by itself within a few bounds, prints no half answer and leaves no file behind.
"""
import functools
import os
import re
import resource
import shlex
import shutil
import socket
import subprocess
import sys
import tempfile
import threading
import unittest
from collections import namedtuple

PROGRAM = os.path.abspath(sys.argv[1])
SOURCE = os.path.abspath(sys.argv[2])
BROKEN = os.path.join(SOURCE, "fixtures", "broken")
INSIDE, UNUSABLE, FAILED = 0, 2, 3

# Bounds on refusing a file, not measures of it: reading one takes a hundredth of each.
CPU_SECONDS = 2
MOST_RESIDENT_KB = 200 * 1024
MOST_ADDRESSES = 1 << 30
SANITIZED_TIMES = 20
PATIENCE_SECONDS = 120  # only a run that would never end is still there then
NOBODY = 65534

# The program's option for a file to write, where the command has one.
WRITES = {"pick": "--save", "pressure": "--save", "size": "--save", "sort": "--save",
          "gauge": "--learn", "check": "--log-out"}

Run = namedtuple("Run", "status out err resident_kb")
Case = namedtuple("Case", "line arguments status says more")


def fixture(*names):
    return os.path.join(SOURCE, "fixtures", *names)


@functools.lru_cache(maxsize=None)
def is_sanitized():
    """AddressSanitizer lays claim to terabytes of addresses before main()."""
    with open(PROGRAM, "rb") as program:
        return b"__asan_init" in program.read()


def wider(bound):
    """Sanitized, every access is looked up, and what was freed is kept for a while."""
    return SANITIZED_TIMES * bound if is_sanitized() else bound


def set_limits():
    seconds = wider(CPU_SECONDS)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    if not is_sanitized():
        resource.setrlimit(resource.RLIMIT_AS, (MOST_ADDRESSES, MOST_ADDRESSES))


def run(arguments, stdin=subprocess.DEVNULL, stdout=None, before=set_limits, cwd=BROKEN):
    """One process within the limits; wait4 tells what this child alone has used."""
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        process = subprocess.Popen([PROGRAM, *arguments], cwd=cwd, stdin=stdin,
                                   stdout=stdout or out, stderr=err, preexec_fn=before)
        watch = threading.Timer(PATIENCE_SECONDS, process.kill)
        watch.start()
        try:
            _, status, used = os.wait4(process.pid, 0)
        finally:
            watch.cancel()
        process.returncode = os.waitstatus_to_exitcode(status)
        out.seek(0)
        err.seek(0)
        return Run(process.returncode, out.read().decode(errors="replace"),
                   err.read().decode(errors="replace"), used.ru_maxrss)


def read_cases():
    """cases.txt: a command, then indented what is said; its head explains the form."""
    cases = []
    with open(os.path.join(BROKEN, "cases.txt"), encoding="utf-8") as table:
        for number, line in enumerate(table, 1):
            text = line.strip()
            if not text or text.startswith("#"):
                continue
            if not line.startswith(" "):
                command, _, status = text.partition(" => ")
                cases.append(Case(number, shlex.split(command), int(status or UNUSABLE), [], []))
            elif re.fullmatch(r"and \d+ more", text):
                cases[-1].more.append(int(text.split()[1]))
            else:
                cases[-1].says.append(text)
    return cases


def blocks(err):
    """Each complaint with its place, in one line; the last line counts them."""
    found = []
    for line in err.splitlines():
        if line.startswith(" ") and found:
            found[-1] += " " + line.strip()
        else:
            found.append(line.strip())
    return [" ".join(block.split()) for block in found]


def holds(block, said, name):
    """Whether the parts of `said` stand in the block one after another, its place in front."""
    parts = said.replace("@", name, 1).split(" ... ")
    if not block.startswith(parts[0]):
        return False
    at = 0
    for part in parts:
        at = block.find(part, at)
        if at < 0:
            return False
        at += len(part)
    return True


def listing(folder):
    return sorted(os.path.join(where, name) for where, _, names in os.walk(folder)
                  for name in names)


class Bounded(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.mkdtemp(prefix="stackfit_broken_test_")
        self.addCleanup(shutil.rmtree, self.folder)

    def file(self, name, content=None):
        path = os.path.join(self.folder, name)
        if content is not None:
            with open(path, "wb") as file:
                file.write(content)
        return path

    def check_bounds(self, ran, what):
        self.assertGreaterEqual(ran.status, 0, f"{what}: ended by signal {-ran.status}: {ran.err}")
        self.assertLess(ran.resident_kb, wider(MOST_RESIDENT_KB), what)

    def refused(self, arguments, *words, status=UNUSABLE, **keywords):
        """Runs, and holds all to what every refusal owes: nothing printed, nothing written."""
        before = listing(self.folder)
        ran = run(arguments, **keywords)
        self.check_bounds(ran, arguments[:4])
        self.assertEqual(ran.status, status, (arguments[:4], ran.err[:2000]))
        self.assertEqual(ran.out, "", arguments[:4])
        self.assertEqual(listing(self.folder), before, arguments[:4])
        text = " ".join(ran.err.split())
        for word in words:
            self.assertIn(word, text, arguments[:4])
        return ran


class Stored(Bounded):
    def with_output(self, arguments):
        """The same command asked for a file as well, so that one could be left behind."""
        option = WRITES.get(arguments[0])
        if option is None or option in arguments:
            return arguments
        if option == "--log-out" and "--log" not in arguments:
            return arguments
        return [*arguments, option, self.file("written")]

    def hold(self, case):
        files = [word for word in case.arguments[1:] if os.path.exists(os.path.join(BROKEN, word))]
        name = files[-1] if files else ""
        ran = self.refused(self.with_output(case.arguments), status=case.status)
        told = blocks(ran.err)
        count = len(case.says) + sum(case.more)
        if told[-1].endswith("nothing was worked out"):
            self.assertEqual(int(told.pop().split()[0]), count, ran.err)
        self.assertGreaterEqual(len(told), len(case.says), ran.err)
        for block, said in zip(told, case.says):
            self.assertTrue(holds(block, said, name), f"\nsaid:   {block}\nwanted: {said}")

    def test_all_cases(self):
        before = listing(BROKEN)
        for case in read_cases():
            with self.subTest(line=case.line, command=" ".join(case.arguments)[:70]):
                self.assertGreater(len(case.says), 0)
                self.hold(case)
        self.assertEqual(listing(BROKEN), before)

    def test_there_are_enough_and_none_is_left_out(self):
        cases = read_cases()
        named = {os.path.normpath(word) for case in cases for word in case.arguments}
        files = [os.path.relpath(path, BROKEN) for path in listing(BROKEN)]
        parts = set()  # tables and the like, which only another broken file names
        for path in files:
            with open(os.path.join(BROKEN, path), "rb") as file:
                parts |= {os.path.join(os.path.dirname(path), name.decode())
                          for name in re.findall(rb'"([a-z_0-9]+\.csv)"', file.read())}
        left_out = [path for path in files
                    if path not in named and path not in parts and path != "cases.txt"]
        self.assertEqual(left_out, [])
        self.assertGreaterEqual(len([path for path in files if path in named]), 120)


class MadeHere(Bounded):
    """Too large to store, or no file."""

    COMMANDS = (["pick"], ["pressure"], ["size"], ["check"],
                ["gauge", "--bow", "1.9mm", "--empty-bow", "0.3mm"],
                ["softness", "--face", "141x183", "--thickness", "58.2 mm"],
                ["sort", "--packs", "2", "--cells", "4"])

    def every_command(self, path, *words):
        for command in self.COMMANDS:
            self.refused([command[0], path, *command[1:]], *words)

    def test_what_is_no_file(self):
        self.every_command(self.file("none.json"), "none.json", "no such file",
                           "check the name and the folder")
        self.every_command(self.folder, "found: a folder", "name a file in it")
        self.every_command(self.file("no") + "/folder/build.json", "no such file")
        self.every_command(self.file("x" * 5000), "no such file")
        turning = self.file("turning.json")
        os.symlink(turning, turning)
        self.every_command(turning, "no such file")

    def test_what_is_no_text(self):
        for name, what in (("bytes/spreadsheet.csv", "a zip archive"),
                           ("bytes/datasheet_pdf.json", "a PDF file"),
                           ("bytes/photo_png.json", "a picture (PNG)"),
                           ("syntax/page.json", "a web page"),
                           ("bytes/utf16_little.json", "UTF-16 text"),
                           ("bytes/latin1.json", "not UTF-8")):
            self.every_command(name, name, what, "allowed: a text file in UTF-8")

    def test_empty(self):
        self.every_command(self.file("empty.json", b""), ":1:1", "found: an empty")
        self.every_command("/dev/null", "/dev/null:1:1", "found: an empty")

    def test_a_hundred_megabytes_of_spaces(self):
        self.every_command(self.file("spaces.json", b" " * 100_000_000), "more than 16 MB",
                           "this is not a build file")

    def test_without_an_end(self):
        self.every_command("/dev/zero", "more than 16 MB")
        with open("/dev/zero", "rb") as zeros:
            self.refused(["pick", "-"], "standard input", "more than 16 MB", stdin=zeros)

    def test_sixteen_megabytes_that_are_all_wrong(self):
        """As much as is read: one long line, short lines, fields, quotes, brackets, keys."""
        size = 15_000_000
        for name, piece, head in (
                ("lines.csv", b"\n", b"id,edge (mm)\n"), ("commas.csv", b",", b"id,edge (mm)\n"),
                ("fields.csv", b"1,", b"id,edge (mm)\n"), ("rows.csv", b"1,2\n", b"id,edge\n"),
                ("names.csv", b"a,", b""), ("quote.csv", b"x", b'id,edge\n"'),
                ("word.json", b"x", b""), ("string.json", b"x", b'{"'),
                ("comment.json", b"*", b"/*"), ("commas.json", b",", b"{"),
                ("values.json", b"1,", b"["), ("lists.json", b"[],", b"["),
                ("keys.json", b'"a":1,', b"{")):
            self.refused(["check", self.file(name, head + piece * (size // len(piece)))],
                         "found:")

    def test_hundred_thousand_deep(self):
        depth = 100_000
        deep = ":1:", "brackets more than 64 deep"
        self.refused(["pick", self.file("lists.json", b"[" * depth)], *deep)
        self.refused(["pick", self.file("objects.json", b'{"a":' * depth)], *deep)
        self.refused(["pick", self.file("closed.json", b"[" * depth + b"]" * depth)], *deep)
        form = b"path,value\nstackfit,1\ncell," + b"[" * depth + b"\n"
        self.refused(["pick", self.file("form.csv", form)], "form.csv:3:6", "/cell")
        self.refused(["pick", self.file("path.csv", b"path,value\n" + b"a." * depth + b"a,1\n")],
                     "path.csv:2:", "more steps than a build file has")
        self.refused(["pick", fixture("shed_bank.json"), "--set", "kit=" + "[" * depth],
                     "--set kit", "/kit")
        self.refused(["pick", fixture("shed_bank.json"), "--set", "a." * (depth // 2) + "a=1"],
                     "--set a.a", "more steps than a build file has")

    def test_a_thousand_wrong_lines_are_not_all_printed(self):
        table = b"id,edge (mm)\n" + b"".join(b"%d,x\n" % n for n in range(500))
        ran = self.refused(["check", self.file("cells.csv", table)], "cells.csv:2:3",
                           "500 problems, the first 50 shown: nothing was worked out")
        self.assertEqual(ran.err.count("found:"), 50)

    def test_a_pipe_whose_writer_comes_late(self):
        """It is waited for, without turning in circles, and what it writes is refused."""
        pipe = self.file("pipe")
        os.mkfifo(pipe)

        def write():
            with open(pipe, "wb") as writer:  # returns once the program has opened its end
                writer.write(b'{ "stackfit": 1, ')
        late = threading.Thread(target=write)
        late.start()
        self.refused(["pick", pipe], "pipe:1:", "the end of the file")
        late.join()

    def test_a_socket(self):
        path = self.file("socket")
        with socket.socket(socket.AF_UNIX) as door:
            door.bind(path)
            self.refused(["pick", path], "socket", "a file that may not be read")

    def test_a_file_without_permission(self):
        secret = self.file("secret.json", b"{}")
        os.chmod(secret, 0)
        before = set_limits
        if os.geteuid() == 0:
            os.chmod(self.folder, 0o755)

            def before():
                set_limits()
                os.setgroups([])
                os.setgid(NOBODY)
                os.setuid(NOBODY)
            try:
                able = run(["--version"], before=before, cwd="/").status == INSIDE
            except (OSError, subprocess.SubprocessError):
                able = False
            if not able:
                self.skipTest("run as root, who may read everything, and nobody may not start "
                              "the program where it lies")
        self.refused(["pick", secret], "secret.json", "a file that may not be read", before=before,
                     cwd="/")

    def test_output_that_takes_nothing(self):
        if not os.path.exists("/dev/full"):
            self.skipTest("no /dev/full here")
        with open("/dev/full", "wb") as full:
            for arguments in (["new", "--blank"], ["softness"], ["--help"]):
                ran = run(arguments, stdout=full)
                self.check_bounds(ran, arguments)
                self.assertEqual(ran.status, FAILED, arguments)
                self.assertIn("could not be written to standard output", ran.err)
        for target in ("/dev/full", self.folder):
            self.refused(["new", target, "--blank"], target, "is there already", status=FAILED)
        self.refused(["new", self.file("no/folder.json"), "--blank"], "was not written",
                     status=FAILED)

    def test_an_interview_without_anybody(self):
        ran = run(["new", self.file("build.json")])
        self.check_bounds(ran, "new")
        self.assertEqual(ran.status, UNUSABLE)
        self.assertFalse(os.path.exists(self.file("build.json")))


class StillRead(Bounded):
    """What looks odd and is meant well gives the same answer as the plain file."""

    def same(self, command, plain, changed):
        want = run([*command[:1], plain, *command[1:]])
        self.assertIn(want.status, (INSIDE, 1), want.err)
        for name, content in changed.items():
            os.mkdir(self.file(name))  # the answer tells the file's own name, without its folder
            file = self.file(os.path.join(name, os.path.basename(plain)), content)
            ran = run([*command[:1], file, *command[1:]])
            self.check_bounds(ran, name)
            self.assertEqual((ran.status, ran.out), (want.status, want.out), (name, ran.err))

    def test_builds(self):
        plain = fixture("check", "eight_new.json")
        with open(plain, "rb") as file:
            text = file.read()
        self.same(["check", "--json"], plain, {
            "marked": b"\xef\xbb\xbf" + text,
            "windows": text.replace(b"\n", b"\r\n"),
            "tabs": text.replace(b"  ", b"\t"),
            "comment": b"/* first\n a remark */" + text + b"\n// last, without an end of line",
            "spaces": b" \n" * 500_000 + text + b" " * 1_000_000,
        })

    def test_tables(self):
        plain = fixture("used_twelve.csv")
        with open(plain, "rb") as file:
            text = file.read()
        semicolons = re.sub(rb"(\d)\.(\d)", rb"\1;\2", text).replace(b",", b"\0")
        self.same(["check", "--json", "--set", "series=12", "--thickness", "58.2+-0.4 mm"], plain, {
            "marked": b"\xef\xbb\xbf" + text,
            "windows": text.replace(b"\n", b"\r\n"),
            "old_mac": text.replace(b"\n", b"\r"),
            "comma": semicolons.replace(b";", b",").replace(b"\0", b";"),
            "empty_lines": b"\n" + text.replace(b"\n", b"\n\n,,\n"),
        })


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
