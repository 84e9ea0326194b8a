#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Rows of domed cells between rigid walls, by adaptive quadrature.

    python3 dome_row.py            recompute some of the stored cases; exit status 1 if one is off
    python3 dome_row.py --write    compute all cases again: fixtures/published/dome_row.json

Every point of the face is a series of cells and hard sheets that is shortened by what the row is
too long there: an even interference plus the bulges of all cells, max(0, dome phi - slack) or
dome phi where a cell is hollow, phi = ((1 - xi^2)(1 - eta^2))^q. SciPy's `quad`, nested, over a
quarter of the face, broken at the lines where contact begins and where a slack is used up.
"""
import json
import math
import os
import sys

from scipy.integrate import quad
from scipy.optimize import brentq

STORED = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "fixtures",
                      "published", "dome_row.json")
A_MPA, B = 0.06, 180.0        # p = A (exp(B eps) - 1), the same for all cells,
TANGENT_MPA = 1.0             # and on along its tangent from here
WIDTH, HEIGHT, NOMINAL = 120.0, 100.0, 40.0
SHEET_MODULUS = 10000.0


class Row:
    def __init__(self, domes, slacks, exponent, sheets_mm=0.0):
        self.domes, self.slacks, self.q = domes, slacks, exponent
        self.reference_mm = NOMINAL * len(domes)
        self.give = sheets_mm / SHEET_MODULUS  # mm per MPa

    def bulge(self, phi):
        return sum(max(0.0, dome * phi - slack) if dome > 0 else dome * phi
                   for dome, slack in zip(self.domes, self.slacks))

    def pressure(self, squeeze_mm):
        if squeeze_mm <= 0:
            return 0.0
        bend = math.log1p(TANGENT_MPA / A_MPA) / B
        slope = (A_MPA + TANGENT_MPA) * B

        def cells(strain):
            return (A_MPA * math.expm1(B * strain) if strain < bend else
                    TANGENT_MPA + slope * (strain - bend))

        alone = cells(squeeze_mm / self.reference_mm)
        if self.give == 0:
            return alone

        def strain(p):
            return (math.log1p(p / A_MPA) / B if p < TANGENT_MPA else
                    bend + (p - TANGENT_MPA) / slope)

        return brentq(lambda p: self.reference_mm * strain(p) + p * self.give - squeeze_mm,
                      0, alone * 1.001 + 1e-12, xtol=1e-15, rtol=1e-13)

    def levels(self, even_mm):
        """Values of phi at which the integrand bends: slacks, and where contact begins."""
        bends = sorted({min(1.0, slack / dome) for dome, slack in zip(self.domes, self.slacks)
                        if dome > 0} | {0.0, 1.0})
        found = set(bends)
        for low, high in zip(bends, bends[1:]):
            at = [even_mm + self.bulge(low), even_mm + self.bulge(high)]
            if at[0] * at[1] < 0:
                found.add(brentq(lambda phi: even_mm + self.bulge(phi), low, high, xtol=1e-15))
        return sorted(found)

    def along(self, even_mm, value):
        """Mean of value(pressure) over the face."""
        levels = self.levels(even_mm)

        def strip(xi):
            top = (1 - xi * xi) ** self.q
            # (1 - eta^2)^q = level / top
            cuts = sorted(math.sqrt(1 - (level / top) ** (1 / self.q)) for level in levels
                          if 0 < level < top)
            ends = [0.0, *cuts, 1.0]
            return sum(quad(lambda eta: value(self.pressure(
                even_mm + self.bulge(top * (1 - eta * eta) ** self.q))), low, high,
                epsabs=1e-11, epsrel=1e-9)[0] for low, high in zip(ends, ends[1:]))

        cuts = sorted(math.sqrt(1 - level ** (1 / self.q)) for level in levels if 0 < level < 1)
        ends = [0.0, *cuts, 1.0]
        return sum(quad(strip, low, high, epsabs=1e-10, epsrel=1e-7)[0]
                   for low, high in zip(ends, ends[1:]))

    def solve(self, even_mm):
        return {"even_mm": even_mm,
                "force_n": WIDTH * HEIGHT * self.along(even_mm, lambda p: p),
                "contact_share": self.along(even_mm, lambda p: 1.0 if p > 0 else 0.0),
                "highest_mpa": self.pressure(even_mm + max(self.bulge(0.0), self.bulge(1.0)))}


def cases():
    slack = 0.2  # half a per cent of the nominal thickness
    wanted = [
        ("one swollen cell of four", [0.8, 0, 0, 0], [slack, 0, 0, 0], 2.0, 0.0),
        ("one far swollen, rounder", [3.0, 0, 0, 0], [slack, 0, 0, 0], 1.0, 0.0),
        ("two domes facing", [0.5, 0.9, 0, 0], [slack, slack, 0, 0], 2.0, 2.5),
        ("a hollow cell beside a domed one", [1.0, -0.4, 0, 0], [slack, 0, 0, 0], 2.0, 2.5),
        ("slack alone", [0.2, 0.15, 0.1, 0.2], [0.2, 0.15, 0.1, 0.2], 2.0, 2.5),
        ("hollow cells only", [-0.3, -0.2, 0, 0], [0, 0, 0, 0], 1.5, 0.0),
        ("slight domes on all", [0.3, 0.35, 0.25, 0.4], [slack] * 4, 2.0, 2.5)]
    for name, domes, slacks, exponent, sheets in wanted:
        row = Row(domes, slacks, exponent, sheets)
        peak = max(row.bulge(phi / 400) for phi in range(401))
        # From the first touch of the tallest column to contact all over and beyond.
        evens = [-peak * share for share in (0.999, 0.97, 0.9, 0.8, 0.65, 0.5, 0.35, 0.2, 0.08,
                                             0.02)] if peak > 0 else []
        lowest = min(row.bulge(phi / 400) for phi in range(401))
        evens += [0.05, 0.2, 0.5, 0.9] if lowest == 0 else [0.05, 0.2, -lowest / 2, -lowest + 0.1]
        yield {"name": name, "dome_mm": domes, "slack_mm": slacks, "exponent": exponent,
               "sheets_mm": sheets}, row, evens


def write():
    made = [{**case, "solved": [row.solve(even) for even in evens]}
            for case, row, evens in cases()]
    about = {"about": "rows of four cells between rigid walls: force, contact and peak by nested "
                      "adaptive quadrature (SciPy quad), tests/reference/dome_row.py; own "
                      "computation. even_mm: what the row is too long by where its cells are flat.",
             "face_mm": [WIDTH, HEIGHT], "nominal_mm": NOMINAL, "squeeze_a_mpa": A_MPA,
             "squeeze_b": B, "tangent_above_mpa": TANGENT_MPA, "sheet_modulus_mpa": SHEET_MODULUS, "cases": made}
    with open(STORED, "w", encoding="utf-8") as file:
        json.dump(about, file, indent=1)
        file.write("\n")


def check():
    with open(STORED, encoding="utf-8") as file:
        stored = {case["name"]: case["solved"] for case in json.load(file)["cases"]}
    held = True
    for case, row, evens in cases():
        for even in evens[::4]:
            now = row.solve(even)
            was = next(s for s in stored[case["name"]] if abs(s["even_mm"] - even) < 1e-12)
            for key, value in now.items():
                if abs(value - was[key]) > 1e-6 * abs(value) + 1e-7:
                    held = False
                    print(f"{case['name']}, {even:g} mm: {key} is {value}, stored {was[key]}")
    print("stored cases hold" if held else "stored cases are off")
    return 0 if held else 1


if __name__ == "__main__":
    sys.exit(write() if sys.argv[1:] == ["--write"] else check())
