# SPDX-License-Identifier: GPL-3.0-or-later
"""Build files as text: comments off, quantities to mm, N, MPa, fractions and degrees C.

Written for the reference alone, from the build file's schema and the exact definitions of
NIST SP 811 (2008), Appendix B: nothing here comes from the program's own reader. It reads well
formed files only and complains with an exception of whatever kind.
"""

import json
import re

INCH_MM = 25.4
POUND_KG = 0.45359237
GRAVITY = 9.80665  # m/s2
LBF_N = POUND_KG * GRAVITY

FACTORS = {
    "length": {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH_MM, "": 1.0},
    "force": {"N": 1.0, "kN": 1000.0, "kgf": GRAVITY, "kg": GRAVITY, "lbf": LBF_N},
    "pressure": {"MPa": 1.0, "kPa": 1e-3, "Pa": 1e-6, "GPa": 1e3, "bar": 0.1,
                 "psi": LBF_N / INCH_MM**2, "kgf/cm2": GRAVITY / 100},
    "charge": {"%": 0.01},
    "percent": {"%": 0.01, "": 0.01},
    "ratio": {"%": 0.01, "": 1.0},
    "expansion": {"1/K": 1.0, "/K": 1.0, "ppm/K": 1e-6, "": 1.0},
    "mass": {"kg": 1.0, "g": 1e-3, "lb": POUND_KG, "": 1.0},
}
NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
PLUS_MINUS = r"\s*(?:±|\+-|\+/-)\s*"
STRING_OR_COMMENT = re.compile(r'"(?:\\.|[^"\\])*"|//[^\n]*|/\*.*?\*/', re.DOTALL)


def load_build(path):
    """The build file as plain dictionaries."""
    with open(path, encoding="utf-8") as file:
        text = file.read()
    keep = lambda found: found.group() if found.group().startswith('"') else " "
    return json.loads(STRING_OR_COMMENT.sub(keep, text))


def _number(text):
    """`12.5`, `1/32` or `1 1/2`."""
    total = 0.0
    for part in text.split():
        upper, _, lower = part.partition("/")
        total += float(upper) / (float(lower) if lower else 1.0)
    return total


def _split(text):
    """`0.8 mm` -> (0.8, 'mm')."""
    found = re.fullmatch(rf"\s*((?:\d+ )?\d+/\d+|{NUMBER})\s*(.*?)\s*", text)
    return _number(found.group(1)), found.group(2)


def quantity(value, kind):
    """A quantity as written, text or bare number, in the program's unit."""
    number, unit = _split(value) if isinstance(value, str) else (float(value), "")
    return number * FACTORS[kind][unit]


def optional(holder, key, kind, default):
    return quantity(holder[key], kind) if key in holder else default


def temperature(value):
    """Degrees C."""
    number, unit = _split(value) if isinstance(value, str) else (float(value), "C")
    return {"C": number, "": number, "F": (number - 32) / 1.8, "K": number - 273.15}[unit]


def span(text, kind):
    """`30-40 %`, `5 to 40 C`: (low, high); one value is a span of no width."""
    found = re.fullmatch(rf"\s*({NUMBER})\s*(?:-|to|–)\s*({NUMBER})\s*(\S+)\s*", text)
    low, high, unit = found.groups() if found else (*[str(_split(text)[0])] * 2, _split(text)[1])
    read = temperature if kind == "temperature" else lambda each: quantity(each, kind)
    return read(f"{low} {unit}"), read(f"{high} {unit}")


def toleranced(text, kind):
    """`240kgf ±15`, `240±15 kgf`: (value, tolerance or None)."""
    parts = re.split(PLUS_MINUS, text)
    if len(parts) == 1:
        return quantity(text, kind), None
    unit = next(_split(part)[1] for part in parts if _split(part)[1])
    value, tolerance = (quantity(f"{_split(part)[0]!r} {unit}", kind) for part in parts)
    return value, tolerance


def data_sheet(line):
    """Of a line such as `63.4±0.6 mm 30-40% 240kgf`: (nominal, middle charge, force), or None."""
    if not isinstance(line, (str, dict)):
        return float(line), None, None
    if isinstance(line, str):
        line = _worded(line)
    return (quantity(line["nominal"], "length"),
            sum(span(line["at_charge"], "charge")) / 2 if "at_charge" in line else None,
            quantity(line["under_force"], "force") if "under_force" in line else None)


def _worded(line):
    """The keys that a printed line holds."""
    found = {"nominal": re.match(rf"\s*({NUMBER})", line).group(1),
             "at_charge": re.search(rf"{NUMBER}\s*(?:(?:-|to|–)\s*{NUMBER}\s*)?%", line),
             "under_force": re.search(rf"{NUMBER}\s*(?:kgf|kg|kN|N|lbf)\b", line)}
    return {key: each if isinstance(each, str) else each.group()
            for key, each in found.items() if each}
