#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A row as one elastic block against a bending wall, in solids: what columns leave out.

    python3 block3d.py            holds the stored table against columns.py, the inputs against
                                  this file, and the figures against each other
    python3 block3d.py --run      runs CalculiX on the stored inputs too (minutes)
    python3 block3d.py --refine   runs the finer meshes too (longer)
    python3 block3d.py --write    writes inputs and table anew (runs everything)

Half a row: layers of orthotropic blocks without Poisson's effect, pressed from the mid plane
(clamped, moved outwards) against one wall. Quadratic bricks of reduced integration (C3D20R), small
displacements; block and wall share the nodes of the face. Beside it the same case as columns:
between two such walls, linear columns, twice the clamp's way.
"""

import csv
import os
import re
import shutil
import subprocess
import sys
import tempfile

import numpy as np

from columns import Fineness, solve_case

HERE = os.path.dirname(os.path.abspath(__file__))
PUBLISHED = os.path.join(HERE, "..", "..", "fixtures", "published")
INPUTS = os.path.join(PUBLISHED, "block3d")
TABLE = os.path.join(PUBLISHED, "block3d.csv")

# --- Boxes and cases -----------------------------------------------------------------------

HARDLY_MPA = 0.02  # a shear modulus that leaves the columns to themselves
ALUMINIUM = {"modulus_mpa": 69000.0, "poisson": 0.33}
SIDES = ("left", "right", "bottom", "top")
OPEN = {"left": "fixed", "right": "fixed", "bottom": "fixed", "top": "free"}
CLOSED = {**OPEN, "top": "fixed"}
# Bricks over the face, in each layer, through the wall, and in the strip around the face.
SMALL = {"wall": {"width_mm": 148.0, "height_mm": 124.0, "thickness_mm": 2.5, **ALUMINIUM},
         "face": {"x_mm": 4.0, "y_mm": 3.0, "width_mm": 140.0, "height_mm": 110.0},
         "layers_mm": (108.0,), "stored": {"face": (14, 11), "layers": (6,)},
         "finer": {"face": (28, 22), "layers": (12,)}}
LARGE = {"wall": {"width_mm": 180.0, "height_mm": 212.0, "thickness_mm": 3.0, **ALUMINIUM},
         "face": {"x_mm": 10.0, "y_mm": 6.0, "width_mm": 160.0, "height_mm": 190.0},
         "layers_mm": (144.0, 6.0), "stored": {"face": (16, 19), "layers": (6, 1)},
         "finer": {"face": (24, 28), "layers": (9, 2)}}
BOXES = {
    "open": {"shape": "small", "edges": OPEN, "clamp_mm": 1.0, "modulus_mpa": (20.0,)},
    "closed": {"shape": "large", "edges": CLOSED, "clamp_mm": 0.8, "modulus_mpa": (30.0, 30.0)},
    "pad": {"shape": "large", "edges": OPEN, "clamp_mm": 1.6, "modulus_mpa": (30.0, 1.5)},
}
SHAPES = {"small": SMALL, "large": LARGE}


def case(box, in_plane, *shear):
    """In-plane modulus [MPa] of the block, and each layer's shear modulus (the last goes on)."""
    layers = len(BOXES[box]["modulus_mpa"])
    return {"box": box, "in_plane_mpa": in_plane,
            "shear_mpa": (shear + shear[-1:] * layers)[:layers]}


# E/2.5: 8 MPa of 20, 12 of 30, 0.6 of 1.5.
CASES = [
    case("open", 20.0, HARDLY_MPA), case("open", 20.0, 8.0), case("open", 1000.0, 2.0),
    case("open", 1000.0, 8.0), case("open", 1000.0, 40.0),
    case("closed", 30.0, HARDLY_MPA), case("closed", 30.0, 12.0), case("closed", 1000.0, 2.0),
    case("closed", 1000.0, 12.0), case("closed", 1000.0, 40.0),
    case("pad", 30.0, HARDLY_MPA), case("pad", 30.0, 12.0, 0.6), case("pad", 1000.0, 12.0, 0.6),
    case("pad", 1000.0, 40.0, 0.6),
]
FINER_TOO = [CASES[0], CASES[3], CASES[5], CASES[8]]
# The open box as computed before, apart from this file: CalculiX 2.20, C3D20R, tied at the face,
# 14 x 11 x 6 block elements, one through the wall.
EARLIER = [(1979.6, 0.7998), (2178.6, 0.5859), (2073.8, 0.7053), (2204.3, 0.5692), (2377.3, 0.3966)]
EARLIER_COLUMNS = (1985.7, 0.7977)


