#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Is a row as likely to pass as the independent reference finds by solving every draw?

    python3 chance_check.py PROGRAM SOURCE_DIR [WORD]

Runs `PROGRAM pressure FILE --json` on builds whose shims are placed (those with WORD in their name)
and holds the chance, the shares of draws that fail and the 95 % spans of the pressures against
chance_reference.py. One line per build and a summary; exit status 1 on any difference, and when a
reference that is wrong on purpose would go unseen.
"""

import json
import math
import os
import subprocess
import sys
import tempfile

import numpy as np

from builds import EIGHT, build, edges, shim
from chance_reference import ERRORS, DrawnRow

PROGRAM_SAMPLES, SAMPLES = 400_000, 100_000
DEVIATIONS, SHARE = 3, 0.003      # of shares of draws
# Of pressures: the program's spans come from so many draws, whose order leaves that much open.
PRESSURE_SAMPLES, RELATIVE, ABSOLUTE_MPA = 10_240, 0.01, 1e-4
WIDE = {"makers_force": None, "range": "5-220 kPa"}
MILD = {"charge": "30-70 %", "temperature": "15-25 C"}
DOUBTS = {"calipers": "0.05 mm", "calipers_each": "0.03 mm", "charge": "6 %",
          "box_length": "0.25 mm", "row": "0.3 mm", "shims": "3 %", "softness": "30 %",
          "swing": "25 %", "growth": "40 %", "expansion": "35 %", "friction": "30 %",
          "frame_force": "20 %"}
TWO_KINDS = {
    "sheets_mm": 9 * 0.8 + 4 * 0.5,
    "kit": [shim("0.8", "0.8 mm", material="polypropylene"),
            shim("0.5", "0.5 mm", material="polypropylene")],
    "placed": [{"gap": gap, "sheets": [{"name": "0.8", "count": 1},
                                       *([{"name": "0.5", "count": 1}] if more else [])]}
               for gap, more in zip(("wall-1", *(f"{i}-{i + 1}" for i in range(1, 8)), "8-wall"),
                                    (1, 0, 1, 0, 0, 0, 1, 0, 1))]}


SEEN_IN = "rigid walls"  # planted errors


def own_charges():
    figures = zip(EIGHT, (20, 30, 44, 55, 61, 70, 97, 30))
    return [{"edge": edge, "charge": f"{charge} %", "signs": "none"} for edge, charge in figures]


def own_temperatures():
    return [{**cell, "temperature": f"{degrees} C"} for cell, degrees
            in zip(edges(*EIGHT), (16, 17, 18, 18, 18, 18, 19, 20))]


def without(key, asked):
    return {name: each for name, each in asked.items() if name != key}


def all_builds():
    by_hand = {"method": "hand", "push_limit": "900 N"}
    return {
        "rigid walls": build(1.7, cell=WIDE),
        "charge when built said": build(1.4, cell={**WIDE, "limit": "225 kPa"},
                                        build={"charge": "60 %", "temperature": "12 C"}),
        "capacity loss": build(1.5, cell=WIDE, use={"capacity_loss": "0-2 %"}),
        "by hand": build(1.2, cell={"makers_force": None, "range": "1-110 kPa", "mass": "3.3 kg"},
                         build=by_hand, use=MILD),
        "by hand with a film, a limit": build(
            1.5, cell={"makers_force": None, "range": "2-120 kPa", "limit": "125 kPa"},
            build={**by_hand, "slip_film": True, "push_limit": "500 N"}, use=MILD),
        "every doubt said": build(1.5, cell={**WIDE, "mass": "3.3 kg"}, uncertainty=DOUBTS,
                                  use={"capacity_loss": "0-2 %"},
                                  build=by_hand),
        "the whole row read, its doubt said": build(
            1.3, cell=WIDE, row=467.2, uncertainty={"row": "0.3 mm"}),
        "NMC": build(2.6, use=MILD, cell={
            "makers_force": None, "range": "15-350 kPa", "chemistry": "NMC"}),
        "charges one by one": build(1.9, cell=WIDE, cells=own_charges()),
        "temperatures one by one": build(1.6, cell=WIDE, cells=own_temperatures()),
        "charge when measured not said": without("measured_charge", build(1.6, cell=WIDE)),
        "as shipped, said": build(1.6, cell=WIDE, measured_charge="as shipped"),
        "figures said, a charge between": build(
            1.6, measured_charge="30-44 %", cell={
                **WIDE, "softness": {"a": "75 kPa", "b": 160}, "expansion": "55 ppm/K",
                "swing": {"net": "0.5 %", "hump": "0.35 %"},
                "growth": {"per_capacity_lost": 0.2}}, use={"capacity_loss": "0-1 %"}),
        "two kinds, a range at assembly, films": build(
            1.9, cell={"makers_force": None, "range": {
                "low": "30 kPa", "high": "90 kPa", "applies_to": "assembly"}},
            fixed_sheets=[{"where": ["wall-1", "4-5"], "thickness": "0.4 mm"}],
            **{**TWO_KINDS, "sheets_mm": TWO_KINDS["sheets_mm"] + 0.8}),
    }


# --- The comparison ---------------------------------------------------------------------

class Differences(list):
    """What the program says otherwise, as `name: program, reference`."""

    def near(self, name, found, wanted, allowed):
        if found is None or abs(found - wanted) > allowed:
            self.append(f"{name}: {found:.4f}, reference {wanted:.4f}, allowed {allowed:.4f}")

    def share(self, name, found, wanted):
        variance = wanted * (1 - wanted) * (1 / PROGRAM_SAMPLES + 1 / SAMPLES)
        self.near(name, found, wanted, DEVIATIONS * math.sqrt(variance) + SHARE)

    def spread(self, name, found, pressures):
        for end, share in zip(("low_mpa", "median_mpa", "high_mpa"), (0.025, 0.5, 0.975)):
            open_ = DEVIATIONS * math.sqrt(share * (1 - share) / PRESSURE_SAMPLES)
            low, wanted, high = np.quantile(pressures, (share - open_, share, share + open_))
            allowed = max(high - wanted, wanted - low) + RELATIVE * wanted + ABSOLUTE_MPA
            self.near(f"{name} {end}", found[end], wanted, allowed)


def compare(found, wanted):
    differences = Differences()
    differences.share("chance", found["chance"], wanted["chance"])
    for why, share in wanted["failing"].items():
        differences.share(why, found["failing"][why], share)
    for state in ("lowest", "as_built", "highest"):
        differences.spread(state, found[state], wanted[state])
    return differences


def unseen(asked, found, source_dir):
    """Errors planted in the reference after which it still agrees on the chance itself."""
    for error in ERRORS:
        wanted = DrawnRow(asked, source_dir, SAMPLES, error).answer()
        differences = Differences()
        differences.share("chance", found["chance"], wanted["chance"])
        if not differences:
            yield f"unseen: {error}, chance {wanted['chance']:.4f}"


# --- The program ------------------------------------------------------------------------

def run_program(program, folder, asked):
    path = os.path.join(folder, "build.json")
    with open(path, "w", encoding="utf-8") as file:
        json.dump(asked, file)
    done = subprocess.run([program, "pressure", path, "--json", "--samples", str(PROGRAM_SAMPLES)],
                          capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1):
        raise RuntimeError(f"exit status {done.returncode}: {done.stderr.strip()}")
    return json.loads(done.stdout)["chance"]


def main():
    program, source_dir = os.path.abspath(sys.argv[1]), sys.argv[2]
    word = sys.argv[3] if len(sys.argv) > 3 else ""
    failed, blind = [], []
    builds = {name: each for name, each in all_builds().items() if word in name}
    with tempfile.TemporaryDirectory() as folder:
        for name, asked in builds.items():
            found = run_program(program, folder, asked)
            wanted = DrawnRow(asked, source_dir, SAMPLES).answer()
            differences = compare(found, wanted)
            if name == SEEN_IN:
                blind = list(unseen(asked, found, source_dir))
            failed += [name] if differences else []
            print(f"{'FAILED' if differences else 'passed'} {name}: "
                  f"{found['chance']:.4f}, reference {wanted['chance']:.4f}")
            for each in differences:
                print(f"       {each}")
    for each in blind:
        print(each)
    print(f"{len(builds) - len(failed)} passed, {len(failed)} failed; "
          f"of planted errors {len(blind)} unseen")
    return 1 if failed or blind or not builds else 0


if __name__ == "__main__":
    sys.exit(main())
