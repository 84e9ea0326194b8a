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

import self_check
from build_text import load_build
from builds import all_builds, eye_test
from pressure_reference import Reference

EXACT = 1e-6   # relative, pressures and forces; absolute in mm and capacity loss
PLATE = 1e-4   # relative, where a plate's give goes in
GIVE = 3e-4    # relative, that give itself: the plates differ by up to 2.1e-4
CHARGE = 1e-9  # absolute, and degrees
FLOOR = {"face_pressure_mpa": 1e-9, "highest_local_mpa": 1e-9, "force_n": 1e-5}


class Differences(list):
    """What the program says otherwise; says each as `name: program, reference`."""

    def number(self, name, found, wanted, relative=0.0, absolute=0.0):
        if found is None or abs(found - wanted) > relative * abs(wanted) + absolute:
            self.append(f"{name}: {found!r}, reference {wanted!r}")

    def same(self, name, found, wanted):
        if found != wanted:
            self.append(f"{name}: {found!r}, reference {wanted!r}")

    @classmethod
    def between(cls, found, wanted, relative):
        differences = cls()
        compare_state(differences, "", found, wanted, relative)
        return differences


def relative_tolerance(row):
    """Looser where two ways of solving a plate meet."""
    return PLATE if row.give else EXACT


def life_tolerance(row):
    """The doubt of the walls' give, in capacity lost."""
    per_loss = row.growth_per_loss()
    return EXACT + (GIVE * row.give * row.highest_force() / per_loss if per_loss else 0.0)


def compare_state(differences, name, found, wanted, relative):
    for key, floor in FLOOR.items():
        differences.number(f"{name} {key}", found[key], getattr(wanted, key), relative, floor)
    differences.number(f"{name} loose_by_mm", found["loose_by_mm"], wanted.loose_by_mm, relative,
                       EXACT)
    differences.number(f"{name} charge", found["charge"], wanted.charge, absolute=CHARGE)
    differences.number(f"{name} temperature_c", found["temperature_c"], wanted.temperature_c,
                       absolute=CHARGE)
    differences.same(f"{name} standing", found["standing"], wanted.standing)


def key_of(state):
    get = state.get if isinstance(state, dict) else lambda key: getattr(state, key)
    return (round(get("temperature_c"), 6), round(get("capacity_loss"), 9), get("settled"),
            get("stiff_pads"), round(get("charge"), 8))


def compare_states(differences, found, wanted, relative):
    """Every corner's lowest and highest; those the program leaves out are differences."""
    program = {key_of(state): state for state in found}
    for state in wanted:
        key = key_of(state)
        if key not in program:
            differences.append(f"state {key}: not in the answer")
            continue
        compare_state(differences, f"state {key}", program[key], state, relative)


def compare_extreme(differences, name, found, wanted, states, relative):
    """Its figures, and that it is one of the corners where they occur."""
    compare_state(differences, name, found, wanted, relative)
    alike = [key_of(state) for state in states
             if not Differences.between(found, state, relative)]
    if key_of(found) not in alike:
        differences.append(f"{name} occurs at {key_of(found)}, reference {alike}")


def compare_verdict(differences, plan, answer, relative):
    differences.same("worst", plan["worst"], answer.worst)
    high, low = answer.band.high, answer.band.low
    differences.number("margin", plan["margin"], answer.margin,
                       absolute=EXACT + relative * 2 * high / (high - low))


def compare_band(differences, found, wanted):
    differences.number("band low", found["low_mpa"], wanted.low, EXACT)
    differences.number("band high", found["high_mpa"], wanted.high, EXACT)
    if wanted.limit is None or found["limit_mpa"] is None:
        differences.same("limit", found["limit_mpa"], wanted.limit)
    else:
        differences.number("limit", found["limit_mpa"], wanted.limit, EXACT)


def compare_lengths(differences, plan, answer, edge, relative):
    differences.number("interference_mm", plan["interference_mm"], answer.interference_mm,
                       absolute=EXACT)
    gives = vars(answer.gives[edge])
    # What the plate gives otherwise, cells and pads must; hard sheets only follow the force.
    blur = GIVE * gives["walls_give_mm"]
    for key, wanted in gives.items():
        differences.number(key, plan[key], wanted, relative,
                           1e-9 + (0.0 if key == "sheets_give_mm" else blur))


