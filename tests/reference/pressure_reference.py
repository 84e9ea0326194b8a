# SPDX-License-Identifier: GPL-3.0-or-later
"""An independent reference for `stackfit pressure`: the row of model.md.

    python3 pressure_reference.py BUILD.json [SOURCE_DIR]

prints, as JSON, what the row gives for the sheets named in "placed". Written from model.md
(sections 1 to 7 and 9) and the published tables alone, on SciPy; it shares no line, no method
and no table of defaults with the program. Flat full-face rows between rigid walls are one column
here; all others are row_columns.py's.

What model.md leaves open, and how the project settled it:
- sheets and the box are as measured at 20 C; the box grows in length with its side walls' metal
  (else the end walls', else aluminium), a frame with its steel rods, sheets with theirs, pads not;
- measured charge: the cell's own, else that of all cells (middle of a span), else 35 %;
- the build state is at build.charge, else at the mean measured charge; 20 C; no capacity lost;
- a settled foam pad carries 0.6 sigma(max(0, eps - 0.1 eps_build)), eps_build being its strain in
  the build state with the same pads fresh;
- a cell without a reading is flat, at the data sheet's thickness, free of its force, at its charge;
- a row reading corrects all cells alike; what it is longer than the singles, a cell of which only
  the edge is known takes as its dome;
- a row stands in a frame's middle; all rods pull alike;
- walls stretch where, as plates that only bend, they would bow by more than half their thickness;
  a lid's later hold is then left out;
- an end wall is a plate as wide and high as the box inside (the face's sizes where not said); the
  cells stand on the floor in the middle of the width; screwed edges are held, folded and welded
  ones fixed, the top free unless named, and held for what comes after the build by a screwed lid;
- a wall known by its bow: the default screwed plate, as stiff as bows so at its middle under that
  force spread evenly over the face;
- two side walls stretch L / (E 2 t H): their own, else the end walls', thickness and metal;
- NMC: the layer law as it stands, scaled to a net where one is said (it has no hump to stretch);
- a softness table and a foam table: PCHIP as SciPy, beyond the last point along its slope there;
- a range that applies at assembly binds as built; the band in use is 0.25 times its low to 1.5
  times its high; without one, the build state (stiff edge) counts upwards in the margin, and always
  in the worst;
- no force and no range: as if 0.08 MPa had been said, and not when;
- a sheet counts for what lies on the face; of a limit and a "never above" force the lower binds;
- life ends when the highest pressure leaves the band upwards or passes a known limit; 0 to 1.
- gives: where the cells are thickest; interference where it is greatest, by domes alone.
"""

import json
import math
import os
import sys
from functools import cached_property, lru_cache
from itertools import product
from types import SimpleNamespace as Record

import numpy as np
from scipy.optimize import brentq

import laws
import row_columns
from box_of_build import Box, Frame, Materials
from build_text import (GRAVITY, data_sheet, load_build, optional, quantity, span, temperature,
                        toleranced)

# model.md, defaults by section.
REFERENCE_C = 20.0                      # 3
SHIPPED_CHARGE = 0.35                   # 3, as shipped: the middle of 30-40 %
SQUEEZE_A_MPA, SQUEEZE_B = 0.06, 180.0  # 3
SWING_NET, SWING_HUMP = 0.006, 0.003    # 3
GROWTH, GROWTH_UNDER_LOAD = 0.15, 0.5   # 3
CELL_EXPANSION = 40e-6                  # 3
SLACK_SHARE = 0.005                     # 3, of the nominal thickness
FOAM_KEEPS, FOAM_SET = 0.6, 0.1         # 4
RUBBER_K, RUBBER_BULK_MPA = 1.0, 1000.0
MARGIN = 0.10                           # 6, m
USE_CHARGE, USE_C = (0.1, 0.9), (5.0, 40.0)  # 7
FRICTION, FRICTION_FILM = 0.30, 0.12    # 9
ASSUMED_MPA = 0.08                      # 7, where neither force nor range is said
# 7: band of a single force, in parts of it.
BAND_OF_FORCE = {"assembly": (0.25, 1.5), "not said": (0.25, 1.5), "never above": (0.25, 0.8)}

READINGS = {"edge", "middle", "boards", "pressed"}
STANDINGS = ("inside", "below", "loose", "above", "above_limit")  # 7, worst last


