# SPDX-License-Identifier: GPL-3.0-or-later
"""The builds that are compared: corners written by hand, and a seeded mixture of them.

A build is a dictionary of the build file. Its box is cut to length here: `too_long` says by how
much the parts' nominal lengths exceed the inner length, so that a build stays pressed when another
figure of it is edited.
"""

import random

SEED = 20260131
FACE = {"width": 141, "height": "183 mm", "corner_radius": 3}
FORCE = {"value": "215kgf ±10", "when": "assembly"}
FOAM = {"strain": [0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7],
        "stress": ["0 kPa", "20 kPa", "35 kPa", "55 kPa", "80 kPa", "120 kPa", "200 kPa",
                   "400 kPa", "1 MPa"]}
SOFTNESS_TABLE = {"squeeze": ["0 %", "0.1 %", "0.3 %", "0.5 %", "0.8 %", 0.012],
                  "pressure": ["0 kPa", "8 kPa", "35 kPa", "80 kPa", "190 kPa", "5 bar"]}
RIGID = {"rigid": True}


def edges(*thicknesses):
    return [{"edge": each, "signs": "none"} for each in thicknesses]


def shim(name, thickness, **more):
    return {"name": name, "thickness": thickness, "count": 99, **more}


def cut_box(parts_mm, too_long, walls=RIGID, width=150, height=200, **more):
    box = {"inner": {"length": round(parts_mm - too_long, 3), "width": width, "height": height},
           "lid": "none", "opens": "one end wall", "floor": "insulated", **more}
    if walls is not None:
        box["end_walls"] = walls
    return box


EIGHT = (58.42, 58.31, 58.55, 58.38, 58.61, 58.29, 58.47, 58.40)


def build(too_long, walls=RIGID, cells=None, sheets_mm=None, pads_mm=0.0, cell=None, box=None,
          **more):
    """Eight cells and 1 mm of glass-epoxy in each of nine gaps, unless said otherwise.

    None takes a key of the cell away.
    """
    cells = edges(*EIGHT) if cells is None else cells
    sheets_mm = len(cells) + 1 if sheets_mm is None else sheets_mm
    length = sum(EIGHT[:len(cells)]) + sheets_mm + pads_mm
    everything = {
        "stackfit": 1,
        "cell": {"chemistry": "LFP", "face": FACE, "thickness": "58.4±0.5 mm 30-40% 215kgf",
                 "makers_force": FORCE, **(cell or {})},
        "cells": cells,
        "measured_charge": "38 %",
        "box": cut_box(length, too_long, walls, **(box or {})),
        "kit": [shim("one", "1 mm", material="glass-epoxy")],
        "placed": [{"gap": gap, "sheets": [{"name": "one", "count": 1}]}
                   for gap in gap_names(len(cells))],
    }
    everything["cell"] = {key: each for key, each in everything["cell"].items() if each is not None}
    everything.update(more)
    return everything


def gap_names(count):
    between = [f"{i}-{i + 1}" for i in range(1, count)]
    return ["wall-1", *between, f"{count}-wall"]


def pad(**law):
    return {"where": "ends", "thickness": 6, **law}


def domed(*heights):
    """The first of the eight cells, each so much thicker in its middle."""
    return [{"edge": e, "middle": round(e + d, 3), "signs": "none"}
            for e, d in zip(EIGHT, heights)]


def shims_and(smaller, gaps):
    """1 mm over the face in every gap, and in some gaps another shim that is smaller."""
    placed = [{"gap": gap, "sheets": [{"name": "one", "count": 1}]} for gap in gap_names(8)]
    for gap in placed:
        if gap["gap"] in gaps:
            gap["sheets"].append({"name": "small", "count": 1})
    return {"kit": [shim("one", "1 mm", material="glass-epoxy"), smaller], "placed": placed}


def framed(plate="10 mm aluminium", cells=None, use=None):
    """A row in a frame in place of the box, on four rods with disc springs."""
    thickness, unit, material = plate.split()
    row = build(0, cells=cells or domed(0.3, 0.4, 0.2, 0.35, 0.5, 0.3, 0.25, 0.4))
    del row["box"]
    disc = {"outer": 20, "inner": 10.2, "thickness": 1.1, "cone_height": 0.45}
    return {**row, "use": use or {"temperature": "20 C"}, "frame": {
        "plates": {"width": 190, "height": 230, "thickness": f"{thickness} {unit}",
                   "material": material},
        "rods": {"size": "M8", "grade": "8.8", "spread": {"width": 170, "height": 210},
                 "length": 540},
        "springs": {"disc": disc, "series": 12}, "force": "215 kgf"}}


