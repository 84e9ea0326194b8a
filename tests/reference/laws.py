# SPDX-License-Identifier: GPL-3.0-or-later
"""The laws of one cell and one sheet, from model.md sections 3 and 4 alone.

Every law answers one question: how far is the part squeezed [strain] at a stress [MPa]; for rows
of many columns also for a whole list of stresses, with what a little more adds [1/MPa].
"""

import csv
import math
import os

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

TIGHT = {"xtol": 1e-13, "rtol": 4 * np.finfo(float).eps}


# --- Swing with charge ------------------------------------------------------------------

# Layer recipe printed in swelling_layer.csv: an open BPX example set for LFP.
ANODE_UM, CATHODE_UM, LAYER_UM = 44.4, 64.3, 141.2
ANODE_SHARE, CATHODE_SHARE = 0.7568, 0.7364
ANODE_FILLING = (0.0016261, 0.82258)   # lithium fraction x at empty and full
CATHODE_FILLING = (0.95038, 0.0875)    # y likewise
# Volume of the delithiated host relative to the full one: LFP from the lattice constants of Padhi
# et al. 1997; NMC from Mohtat et al. 2020 (both as model.md quotes them).
CATHODE_SHRINKS = {"LFP": 0.0653, "NMC": 0.0110}


def read_csv(path, header=""):
    """Rows below the first line that starts with header; # lines are comments."""
    with open(path, encoding="utf-8") as file:
        lines = [line for line in file if not line.startswith("#")]
    first = next(i for i, line in enumerate(lines) if line.startswith(header))
    return list(csv.DictReader(lines[first:]))


def graphite_knots(published):
    """Volume strain of graphite against lithium fraction (Mohtat et al. 2020)."""
    rows = [row for row in read_csv(os.path.join(published, "swelling.csv")) if row["knots"]]
    return [float(r["x"]) for r in rows], [float(r["knots"]) / 100 for r in rows]


def layer(published, chemistry):
    """Thickness change of one layer pair [fraction of it], piecewise linear: (charges, values)."""
    x, strain = graphite_knots(published)
    empty, full = ANODE_FILLING
    charge = np.array([0.0, *((k - empty) / (full - empty) for k in x if empty < k < full), 1.0])
    filled = empty + charge * (full - empty)
    cathode = CATHODE_FILLING[0] + charge * (CATHODE_FILLING[1] - CATHODE_FILLING[0])
    change = (ANODE_SHARE * ANODE_UM * np.interp(filled, x, strain)
              - CATHODE_SHARE * CATHODE_UM * CATHODE_SHRINKS[chemistry] * (1 - cathode)) / LAYER_UM
    return charge, change - change[0]


def stretched(charge, change, net, hump):
    """g = a layer + b s with the net from empty to full and the fall from peak to dip given."""
    steps = np.diff(change)
    peak = next(i for i in range(1, len(steps)) if steps[i - 1] > 0 > steps[i])
    dip = next(i for i in range(peak + 1, len(steps)) if steps[i] > 0)
    rows = [[change[-1], 1.0], [change[peak] - change[dip], charge[peak] - charge[dip]]]
    a, b = np.linalg.solve(rows, [net, hump])
    return charge, a * change + b * charge


# --- A cell's squeeze -------------------------------------------------------------------

class ExponentialCell:
    """p = A (exp(B eps) - 1), along its tangent above 1 MPa."""

    END_MPA = 1.0

    def __init__(self, a_mpa, b):
        self.a, self.b = a_mpa, b

    def strain(self, stress):
        inside = min(stress, self.END_MPA)
        beyond = (stress - inside) / (self.b * (self.a + self.END_MPA))
        return math.log1p(inside / self.a) / self.b + beyond

    def strains(self, stresses):
        inside = np.minimum(stresses, self.END_MPA)
        beyond = (stresses - inside) / (self.b * (self.a + self.END_MPA))
        return np.log1p(inside / self.a) / self.b + beyond

    def softnesses(self, stresses):
        return 1 / (self.b * (self.a + np.minimum(stresses, self.END_MPA)))


