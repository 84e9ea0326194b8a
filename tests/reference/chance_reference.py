# SPDX-License-Identifier: GPL-3.0-or-later
"""The chance that a row passes, by drawing its figures and solving every draw.

For: flat rows between rigid walls with the sheets named in "placed". The row is that of
pressure_reference.py; here each of its figures is drawn many times over, and every draw's row is
solved for what its own law, cells, sheets and box give, one array over all draws. Nothing is shared
with the program, and nothing is reduced to a curve or to a window of totals.
Not for: domes, pads, walls that bend, frames.

What model.md leaves open, and how the project settled it:
- what is read (calipers, box, row) is normal, as is the thickness of a kind of shims; "give or
  take" is half a 95 % span; calipers' 0.03 and 0.02 mm alone are standard deviations;
- cells' figures are lognormal about the figure that the answer itself takes, off by the square root
  of the table's high over low at 95 %: what the table calls 0.03 to 0.12 is that, a skew span keeps
  its width and not its ends;
- said figures: softness 25 %, swing 15 %, others 20 %; NMC's layer law counts as said;
- the charge when measured is off by one amount for all cells, which stay between empty and full;
  cells are built as they were measured, at their mean, unless a charge to build at is said;
- where a cell's temperature is not said, cells, sheets and box were measured at one temperature
  between 15 and 25 C, at which the row is then also built unless that is said;
- growth where it is said how far off it is: both of its figures in one;
- by hand the push on both faces is that of the row as built, its limit as said.
"""

import numpy as np

import laws
from build_text import GRAVITY, optional, quantity, span, temperature
from pressure_reference import (FRICTION, FRICTION_FILM, SWING_HUMP, SWING_NET, USE_C, USE_CHARGE,
                                Reference)

SEED = 20260611
HALF_95 = 1.959963984540054  # deviations
# model.md: 12 for readings (standard deviations), 3 and 9 for the others.
CALIPERS_COMMON_MM, CALIPERS_EACH_MM = 0.03, 0.02
BOX_MM, SHIMS = 0.4, 0.04  # give or take
CHARGE_DOUBT, SHIPPED_DOUBT = 0.10, 0.10
REFERENCE_C = (15.0, 25.0)
MORE_FORCE = (0.0, 0.20)   # m
# 2.5 % point, median, 97.5 % point.
SPAN_95 = {"squeeze": (0.03, 0.06, 0.12), "net": (0.3, 0.6, 1.0), "hump": (0.1, 0.3, 0.5),
           "growth": (0.05, 0.15, 0.4), "under_load": (0.2, 0.5, 1.0),
           "expansion": (20.0, 40.0, 100.0), "friction": (0.15, 0.30, 0.50),
           "film": (0.06, 0.12, 0.20)}
SAID = {"squeeze": 0.25, "net": 0.15, "hump": 0.15, "growth": 0.20, "under_load": 0.20,
        "expansion": 0.20}
HAND_N = 150.0
NEWTON_STEPS, CLOSE_MM = 30, 1e-9
# Ways in which the reference can be wrong on purpose (chance_check.py).
ERRORS = ("charge known", "calipers cell by cell", "no more force")


