# SPDX-License-Identifier: GPL-3.0-or-later
"""What box and kit a row between rigid walls needs: the reference for `stackfit size`.

The row itself is pressure_reference.py's; nothing here knows how the program sizes a box. What
model.md leaves open, and how the project settled it:
- a batch is so much thicker in all cells alike; every gap holds one sheet at least;
- the least kit: fewest kinds (two at most), then fewest sheets, then the shorter box, then the
  thinner kit; six sheets for every gap, or twelve, are the most;
- a kit's totals serve together where no two neighbours are further apart than the window;
- no kit needs more than its thickest in every gap and the batch's spread on top: the window of
  one total is the least over all totals up to that one.
"""

import math
from functools import lru_cache
from itertools import combinations
from types import SimpleNamespace as Record

import numpy as np
from scipy.optimize import brentq

import laws
from pressure_reference import MARGIN, Reference

MOST_KINDS = 2
MOST_SHEETS_A_GAP, LEAST_MOST_SHEETS = 6, 12
CALIPERS_COMMON, CALIPERS_EACH = 0.03, 0.02  # mm, model.md 12
CHARGE_DOUBT = 0.10                          # of the charge when measured, either way
LOT_SHARE = 0.8                              # model.md 10
KNOTS = 4    # of totals, from the least to the most asked for
THIN = 1e-9  # mm


class SizedRow:
    """A row, thicker by thicker_mm in all, in a box of any length with any total of sheets."""

    def __init__(self, build, source_dir, thicker_mm=0.0):
        count = len(build.get("cells", [])) or build["series"]
        box = {**build["box"], "inner": {**build["box"]["inner"], "length": 1.0}}
        cells = build.get("cells") or [{}] * count
        self.row = Reference({**build, "cells": cells, "box": box}, source_dir)
        for cell in self.row.cells:
            cell.edge += thicker_mm / count
        self.row.g = lru_cache(maxsize=None)(self.row.g)  # asked for at every length tried
        self.due = gaps_due(count, build)
        material = build["order"].get("sheet_material", "glass-epoxy")
        self.fixed = self.row.sheets
        self.sheet = Record(count=1, outline=None, thickness=0.0,
                            expansion=self.row.materials.expansion(material),
                            law=laws.Linear(self.row.materials.modulus(material)))
        assert self.row.box.rigid and self.row.columns is None

    def cells_mm(self):
        """All cells, free, as they were measured."""
        return sum(cell.edge for cell in self.row.cells)

    def charge_doubt_mm(self):
        """By how much all cells are off where all were measured at another charge than said."""
        row, at = self.row, self.row.cells[0].charge
        low, high = max(0.0, at - CHARGE_DOUBT), min(1.0, at + CHARGE_DOUBT)
        tried = [low, high, *(s for s in row.swing_charge.tolist() if low < s < high)]
        return row.count * row.nominal * max(abs(row.g(each) - row.g(at)) for each in tried)

    def _pressures(self, length, total):
        """(in use, as built), all states [MPa]."""
        self.row.box.length = length
        self.row.sheets = [*self.fixed, Record(**{**vars(self.sheet), "thickness": total})]
        used = [state.face_pressure_mpa for state in self.row.states()]
        built = self.row.solve(*self.row.build_state(), False, False, as_built=True)
        return used, built.face_pressure_mpa

    def _above_low(self, length, total):
        """By how much the lowest required state is not below the band [MPa]."""
        used, built = self._pressures(length, total)
        band = self.row.band
        return min([min(used) - band.low] + ([built - band.build[0]] if band.build else []))

    def _below_high(self, length, total):
        used, built = self._pressures(length, total)
        band = self.row.band
        room = self.row.highest_pressure() - max([*used, built])
        return min([room] + ([band.build[1] / (1 + MARGIN) - built] if band.build else []))

    @lru_cache(maxsize=None)
    def window(self, total):
        """(least, greatest) inner length for one total of sheets; least above greatest: none."""
        free = self.cells_mm() + total + sum(part.count * part.thickness for part in self.fixed)
        short, long = 0.97 * free, 1.02 * free
        root = lambda holds: brentq(holds, short, long, args=(total,), xtol=1e-5)
        return root(self._below_high), root(self._above_low)

    @lru_cache(maxsize=None)
    def _windows_between(self, low, high):
        """Lines from knot to knot: of one state they are straight, by the sheets' heat and give."""
        totals = np.linspace(low, high, KNOTS) if high > low else np.array([low])
        return totals, np.array([self.window(float(total)) for total in totals])

    def windows(self, totals):
        """Of many totals, each a row of (least, greatest)."""
        if not len(totals):
            return np.empty((0, 2))
        knots, ends = self._windows_between(float(min(totals)), float(max(totals)))
        return np.column_stack([np.interp(totals, knots, ends[:, side]) for side in (0, 1)])

    def narrowest(self, sold, spread):
        """Width of the window that serves whatever totals a kit may come to [mm]."""
        totals = np.array([self.due * min(sold), self.due * max(sold) + 2 * spread])
        beside = self.windows(totals) - totals[:, None]
        return float(beside[:, 1].min() - beside[:, 0].max())


