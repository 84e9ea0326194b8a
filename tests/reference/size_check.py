#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Does `stackfit size` order the box and the kit that the independent reference asks for?

    python3 size_check.py PROGRAM SOURCE_DIR [WORD]

Draws builds between rigid walls, of unmeasured and of measured cells, runs `PROGRAM size FILE
--json` on each (those with WORD in their name) and holds every offer against size_reference.py.
One line per build and a summary; exit status 1 on any difference, and when a changed figure of the
program's answer would go unseen.
"""

import copy
import json
import os
import random
import subprocess
import sys
import tempfile
from functools import lru_cache

import numpy as np

from size_reference import SizedRow, gaps_due, smallest_kits, spread_of, totals_of, union

SEED = 20260417
UNMEASURED, MEASURED = 15, 5
# What the program keeps clear of both ends of a window [mm], in turn: where a full choice of shims
# fails at the very end, it takes the next.
GUARDS = (0.03, 0.1, 0.25)
MOST_RARE = 3  # offers with a wider guard, or with a kit that is the least to a hair only
# The program asks for the swing in steps of charge, the reference at its knots: the spread.
WINDOW, ENDS, FREE, SPREAD = 0.02, 0.03, 1e-4, 0.01  # mm
STOCKS = ([0.5, 1], [0.5, 0.8, 1.2], [0.25, 0.5, 1, 1.5], [0.8], [0.4, 1], [0.3, 0.75, 2],
          [0.6, 1.1, 1.6], [0.2, 0.5, 0.8, 1.5])
MATERIALS = ("glass-epoxy", "glass-epoxy", "polycarbonate", "polypropylene")


# --- The builds -------------------------------------------------------------------------

def draw_cell(draw, nominal):
    low, wide = draw.randint(8, 30), draw.choice([70, 90, 110, 150, 200, 300])
    cell = {
        "chemistry": "LFP",
        "face": {"width": draw.randint(110, 175), "height": draw.randint(140, 205),
                 "corner_radius": draw.randint(0, 4)},
        "thickness": {"nominal": nominal, "tolerance": draw.choice([0.2, 0.3, 0.4, 0.5])},
        "range": f"{low}-{low + wide} kPa",
        "softness": {"a": f"{draw.randint(45, 90)} kPa", "b": draw.randint(110, 190)},
        "swing": {"net": f"{draw.uniform(0.3, 0.6):.2f} %",
                  "hump": f"{draw.uniform(0.1, 0.25):.2f} %"},
    }
    if draw.random() < 0.6:
        cell["thickness"].update(at_charge="30-40 %", under_force=f"{draw.randint(120, 260)} kgf")
    if draw.random() < 0.3:
        cell["limit"] = f"{low + wide + draw.randint(0, 30)} kPa"
    if draw.random() < 0.2:
        cell["range"] = {"low": f"{3 * low} kPa", "high": f"{3 * low + wide} kPa",
                         "applies_to": "assembly"}
        cell.pop("limit", None)
    if draw.random() < 0.3:
        cell["expansion"] = f"{draw.randint(25, 60)} ppm/K"
    return cell


def draw_build(draw, measured):
    count, nominal = draw.randint(4, 10), round(draw.uniform(38, 72), 1)
    build = {
        "stackfit": 1, "series": count, "cell": draw_cell(draw, nominal),
        "box": {"inner": {"width": 190, "height": 260}, "end_walls": "rigid", "lid": "none",
                "opens": "one end wall", "floor": "insulated"},
        "order": {"sheets": draw.choice(STOCKS), "sheet_material": draw.choice(MATERIALS),
                  "length_tolerance": draw.choice([0, 0.5, 1]),
                  "length_step": draw.choice([0.5, 1])},
        "use": {"charge": f"{draw.randint(5, 25)}-{draw.randint(70, 95)} %",
                "temperature": f"{draw.randint(0, 12)}-{draw.randint(28, 42)} C"},
        "build": {"charge": f"{draw.randint(25, 60)} %", "temperature": draw.randint(12, 28)},
    }
    if draw.random() < 0.2:
        build["use"]["capacity_loss"] = draw.choice(["0-1 %", "1-2 %"])
    if measured:
        build["cells"] = [{"edge": round(nominal + draw.uniform(-0.15, 0.15), 2), "signs": "none"}
                          for _ in range(count)]
        build["measured_charge"] = f"{draw.randint(25, 60)} %"
    return build


def all_builds():
    draw = random.Random(SEED)
    return {**{f"unmeasured {i + 1}": draw_build(draw, False) for i in range(UNMEASURED)},
            **{f"measured {i + 1}": draw_build(draw, True) for i in range(MEASURED)}}


# --- The comparison ---------------------------------------------------------------------

class Case:
    """One build with its rows: what was drawn, and batches that are thicker or thinner.

    plate_mm: of the plates at both ends with which the program keeps cells out of corners. They are
    taken as they are ordered: what stands in the corners is not looked at here.
    """

    def __init__(self, build, source_dir, plate_mm):
        order, thickness = build["order"], build["cell"]["thickness"]
        plates = [{"where": "ends", "thickness": plate_mm, "material": order["sheet_material"]}]
        self.build = {**build, "fixed_sheets": plates if plate_mm else []}
        self.source_dir = source_dir
        self.sold, self.tolerance, self.step = (order["sheets"], order["length_tolerance"],
                                                order["length_step"])
        self.cell_tolerance = thickness["tolerance"]
        self.measured = "cells" in build
        self.count = build["series"]
        self.due = gaps_due(self.count, self.build)

    @staticmethod
    def hard(answer):
        """Its offers of shims alone; a pad is offered where there is none."""
        return [] if "pad" in answer else answer["offers"]

    def wanted_offers(self):
        return [*(["these_cells"] if self.measured else []), "any_batch", "likely_lot",
                *([] if self.measured else ["once_measured"])]

    @lru_cache(maxsize=None)
    def row(self, measured, thicker=0.0):
        build = self.build if measured else {k: v for k, v in self.build.items() if k != "cells"}
        return SizedRow(build, self.source_dir, thicker)

    @lru_cache(maxsize=None)
    def spread(self, whom):
        return spread_of(whom, self.row(self.measured), self.cell_tolerance)

    @lru_cache(maxsize=None)
    def window(self, whom):
        return self.row(whom == "these_cells").narrowest(self.sold, self.spread(whom))

    @lru_cache(maxsize=None)
    def kits(self, whom, guard, hair=0.0):
        """The least kits, by the reference's window and a hair."""
        spread = 2 * self.spread(whom) + self.tolerance + self.step
        return smallest_kits(self.sold, self.due, self.window(whom) - 2 * guard + hair, spread)

    def is_nearly_least(self, whom, guard, kit):
        """By the reference's window, or by one that is told from it by what windows may differ by:
        where a step of totals or the spread is met to a hair."""
        return any(kit in self.kits(whom, guard, hair) for hair in (-WINDOW, WINDOW))