def all_rows(build, source_dir):
    """A Reference for every row of a build; they share the walls."""
    said = build.get("rows", 1)
    said = said if isinstance(said, dict) else {"count": said}
    length = len(build["cells"]) // said["count"]
    rows = [Reference(one_row(build, number * length, length), source_dir)
            for number in range(said["count"])]
    for number, row in enumerate(rows):
        row.rows, row.number = rows, number
        row.between = optional(said, "between", "length", 0.0)
    return rows


def one_row(build, first, length):
    """The build of the cells from `first` on, with the sheets in their gaps."""
    names = [f"wall-{first + 1}", *(f"{first + i}-{first + i + 1}" for i in range(1, length)),
             f"{first + length}-wall"]
    return {**build, "cells": build["cells"][first:first + length],
            "placed": [gap for gap in build.get("placed", []) if gap["gap"] in names]}


class Reference:
    """The resolved row of one build, and every answer compared with the program's."""

    def __init__(self, build, source_dir):
        self.rows, self.number, self.between = [self], 0, 0.0
        self.published = os.path.join(source_dir, "fixtures", "published")
        self.materials = Materials(self.published)
        self.build = build
        self.cell = build["cell"]
        self._resolve_face()
        self._resolve_cell_laws()
        self._resolve_cells()
        self.band = self._band()
        self.sheets = self._placed_sheets() + self._fixed_sheets()
        self.box = self._box()

    # --- The cells ----------------------------------------------------------------------

    def _resolve_face(self):
        face = self.cell["face"]
        self.width = quantity(face["width"], "length")
        self.height = quantity(face["height"], "length")
        self.radius = quantity(face["corner_radius"], "length")
        self.area, self.perimeter = rounded_rectangle(self.width, self.height, self.radius)
        self.nominal, self.printed_charge, self.printed_force = data_sheet(self.cell["thickness"])

    def _resolve_cell_laws(self):
        soft = self.cell.get("softness", {})
        if "squeeze" in soft:
            self.squeeze = laws.Curve([quantity(s, "ratio") for s in soft["squeeze"]],
                                      [quantity(p, "pressure") for p in soft["pressure"]])
        else:
            a = quantity(soft["a"], "pressure") if "a" in soft else SQUEEZE_A_MPA
            self.squeeze = laws.ExponentialCell(a, soft.get("b", SQUEEZE_B))
        self.swing_charge, self.swing = self._swing()
        self.expansion = optional(self.cell, "expansion", "expansion", CELL_EXPANSION)
        growth = self.cell.get("growth", {})
        self.growth = (optional(growth, "per_capacity_lost", "ratio", GROWTH)
                       * optional(growth, "under_load", "ratio", GROWTH_UNDER_LOAD))

    def _swing(self):
        swing = self.cell.get("swing", {})
        if "percent" in swing:
            at = ([each / 100 for each in swing["charge_percent"]] if "charge_percent" in swing
                  else [quantity(each, "charge") for each in swing["charge"]])
            return np.array(at), np.array([quantity(p, "percent") for p in swing["percent"]])
        charge, change = laws.layer(self.published, self._chemistry())
        if self._chemistry() == "NMC":
            net = optional(swing, "net", "percent", change[-1])
            return charge, change * net / change[-1]
        return laws.stretched(charge, change, optional(swing, "net", "percent", SWING_NET),
                              optional(swing, "hump", "percent", SWING_HUMP))

    def _chemistry(self):
        return "NMC" if self.cell.get("chemistry", "LFP").startswith("NMC") else "LFP"

    def g(self, charge):
        return float(np.interp(charge, self.swing_charge, self.swing))

    def _resolve_cells(self):
        common = self._common_charge()
        self.cells = [self._one_cell(reading, common) for reading in self.build["cells"]]
        self.count = len(self.cells)
        if "row" in self.build:
            self._correct_to(quantity(self.build["row"], "length"))

    def _correct_to(self, row):
        """Spread over the cells what the row reads more (or less) than the singles."""
        each = (row - sum(cell.edge + max(0.0, cell.dome) for cell in self.cells)) / self.count
        for cell in self.cells:
            if each > 0 and cell.edge_only:
                cell.dome = each
            else:
                cell.edge += each

    def bulge(self, phi):
        """Of all cells together over their edges; a dome's slack closes at no force."""
        total = 0.0 * phi
        for cell in self.cells:
            slack = min(cell.dome, SLACK_SHARE * self.nominal)
            total += (np.maximum(0.0, cell.dome * phi - slack) if cell.dome > 0
                      else cell.dome * phi)
        return total

    def _common_charge(self):
        said = self.build.get("measured_charge", "as shipped")
        return SHIPPED_CHARGE if said == "as shipped" else sum(span(said, "charge")) / 2

    def _one_cell(self, reading, common_charge):
        read = READINGS & reading.keys()
        if not read:
            return self._printed_cell(common_charge)
        edge, dome = self._edge_and_dome(reading)
        return Record(
            edge=edge, dome=dome, edge_only=read == {"edge"},
            charge=optional(reading, "charge", "charge", common_charge),
            temperature=temperature(reading.get("temperature", REFERENCE_C)))

    def _printed_cell(self, common_charge):
        """As the data sheet prints it."""
        free = self.nominal
        if self.printed_force is not None:
            free += self.nominal * self.squeeze.strain(self.printed_force / self.area)
        charge = common_charge if self.printed_charge is None else self.printed_charge
        return Record(edge=free, dome=0.0, edge_only=False, charge=charge,
                      temperature=REFERENCE_C)

    def _edge_and_dome(self, reading):
        """Free edge thickness and dome [mm]; whatever was measured alone is taken as flat."""
        if "pressed" in reading:
            pressed = reading["pressed"]
            stress = quantity(pressed["force"], "force") / self.area
            return (quantity(pressed["value"], "length")
                    + self.nominal * self.squeeze.strain(stress), 0.0)
        highest = reading.get("boards", reading.get("middle"))
        if "edge" not in reading:
            return quantity(highest, "length"), 0.0
        edge = quantity(reading["edge"], "length")
        return edge, 0.0 if highest is None else quantity(highest, "length") - edge

    # --- The sheets ---------------------------------------------------------------------

    def _placed_sheets(self):
        kit = {shim["name"]: shim for shim in self.build.get("kit", [])}
        return [self._sheet(kit[sheet["name"]], sheet["count"])
                for gap in self.build.get("placed", []) for sheet in gap["sheets"]
                if sheet["count"]]

    def _fixed_sheets(self):
        return [self._sheet(sheet, self._places(sheet))
                for sheet in self.build.get("fixed_sheets", []) if self._places(sheet)]

    def _places(self, part):
        """In how many gaps a fixed sheet or a pad lies."""
        where = part["where"]
        if isinstance(where, list):
            return len(where)
        words = {"every gap": self.count + 1, "ends": 2, "between cells": self.count - 1}
        return words.get(where, 1)

    def _sheet(self, sheet, count):
        name = sheet.get("material", "polycarbonate")
        modulus = optional(sheet, "modulus", "pressure", self.materials.modulus(name))
        return Record(thickness=quantity(sheet["thickness"], "length"), count=count,
                      expansion=self.materials.expansion(name), law=laws.Linear(modulus),
                      outline=read_outline(sheet))

    def _loaded(self, outline):
        """(area, perimeter with that of the holes) of a pad."""
        if outline is None:
            return self.area, self.perimeter
        if "points" in outline:
            area, around = polygon(outline["points"])
        else:
            area, around = rounded_rectangle(outline["width"], outline["height"],
                                             outline["corner_radius"])
        for hole in outline["holes"]:
            cut, rim = polygon(hole)
            area, around = area - cut, around + rim
        return area, around

    @lru_cache(maxsize=None)
    def _pads(self, stiff):
        return [self._pad(pad, stiff) for pad in self.build.get("pads", [])]

    def _pad(self, pad, stiff):
        thickness = quantity(pad["thickness"], "length")
        outline = read_outline(pad)
        if "rubber" in pad:
            rubber = pad["rubber"]
            area, around = self._loaded(outline)
            law = laws.Linear(laws.rubber_modulus(
                quantity(rubber["e0"], "pressure"), rubber.get("k", RUBBER_K),
                optional(rubber, "bulk", "pressure", RUBBER_BULK_MPA), area, around, thickness))
        elif "foam" in pad:
            law = laws.Curve([quantity(s, "ratio") for s in pad["foam"]["strain"]],
                             [quantity(p, "pressure") for p in pad["foam"]["stress"]])
        else:
            law = laws.grade_curve(pad["grade"], stiff)
        return Record(thickness=thickness, count=self._places(pad), expansion=0.0, law=law,
                      outline=outline)

    def has_foam(self):
        return any("rubber" not in pad for pad in self.build.get("pads", []))

    def has_grades(self):
        return any("grade" in pad for pad in self.build.get("pads", []))

    # --- Columns ------------------------------------------------------------------------

    def _box(self):
        size = (self.width, self.height)
        if "frame" in self.build:
            return Frame(self.build["frame"], self.materials, size,
                         self.free_length(*self.build_state()))
        return Box(self.build["box"], self.materials, size)

    @cached_property
    def columns(self):
        """The columns of a row that needs them."""
        outlines = [part.outline for part in self.sheets + self._pads(False) if part.outline]
        across = len(self.rows) * (self.width + self.between) - self.between
        left = (self.box.width - across) / 2 + self.number * (self.width + self.between)
        face = row_columns.Face((left, self.box.floor), (self.width, self.height), self.radius,
                                row_columns.cuts_of(outlines))
        bulge = self.bulge(face.phi())
        whole = all(face.covers_all(outline) for outline in outlines)
        if self.box.rigid and whole and not bulge.any():
            return None
        cells = (self.count * self.nominal, self.squeeze)
        columns = row_columns.ColumnRow(face, cells, bulge, self.box)
        return columns.stretching() if self._bows_far(columns) else columns

    def _bows_far(self, columns):
        """In any state, as plates that only bend."""
        self.__dict__["columns"] = columns
        solved = [self.built(True)] + [self.later(*corner) for corner in self.outer_corners()]
        self.built.cache_clear()
        return any(columns.bows_far(each) for each in solved)

    # --- The band -----------------------------------------------------------------------

    def _force_line(self):
        line = self.cell.get("makers_force")
        line = {"value": line} if isinstance(line, str) else line
        if line is None:
            return None, None, None
        force, tolerance = toleranced(line["value"], "force")
        return force, tolerance, line.get("when", "not said")

    def _band(self):
        limit = optional(self.cell, "limit", "pressure", None)
        force, tolerance, when = self._force_line()
        if when == "never above":
            limit = min(force / self.area, limit if limit is not None else math.inf)
        if "range" in self.cell:
            said = self.cell["range"]
            low, high = read_range(said)
            if isinstance(said, dict) and said.get("applies_to") == "assembly":
                below, above = BAND_OF_FORCE["assembly"]
                return Record(low=below * low, high=above * high, limit=limit, build=(low, high))
            return Record(low=low, high=high, limit=limit, build=None)
        if force is None:
            force, when = ASSUMED_MPA * self.area, "not said"
        if when == "always" and tolerance is not None:
            low, high = force - tolerance, force + tolerance
        else:
            low, high = (force * part for part in BAND_OF_FORCE.get(when, (0.25, 1.5)))
        return Record(low=low / self.area, high=high / self.area, limit=limit, build=None)

    def standing(self, pressure, highest_local, loose):
        if self.band.limit is not None and (1 + MARGIN) * highest_local > self.band.limit:
            return "above_limit"
        if (1 + MARGIN) * pressure > self.band.high:
            return "above"
        if loose:
            return "loose"
        return "below" if pressure < self.band.low else "inside"

    def margin(self, states, built):
        """Least distance to the nearer end of the band, in parts of its width."""
        band = self.band
        found = [within(state.face_pressure_mpa, band.low, band.high) for state in states]
        if band.build:
            found += [within(state.face_pressure_mpa, *band.build) for state in built]
        else:
            found.append(below_top(built[-1].face_pressure_mpa, band.low, band.high))
        return min(found)

    @staticmethod
    def worst(states, built):
        """As built, too loose is no fault: use says what is."""
        counted = [state.standing for state in states]
        counted += [built[-1].standing] if built[-1].standing.startswith("above") else []
        return max(counted, key=STANDINGS.index)

    # --- Equilibrium --------------------------------------------------------------------

    def interference(self, charge, degrees, loss):
        """Free length of flat columns with every part minus the inner length [mm]."""
        warm = degrees - REFERENCE_C
        return (self.free_length(charge, degrees, loss)
                - self.box.length * (1 + self.box.expansion * warm))

    def free_length(self, charge, degrees, loss):
        cells = sum(cell.edge + self.nominal * (
            self.g(charge) - self.g(cell.charge) + self.growth * loss
            + self.expansion * (degrees - cell.temperature)) for cell in self.cells)
        return cells + sum(length for _, length in self.lengths(degrees))

    def lengths(self, degrees):
        """[(part, free length of all its pieces in mm)]."""
        warm = degrees - REFERENCE_C
        return [(part, part.count * part.thickness * (1 + part.expansion * warm))
                for part in self.sheets + self._pads(False)]

    def shortening(self, force, pads):
        """What cells, sheets, pads and box of one column give together under a force [mm]."""
        pressure = force / self.area
        cells = self.count * self.nominal * self.squeeze.strain(pressure)
        parts = sum(p.count * p.thickness * p.law.strain(pressure) for p in self.sheets + pads)
        return cells + parts + self.box.give * force

    def force(self, interference, pads):
        """(force [N], room left [mm]) of one column; one of them is zero."""
        over = lambda force: self.shortening(force, pads) - interference
        if over(0.0) >= 0:
            return 0.0, over(0.0)
        high = 1.0
        while over(high) < 0:
            high *= 4
        return brentq(over, 0, high, **laws.TIGHT), 0.0

    @lru_cache(maxsize=None)
    def _pads_in(self, stiff, settled):
        """Pads of one column."""
        fresh = self._pads(stiff)
        if not settled:
            return fresh
        force = self.force(self.interference(*self.build_state()), fresh)[0]
        return [self._settle(pad, force) for pad in fresh]

    def _settle(self, pad, build_force):
        if isinstance(pad.law, laws.Linear):
            return pad
        lost = FOAM_SET * pad.law.strain(build_force / self.area)
        return Record(**{**vars(pad), "law": pad.law.settled(FOAM_KEEPS, lost)})

    # --- Equilibrium of columns ---------------------------------------------------------

    @lru_cache(maxsize=None)
    def built(self, stiff):
        """Before a lid, with fresh pads."""
        pieces = [row.piece(*row.build_state(), False, stiff) for row in self.rows]
        return self.columns.solve(pieces, self.number)

    def later(self, charge, degrees, loss, settled, stiff):
        pieces = [row.piece(charge, degrees, loss, settled, stiff) for row in self.rows]
        return self.columns.solve(pieces, self.number, self.built(stiff))

    def piece(self, charge, degrees, loss, settled, stiff):
        """What presses here."""
        columns, pads = self.columns, self._kept(stiff) if settled else self._pads(stiff)
        beyond = columns.beyond(self.lengths(degrees))
        if settled:
            beyond = beyond - self._lost(stiff, self.built(stiff))
        return row_columns.Piece(columns.face, columns.law(self.sheets + pads), beyond,
                                 self.interference(charge, degrees, loss))

    @lru_cache(maxsize=None)
    def _kept(self, stiff):
        """Pads that carry what settling leaves; what it takes from them is in `_lost`."""
        return [pad if isinstance(pad.law, laws.Linear) else
                Record(**{**vars(pad), "law": pad.law.settled(FOAM_KEEPS, 0.0)})
                for pad in self._pads(stiff)]

    def _lost(self, stiff, built):
        """Thickness that foam loses by settling, column by column [mm]."""
        return sum(FOAM_SET * pad.count * pad.thickness * pad.law.strains(built.pressures)
                   * self.columns.face.under(pad.outline)
                   for pad in self._pads(stiff) if not isinstance(pad.law, laws.Linear))

    # --- States -------------------------------------------------------------------------

    def build_state(self):
        """(charge, temperature, capacity lost)."""
        step = self.build.get("build", {})
        mean = sum(cell.charge for cell in self.cells) / self.count
        return (optional(step, "charge", "charge", mean),
                temperature(step.get("temperature", REFERENCE_C)), 0.0)

    def solve(self, charge, degrees, loss, settled, stiff, as_built=False):
        if self.columns:
            solved = (self.built(stiff) if as_built
                      else self.later(charge, degrees, loss, settled, stiff))
            room = max(0.0, -self.columns.face.greatest(solved.free)) * (solved.force == 0)
        else:
            solved, room = self._solve_one(charge, degrees, loss, settled, stiff)
        pressure = solved.force / self.area
        return Record(charge=charge, temperature_c=degrees, capacity_loss=loss, settled=settled,
                      stiff_pads=stiff, force_n=solved.force, face_pressure_mpa=pressure,
                      highest_local_mpa=solved.highest, lowest_local_mpa=solved.lowest,
                      contact_share=solved.contact, loose_by_mm=room,
                      standing=self.standing(pressure, solved.highest, solved.force == 0))

    def _solve_one(self, charge, degrees, loss, settled, stiff):
        pads = self._pads_in(stiff, settled)
        force, room = self.force(self.interference(charge, degrees, loss), pads)
        pressure = force / self.area
        return Record(force=force, highest=pressure, lowest=pressure,
                      contact=float(force > 0)), room

    def window(self):
        """Charges of the thinnest and of the thickest cells in use: ends and knots of the swing."""
        use = self.build.get("use", {})
        low, high = span(use["charge"], "charge") if "charge" in use else USE_CHARGE
        tried = [low, high, *(s for s in self.swing_charge.tolist() if low < s < high)]
        return min(tried, key=self.g), max(tried, key=self.g)

    def pad_states(self):
        """Settled or fresh, lower or upper edge of a grade."""
        return product((False, True) if self.has_foam() else (False,),
                       (False, True) if self.has_grades() else (False,))

    def temperatures(self):
        use = self.build.get("use", {})
        said = span(use["temperature"], "temperature") if "temperature" in use else USE_C
        return sorted(set(said))

    def losses(self):
        use = self.build.get("use", {})
        said = span(use["capacity_loss"], "ratio") if "capacity_loss" in use else (0.0,)
        return sorted(set(said))

    def corners(self, pads=None):
        """(charge, temperature, capacity lost, settled, stiff pads) of every state in use."""
        return [(charge, degrees, loss, *kind) for degrees, loss, kind in product(
            self.temperatures(), self.losses(), [pads] if pads else self.pad_states())
            for charge in self.window()]

    def states(self):
        """Of columns only those that can be lowest or highest: the loosest, tightest row."""
        if not self.columns:
            return [self.solve(*corner) for corner in self.corners()]
        return [self.solve(*corner) for corner in self.outer_corners()]

    def outer_corners(self):
        """Of every kind of pads the loosest row and the tightest."""
        length = lambda corner: self.interference(*corner[:3])
        each = (sorted(self.corners(pads), key=length) for pads in self.pad_states())
        return [corner for mine in each for corner in (mine[0], mine[-1])]

    def life(self):
        """Capacity lost when the highest pressure of any corner is too high; of one column."""
        thick = self.window()[1]
        force = self.highest_pressure() * self.area
        room = min(self.shortening(force, self._pads_in(stiff, settled))
                   - self.interference(thick, degrees, 0.0)
                   for degrees in self.temperatures() for settled, stiff in self.pad_states())
        if room <= 0:
            return 0.0
        per_loss = self.growth_per_loss()
        return min(1.0, room / per_loss) if per_loss > 0 else 1.0

    def worn(self, loss):
        """How far the tightest of all corners has come, at this loss, to the band's top or the
        limit: 1 when there."""
        limit = self.band.limit or math.inf
        aged = {(charge, degrees, loss, *pads)
                for charge, degrees, _, *pads in self.outer_corners()[1::2]}
        return max((1 + MARGIN) * max(state.face_pressure_mpa / self.band.high,
                                      state.highest_local_mpa / limit)
                   for state in (self.solve(*corner) for corner in aged))

    def highest_pressure(self):
        """At the band's top or at the limit, the model's margin allowed for [MPa]."""
        return min(self.band.high, self.band.limit or math.inf) / (1 + MARGIN)

    def growth_per_loss(self):
        """Lengthening of the row per capacity lost [mm]."""
        return self.count * self.nominal * self.growth

    # --- The answer ---------------------------------------------------------------------

    def push(self, force):
        """Sliding the last cell in between two neighbours, both faces alike."""
        mu = FRICTION_FILM if self.build.get("build", {}).get("slip_film") else FRICTION
        return max(0.0, 2 * mu * force - optional(self.cell, "mass", "mass", 0.0) * GRAVITY)

    def answer(self):
        states = self.states()
        edges = (False, True) if self.has_grades() else (False,)
        built = [self.solve(*self.build_state(), False, stiff, as_built=True) for stiff in edges]
        # Without pressure, the roomiest is the lowest.
        rank = lambda state: (state.face_pressure_mpa, -state.loose_by_mm)
        return Record(as_built=built, states=states, lowest=min(states, key=rank),
                      highest=max(states, key=rank), band=self.band,
                      life=None if self.columns else self.life(),
                      gives=[self.gives(state) for state in built],
                      worst=self.worst(states, built),
                      margin=self.margin(states, built),
                      push_n=[self.push(state.force_n) for state in built],
                      face_area_mm2=self.area)

    def interferences(self):
        """As built: where it is greatest, where cells are flat, in their middle. In a frame, which
        has no length of its own, 0 where it is greatest."""
        flat, greatest, middle = self.interference(*self.build_state()), 0.0, 0.0
        if self.columns:
            face, bulge = self.columns.face, self.columns.bulge
            greatest, middle = face.greatest(bulge), face.in_the_middle(bulge)
        flat = -greatest if self.box.rods else flat
        return {"interference_mm": flat + greatest, "interference_edge_mm": flat,
                "interference_middle_mm": flat + middle}

    def gives(self, built):
        """Who gives how much as built [mm]; of columns where cells are thickest."""
        if self.columns:
            return self._gives_of_columns(built.stiff_pads)
        strain = lambda law: law.strain(built.face_pressure_mpa)
        part = lambda p: p.count * p.thickness * strain(p.law)
        return Record(cells_give_mm=self.count * self.nominal * strain(self.squeeze),
                      sheets_give_mm=sum(map(part, self.sheets)),
                      pads_give_mm=sum(map(part, self._pads(built.stiff_pads))),
                      walls_give_mm=self.box.give * built.force_n)

    def _gives_of_columns(self, stiff):
        """Everywhere or in the middle, by the mean over the force. None where that is no one
        place: along a rim, and where one of several rows is domed."""
        solved, face = self.built(stiff), self.columns.face
        thickest = face.thickest(self.columns.bulge)
        domed = any(row.columns.bulge.any() for row in self.rows)
        if thickest is None or domed and len(self.rows) > 1:
            return None
        mean = lambda field: face.mean(field, thickest * solved.pressures)
        strain = lambda law: law.strains(solved.pressures)
        part = lambda p: mean(p.count * p.thickness * strain(p.law) * face.under(p.outline))
        box = 0.0 if self.box.rods else solved.longer_mm
        return Record(cells_give_mm=mean(self.count * self.nominal * strain(self.squeeze)),
                      sheets_give_mm=sum(map(part, self.sheets)),
                      pads_give_mm=sum(map(part, self._pads(stiff))),
                      walls_give_mm=mean(solved.bow + box))


