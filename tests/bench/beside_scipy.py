#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Times the solver beside SciPy in one run, and whole processes; prints ratios.

Usage: beside_scipy.py BENCH_SOLVER STACKFIT SOURCE_DIR
       beside_scipy.py chance STACKFIT SOURCE_DIR    only the chance, without the benchmarks
Machines are noisy: read the ratios and the medians, not single times.
"""
import json
import math
import os
import re
import statistics
import subprocess
import sys
import time

from scipy.optimize import brentq


def scipy_equilibria_per_second(count=20_000):
    """The one-column equilibrium of the benchmark, by brentq to the last digits."""
    area, length, give = 25_800.0, 8 * 58.2, 1e-3

    def miss(force, interference):
        return length * math.log1p(force / area / 0.06) / 180 + give * force - interference

    start = time.perf_counter()
    for i in range(count):
        interference = 0.01 + (i % 500) * 0.01
        brentq(miss, 0.0, 1e6, args=(interference,), xtol=1e-9, rtol=1e-14)
    return count / (time.perf_counter() - start)


def own_benchmarks(program):
    out = subprocess.run([program, "--benchmark_format=json"], check=True, capture_output=True)
    return {b["name"]: b for b in json.loads(out.stdout)["benchmarks"]}


def process_ms(command, runs=15, warm_ups=1):
    """Median wall time of a whole process."""
    times = []
    for _ in range(warm_ups + runs):
        start = time.perf_counter()
        subprocess.run(command, check=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        times.append(1e3 * (time.perf_counter() - start))
    return statistics.median(times[warm_ups:])


def chance_beside_numpy(program, source, samples=1_000_000, rounds=3):
    """A million draws as processes, in turn, so that a busy machine is busy for all."""
    script = os.path.join(os.path.dirname(os.path.abspath(__file__)), "chance_scipy.py")
    ask = lambda command: [program, command, f"{source}/fixtures/shed_bank.json", "--samples"]
    one = ["--threads", "1"]
    commands = {"NumPy, every draw solved": [sys.executable, "-B", script, str(samples)],
                "pressure": [*ask("pressure"), str(samples)],
                "pressure, one thread": [*ask("pressure"), str(samples), *one],
                "pressure, one thread, no more draws than it needs": [*ask("pressure"), "1", *one],
                "pick": [*ask("pick"), str(samples)],
                "pick, one thread": [*ask("pick"), str(samples), *one],
                "pick, one thread, no more draws than it needs": [*ask("pick"), "1", *one]}
    took = {name: [] for name in commands}
    for _ in range(rounds):
        for name, command in commands.items():
            took[name].append(process_ms(command, 1, 0))
    middle = {name: statistics.median(each) for name, each in took.items()}
    numpy = middle["NumPy, every draw solved"]
    print(f"chance of shed_bank, {samples:.0e} draws, as processes in turn, medians of {rounds}:")
    for name, ms in middle.items():
        print(f"  {name}: {ms:.0f} ms, NumPy takes {numpy / ms:.2f} times that")


def main():
    bench, program, source = sys.argv[1:4]
    if bench == "chance":
        return chance_beside_numpy(program, source)
    scipy_rate = scipy_equilibria_per_second()
    own = own_benchmarks(bench)
    rate = own["one_column_equilibrium"]["items_per_second"]
    print(f"one-column equilibria: {rate:.3g}/s, SciPy brentq {scipy_rate:.3g}/s, "
          f"ratio {rate / scipy_rate:.0f}")
    foam = own["equilibrium_with_foam"]["items_per_second"]
    print(f"with foam pads:        {foam:.3g}/s")
    for kind in ("uniform", "normal"):
        print(f"draws/{kind}: {own[f'draws/{kind}']['items_per_second']:.3g} samples/s of 18 inputs")
    script = os.path.join(os.path.dirname(os.path.abspath(__file__)), "chance_numpy.py")
    numpy = subprocess.run([sys.executable, "-B", script], capture_output=True, text=True,
                           check=True).stdout
    print("NumPy, chance of a row in one column:", " ".join(numpy.split()))
    best = max(float(rate) for rate in re.findall(r"([0-9.e+]+) per second of processor", numpy))
    for kind in ("shed_bank", "every_figure"):
        b = own[f"chance_samples/{kind}"]
        print(f"chance_samples/{kind}: {b['items_per_second']:.3g} samples/s and core of "
              f"{b['inputs']:.0f} inputs, {b['items_per_second'] / best:.1f} times NumPy's")
    for name, b in own.items():
        if "items_per_second" not in b:
            print(f"{name}: {b['real_time'] / 1e6:.2f} ms" if b["time_unit"] == "ns"
                  else f"{name}: {b['real_time']:.2f} {b['time_unit']}")
    empty = process_ms(["true"])
    for name in ("shed_bank", "van_sixteen", "wide_kit_sixteen", "too_few_shims", "lid_screwed",
                 "bench_frame", "two_rows_of_eight", "sheet_box"):
        ms = process_ms([program, "pick", f"{source}/fixtures/{name}.json"])
        print(f"pick {name}: {ms:.0f} ms as a process ({ms / empty:.0f} times an empty one)")
    for name in ("metal_box", "shed_frame", "courier_van"):
        ms = process_ms([program, "size", f"{source}/fixtures/order/{name}.json"])
        print(f"size {name}: {ms:.0f} ms as a process ({ms / empty:.0f} times an empty one)")
    chance_beside_numpy(program, source)


if __name__ == "__main__":
    main()