def two_rows(too_long, walls, domes=(0,) * 8):
    """Four cells beside four, the second row 0.11 mm longer; 1 mm in each gap."""
    row = build(too_long, cells=domed(*domes))
    row["box"] = cut_box(sum(EIGHT[:4]) + 5, too_long, walls, width=300, height=200)
    names = [*gap_names(4), "wall-5", "5-6", "6-7", "7-8", "8-wall"]
    return {**row, "rows": {"count": 2, "between": "5 mm"}, "placed": [
        {"gap": gap, "sheets": [{"name": "one", "count": 1}]} for gap in names]}


# --- Corners ----------------------------------------------------------------------------

WALLS = {
    "rigid walls": build(1.9),
    "walls not said": build(3.0, walls=None),
    "folded wall, wider box": build(2.6, walls="3 mm aluminium folded",
                                    box={"width": 165, "height": 214}),
    "welded stainless, steel sides": build(
        2.6, walls={"thickness": "2 mm", "material": "stainless steel", "joint": "welded"},
        box={"side_walls": {"thickness": "1/16 in", "material": "steel"}}),
    "screwed wall, box as wide as the face": build(
        2.8, walls={"thickness": "0.16 in", "joint": "screwed"}, box={"width": 141, "height": 183}),
    "bow at a force": build(3.0, walls={"bow": "0.9 mm", "at_force": "150 kgf"}),
    "bow at a force, own sides": build(
        2.6, walls={"bow": "0.5 mm", "at_force": "2 kN"},
        box={"side_walls": {"thickness": 1.5, "material": "stainless"}}),
    "several length readings": {**build(2.0, walls="4 mm steel welded"), "box": {
        "inner": {"length": [474.1, "474.3 mm", "18 21/32 in"], "height": 205},
        "end_walls": "4 mm steel welded"}},
}

ROOMY = {"width": 165, "height": 214}

