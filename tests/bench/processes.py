#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Times whole processes, in turn, so that a busy machine is busy for all.

Usage: processes.py < COMMANDS > RESULTS
COMMANDS: JSON {"rounds": N, "folder": where they run, "commands": {name: [program, ...]}}.
RESULTS: JSON {name: {"ms": [...], "cpu_ms": [...], "peak_mb": ..., "status": ...}}.
A program of its own, and without NumPy: a process counts the memory of whoever started it as its
own, so nothing reads as less than this one has (the line "an empty process" shows how much).
"""
import json
import os
import sys
import time


def run_once(command):
    """Wall seconds, processor seconds, peak MB and status; its output is thrown away."""
    nowhere = os.open(os.devnull, os.O_RDWR)
    quiet = [(os.POSIX_SPAWN_DUP2, nowhere, stream) for stream in (0, 1, 2)]
    start = time.perf_counter()
    process = os.posix_spawnp(command[0], command, os.environ, file_actions=quiet)
    _, status, used = os.wait4(process, 0)
    wall = time.perf_counter() - start
    os.close(nowhere)
    return (wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024,
            os.waitstatus_to_exitcode(status))


def main():
    wanted = json.load(sys.stdin)
    os.chdir(wanted["folder"])
    results = {name: {"ms": [], "cpu_ms": [], "peak_mb": 0.0} for name in wanted["commands"]}
    for _ in range(wanted["rounds"]):
        for name, command in wanted["commands"].items():
            wall, cpu, peak, status = run_once(command)
            result = results[name]
            result["ms"].append(1e3 * wall)
            result["cpu_ms"].append(1e3 * cpu)
            result["peak_mb"] = max(result["peak_mb"], peak)
            result["status"] = status
    json.dump(results, sys.stdout)


if __name__ == "__main__":
    main()
