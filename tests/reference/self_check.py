# SPDX-License-Identifier: GPL-3.0-or-later
"""The reference's own parts held against the published tables, before it judges the program.

Not the program: everything here is checked without running it.
"""

import json
import os
from types import SimpleNamespace as Record

import numpy as np

import columns
import laws
import pressure_reference
import rods
import row_columns
import stretching

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
    row.growth = row.expansion = 0.0
    row.cells = [Record(edge=t, charge=case["measured_at"], temperature=20.0)
                 for t in case["cells_mm"]]
    # A smaller sheet of one column gives more.
    row.sheets = [Record(thickness=t, count=1, expansion=0.0, law=laws.Linear(e * share))
                  for t, e, share in case["hard_sheets"]]
    pads = [Record(thickness=t, count=1, expansion=0.0,
                   law=laws.Curve(foam["eps"], foam["sigma_mpa"])) for t in case["foam_mm"]]
    row._pads = lambda stiff: pads
    row.box = Record(length=case["inner_length_mm"], expansion=0.0,
                     give=2 * case["wall_mm_per_n"] + case["side_mm_per_n"])
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
        mean, middle = unit_plate(row["edges"], height, (u, v))
        yield close(mean, float(row["avg_patch"]), 5e-4)
        yield close(middle, float(row["w_centre"]), 5e-4)


def plates(published):
    """plates.csv: the whole plate pressed; deflection in the middle over q a^4 / D."""
    for row in laws.read_csv(os.path.join(published, "plates.csv")):
        if (row["point"], row["quantity"]) == ("centre", "alpha"):
            height = float(row["b_over_a"])
            middle = unit_plate(row["edges"], height, (1.0, height))[1]
            yield close(middle * height, float(row["value"]), 5e-4)


SIDE_MM = 100.0  # of a plate 1 wide, so that the face's grid is as fine as a cell's


def unit_plate(letters, height, size):
    """(mean over the patch, middle) of a plate of width 1, D = 1, nu = 0.3 under a unit force."""
    edges = dict(zip(("left", "right", "bottom", "top"), (EDGE[each] for each in letters)))
    plate = {"width_mm": SIDE_MM, "height_mm": height * SIDE_MM, "thickness_mm": 1.0,
             "poisson": 0.3, "modulus_mpa": 12 * (1 - 0.3**2), "edges": edges}
    corner = (SIDE_MM * (1.0 - size[0]) / 2, SIDE_MM * (height - size[1]) / 2)
    face = row_columns.Face(corner, (SIDE_MM * size[0], SIDE_MM * size[1]), 0.0)
    return [bow / SIDE_MM**2 for bow in row_columns.bow_of_even_force(plate, face)]


def rubber(published):
    wanted = laws.read_csv(os.path.join(published, "rubber_and_foam.csv"))[0]
    return close(laws.rubber_modulus(2.2, 0.73, 1030, 100 * 60, 320, 4), float(wanted["value"]),
                 1e-7)


def domes():
    """The mean of a dome without slack is (8/15)^2 of it; with it, against a plain midpoint sum."""
    face = row_columns.Face((0.0, 0.0), (141.0, 183.0), 0.0)
    points = (np.arange(2000) + 0.5) / 2000
    shape = np.outer((1 - points**2) ** 2, (1 - points**2) ** 2)
    mean = lambda field: face.mean(field, np.ones_like(field))
    return (close(mean(face.phi()), (8 / 15) ** 2, 1e-9)
            and close(mean(np.maximum(0, 0.5 * face.phi() - 0.3)),
                      np.maximum(0, 0.5 * shape - 0.3).mean(), 1e-3))