PLATES = {
    "screwed lid": build(2.4, walls="3 mm aluminium folded", box={**ROOMY, "lid": "screwed"}),
    "screwed lid, foam that settles": build(
        5.5, walls="3 mm aluminium screwed", pads_mm=12, pads=[pad(foam=FOAM)],
        box={**ROOMY, "lid": "screwed"}, use={"charge": "5-95 %", "capacity_loss": "0-1 %"}),
    "screwed lid, built full, domes": build(
        2.2, walls="2.5 mm steel welded", cells=domed(0.5, 0.4, 0.6, 0.3, 0.5, 0.4, 0.6, 0.4),
        box={**ROOMY, "lid": "screwed"}, build={"charge": "100 %"}, use={"charge": "40-90 %"}),
    "screwed lid, thin walls": build(2.6, walls="2 mm aluminium welded",
                                     box={**ROOMY, "lid": "screwed"}),
    "screwed lid on a rigid box": build(1.9, box={"lid": "screwed"}),
    "walls that differ": build(2.8, walls=["3 mm aluminium folded", "2.5 mm steel screwed"],
                               box=ROOMY),
    "walls that differ, one rigid": build(2.2, walls=["rigid", "3 mm aluminium screwed"],
                                          box=ROOMY),
    "walls that differ, one by its bow": build(
        2.6, walls=[{"bow": "0.4 mm", "at_force": "1 kN"}, "4 mm aluminium folded"], box=ROOMY),
    "thin walls that lift off": build(1.6, walls="1.2 mm aluminium folded", cells=edges(*EIGHT[:4]),
                                      box=ROOMY),
    "thin walls, their edges held in the plane": build(
        2.0, walls={"thickness": "1.5 mm", "joint": "welded", "in_plane": "held"}, box=ROOMY),
    "a joint for each edge": build(2.6, box=ROOMY, walls={"thickness": "3 mm", "joint": {
        "left": "folded", "right": "folded", "bottom": "screwed", "top": "open"}}),
    "a joint for each edge, top screwed": build(2.6, box=ROOMY, walls={
        "thickness": "2.5 mm", "material": "steel", "joint": {
            "left": "welded", "right": "screwed", "bottom": "screwed", "top": "screwed"}}),
    "a joint for each edge, bottom open": build(2.2, box=ROOMY, walls={
        "thickness": "4 mm", "joint": {
            "left": "folded", "right": "folded", "bottom": "open", "top": "folded"}}),
    "swollen cells between plates": build(
        0.2, walls="4 mm aluminium folded", cells=domed(0.7, 0.85, 0.6, 0.8), box=ROOMY),
    "hollow cells between plates": build(
        2.4, walls="3 mm aluminium folded", box=ROOMY,
        cells=domed(-0.2, -0.1, -0.3, -0.2, -0.1, 0, -0.2, -0.3)),
    "a partial shim between plates": build(
        3.4, sheets_mm=10, walls="3 mm aluminium folded", box=ROOMY,
        **shims_and(shim("small", "1 mm", outline={"width": 100, "height": 140}), ["4-5"])),
    "partial shims, rigid walls": build(
        1.5, sheets_mm=9 + 2 * 0.4, **shims_and(
            shim("small", "0.4 mm", outline={"width": 90, "height": 120, "corner_radius": 12}),
            ["1-2", "8-wall"])),
    "a small pad between domed cells and plates": build(
        4.5, pads_mm=4, walls="3 mm aluminium folded", box=ROOMY,
        cells=domed(0.5, 0.4, 0.6, 0.3, 0.5, 0.4, 0.6, 0.4),
        pads=[{"where": "4-5", "thickness": 4, "foam": FOAM,
               "outline": {"width": 120, "height": 150}}]),
    "two rows": two_rows(1.2, "5 mm aluminium folded"),
    "two rows, domes in one": two_rows(1.0, "5 mm aluminium screwed",
                                       domes=(0, 0, 0, 0, 0.5, 0.4, 0.6, 0.3)),
    "frame with disc springs": framed(),
    "frame with disc springs, flat cells, thin plates, warm and cold": framed(
        cells=edges(*EIGHT), plate="8 mm steel", use={"temperature": "-5-45 C"}),
}

CELLS = {
    "domes with slack": build(1.7, cells=[
        {"edge": e, "middle": round(e + d, 3), "signs": "none"}
        for e, d in zip(EIGHT, (0.24, 0.21, 0.42, 0.17, 0.47, 0.5, 0.27, 0.35))]),
    "boards and edges": build(2.5, walls=None, cells=[
        {"edge": e, "boards": round(e + d, 3), "signs": "none"}
        for e, d in zip(EIGHT, (0.44, 0.31, 0.0, 0.36, 0.02, 0.5, 0.55, 0.4))]),
    "hollow cells": build(2.1, cells=[
        {"edge": e, "middle": round(e - d, 3), "signs": "none"}
        for e, d in zip(EIGHT, (0.24, 0.1, 0.05, 0.17, -0.1, 0.2, 0.27, 0.0))]),
    "pressed readings": build(-0.2, cells=[
        {"pressed": {"value": e, "force": "215 kgf"}, "signs": "none"} for e in EIGHT]),
    "boards only": build(1.8, cells=[{"boards": e, "signs": "none"} for e in EIGHT]),
    "middle only": build(1.8, cells=[{"middle": e, "signs": "none"} for e in EIGHT]),
    "row reading, flat cells": build(1.5, row="467.80 mm"),
    "row reading, domes": build(2.2, cells=[
        {"edge": e, "middle": round(e + 0.4, 3), "signs": "none"} for e in EIGHT], row=470.4),
    "row reading, some domes known": build(2.6, walls=None, row=471.2, cells=[
        {"edge": e, "signs": "none", **more} for e, more in zip(EIGHT, (
            {}, {"middle": 58.6}, {}, {"boards": 58.5}, {}, {}, {"middle": 58.3}, {}))]),
    "row reading, domes within slack": build(1.5, row=469.0),
    "row reading, shorter, all kinds": build(1.5, row=467.6, cells=[
        {"edge": 58.42}, {"edge": 58.31, "middle": 58.6}, {"boards": 58.55},
        {"pressed": {"value": 58.2, "force": "100 kgf"}}, {"edge": 58.61, "middle": 58.4},
        {"middle": 58.29}, {"edge": 58.47, "boards": 58.6}, {"edge": 58.4}]),
    "row reading, longer, all kinds": build(-0.6, row=471.9, cells=[
        {"edge": 58.42}, {"edge": 58.31, "middle": 58.6}, {"boards": 58.55},
        {"pressed": {"value": 58.2, "force": "100 kgf"}}, {"edge": 58.61, "middle": 58.4},
        {"middle": 58.29}, {"edge": 58.47, "boards": 58.6}, {"edge": 58.4}]),
    "no readings, a line as printed": build(0.6, cells=[{"signs": "none"}] * 8),
    "no readings, the thickness alone": build(1.3, cells=[{"signs": "none"}] * 8,
                                              cell={"thickness": {"nominal": "58.3 mm"}}),
    "no readings, in keys": build(1.4, cells=[{"signs": "none"}] * 8, cell={
        "thickness": {"nominal": 58.1, "at_charge": "50-60 %", "under_force": "120 kgf"}}),
    "own charges and temperatures": build(1.5, cells=[
        {"edge": e, "charge": f"{c} %", "temperature": f"{t} C", "signs": "none"}
        for e, c, t in zip(EIGHT, (20, 30, 44, 55, 61, 70, 85, 30),
                           (8, 12, 25, 20, 30, 5, 20, 22))],
        build={"temperature": "59 F"}),
    "as shipped, built at another charge": build(1.9, measured_charge="as shipped", build={
        "charge": "62.5 %", "temperature": "27 C"}),
    "one cell": build(0.25, cells=edges(58.42)),
}