# --- Mesh --------------------------------------------------------------------------------


def spread(low, high, count):
    return list(np.linspace(low, high, count + 1))


def strip(inner, rim, finer):
    """Ends of the bricks from the face's edge to the wall's, halved towards the clamp.

    A clamped edge of solids bends within about a thickness; one brick in a strip is too stiff.
    """
    shares = [0.5, 0.75, 0.875, 1.0]
    ends = [inner] + [inner + share * (rim - inner) for share in shares]
    return [each for a, b in zip(ends[:-1], ends[1:]) for each in spread(a, b, finer)[1:]]


class Mesh:
    """C3D20R bricks of block and wall; node numbers run with z, y, x from the mid plane up."""

    # Corners of a brick, then the middles of its edges, in half elements (x, y, z).
    PLACES = [(0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0), (0, 0, 2), (2, 0, 2), (2, 2, 2), (0, 2, 2),
              (1, 0, 0), (2, 1, 0), (1, 2, 0), (0, 1, 0), (1, 0, 2), (2, 1, 2), (1, 2, 2), (0, 1, 2),
              (0, 0, 1), (2, 0, 1), (2, 2, 1), (0, 2, 1)]

    def __init__(self, shape, fineness):
        wall, face, counts = shape["wall"], shape["face"], shape[fineness]
        through = 2 if fineness == "finer" else 1
        x = self._breaks(wall["width_mm"], face["x_mm"], face["width_mm"], counts["face"][0], through)
        y = self._breaks(wall["height_mm"], face["y_mm"], face["height_mm"], counts["face"][1],
                         through)
        z, owners = [-sum(shape["layers_mm"])], []
        for i, (thickness, count) in enumerate(zip(shape["layers_mm"], counts["layers"]), 1):
            z += spread(z[-1], z[-1] + thickness, count)[1:]
            owners += [f"LAYER{i}"] * count
        z += spread(0.0, wall["thickness_mm"], through)[1:]
        owners += ["WALL"] * through
        self.halves = [self._with_middles(each) for each in (x, y, z)]
        inside = [(breaks.index(start), breaks.index(start) + count) for breaks, start, count in
                  ((x, face["x_mm"], counts["face"][0]), (y, face["y_mm"], counts["face"][1]))]
        self._build(len(x) - 1, len(y) - 1, owners, inside)

    @staticmethod
    def _breaks(side, start, size, count, finer):
        before = strip(start, 0.0, finer)[::-1]
        return before + spread(start, start + size, count) + strip(start + size, side, finer)

    @staticmethod
    def _with_middles(breaks):
        middles = [(a + b) / 2 for a, b in zip(breaks[:-1], breaks[1:])]
        return [each for pair in zip(breaks, middles + [None]) for each in pair][:-1]

    def _build(self, count_x, count_y, owners, inside):
        bricks = []
        for k, owner in enumerate(owners):
            spans = inside if owner != "WALL" else [(0, count_x), (0, count_y)]
            bricks += [(owner, [(2 * i + a, 2 * j + b, 2 * k + c) for a, b, c in self.PLACES])
                       for j in range(*spans[1]) for i in range(*spans[0])]
        places = sorted({place for _, brick in bricks for place in brick}, key=lambda q: q[::-1])
        self.nodes = {place: number + 1 for number, place in enumerate(places)}
        self.bricks = [(owner, [self.nodes[place] for place in brick]) for owner, brick in bricks]
        self.wall = sorted({place for owner, brick in bricks if owner == "WALL"
                            for place in brick}, key=lambda q: q[::-1])

    def sets(self):
        last = [len(each) - 1 for each in self.halves]
        yield "MIDPLANE", [number for place, number in self.nodes.items() if place[2] == 0]
        ends = ((2, last[2]), (0, 0), (0, last[0]), (1, 0), (1, last[1]))
        for name, (axis, value) in zip(("OUTSIDE",) + SIDES, ends):
            yield name.upper(), [self.nodes[place] for place in self.wall if place[axis] == value]

    def text(self):
        lines = ["** Nodes in mm. Bricks: LAYER1 on the mid plane, the others towards the wall, WALL.",
                 "*NODE"]
        for place, number in self.nodes.items():
            lines.append(f"{number}," + ",".join(f"{self.halves[axis][place[axis]]:.7g}"
                                                 for axis in range(3)))
        owner_now = None
        for number, (owner, brick) in enumerate(self.bricks, 1):
            if owner != owner_now:
                lines.append(f"*ELEMENT,TYPE=C3D20R,ELSET={owner}")
                owner_now = owner
            words = [str(number)] + [str(node) for node in brick]
            lines += [",".join(words[:16]) + ",", ",".join(words[16:])]
        for name, numbers in self.sets():
            lines.append(f"*NSET,NSET={name}")
            lines += [",".join(map(str, numbers[i:i + 16])) for i in range(0, len(numbers), 16)]
        return "\n".join(lines) + "\n"


