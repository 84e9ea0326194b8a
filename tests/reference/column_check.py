#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""columns.py held against closed forms, published plates, another plate, and against itself.

    python3 column_check.py       exit status 1 when anything is off

Not the stored cases (column_cases.py) and not the program: everything here is checked without both.
"""

import copy
import csv
import math
import os
import sys

import numpy as np
from numpy.polynomial import Legendre

import columns
from column_cases import cells, foam, rectangle, row, wall
from columns import ColumnLaw, CellLaw, Fineness, PadLaw, SheetLaw, Wall, solve_case
from plate_give import Plate

PUBLISHED = os.path.join(os.path.dirname(os.path.abspath(__file__)),
                         "..", "..", "fixtures", "published")
LETTERS = {"S": "held", "C": "fixed", "F": "free"}
FACE = rectangle(4, 3, 140, 110)
SMALL = Fineness(terms=14, longest_mm=12.0, points=6, even=121)
RIGID_MM = 400.0  # a wall so thick that it does not bend


class Report:
    def __init__(self):
        self.held = True

    def near(self, what, found, wanted, relative):
        off = abs(found - wanted) / max(abs(wanted), 1e-12)
        good = off <= relative
        self.held &= good
        print(f"{'' if good else 'NOT WITHIN %g: ' % relative}{what}: {found:.8g}, {wanted:.8g}")


def built(walls, rows, fineness=SMALL, **more):
    wall_a, wall_b = walls if isinstance(walls, tuple) else (walls, walls)
    return solve_case({"wall_a": wall_a, "wall_b": wall_b, "rows": rows, **more}, fineness)


# --- Plates ------------------------------------------------------------------------------


def published_plates(report):
    """plates.csv: deflection under uniform load, alpha = w D/(q a^4), nu 0.3."""
    points = {"centre": (0.5, 0.5), "free_edge_mid": (0.5, 1.0)}
    with open(os.path.join(PUBLISHED, "plates.csv"), encoding="utf-8") as file:
        lines = list(csv.DictReader(line for line in file if not line.startswith("#")))
    for line in lines:
        if line["quantity"] != "alpha" or line["point"] not in points:
            continue
        ratio = float(line["b_over_a"])
        plate = Wall({"width_mm": 1.0, "height_mm": ratio, "thickness_mm": 1.0, "poisson": 0.3,
                      "modulus_mpa": 12 * (1 - 0.3**2),
                      "edges": dict(zip(("left", "right", "bottom", "top"),
                                        (LETTERS[each] for each in line["edges"])))}, 20)
        x, y = points[line["point"]]
        report.near(f"plate {line['edges']} {ratio} {line['point']}",
                    under_uniform_load(plate, x, y * ratio), float(line["value"]), 1e-4)


def under_uniform_load(plate, x, y):
    nodes, weights = np.polynomial.legendre.leggauss(24)
    mean_x = plate.x.at((nodes + 1) / 2 * plate.width).T @ weights * plate.width / 2
    mean_y = plate.y.at((nodes + 1) / 2 * plate.height).T @ weights * plate.height / 2
    bow = np.linalg.solve(plate.stiffness(), np.kron(mean_x, mean_y))
    return float(np.kron(plate.x.at([x])[0], plate.y.at([y])[0]) @ bow)


def another_plate(report):
    """A linear row between two walls by B-splines (plate_give.py), pressed all over."""
    for edges in ("fffo", "hhfh", "fhff"):
        plate = wall(148, 124, 2.5, edges)
        splines = Plate(148, 124, Wall(plate, 3).rigidity, 0.33, tuple(plate["edges"].values()),
                        ((4, 144), (3, 113)))
        give, area = 10.8, 140 * 110
        one = splines.two_and_springs(1 / give) + give / area
        linear = cells(1, 1e-6, a=1.0, b=1.0)
        found = built(plate, [row(FACE, linear, 2.0, sheets=give)], Fineness(terms=22))
        report.near(f"linear row, {edges}, force", found["built"]["force_n"], 2.0 / one, 2e-5)


# --- The other plate, pressed by a springy row ---------------------------------------------

class Polynomials:
    """Legendre polynomials over the whole side, times what holds them at its ends."""

    DEGREE = 20

    def __init__(self, side, patch, ends):
        power = {"fixed": 2, "held": 1, "free": 0}
        hold = (Legendre.basis(1) + 1) ** power[ends[0]] * (1 - Legendre.basis(1)) ** power[ends[1]]
        self.side, self.patch = side, [2 * x / side - 1 for x in patch]
        self.functions = [hold * Legendre.basis(n) for n in range(self.DEGREE)]

    def _values(self, order, low, high):
        t, weight = np.polynomial.legendre.leggauss(self.DEGREE + 5)
        t, weight = low + (high - low) * (1 + t) / 2, weight * (high - low) * self.side / 4
        scale = (2 / self.side) ** order
        return np.array([scale * (f.deriv(order) if order else f)(t) for f in self.functions]), weight

    def products(self):
        weight = self._values(0, -1, 1)[1]
        values = [self._values(order, -1, 1)[0] for order in range(3)]
        return {(i, j): (values[i] * weight) @ values[j].T for i in range(3) for j in range(3)}

    def over_patch(self):
        values, weight = self._values(0, *self.patch)
        return values @ weight, (values * weight) @ values.T

    def at(self, place):
        return np.array([f(2 * place / self.side - 1) for f in self.functions])


class PolynomialPlate(Plate):
    SIDE = Polynomials


# A wall of 2 mm aluminium, 165 by 214, a face of 141 by 183 on the floor in the middle.
WALL = (165.0, 214.0, 52000.0, 0.33)
FACE_ON_WALL = ((12.0, 153.0), (0.0, 183.0))
ROW_MPA_PER_MM = 0.06


def splines_alone(report):
    """plate_give.py: splines against polynomials, for every joint, with soft to stiff rows."""
    for sides in ("held", "fixed"):
        plate = (*WALL, (sides, sides, sides, "free"), FACE_ON_WALL)
        splines, polynomials = Plate(*plate), PolynomialPlate(*plate)
        # A row without stiffness presses evenly.
        report.near(f"springy row, {sides}, soft", splines.two_and_springs(1e-9),
                    2 * splines.even()[0], 1e-6)
        for k in (0.01 * ROW_MPA_PER_MM, ROW_MPA_PER_MM, 10 * ROW_MPA_PER_MM):
            report.near(f"springy row, {sides}, {k} MPa/mm", splines.two_and_springs(k),
                        polynomials.two_and_springs(k), 2e-5)


def navier(report):
    """All edges held, the whole plate pressed by a springy row: each double sine by itself."""
    width, height, stiffness, _ = WALL
    n = np.arange(1, 1200, 2)
    wave = (n[:, None] / width) ** 2 + (n / height) ** 2
    volume = (4 * width * height / (np.pi**2 * np.outer(n, n))) ** 2 / (width * height / 4)
    plate = Plate(*WALL, ("held",) * 4, ((0.0, width), (0.0, height)))
    for k in (0.01 * ROW_MPA_PER_MM, ROW_MPA_PER_MM, 10 * ROW_MPA_PER_MM):
        bow = float((volume / (stiffness * np.pi**4 * wave**2 + 2 * k)).sum())
        area = width * height
        report.near(f"springy row, Navier, {k} MPa/mm", plate.two_and_springs(k),
                    2 * bow / area / (area - 2 * k * bow), 2e-5)


# --- Laws --------------------------------------------------------------------------------


def laws(report):
    parts = [CellLaw(cells(6, 30.0)), SheetLaw(0.02), PadLaw(foam(4.0, 0.05))]
    pressures = np.array([1e-5, 1e-3, 0.02, 0.1, 0.2, 0.449, 0.451, 0.8, 0.9999, 1.0001, 3.0])
    for name, law in (("cells", ColumnLaw(parts[:1])), ("all", ColumnLaw(parts))):
        squeeze = law.squeeze(pressures)
        worst = np.max(np.abs(law.pressure(squeeze) / pressures - 1))
        report.near(f"law of {name}: pressure at its squeeze, worst", 1 + worst, 1.0, 1e-11)
        step = 1e-5
        slope = (law.energy(squeeze + step) - law.energy(squeeze - step)) / (2 * step)
        worst = np.max(np.abs(slope / pressures - 1))
        report.near(f"law of {name}: slope of the energy, worst", 1 + worst, 1.0, 2e-4)
    eps = np.linspace(0, 0.012, 7)
    p = ColumnLaw(parts[:1]).pressure(180.0 * eps)
    formula = 0.06 * np.expm1(180 * eps)
    # p = A (exp(B eps) - 1) up to 1 MPa, then B (1 + A) per strain.
    start = math.log1p(1 / 0.06) / 180
    formula = np.where(formula > 1, 1 + 180 * 1.06 * (eps - start), formula)
    report.near("cell law itself, worst", 1 + np.max(np.abs(p - formula)), 1.0, 1e-12)


# --- Rows --------------------------------------------------------------------------------


def one_column(report):
    """Walls that do not bend: every column alike."""
    stiff = wall(148, 124, RIGID_MM)
    area, length = 140 * 110, 6 * 30.0
    found = built(stiff, [row(FACE, cells(6, 30.0), 0.7)])["built"]
    force = 0.06 * math.expm1(180 * 0.7 / length) * area
    report.near("rigid walls, force", found["force_n"], force, 3e-5)
    give = 2e-4
    found = built(stiff, [row(FACE, cells(6, 30.0), 0.7)], tie_give_mm_per_n=give)["built"]
    u = found["length_gain_mm"]
    force = 0.06 * math.expm1(180 * (0.7 - u) / length) * area
    report.near("rigid walls and ties, force at its squeeze", found["force_n"], force, 3e-5)
    report.near("rigid walls and ties, length", u, found["force_n"] * give, 1e-9)
    dome = [(1.0, 0.0)]
    linear = cells(1, 1e-6, dome, a=1.0, b=1.0)
    found = built(stiff, [row(FACE, linear, 0.0, sheets=20.0)], Fineness())["built"]
    # Mean of ((1 - s^2)^2) over [-1, 1] is 8/15.
    report.near("rigid walls, linear dome", found["force_n"], (8 / 15)**2 / 20 * area, 3e-5)


def gradient(report):
    """The gradient is the energy's, the Hessian the gradient's."""
    given = row(FACE, cells(6, 30.0, [(0.5, 0.15)]), 0.8, pads=[foam(3.0, 0.1)])
    coarse = Fineness(terms=5, longest_mm=30.0, points=4)
    walls = [columns.Bend(Wall(wall(148, 124, t), coarse.terms)) for t in (2.5, 4)]
    stage = columns.Stage(walls, columns.Ties(1e-4), [(columns.pieces_of(given), 0.8)], coarse)
    generator = np.random.default_rng(3)
    z, way = generator.normal(size=(2, stage.size)) * 0.3
    slope, hessian = stage.gradient_and_hessian(z)
    step = 1e-5
    rise = (stage.energy(z + step * way) - stage.energy(z - step * way)) / (2 * step)
    report.near("slope of the row's energy", slope @ way, rise, 1e-6)
    after, before = (stage.gradient_and_hessian(z + s * step * way)[0] for s in (1, -1))
    report.near("curvature of the row's energy", way @ hessian @ way,
                way @ (after - before) / (2 * step), 1e-5)


def symmetries(report):
    face = rectangle(10, 3, 90, 100)
    strip = rectangle(10, 3, 40, 100)
    given = row(face, cells(6, 30.0, [(0.4, 0.1)]), 1.2, pads=[foam(3.0, 0.1, strip, 0.8)])
    thin, other = wall(148, 124, 2.5, "fhfo"), wall(148, 124, 4, "hhfh")
    one = built((thin, other), [given])["built"]
    two = built((other, thin), [given])["built"]
    report.near("walls exchanged, force", two["force_n"], one["force_n"], 1e-9)
    report.near("walls exchanged, bow", two["wall_b_greatest_mm"], one["wall_a_greatest_mm"], 1e-9)
    turned = copy.deepcopy(given)
    turned["face"]["x_mm"] = 148 - 100
    turned["pads"][0]["patch"]["x_mm"] = 148 - 50
    mirror = built((wall(148, 124, 2.5, "hffo"), other), [turned])["built"]
    report.near("left and right exchanged, force", mirror["force_n"], one["force_n"], 1e-9)
    report.near("left and right exchanged, centre of pressure",
                148 - mirror["rows"][0]["centre_of_pressure_x_mm"],
                one["rows"][0]["centre_of_pressure_x_mm"], 1e-9)
    flat = cells(6, 30.0)
    whole = built(thin, [row(FACE, flat, 1.0)])["built"]["force_n"]
    halves = built(thin, [row(rectangle(4, 3, 70, 110), flat, 1.0),
                          row(rectangle(74, 3, 70, 110), flat, 1.0)])["built"]["force_n"]
    report.near("one face as two rows, force", halves, whole, 1e-8)


def stages(report):
    given = row(FACE, cells(6, 30.0), 0.6)
    open_wall, closed_wall = wall(148, 124, 2.5), wall(148, 124, 2.5, "fffh")
    lid = {"lid_holds_top": True, "interference_mm": [0.6]}
    both = built(open_wall, [given], closed=lid, tie_give_mm_per_n=1e-4)
    report.near("a lid alone changes nothing, force", both["closed"]["force_n"],
                both["built"]["force_n"], 1e-8)
    loose = {**given, "interference_mm": -0.1}
    later = built(open_wall, [loose], closed={**lid, "interference_mm": [1.1]})["closed"]
    held = built(closed_wall, [{**given, "interference_mm": 1.1}],
                 Fineness(14, 12.0, 6, 121))["built"]
    report.near("built loose, then a lid: as held from the start, force", later["force_n"],
                held["force_n"], 1e-4)
    framed = built(wall(148, 124, 10, "hhoo"), [given], frame_force_n=900.0,
                   tie_give_mm_per_n=1e-5, closed={"interference_mm": [0.9]})
    report.near("a frame's force", framed["built"]["force_n"], 900.0, 1e-9)
    longer = framed["closed"]["length_gain_mm"] - framed["built"]["length_gain_mm"]
    report.near("a frame's rods afterwards", framed["closed"]["force_n"], 900 + longer / 1e-5, 1e-8)


def refining(report):
    given = [row(FACE, cells(6, 30.0, [(0.6, 0.15)] * 2), 0.6)]
    coarse = built(wall(148, 124, 2.5), given, SMALL)["built"]["force_n"]
    fine = built(wall(148, 124, 2.5), given, Fineness(24, 8.0, 6))["built"]["force_n"]
    report.near("14 polynomials and 24, force", coarse, fine, 1e-4)


def main():
    report = Report()
    for check in (published_plates, another_plate, splines_alone, navier, laws, one_column,
                  gradient, symmetries, stages, refining):
        check(report)
    print("all held" if report.held else "NOT ALL HELD")
    return 0 if report.held else 1


if __name__ == "__main__":
    sys.exit(main())
