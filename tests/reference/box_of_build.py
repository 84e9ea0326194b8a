# SPDX-License-Identifier: GPL-3.0-or-later
"""The box or the clamp frame of a build: its length, its walls as plates, what ties them.

A wall is a case of columns.py with two keys more: `in_plane`, where its thickness is known, and
`alike`, where it stands for two.
"""

import os

import laws
import rods
import row_columns
from build_text import optional, quantity

WALL_MM = 2.0          # model.md 5, screwed aluminium
ROD_EXPANSION = 12e-6  # steel
# model.md 5: how an edge moves, by its joint.
SUPPORT = {"screwed": "held", "folded": "fixed", "welded": "fixed", "open": "free"}
# The names a build file may use, as the tables spell them.
TABLE_NAME = {"PP": "polypropylene", "PET": "PET film", "glass-epoxy": "glass-epoxy laminate",
              "aluminum": "aluminium", "steel": "carbon steel",
              "stainless steel": "stainless steel 304", "stainless": "stainless steel 304"}
# Poisson's ratio: block3d.csv for aluminium, Callister's Table B.3 for the steels.
POISSON = {"aluminium": 0.33, "carbon steel": 0.30, "stainless steel 304": 0.30}


class Materials:
    """materials.csv, by the names of a build file."""

    def __init__(self, published):
        self.rows = {row["material"]: row for row in laws.read_csv(
            os.path.join(published, "materials.csv"))}

    def modulus(self, name):
        return float(self.rows[TABLE_NAME.get(name, name)]["E_MPa"])

    def expansion(self, name):
        return float(self.rows[TABLE_NAME.get(name, name)]["CTE_per_K"])


class Box:
    """size: width and height of the face, where the inside is not said."""

    floor, rods = 0.0, None

    def __init__(self, box, materials, size):
        self.materials, inner = materials, box["inner"]
        readings = inner["length"] if isinstance(inner["length"], list) else [inner["length"]]
        self.length = sum(quantity(each, "length") for each in readings) / len(readings)
        self.width = optional(inner, "width", "length", size[0])
        self.height = optional(inner, "height", "length", size[1])
        said = box.get("end_walls", {})
        self.end_walls = [as_wall(each)
                          for each in (said if isinstance(said, list) else [said, said])]
        first = self.end_walls[0]
        sides = {**first, **box.get("side_walls", {})}
        # The box is as long as its sides.
        self.expansion = materials.expansion(sides.get("material", "aluminium"))
        self.rigid = all(wall.get("rigid") for wall in self.end_walls)
        self.give = 0.0 if self.rigid else self._side_give(sides)
        self.lid = box.get("lid") == "screwed"

    def _side_give(self, sides):
        """Of both side walls [mm/N]."""
        modulus = self.materials.modulus(sides.get("material", "aluminium"))
        thickness = optional(sides, "thickness", "length", WALL_MM)
        return self.length / (modulus * 2 * thickness * self.height)

    def bending(self, face):
        """The walls that bend; of two alike, one."""
        plates = [self._known_by_bow(wall, face) if "bow" in wall else self._plate(wall)
                  for wall in self.end_walls if not wall.get("rigid")]
        return alike(plates)

    def _plate(self, wall):
        return {**plate_of(wall, (self.width, self.height), self.materials),
                "edges": supports(wall.get("joint", "screwed"))}

    def _known_by_bow(self, wall, face):
        """The default wall, as stiff as bows so at its middle; of no known thickness."""
        plate = self._plate({})
        bow = quantity(wall["bow"], "length") / quantity(wall["at_force"], "force")
        middle = row_columns.bow_of_even_force(plate, face)[1]
        del plate["in_plane"]
        return {**plate, "modulus_mpa": plate["modulus_mpa"] * middle / bow}


class Frame:
    """Two plates with the row in their middle. Its length is that of its rods and counts warm only.

    own: free length of the row as built, over which the rods reach where theirs is not said.
    """

    rigid, lid, give, expansion = False, False, 0.0, ROD_EXPANSION

    def __init__(self, frame, materials, size, own):
        self.materials, self.frame, self.plates = materials, frame, frame["plates"]
        self.width, self.height = (quantity(self.plates[key], "length")
                                   for key in ("width", "height"))
        self.floor = (self.height - size[1]) / 2
        disc = {key: quantity(frame["springs"]["disc"][word], "length") for key, word in (
            ("outer", "outer"), ("inner", "inner"), ("thickness", "thickness"),
            ("cone", "cone_height"))}
        disc.update({key: frame["springs"].get(key, 1) for key in ("parallel", "series")})
        # Both plates and the free springs.
        beside = (2 * quantity(self.plates["thickness"], "length")
                  + disc["series"] * (disc["thickness"] + disc["cone"]))
        self.length = optional(frame["rods"], "length", "length", own + beside)
        give = self.length / (rods.ROD_MPA * rods.stress_area(frame["rods"]["size"]))
        self.rods = rods.Rods(4, give, disc, quantity(frame["force"], "force"))

    def bending(self, _face):
        spread = self.frame["rods"]["spread"]
        across, up = (quantity(spread[key], "length") / 2 for key in ("width", "height"))
        corners = [{"x_mm": self.width / 2 + side * across, "y_mm": self.height / 2 + level * up}
                   for side in (-1, 1) for level in (-1, 1)]
        plate = {**plate_of(self.plates, (self.width, self.height), self.materials),
                 "edges": dict.fromkeys(("left", "right", "bottom", "top"), "free"),
                 "point_supports": corners}
        return alike([plate, plate])


def plate_of(wall, size, materials):
    name = wall.get("material", "aluminium")
    return {"width_mm": size[0], "height_mm": size[1],
            "thickness_mm": optional(wall, "thickness", "length", WALL_MM),
            "modulus_mpa": materials.modulus(name),
            "poisson": POISSON[TABLE_NAME.get(name, name)],
            "in_plane": wall.get("in_plane", "free")}


def supports(joint):
    """The top is free where it is not named."""
    if isinstance(joint, str):
        joint = {"left": joint, "right": joint, "bottom": joint}
    return {edge: SUPPORT[joint.get(edge, "open" if edge == "top" else "screwed")]
            for edge in ("left", "right", "bottom", "top")}


def alike(plates):
    """One wall of half the stiffness in the place of two alike."""
    if len(plates) == 2 and plates[0] == plates[1]:
        return [{**plates[0], "modulus_mpa": plates[0]["modulus_mpa"] / 2, "alike": 2}]
    return plates


def as_wall(said):
    """`3 mm aluminium folded` in { }."""
    if isinstance(said, dict):
        return said
    if said == "rigid":
        return {"rigid": True}
    wall = {}
    words = said.replace(" mm", "mm").split()
    for word in [w for w in words if w in ("folded", "welded", "screwed")]:
        wall["joint"] = word
        words.remove(word)
    for word in [w for w in words if w[0].isdigit()]:
        wall["thickness"] = word
        words.remove(word)
    return {**wall, "material": " ".join(words)} if words else wall