def compare_answer(program, row, answer):
    differences = Differences()
    relative = relative_tolerance(row)
    plan = program["plan"]
    compare_band(differences, program["band"], answer.band)
    differences.number("face area", program["band"]["face_area_mm2"], answer.face_area_mm2, EXACT)
    edge = 1 if plan["as_built"]["stiff_pads"] else 0
    compare_lengths(differences, plan, answer, edge, relative)
    compare_state(differences, "as built", plan["as_built"], answer.as_built[edge], relative)
    for name in ("lowest", "highest"):
        compare_extreme(differences, name, plan[name], getattr(answer, name), answer.states,
                        relative)
    compare_states(differences, plan["states"], answer.states, relative)
    differences.number("life", plan["life_capacity_loss_mean"], answer.life,
                       absolute=life_tolerance(row))
    compare_verdict(differences, plan, answer, relative)
    differences.number("push_n", program["insertion"]["push_n"], answer.push_n[edge],
                       relative, 1e-5)
    return differences


# --- Would it be seen? ------------------------------------------------------------------

STATE_FIGURES = ("face_pressure_mpa", "force_n", "highest_local_mpa", "charge", "temperature_c",
                 "standing")
WATCHED = [
    *(("band", key) for key in ("low_mpa", "high_mpa", "limit_mpa", "face_area_mm2")),
    *(("plan", state, key) for state in ("as_built", "lowest", "highest") for key in STATE_FIGURES),
    *(("plan", "states", index, key) for index in (0, 7) for key in STATE_FIGURES),
    *(("plan", f"{part}_give_mm") for part in ("cells", "sheets", "pads", "walls")),
    ("plan", "worst"), ("plan", "margin"),
    ("plan", "interference_mm"), ("plan", "life_capacity_loss_mean"), ("insertion", "push_n"),
]


def nudged(key, value):
    """Another standing, or a figure off by a thousandth."""
    if key == "margin":  # a part of the band's width, and anywhere near nothing
        return value + 0.001
    if isinstance(value, str):
        return "above" if value != "above" else "below"
    return value * 1.001


def unseen_changes(program, row, answer):
    """Figures of the program's answer that could be wrong without a word from this comparison."""
    for path in WATCHED:
        changed = copy.deepcopy(program)
        holder = changed
        for key in path[:-1]:
            holder = holder[key]
        holder[path[-1]] = nudged(path[-1], holder[path[-1]])
        if not compare_answer(changed, row, answer):
            yield "/".join(map(str, path))


def check_eyes(row):
    """The reference's own answer, dressed as the program's: it passes, and no change of it does."""
    answer = row.answer()
    dressed = as_program(row, answer)
    told = [f"its own answer: {each}" for each in compare_answer(dressed, row, answer)]
    return told + [f"a change of {path}" for path in unseen_changes(dressed, row, answer)]


def as_program(row, answer):
    band = answer.band
    plan = {name: vars(getattr(answer, name)) for name in ("lowest", "highest")}
    plan.update(as_built=vars(answer.as_built[0]), states=[vars(each) for each in answer.states],
                worst=answer.worst, margin=answer.margin, life_capacity_loss_mean=answer.life,
                interference_mm=answer.interference_mm, **vars(answer.gives[0]))
    return {"plan": plan, "insertion": {"push_n": answer.push_n[0]},
            "band": {"low_mpa": band.low, "high_mpa": band.high, "limit_mpa": band.limit,
                     "face_area_mm2": row.area}}


# --- The program ------------------------------------------------------------------------

def run_program(program, path):
    """The program's answer; whether it is a warning (status 1) is part of the answer."""
    done = subprocess.run([program, "pressure", path, "--json"], capture_output=True, text=True,
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
        row = Reference(load_build(path), source_dir)
        return compare_answer(run_program(program, path), row, row.answer())
    except Exception as error:  # whatever it is, it is this build's failure
        return Differences([f"{type(error).__name__}: {error}"])


def check_reference(source_dir):
    """What the reference fails at before it may judge."""
    told = [f"the reference itself against {name}" for name in self_check.failed(source_dir)]
    return told + [f"to see {what}" for what in check_eyes(Reference(eye_test(), source_dir))]


def picked_fixtures(program, source_dir, folder):
    """(name, path) of each fixture that `pick` finds a plan for, saved with its shims placed."""
    for fixture in sorted(glob.glob(os.path.join(source_dir, "fixtures", "*.json"))):
        name = os.path.basename(fixture)
        saved = os.path.join(folder, "picked_" + name)
        subprocess.run([program, "pick", fixture, "--save", saved],
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