# --- Inputs ------------------------------------------------------------------------------


def name_of(each):
    shear = "_".join(f"{g:g}" for g in dict.fromkeys(each["shear_mpa"]))
    return f"{each['box']}_e{each['in_plane_mpa']:g}_g{shear}".replace(".", "p")


def mesh_name(each):
    return BOXES[each["box"]]["shape"] + "_mesh.inp"


def layer_lines(name, modulus_mpa, in_plane_mpa, shear_mpa):
    """Without Poisson's effect, alike in all directions of the face: in-plane shear E/2."""
    return [f"*MATERIAL,NAME={name}", "*ELASTIC,TYPE=ENGINEERING CONSTANTS",
            f"{in_plane_mpa:g},{in_plane_mpa:g},{modulus_mpa:g},0,0,0,{in_plane_mpa / 2:g},"
            f"{shear_mpa:g}", f"{shear_mpa:g}", f"*SOLID SECTION,ELSET={name},MATERIAL={name}"]


def deck(each):
    """One case for CalculiX; the mesh is included. A pad is as soft in plane as through."""
    box, wall = BOXES[each["box"]], SHAPES[BOXES[each["box"]]["shape"]]["wall"]
    lines = ["** From tests/reference/block3d.py. mm, N, MPa; z along the row, the wall at z > 0.",
             f"*INCLUDE,INPUT={mesh_name(each)}"]
    for i, (modulus, shear) in enumerate(zip(box["modulus_mpa"], each["shear_mpa"]), 1):
        in_plane = each["in_plane_mpa"] if modulus == box["modulus_mpa"][0] else modulus
        lines += layer_lines(f"LAYER{i}", modulus, in_plane, shear)
    lines += ["*MATERIAL,NAME=WALL", "*ELASTIC", f"{wall['modulus_mpa']:g},{wall['poisson']:g}",
              "*SOLID SECTION,ELSET=WALL,MATERIAL=WALL", "*STEP", "*STATIC", "*BOUNDARY"]
    lines += [f"{side.upper()},1,3" for side in SIDES if box["edges"][side] == "fixed"]
    lines += ["MIDPLANE,1,2", f"MIDPLANE,3,3,{box['clamp_mm']:g}",
              "*NODE PRINT,NSET=MIDPLANE,TOTALS=ONLY", "RF", "*NODE PRINT,NSET=OUTSIDE", "U",
              "*END STEP"]
    return "\n".join(lines) + "\n"


def inputs(fineness="stored"):
    """File name and text of every input."""
    texts = {f"{name}_mesh.inp": Mesh(shape, fineness).text() for name, shape in SHAPES.items()}
    return {**texts, **{name_of(each) + ".inp": deck(each) for each in CASES}}


# --- Running and reading -----------------------------------------------------------------


def read_dat(text):
    """Force [N] on the mid plane and the greatest deflection [mm] of the wall's outside."""
    force, bow = None, None
    for block in re.split(r"\n(?=\s*(?:total force|displacements))", text):
        numbers = [[float(word) for word in line.split()] for line in block.splitlines()
                   if re.fullmatch(r"[\sEe+\-.\d]+", line) and line.strip()]
        if "total force" in block:
            force = numbers[0][-1]
        elif "displacements" in block:
            bow = max(row[3] for row in numbers)
    return force, bow


