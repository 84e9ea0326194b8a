#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Centre deflections of plates with a large bow under even pressure, apart from the program.

For: the lines of fixtures/published/large_bow.csv whose source is "computed".
Ritz: w and the displacements in the plane are Legendre polynomials times what the sides demand,
von Karman's energy by Gauss quadrature, least over all coefficients: those in the plane by least
squares, those of w by Newton. No mesh and no element; nothing in common with the program.

    /usr/bin/python3 large_bow.py

prints each figure from two sizes of the basis. Lengths in the plane are in half sides (radii),
deflections in thicknesses h, and E = 1; the load is p a^4 / (E h^4), with a the side of a square
or the radius of a disc.
"""
import itertools

import numpy as np
from numpy.polynomial import legendre

GAUSS = 24  # points a direction: every product here is integrated exactly
SCALE = {"square": 16, "disc": 1}  # (a / half side)^4


def polynomials(count, x, odd=False):
    """The first even (or odd) Legendre polynomials at x, with two derivatives."""
    result = []
    for k in range(count):
        series = np.zeros(2 * k + odd + 1)
        series[-1] = 1
        result.append([legendre.legval(x, legendre.legder(series, d)) for d in range(3)])
    return np.array(result).transpose(1, 0, 2)  # derivative, polynomial, point


def times(shapes, factor):
    f, f1, f2 = shapes
    g, g1, g2 = factor
    return f * g, f1 * g + f * g1, f2 * g + 2 * f1 * g1 + f * g2


def factors(x):
    """What makes a shape vanish at x = 1: not at all, once, twice."""
    one, zero = np.ones_like(x), np.zeros_like(x)
    return {"free": (one, zero, zero),
            "held": (1 - x * x, -2 * x, -2 * one),
            "fixed": ((1 - x * x) ** 2, -4 * x * (1 - x * x), 12 * x * x - 4)}


def gauss():
    x, weight = legendre.leggauss(GAUSS)
    return (x + 1) / 2, weight / 2


class Plate:
    """Least energy, given bending, slopes and strains of the shapes at weighted points."""

    def __init__(self, weight, bend, load, centre, slopes, flat, strain_of, nu):
        self.root_weight = np.sqrt(weight)
        stiffness = np.array([[1, nu, 0], [nu, 1, 0], [0, 0, (1 - nu) / 2]]) / (1 - nu * nu)
        self.root = np.linalg.cholesky(stiffness).T
        self.bend, self.load, self.centre, self.slopes = bend, load, centre, slopes
        self.strain_of = strain_of
        u, s, _ = np.linalg.svd(self.weighted(flat), full_matrices=False)
        self.basis = u[:, s > 1e-11 * s[0]]
        self.c = np.zeros(len(load))

    def weighted(self, strains):
        """[3, shapes, points] to one column a shape."""
        mixed = np.einsum("rs,skp->rpk", self.root, np.array(strains))
        return (mixed * self.root_weight[:, None]).reshape(-1, mixed.shape[2])

    def rest(self, strains):
        """What displacements in the plane cannot take away."""
        return strains - self.basis @ (self.basis.T @ strains)

    def strains(self, c):
        slope = [(c @ g)[None] for g in self.slopes]
        return self.rest(self.weighted(self.strain_of(slope, slope)) / 2)[:, 0], slope

    def energy(self, c, load):
        return c @ self.bend @ c / 2 + (self.strains(c)[0] ** 2).sum() / 2 - load * (self.load @ c)

    def derivatives(self, load):
        strains, slope = self.strains(self.c)
        turn = self.weighted(self.strain_of(self.slopes, slope))
        force = np.einsum("rs,rp->sp", self.root, strains.reshape(3, -1)) * self.root_weight
        gx, gy = self.slopes
        mixed = (gx * force[2]) @ gy.T
        pull = (gx * force[0]) @ gx.T + (gy * force[1]) @ gy.T + mixed + mixed.T
        left = self.rest(turn)
        return self.bend @ self.c + turn.T @ strains - load * self.load, \
            self.bend + left.T @ left + pull

    def solve(self, load):
        for _ in range(60):
            slope, tangent = self.derivatives(load)
            step = -np.linalg.solve(tangent, slope)
            start, size = self.energy(self.c, load), 1.0
            while size > 1e-4 and self.energy(self.c + size * step, load) > start:
                size /= 2
            if size <= 1e-4 or -slope @ step < 1e-13 * abs(start):
                break
            self.c = self.c + size * step
        assert np.linalg.eigvalsh(tangent)[0] > 0
        return self.c @ self.centre


def square(bend, plane, nu, w_count, u_count):
    """A quarter, with mirrors on the axes; v is u with x and y exchanged."""
    x, weight = gauss()
    factor = factors(x)
    w = times(polynomials(w_count, x), factor[bend])
    u_x = times(polynomials(u_count, x, odd=True), factor["free" if plane == "free" else "held"])
    u_y = times(polynomials(u_count, x), factor["held" if plane == "held" else "free"])
    outer = lambda p, q: np.einsum("ip,jq->ijpq", p, q).reshape(-1, GAUSS, GAUSS)
    flat = lambda f: f.reshape(len(f), -1)
    ux, uy = outer(u_x[1], u_y[0]), outer(u_x[0], u_y[1])
    if plane == "straight":  # and each side may move as a whole
        ux = np.concatenate([ux, np.ones((1, GAUSS, GAUSS))])
        uy = np.concatenate([uy, np.zeros((1, GAUSS, GAUSS))])
    vx, vy = uy.transpose(0, 2, 1), ux.transpose(0, 2, 1)
    none = np.zeros_like(flat(ux))
    in_plane = [np.concatenate(pair) for pair in
                ((flat(ux), none), (none, flat(vy)), (flat(uy), flat(vx)))]
    points = np.outer(weight, weight).ravel()
    at = {(i, j): flat(outer(w[i], w[j])) for i, j in itertools.product(range(3), repeat=2)}
    dot = lambda f, g: (f * points) @ g.T
    xx, yy, xy = at[2, 0], at[0, 2], at[1, 1]
    bending = (dot(xx, xx) + dot(yy, yy) + nu * (dot(xx, yy) + dot(yy, xx))
               + 2 * (1 - nu) * dot(xy, xy)) / (12 * (1 - nu * nu))
    middle = polynomials(w_count, np.zeros(1))[0][:, 0]
    strain_of = lambda g, s: [g[0] * s[0], g[1] * s[1], g[0] * s[1] + g[1] * s[0]]
    return Plate(points, bending, (at[0, 0] * points).sum(axis=1), np.outer(middle, middle).ravel(),
                 [at[1, 0], at[0, 1]], in_plane, strain_of, nu)


def disc(bend, plane, nu, w_count, u_count):
    """All round alike: strains along the radius and around it. Fixed at its rim."""
    assert bend == "fixed"
    r, weight = gauss()
    factor = factors(r)
    w, w1, w2 = times(polynomials(w_count, r), factor["fixed"])
    u, u1, _ = times(polynomials(u_count, r, odd=True), factor[plane])
    points = weight * r
    curved = w2 + w1 / r
    bending = (curved * points) @ curved.T / (12 * (1 - nu * nu))
    strain_of = lambda g, s: [g[0] * s[0], 0 * g[0], 0 * g[0]]
    return Plate(points, bending, (w * points).sum(axis=1),
                 polynomials(w_count, np.zeros(1))[0][:, 0], [w1, 0 * w1], [u1, u / r, 0 * u],
                 strain_of, nu)


CASES = [
    (square, "fixed", "sliding", 0.316, (17.79, 38.3, 63.4, 95, 134.9, 184, 245, 318, 402)),
    (square, "fixed", "held", 0.3, (20, 50, 100, 200, 400)),
    (square, "fixed", "free", 0.3, (20, 50, 100, 200, 400)),
    (square, "held", "straight", 0.316, (12.1, 29.4, 56.9, 99.4, 161, 247, 358, 497)),
    (square, "held", "sliding", 0.316, (12.1, 56.9, 161, 497)),
    (square, "held", "held", 0.3, (10, 20, 50, 100, 200)),
    (square, "held", "free", 0.3, (10, 20, 50, 100, 200)),
    (disc, "fixed", "held", 0.3, (1, 4, 8, 16, 32)),
    (disc, "fixed", "free", 0.3, (1, 4, 8, 16, 32)),
]


def main():
    for make, bend, plane, nu, loads in CASES:
        plates = [make(bend, plane, nu, *sizes) for sizes in ((6, 9), (8, 11))]
        for load in loads:
            found = [plate.solve(load / SCALE[make.__name__]) for plate in plates]
            print(make.__name__, bend, plane, nu, load, *(f"{w:.4f}" for w in found), sep=",",
                  flush=True)


if __name__ == "__main__":
    main()
