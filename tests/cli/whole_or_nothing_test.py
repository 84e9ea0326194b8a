#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every file a command writes, whole or not at all: whole_or_nothing_test.py PROGRAM SOURCE_DIR.

A full disk, a folder or a file that may not be written, a limit on files' size, a reader that has
gone, a name that is one of the files read. Whatever happens: exit status 3, the file's name, the
reason and a way out; what was there before byte for byte, and nothing beside it.

Small disks are mounted in a mount namespace of this process (unshare), which takes them along when
it ends; where that is not to be had the tests of them are skipped, and say so.
"""
import errno
import fcntl
import functools
import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import unittest
from collections import namedtuple

PROGRAM = os.path.abspath(sys.argv[1])
SOURCE = os.path.abspath(sys.argv[2])
INSIDE, WARNING, UNUSABLE, FAILED = 0, 1, 2, 3
PATIENCE_SECONDS = 300  # only a run that would never end is still there then
OWN_MOUNTS = "STACKFIT_TEST_OWN_MOUNTS"
OLD = b"what stood here before\n"
FULL_DISK_BYTES = 256 * 1024
SMALL_LIMIT_BYTES = 64
SMALL_PIPE_BYTES = 4096

# In all arguments `in` is a folder with copies of these, `out` the folder written to.
INPUTS = {"build.json": "check/eight_new.json", "order.json": "order/metal_box.json",
          "used.csv": "used_twelve.csv", "years.json": "four_years.json",
          "log.csv": "four_years_log.csv", "pile.csv": "sort/pile.csv", "box.json": "sort/box.json",
          "press.csv": "press_test.csv"}
QUICKLY = ["--no-chance", "--set", "box.end_walls=rigid"]
PICK = ["pick", "in/build.json", *QUICKLY]
PRESSURE = ["pressure", "in/build.json", *QUICKLY]
SIZE = ["size", "in/order.json"]
CHECK = ["check", "in/used.csv", "--thickness", "58.2+-0.4 mm"]
YEARS = ["check", "in/years.json"]
GAUGE = ["gauge", "in/build.json", "--bow", "0.4mm", "--empty-bow", "0.1mm"]
SORT = ["sort", "in/pile.csv", "--packs", "2", "--cells", "4"]
BOXED = ["sort", "in/pile.csv", "--packs", "2", "--build", "in/box.json"]

# What is written in `out`; `replaces`: whether it takes the place of what stands there.
Case = namedtuple("Case", "arguments written replaces")
CASES = [
    Case([*PICK, "--save", "out/a.json"], ["a.json"], True),
    Case([*PICK, "--page", "out/a.html"], ["a.html"], True),
    Case([*PRESSURE, "--save", "out/a.json"], ["a.json"], True),
    Case([*PRESSURE, "--page", "out/a.html"], ["a.html"], True),
    Case([*SIZE, "--save", "out/a.json", "--drawing", "out/a.svg", "--page", "out/a.html"],
         ["a.json", "a.svg", "a.html"], True),
    Case([*CHECK, "--page", "out/a.html"], ["a.html"], True),
    Case([*CHECK, "--log", "out/a.csv"], ["a.csv"], False),
    Case([*YEARS, "--log", "in/log.csv", "--log-out", "out/a.csv"], ["a.csv"], True),
    Case([*GAUGE, "--learn", "out/a.json"], ["a.json"], True),
    Case([*SORT, "--save", "out/a"], ["a_1.csv", "a_2.csv"], True),
    Case([*BOXED, "--save", "out/a"], ["a_1.json", "a_2.json"], True),
    Case(["new", "out/a.json", "--blank"], ["a.json"], False),
    Case(["new", "out/a.csv", "--blank"], ["a.csv"], False),
    Case(["new", "out/a.txt", "--measure", "--cells", "8"], ["a.txt"], False),
]
# Without those that reckon for seconds before they write: a full disk and a limit stand for all.
QUICK = [case for case in CASES if case.arguments[0] not in ("size", "gauge")]
ANSWERS = [[*PICK, "--json"], PRESSURE, CHECK, SORT, ["softness"],
           ["softness", "in/press.csv", "--face", "141x183", "--thickness", "58.2 mm"],
           ["new", "--blank"], ["--help"], ["--version"]]


def with_own_mounts():
    """Starts this test again where it may mount; returns where it may not."""
    if OWN_MOUNTS in os.environ or not shutil.which("unshare"):
        return
    for how in (["--mount"], ["--user", "--map-root-user", "--mount"]):
        words = ["unshare", *how]
        mounts = [*words, "mount", "-t", "tmpfs", "tmpfs", "/mnt"]
        if subprocess.run(mounts, capture_output=True, check=False).returncode == 0:
            os.environ[OWN_MOUNTS] = "yes"
            os.execvp("unshare", [*words, sys.executable, "-B", *sys.argv])


@functools.lru_cache(maxsize=None)
def without_privileges():
    """Words before a command that take from root what lets it write anywhere; None: not here."""
    if os.geteuid() != 0:
        return ()
    words = ("setpriv", "--bounding-set=-all", "--inh-caps=-all")
    with tempfile.TemporaryDirectory() as folder:
        os.chmod(folder, 0o555)
        try:
            tried = subprocess.run([*words, "touch", os.path.join(folder, "a")],
                                   capture_output=True, check=False).returncode
        except OSError:
            return None
        return words if tried == 1 and not os.listdir(folder) else None


def snapshot(folder):
    """All that is in a folder, by name: bytes, or where a link leads."""
    found = {}
    for where, _, names in os.walk(folder):
        for name in names:
            path = os.path.join(where, name)
            if os.path.islink(path):
                found[path] = os.readlink(path)
            else:
                with open(path, "rb") as file:
                    found[path] = file.read()
    return found


class Folder(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.mkdtemp(prefix="stackfit_whole_test_")
        self.addCleanup(shutil.rmtree, self.folder)
        for name in ("in", "out"):
            os.mkdir(self.path(name))
        for name, source in INPUTS.items():
            shutil.copy(os.path.join(SOURCE, "fixtures", source), self.path("in", name))

    def path(self, *names):
        return os.path.join(self.folder, *names)

    def run_program(self, arguments, before=(), **keywords):
        keywords = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, **keywords}
        return subprocess.run([*before, PROGRAM, *arguments], stderr=subprocess.PIPE,
                              cwd=self.folder, timeout=PATIENCE_SECONDS, check=False, **keywords)

    def put_old(self, case):
        if case.replaces:
            for name in case.written:
                with open(self.path("out", name), "wb") as file:
                    file.write(OLD)

    def hold(self, arguments, *said, status=FAILED, **keywords):
        """Runs; nothing may have changed on disk, and each of `said` is told."""
        before = snapshot(self.folder)
        ran = self.run_program(arguments, **keywords)
        err = " ".join(ran.stderr.decode().split())
        self.assertEqual(ran.returncode, status, (arguments, err))
        self.assertEqual(snapshot(self.folder), before, arguments)
        for words in said:
            self.assertIn(words, err, arguments)
        return ran


@functools.lru_cache(maxsize=None)
def written(number):
    """What a case prints and writes where nothing is in its way."""
    test = Folder()
    test.setUp()
    try:
        case = CASES[number]
        test.put_old(case)
        ran = test.run_program(case.arguments)
        return ran, {os.path.relpath(path, test.path("out")): text
                     for path, text in snapshot(test.path("out")).items()}
    finally:
        test.doCleanups()


class Written(Folder):
    def test_each_case_writes_its_files_and_nothing_else(self):
        for number, case in enumerate(CASES):
            with self.subTest(case=case.arguments):
                ran, files = written(number)
                self.assertIn(ran.returncode, (INSIDE, WARNING), ran.stderr)
                self.assertEqual(sorted(files), sorted(case.written))
                for text in files.values():
                    self.assertGreater(len(text), SMALL_LIMIT_BYTES)
                    self.assertNotEqual(text, OLD)

    def test_a_link_that_leads_nowhere_yet_stays_a_link(self):
        os.symlink("made.json", self.path("out", "a.json"))
        self.run_program(CASES[0].arguments)
        self.assertTrue(os.path.islink(self.path("out", "a.json")))
        self.assertEqual(sorted(os.listdir(self.path("out"))), ["a.json", "made.json"])

    def test_as_long_a_name_as_there_is(self):
        name = "a" * 250 + ".json"
        self.assertNotEqual(self.run_program([*PICK, "--save", f"out/{name}"]).returncode, FAILED)
        self.assertEqual(os.listdir(self.path("out")), [name])
        self.hold([*PICK, "--save", f"out/a{name}"], "was not written", os.strerror(
            errno.ENAMETOOLONG), "give a shorter name")


class CannotBeWritten(Folder):
    def every_case(self, number_of_error, way_out, prepare=lambda case: None,
                   restore=lambda case: None, cases=CASES, **keywords):
        for case in cases:
            with self.subTest(case=case.arguments):
                self.put_old(case)
                prepare(case)
                try:
                    ran = self.hold(case.arguments, f"out/{case.written[0]} was not written",
                                    os.strerror(number_of_error), way_out, **keywords)
                    # What was worked out is printed all the same.
                    self.assertEqual(ran.stdout, written(CASES.index(case))[0].stdout)
                finally:
                    restore(case)
                    for name in os.listdir(self.path("out")):
                        os.unlink(self.path("out", name))

    def mounted(self, options):
        if OWN_MOUNTS not in os.environ:
            self.skipTest("no file system may be mounted here: unshare --mount was refused")
        subprocess.run(["mount", "-t", "tmpfs", "-o", options, "tmpfs", self.path("out")],
                       check=True)
        self.addCleanup(subprocess.run, ["umount", self.path("out")], check=True)

    def fill(self, _):
        with open(self.path("out", "filler"), "wb", buffering=0) as filler:
            try:
                while True:
                    filler.write(b"x" * 4096)
            except OSError as error:
                self.assertEqual(error.errno, errno.ENOSPC)

    def test_a_full_disk(self):
        self.mounted(f"size={FULL_DISK_BYTES}")
        self.every_case(errno.ENOSPC, "make room there", prepare=self.fill)

    def test_a_disk_without_room_for_a_name(self):
        self.mounted("nr_inodes=3")

        def names(_):
            number = 0
            try:
                while True:
                    with open(self.path("out", f"name{number}"), "wb"):
                        number += 1
            except OSError as error:
                self.assertEqual(error.errno, errno.ENOSPC)
        self.every_case(errno.ENOSPC, "make room there", prepare=names, cases=[CASES[0]])

    def test_a_disk_that_is_only_read(self):
        self.mounted("size=1m")

        def turn(mode):
            subprocess.run(["mount", "-o", f"remount,bind,{mode}", self.path("out")], check=True)
        self.every_case(errno.EROFS, "name a place where you may write",
                        prepare=lambda _: turn("ro"), restore=lambda _: turn("rw"),
                        cases=QUICK)

    def without_privileges(self):
        words = without_privileges()
        if words is None:
            self.skipTest("run as root, who may write anywhere, and setpriv does not take that away")
        return words

    def test_a_folder_without_permission(self):
        self.every_case(errno.EACCES, "name a place where you may write",
                        prepare=lambda _: os.chmod(self.path("out"), 0o555),
                        restore=lambda _: os.chmod(self.path("out"), 0o755),
                        before=self.without_privileges(),
                        cases=QUICK)

    def test_a_folder_that_may_not_be_looked_into(self):
        self.every_case(errno.EACCES, "name a place where you may write",
                        prepare=lambda _: os.chmod(self.path("out"), 0),
                        restore=lambda _: os.chmod(self.path("out"), 0o755),
                        before=self.without_privileges(),
                        cases=[CASES[0], *(case for case in CASES if case.arguments[0] == "new")])

    def test_a_file_that_its_owner_has_shut(self):
        """A rename would not ask: it asks the folder alone."""
        def shut(case):
            for name in case.written:
                os.chmod(self.path("out", name), 0o444)
        self.every_case(errno.EACCES, "name a place where you may write", prepare=shut,
                        before=self.without_privileges(),
                        cases=[case for case in QUICK if case.replaces])

    def test_the_second_of_several_files_that_belong_together(self):
        for case in (case for case in CASES if case.arguments[0] == "sort"):
            os.mkdir(self.path("out", case.written[1]))
            self.hold(case.arguments, f"out/{case.written[1]} was not written: it is a folder",
                      "no pack was written")

    def test_a_limit_on_the_size_of_files(self):
        """The signal that goes with it would end the program, a half file beside the old one."""
        for action in (signal.SIG_DFL, signal.SIG_IGN):
            def limit(action=action):
                signal.signal(signal.SIGXFSZ, action)
                resource.setrlimit(resource.RLIMIT_FSIZE, (SMALL_LIMIT_BYTES, SMALL_LIMIT_BYTES))
            cases = CASES if action == signal.SIG_DFL else [CASES[0]]
            self.every_case(errno.EFBIG, "allow larger files", preexec_fn=limit, cases=cases)

    def test_answers_given_by_hand_are_printed_instead(self):
        facts = {"How many cells": "8s", "big flat side": "141x183",
                 "data sheet print for the thickness": "58.4+-0.5 mm 30-40% 215kgf",
                 "long is the box": "474"}
        process = subprocess.Popen([PROGRAM, "new", "out/none/a.json"], cwd=self.folder,
                                   stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                   stderr=subprocess.PIPE, bufsize=0)
        said = ""
        question = ""
        while letter := process.stderr.read(1).decode("utf-8", "replace"):
            said += letter
            question += letter
            if question.endswith("> "):
                flowed = " ".join(question.split())
                fact = next((facts[key] for key in facts if key in flowed), "")
                process.stdin.write((fact + "\n").encode())
                question = ""
        build = process.stdout.read().decode()
        self.assertEqual(process.wait(), FAILED, said)
        for pipe in (process.stdin, process.stdout, process.stderr):
            pipe.close()
        self.assertIn("make that folder first", said)
        self.assertIn("What you answered is printed instead", said)
        with open(self.path("out", "kept.json"), "w", encoding="utf-8") as kept:
            kept.write(build)
        ran = self.run_program(["pressure", "out/kept.json", *QUICKLY])
        self.assertIn(ran.returncode, (INSIDE, WARNING), ran.stderr)


class StandardOutput(Folder):
    SAID = "the answer could not be written to standard output"

    def hold_each(self, reason, **keywords):
        for arguments in ANSWERS:
            with self.subTest(arguments=arguments):
                self.hold(arguments, f"{self.SAID}: {os.strerror(reason)}", **keywords)

    def test_a_reader_that_has_gone(self):
        for action in (signal.SIG_DFL, signal.SIG_IGN):
            reader, writer = os.pipe()
            os.close(reader)
            try:
                self.hold_each(errno.EPIPE, stdout=writer, preexec_fn=functools.partial(
                    signal.signal, signal.SIGPIPE, action))
            finally:
                os.close(writer)

    def test_a_reader_that_goes_away_in_the_middle(self):
        process = subprocess.Popen([PROGRAM, *PICK, "--json"], cwd=self.folder,
                                   stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        fcntl.fcntl(process.stdout, fcntl.F_SETPIPE_SZ, SMALL_PIPE_BYTES)
        self.assertEqual(process.stdout.read(1), b"{")
        process.stdout.close()
        self.assertIn(self.SAID, process.stderr.read().decode())
        process.stderr.close()
        self.assertEqual(process.wait(), FAILED)

    def test_a_full_disk(self):
        if not os.path.exists("/dev/full"):
            self.skipTest("no /dev/full here")
        with open("/dev/full", "wb") as full:
            self.hold_each(errno.ENOSPC, stdout=full)

    def test_none_at_all(self):
        self.hold_each(errno.EBADF, preexec_fn=functools.partial(os.close, 1))

    def test_files_are_whole_all_the_same(self):
        for number, case in enumerate(CASES):
            if case not in QUICK or case.arguments[0] == "new":
                continue
            with self.subTest(case=case.arguments):
                self.put_old(case)
                ran = self.run_program(case.arguments, preexec_fn=functools.partial(os.close, 1))
                self.assertEqual(ran.returncode, FAILED)
                for name, text in written(number)[1].items():
                    with open(self.path("out", name), "rb") as file:
                        self.assertEqual(file.read(), text)
                    os.unlink(self.path("out", name))


class NeverOverAnInput(Folder):
    """`target` stands for the input `over`, by other names; program_test.py has pick --save."""

    def spellings(self, name):
        path = self.path("in", name)
        stem, ending = os.path.splitext(name)
        made = {f"{stem}_link{ending}": os.symlink, f"{stem}_hard{ending}": os.link}
        for other, make in made.items():
            if not os.path.lexists(self.path("out", other)):
                make(path, self.path("out", other))
        if not os.path.lexists(self.path("folder")):
            os.symlink("in", self.path("folder"))
        return [f"in/{name}", path, f"in/../in/./{name}", f"folder/{name}",
                *(f"out/{other}" for other in made)]

    def refused(self, arguments, over, some=slice(None)):
        for target in self.spellings(over)[some]:
            with self.subTest(arguments=arguments, target=target):
                self.hold([target if word == "target" else word for word in arguments],
                          f"{target} was not written", "one of the files read",
                          "give another name")

    def test_build_files(self):
        self.refused([*PICK, "--save", "target"], "build.json", slice(3, None))
        self.refused([*PICK, "--page", "target"], "build.json")
        self.refused([*PRESSURE, "--save", "target"], "build.json")
        self.refused([*PRESSURE, "--page", "target"], "build.json")
        self.refused([*GAUGE, "--learn", "target"], "build.json", slice(5, None))
        self.refused(["check", "in/build.json", "--page", "target"], "build.json")
        for option in ("--save", "--drawing", "--page"):
            self.refused([*SIZE, option, "target"], "order.json", slice(4, 5))

    def test_tables(self):
        self.refused([*CHECK, "--page", "target"], "used.csv")
        self.refused([*CHECK, "--log", "out/log.csv", "--log-out", "target"], "used.csv")
        self.refused([*YEARS, "--log", "in/log.csv", "--log-out", "target"], "log.csv")

    def test_tables_that_a_build_names(self):
        with open(self.path("in", "cells.csv"), "w", encoding="utf-8") as table:
            table.write("id,edge,middle,signs\n")
            table.writelines(f"{n},55.4,55.6,none\n" for n in range(8))
        with open(self.path("in", "build.json"), encoding="utf-8") as text:
            build = json.loads(text.read().partition("\n")[2])
        del build["cells"]
        build["measured"] = "cells.csv"
        with open(self.path("in", "named.json"), "w", encoding="utf-8") as text:
            json.dump(build, text)
        for option in ("--save", "--page"):
            self.refused(["pick", "in/named.json", *QUICKLY, option, "target"], "cells.csv")

    def test_packs(self):
        for arguments, ending, over in ((SORT, "csv", "pile.csv"), (BOXED, "json", "box.json"),
                                        (BOXED, "json", "pile.csv")):
            for make in (os.symlink, os.link):
                pack = self.path("out", f"a_2.{ending}")
                make(self.path("in", over), pack)
                with self.subTest(over=over, make=make.__name__):
                    self.hold([*arguments, "--save", "out/a"], f"out/a_2.{ending} was not written",
                              "one of the files read", "no pack was written")
                os.unlink(pack)

    def test_what_standard_input_reads(self):
        for arguments, over in (([*PICK, "--save", "target"], "build.json"),
                                ([*PRESSURE, "--page", "target"], "build.json"),
                                ([*CHECK, "--page", "target"], "used.csv")):
            words = ["-" if word == f"in/{over}" else word for word in arguments]
            for target in self.spellings(over):
                with self.subTest(arguments=arguments, target=target), \
                        open(self.path("in", over), "rb") as stdin:
                    self.hold([target if word == "target" else word for word in words],
                              "one of the files read", stdin=stdin)


class NamedTwice(Folder):
    """Two files of one run in one place: the first would be gone. Told before all work."""

    def refused(self, arguments, *said):
        ran = self.hold(arguments, "a file of its own for each", "nothing was worked out", *said,
                        status=UNUSABLE)
        self.assertEqual(ran.stdout, b"")

    def test_by_the_same_and_by_other_names(self):
        os.symlink("out", self.path("folder"))
        os.symlink("a.json", self.path("out", "link.json"))
        for other in ("out/a.json", "./out//a.json", "folder/a.json", self.path("out", "a.json"),
                      "out/link.json"):
            with self.subTest(other=other):
                self.refused([*PICK, "--save", "out/a.json", "--page", other],
                             f'--page found: "{other}", the file of --save too')

    def test_each_pair(self):
        for command in (PRESSURE, SIZE):
            self.refused([*command, "--page", "out/a", "--save", "out/a"], "--page found:")
        self.refused([*SIZE, "--page", "out/a", "--drawing", "out/a"], "the file of --drawing too")
        self.refused([*SIZE, "--save", "out/a", "--drawing", "out/a"], "the file of --save too")

    def test_a_page_over_the_log_or_its_copy(self):
        self.refused([*CHECK, "--log", "out/a", "--page", "out/a"], "the file of --log too")
        kept = [*YEARS, "--log", "in/log.csv"]
        self.refused([*kept, "--page", "in/log.csv"], "the file of --log too")
        self.refused([*kept, "--log-out", "out/a", "--page", "out/a"],
                     "the file of the log's copy too")
        self.run_program(kept)
        copy = next(name for name in os.listdir(self.path("in")) if name.startswith("log-"))
        os.unlink(self.path("in", copy))
        self.refused([*kept, "--page", f"in/{copy}"], "the file of the log's copy too")


if __name__ == "__main__":
    with_own_mounts()
    unittest.main(argv=sys.argv[:1], verbosity=2)  # which names what is skipped, and why