LAWS = {
    "own net and hump": build(1.8, cell={"swing": {"net": "0.85 %", "hump": 0.45}}),
    "own net only": build(1.9, cell={"swing": {"net": "0.4 %"}}),
    "own hump only": build(1.6, cell={"swing": {"hump": "0.12 %"}}),
    "swing table": build(1.7, cell={"swing": {
        "charge_percent": [0, 12, 33, 57, 71, 100], "percent": [0, 0.31, 0.44, 0.21, 0.38, 0.62]}}),
    "NMC": build(2.0, cell={"chemistry": "NMC"}),
    "NMC, own net": build(2.0, cell={"chemistry": "NMC/graphite", "swing": {"net": "1.4 %"}}),
    "softness constants": build(1.5, cell={"softness": {"a": "95 kPa", "b": 140},
                                           "expansion": "62 ppm/K"}),
    "softness table": build(2.0, cell={"softness": SOFTNESS_TABLE}),
    "softness table, lightly pressed": build(0.35, cell={"softness": SOFTNESS_TABLE}),
    "softness table, beyond its end": build(6.5, cell={"softness": SOFTNESS_TABLE}),
    "no growth": build(1.8, cell={"growth": {"per_capacity_lost": 0}}),
    "own growth": build(1.9, cell={"growth": {"per_capacity_lost": 0.25, "under_load": "80 %"}},
                        use={"capacity_loss": "0-3 %"}),
    "beyond 1 MPa": build(9.5, cell={"range": "0.2-1.5 MPa"}, use={"charge": "0-100 %"}),
}