# --- Small things ---------------------------------------------------------------------------

def within(pressure, low, high):
    """Distance to the nearer end, in parts of the width; above is judged with the margin m."""
    return min((pressure - low) / (high - low), below_top(pressure, low, high))


def below_top(pressure, low, high):
    return (high - (1 + MARGIN) * pressure) / (high - low)


def read_range(said):
    if isinstance(said, str):
        return span(said, "pressure")
    return quantity(said["low"], "pressure"), quantity(said["high"], "pressure")


def read_outline(part):
    """The outline of a sheet or pad in mm, or None where it covers the face."""
    said = part.get("outline")
    if said is None:
        return None
    points = lambda shape: [tuple(quantity(each, "length") for each in point) for point in shape]
    holes = [points(hole) for hole in said.get("holes", [])]
    if "points" in said:
        return {"points": points(said["points"]), "holes": holes}
    sizes = ("width", "height", "corner_radius")
    return {**{key: optional(said, key, "length", 0.0) for key in sizes}, "holes": holes}


def rounded_rectangle(width, height, radius):
    """(area, perimeter)."""
    return (width * height - (4 - math.pi) * radius**2,
            2 * (width + height) - (8 - 2 * math.pi) * radius)


def polygon(points):
    """(area, perimeter)."""
    pairs = list(zip(points, points[1:] + points[:1]))
    twice = sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs)
    return abs(twice) / 2, sum(math.dist(a, b) for a, b in pairs)


def main():
    source_dir = sys.argv[2] if len(sys.argv) > 2 else os.path.join(os.path.dirname(
        os.path.abspath(__file__)), "..", "..")
    answers = [row.answer() for row in all_rows(load_build(sys.argv[1]), source_dir)]
    print(json.dumps(answers, default=vars, indent=1))


if __name__ == "__main__":
    main()