def run_ccx(cases, texts):
    """(force, bow) of each case, by CalculiX in a temporary folder."""
    if not shutil.which("ccx"):
        sys.exit("CalculiX is not installed (Debian: calculix-ccx)")
    found = []
    with tempfile.TemporaryDirectory() as folder:
        for name, text in texts.items():
            with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                file.write(text)
        for each in cases:
            subprocess.run(["ccx", name_of(each)], cwd=folder, check=True,
                           env={**os.environ, "OMP_NUM_THREADS": "1"}, stdout=subprocess.DEVNULL)
            with open(os.path.join(folder, name_of(each) + ".dat"), encoding="utf-8") as file:
                found.append(read_dat(file.read()))
            print(f"{name_of(each)}: {found[-1][0]:.1f} N, {found[-1][1]:.4f} mm", flush=True)
    return found


def columns_of(name):
    """(force, bow) of a box's columns, between two such walls."""
    box, shape = BOXES[name], SHAPES[BOXES[name]["shape"]]
    give = 2 * sum(t / e for t, e in zip(shape["layers_mm"], box["modulus_mpa"]))
    # A cell so thin that it gives nothing: the layers are linear.
    nothing = {"count": 1, "nominal_mm": 1e-6, "a_mpa": 1.0, "b": 1.0, "tangent_above_mpa": 1.0}
    wall = {**shape["wall"], "edges": box["edges"]}
    row = {"face": shape["face"], "interference_mm": 2 * box["clamp_mm"], "cells": nothing,
           "sheets_give_mm_per_mpa": give}
    built = solve_case({"wall_a": wall, "wall_b": wall, "rows": [row]}, Fineness(terms=26))["built"]
    return built["force_n"], built["wall_a_greatest_mm"]


# --- Table -------------------------------------------------------------------------------

COMMENT = """\
# Half a row as one elastic block, pressed from its mid plane (clamped, moved clamp_mm outwards) against an aluminium wall (E 69000, nu 0.33), in solids; small displacements.
# box open: wall 148 x 124 x 2.5 mm, left, right and bottom clamped, top free; face 140 x 110 mm at x 4..144, y 3..113; block 108 mm, Ez 20 MPa; clamp_mm 1.0.
# box closed: wall 180 x 212 x 3 mm, all four edges clamped; face 160 x 190 mm at x 10..170, y 6..196; block 150 mm, Ez 30 MPa; clamp_mm 0.8.
# box pad: the wall and face of closed with a free top; block 144 mm, Ez 30 MPa, and a pad of 6 mm, E 1.5 MPa, between it and the wall; clamp_mm 1.6.
# Blocks are orthotropic without Poisson's effect: in_plane_modulus_mpa in both directions of the face (half of it as in-plane shear modulus), shear_modulus_mpa across; the pad alike in all directions but for its own shear modulus.
# force_n on the mid plane; bow_mm the greatest deflection of the wall.
# by stored: CalculiX 2.20, C3D20R, block and wall sharing the face's nodes, the inputs of fixtures/published/block3d (about 10 mm bricks, 14 x 11 x 6 and 16 x 19 x 7 in the block, one through the wall, four graded ones in the strip around the face).
# by finer: the same on 28 x 22 x 12 and 24 x 28 x 11 bricks, two through the wall, eight in the strip.
# by earlier: box open computed before, apart from these inputs (CalculiX 2.20, C3D20R, tied at the face, 14 x 11 x 6 block elements, one through the wall; mesh of the wall and in-plane shear modulus not stated).
# by columns: the column model (tests/reference/columns.py; thin plate), between two such walls 2 clamp_mm too long; earlier columns: computed before with a Ritz plate.
# A block with hardly any shear stiffness (0.02 MPa) is the column model; the others show what columns leave out.
"""
HEADER = ["box", "by", "in_plane_modulus_mpa", "shear_modulus_mpa", "pad_shear_modulus_mpa",
          "force_n", "bow_mm"]