BANDS = {
    "neither force nor range": build(1.9, cell={"makers_force": None}),
    "neither force nor range, a limit": build(2.4, walls="3 mm aluminium folded", cell={
        "makers_force": None, "limit": "110 kPa"}),
    "loose in a band from nothing": build(-0.4, cell={"range": "0-150 kPa"}),
    "as built the tightest": build(3.2, walls=None, build={"charge": "100 %"},
                                   use={"charge": "45-60 %"}),
    "as built too tight": build(2.4, build={"charge": "100 %"}, use={"charge": "45-60 %"}),
    "as built over the limit": build(2.2, cell={"limit": "120 kPa"}, use={"charge": "45-60 %"},
                                     build={"charge": "100 %"}),
    "range at assembly, too tight as built": build(
        2.2, cell={"range": {"low": "40 kPa", "high": "70 kPa", "applies_to": "assembly"}},
        use={"charge": "45-60 %"}, build={"charge": "100 %"}),
    "range in use": build(2.2, cell={"range": {"low": "30 kPa", "high": "20 psi",
                                               "applies_to": "use"}}),
    "range at assembly": build(2.4, cell={"range": {"low": "60 kPa", "high": "100 kPa",
                                                    "applies_to": "assembly"}}),
    "range at assembly, and a force": build(2.4, cell={
        "range": {"low": "60 kPa", "high": "100 kPa", "applies_to": "assembly"},
        "makers_force": FORCE}),
    "limit": build(1.8, cell={"limit": "130 kPa"}),
    "limit below the band's top": build(1.6, cell={"limit": "100 kPa"}),
    "too tight from the start": build(2.9, cell={"limit": "130 kPa"}),
    "always, with tolerance": build(1.9, cell={"makers_force": {"value": "240 kgf ±60",
                                                                "when": "always"}}),
    "always, one figure": build(2.0, cell={"makers_force": {"value": "530 lbf", "when": "always"}}),
    "never above": build(1.4, cell={"makers_force": {"value": "2.4 kN", "when": "never above"}}),
    "never above, and a limit": build(1.6, cell={
        "makers_force": {"value": "2.4 kN", "when": "never above"}, "limit": "120 kPa"}),
    "when not said": build(2.0, cell={"makers_force": "240 kgf"}),
    "capacity loss window": build(2.0, use={"capacity_loss": "1-4 %", "charge": "0-100 %",
                                            "temperature": "-10-45 C"}),
    "loose when empty": build(0.7, use={"charge": "0-90 %"}),
    "loose everywhere": build(-3.0),
    "by hand with a film": build(1.3, cell={"mass": "5.4 kg"}, build={
        "method": "hand", "slip_film": True, "charge": "20 %"}),
}

SHEETS = {
    "cut-outs": build(1.8, kit=[shim("one", "1 mm", material="PP", outline={
        "width": 130, "height": 170, "corner_radius": 4,
        "holes": [[[-30, -20], [30, -20], [30, 20], [-30, 20]], [[40, 50], [60, 50], [50, 75]]]})],
        cell={"limit": "160 kPa"}),
    "polygon sheets and films": build(1.8, sheets_mm=9 + 9 * 0.25 + 1.2, kit=[
        shim("one", "1 mm", modulus="3 GPa", outline={
            "points": [[-60, -80], [65, -80], [65, 70], [40, 85], [-60, 85]]})],
        fixed_sheets=[{"where": "every gap", "thickness": "0.25 mm", "material": "PET film"},
                      {"where": ["wall-1", "4-5"], "thickness": "0.6 mm"}]),
    "thick warm plastic": build(1.5, sheets_mm=9 * 4, kit=[
        shim("one", "4 mm", material="polypropylene")], use={"temperature": "-5-50 C"}),
    "foam table at the ends": build(5.5, pads_mm=12, pads=[pad(foam=FOAM)]),
    "foam lets go": build(1.4, pads_mm=12, pads=[pad(foam=FOAM)], use={"charge": "0-60 %"}),
    "foam barely pressed": build(0.6, pads_mm=12, pads=[pad(foam=FOAM)]),
    "foam pressed hard": build(9.6, pads_mm=12, pads=[pad(foam=FOAM)], cell={"range": "0.1-2 MPa"}),
    "foam beyond its last point": build(13.5, pads_mm=12, pads=[pad(foam=FOAM)],
                                        cell={"range": "0.1-2 MPa"}),
    "grade 5 barely pressed": build(1.0, pads_mm=12, pads=[pad(grade=5)]),
    "foam smaller than the face": build(
        5.0, walls=None, pads_mm=12, pads=[pad(foam=FOAM, outline={"width": 120, "height": 150})]),
    "grade 2 at the ends": build(5.5, pads_mm=12, pads=[pad(grade=2, insulates=True)]),
    "grades 1 and 4 between cells": build(
        14.0, walls="3 mm aluminium welded", pads_mm=7 * 4 + 5,
        pads=[{"where": "between cells", "thickness": 4, "grade": 1},
              {"where": "wall-1", "thickness": 5, "grade": 4}]),
    "rubber in every gap": build(
        1.7, pads_mm=9 * 2, pads=[{"where": "every gap", "thickness": 2, "rubber": {
            "e0": "2.2 MPa", "k": 0.73, "bulk": "1030 MPa"}}]),
    "grade 3, springy walls, films": build(
        5.0, walls="2.5 mm steel screwed", pads_mm=12, sheets_mm=9 * 1.25, pads=[pad(grade=3)],
        fixed_sheets=[{"where": "every gap", "thickness": "0.25 mm", "material": "PET film"}]),
    "grade 4, too tight as built": build(
        5.6, walls="3 mm aluminium folded", pads_mm=12, pads=[pad(grade=4)],
        build={"charge": "100 %"}, use={"charge": "45-60 %"}),
    "small thick rubber and foam": build(
        4.5, pads_mm=10 + 6, pads=[
            {"where": "wall-1", "thickness": 10, "rubber": {"e0": "1 MPa"},
             "outline": {"width": 80, "height": 60, "corner_radius": 10}},
            {"where": "8-wall", "thickness": 6, "foam": FOAM}]),
}


