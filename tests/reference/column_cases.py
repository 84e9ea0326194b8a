#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Varied rows between bending walls, and what columns.py finds for them.

    python3 column_cases.py           solves all and prints what differs from the stored table
    python3 column_cases.py --write   writes fixtures/published/column_cases.json

Every case is solved twice, FINE and coarser; what refining changes is stored beside the results.
The stored table is data for tests that cannot run SciPy.
"""

import json
import os
import sys

import scipy

from columns import Fineness, solve_case

TABLE = os.path.join(os.path.dirname(os.path.abspath(__file__)),
                     "..", "..", "fixtures", "published", "column_cases.json")
FINE = Fineness(terms=26, longest_mm=8.0, points=6, even=401)
COARSER = Fineness(terms=20, longest_mm=12.0, points=6, even=401)
DIGITS = 8

COMMENT = [
    "Rows of prismatic cells as columns between two bending walls: equilibria computed by "
    "tests/reference/columns.py (Ritz plates, Gauss-Legendre faces, Newton) on NumPy and SciPy, "
    "never by the program. Written by tests/reference/column_cases.py --write.",
    "mm, N, MPa. Face plane: x from the wall's left edge, y from its bottom edge, the same way for "
    "both walls. Edges: fixed (clamped), held (simply supported), free; "
    "point_supports do not move. Thin plates (Kirchhoff).",
    "The row minimises 1/2 wA' K wA + 1/2 wB' K wB + 1/2 u^2/tie_give + integral Psi(d) over the "
    "face, d = interference + domes - wA - wB - u; columns with d <= 0 carry nothing. With "
    "frame_force_n, that force times u stands in the place of 1/2 u^2/tie_give.",
    "A column is a series of: count x nominal_mm of cells with p = a (exp(b eps) - 1), on along its "
    "tangent above tangent_above_mpa; sheets of sheets_give_mm_per_mpa; the pads that cover it "
    "(stress over strain by PCHIP as SciPy's PchipInterpolator; beyond the last point a tangent, "
    "the curve's own but no softer than the last secant). A pad without a patch covers the face; "
    "patches are in the wall's coordinates. interference_mm is that of flat columns that have every "
    "pad; a column outside a pad's patch is shorter by that pad's gap_outside_mm (the pad's thickness "
    "where there is nothing in its stead, 0 where something rigid and as thick is).",
    "A dome adds max(0, height phi - slack) (hollow: height phi), phi = ((1-xi^2)(1-eta^2))^2, "
    "xi and eta from -1 to 1 over the face. Cells without a line in domes are flat.",
    "closed: a second stage with each row's own interference. lid_holds_top: free tops are held, where "
    "they were when built, and the plates carry their bending energy on. A frame's tie_give_mm_per_n "
    "enters here: frame_force_n (u - u1) + 1/2 (u - u1)^2/tie_give, u1 the u when built. A frame has "
    "no length of its own: interference_mm counts from u = 0, wherever that is.",
    "Results: length_gain_mm is u; wall_x_greatest_mm is over the whole wall, face_mean and "
    "face_middle over and in the middle of the row's face; mean pressure is force over face area; "
    "contact_share is the part of the face with d > 0. refining_changes: greatest relative change "
    "of that figure in any row or stage between 20 and 26 polynomials a direction and a grid "
    "1.5 times as fine; centre of pressure and walls in mm.",
]


# --- Words the cases are written in --------------------------------------------------------


def wall(width, height, thickness, edges="fffo", modulus=69000.0, poisson=0.33):
    """Edges in the order left, right, bottom, top: f fixed, h held, o free."""
    words = {"f": "fixed", "h": "held", "o": "free"}
    return {"width_mm": width, "height_mm": height, "thickness_mm": thickness,
            "modulus_mpa": modulus, "poisson": poisson,
            "edges": dict(zip(("left", "right", "bottom", "top"), (words[e] for e in edges)))}


def cells(count, nominal=50.0, domes=(), a=0.06, b=180.0, tangent_above=1.0):
    return {"count": count, "nominal_mm": nominal, "a_mpa": a, "b": b,
            "tangent_above_mpa": tangent_above,
            "domes": [{"height_mm": height, "slack_mm": slack} for height, slack in domes]}


def rectangle(x, y, width, height):
    return {"x_mm": x, "y_mm": y, "width_mm": width, "height_mm": height}


def foam(thickness, stress_at_quarter, patch=None, gap_outside=None):
    """The generic curve of closed-cell sponge, from memory, scaled to its stress at 25 %."""
    curve = [0, 0.55, 1, 1.6, 2.4, 4.2, 9]
    pad = {"thickness_mm": thickness, "strain": [0, 0.1, 0.25, 0.4, 0.5, 0.6, 0.7],
           "stress_mpa": [round(each * stress_at_quarter, 9) for each in curve]}
    if patch is None:
        return pad
    return {**pad, "patch": patch,
            "gap_outside_mm": thickness if gap_outside is None else gap_outside}


def row(face, some_cells, interference, sheets=0.0, pads=()):
    return {"face": face, "cells": some_cells, "interference_mm": interference,
            "sheets_give_mm_per_mpa": sheets, "pads": list(pads)}


def case(name, wall_a, rows, wall_b=None, **more):
    return {"name": name, "wall_a": wall_a, "wall_b": wall_b or wall_a,
            "tie_give_mm_per_n": 0.0, "rows": rows, **more}


# --- The cases -------------------------------------------------------------------------------

SMALL_FACE = rectangle(4, 3, 140, 110)
TALL_FACE = rectangle(4, 2, 172, 200)
TALL_WALL = (180, 212)
SMALL_WALL = (148, 124)


def first_cases():
    tall, small = wall(*TALL_WALL, 3), wall(*SMALL_WALL, 2.5)
    swollen = [(0.8, 0.25), (0.6, 0.25), (1.1, 0.25), (0.3, 0.25)]
    patch = rectangle(24, 23, 100, 70)
    return [
        case("flat cells, open top", tall, [row(TALL_FACE, cells(8), 2.0)]),
        case("flat cells, thin walls lift off", wall(*TALL_WALL, 1.5),
             [row(TALL_FACE, cells(4, 54.0), 1.2)]),
        case("flat cells, thick held walls", wall(*TALL_WALL, 6, "hhhh"),
             [row(TALL_FACE, cells(16, 36.5), 3.0, sheets=0.004)]),
        case("domed cells, contact spreads from the middle", small,
             [row(SMALL_FACE, cells(4, 30.0, swollen), -0.5)]),
        case("hollow cells", small,
             [row(SMALL_FACE, cells(6, 30.0, [(-0.15, 0)] * 3), 0.8)]),
        case("foam over the whole face", small,
             [row(SMALL_FACE, cells(6, 30.0), 3.0, sheets=0.01, pads=[foam(6.0, 0.08)])]),
        case("foam in the middle only", small,
             [row(SMALL_FACE, cells(6, 30.0), 2.4, pads=[foam(3.0, 0.15, patch)])]),
        case("foam in the middle, shims around it", small,
             [row(SMALL_FACE, cells(6, 30.0), 1.6, pads=[foam(3.0, 0.15, patch, 0.9)])]),
        case("lid put on afterwards", tall, [row(TALL_FACE, cells(8), 1.2)],
             closed={"lid_holds_top": True, "interference_mm": [2.4]}),
        case("walls that differ", tall, [row(TALL_FACE, cells(8), 2.0)],
             wall_b=wall(*TALL_WALL, 5, "hhff", 210000.0, 0.3)),
        case("side walls stretch", small, [row(SMALL_FACE, cells(6, 30.0), 1.0)],
             tie_give_mm_per_n=1e-4),
        case("two rows on one wall", wall(300, 124, 4),
             [row(rectangle(5, 3, 140, 110), cells(6, 30.0), 0.9),
              row(rectangle(155, 3, 140, 110), cells(6, 30.0, [(0.5, 0.15)] * 2), 0.2)]),
    ]


def wall_cases():
    corners = [{"x_mm": x, "y_mm": y} for x in (10, 190) for y in (12, 212)]
    plate = {**wall(200, 224, 12, "oooo"), "point_supports": corners}
    return [
        case("one millimetre, all edges fixed", wall(*TALL_WALL, 1, "ffff"),
             [row(rectangle(12, 10, 160, 185), cells(5, 40.0), 1.5)]),
        case("four edges all different, face in a corner", wall(220, 200, 4, "fhho"),
             [row(rectangle(3, 4, 130, 120), cells(8), 2.2)]),
        case("steel, held left and right only", wall(*TALL_WALL, 2, "hhoo", 200000.0, 0.3),
             [row(TALL_FACE, cells(10, 45.0), 2.0, sheets=0.05)]),
        case("thick and thin", wall(*SMALL_WALL, 6, "ffff"),
             [row(SMALL_FACE, cells(4, 30.0), 1.0)], wall_b=wall(*SMALL_WALL, 1.5, "fffo")),
        case("three unlike rows on one wall", wall(420, 150, 5, "fffo"),
             [row(rectangle(6, 4, 130, 120), cells(6, 30.0), 1.1),
              row(rectangle(145, 4, 130, 120), cells(6, 30.0, a=0.09), 0.9, sheets=0.5),
              row(rectangle(284, 4, 130, 100), cells(5, 36.0), 0.7)], tie_give_mm_per_n=4e-5),
        case("frame of two bars, brought to a force", wall(*TALL_WALL, 10, "hhoo"),
             [row(TALL_FACE, cells(8, 50.0, [(0.5, 0.2)] * 3), 0.0)], frame_force_n=3000.0,
             tie_give_mm_per_n=2e-5, closed={"lid_holds_top": False, "interference_mm": [1.2]}),
        case("frame on four rods, brought to a force", plate,
             [row(rectangle(20, 14, 160, 200), cells(8), 0.0)], frame_force_n=2400.0,
             tie_give_mm_per_n=1e-5, closed={"lid_holds_top": False, "interference_mm": [1.0]}),
    ]


def cell_cases():
    small = wall(*SMALL_WALL, 2.5)
    return [
        case("domes within their slack", wall(*SMALL_WALL, 3),
             [row(SMALL_FACE, cells(4, 30.0, [(0.12, 0.12), (0.1, 0.1)]), 0.5)]),
        case("two swollen cells, stiff walls", wall(*SMALL_WALL, 6, "ffff"),
             [row(SMALL_FACE, cells(4, 30.0, [(1.5, 0.15), (0.9, 0.15)]), -0.2)]),
        case("hollow and domed", small,
             [row(SMALL_FACE, cells(6, 30.0, [(-0.3, 0), (0.8, 0.15), (0.6, 0.15)]), 0.2)]),
        case("hollow, pressed along the rim", wall(*SMALL_WALL, 5),
             [row(SMALL_FACE, cells(6, 30.0, [(-0.4, 0)] * 4), 0.5)]),
        case("beyond the law, along its tangent", wall(*SMALL_WALL, 6, "ffff"),
             [row(rectangle(40, 30, 60, 50), cells(2, 30.0), 1.3)]),
        case("soft cells", small, [row(SMALL_FACE, cells(8, 27.0, a=0.03, b=150.0), 2.5)]),
        case("stiff cells, domed", small,
             [row(SMALL_FACE, cells(8, 27.0, [(0.25, 0.135)] * 8, a=0.12, b=220.0), 0.9)]),
        case("loose", small, [row(SMALL_FACE, cells(4, 30.0), -0.3)]),
    ]


def pad_cases():
    small = wall(*SMALL_WALL, 2.5)
    strip = rectangle(4, 3, 60, 110)
    return [
        case("foam pressed solid", wall(*SMALL_WALL, 5, "ffff"),
             [row(SMALL_FACE, cells(4, 30.0), 2.6, pads=[foam(2.0, 0.02)])]),
        case("a strip of foam along one side", wall(*SMALL_WALL, 4, "ffff"),
             [row(SMALL_FACE, cells(6, 30.0), 1.5, pads=[foam(4.0, 0.1, strip, 1.2)])]),
        case("foam over the face and foam in the middle, domed cells", small,
             [row(SMALL_FACE, cells(6, 30.0, [(0.4, 0.15)] * 6), 2.0,
                  pads=[foam(5.0, 0.06), foam(2.0, 0.12, rectangle(34, 28, 80, 60))])]),
    ]


def stage_cases():
    tall = wall(*TALL_WALL, 2.5)
    return [
        case("lid, then less interference", tall, [row(TALL_FACE, cells(8), 2.0)],
             closed={"lid_holds_top": True, "interference_mm": [1.3]}),
        case("lid on unlike walls, foam and domes, side walls stretch", tall,
             [row(TALL_FACE, cells(8, 50.0, [(0.45, 0.25)] * 4), 1.5, pads=[foam(6.0, 0.09)])],
             wall_b=wall(*TALL_WALL, 4, "hhfo"), tie_give_mm_per_n=5e-5,
             closed={"lid_holds_top": True, "interference_mm": [3.0]}),
        case("lid over two rows", wall(300, 124, 3),
             [row(rectangle(5, 3, 140, 110), cells(6, 30.0), 0.9),
              row(rectangle(155, 3, 140, 110), cells(6, 30.0), 0.5)],
             closed={"lid_holds_top": True, "interference_mm": [1.9, 1.2]}),
    ]


def all_cases():
    return first_cases() + wall_cases() + cell_cases() + pad_cases() + stage_cases()


# --- Solving and storing -------------------------------------------------------------------


def rounded(value):
    if isinstance(value, dict):
        return {key: rounded(each) for key, each in value.items()}
    if isinstance(value, list):
        return [rounded(each) for each in value]
    return float(f"{value:.{DIGITS}g}") if isinstance(value, float) else value


def figures_of(results):
    """(name of the figure, value) through all stages and rows, in a fixed order."""
    for stage in results.values():
        for key, value in stage.items():
            if key == "rows":
                for each in value:
                    yield from (("row " + name, figure) for name, figure in each.items())
            else:
                yield key, value


def change(name, one, two):
    """Relative; of shares, places and lengths, which may be nothing, absolute."""
    if one is None or two is None:
        return 0.0 if one is two else float("inf")
    if "force" in name or "pressure_mpa" in name:
        return abs(one - two) / max(abs(two), 1e-9) if one != two else 0.0
    return abs(one - two)


def greatest_changes(results, others):
    greatest = {}
    for (name, one), (_, two) in zip(figures_of(results), figures_of(others)):
        key = name.removeprefix("row ")
        greatest[key] = max(greatest.get(key, 0.0), change(name, one, two))
    return {key: float(f"{value:.1e}") for key, value in greatest.items()}


def solved(each):
    results, coarser = solve_case(each, FINE), solve_case(each, COARSER)
    return {**each, "results": rounded(results),
            "refining_changes": greatest_changes(coarser, results)}


def table(solved_cases):
    head = {"comment": COMMENT, "scipy": scipy.__version__}
    lines = ["{", *(f" {json.dumps(key)}: {json.dumps(value, indent=1)}," for key, value in
                    head.items()), ' "cases": [']
    for i, each in enumerate(solved_cases):
        body = ",\n   ".join(f"{json.dumps(key)}: {json.dumps(value)}"
                             for key, value in each.items())
        lines.append("  {" + body + "}" + ("," if i + 1 < len(solved_cases) else ""))
    return "\n".join(lines + [" ]", "}"]) + "\n"


def main():
    found = []
    for each in all_cases():
        found.append(solved(each))
        built, changes = found[-1]["results"]["built"], found[-1]["refining_changes"]
        print(f"{each['name']}: {built['force_n']:.2f} N, contact "
              f"{built['rows'][0]['contact_share']:.4f}, refining changes "
              f"force {changes['force_n']:.0e} lowest {changes['lowest_pressure_mpa']:.0e} highest "
              f"{changes['highest_pressure_mpa']:.0e} contact {changes['contact_share']:.0e}",
              flush=True)
    if "--write" in sys.argv[1:]:
        with open(TABLE, "w", encoding="utf-8") as file:
            file.write(table(found))
        return 0
    with open(TABLE, encoding="utf-8") as file:
        stored = json.load(file)["cases"]
    differing = [one["name"] for one, two in zip(found, stored)
                 if max(greatest_changes(one["results"], two["results"]).values()) > 1e-6]
    differing += ["the number of cases"] if len(found) != len(stored) else []
    print("stored table differs: " + ", ".join(differing) if differing else "as stored")
    return 1 if differing else 0


if __name__ == "__main__":
    sys.exit(main())
