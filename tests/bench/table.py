#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Speed, honestly: writes tests/bench/README.md whole, from one run.

Usage: table.py BENCH_DIR STACKFIT SOURCE_DIR [--quick] [--rounds N] [--to FILE]
BENCH_DIR holds bench_solver, wall_dump and (with GLPK) plan_beside_glpk. --quick tries it out:
each thing once, small sizes only; it prints, and writes nothing unless --to says where.
Needs NumPy and SciPy: on Debian, /usr/bin/python3 with python3-scipy.
"""
import argparse
import datetime
import json
import math
import os
import re
import statistics
import subprocess
import sys
import tempfile

import commands
import words
from words import figure, rate, table

HERE = os.path.dirname(os.path.abspath(__file__))
UNUSABLE = 2  # exit statuses from here on are no answer
BESIDE_TRIANGLES = (1600, 16_000)
DRAWS = 1_000_000


class Run:
    """How often, and on what."""

    def __init__(self, asked, folder):
        self.bench, self.program = (os.path.abspath(p) for p in (asked.bench, asked.program))
        self.source, self.folder = os.path.abspath(asked.source), folder
        self.quick = asked.quick
        self.process_rounds = 1 if asked.quick else asked.rounds or 5
        self.bench_rounds = 1 if asked.quick else asked.rounds or 3
        self.kits = 40 if asked.quick else 320
        self.sizes = BESIDE_TRIANGLES[:1] if asked.quick else BESIDE_TRIANGLES

    def tool(self, name):
        return os.path.join(self.bench, name)


def progress(what):
    print(f"{datetime.datetime.now():%H:%M:%S} {what}", file=sys.stderr, flush=True)


def times(count):
    return {1: "once", 3: "three times"}.get(count, f"{count} times")


# --- measuring ------------------------------------------------------------------------------

def processes(run, lines):
    """Every command line so many times, in turn (processes.py)."""
    progress(f"{len(lines)} processes, {times(run.process_rounds)}")
    asked = {"rounds": run.process_rounds, "folder": run.source, "commands": lines}
    out = subprocess.run([sys.executable, "-I", "-S", os.path.join(HERE, "processes.py")],
                         input=json.dumps(asked), capture_output=True, text=True, check=True)
    results = json.loads(out.stdout)
    failed = [name for name, result in results.items() if not 0 <= result["status"] < UNUSABLE]
    if failed:
        raise SystemExit("no answer, so nothing to time: " + "; ".join(failed))
    return results


def benchmarks(run):
    """Milliseconds, rates and counters of every benchmark, one round. Samples come last, right
    before NumPy's, and run longer: within a minute a shared machine's pace changes by more than
    what the two are compared for."""
    progress("the solver's benchmarks")
    large = "|triangles:(16000|50000)|cells:(16|32|64)|kinds:[4-6]" if run.quick else ""
    found = benchmark(run, f"-chance_samples{large}", 0.1)
    return {**found, **benchmark(run, "chance_samples", 0.5)}


def benchmark(run, names, least_seconds):
    """Those that a filter names, each for so long."""
    options = ["--benchmark_format=json", f"--benchmark_filter={names}",
               f"--benchmark_min_time={0.02 if run.quick else least_seconds}"]
    out = subprocess.run([run.tool("bench_solver"), *options], capture_output=True, text=True,
                         check=True)
    in_ms = {"ns": 1e-6, "us": 1e-3, "ms": 1.0, "s": 1e3}
    found = {}
    for each in json.loads(out.stdout)["benchmarks"]:
        clock = "real_time" if each["name"].endswith("/real_time") else "cpu_time"
        found[each["name"].removesuffix("/real_time")] = {
            **each, "ms": each[clock] * in_ms[each["time_unit"]]}
    return found


def beside(run):
    """SciPy's and NumPy's figures, one round."""
    import reference  # sets the threads of its libraries before they are read
    progress("the same in SciPy and NumPy")
    figures = {"samples": reference.samples_per_second(),
               "equilibria": reference.equilibria_per_second()}
    for size in run.sizes:
        figures[size] = reference.wall(run.tool("wall_dump"), run.folder, size).times()
    return figures


def median_of(rounds, pick):
    return statistics.median(pick(each) for each in rounds)


# --- tables ---------------------------------------------------------------------------------

def machine(run, load_before):
    with open("/proc/cpuinfo", encoding="utf-8") as file:
        model = re.search(r"model name\s*:\s*(.*)", file.read())
    with open(run.program, "rb") as file:
        compiler = re.search(rb"GCC: \([^)]*\) [0-9.]+|clang version [0-9.]+", file.read())
    version = subprocess.run([run.program, "--version"], capture_output=True, text=True,
                             check=True).stdout.split()[-1]
    busy = "shared and busy" if load_before > 0.7 else "quiet when it began"
    import numpy
    import scipy
    rows = [["date", datetime.date.today().isoformat()],
            ["program", f"stackfit {version}"],
            ["compiler", compiler.group().decode() if compiler else "not said by the program"],
            ["beside", f"Python {sys.version.split()[0]}, NumPy {numpy.__version__}, "
                       f"SciPy {scipy.__version__}"],
            ["machine", f"{os.cpu_count()} cores, {model.group(1) if model else '?'}; {busy}"],
            ["load average", f"{load_before:.1f} when it began, {os.getloadavg()[0]:.1f} at the "
                             "end (its own work is 1 to 2)"]]
    if run.quick:
        rows.insert(0, ["tried out", "--quick: each thing once, small sizes and few commands only"])
    return table(["this run", ""], rows, 2)


def process_table(run, lines, results):
    empty = next(iter(lines))
    base = statistics.median(results[empty]["ms"])
    rows = []
    for name in lines:
        result = results[name]
        middle = statistics.median(result["ms"])
        rows.append([name, figure(middle), figure(min(result["ms"])),
                     figure(statistics.median(result["cpu_ms"])), figure(middle / base),
                     f"{result['peak_mb']:.0f}"])
    head = ["command", "median ms", "least ms", "processor ms", "times the empty one", "peak MB"]
    return words.PROCESSES.format(rounds=times(run.process_rounds)) + table(head, rows)


def beside_table(run, own, other):
    rows = []

    def rates(name, bench, of_other):
        mine = median_of(own, lambda each: each[bench]["items_per_second"])
        theirs = median_of(other, lambda each: each[of_other])
        rows.append([name, rate(mine), rate(theirs), figure(mine / theirs)])
    rates("equilibria, one column: brentq", "one_column_equilibrium", "equilibria")
    rates("samples of shed_bank: NumPy", "chance_samples/shed_bank", "samples")
    rates("samples, every figure open: NumPy", "chance_samples/every_figure", "samples")

    work = (("mesh of {nodes:,} nodes: Delaunay", "wall_mesh", "mesh"),
            ("factor, {unknowns:,} unknowns, {entries:,} entries: splu", "wall_factor", "factor"),
            ("45 loads, {unknowns:,} unknowns: splu's solve", "wall_forty_five_loads", "loads"),
            ("ladder, {points:,} points, {shapes} shapes: NumPy", "ladder", "ladder"))
    for name, bench, of_other in work:
        for size in run.sizes:
            mine = median_of(own, lambda each: each[f"{bench}/triangles:{size}"]["ms"])
            theirs = 1e3 * median_of(other, lambda each: each[size][of_other])
            rows.append([name.format(**other[0][size]), figure(mine) + " ms",
                         figure(theirs) + " ms", figure(theirs / mine)])
    most = lambda key: f"{max(each[size][key] for each in other for size in run.sizes):.0e}"
    said = words.BESIDE.format(rounds=times(run.bench_rounds).replace(" times", " rounds"),
                               bent_off=most("bent_off"), forces_off=most("forces_off"))
    return said + table(["work: who else", "stackfit", "the other", "ratio"], rows) \
        + words.BESIDE_NOTES


def parts_table(own):
    """The solver's other parts, which nobody else does."""
    names = [name for name in own[0] if not re.search(r"triangles|by_cells|by_kinds", name)
             and name not in ("one_column_equilibrium", "chance_samples/shed_bank",
                              "chance_samples/every_figure")]
    rows = []
    for name in names:
        took = median_of(own, lambda each: each[name]["ms"])
        items = own[0][name].get("items_per_second")
        per = rate(median_of(own, lambda each: each[name]["items_per_second"])) if items else ""
        rows.append([name, figure(took), per])
    size = "full_solution/triangles:1600"
    rows.append([size, figure(median_of(own, lambda each: each[size]["ms"])), ""])
    return ("The solver's other parts, with nothing beside them (`solver_bench.cpp`, "
            "`wall_bench.cpp`):\n\n" + table(["part", "ms", "items"], rows))