class DrawnRow(Reference):
    """A build's row, every uncertain figure an array over `samples` draws; error: one of ERRORS."""

    def __init__(self, build, source_dir, samples, error=None):
        super().__init__(build, source_dir)
        assert self.columns is None and not build.get("pads")
        self.samples, self.error = samples, error
        self.random = np.random.default_rng(SEED)
        self.doubt = build.get("uncertainty", {})
        self._draw_readings()
        self._draw_state()
        self._draw_cell()
        self.swollen_when_measured = sum(self.swells(each) for each in self.charges)
        self._draw_sheets()
        more = MORE_FORCE if error != "no more force" else (0.0, 0.0)
        self.more_force = 1 + self.random.uniform(*more, samples)

    # --- Draws --------------------------------------------------------------------------

    def _normal(self):
        return self.random.standard_normal(self.samples)

    def _about(self, kind, doubt_key):
        """A lognormal factor about 1; each half of it as wide as its own end of the span."""
        if doubt_key in self.doubt:
            least = most = 1 + quantity(self.doubt[doubt_key], "percent")
        elif self._is_said(kind):
            least = most = 1 + SAID[kind]
        else:
            low, middle, high = SPAN_95[kind]
            least, most = middle / low, high / middle
        z = self._normal() / HALF_95
        return np.where(z < 0, least, most) ** z

    def _is_said(self, kind):
        where = {"squeeze": ("softness", "a"), "net": ("swing", "net"), "hump": ("swing", "hump"),
                 "growth": ("growth", "per_capacity_lost"), "under_load": ("growth", "under_load")}
        if kind == "net" and self._chemistry() == "NMC":
            return True
        block, key = where.get(kind, (None, kind))
        return key in (self.cell.get(block, {}) if block else self.cell)

    def _draw_readings(self):
        """How much longer the row of cells is than read, and the box [mm]."""
        if "row" in self.build:
            off = optional(self.doubt, "row", "length", BOX_MM) / HALF_95
            self.cells_longer = off * self._normal()
        else:
            deviation = lambda key, default: (quantity(self.doubt[key], "length") / HALF_95
                                              if key in self.doubt else default)
            common = deviation("calipers", CALIPERS_COMMON_MM)
            if self.error == "calipers cell by cell":
                wrong = sum(common * self._normal() for _ in self.cells)
            else:
                wrong = self.count * common * self._normal()
            each = deviation("calipers_each", CALIPERS_EACH_MM)
            self.cells_longer = wrong + sum(each * self._normal() for _ in self.cells)
        off = optional(self.doubt, "box_length", "length", BOX_MM) / HALF_95
        self.box_mm = self.box.length + off * self._normal()

    def _draw_state(self):
        off = self._charge_off() * (self.error != "charge known")
        self.charges = [np.clip(cell.charge + off, 0, 1) for cell in self.cells]
        step = self.build.get("build", {})
        mean = sum(cell.charge for cell in self.cells) / self.count
        self.built_charge = (quantity(step["charge"], "charge") if "charge" in step
                             else np.clip(mean + off, 0, 1))
        self.reference = np.full(self.samples, 20.0)
        not_said = [reading for reading in self.build["cells"] if "temperature" not in reading]
        if not_said:
            self.reference = self.random.uniform(*REFERENCE_C, self.samples)
        self.measured_at = [temperature(reading["temperature"]) if "temperature" in reading
                            else self.reference for reading in self.build["cells"]]
        self.built_at = (temperature(step["temperature"]) if "temperature" in step
                         else self.reference)

    def _charge_off(self):
        if "charge" in self.doubt:
            doubt = quantity(self.doubt["charge"], "percent")
            return self.random.uniform(-doubt, doubt, self.samples)
        own = all("charge" in reading for reading in self.build["cells"])
        said = self.build.get("measured_charge", "as shipped")
        if said == "as shipped" and not own:
            return SHIPPED_DOUBT / HALF_95 * self._normal()
        low, high = (0.0, 0.0) if said == "as shipped" else span(said, "charge")
        doubt = (high - low) / 2 or CHARGE_DOUBT
        return self.random.uniform(-doubt, doubt, self.samples)

    def _draw_cell(self):
        self.law = laws.ExponentialCell(self.squeeze.a * self._about("squeeze", "softness"),
                                        self.squeeze.b)
        self.knots, self.layer = laws.layer(self.published, self._chemistry())
        said = self.cell.get("swing", {})
        if self._chemistry() == "NMC":
            net = optional(said, "net", "percent", self.layer[-1]) * self._about("net", "swing")
            self.stretch = net / self.layer[-1], 0.0
        else:
            net = optional(said, "net", "percent", SWING_NET) * self._about("net", "swing")
            hump = optional(said, "hump", "percent", SWING_HUMP) * self._about("hump", "swing")
            self.stretch = self._stretch_to(net, hump)
        self.expands = self.expansion * self._about("expansion", "expansion")
        self.grows = self.growth * self._about("growth", "growth")
        if "growth" not in self.doubt:
            self.grows = self.grows * self._about("under_load", "growth")

    def _stretch_to(self, net, hump):
        """Both factors are linear in both figures: those of one figure at a time, added up."""
        one = [laws.stretched(self.knots, self.layer, *figures)[1] for figures in ((1, 0), (0, 1))]
        both = [np.linalg.lstsq(np.stack([self.layer, self.knots], 1), each, rcond=None)[0]
                for each in one]
        return tuple(net * of_net + hump * of_hump for of_net, of_hump in zip(*both))

    def _draw_sheets(self):
        """[(length in mm, expansion, modulus)]: the pieces of a kind are alike."""
        off = optional(self.doubt, "shims", "percent", SHIMS) / HALF_95
        totals = {}
        for gap in self.build["placed"]:
            for piece in gap["sheets"]:
                totals[piece["name"]] = totals.get(piece["name"], 0) + piece["count"]
        kinds = [self._sheet(shim, totals.get(shim["name"], 0)) for shim in self.build["kit"]]
        self.piles = [(kind.count * kind.thickness * (1 + off * self._normal()), kind.expansion,
                       kind.law.modulus) for kind in kinds + self._fixed_sheets()]

    # --- Equilibrium of every draw --------------------------------------------------------

    def swells(self, charge):
        """Of the nominal thickness, beyond an empty cell."""
        scale, tilt = self.stretch
        return scale * np.interp(charge, self.knots, self.layer) + tilt * charge

    def too_long(self, charge, degrees, loss):
        """Free length of everything less the inner length [mm]."""
        warm = degrees - self.reference
        swollen = self.count * (self.swells(charge) + self.grows * loss)
        swollen = swollen - self.swollen_when_measured
        warmed = self.expands * sum(degrees - each for each in self.measured_at)
        cells = sum(cell.edge for cell in self.cells) + self.nominal * (swollen + warmed)
        sheets = sum(length * (1 + grows * warm) for length, grows, _ in self.piles)
        return cells + self.cells_longer + sheets - self.box_mm * (1 + self.box.expansion * warm)

    def pressure(self, too_long):
        """By Newton, from what cells alone would press with: never below 0, rising to the root."""
        length, wanted = self.count * self.nominal, np.maximum(too_long, 0)
        sheets = sum(pile / modulus for pile, _, modulus in self.piles)
        found = np.minimum(self.law.a * np.expm1(self.law.b * wanted / length), 1e3)
        for _ in range(NEWTON_STEPS):
            miss = length * self.law.strains(found) + sheets * found - wanted
            if np.abs(miss).max() < CLOSE_MM:
                return found
            slope = length * self.law.softnesses(found) + sheets
            found = np.maximum(found - miss / slope, 0)
        raise ArithmeticError("a draw's row was not solved")

    # --- The answer -----------------------------------------------------------------------

    def in_use(self):
        """(least, greatest) pressure of the states in use."""
        use = self.build.get("use", {})
        low, high = span(use["charge"], "charge") if "charge" in use else USE_CHARGE
        charges = [low, high, *(each for each in self.knots if low < each < high)]
        degrees = span(use["temperature"], "temperature") if "temperature" in use else USE_C
        losses = span(use["capacity_loss"], "ratio") if "capacity_loss" in use else (0.0, 0.0)
        least, greatest = np.inf, -np.inf
        for state in ((s, t, a) for s in charges for t in set(degrees) for a in set(losses)):
            too_long = self.too_long(*state)
            least, greatest = np.minimum(least, too_long), np.maximum(greatest, too_long)
        return self.pressure(least), self.pressure(greatest)

    def got_in(self, built):
        """By hand: whether the last cell can be pushed in between two others."""
        step = self.build.get("build", {})
        if step.get("method") != "hand":
            return np.ones(self.samples, bool)
        kind, usual = (("film", FRICTION_FILM) if step.get("slip_film")
                       else ("friction", FRICTION))
        friction = usual * self._about(kind, "friction")
        weight = optional(self.cell, "mass", "mass", 0.0) * GRAVITY
        return 2 * friction * built * self.area - weight <= optional(step, "push_limit", "force",
                                                                     HAND_N)

    def answer(self):
        """Shares of draws as the program prints them under `chance`, and the pressures drawn."""
        band, (lowest, highest) = self.band, self.in_use()
        built = self.pressure(self.too_long(self.built_charge, self.built_at, 0.0))
        build_low, build_high = band.build or (-np.inf, band.high)
        below = (lowest < band.low) | (lowest <= 0) | (built < build_low)
        judged = self.more_force * highest, self.more_force * built
        above = (judged[0] > band.high) | (judged[1] > build_high)
        above_limit = np.maximum(*judged) > (np.inf if band.limit is None else band.limit)
        kept = self.got_in(built)
        passes = ~below & ~above & ~above_limit & kept
        failing = {"below": below, "above": above, "above_limit": above_limit, "not_got_in": ~kept}
        return {"chance": passes.mean(),
                "failing": {why: each.mean() for why, each in failing.items()},
                "lowest": lowest, "as_built": built, "highest": highest}
