# SPDX-License-Identifier: GPL-3.0-or-later
"""Walls of columns.py that stretch in their own plane as they bow: von Karman's plate.

Not for small bows, where bending is all (columns.Bend). Energy: Timoshenko and Woinowsky-Krieger,
Theory of Plates and Shells, 2nd ed., art. 100: the strains of the middle plane are those of the
displacements in it and half the squares of the slopes. Displacements in the plane are products of
Legendre polynomials, at their least energy by projection; on held edges they vanish.
"""

from functools import lru_cache

import numpy as np

import columns

POINTS, IN_PLANE = 15, 9  # Gauss points, polynomials a direction


class Membrane:
    """The middle plane of a wall; `held`: its supported edges do not move in the plane.

    alike: how many such walls, one behind the other, the wall stands for; its modulus is then a
    wall's divided by that, and every wall bows its part.
    """

    def __init__(self, case, held):
        nodes, weights = np.polynomial.legendre.leggauss(POINTS)
        width, height, nu = case["width_mm"], case["height_mm"], case["poisson"]
        self.x, self.y = (1 + nodes) / 2 * width, (1 + nodes) / 2 * height
        self.root_weight = np.sqrt(np.outer(weights, weights).ravel() * width * height / 4)
        unit = np.array([[1, nu, 0], [nu, 1, 0], [0, 0, (1 - nu) / 2]]) / (1 - nu * nu)
        self.root = np.linalg.cholesky(unit).T
        edges = tuple(case["edges"].values()) if held else ("free",) * 4
        self.plane = self._plane(case, edges)
        self.scale = case["modulus_mpa"] * case["thickness_mm"] / case.get("alike", 1)**2

    def _plane(self, case, edges):
        """Strains that displacements in the plane can make, orthonormal: points x count."""
        left, right, bottom, top = ("held" if edge != "free" else "free" for edge in edges)
        across = columns.Line(case["width_mm"], left, right, IN_PLANE)
        up = columns.Line(case["height_mm"], bottom, top, IN_PLANE)
        slope_x = np.kron(across.at(self.x, 1), up.at(self.y))
        slope_y = np.kron(across.at(self.x), up.at(self.y, 1))
        nothing = np.zeros_like(slope_x)
        strains = np.concatenate([self._weighted(slope_x, nothing, slope_y),
                                  self._weighted(nothing, slope_y, slope_x)], axis=1)
        basis, sizes, _ = np.linalg.svd(strains, full_matrices=False)
        return basis[:, sizes > 1e-10 * sizes[0]]

    def _weighted(self, *strains):
        """Such that the energy is half the sum of squares."""
        mixed = np.einsum("rs,spk->rpk", self.root, np.array(strains))
        return (mixed * self.root_weight[:, None]).reshape(-1, mixed.shape[2])

    def _rest(self, strains):
        return strains - self.plane @ (self.plane.T @ strains)

    def slopes(self, wall):
        """Of all polynomials of a wall: points x polynomials."""
        return (np.kron(wall.x.at(self.x, 1), wall.y.at(self.y)),
                np.kron(wall.x.at(self.x), wall.y.at(self.y, 1)))

    def strains(self, sx, sy):
        half = self._weighted(*(each[:, None] for each in (sx * sx / 2, sy * sy / 2, sx * sy)))
        return self._rest(half)[:, 0]

    def energy(self, sx, sy):
        return self.scale * np.sum(self.strains(sx, sy)**2) / 2

    def change(self, sx, sy, gx, gy):
        """How the strains change with each polynomial."""
        sx, sy = sx[:, None], sy[:, None]
        return self._rest(self._weighted(sx * gx, sy * gy, sx * gy + sy * gx))

    def tension(self, strains):
        """Forces in the plane that the slopes' products work against."""
        parts = strains.reshape(3, -1) * self.root_weight
        return self.root.T @ parts


@lru_cache(maxsize=None)
def _membrane(items, held):
    case = dict(items)
    return Membrane({**case, "edges": dict(case["edges"])}, held)


def membrane_of(case, held):
    """One for every kind of wall."""
    kept = {key: tuple(each.items()) if isinstance(each, dict) else each
            for key, each in case.items()}
    return _membrane(tuple(kept.items()), held)


class StretchingBend(columns.Bend):
    """A wall's deflection that stretches it, too."""

    def __init__(self, wall, membrane, before=()):
        super().__init__(wall, before)
        self.membrane = membrane
        self.gx, self.gy = membrane.slopes(wall)
        old = [(membrane.slopes(w), c) for w, c in before]
        self.before_x = sum((gx @ c for (gx, _), c in old), np.zeros(len(self.gx)))
        self.before_y = sum((gy @ c for (_, gy), c in old), np.zeros(len(self.gy)))
        self.last = None

    def _slopes(self, c):
        return self.before_x + self.gx @ c, self.before_y + self.gy @ c

    def energy(self, c):
        return super().energy(c) + self.membrane.energy(*self._slopes(c))

    def _strains(self, c):
        """With their changes; force and curvature ask for the same."""
        if self.last is None or not np.array_equal(self.last[0], c):
            sx, sy = self._slopes(c)
            self.last = (c.copy(), self.membrane.strains(sx, sy),
                         self.membrane.change(sx, sy, self.gx, self.gy))
        return self.last[1:]

    def force(self, c):
        strains, change = self._strains(c)
        return super().force(c) + self.membrane.scale * change.T @ strains

    def curvature(self, c):
        strains, change = self._strains(c)
        nx, ny, nxy = self.membrane.tension(strains)
        crossed = (self.gx * nxy[:, None]).T @ self.gy
        stretched = (change.T @ change + (self.gx * nx[:, None]).T @ self.gx
                     + (self.gy * ny[:, None]).T @ self.gy + crossed + crossed.T)
        return super().curvature(c) + self.membrane.scale * stretched