class Curve:
    """Stress against strain through points from (0, 0): PCHIP, then along its last tangent.

    keep and set_strain: the settled law keep * sigma(eps - set_strain).
    """

    FINE = 300

    def __init__(self, strain, stress):
        self.curve = curve = PchipInterpolator(strain, stress)
        self.slope = curve.derivative()
        self.x, self.y = curve.x.tolist(), np.asarray(stress, float).tolist()
        self.c = curve.c.T.tolist()
        self.end_slope = float(curve(self.x[-1], nu=1))
        self.keep, self.set_strain = 1.0, 0.0

    def settled(self, keep, set_strain):
        other = Curve.__new__(Curve)
        other.__dict__ = {**self.__dict__, "keep": keep, "set_strain": set_strain}
        return other

    def strain(self, stress):
        return self.set_strain + self._fresh(stress / self.keep)

    def strains(self, stresses):
        fresh = np.asarray(stresses) / self.keep
        return (self.set_strain + self._inverse(np.minimum(fresh, self.y[-1]))
                + np.maximum(fresh - self.y[-1], 0) / self.end_slope)

    def softnesses(self, stresses):
        fresh = np.asarray(stresses) / self.keep
        slope = self.slope(self._inverse(np.minimum(fresh, self.y[-1])))
        slope = np.where(fresh < self.y[-1], slope, self.end_slope)
        return 1 / (np.maximum(slope, 1e-9) * self.keep)

    def _inverse(self, stresses):
        """Within the table: the nearest of many points, then Newton."""
        many = np.concatenate([np.linspace(low, high, self.FINE) for low, high
                               in zip(self.x[:-1], self.x[1:])])
        at = np.interp(stresses, self.curve(many), many)
        for _ in range(3):
            at = at - (self.curve(at) - stresses) / np.maximum(self.slope(at), 1e-9)
        return at

    def _fresh(self, stress):
        if stress <= 0:
            return 0.0
        if stress >= self.y[-1]:
            return self.x[-1] + (stress - self.y[-1]) / self.end_slope
        piece = np.searchsorted(self.y, stress, side="right") - 1
        c3, c2, c1, c0 = self.c[piece]
        residual = lambda u: ((c3 * u + c2) * u + c1) * u + c0 - stress
        return self.x[piece] + brentq(residual, 0, self.x[piece + 1] - self.x[piece], **TIGHT)


class Linear:
    """Hooke: hard sheets and bonded rubber."""

    def __init__(self, modulus_mpa):
        self.modulus = modulus_mpa

    def strain(self, stress):
        return stress / self.modulus

    def strains(self, stresses):
        return stresses / self.modulus

    def softnesses(self, stresses):
        return np.full_like(stresses, 1 / self.modulus)


# --- Pads -------------------------------------------------------------------------------

PSI = 4.4482216152605 / 25.4**2  # MPa
# ASTM D1056: stress at 25 % deflection [psi], lower and upper edge of each grade.
GRADES_PSI = [(0, 2), (2, 5), (5, 9), (9, 13), (13, 17), (17, 25)]
# model.md section 4, from memory there: strain, and stress over that at 25 %.
GENERIC_FOAM = [(0, 0), (0.1, 0.55), (0.25, 1), (0.4, 1.6), (0.5, 2.4), (0.6, 4.2), (0.7, 9)]


def grade_curve(grade, stiff):
    at_quarter = GRADES_PSI[grade][1 if stiff else 0] * PSI
    strain, share = zip(*GENERIC_FOAM)
    return Curve(strain, [at_quarter * each for each in share])


def rubber_modulus(e0, k, bulk, area, perimeter, thickness):
    """Gent and Lindley 1959 with the bulk term: Ec = E0 (1 + 2 k S^2), 1/E = 1/Ec + 1/B."""
    shape = area / (perimeter * thickness)
    compressed = e0 * (1 + 2 * k * shape**2)
    return 1 / (1 / compressed + 1 / bulk)
