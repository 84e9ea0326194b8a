#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Centre deflections of ribbed plates held at all four sides, by double sine series.

For: the lines of fixtures/published/ribbed_plates.csv. No mesh and no element: the plate's energy
is Navier's (S. Timoshenko, S. Woinowsky-Krieger, "Theory of Plates and Shells", ch. 5), and a bar
along x at y0 adds EI/2 times the integral of w,xx^2 there (Rayleigh-Ritz). The half waves along x
stay apart, those along y are solved together.

    /usr/bin/python3 ribbed_plates.py

recomputes every line of the table and fails where one is off; without a table it prints it.

The square has side 1 and D = 1, nu = 0.3, an even pressure 1; gamma = EI / (D side).
    alpha    w at the middle
    moment   w,xx at the middle, without its sign
A bar that stands on one side of the plate and is joined to it all along (`eccentric`) pulls the
plate along in its plane: displacements u ~ cos sin and v ~ sin cos, sides free to move across
themselves. Its energy is EA/2 times the integral of (u,x - e w,xx)^2, plus that of EI. From the
same solution comes the width of plate that, bending with the bar as one piece, would give the same
pull: `flange`, over the side, for the first half wave.
"""
import csv
import pathlib
import sys

import numpy as np
from scipy import linalg

NU = 0.3
WAVES = 201  # half waves a direction, the odd ones
TABLE = pathlib.Path(__file__).resolve().parents[2] / "fixtures/published/ribbed_plates.csv"
FIELDS = ["bars", "gamma", "stretch", "lever", "quantity", "value"]


def odd():
    return np.arange(1, WAVES + 1, 2)


def sheet_give(m, at, stretch_unit, depth=1):
    """u,x at the line y0 over a line pull N sin(m pi x) there: the sheet's give in its plane.

    Plane stress of a sheet with E t = stretch_unit, 1 wide and so deep; for each wave along y the
    two displacements follow from equilibrium."""
    n = np.arange(1, 4001 * depth)
    p, q = m * np.pi, n * np.pi / depth
    c = stretch_unit / (1 - NU * NU)
    a11 = c * (p * p + (1 - NU) / 2 * q * q)
    a12 = c * (NU + (1 - NU) / 2) * p * q
    a22 = c * (q * q + (1 - NU) / 2 * p * p)
    # A strain e = -p u sin(m pi x) sin(n pi y0): force on u is -p sin(n pi y0) per unit pull.
    force = p * np.sin(q * at)
    u = 2 / depth * force * a22 / (a11 * a22 - a12 * a12)
    return np.sum(u * force)


def bar_stiffness(m, bar):
    """EI of one bar for one half wave, with what it pulls along of the plate."""
    at, bending, stretch, lever, sheet = bar
    if not stretch:
        return bending
    give = sheet_give(m, at, sheet)
    return bending + lever * lever / (1 / stretch + give)


def deflection(bars):
    """Coefficients w[m, n] under an even pressure 1; bars: (y0, EI, EA, lever, E t of the plate)."""
    waves = odd()
    result = np.zeros((len(waves), len(waves)))
    for row, m in enumerate(waves):
        plate = (np.pi ** 4 * (m * m + waves ** 2.0) ** 2) / 4
        stiffness = np.diag(plate)
        for bar in bars:
            shape = np.sin(waves * np.pi * bar[0])
            stiffness += bar_stiffness(m, bar) * (m * np.pi) ** 4 / 2 * np.outer(shape, shape)
        load = 4 / (m * np.pi * waves * np.pi)
        result[row] = linalg.solve(stiffness, load, assume_a="pos")
    return result


def at_middle(w, quantity):
    waves = odd()
    sign = np.sin(waves * np.pi / 2)
    weight = np.ones_like(waves, dtype=float) if quantity == "alpha" else (waves * np.pi) ** 2.0
    return float((sign * weight) @ w @ sign)


def places(bars):
    return [(k + 1) / (bars + 1) for k in range(bars)]


def value(line):
    """Bars in even places along x; stretch: EA over E t times the side; lever over the side.

    E t of the plate follows from its thickness, 1/100 of the side: 12 (1 - nu^2) / 100^-2."""
    sheet = 12 * (1 - NU * NU) * 100 ** 2
    stretch = float(line["stretch"]) * sheet
    lever = float(line["lever"])
    bars = [(y, float(line["gamma"]), stretch, lever, sheet) for y in places(int(line["bars"]))]
    if line["quantity"] == "flange":
        # One piece: 1/stiffness of the pull = 1/EA + 1/(E t b).
        return 1 / (sheet_give(1, bars[0][0], sheet) * sheet)
    return at_middle(deflection(bars), line["quantity"])


def lines():
    for bars, gammas in ((0, (0,)), (1, (0.5, 2, 10, 1e4)), (2, (0.5, 2, 10))):
        for gamma in gammas:
            for quantity in ("alpha", "moment"):
                yield {"bars": bars, "gamma": gamma, "stretch": 0, "lever": 0,
                       "quantity": quantity}
    # Flat bars of the plate's metal on a plate 1 thick and 100 wide: thickness and height.
    for thickness, height in ((0.5, 9), (1, 4)):
        bar = {"bars": 1, "gamma": (1 - NU * NU) * thickness * height ** 3 / 100,
               "stretch": thickness * height / 100, "lever": (1 + height) / 200}
        yield {**bar, "quantity": "alpha"}
        yield {**bar, "quantity": "flange"}


def write(out):
    out.write("# square plate held at its sides, side 1, D = 1, nu = 0.3, even pressure 1, with bars "
              "along x in even places across.\n"
              "# gamma = EI/(D side); stretch = EA/(E t side) and lever: of bars joined on one side "
              "of a plate 1/100 thick; 0: none.\n"
              "# Computed by tests/reference/ribbed_plates.py (double sine series).\n")
    writer = csv.DictWriter(out, FIELDS, lineterminator="\n")
    writer.writeheader()
    for line in lines():
        writer.writerow({**line, "value": f"{value(line):.6g}"})


def check():
    with open(TABLE, encoding="utf-8") as file:
        rows = list(csv.DictReader(row for row in file if not row.startswith("#")))
    wrong = [row for row in rows if abs(value(row) / float(row["value"]) - 1) > 1e-5]
    # The plain square, and the wide flange of a bar in a wide sheet, are in books: 0.00406
    # (Timoshenko & Woinowsky-Krieger, Table 8) and 0.36 of the span for an endless sheet.
    plain = next(float(r["value"]) for r in rows if r["bars"] == "0" and r["quantity"] == "alpha")
    flange = 1 / sheet_give(1, 5, 1, 10)
    book = 4 / (np.pi * (3 + 2 * NU - NU * NU))
    assert abs(plain / 0.00406 - 1) < 1e-3, plain
    assert abs(flange / book - 1) < 5e-3, (flange, book)
    for row in wrong:
        print("off:", row, value(row))
    return len(wrong)


if __name__ == "__main__":
    if TABLE.exists():
        sys.exit(1 if check() else 0)
    write(sys.stdout)
