#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
#
# interview_pty.py PROGRAM: `new` at a terminal, "I don't know" to all that has a default.
#
# Answers the four facts that have none, presses Enter to everything else, then runs `pick` on the
# file and looks for an answer: exit status 0 or 1, and something on standard output.
import os
import pty
import select
import subprocess
import sys
import tempfile
import time

SECONDS = 60
FACTS = {
    "How many cells": "8s",
    "big flat side": "141x183",
    "print for the thickness": "58.4±0.5 mm 30-40% 215kgf",
    "long is the box inside": "478",
}
PROMPT = "> "


def answer_for(text):
    """The answer to the last question of what the program has written since the last answer."""
    for words, answer in FACTS.items():
        if words in text:
            return answer
    return ""


def interview(program, path):
    """Runs `new` in a pseudo-terminal; gives its exit status and all that it wrote."""
    child, terminal = pty.fork()
    if child == 0:
        os.execv(program, [program, "new", path])
    everything = ""
    unanswered = ""
    end = time.monotonic() + SECONDS
    while time.monotonic() < end:
        ready, _, _ = select.select([terminal], [], [], 1)
        if not ready:
            continue
        try:
            piece = os.read(terminal, 65536)
        except OSError:  # the other end is closed
            break
        if not piece:
            break
        text = piece.decode("utf-8", "replace")
        everything += text
        unanswered += text
        if unanswered.endswith(PROMPT):
            os.write(terminal, (answer_for(unanswered.replace("\r\n", " ")) + "\n").encode())
            unanswered = ""
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status), everything


def main():
    program = os.path.abspath(sys.argv[1])
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "new.json")
        status, said = interview(program, path)
        if status != 0 or not os.path.exists(path):
            sys.exit(f"new ended with {status} and wrote this:\n{said}")
        pick = subprocess.run([program, "pick", path], capture_output=True, timeout=SECONDS,
                              check=False)
        if pick.returncode not in (0, 1) or not pick.stdout.strip():
            sys.exit(f"pick ended with {pick.returncode}:\n{pick.stderr.decode()}")
        again = subprocess.run([program, "new", path], input=b"", capture_output=True,
                               timeout=SECONDS, check=False)
        if again.returncode == 0:
            sys.exit("new wrote over a file that was there")


if __name__ == "__main__":
    main()