class Differences(list):
    """What the program says otherwise, as `name: program, reference`."""

    def near(self, name, found, wanted, absolute):
        if found is None or abs(found - wanted) > absolute:
            self.append(f"{name}: {found!r}, reference {wanted!r}")

    def truth(self, name, holds):
        if not holds:
            self.append(name)


def guard_of(case, offer):
    """The one by which the program's window and the reference's agree, or None."""
    wanted = case.window(offer["for"])
    return next((guard for guard in GUARDS
                 if abs(offer["window_mm"] + 2 * guard - wanted) <= WINDOW), None)


def kit_of(offer):
    return {kind["thickness_mm"]: kind["count"] for kind in offer["kit"]}


def not_served(case, offer):
    """The first (ordered, made, thicker) in the promise that no total of the kit serves."""
    measured = offer["for"] == "these_cells"
    spread = offer["cells_spread_mm"]
    totals = totals_of(kit_of(offer), case.due)
    low, high = offer["nominal_between_mm"].values()
    for ordered in [*np.linspace(low, high, 9), offer["nominal_mm"]]:
        for thicker in (-spread, 0.0, spread):
            ends = case.row(measured, thicker).windows(totals)
            for made in ordered + case.tolerance * np.linspace(0, 1, 5):
                if not np.any((ends[:, 0] <= made) & (made <= ends[:, 1])):
                    return float(ordered), float(made), thicker
    return None


def compare_kit(differences, case, offer, guard):
    """What must be rare: a wider guard, or a kit that is least to a hair only."""
    whom, kit = offer["for"], kit_of(offer)
    kits = case.kits(whom, guard)
    said = f"{whom} kit: {kit}, reference {kits or 'none'}"
    rare = [] if guard == GUARDS[0] else [f"{whom}: a wider guard, {guard} mm"]
    if kit in kits:
        return rare
    differences.truth(said, case.is_nearly_least(whom, guard, kit))
    return [*rare, f"to a hair, {said}"]


def compare_offer(differences, case, offer):
    """Says what must be rare."""
    whom = offer["for"]
    differences.near(f"{whom} spread", offer["cells_spread_mm"], case.spread(whom), SPREAD)
    guard = guard_of(case, offer)
    if guard is None:
        differences.near(f"{whom} window", offer["window_mm"] + 2 * GUARDS[0], case.window(whom),
                         WINDOW)
        return []
    rare = compare_kit(differences, case, offer, guard)
    low, high = offer["nominal_between_mm"].values()
    differences.truth(f"{whom} nominal {offer['nominal_mm']} not within {low} to {high}",
                      low <= offer["nominal_mm"] <= high)
    differences.near(f"{whom} nominal, by steps", offer["nominal_mm"] % case.step, 0, 1e-9)
    differences.near(f"{whom} tolerance", offer["tolerance_plus_mm"], case.tolerance, 1e-9)
    unserved = not_served(case, offer)
    differences.truth(f"{whom} not served (ordered, made, thicker by): {unserved}",
                      unserved is None)
    return rare


