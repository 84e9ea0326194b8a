#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds the outputs printed in README.md against the program.

Usage: readme_test.py PROGRAM SOURCE_DIR [--update]
A block is a comment `<!-- output: ARGUMENTS -->` followed by a fenced text. With --update the
text is written anew.
"""
import re
import shlex
import subprocess
import sys
from pathlib import Path

BLOCK = re.compile(r"(<!-- output: (?P<arguments>.+?) -->\n```\n)(?P<text>.*?)(```)", re.DOTALL)


def output_of(program, source, arguments):
    run = subprocess.run([str(Path(program).resolve()), *shlex.split(arguments)], cwd=source,
                         capture_output=True, text=True, check=False)
    return run.stdout


def main():
    program, source = sys.argv[1:3]
    readme = Path(source) / "README.md"
    text = readme.read_text(encoding="utf-8")
    fresh = BLOCK.sub(lambda m: m.group(1) + output_of(program, source, m["arguments"]) + m.group(4),
                      text)
    blocks = len(BLOCK.findall(text))
    if "--update" in sys.argv:
        readme.write_text(fresh, encoding="utf-8")
        return 0
    if blocks == 0 or fresh != text:
        print(f"README.md: {blocks} printed output(s), not what the program prints now; "
              "mend with --update")
        return 1
    print(f"README.md: {blocks} printed output(s), all as the program prints them")
    return 0


if __name__ == "__main__":
    sys.exit(main())
