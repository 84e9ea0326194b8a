# SPDX-License-Identifier: GPL-3.0-or-later
"""The reference's own parts held against the published tables, before it judges the program.

Not the program: everything here is checked without running it.
"""

import json
import os
from types import SimpleNamespace as Record

import numpy as np
from numpy.polynomial import Legendre

import laws
import pressure_reference
from plate_give import Plate

EDGE = {"S": "held", "C": "fixed", "F": "free"}


def close(found, wanted, tolerance):
    return abs(found - wanted) <= tolerance * max(abs(wanted), 1e-9)


def stack_case(case, foam, swing):
    """stack_cases.json: the series stack itself, solved there with SciPy to 1e-15."""
    row = pressure_reference.Reference.__new__(pressure_reference.Reference)
    row.area, _ = pressure_reference.rounded_rectangle(
        case["face_width_mm"], case["face_height_mm"], case["corner_radius_mm"])
    row.nominal, row.count = case["nominal_mm"], len(case["cells_mm"])
    row.squeeze = laws.ExponentialCell(case["squeeze_a_mpa"], case["squeeze_b"])
    row.swing_charge, row.swing = np.array(swing["charge"]), np.array(swing["percent"]) / 100
    row.growth = row.expansion = row.wall_expansion = 0.0
    row.cells = [Record(mean=t, charge=case["measured_at"], temperature=20.0)
                 for t in case["cells_mm"]]
    row.sheets = [Record(thickness=t, count=1, expansion=0.0, law=laws.Linear(e),
                         area=share * row.area) for t, e, share in case["hard_sheets"]]
    pads = [Record(thickness=t, count=1, expansion=0.0, area=row.area,
                   law=laws.Curve(foam["eps"], foam["sigma_mpa"])) for t in case["foam_mm"]]
    row._pads = lambda stiff: pads
    row.length = case["inner_length_mm"]
    row.give = 2 * case["wall_mm_per_n"] + case["side_mm_per_n"]
    for wanted in case["results"]:
        force, loose = row.force(row.interference(wanted["charge"], 20.0, 0.0), pads)
        yield close(force, wanted["force_n"], 1e-9) and \
            abs(loose - wanted["loose_by_mm"]) < 1e-9


def stack_cases(published):
    with open(os.path.join(published, "stack_cases.json"), encoding="utf-8") as file:
        table = json.load(file)
    return all(all(stack_case(case, table["foam"], table["swing"])) for case in table["cases"])


def layer_law(published):
    charge, change = laws.layer(published, "LFP")
    return all(abs(np.interp(float(r["charge"]), charge, change) * 100 - float(r["percent"])) < 6e-4
               for r in laws.read_csv(os.path.join(published, "swelling_layer.csv"), "charge"))


def patches(published):
    """plate_patch.csv: a patch in the middle of the plate, side a = 1, D = 1."""
    for row in laws.read_csv(os.path.join(published, "plate_patch.csv")):
        height, u, v = (float(row[key]) for key in ("b_over_a", "u_over_a", "v_over_a"))
        mean, middle = Plate(1.0, height, 1.0, 0.3, [EDGE[e] for e in row["edges"]],
                             ((0.5 - u / 2, 0.5 + u / 2),
                              (height / 2 - v / 2, height / 2 + v / 2))).even()
        yield close(mean, float(row["avg_patch"]), 1e-4)
        yield close(middle, float(row["w_centre"]), 1e-4)


def plates(published):
    """plates.csv: the whole plate pressed; deflection in the middle over q a^4 / D."""
    for row in laws.read_csv(os.path.join(published, "plates.csv")):
        if (row["point"], row["quantity"]) == ("centre", "alpha"):
            height = float(row["b_over_a"])
            middle = Plate(1.0, height, 1.0, 0.3, [EDGE[e] for e in row["edges"]],
                           ((0.0, 1.0), (0.0, height))).even()[1]
            yield close(middle * height, float(row["value"]), 1e-4)


# --- A plate pressed by a springy row -----------------------------------------------------

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


def two_discretisations():
    """Splines against polynomials, for every joint, with soft to stiff rows."""
    for sides in ("held", "fixed"):
        plate = (*WALL, (sides, sides, sides, "free"), FACE_ON_WALL)
        splines, polynomials = Plate(*plate), PolynomialPlate(*plate)
        for k in (0.01 * ROW_MPA_PER_MM, ROW_MPA_PER_MM, 10 * ROW_MPA_PER_MM):
            yield close(splines.two_and_springs(k), polynomials.two_and_springs(k), 2e-5)


def limits_of_the_row():
    """A row without stiffness presses evenly; the stiffer it is, the less the walls give."""
    for sides in ("held", "fixed"):
        plate = Plate(*WALL, (sides, sides, sides, "free"), FACE_ON_WALL)
        yield close(plate.two_and_springs(1e-9), 2 * plate.even()[0], 1e-6)
        gives = [plate.two_and_springs(ROW_MPA_PER_MM * 10.0**n) for n in range(-2, 3)]
        yield all(softer > stiffer for softer, stiffer in zip(gives, gives[1:]))


def navier():
    """All edges held, the whole plate pressed: each double sine by itself."""
    width, height, stiffness, nu = WALL
    n = np.arange(1, 1200, 2)
    wave = (n[:, None] / width) ** 2 + (n / height) ** 2
    volume = (4 * width * height / (np.pi**2 * np.outer(n, n))) ** 2 / (width * height / 4)
    for k in (0.01 * ROW_MPA_PER_MM, ROW_MPA_PER_MM, 10 * ROW_MPA_PER_MM):
        bow = float((volume / (stiffness * np.pi**4 * wave**2 + 2 * k)).sum())
        area = width * height
        wanted = 2 * bow / area / (area - 2 * k * bow)
        plate = Plate(*WALL, ("held",) * 4, ((0.0, width), (0.0, height)))
        yield close(plate.two_and_springs(k), wanted, 2e-5)


def rubber(published):
    wanted = laws.read_csv(os.path.join(published, "rubber_and_foam.csv"))[0]
    return close(laws.rubber_modulus(2.2, 0.73, 1030, 100 * 60, 320, 4), float(wanted["value"]),
                 1e-7)


def domes():
    """The mean of the full dome is (8/15)^2 of it; slack against a plain midpoint sum."""
    points = (np.arange(2000) + 0.5) / 2000
    shape = np.outer((1 - points**2) ** 2, (1 - points**2) ** 2)
    return (close(laws.mean_bulge(0.4, 0.0), 0.4 * (8 / 15) ** 2, 1e-9)
            and close(laws.mean_bulge(-0.2, 0.0), -0.2 * (8 / 15) ** 2, 1e-9)
            and close(laws.mean_bulge(0.5, 0.3), np.maximum(0, 0.5 * shape - 0.3).mean(), 1e-5))


def failed(source_dir):
    """Names of the checks that fail; empty when the reference may judge."""
    published = os.path.join(source_dir, "fixtures", "published")
    checks = {"stack_cases.json": stack_cases(published),
              "swelling_layer.csv": layer_law(published),
              "plate_patch.csv": all(patches(published)),
              "plates.csv": all(plates(published)),
              "springy row, two discretisations": all(two_discretisations()),
              "springy row, soft and stiff": all(limits_of_the_row()),
              "springy row, Navier": all(navier()),
              "rubber_and_foam.csv": rubber(published),
              "mean of a dome": domes()}
    return [name for name, good in checks.items() if not good]
