# SPDX-License-Identifier: GPL-3.0-or-later
"""The rods of a clamp frame with disc springs, as ties of columns.py.

Rods and springs in series, all rods alike; brought to a force, nuts then fixed. Discs: Almen and
Laszlo 1936 as DIN EN 16984 writes it (formerly DIN 2092), E = 206000 MPa, nu = 0.3, no contact
flats, up to flat. Threads: ISO 898-1, stress area pi/4 (d - 0.9382 P)^2.
"""

import math

import numpy as np
from scipy.interpolate import CubicHermiteSpline

DISC_MPA, DISC_NU = 206000.0, 0.3
ROD_MPA = 205000.0  # fixtures/published/springs_and_rods.csv
PITCH = {"M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5}


def disc_force(outer, inner, thickness, cone, travel):
    """N of one disc pressed by so many mm."""
    ratio = outer / inner
    k1 = ((ratio - 1) / ratio)**2 / ((ratio + 1) / (ratio - 1) - 2 / math.log(ratio)) / math.pi
    h, s = cone / thickness, np.asarray(travel) / thickness
    scale = 4 * DISC_MPA / (1 - DISC_NU**2) * thickness**4 / (k1 * outer**2)
    return scale * s * ((h - s) * (h - s / 2) + 1)


def stress_area(size):
    return math.pi / 4 * (float(size[1:]) - 0.9382 * PITCH[size])**2


class Rods:
    """Force of all rods against what rods and springs together give; from the built state on."""

    moves = True

    def __init__(self, count, rod_give, discs, force, start=0.0):
        """discs: dict of outer, inner, thickness, cone, parallel and series."""
        travel = np.linspace(0, discs["cone"], 400)
        one = disc_force(discs["outer"], discs["inner"], discs["thickness"], discs["cone"], travel)
        total = count * discs["parallel"] * one
        given = discs["series"] * travel + total / count * rod_give
        slope = np.gradient(total, given, edge_order=2)
        self.law = CubicHermiteSpline(given, total, slope)
        self.work, self.slope = self.law.antiderivative(), self.law.derivative()
        self.force = force
        # Brought to its force the frame gives this much; u counts from `start` there.
        self.offset = float(np.interp(force, total, given)) - start

    def from_built(self, u):
        other = Rods.__new__(Rods)
        other.__dict__ = {**self.__dict__, "offset": self.offset - u}
        return other

    def _given(self, u):
        return max(0.0, u + self.offset)  # slack rods do not push

    def energy(self, u):
        return float(self.work(self._given(u)))

    def pull(self, u):
        return float(self.law(self._given(u)))

    def curvature(self, u):
        return float(self.slope(self._given(u))) if u + self.offset > 0 else 0.0
