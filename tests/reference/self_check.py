# SPDX-License-Identifier: GPL-3.0-or-later
"""The reference's own parts held against the published tables, before it judges the program.

Not the program: everything here is checked without running it.
"""

import json
import os
from types import SimpleNamespace as Record

import numpy as np

import laws
import pressure_reference
from plate_give import plate_give

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
        mean, middle = plate_give(1.0, height, 1.0, 0.3, [EDGE[e] for e in row["edges"]],
                                  ((0.5 - u / 2, 0.5 + u / 2),
                                   (height / 2 - v / 2, height / 2 + v / 2)))
        yield close(mean, float(row["avg_patch"]), 1e-4)
        yield close(middle, float(row["w_centre"]), 1e-4)


def plates(published):
    """plates.csv: the whole plate pressed; deflection in the middle over q a^4 / D."""
    for row in laws.read_csv(os.path.join(published, "plates.csv")):
        if (row["point"], row["quantity"]) == ("centre", "alpha"):
            height = float(row["b_over_a"])
            middle = plate_give(1.0, height, 1.0, 0.3, [EDGE[e] for e in row["edges"]],
                                ((0.0, 1.0), (0.0, height)))[1]
            yield close(middle * height, float(row["value"]), 1e-4)


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
              "rubber_and_foam.csv": rubber(published),
              "mean of a dome": domes()}
    return [name for name, good in checks.items() if not good]
