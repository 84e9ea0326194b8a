#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Does `stackfit pressure` say what the independent reference says?

    python3 compare.py PROGRAM SOURCE_DIR [WORD]

Writes the builds of builds.py (those with WORD in their name), and the fixtures as `pick` places
their shims, into a temporary folder, runs `PROGRAM pressure FILE --json` on each and compares every
state and figure with pressure_reference.py. One line per build and a summary; exit status 1 on any
difference, and when the reference does not meet the published tables or the comparison misses a
changed figure.
"""

import copy
import glob
import json
import os
import subprocess
import sys
import tempfile

from scipy.optimize import brentq

import self_check
from build_text import load_build
from builds import all_builds, eye_tests
from pressure_reference import Reference, all_rows

CHARGE = 1e-9  # absolute, and degrees


class Tolerances:
    """Relative in pressures and forces, absolute in mm, shares, capacity lost."""

    def __init__(self, pressure, local, share, give_mm, worn, greatest_mm):
        self.pressure, self.local, self.share = pressure, local, share
        self.give_mm, self.worn, self.greatest_mm = give_mm, worn, greatest_mm


EXACT = 1e-6
# One column is solved twice; a row of columns between plates is two discretisations, and reduced
# curves that may be off by 0.5 % of the force. worn: how near to the limit a row is at the end of
# its life. greatest_mm: the program's column of the greatest dome is not quite in the middle.
ONE = Tolerances(EXACT, EXACT, EXACT, EXACT, EXACT, EXACT)
MANY = Tolerances(pressure=5e-3, local=0.02, share=0.01, give_mm=0.02, worn=0.015,
                  greatest_mm=0.015)
FLOOR = {"face_pressure_mpa": 1e-9, "force_n": 1e-5}


class Differences(list):
    """What the program says otherwise; says each as `name: program, reference`."""

    def number(self, name, found, wanted, relative=0.0, absolute=0.0):
        if found is None or abs(found - wanted) > relative * abs(wanted) + absolute:
            self.append(f"{name}: {found!r}, reference {wanted!r}")

    def same(self, name, found, wanted):
        if found != wanted:
            self.append(f"{name}: {found!r}, reference {wanted!r}")

    @classmethod
    def between(cls, found, wanted, allowed):
        differences = cls()
        compare_state(differences, "", found, wanted, allowed)
        return differences


def allowed_for(row):
    return MANY if row.columns else ONE


def compare_state(differences, name, found, wanted, allowed):
    for key, floor in FLOOR.items():
        differences.number(f"{name} {key}", found[key], getattr(wanted, key), allowed.pressure,
                           floor)
    near = 1e-9 + allowed.local * wanted.highest_local_mpa
    for key in ("highest_local_mpa", "lowest_local_mpa"):
        differences.number(f"{name} {key}", found[key], getattr(wanted, key), absolute=near)
    differences.number(f"{name} contact_share", found["contact_share"], wanted.contact_share,
                       absolute=allowed.share)
    differences.number(f"{name} loose_by_mm", found["loose_by_mm"], wanted.loose_by_mm,
                       absolute=allowed.greatest_mm)
    differences.number(f"{name} charge", found["charge"], wanted.charge, absolute=CHARGE)
    differences.number(f"{name} temperature_c", found["temperature_c"], wanted.temperature_c,
                       absolute=CHARGE)
    differences.same(f"{name} standing", found["standing"], wanted.standing)


def key_of(state):
    get = state.get if isinstance(state, dict) else lambda key: getattr(state, key)
    return (round(get("temperature_c"), 6), round(get("capacity_loss"), 9), get("settled"),
            get("stiff_pads"), round(get("charge"), 8))


def compare_states(differences, found, row, answer, allowed):
    """Every corner's lowest and highest; those the program leaves out are differences."""
    program = {key_of(state): state for state in found}
    for charge, degrees, loss, settled, stiff in row.corners():
        key = (round(degrees, 6), round(loss, 9), settled, stiff, round(charge, 8))
        if key not in program:
            differences.append(f"state {key}: not in the answer")
    for state in answer.states:
        key = key_of(state)
        if key in program:
            compare_state(differences, f"state {key}", program[key], state, allowed)


def compare_extreme(differences, name, found, wanted, states, allowed):
    """Its figures, and that it is one of the corners where they occur."""
    compare_state(differences, name, found, wanted, allowed)
    alike = [key_of(state) for state in states
             if not Differences.between(found, state, allowed)]
    if key_of(found) not in alike:
        differences.append(f"{name} occurs at {key_of(found)}, reference {alike}")


