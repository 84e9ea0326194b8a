# SPDX-License-Identifier: GPL-3.0-or-later
"""The solver's work done with SciPy and NumPy, timed in processor seconds on one thread.

For: table.py, which sets it beside Google Benchmark's figures of the same run.
Not for: whether the solver is right (tests/reference); here the two are only held to the same
answer, so that the same work is compared.
"""
import os
import time

for library in ("OPENBLAS", "OMP", "MKL"):  # before NumPy is read
    os.environ[f"{library}_NUM_THREADS"] = "1"

import math
import re
import subprocess
import sys

import numpy as np
from scipy.optimize import brentq
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu
from scipy.spatial import Delaunay

LOADS = 45  # as wall_forty_five_loads of wall_bench.cpp
RUNGS, STEP_MM = 30, 0.2  # as bench_builds.hpp
A_MPA, B, ROW_MM = 0.06, 180.0, 8 * 58.2


def seconds(work, least=0.3):
    """Processor seconds of one call, the mean of as many as take `least` together."""
    calls, start = 0, time.process_time()
    while True:
        work()
        calls += 1
        took = time.process_time() - start
        if took > least:
            return took / calls


def equilibria_per_second(count=10_000):
    """The one-column equilibrium of the benchmark, by brentq to the last digits."""
    area, give = 25_800.0, 1e-3

    def miss(force, interference):
        return ROW_MM * math.log1p(force / area / A_MPA) / B + give * force - interference

    def work():
        for i in range(count):
            brentq(miss, 0.0, 1e6, args=(0.01 + (i % 500) * 0.01,), xtol=1e-9, rtol=1e-14)
    return count / seconds(work)


def samples_per_second():
    """The best of the block sizes of chance_numpy.py."""
    script = os.path.join(os.path.dirname(os.path.abspath(__file__)), "chance_numpy.py")
    printed = subprocess.run([sys.executable, "-B", script], capture_output=True, text=True,
                             check=True).stdout
    return max(float(rate) for rate in re.findall(r"([0-9.e+]+) per second of processor", printed))


class Wall:
    """The wall that wall_dump wrote."""

    def __init__(self, folder):
        read = lambda name, kind: np.fromfile(f"{folder}/{name}", dtype=kind)
        self.nodes = read("nodes.f64", float).reshape(-1, 2)
        columns = read("columns.i32", np.int32)
        self.matrix = csc_matrix((read("values.f64", float), read("rows.i32", np.int32), columns),
                                 shape=(len(columns) - 1,) * 2)
        self.load, self.bent = read("load.f64", float), read("bent.f64", float)
        self.area, self.forces = read("area.f64", float), read("forces.f64", float)
        self.shapes = read("shapes.f64", float).reshape(-1, len(self.area)).T.copy()

    def factor(self):
        """SuperLU told that the matrix is symmetric and positive: its quickest way here."""
        return splu(self.matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                    options={"SymmetricMode": True})

    def ladder(self):
        """Newton's method on the walls' amplitudes, each rung from the one before."""
        shapes, area = self.shapes, self.area
        amplitudes, forces = np.zeros(shapes.shape[1]), []

        def pressure(at, interference):
            squeeze = np.maximum(interference - shapes @ at, 0.0)
            return A_MPA * np.expm1(B / ROW_MM * squeeze), squeeze

        def energy(at, interference):
            p, squeeze = pressure(at, interference)
            return 0.5 * at @ at + area @ (p * ROW_MM / B - A_MPA * squeeze)

        for rung in range(1, RUNGS + 1):
            interference = STEP_MM * rung
            for _ in range(100):
                p, squeeze = pressure(amplitudes, interference)
                slope = np.where(squeeze > 0, B / ROW_MM * (p + A_MPA), 0.0)
                gradient = amplitudes - shapes.T @ (area * p)
                hessian = np.eye(len(amplitudes)) + shapes.T @ ((area * slope)[:, None] * shapes)
                step = np.linalg.solve(hessian, -gradient)
                if -gradient @ step < 1e-12 * (1 + amplitudes @ amplitudes):
                    break
                share, before = 1.0, energy(amplitudes, interference)
                while energy(amplitudes + share * step, interference) > before and share > 1e-6:
                    share *= 0.5
                amplitudes = amplitudes + share * step
            forces.append(area @ pressure(amplitudes, interference)[0])
        return np.array(forces)

    def times(self):
        """Seconds of each kind of work, and how far the answers lie from the program's."""
        lu = self.factor()
        loads = np.repeat(self.load[:, None], LOADS, axis=1)
        bent_off = np.abs(lu.solve(self.load) - self.bent).max() / np.abs(self.bent).max()
        forces_off = np.abs(self.ladder() / self.forces - 1).max()
        if bent_off > 1e-6 or forces_off > 1e-4:
            raise SystemExit(f"not the same work: bent differs by {bent_off:.1e}, "
                             f"the ladder by {forces_off:.1e}")
        return {"unknowns": self.matrix.shape[0], "entries": self.matrix.nnz,
                "points": len(self.area), "shapes": self.shapes.shape[1],
                "nodes": len(self.nodes), "bent_off": bent_off, "forces_off": forces_off,
                "mesh": seconds(lambda: Delaunay(self.nodes)), "factor": seconds(self.factor),
                "loads": seconds(lambda: lu.solve(loads)), "ladder": seconds(self.ladder)}


def wall(dump, folder, triangles):
    subprocess.run([dump, folder, str(triangles)], check=True)
    return Wall(folder)