# --- Mixtures ---------------------------------------------------------------------------

def mixture(draw):
    """Any walls with any cells, law, band and pads, and figures of its own."""
    walls = draw.choice([RIGID, None, "3 mm aluminium folded", "2.5 mm steel welded",
                         {"bow": "0.7 mm", "at_force": "180 kgf"}])
    pads, pads_mm = draw.choice([
        ([], 0), ([], 0), ([pad(foam=FOAM)], 12), ([pad(grade=draw.randint(1, 5))], 12),
        ([pad(rubber={"e0": "1.8 MPa", "k": 0.64})], 12)])
    squeeze = 0 if not pads_mm or "rubber" in pads[0] else draw.uniform(1, 4)
    cells = draw_cells(draw)
    return build(
        draw.uniform(0.05, 0.35) * len(cells) + squeeze, walls=walls, pads_mm=pads_mm, pads=pads,
        cells=cells, cell=draw_cell(draw), measured_charge=f"{draw.randint(15, 80)} %",
        box={"width": draw.randint(141, 170), "height": draw.randint(183, 230)},
        use={"charge": f"{draw.randint(0, 25)}-{draw.randint(65, 100)} %",
             "temperature": f"{draw.randint(-10, 15)}-{draw.randint(25, 50)} C",
             "capacity_loss": draw.choice(["0 %", "0-2 %", "1-3 %"])},
        build={"charge": f"{draw.randint(15, 80)} %", "temperature": draw.randint(5, 35)})


def draw_cells(draw):
    spread = [round(e + draw.uniform(-0.05, 0.05), 2) for e in EIGHT[:draw.randint(2, 8)]]
    dome = draw.choice([0, 0, 0.3, 0.6, -0.2])
    return [{"edge": e, "signs": "none", **({"middle": round(e + dome * draw.uniform(0.5, 1), 2)}
                                           if dome else {})} for e in spread]


def draw_cell(draw):
    force, when = draw.randint(150, 300), draw.choice(["assembly", "always", "never above"])
    face = {"width": draw.randint(110, 141), "height": draw.randint(130, 183),
            "corner_radius": draw.randint(0, 6)}
    own = draw.choice([
        {"makers_force": {"value": f"{force} kgf ±{draw.randint(20, 60)}", "when": when}},
        {"range": f"{draw.randint(10, 40)}-{draw.randint(120, 200)} kPa", "limit": "320 kPa"},
        {"softness": {"a": f"{draw.randint(30, 120)} kPa", "b": draw.randint(120, 240)}},
        {"swing": {"net": f"{draw.uniform(0.3, 1):.2f} %",
                   "hump": f"{draw.uniform(0.1, 0.5):.2f} %"}},
        {"growth": {"per_capacity_lost": round(draw.uniform(0.05, 0.4), 3)}},
    ])
    return {"face": face, **own}


def mixtures(count):
    draw = random.Random(SEED)
    return {f"mixture {i + 1}": mixture(draw) for i in range(count)}


def eye_tests():
    """One column and many, with every figure there is."""
    some = {"pads_mm": 12, "pads": [pad(foam=FOAM)], "cell": {"limit": "160 kPa"}}
    return [build(5.5, **some),
            build(5.8, walls="3 mm aluminium folded", box=ROOMY, **some)]


def all_builds():
    return {**WALLS, **PLATES, **CELLS, **LAWS, **BANDS, **SHEETS, **mixtures(20)}
