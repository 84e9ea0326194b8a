# SPDX-License-Identifier: GPL-3.0-or-later
"""The command lines that table.py times: every command of the program on its example and on the
largest fixture of its kind, and made-up builds that grow in one respect.

Not for: timing (processes.py).
"""
import copy
import json
import os
import re

CELLS = (2, 4, 8, 16, 32, 64)
KINDS = (1, 2, 3, 4, 5, 6)

# What is timed of each command, as typed from the project's folder.
OF_COMMAND = {
    "pick": ["fixtures/shed_bank.json", "fixtures/shed_bank.json --no-chance",
             "fixtures/shed_bank.json --page {folder}/page.html",
             "fixtures/van_sixteen.json", "fixtures/wide_kit_sixteen.json",
             "fixtures/two_rows_of_eight.json", "fixtures/too_few_shims.json",
             "fixtures/lid_screwed.json", "fixtures/ribbed_box.json", "fixtures/sheet_box.json",
             "fixtures/bench_frame.json", "fixtures/cells_may_move/mixed_eight.json"],
    "pressure": ["fixtures/shed_bank.json", "{folder}/van_sixteen_placed.json"],
    "size": ["fixtures/order/metal_box.json", "fixtures/order/shed_frame.json",
             "fixtures/order/courier_van.json"],
    "gauge": ["fixtures/shed_bank.json --bow 1.9mm --empty-bow 0.3mm",
              "{folder}/van_sixteen_placed.json --bow 1.9mm --empty-bow 0.3mm"],
    "check": ["fixtures/used_twelve.csv --thickness 58.2mm --set series=12 --charger 43.8V",
              "fixtures/four_years.json", "fixtures/check/pressed_box.json"],
    "new": ["--blank"],
    "softness": ["fixtures/press_test.csv --for fixtures/shed_bank.json"],
    "sort": ["fixtures/sort/pile.csv --packs 3 --cells 8",
             "fixtures/sort/pile.csv --packs 3 --build fixtures/sort/box.json"],
}


def listed(help_text):
    """The commands that the help lists."""
    block = help_text.split("Commands:")[1].split("\n\n")[0]
    return re.findall(r"^  (\w+)", block, re.MULTILINE)


def of_program(program, help_text, folder, most=None):
    """All of them (or so many of each), by what is typed; the empty process first."""
    names = listed(help_text)
    if set(names) != set(OF_COMMAND):
        raise SystemExit(f"the program has {sorted(names)}, OF_COMMAND in commands.py has "
                         f"{sorted(OF_COMMAND)}: set it right")
    lines = {"an empty process: --version": [program, "--version"]}
    for name in names:
        for arguments in OF_COMMAND[name][:most]:
            shown = re.sub(r"fixtures/|\{folder\}/", "", arguments)
            shown = shown.split(" --thickness")[0]
            lines[f"{name} {shown}"] = [program, name, *arguments.format(folder=folder).split()]
    return lines


def without_comments(path):
    with open(path, encoding="utf-8") as file:
        return json.loads(re.sub(r"^\s*//.*$", "", file.read(), flags=re.MULTILINE))


def row_of(build, cells):
    """The build with so many cells, in a box as much longer and with as many more shims."""
    made = copy.deepcopy(build)
    share = cells / len(build["cells"])
    made["series"] = cells
    made["cells"] = [{**build["cells"][i % len(build["cells"])], "id": str(i + 1)}
                     for i in range(cells)]
    length = build["box"]["inner"]["length"]
    made["box"]["inner"]["length"] = sum(length) / len(length) * share
    for kind in made["kit"]:
        kind["count"] = max(1, round(kind["count"] * share))
    return made


def kit_of(build, kinds):
    """The build with so many kinds, the thickest first, sixteen pieces of each."""
    made = copy.deepcopy(build)
    made["kit"] = sorted(build["kit"], key=lambda kind: -float(kind["thickness"]))[:kinds]
    for kind in made["kit"]:
        kind["count"] = 16
    return made


def write(build, folder, name):
    path = os.path.join(folder, name)
    with open(path, "w", encoding="utf-8") as file:
        json.dump(build, file)
    return path


def growing(program, source, folder, most=None):
    """Two tables of commands by their size (or so many sizes): with cells, and with kinds."""
    shed = without_comments(f"{source}/fixtures/shed_bank.json")
    wide = without_comments(f"{source}/fixtures/wide_kit_sixteen.json")
    cells = {}
    for count in CELLS[:most]:
        path = write(row_of(shed, count), folder, f"row_of_{count}.json")
        cells[f"{count} pressure"] = [program, "pressure", path, "--no-chance"]
        cells[f"{count} pick, no chance"] = [program, "pick", path, "--no-chance"]
        cells[f"{count} pick"] = [program, "pick", path]
    kinds = {}
    for count in KINDS[:most]:
        path = write(kit_of(wide, count), folder, f"kit_of_{count}.json")
        kinds[f"{count} pick, no chance"] = [program, "pick", path, "--no-chance"]
        kinds[f"{count} pick"] = [program, "pick", path]
    return cells, kinds