def chance_lines(run):
    shed = f"{run.source}/fixtures/shed_bank.json"
    draw = ["--samples", str(DRAWS), "--threads", "1"]
    script = os.path.join(HERE, "chance_scipy.py")
    return {"NumPy, every draw solved": [sys.executable, "-B", script, str(DRAWS)],
            "pressure, one thread": [run.program, "pressure", shed, *draw],
            "pick, one thread": [run.program, "pick", shed, *draw]}


def chance_table(run, results):
    lines = list(chance_lines(run))
    middle = {name: statistics.median(results[name]["cpu_ms"]) for name in lines}
    rows = [[name, figure(middle[name]), figure(middle[lines[0]] / middle[name])] for name in lines]
    head = ["a million draws", "processor ms", "NumPy takes, times that"]
    return words.CHANCE + table(head, rows)


def search_table(run):
    if not os.path.exists(run.tool("plan_beside_glpk")):
        return words.SEARCH + "Not in this run: plan_beside_glpk (libglpk-dev) was missing.\n\n"
    out = subprocess.run([run.tool("plan_beside_glpk"), str(run.kits)], capture_output=True,
                         text=True, check=True).stdout
    search, brute, glpk = (float(value) for value in re.findall(r"([0-9.]+) s\b", out))
    rows = [[name, figure(1e3 * took / run.kits), figure(took / search)]
            for name, took in (("the search", search), ("every placing", brute), ("GLPK", glpk))]
    return words.SEARCH + table([f"{run.kits} kits", "ms a kit", "times the search"], rows)