def compare_intervals(differences, case, offer, said):
    """All lengths that some total of the recommended kit serves, the guard kept at both ends."""
    totals = totals_of(kit_of(offer), case.due)
    clear = GUARDS[0]
    wanted = [[low + clear, high - clear] for low, high in union(
        case.row(offer["for"] == "these_cells").windows(totals)) if high - low > 2 * clear]
    found = union(map(dict.values, said))
    if len(found) != len(wanted):
        differences.append(f"intervals: {found}, reference {wanted}")
        return
    for (low, high), (least, greatest) in zip(found, wanted):
        differences.near("interval from", low, least, ENDS)
        differences.near("interval to", high, greatest, ENDS)


def compare_answer(case, answer):
    """(differences, what must be rare)."""
    differences, rare = Differences(), []
    differences.near("cells, free", answer["cells_free_mm"],
                     case.row(case.measured).cells_mm(), FREE)
    offers = {offer["for"]: offer for offer in case.hard(answer)}
    wanted = [whom for whom in case.wanted_offers() if case.kits(whom, GUARDS[0])]
    differences.truth(f"offers for {list(offers)}, reference {wanted}", list(offers) == wanted)
    for offer in offers.values():
        rare += compare_offer(differences, case, offer)
    if offers:
        compare_intervals(differences, case, answer["offers"][0], answer["intervals_mm"])
    return differences, rare


# --- Would it be seen? ------------------------------------------------------------------

def changed_answers(case, answer):
    """(what, the program's answer with one figure off)."""
    def change(what, edit):
        changed = copy.deepcopy(answer)
        edit(changed, changed["offers"][0])
        return what, changed

    def add(holder, key, by):
        holder[key] += by

    yield change("cells", lambda all_, _: add(all_, "cells_free_mm", 0.001))
    yield change("window", lambda _, first: add(first, "window_mm", 0.05))
    yield change("spread", lambda _, first: add(first, "cells_spread_mm", 0.02))
    yield change("a sheet more", lambda _, first: add(first["kit"][-1], "count", 1))
    yield change("a sheet less", lambda _, first: add(first["kit"][-1], "count", -1))
    for end, by in (("low", -0.25), ("high", 0.25)):
        yield change(f"a length beyond the {end} end",
                     lambda _, first, end=end, by=by: add(first["nominal_between_mm"], end, by))
    yield change("no step", lambda _, first: add(first, "nominal_mm", 0.01))
    for end in ("low", "high"):
        yield change("interval", lambda all_, _, end=end: add(all_["intervals_mm"][0], end, 0.07))
    yield change("no such offer", lambda all_, _: all_["offers"].pop())


def unseen(case, answer):
    return [f"to see {what}" for what, changed in changed_answers(case, answer)
            if not compare_answer(case, changed)[0]]


# --- The program ------------------------------------------------------------------------

def run_program(program, folder, name, build):
    path = os.path.join(folder, name.replace(" ", "_") + ".json")
    with open(path, "w", encoding="utf-8") as file:
        json.dump(build, file)
    done = subprocess.run([program, "size", path, "--json"], capture_output=True, text=True,
                          check=False)
    if done.returncode not in (0, 1):
        raise RuntimeError(f"exit status {done.returncode}: {done.stderr.strip()}")
    return json.loads(done.stdout)


def told_of(offers):
    """In few words."""
    if not offers:
        return "nothing serves"
    kit = " + ".join(f"{count} x {thick:g}" for thick, count in kit_of(offers[0]).items())
    return f"{offers[0]['for']}: {offers[0]['nominal_mm']:g} mm, {kit}"


def main():
    program, source_dir = os.path.abspath(sys.argv[1]), sys.argv[2]
    word = sys.argv[3] if len(sys.argv) > 3 else ""
    passed, failed, rare, offers, eyes = 0, 0, 0, 0, set()
    with tempfile.TemporaryDirectory() as folder:
        for name, build in all_builds().items():
            if word not in name:
                continue
            answer = run_program(program, folder, name, build)
            case = Case(build, source_dir, answer["end_plate_mm"])
            differences, seldom = compare_answer(case, answer)
            if case.measured not in eyes and not differences and case.hard(answer):
                eyes.add(case.measured)
                differences += unseen(case, answer)
            print(f"{'FAILED' if differences else 'passed'} {name}, {told_of(answer['offers'])}")
            for what in [*differences, *seldom]:
                print(f"       {what}")
            passed, failed = passed + (not differences), failed + bool(differences)
            rare, offers = rare + len(seldom), offers + len(case.hard(answer))
    print(f"{passed} passed, {failed} failed; of {offers} offers {rare} with a wider guard or to a "
          f"hair, {MOST_RARE} at most")
    return 1 if failed or not passed or rare > MOST_RARE else 0


if __name__ == "__main__":
    sys.exit(main())
