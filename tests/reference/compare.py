#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Does `stackfit pressure` say what the independent reference says?

    python3 compare.py PROGRAM SOURCE_DIR [WORD]

Writes the builds of builds.py (those with WORD in their name) into a temporary folder, runs
`PROGRAM pressure FILE --json` on each and compares every state and figure with
pressure_reference.py. One line per build and a summary; exit status 1 on any difference.
"""

import json
import os
import subprocess
import sys
import tempfile

import self_check
from build_text import load_build
from builds import all_builds
from pressure_reference import Reference

EXACT = 1e-6   # relative, pressures and forces; absolute in mm and capacity loss
DOME = 1e-5    # relative, where a dome's mean goes in
PLATE = 1e-4   # relative, where a plate's give goes in
GIVE = 3e-4    # relative, that give itself: the plates differ by up to 2.1e-4
CHARGE = 1e-9
FLOOR = {"face_pressure_mpa": 1e-9, "highest_local_mpa": 1e-9, "force_n": 1e-5}


class Differences(list):
    """What the program says otherwise; says each as `name: program, reference`."""

    def number(self, name, found, wanted, relative=0.0, absolute=0.0):
        if found is None or abs(found - wanted) > relative * abs(wanted) + absolute:
            self.append(f"{name}: {found!r}, reference {wanted!r}")

    def same(self, name, found, wanted):
        if found != wanted:
            self.append(f"{name}: {found!r}, reference {wanted!r}")


def relative_tolerance(row):
    """Looser where two numerical methods meet: a plate's give, the mean of a dome."""
    if row.give:
        return PLATE
    return DOME if any(cell.dome for cell in row.cells) else EXACT


def life_tolerance(row):
    """The doubt of the walls' give, in capacity lost."""
    per_loss = row.growth_per_loss()
    return EXACT + (GIVE * row.give * row.highest_force() / per_loss if per_loss else 0.0)


def compare_state(differences, name, found, wanted, relative):
    for key, floor in FLOOR.items():
        differences.number(f"{name} {key}", found[key], getattr(wanted, key), relative, floor)
    # Where there is a dome or a plate, its error over the row's free length.
    differences.number(f"{name} loose_by_mm", found["loose_by_mm"], wanted.loose_by_mm, relative,
                       EXACT)
    differences.number(f"{name} charge", found["charge"], wanted.charge, absolute=CHARGE)
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


def compare_band(differences, found, wanted):
    differences.number("band low", found["low_mpa"], wanted.low, EXACT)
    differences.number("band high", found["high_mpa"], wanted.high, EXACT)
    if wanted.limit is None or found["limit_mpa"] is None:
        differences.same("limit", found["limit_mpa"], wanted.limit)
    else:
        differences.number("limit", found["limit_mpa"], wanted.limit, EXACT)


def compare_lengths(differences, plan, answer, edge):
    differences.number("interference_mm", plan["interference_mm"], answer.interference_mm,
                       absolute=EXACT)
    for key, wanted in vars(answer.gives[edge]).items():
        differences.number(key, plan[key], wanted, GIVE, EXACT)


def compare_answer(program, row, answer):
    differences = Differences()
    relative = relative_tolerance(row)
    plan = program["plan"]
    compare_band(differences, program["band"], answer.band)
    differences.number("face area", program["band"]["face_area_mm2"], answer.face_area_mm2, EXACT)
    edge = 1 if plan["as_built"]["stiff_pads"] else 0
    compare_lengths(differences, plan, answer, edge)
    compare_state(differences, "as built", plan["as_built"], answer.as_built[edge], relative)
    compare_state(differences, "lowest", plan["lowest"], answer.lowest, relative)
    compare_state(differences, "highest", plan["highest"], answer.highest, relative)
    compare_states(differences, plan["states"], answer.states, relative)
    differences.number("life", plan["life_capacity_loss_mean"], answer.life,
                       absolute=life_tolerance(row))
    differences.number("push_n", program["insertion"]["push_n"], answer.push_n[edge], relative, 1e-5)
    return differences


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
    except RuntimeError as error:
        return Differences([str(error)])


def main():
    program, source_dir = os.path.abspath(sys.argv[1]), sys.argv[2]
    word = sys.argv[3] if len(sys.argv) > 3 else ""
    own = self_check.failed(source_dir)
    for name in own:
        print(f"FAILED the reference itself against {name}")
    passed, failed = 0, len(own)
    with tempfile.TemporaryDirectory() as folder:
        for name, build in all_builds().items():
            if word not in name:
                continue
            differences = compare_build(program, source_dir, write_build(folder, name, build))
            print(f"{'FAILED' if differences else 'passed'} {name}")
            for difference in differences:
                print(f"       {difference}")
            passed, failed = passed + (not differences), failed + bool(differences)
    print(f"{passed} passed, {failed} failed")
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
