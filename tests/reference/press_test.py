#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""One press test fitted by SciPy: parameters and covariance of the squeeze law.

    python3 press_test.py            fits again and holds the stored table against it
    python3 press_test.py --write    writes fixtures/published/press_test.csv anew

thickness = free - nominal / exp(ln_b) * log(1 + pressure / exp(ln_a)), by
scipy.optimize.curve_fit with a known reading error of 0.02 mm (absolute_sigma). The readings are
made up: a law of A 0.052 MPa, B 171, free 58.63 mm, with reading errors written down once.
"""

import csv
import os
import sys

import numpy as np
from scipy.optimize import curve_fit

TABLE = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "fixtures",
                     "published", "press_test.csv")
NOMINAL_MM = 58.2
ERROR_MM = 0.02
PRESSURES_MPA = (0.010, 0.025, 0.045, 0.070, 0.100, 0.130, 0.165, 0.200)
THICKNESSES_MM = (58.56, 58.51, 58.44, 58.33, 58.27, 58.21, 58.12, 58.08)
NAMES = ("free_mm", "ln_a_mpa", "ln_b")
SAME = 1e-5  # relative, between releases of SciPy


def thickness(pressure, free, ln_a, ln_b):
    return free - NOMINAL_MM / np.exp(ln_b) * np.log1p(pressure / np.exp(ln_a))


def fitted():
    """Rows (quantity, first, second, value): readings, parameters, covariance."""
    pressures, thicknesses = np.array(PRESSURES_MPA), np.array(THICKNESSES_MM)
    best, covariance = curve_fit(thickness, pressures, thicknesses,
                                 p0=(58.6, np.log(0.06), np.log(180.0)),
                                 sigma=np.full(len(pressures), ERROR_MM), absolute_sigma=True,
                                 xtol=1e-14, ftol=1e-14, gtol=1e-14)
    rows = [("nominal", "", "", NOMINAL_MM), ("error", "", "", ERROR_MM)]
    rows += [("reading", repr(p), "", t) for p, t in zip(PRESSURES_MPA, THICKNESSES_MM)]
    rows += [("parameter", name, "", value) for name, value in zip(NAMES, best)]
    rows += [("covariance", a, b, covariance[i, j]) for i, a in enumerate(NAMES)
             for j, b in enumerate(NAMES) if j >= i]
    residuals = thicknesses - thickness(pressures, *best)
    return rows + [("sum_of_squares_mm2", "", "", float(residuals @ residuals))]


def write(rows):
    with open(TABLE, "w", encoding="utf-8", newline="") as file:
        file.write("# A press test fitted by scipy.optimize.curve_fit (tests/reference/"
                   "press_test.py); reading: pressure in MPa, value: thickness in mm.\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("quantity", "first", "second", "value"))
        writer.writerows((a, b, c, repr(float(value))) for a, b, c, value in rows)


def stored():
    with open(TABLE, encoding="utf-8", newline="") as file:
        lines = [line for line in file if not line.startswith("#")]
    return list(csv.reader(lines))[1:]


def main():
    rows = fitted()
    if sys.argv[1:] == ["--write"]:
        write(rows)
        return 0
    kept = stored()
    wrong = len(kept) != len(rows)
    for (a, b, c, value), row in zip(rows, kept):
        if (a, b, c) != tuple(row[:3]) or abs(float(row[3]) - value) > SAME * abs(value):
            print(f"stored {row}, SciPy now {a} {b} {c} {value!r}")
            wrong = True
    print("the stored table differs" if wrong else f"{len(rows)} figures as stored")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