def gaps_due(count, build):
    """Every gap needs a sheet that insulates, save the two at the walls where a plate lies."""
    plates = any(sheet.get("where") == "ends" for sheet in build.get("fixed_sheets", []))
    return count - 1 if plates else count + 1


def spread_of(whom, row, tolerance):
    """By how much all cells together may be off, either way [mm]."""
    count = row.row.count
    by_chance = lambda common, each: count * common + math.sqrt(count) * each
    if whom == "any_batch":
        return count * tolerance
    if whom == "likely_lot":
        return by_chance(LOT_SHARE * tolerance, (1 - LOT_SHARE) * tolerance)
    return by_chance(CALIPERS_COMMON, CALIPERS_EACH) + row.charge_doubt_mm()


# --- Kits -------------------------------------------------------------------------------

def totals_of(kit, due):
    """[mm], rising, of {thickness: count} with at least one sheet for each that is due."""
    sums, sheets = np.zeros(1), np.zeros(1, int)
    for thickness, count in kit.items():
        taken = np.arange(count + 1)
        sums = np.add.outer(sums, taken * thickness).ravel()
        sheets = np.add.outer(sheets, taken).ravel()
    return np.unique(np.round(sums[sheets >= due], 6))


def first_run(totals, window, spread):
    """Least total of the first run that with the window is as long as the spread, or None."""
    ends = np.flatnonzero(np.append(np.diff(totals), np.inf) > window + THIN)
    least, most = totals[np.append(0, ends[:-1] + 1)], totals[ends]
    long_enough = np.flatnonzero(most - least + window >= spread - THIN)
    return float(least[long_enough[0]]) if long_enough.size else None


def shares(sheets, kinds):
    """All ways of so many sheets of so many kinds, one of each at least."""
    if kinds == 1:
        yield (sheets,)
        return
    for first in range(1, sheets - kinds + 2):
        for rest in shares(sheets - first, kinds - 1):
            yield (first, *rest)


def smallest_kits(sold, due, window, spread):
    """The least kits, all that are equally good: [] where none is."""
    if window < 0:
        return []
    for kinds in range(1, MOST_KINDS + 1):
        for sheets in range(max(due, kinds), max(LEAST_MOST_SHEETS, MOST_SHEETS_A_GAP * due) + 1):
            found = list(kits_of(sold, kinds, sheets, due, window, spread))
            if found:
                best = min(rank for rank, _ in found)
                return [kit for rank, kit in found if rank == best]
    return []


def kits_of(sold, kinds, sheets, due, window, spread):
    """((least total, all sheets' thickness), kit) of each that serves."""
    for thicknesses in combinations(sorted(sold), kinds):
        for counts in shares(sheets, kinds):
            kit = dict(zip(thicknesses, counts))
            everything = sum(t * n for t, n in kit.items())
            if everything - due * thicknesses[0] + window < spread - THIN:
                continue  # not even from the least total that could be to all of it
            run = first_run(totals_of(kit, due), window, spread)
            if run is not None:
                yield (round(run, 6), round(everything, 6)), kit


# --- Spans ------------------------------------------------------------------------------

def union(spans):
    """Spans that touch or overlap made one; rising, empty ones left out."""
    out = []
    for low, high in sorted((float(a), float(b)) for a, b in spans if a <= b):
        if out and low <= out[-1][1]:
            out[-1][1] = max(out[-1][1], high)
        else:
            out.append([low, high])
    return out