def compare_verdict(differences, plan, answer, allowed):
    differences.same("worst", plan["worst"], answer.worst)
    high, low = answer.band.high, answer.band.low
    most = max(high, answer.highest.face_pressure_mpa, answer.as_built[-1].face_pressure_mpa)
    differences.number("margin", plan["margin"], answer.margin,
                       absolute=EXACT + allowed.pressure * 2 * most / (high - low))


def compare_life(differences, life, row, answer, allowed):
    """Of columns: at the program's life a limit is just met."""
    if answer.life is not None:
        differences.number("life", life, answer.life, absolute=allowed.worn)
        return
    worn = row.worn(life)
    if life < 1 and worn < 1 - allowed.worn or life > 0 and worn > 1 + allowed.worn:
        differences.append(f"life {life!r}: reference is then at {worn:.4f} of the limit")


def compare_band(differences, found, wanted):
    differences.number("band low", found["low_mpa"], wanted.low, EXACT)
    differences.number("band high", found["high_mpa"], wanted.high, EXACT)
    if wanted.limit is None or found["limit_mpa"] is None:
        differences.same("limit", found["limit_mpa"], wanted.limit)
    else:
        differences.number("limit", found["limit_mpa"], wanted.limit, EXACT)


def compare_lengths(differences, plan, row, answer, edge, allowed):
    for key, wanted in row.interferences().items():
        near = key == "interference_mm" or row.box.rods  # a frame counts from the greatest
        differences.number(key, plan[key], wanted,
                           absolute=allowed.greatest_mm if near else EXACT)
    if answer.gives[edge] is not None:
        for key, wanted in vars(answer.gives[edge]).items():
            differences.number(key, plan[key], wanted, allowed.pressure, 1e-9 + allowed.give_mm)


def compare_answer(program, row, answer):
    differences = Differences()
    allowed = allowed_for(row)
    plan = program["plan"]
    compare_band(differences, program["band"], answer.band)
    differences.number("face area", program["band"]["face_area_mm2"], answer.face_area_mm2, EXACT)
    edge = 1 if plan["as_built"]["stiff_pads"] else 0
    compare_lengths(differences, plan, row, answer, edge, allowed)
    compare_state(differences, "as built", plan["as_built"], answer.as_built[edge], allowed)
    for name in ("lowest", "highest"):
        compare_extreme(differences, name, plan[name], getattr(answer, name), answer.states,
                        allowed)
    compare_states(differences, plan["states"], row, answer, allowed)
    compare_life(differences, plan["life_capacity_loss_mean"], row, answer, allowed)
    compare_verdict(differences, plan, answer, allowed)
    differences.number("push_n", program["insertion"]["push_n"], answer.push_n[edge],
                       allowed.pressure, 1e-5)
    return differences


# --- Would it be seen? ------------------------------------------------------------------

STATE_FIGURES = ("face_pressure_mpa", "force_n", "highest_local_mpa", "lowest_local_mpa",
                 "contact_share", "loose_by_mm", "charge", "temperature_c", "standing")
WATCHED = [
    *(("band", key) for key in ("low_mpa", "high_mpa", "limit_mpa", "face_area_mm2")),
    *(("plan", state, key) for state in ("as_built", "lowest", "highest") for key in STATE_FIGURES),
    *(("plan", f"{part}_give_mm") for part in ("cells", "sheets", "pads", "walls")),
    *(("plan", f"interference{place}_mm") for place in ("", "_edge", "_middle")),
    ("plan", "worst"), ("plan", "margin"), ("plan", "life_capacity_loss_mean"),
    ("insertion", "push_n"),
]


def nudged(key, value, much):
    """Another standing, or a figure off by a part of itself; near nothing, by as much."""
    if isinstance(value, str):
        return "above" if value != "above" else "below"
    if key == "life_capacity_loss_mean":  # long before a limit is passed by far
        return value * (1 + 10 * much)
    return value + much if key == "margin" or key.endswith("_mm") else value * (1 + much)


def unseen_changes(program, row, answer, much):
    """Figures of the program's answer that could be wrong without a word from this comparison."""
    keys = [key_of(state) for state in program["plan"]["states"]]
    states = [("plan", "states", keys.index(key_of(state)), figure)
              for state in (answer.states[0], answer.states[-1]) for figure in STATE_FIGURES]
    for path in WATCHED + states:
        changed = copy.deepcopy(program)
        holder = changed
        for key in path[:-1]:
            holder = holder[key]
        holder[path[-1]] = nudged(path[-1], holder[path[-1]], much)
        if not compare_answer(changed, row, answer):
            yield "/".join(map(str, path))