def series():
    """Tabled laws against the laws one by one."""
    parts = [(467.2, laws.ExponentialCell(0.06, 180.0)), (12.0, laws.grade_curve(3, False)),
             (12.0, laws.grade_curve(2, True).settled(0.6, 0.0)), (9.0, laws.Linear(1e4))]
    table = row_columns.SeriesLaw(parts)
    for stress in (1e-4, 0.003, 0.04, 0.11, 0.5, 0.999, 1.2):
        squeeze = sum(length * law.strain(stress) for length, law in parts)
        yield close(float(table.pressure(squeeze)), stress, 1e-7)
        slope = (table.energy(squeeze + 1e-4) - table.energy(squeeze - 1e-4)) / 2e-4
        yield close(float(slope), stress, 1e-4)


def large_bows(published):
    """large_bow.csv, square plates under even pressure, from another Ritz's method."""
    for line in laws.read_csv(os.path.join(published, "large_bow.csv")):
        asked = line["source"] == "computed" and line["plane"] in ("held", "free")
        if asked and line["shape"] == "square" and 0.5 < float(line["w_over_h"]) < 1.3:
            yield close(square_bow(line), float(line["w_over_h"]), 1e-3)


def square_bow(line):
    """Bow in the middle of a square of side 100, h = E = 1, by Newton in steps of the load."""
    plate = {"width_mm": 100.0, "height_mm": 100.0, "thickness_mm": 1.0, "modulus_mpa": 1.0,
             "poisson": float(line["poisson"]),
             "edges": dict.fromkeys(("left", "right", "bottom", "top"), line["bend"])}
    wall = columns.Wall(plate, 9)
    bend = stretching.StretchingBend(
        wall, stretching.membrane_of(plate, line["plane"] == "held"))
    face = row_columns.Face((0.0, 0.0), (100.0, 100.0), 0.0)
    push = (wall.x.at(face.x).T @ face.weights @ wall.y.at(face.y)).ravel()
    c = np.zeros(wall.size)
    for load in np.linspace(0, float(line["load"]) / 100.0**4, 4)[1:]:
        for _ in range(6):
            c = c - np.linalg.solve(bend.curvature(c), bend.force(c) - load * push)
    middle = np.array([50.0])
    return float(bend.deflection(c, middle, middle)[0, 0])


def discs(published):
    """disc_springs.csv, those without contact flats, against its own formula's figures."""
    for row in laws.read_csv(os.path.join(published, "disc_springs.csv")):
        if not row["t_reduced"]:
            force = rods.disc_force(*(float(row[key]) for key in ("De", "Di", "t", "h0", "s")))
            yield close(float(force), float(row["F_formula"]), 1e-6)


def frame():
    """Rods and springs brought to a force: in series, and the slope is that of the energy."""
    disc = {"outer": 20.0, "inner": 10.2, "thickness": 1.1, "cone": 0.45,
            "parallel": 2, "series": 8}
    ties = rods.Rods(4, 5e-5, disc, 3000.0)
    yield close(ties.pull(0.0), 3000.0, 1e-5)
    each = rods.disc_force(20.0, 10.2, 1.1, 0.45, np.array([0.2, 0.25]))
    forces = 4 * 2 * each
    given = 8 * np.array([0.2, 0.25]) + forces / 4 * 5e-5
    start = ties.offset
    yield all(close(ties.pull(u - start), force, 1e-5) for u, force in zip(given, forces))
    yield close((ties.energy(0.1001) - ties.energy(0.0999)) / 2e-4, ties.pull(0.1), 1e-6)
    yield ties.pull(-start - 0.1) == 0.0


def every(checks):
    checks = list(checks)
    return bool(checks) and all(checks)


def failed(source_dir):
    """Names of the checks that fail; empty when the reference may judge."""
    published = os.path.join(source_dir, "fixtures", "published")
    checks = {"stack_cases.json": stack_cases(published),
              "swelling_layer.csv": layer_law(published),
              "plate_patch.csv": every(patches(published)),
              "plates.csv": every(plates(published)),
              "rubber_and_foam.csv": rubber(published),
              "mean of a dome": domes(),
              "laws in series": every(series()),
              "large_bow.csv": every(large_bows(published)),
              "disc_springs.csv": every(discs(published)),
              "rods and springs": every(frame())}
    return [name for name, good in checks.items() if not good]
