#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What a NumPy script that solves every draw makes of the chance that `pick` prints.

Usage: chance_scipy.py [SAMPLES]
Draws what is uncertain of fixtures/shed_bank.json and finds, draw by draw, the pressure as built
and the lowest and the highest in use by Newton's method on arrays, for one plan; the walls stand in
as a spring. That is less than the program does: its walls are plates, and other plans get their
chance too. Prints seconds, samples/s and the chance. Not for: the chance itself
(tests/reference/chance_reference.py); chance_numpy.py, which solves the ends of the band only.
"""
import sys
import time

import numpy as np

from chance_numpy import B, CELLS, CHARGE, HUMP, LENGTH_MM, NET, NOMINAL_MM, lognormal

BLOCK = 16_000  # fits the cache; the fastest of those tried
FACE_MM2 = 25_795.0
MAKERS_MPA = 215 * 9.80665 / FACE_MM2
LOW_MPA, HIGH_MPA = 0.25 * MAKERS_MPA, 1.5 * MAKERS_MPA
CELLS_MM, DOMES_MM, INNER_MM = 467.43, 0.27, 476.96
SHIMS = ((0.8, 12), (0.5, 2), (0.3, 6))
GIVE_MM_PER_MPA = 23.0  # both end walls, as springs
SAID_CHARGE, COLD_C, WARM_C, BUILT_C = 0.38, 5.0, 40.0, 18.0
SHIMS_PER_K, BOX_PER_K = 100e-6, 23e-6
STEPS = 5  # of Newton's method: 1e-6 MPa


def pressures(too_long, softness, give):
    """Newton's method on p for length ln(1 + p/A) + give p = too_long, from what walls leave."""
    wanted = np.maximum(too_long, 0)
    p = wanted / (give + LENGTH_MM / softness)  # never beyond the root: it is reached from below
    for _ in range(STEPS):
        miss = LENGTH_MM * np.log1p(p / softness) + give * p - wanted
        p = np.maximum(p - miss / (LENGTH_MM / (softness + p) + give), 0)
    return p


def block(rng, n):
    """How many of n draws pass."""
    normal = lambda: rng.standard_normal(n)
    cells = CELLS_MM + CELLS * 0.03 * normal() + np.sqrt(CELLS) * 0.02 * normal()
    domes = DOMES_MM * (1 + 0.2 * normal())
    box = INNER_MM + 0.4 / 1.96 * normal()
    shims = sum(each * pieces * (1 + 0.04 / 1.96 * normal()) for each, pieces in SHIMS)
    charge = SAID_CHARGE + rng.uniform(-0.1, 0.1, n)
    reference = rng.uniform(15, 25, n)
    softness = lognormal(rng, 0.03, 0.12, n)
    net, hump = lognormal(rng, 0.003, 0.010, n), lognormal(rng, 0.001, 0.005, n)
    alpha = lognormal(rng, 20e-6, 100e-6, n)
    give = GIVE_MM_PER_MPA * (1 - 0.6 * rng.uniform(0, 0.5, n))
    more = 1 + rng.uniform(0, 0.2, n)

    measured = net * np.interp(charge, CHARGE, NET) + hump * np.interp(charge, CHARGE, HUMP)
    in_use = [net * NET[i] + hump * HUMP[i] for i in range(1, 8)]
    least, most = np.minimum.reduce(in_use) - measured, np.maximum.reduce(in_use) - measured
    flat = cells + domes + shims - box
    per_k = CELLS * NOMINAL_MM * alpha + shims * SHIMS_PER_K - INNER_MM * BOX_PER_K
    nominal = CELLS * NOMINAL_MM
    lowest = pressures(flat + nominal * least + per_k * (COLD_C - reference), softness, give)
    highest = pressures(flat + nominal * most + per_k * (WARM_C - reference), softness, give)
    built = pressures(flat + per_k * (BUILT_C - reference), softness, give)
    return np.count_nonzero((lowest >= LOW_MPA) & (more * np.maximum(highest, built) <= HIGH_MPA))


def main():
    samples = int(float(sys.argv[1])) if len(sys.argv) > 1 else 1_000_000
    rng = np.random.default_rng(1)
    block(rng, BLOCK)
    blocks = -(-samples // BLOCK)
    start = time.perf_counter()
    passed = sum(block(rng, BLOCK) for _ in range(blocks))
    wall = time.perf_counter() - start
    drawn = blocks * BLOCK
    print(f"NumPy, every draw solved: {wall:.2f} s, {drawn / wall:.3g} samples/s, "
          f"chance {passed / drawn:.3f}")


if __name__ == "__main__":
    main()