def check_eyes(row):
    """The reference's own answer, dressed as the program's: it passes, and no change of it does."""
    answer = row.answer()
    dressed = as_program(row, answer)
    told = [f"its own answer: {each}" for each in compare_answer(dressed, row, answer)]
    much = 0.06 if row.columns else 0.001
    return told + [f"a change of {path}" for path in unseen_changes(dressed, row, answer, much)]


def as_program(row, answer):
    band = answer.band
    plan = {name: vars(getattr(answer, name)) for name in ("lowest", "highest")}
    life = answer.life or brentq(lambda loss: row.worn(loss) - 1, 0, 1, xtol=1e-6)
    plan.update(as_built=vars(answer.as_built[0]), worst=answer.worst, margin=answer.margin,
                states=[vars(row.solve(*corner)) for corner in row.corners()],
                life_capacity_loss_mean=life, **row.interferences(), **vars(answer.gives[0]))
    return {"plan": plan, "insertion": {"push_n": answer.push_n[0]},
            "band": {"low_mpa": band.low, "high_mpa": band.high, "limit_mpa": band.limit,
                     "face_area_mm2": row.area}}


# --- The program ------------------------------------------------------------------------

def run_program(program, path):
    """The program's answer; whether it is a warning (status 1) is part of the answer."""
    done = subprocess.run([program, "pressure", path, "--json", "--no-chance"], capture_output=True, text=True,
                          check=False)
    if done.returncode not in (0, 1):
        raise RuntimeError(f"exit status {done.returncode}: {done.stderr.strip()}")
    return json.loads(done.stdout)


def write_build(folder, name, build):
    path = os.path.join(folder, name.replace(" ", "_").replace(",", "") + ".json")
    with open(path, "w", encoding="utf-8") as file:
        file.write(f"// {name}\n" + json.dumps(build, indent=1, ensure_ascii=False))
    return path


def compare_build(program, source_dir, path):
    try:
        rows = all_rows(load_build(path), source_dir)
        found = run_program(program, path)
        return [difference for row, answer in zip(rows, found.get("rows") or [found], strict=True)
                for difference in compare_answer(answer, row, row.answer())]
    except Exception as error:  # whatever it is, it is this build's failure
        return Differences([f"{type(error).__name__}: {error}"])


def check_reference(source_dir):
    """What the reference fails at before it may judge."""
    told = [f"the reference itself against {name}" for name in self_check.failed(source_dir)]
    return told + [f"to see {what}" for build in eye_tests()
                   for what in check_eyes(Reference(build, source_dir))]


def picked_fixtures(program, source_dir, folder):
    """(name, path) of each fixture that `pick` finds a plan for, saved with its shims placed."""
    for fixture in sorted(glob.glob(os.path.join(source_dir, "fixtures", "*.json"))):
        name = os.path.basename(fixture)
        with open(fixture, encoding="utf-8") as text:
            if '"ribs"' in text.read():
                # ribbed_plates.py holds their plates; rows of this reference have plain ones.
                print(f"passed over {name}: the reference's walls have no ribs")
                continue
        saved = os.path.join(folder, "picked_" + name)
        subprocess.run([program, "pick", fixture, "--no-chance", "--save", saved],
                       capture_output=True, check=False)
        if os.path.exists(saved):
            yield f"fixture {name} as picked", saved


def paths(program, source_dir, folder):
    for name, build in all_builds().items():
        yield name, write_build(folder, name, build)
    yield from picked_fixtures(program, source_dir, folder)


def main():
    program, source_dir = os.path.abspath(sys.argv[1]), sys.argv[2]
    word = sys.argv[3] if len(sys.argv) > 3 else ""
    own = check_reference(source_dir)
    for what in own:
        print(f"FAILED {what}")
    passed, failed = 0, len(own)
    with tempfile.TemporaryDirectory() as folder:
        for name, path in paths(program, source_dir, folder):
            if word not in name:
                continue
            differences = compare_build(program, source_dir, path)
            print(f"{'FAILED' if differences else 'passed'} {name}")
            for difference in differences:
                print(f"       {difference}")
            passed, failed = passed + (not differences), failed + bool(differences)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
