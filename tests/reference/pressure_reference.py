# SPDX-License-Identifier: GPL-3.0-or-later
"""An independent reference for `stackfit pressure`: the one-column row of model.md.

    python3 pressure_reference.py BUILD.json [SOURCE_DIR]

prints, as JSON, what the row gives for the sheets named in "placed". Written from model.md
(sections 1 to 4, 7 and 9) and the published tables alone, on SciPy; it shares no line, no method
and no table of defaults with the program.

What model.md leaves open, and how the project settled it:
- sheets and the box are as measured at 20 C; the box grows in length with the end walls' metal
  (aluminium where not said), sheets with theirs, pads not at all;
- measured charge: the cell's own, else that of all cells (middle of a span), else 35 %;
- the build state is at build.charge, else at the mean measured charge; 20 C; no capacity lost;
- a settled foam pad carries 0.6 sigma(max(0, eps - 0.1 eps_build)), eps_build being its strain in
  the build state with the same pads fresh;
- a cell without a reading is flat, at the data sheet's thickness, free of its force, at its charge;
- a row reading corrects all cells alike; what it is longer than the singles, a cell of which only
  the edge is known takes as its dome;
- give of the end walls: mean over the pressed patch, the face standing on the floor in the middle
  of the inner width; missing inner sizes are the face's; pressed by a row as springy as its cells,
  fixed sheets and fresh pads (stiff edge) are together in the middle of the band in use;
- a wall known by its bow: that bow times mean over middle of the default screwed plate;
- two side walls stretch L / (E 2 t H): their own, else the end walls', thickness and metal;
- NMC: the layer law as it stands, scaled to a net where one is said (it has no hump to stretch);
- a softness table and a foam table: PCHIP as SciPy, beyond the last point along its slope there;
- a range that applies at assembly binds as built; the band in use is 0.25 times its low to 1.5
  times its high; without one, the build state (stiff edge) counts upwards in the margin, and always
  in the worst;
- no force and no range: as if 0.08 MPa had been said, and not when;
- a sheet counts for what lies on the face; of a limit and a "never above" force the lower binds;
- life ends when the highest pressure leaves the band upwards or passes a known limit; 0 to 1.
"""

import json
import math
import os
import sys
from functools import lru_cache
from itertools import product
from types import SimpleNamespace as Record

import numpy as np
from scipy.optimize import brentq

import laws
from build_text import (GRAVITY, data_sheet, load_build, quantity, span, temperature,
                        toleranced)
from plate_give import Plate

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
WALL_MM = 2.0                           # 5, screwed aluminium
MARGIN = 0.10                           # 6, m
USE_CHARGE, USE_C = (0.1, 0.9), (5.0, 40.0)  # 7
FRICTION, FRICTION_FILM = 0.30, 0.12    # 9
ASSUMED_MPA = 0.08                      # 7, where neither force nor range is said
# 7: band of a single force, in parts of it.
BAND_OF_FORCE = {"assembly": (0.25, 1.5), "not said": (0.25, 1.5), "never above": (0.25, 0.8)}

READINGS = {"edge", "middle", "boards", "pressed"}
STANDINGS = ("inside", "below", "loose", "above", "above_limit")  # 7, worst last

# The names a build file may use, as the tables spell them.
SHEET_TABLE_NAME = {"PP": "polypropylene", "PET": "PET film", "glass-epoxy": "glass-epoxy laminate",
                    "aluminum": "aluminium", "steel": "carbon steel",
                    "stainless steel": "stainless steel 304", "stainless": "stainless steel 304"}
# Poisson's ratio: block3d.csv for aluminium, Callister's Table B.3 for the steels.
POISSON = {"aluminium": 0.33, "carbon steel": 0.30, "stainless steel 304": 0.30}