def line_of(each, by, figures):
    pad = each["shear_mpa"][1] if each["box"] == "pad" else ""
    return [each["box"], by, f"{each['in_plane_mpa']:g}", f"{each['shear_mpa'][0]:g}",
            pad and f"{pad:g}", f"{figures[0]:.1f}", f"{figures[1]:.4f}"]


def column_line(box, by, figures):
    return [box, by, "", "0", "0" if box == "pad" else "", f"{figures[0]:.1f}", f"{figures[1]:.4f}"]


def table_text(stored, finer):
    lines = [line_of(each, "stored", found) for each, found in zip(CASES, stored)]
    lines += [line_of(each, "finer", found) for each, found in zip(FINER_TOO, finer)]
    lines += [line_of(each, "earlier", found) for each, found in zip(CASES, EARLIER)]
    lines += [column_line(box, "columns", columns_of(box)) for box in BOXES]
    lines.append(column_line("open", "earlier columns", EARLIER_COLUMNS))
    return COMMENT + "\n".join(",".join(line) for line in [HEADER] + lines) + "\n"


def read_table():
    with open(TABLE, encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def rows_by(table, by):
    return [row for row in table if row["by"] == by]


def figures(row):
    return float(row["force_n"]), float(row["bow_mm"])


# --- Checks ------------------------------------------------------------------------------


class Report:
    """Prints comparisons and remembers whether all held."""

    def __init__(self):
        self.held = True

    def near(self, what, found, wanted, tolerance):
        off = [a / b - 1 for a, b in zip(found, wanted)]
        good = all(abs(each) <= tolerance for each in off)
        self.held &= good
        print(f"{'' if good else 'NOT WITHIN %g %%: ' % (100 * tolerance)}{what}: "
              f"force {100 * off[0]:+.2f} %, bow {100 * off[1]:+.2f} %")

    def true(self, what, good):
        self.held &= good
        if not good:
            print("NOT SO: " + what)


def check_stored(report):
    table = read_table()
    for name, text in inputs().items():
        with open(os.path.join(INPUTS, name), encoding="utf-8") as file:
            report.true(f"{name} is as this file writes it", file.read() == text)
    columns = {row["box"]: figures(row) for row in rows_by(table, "columns")}
    for box, wanted in columns.items():
        report.near(f"{box}: columns again, against the table", columns_of(box), wanted, 1e-4)
    stored = rows_by(table, "stored")
    for row in stored:
        hardly = float(row["shear_modulus_mpa"]) == HARDLY_MPA
        report.near(f"{row['box']}, in plane {row['in_plane_modulus_mpa']}, shear "
                    f"{row['shear_modulus_mpa']} {row['pad_shear_modulus_mpa']}: against columns",
                    figures(row), columns[row["box"]], 0.01 if hardly else float("inf"))
    for one, two in zip(stored, rows_by(table, "earlier")):
        report.near(f"open, shear {one['shear_modulus_mpa']}: against earlier", figures(one),
                    figures(two), 0.005)
    report.near("open: columns against earlier columns", columns["open"],
                figures(rows_by(table, "earlier columns")[0]), 0.001)


def stored_inputs():
    texts = {}
    for name in inputs():
        with open(os.path.join(INPUTS, name), encoding="utf-8") as file:
            texts[name] = file.read()
    return texts


def write():
    stored, finer = run_ccx(CASES, inputs()), run_ccx(FINER_TOO, inputs("finer"))
    os.makedirs(INPUTS, exist_ok=True)
    for name, text in inputs().items():
        with open(os.path.join(INPUTS, name), "w", encoding="utf-8") as file:
            file.write(text)
    with open(TABLE, "w", encoding="utf-8") as file:
        file.write(table_text(stored, finer))


def main(arguments):
    if "--write" in arguments:
        write()
    report = Report()
    check_stored(report)
    runs = [("--run", "stored", CASES, stored_inputs)]
    runs.append(("--refine", "finer", FINER_TOO, lambda: inputs("finer")))
    for option, by, cases, texts in runs:
        if option in arguments:
            wanted = rows_by(read_table(), by)
            for each, found, row in zip(cases, run_ccx(cases, texts()), wanted):
                report.near(f"{name_of(each)} run again, {by}", found, figures(row), 2e-4)
    return 0 if report.held else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
