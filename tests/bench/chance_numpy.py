#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What a vectorised NumPy script makes of the same job as the benchmark chance/samples.

Usage: chance_numpy.py [SAMPLES]
Draws the uncertain figures of a row of eight cells in a box, turns each sample into its
interference where the row is thinnest and where it is thickest, and asks whether the pressure
stays inside the range there, by the interference that each end of the range needs. Prints
samples/s for several sizes of block and the chance; the best is to be set beside the program's.
"""
import sys
import time

import numpy as np

CELLS = 8
NOMINAL_MM = 58.2
FACE_MM2 = 25_800.0
P_LOW_MPA, P_HIGH_MPA = 0.02, 0.30
B = 180.0
LENGTH_MM = CELLS * NOMINAL_MM / B  # in front of the logarithm
INNER_MM = 470.5
SHIMS = ((0.25, 3), (0.5, 4), (1.0, 4))  # thickness, pieces: a kind's pieces are alike
GIVE_MM_PER_MPA = 1.0  # of walls whose edges are half held
FOAM_MM, FOAM_MPA = 1.0, 2.0  # a thin pad, linear
RODS_MM = 0.15  # stretch of the rods at the force that their torque is said to give
CAPACITY_LOST = 0.02
COLD_K, WARM_K = -15.0, 20.0  # against the reference temperature
# Share of the net swing and of the hump at charges in use, in the order of charge.
CHARGE = np.array([0.0, 0.1, 0.2, 0.3, 0.45, 0.6, 0.75, 0.9, 1.0])
NET = np.array([0.0, 0.17, 0.33, 0.45, 0.50, 0.55, 0.70, 0.88, 1.0])
HUMP = np.array([0.0, 0.35, 0.75, 1.0, 0.5, 0.0, 0.1, 0.1, 0.0])
DRAWN = 20  # figures for each sample, below


def lognormal(rng, low, high, n):
    """From its 95 % span."""
    middle = 0.5 * (np.log(low) + np.log(high))
    return np.exp(middle + (np.log(high) - np.log(low)) / 3.92 * rng.standard_normal(n))


def block(rng, n):
    """How many of n samples pass."""
    calipers = 0.03 * rng.standard_normal(n)
    scatter = 0.02 / np.sqrt(CELLS) * rng.standard_normal(n)
    charge = rng.uniform(0.25, 0.45, n)
    box = INNER_MM + 0.3 * rng.standard_normal(n)
    shims = np.zeros(n)
    for thickness, pieces in SHIMS:
        shims += pieces * thickness * (1 + 0.02 * rng.standard_normal(n))
    a = lognormal(rng, 0.03, 0.12, n)
    net = lognormal(rng, 0.003, 0.010, n)
    hump = lognormal(rng, 0.001, 0.005, n)
    growth = lognormal(rng, 0.05, 0.4, n)
    under_load = lognormal(rng, 0.2, 1.0, n)
    alpha = lognormal(rng, 20e-6, 100e-6, n)
    measured_k = rng.uniform(-5.0, 5.0, n)
    # Only for getting the last piece in, which is not asked here; drawn, as the program draws them:
    # friction, and that of a film.
    lognormal(rng, 0.15, 0.50, n)
    lognormal(rng, 0.06, 0.20, n)
    give = GIVE_MM_PER_MPA * rng.uniform(0.7, 1.3, n)
    foam = rng.uniform(0.4, 0.8, n)
    rods = RODS_MM * (1 + 0.15 * rng.standard_normal(n))
    margin = rng.uniform(0.0, 0.20, n)

    cells_mm = CELLS * NOMINAL_MM
    # Thinnest and thickest charge in use, at the knots of the curve.
    swing_measured = net * np.interp(charge, CHARGE, NET) + hump * np.interp(charge, CHARGE, HUMP)
    lowest = highest = net * NET[1] + hump * HUMP[1]
    for i in range(2, 8):
        at_knot = net * NET[i] + hump * HUMP[i]
        lowest = np.minimum(lowest, at_knot)
        highest = np.maximum(highest, at_knot)
    free = cells_mm + CELLS * (calipers + scatter) + shims + FOAM_MM - box + rods
    d_lowest = free + cells_mm * (lowest - swing_measured + alpha * (COLD_K - measured_k))
    d_highest = free + cells_mm * (highest - swing_measured + growth * under_load * CAPACITY_LOST
                                   + alpha * (WARM_K - measured_k))
    # What each end of the range needs: cells, walls, and the pad, settled and fresh.
    needed = (LENGTH_MM * np.log1p(P_LOW_MPA / a) + give * P_LOW_MPA
              + FOAM_MM * P_LOW_MPA / (FOAM_MPA * foam))
    p_high = P_HIGH_MPA / (1 + margin)
    allowed = LENGTH_MM * np.log1p(p_high / a) + give * p_high + FOAM_MM * p_high / FOAM_MPA
    return np.count_nonzero((needed <= d_lowest) & (d_highest <= allowed))


def main():
    samples = int(sys.argv[1]) if len(sys.argv) > 1 else 400_000
    for size in (1_000, 4_000, 16_000, 100_000):
        rng = np.random.default_rng(1)
        blocks = max(1, samples // size)
        block(rng, size)
        start = time.perf_counter()
        cpu = time.process_time()
        passed = sum(block(rng, size) for _ in range(blocks))
        wall = time.perf_counter() - start
        cpu = time.process_time() - cpu
        print(f"NumPy, blocks of {size}: {blocks * size / wall:.3g} samples/s, "
              f"{blocks * size / cpu:.3g} per second of processor, {DRAWN} draws each, "
              f"chance {passed / (blocks * size):.3f}")


if __name__ == "__main__":
    main()