class Reference:
    """The resolved row of one build, and every answer compared with the program's."""

    def __init__(self, build, source_dir):
        self.published = os.path.join(source_dir, "fixtures", "published")
        self.materials = {row["material"]: row for row in laws.read_csv(
            os.path.join(self.published, "materials.csv"))}
        self.build = build
        self.cell = build["cell"]
        self._resolve_face()
        self._resolve_cell_laws()
        self._resolve_cells()
        self.band = self._band()
        self._resolve_box()
        self.sheets = self._placed_sheets() + self._fixed_sheets()

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
                cell.dome, cell.mean = each, cell.edge + self._mean_bulge(each)
            else:
                cell.edge, cell.mean = cell.edge + each, cell.mean + each

    def _mean_bulge(self, dome):
        return laws.mean_bulge(dome, min(dome, SLACK_SHARE * self.nominal)) if dome else 0.0

    def _common_charge(self):
        said = self.build.get("measured_charge", "as shipped")
        return SHIPPED_CHARGE if said == "as shipped" else sum(span(said, "charge")) / 2

    def _one_cell(self, reading, common_charge):
        read = READINGS & reading.keys()
        if not read:
            return self._printed_cell(common_charge)
        edge, dome = self._edge_and_dome(reading)
        return Record(
            edge=edge, dome=dome, mean=edge + self._mean_bulge(dome), edge_only=read == {"edge"},
            charge=optional(reading, "charge", "charge", common_charge),
            temperature=temperature(reading.get("temperature", REFERENCE_C)))

    def _printed_cell(self, common_charge):
        """As the data sheet prints it."""
        free = self.nominal
        if self.printed_force is not None:
            free += self.nominal * self.squeeze.strain(self.printed_force / self.area)
        charge = common_charge if self.printed_charge is None else self.printed_charge
        return Record(edge=free, dome=0.0, mean=free, edge_only=False, charge=charge,
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

    def _material(self, name):
        row = self.materials[SHEET_TABLE_NAME.get(name, name)]
        return float(row["E_MPa"]), float(row["CTE_per_K"])

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
        modulus, expansion = self._material(sheet.get("material", "polycarbonate"))
        modulus = optional(sheet, "modulus", "pressure", modulus)
        return Record(thickness=quantity(sheet["thickness"], "length"), count=count,
                      expansion=expansion, law=laws.Linear(modulus), area=self._outline(sheet)[0])

    def _outline(self, part):
        """(area, perimeter with that of the holes)."""
        outline = part.get("outline")
        if outline is None:
            return self.area, self.perimeter
        if "points" in outline:
            area, around = polygon(outline["points"])
        else:
            area, around = rounded_rectangle(quantity(outline["width"], "length"),
                                             quantity(outline["height"], "length"),
                                             optional(outline, "corner_radius", "length", 0.0))
        for hole in outline.get("holes", []):
            cut, rim = polygon(hole)
            area, around = area - cut, around + rim
        return area, around

    def _pads(self, stiff):
        return [self._pad(pad, stiff) for pad in self.build.get("pads", [])]

    def _pad(self, pad, stiff):
        thickness = quantity(pad["thickness"], "length")
        area, around = self._outline(pad)
        if "rubber" in pad:
            rubber = pad["rubber"]
            law = laws.Linear(laws.rubber_modulus(
                quantity(rubber["e0"], "pressure"), rubber.get("k", RUBBER_K),
                optional(rubber, "bulk", "pressure", RUBBER_BULK_MPA), area, around, thickness))
        elif "foam" in pad:
            law = laws.Curve([quantity(s, "ratio") for s in pad["foam"]["strain"]],
                             [quantity(p, "pressure") for p in pad["foam"]["stress"]])
        else:
            law = laws.grade_curve(pad["grade"], stiff)
        return Record(thickness=thickness, count=self._places(pad), expansion=0.0, law=law,
                      area=area)

    def has_foam(self):
        return any("rubber" not in pad for pad in self.build.get("pads", []))

    def has_grades(self):
        return any("grade" in pad for pad in self.build.get("pads", []))

    # --- The box ------------------------------------------------------------------------

    def _resolve_box(self):
        box = self.build["box"]
        inner = box["inner"]
        length = inner["length"]
        readings = length if isinstance(length, list) else [length]
        self.length = sum(quantity(each, "length") for each in readings) / len(readings)
        self.inner_width = optional(inner, "width", "length", self.width)
        self.inner_height = optional(inner, "height", "length", self.height)
        self.walls = walls = as_wall(box.get("end_walls", {}))
        self.wall_expansion = self._material(walls.get("material", "aluminium"))[1]
        self.give = self._end_walls_give(walls) + self._side_wall_give(walls)

    def _end_walls_give(self, walls):
        """Of both together [mm/N]."""
        if walls.get("rigid"):
            return 0.0
        if "bow" in walls:
            mean, middle = self._plate({}).even()
            at_middle = quantity(walls["bow"], "length") / quantity(walls["at_force"], "force")
            return 2 * at_middle * mean / middle
        return self._plate(walls).two_and_springs(self.row_stiffness())

    def row_stiffness(self):
        """k [MPa/mm]: of cells, fixed sheets and fresh pads, in the middle of the band."""
        middle = (self.band.low + self.band.high) / 2
        force = middle * self.area
        parts = sum(p.count * p.thickness * p.law.softness(force / p.area) / p.area
                    for p in self._fixed_sheets() + self._pads(True))
        cells = self.count * self.nominal * self.squeeze.softness(middle) / self.area
        return 1 / (self.area * (cells + parts))

    def _plate(self, walls):
        name = walls.get("material", "aluminium")
        nu = POISSON[SHEET_TABLE_NAME.get(name, name)]
        thickness = optional(walls, "thickness", "length", WALL_MM)
        stiffness = self._material(name)[0] * thickness**3 / (12 * (1 - nu**2))
        sides = "fixed" if walls.get("joint") in ("folded", "welded") else "held"
        left = (self.inner_width - self.width) / 2
        return Plate(self.inner_width, self.inner_height, stiffness, nu,
                     (sides, sides, sides, "free"),
                     ((left, left + self.width), (0.0, self.height)))

    def _side_wall_give(self, walls):
        if walls.get("rigid"):
            return 0.0
        sides = {**walls, **self.build["box"].get("side_walls", {})}
        modulus = self._material(sides.get("material", "aluminium"))[0]
        thickness = optional(sides, "thickness", "length", WALL_MM)
        return self.length / (modulus * 2 * thickness * self.inner_height)

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
        """Free length of everything in the row minus the inner length [mm], mean over the face."""
        cells = sum(cell.mean + self.nominal * (
            self.g(charge) - self.g(cell.charge) + self.growth * loss
            + self.expansion * (degrees - cell.temperature)) for cell in self.cells)
        warm = degrees - REFERENCE_C
        sheets = sum(s.count * s.thickness * (1 + s.expansion * warm) for s in self.sheets)
        pads = sum(pad.count * pad.thickness for pad in self._pads(False))
        return cells + sheets + pads - self.length * (1 + self.wall_expansion * warm)

    def shortening(self, force, pads):
        """What cells, sheets, pads and box give together under a force [mm]."""
        cells = self.count * self.nominal * self.squeeze.strain(force / self.area)
        parts = sum(p.count * p.thickness * p.law.strain(force / p.area)
                    for p in self.sheets + pads)
        return cells + parts + self.give * force

    def force(self, interference, pads):
        """(force [N], room left [mm]); one of them is zero."""
        over = lambda force: self.shortening(force, pads) - interference
        if over(0.0) >= 0:
            return 0.0, over(0.0)
        high = 1.0
        while over(high) < 0:
            high *= 4
        return brentq(over, 0, high, **laws.TIGHT), 0.0

    @lru_cache(maxsize=None)
    def _pads_in(self, stiff, settled):
        fresh = self._pads(stiff)
        if not settled:
            return fresh
        force = self.force(self.interference(*self.build_state()), fresh)[0]
        return [self._settle(pad, force) for pad in fresh]

    @staticmethod
    def _settle(pad, build_force):
        if isinstance(pad.law, laws.Linear):
            return pad
        strain = pad.law.strain(build_force / pad.area)
        return Record(**{**vars(pad), "law": pad.law.settled(FOAM_KEEPS, FOAM_SET * strain)})

    # --- States -------------------------------------------------------------------------

    def build_state(self):
        """(charge, temperature, capacity lost)."""
        step = self.build.get("build", {})
        mean = sum(cell.charge for cell in self.cells) / self.count
        return (optional(step, "charge", "charge", mean),
                temperature(step.get("temperature", REFERENCE_C)), 0.0)

    def solve(self, charge, degrees, loss, settled, stiff):
        pads = self._pads_in(stiff, settled)
        force, loose = self.force(self.interference(charge, degrees, loss), pads)
        covered = self._least_area(pads)
        return Record(charge=charge, temperature_c=degrees, capacity_loss=loss, settled=settled,
                      stiff_pads=stiff, force_n=force, face_pressure_mpa=force / self.area,
                      highest_local_mpa=force / covered, loose_by_mm=loose,
                      standing=self.standing(force / self.area, force / covered, force == 0))

    def _least_area(self, pads):
        return min([self.area, *(part.area for part in self.sheets + pads)])

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

    def states(self):
        thin, thick = self.window()
        corners = product(self.temperatures(), self.losses(), self.pad_states())
        return [self.solve(charge, degrees, loss, settled, stiff)
                for degrees, loss, (settled, stiff) in corners for charge in (thin, thick)]

    def life(self):
        """Capacity lost when the highest pressure of any corner is too high."""
        thick = self.window()[1]
        force = self.highest_force()
        room = min(self.shortening(force, self._pads_in(stiff, settled))
                   - self.interference(thick, degrees, 0.0)
                   for degrees in self.temperatures() for settled, stiff in self.pad_states())
        if room <= 0:
            return 0.0
        per_loss = self.growth_per_loss()
        return min(1.0, room / per_loss) if per_loss > 0 else 1.0

    def highest_force(self):
        """At the band's top or at the limit, the model's margin allowed for [N]."""
        force = self.band.high * self.area
        if self.band.limit is not None:
            force = min(force, self.band.limit * self._least_area(self._pads(False)))
        return force / (1 + MARGIN)

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
        built = [self.solve(*self.build_state(), False, stiff) for stiff in edges]
        # Without pressure, the roomiest is the lowest.
        rank = lambda state: (state.face_pressure_mpa, -state.loose_by_mm)
        return Record(as_built=built, states=states, lowest=min(states, key=rank),
                      highest=max(states, key=rank), band=self.band,
                      interference_mm=self.interference(*self.build_state()), life=self.life(),
                      gives=[self.gives(state) for state in built],
                      worst=self.worst(states, built),
                      margin=self.margin(states, built),
                      push_n=[self.push(state.force_n) for state in built],
                      face_area_mm2=self.area)

    def gives(self, built):
        """Who gives how much as built [mm]."""
        part = lambda p: p.count * p.thickness * p.law.strain(built.force_n / p.area)
        return Record(
            cells_give_mm=self.count * self.nominal * self.squeeze.strain(built.face_pressure_mpa),
            sheets_give_mm=sum(map(part, self.sheets)),
            pads_give_mm=sum(map(part, self._pads(built.stiff_pads))),
            walls_give_mm=self.give * built.force_n)


# --- Small things ---------------------------------------------------------------------------

def optional(holder, key, kind, default):
    return quantity(holder[key], kind) if key in holder else default


def within(pressure, low, high):
    """Distance to the nearer end, in parts of the width; above is judged with the margin m."""
    return min((pressure - low) / (high - low), below_top(pressure, low, high))


def below_top(pressure, low, high):
    return (high - (1 + MARGIN) * pressure) / (high - low)


def read_range(said):
    if isinstance(said, str):
        return span(said, "pressure")
    return quantity(said["low"], "pressure"), quantity(said["high"], "pressure")


def as_wall(said):
    """`3 mm aluminium folded` in { }."""
    if isinstance(said, dict):
        return said
    wall = {}
    words = said.replace(" mm", "mm").split()
    for word in [w for w in words if w in ("folded", "welded", "screwed")]:
        wall["joint"] = word
        words.remove(word)
    for word in [w for w in words if w[0].isdigit()]:
        wall["thickness"] = word
        words.remove(word)
    return {**wall, "material": " ".join(words)} if words else wall


def rounded_rectangle(width, height, radius):
    """(area, perimeter)."""
    return (width * height - (4 - math.pi) * radius**2,
            2 * (width + height) - (8 - 2 * math.pi) * radius)


def polygon(points):
    """(area, perimeter)."""
    at = [tuple(quantity(each, "length") for each in point) for point in points]
    pairs = list(zip(at, at[1:] + at[:1]))
    twice = sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs)
    return abs(twice) / 2, sum(math.dist(a, b) for a, b in pairs)


def main():
    source_dir = sys.argv[2] if len(sys.argv) > 2 else os.path.join(os.path.dirname(
        os.path.abspath(__file__)), "..", "..")
    answer = Reference(load_build(sys.argv[1]), source_dir).answer()
    print(json.dumps(answer, default=vars, indent=1))


if __name__ == "__main__":
    main()