def growth(sizes, columns, head):
    """Columns of times, each followed by the exponent from the size above."""
    rows = []
    for i, size in enumerate(sizes):
        row = [f"{size:,}"]
        for took, at, less in columns:
            row.append(figure(took[i]))
            grown = (took[i] - less) / (took[i - 1] - less) if i and took[i - 1] > less else 0
            power = math.log(grown) / math.log(at[i] / at[i - 1]) if grown > 0 else None
            row.append("" if power is None else f"{power:.1f}")
        rows.append(row)
    titles = [head[0]]
    for title in head[1:]:
        titles += [title, "power"]
    return table(titles, rows, 0)


def growth_of_processes(lines, results, own, bench, less):
    sizes = sorted({int(name.split()[0]) for name in lines})
    kinds = list(dict.fromkeys(name.split(" ", 1)[1] for name in lines))
    processor = lambda name: statistics.median(results[name]["cpu_ms"])
    columns = [([processor(f"{size} {kind}") for size in sizes], sizes, less) for kind in kinds]
    search = [median_of(own, lambda each: each[f"{bench}:{size}"]["ms"]) for size in sizes]
    columns.append((search, sizes, 0))
    return growth(sizes, columns,
                  [bench.split("/")[1], *(f"{kind} ms" for kind in kinds), "search alone ms"])


def growth_with_triangles(own):
    parts = (("wall_mesh", "mesh"), ("wall_factor", "factor"), ("wall_shapes", "shapes"),
             ("wall_forty_five_loads", "45 loads"), ("ladder", "ladder"))
    sizes = [int(name.split(":")[1]) for name in own[0] if name.startswith("wall_mesh/")]
    columns = []
    for bench, _ in parts:
        names = [f"{bench}/triangles:{size}" for size in sizes]
        at = [own[0][name]["triangles"] for name in names]
        columns.append(([median_of(own, lambda each: each[name]["ms"]) for name in names], at, 0))
    counted = [round(each) for each in columns[0][1]]
    return growth(counted, columns, ["triangles", *(f"{title} ms" for _, title in parts)])


# --- all of it ------------------------------------------------------------------------------

def written(run):
    load_before = os.getloadavg()[0]
    help_text = subprocess.run([run.program, "--help"], capture_output=True, text=True,
                               check=True).stdout
    subprocess.run([run.program, "pick", f"{run.source}/fixtures/van_sixteen.json", "--save",
                    f"{run.folder}/van_sixteen_placed.json"], stdout=subprocess.DEVNULL,
                   check=False)
    lines = commands.of_program(run.program, help_text, run.folder, 1 if run.quick else None)
    cells, kinds = commands.growing(run.program, run.source, run.folder, 3 if run.quick else None)
    of_cells = {f"cells {name}": line for name, line in cells.items()}
    of_kinds = {f"kinds {name}": line for name, line in kinds.items()}
    results = processes(run, {**lines, **of_cells, **of_kinds, **chance_lines(run)})
    own, other = [], []
    for _ in range(run.bench_rounds):
        own.append(benchmarks(run))
        other.append(beside(run))
    empty = statistics.median(results[next(iter(lines))]["cpu_ms"])
    grown = lambda of, made, bench: growth_of_processes(
        made, {name: results[f"{of} {name}"] for name in made}, own, bench, empty)
    body = [process_table(run, lines, results), beside_table(run, own, other),
            chance_table(run, results), parts_table(own), search_table(run), words.GROWTH,
            words.CELLS + grown("cells", cells, "search_by_cells/cells"),
            words.TRIANGLES + growth_with_triangles(own),
            words.KINDS + grown("kinds", kinds, "search_by_kinds/kinds"), words.HOTTEST]
    return words.TOP + machine(run, load_before) + "".join(body)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    parser.add_argument("bench", help="folder of bench_solver, wall_dump and plan_beside_glpk")
    parser.add_argument("program", help="stackfit")
    parser.add_argument("source", help="the project's folder")
    parser.add_argument("--quick", action="store_true", help="each once, small sizes; only prints")
    parser.add_argument("--rounds", type=int, help="of everything, in place of five and three")
    parser.add_argument("--to", help="file to write; else tests/bench/README.md")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="stackfit_bench_") as folder:
        text = written(Run(asked, folder)).rstrip("\n") + "\n"
    sys.stdout.write(text)
    to = asked.to or (None if asked.quick else os.path.join(HERE, "README.md"))
    if to:
        with open(to, "w", encoding="utf-8") as file:
            file.write(text)


if __name__ == "__main__":
    main()
