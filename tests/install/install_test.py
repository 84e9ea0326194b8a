#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What cmake --install puts where, and that it works: install_test.py CMAKE BUILD SOURCE.

Manual pages and completions are held against the installed program's own --help.
"""
import os
import re
import shlex
import shutil
import sys
import unittest

from installed import Installed, must, run

CMAKE, BUILD, SOURCE = sys.argv[1:4]
INSTALLED = Installed(CMAKE, BUILD)
PROGRAM = INSTALLED.program
UNUSABLE = 2
BASH = INSTALLED.path("share/bash-completion/completions/stackfit")
ZSH = INSTALLED.path("share/zsh/site-functions/_stackfit")
FISH = INSTALLED.path("share/fish/vendor_completions.d/stackfit.fish")


def help_of(*command):
    return must(PROGRAM, *command, "--help").stdout


def options_of(*command):
    """Every name of an option in the help."""
    lines = re.findall(r"^  (-\S+)", help_of(*command), re.MULTILINE)
    return {name for line in lines for name in line.split(",")}


def commands():
    return re.findall(r"^  (\w+) ", help_of().split("Commands:")[1].split("\n\n")[0], re.MULTILINE)


COMMANDS = commands()


def read(name):
    with open(INSTALLED.path(name), encoding="utf-8") as text:
        return text.read()


def missing(tool):
    """True, and said, where a check cannot be made."""
    if shutil.which(tool):
        return False
    print(f"not checked with {tool}: it is not installed here", file=sys.stderr)
    return True


class Files(unittest.TestCase):
    def test_every_file_is_there(self):
        wanted = {"bin/stackfit", "share/stackfit/build.schema.json", "share/man/man1/stackfit.1",
                  "share/bash-completion/completions/stackfit",
                  "share/zsh/site-functions/_stackfit",
                  "share/fish/vendor_completions.d/stackfit.fish", "share/doc/stackfit/LICENSE",
                  "share/doc/stackfit/README.md",
                  "share/doc/stackfit/fixtures/shed_bank.json"}
        wanted |= {f"share/man/man1/stackfit-{command}.1" for command in COMMANDS}
        self.assertGreater(len(COMMANDS), 7)
        self.assertEqual(wanted - INSTALLED.files(), set())

    def test_libraries_are_there(self):
        names = {os.path.basename(name) for name in INSTALLED.files()
                 if name.startswith(("lib", "include"))}
        wanted = {"libstackfit_solver.a", "libstackfit_geometry.a", "stackfitConfig.cmake",
                  "stackfitConfigVersion.cmake", "stackfitTargets.cmake", "answer.hpp",
                  "outline.hpp"}
        self.assertEqual(wanted - names, set())

    def test_nothing_else_is_there(self):
        places = ("bin/stackfit", "share/stackfit/build.schema.json", "share/man/man1/stackfit",
                  "share/bash-completion/", "share/zsh/", "share/fish/", "share/doc/stackfit/",
                  "lib", "include/stackfit/")
        others = [name for name in INSTALLED.files() if not name.startswith(places)]
        self.assertEqual(others, [])

    def test_schema_is_the_programs(self):
        with open(os.path.join(SOURCE, "cli", "build.schema.json"), encoding="utf-8") as schema:
            self.assertEqual(read("share/stackfit/build.schema.json"), schema.read())

    def test_no_text_names_the_folder_it_was_built_in(self):
        for name in INSTALLED.files():
            if name.endswith((".cmake", ".1")) or "ompletion" in name or "functions" in name:
                self.assertNotIn(SOURCE, read(name), name)


class Program(unittest.TestCase):
    def test_it_runs_from_the_prefix(self):
        folder = INSTALLED.path("share/doc/stackfit")
        done = run(PROGRAM, "pick", "fixtures/shed_bank.json", "--no-chance", cwd=folder)
        self.assertIn("FACE PRESSURE", done.stdout)
        self.assertEqual(done.stderr, "")

    def test_examples_name_files_that_are_installed(self):
        texts = [help_of()] + [help_of(command) for command in COMMANDS]
        named = set(re.findall(r"fixtures/[\w/.]+", "".join(texts)))
        self.assertGreater(len(named), 5)
        for name in named:
            self.assertTrue(os.path.exists(INSTALLED.path(f"share/doc/stackfit/{name}")), name)


class ManualPages(unittest.TestCase):
    def pages(self):
        yield (), "share/man/man1/stackfit.1"
        for command in COMMANDS:
            yield (command,), f"share/man/man1/stackfit-{command}.1"

    def test_every_option_of_the_help_is_explained(self):
        for command, page in self.pages():
            text = read(page)
            for option in options_of(*command):
                tag = rf"\fB{option}\fR".replace("-", r"\-")
                with self.subTest(page=page, option=option):
                    self.assertRegex(text, rf"(?m)^\.TP\n.*{re.escape(tag)}.*\n\S")

    def test_sections(self):
        for _, page in self.pages():
            sections = re.findall(r"(?m)^\.SH (.*)$", read(page))
            for section in ("NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "EXIT STATUS", "FILES",
                            "EXAMPLES", "CAUTIONS", "SEE ALSO"):
                self.assertIn(section, sections, page)

    def test_examples_are_those_of_the_help(self):
        for command, page in self.pages():
            text = re.sub(r"\\(.)", lambda escape: "\\" if escape[1] == "e" else escape[1],
                          read(page))
            for line in re.findall(r"(?m)^  (stackfit .*)$", help_of(*command)):
                self.assertIn(f"\n{line}\n", text, page)

    def test_the_program_lists_every_page(self):
        see = read("share/man/man1/stackfit.1").split(".SH SEE ALSO")[1]
        for command in COMMANDS:
            self.assertIn(rf"stackfit\-{command}\fR(1)", see)

    def test_mandoc_finds_nothing(self):
        if not missing("mandoc"):
            for _, page in self.pages():
                done = run("mandoc", "-Tlint", "-W", "warning", INSTALLED.path(page))
                self.assertEqual(done.stdout + done.stderr, "")

    def test_man_finds_nothing(self):
        if not missing("man") and not missing("groff"):
            for _, page in self.pages():
                done = run("man", "--warnings", "-E", "UTF-8", "-l", "-Tutf8", "-Z",
                           INSTALLED.path(page), env={**os.environ, "MANROFFSEQ": "", "LC_ALL": "C"})
                self.assertEqual((done.returncode, done.stderr), (0, ""), page)


class Bash(unittest.TestCase):
    """The function is called as bash calls it."""

    def offered(self, *words, cwd=None):
        given = " ".join(shlex.quote(word) for word in ("stackfit", *words))
        script = (f". {shlex.quote(BASH)}; COMP_WORDS=({given}); COMP_CWORD={len(words)}; "
                  '_stackfit; printf "%s\\n" "${COMPREPLY[@]}"')
        return [line for line in must("bash", "--norc", "-c", script, cwd=cwd).stdout.split("\n")
                if line]

    def setUp(self):
        if missing("bash"):
            self.skipTest("bash is not installed")

    def test_bash_itself_calls_it(self):
        script = f". {shlex.quote(BASH)}; complete -p stackfit"
        self.assertIn("-F _stackfit stackfit", must("bash", "--norc", "-c", script).stdout)

    def test_commands(self):
        self.assertEqual(set(self.offered("")), set(COMMANDS) | options_of())
        self.assertEqual(set(self.offered("pr")), {"pressure"})

    def test_every_option_of_every_command(self):
        for command in COMMANDS:
            self.assertEqual(set(self.offered(command, "-")), options_of(command), command)

    def test_closed_lists(self):
        self.assertEqual(self.offered("pick", "--by", ""), ["chance", "margin"])
        self.assertEqual(self.offered("pick", "--by", "=", "m"), ["margin"])
        self.assertEqual(self.offered("pick", "--by", "="), ["chance", "margin"])
        self.assertEqual(self.offered("gauge", "--which-wall", "l"), ["last"])
        self.assertEqual(self.offered("pick", "--units", ""), [])

    def test_words_with_spaces(self):
        self.assertEqual(self.offered("pick", "--when", "ne"), [r"never\ above"])
        self.assertEqual(self.offered("pick", "--when", r"never\ a"), [r"never\ above"])
        self.assertEqual(self.offered("pick", "--when", '"ne'), ["never above"])

    def test_files(self):
        folder = os.path.join(INSTALLED.folder, "files")
        os.makedirs(folder, exist_ok=True)
        with open(os.path.join(folder, "my build.json"), "w", encoding="utf-8"):
            pass
        for command in COMMANDS:
            self.assertEqual(self.offered(command, "my", cwd=folder), ["my build.json"], command)
        for command, option in (("pick", "--save"), ("check", "--log"), ("softness", "--for"),
                                ("size", "--drawing"), ("gauge", "--learn")):
            self.assertEqual(self.offered(command, option, "m", cwd=folder), ["my build.json"])

    def test_offered_words_are_taken_and_others_are_not(self):
        # The band cannot be read, so that nothing is worked out: what else is wrong is told too.
        build = shlex.split("pick --cells 63.5,63.8 --face 152x188 --force 240kgf --charge 40% "
                            "--box 514mm --shims 0.8x14 --range nonsense --no-chance")
        told_at = {"--shim-material": "--shims"}
        for option in ("--by", "--measured", "--when", "--opens", "--shim-material"):
            offered = self.offered("pick", option, "'")
            self.assertGreater(len(offered), 1, option)
            for word in offered + ["nonsense"]:
                others = [] if option == "--measured" else ["--measured", "edge"]
                done = run(PROGRAM, *build, *others, option, word)
                told = re.findall(r"(?m)^(--[\w-]+)", done.stderr)
                with self.subTest(option=option, word=word):
                    self.assertEqual(done.returncode, UNUSABLE)
                    self.assertEqual(told_at.get(option, option) in told, word == "nonsense")


class OtherShells(unittest.TestCase):
    def test_zsh(self):
        if missing("zsh"):
            self.skipTest("zsh is not installed")
        # What completes is zsh's own; it is looked at what it is told.
        script = (f"_arguments() {{ print -rl -- \"$@\"; state=$at }}; compdef() {{ }}; "
                  f"_describe() {{ print -rl -- $commands }}; source {shlex.quote(ZSH)}; ")
        told = must("zsh", "-f", "-c", script + "at=command; _stackfit").stdout
        for command in COMMANDS:
            self.assertRegex(told, rf"(?m)^{command}:\w")
            told_then = must("zsh", "-f", "-c",
                             script + f"at=arguments; words=({command}); _stackfit").stdout
            for option in options_of(command):
                self.assertRegex(told_then, rf"(?m)^(\(.*\)|\*)?{option}\[", command)
        pick = must("zsh", "-f", "-c", script + "at=arguments; words=(pick); _stackfit").stdout
        self.assertRegex(pick, r"(?m)^--by\[.*\]:value:\(chance margin\)$")

    def test_fish(self):
        if missing("fish"):
            self.skipTest("fish is not installed")

        def offered(line):
            script = f"source {FISH}; complete -C {shlex.quote(line)}"
            said = must("fish", "--no-config", "-c", script, cwd=INSTALLED.folder).stdout
            return {entry.split("\t")[0] for entry in said.split("\n") if entry}

        self.assertEqual(offered("stackfit "), set(COMMANDS))
        for command in COMMANDS:
            names = {name for name in options_of(command) if name.startswith("--")}
            self.assertEqual(offered(f"stackfit {command} --"), names, command)
        self.assertEqual(offered("stackfit pick --by "), {"chance", "margin"})
        self.assertEqual(offered("stackfit pick --when ne"), {"never above"})
        self.assertIn("prefix/", offered("stackfit pick "))


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
