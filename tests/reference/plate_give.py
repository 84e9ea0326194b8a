# SPDX-License-Identifier: GPL-3.0-or-later
"""A rectangular thin plate pressed on a rectangular patch, evenly or by a springy row.

Kirchhoff's plate by Galerkin's method with tensor products of quintic B-splines (Hollig, Finite
Element Methods with B-Splines, 2003), knots doubled at the patch's edges, where the fourth
derivative jumps, and gathered at the plate's edges, where corners make the bending moment
singular. x runs from the left edge, y from the bottom edge.
Energy (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., art. 84):
D/2 integral (wxx + wyy)^2 - 2 (1 - nu) (wxx wyy - wxy^2).
A springy row between two equal plates presses with k (d - 2 w) wherever the patch is, also where
that pulls: with w = f c, (K + 2 k integral f f') c = k d integral f, the integrals over the patch.
"""

import numpy as np
from scipy.interpolate import BSpline
from scipy.linalg import cho_factor, cho_solve

DEGREE = 5
GAUSS = np.polynomial.legendre.leggauss(DEGREE + 1)
PIECES = 16  # over the side; with grading, mean and middle hold to about 1e-6


def _breaks(side, low, high):
    """Ends of the elements: gathered towards both ends, with the patch's edges among them."""
    even = np.linspace(0, np.pi, PIECES + 1)
    graded = side * (1 - np.cos(even)) / 2
    # An element next to a patch edge may not be a sliver.
    inside = [edge for edge in (low, high) if 1e-9 * side < edge < (1 - 1e-9) * side]
    width = side / PIECES
    keep = [x for x in graded[1:-1] if all(abs(x - edge) > width / 4 for edge in inside)]
    return np.array(sorted([0.0, *keep, *inside, side])), inside


class _Side:
    """The splines along one side, those that move at held or fixed ends left out."""

    def __init__(self, side, patch, ends):
        self.breaks, doubled = _breaks(side, *patch)
        inner = sorted([*self.breaks[1:-1], *doubled])
        knots = np.r_[[0.0] * (DEGREE + 1), inner, [side] * (DEGREE + 1)]
        count = len(knots) - DEGREE - 1
        dropped = {"fixed": 2, "held": 1, "free": 0}
        chosen = range(dropped[ends[0]], count - dropped[ends[1]])
        self.splines = [BSpline(knots, np.eye(count)[i], DEGREE) for i in chosen]
        self.patch = patch

    def _points(self, low, high):
        """Gauss points and weights element by element between low and high."""
        inside = [x for x in self.breaks if low - 1e-12 <= x <= high + 1e-12]
        halves = np.diff(inside) / 2
        x = np.concatenate([a + h * (1 + GAUSS[0]) for a, h in zip(inside, halves)])
        return x, np.concatenate([h * GAUSS[1] for h in halves])

    def products(self):
        """product[i, j]: integral of the i-th times the j-th derivative, i and j up to 2."""
        x, weight = self._points(self.breaks[0], self.breaks[-1])
        values = [np.array([s(x, nu=order) for s in self.splines]) for order in range(3)]
        return {(i, j): (values[i] * weight) @ values[j].T for i in range(3) for j in range(3)}

    def over_patch(self):
        """Integrals over the patch of each spline, and of each times each."""
        x, weight = self._points(*self.patch)
        values = np.array([s(x) for s in self.splines])
        return values @ weight, (values * weight) @ values.T

    def at(self, place):
        return np.array([float(s(place)) for s in self.splines])


class Plate:
    """One plate; SIDE makes the functions along a side: _Side, or another set to check it with.

    edges: left, right, bottom, top, each fixed, held or free; patch: ((x0, x1), (y0, y1));
    stiffness: D = E t^3 / (12 (1 - nu^2)) in N mm.
    """

    SIDE = _Side

    def __init__(self, width, height, stiffness, nu, edges, patch):
        left, right, bottom, top = edges
        across = self.SIDE(width, patch[0], (left, right))
        up = self.SIDE(height, patch[1], (bottom, top))
        a, b = across.products(), up.products()
        self.bending = stiffness * (
            np.kron(a[2, 2], b[0, 0]) + np.kron(a[0, 0], b[2, 2])
            + nu * (np.kron(a[2, 0], b[0, 2]) + np.kron(a[0, 2], b[2, 0]))
            + 2 * (1 - nu) * np.kron(a[1, 1], b[1, 1]))
        (once_across, twice_across), (once_up, twice_up) = across.over_patch(), up.over_patch()
        self.once, self.twice = np.kron(once_across, once_up), np.kron(twice_across, twice_up)
        self.middle = np.kron(across.at(width / 2), up.at(height / 2))
        self.patch_area = (patch[0][1] - patch[0][0]) * (patch[1][1] - patch[1][0])

    def even(self):
        """(mean over the patch, middle of the plate) in mm per newton spread evenly over it."""
        load = self.once / self.patch_area
        bow = cho_solve(cho_factor(self.bending), load)
        return float(load @ bow), float(self.middle @ bow)

    def two_and_springs(self, k):
        """Mean of both plates' bow over the patch, mm per newton of a row of k [MPa/mm]."""
        system = cho_factor(self.bending + 2 * k * self.twice)
        bow = self.once @ cho_solve(system, self.once)  # volume under one plate's bow, over k d
        return float(2 * bow / self.patch_area / (self.patch_area - 2 * k * bow))
