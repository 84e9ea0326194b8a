# SPDX-License-Identifier: GPL-3.0-or-later
"""A row as columns: its face cut into columns, each a series of cells, sheets and pads.

Not for flat full-face rows between rigid walls (pressure_reference.py: one column). The equilibria
are those of columns.py; here a row's parts become its laws and its free interference, on one grid
over the face that follows the edges of all sheets and pads.

Two end walls alike, one behind the other, bend like one wall of half their stiffness: the columns
feel only the sum of their bows.
"""

import math

import numpy as np
from scipy.interpolate import CubicHermiteSpline

import columns
import stretching

TERMS = 13              # polynomials a direction
STRETCHING_TERMS = 11   # of walls that stretch, which take longer
LONGEST_MM, POINTS = 15.0, 5
STRESSES = np.concatenate([[0.0], np.geomspace(1e-7, 1e4, 2500)])  # MPa


# --- Laws --------------------------------------------------------------------------------

class SeriesLaw:
    """[(length in mm, law)] under one pressure: cubic pieces through exact points and slopes."""

    def __init__(self, parts):
        squeeze = sum(length * law.strains(STRESSES) for length, law in parts)
        give = sum(length * law.softnesses(STRESSES) for length, law in parts)
        self.curve = CubicHermiteSpline(squeeze, STRESSES, 1 / give)
        self.slope, self.work = self.curve.derivative(), self.curve.antiderivative()

    def squeeze(self, pressure):
        return float(np.interp(pressure, STRESSES, self.curve.x))

    def pressure(self, d):
        return self.curve(np.maximum(d, 0.0))

    def stiffness(self, d):
        return np.where(d > 0, self.slope(np.maximum(d, 0.0)), 0.0)

    def energy(self, d):
        return self.work(np.maximum(d, 0.0))


class RegionLaws:
    """The law of each column of a grid: which[i, j] is the number of its region."""

    def __init__(self, which, laws):
        self.regions = [(law, np.nonzero(which == number)) for number, law in enumerate(laws)]

    def squeeze(self, pressure):
        """Of the region with the most columns."""
        return max(self.regions, key=lambda region: len(region[1][0]))[0].squeeze(pressure)

    def _each(self, ask, d):
        answers = np.empty_like(d)
        for law, here in self.regions:
            answers[here] = ask(law, d[here])
        return answers

    def pressure(self, d):
        return self._each(SeriesLaw.pressure, d)

    def pressure_and_stiffness(self, d):
        return self.pressure(d), self._each(SeriesLaw.stiffness, d)

    def energy(self, d):
        return self._each(SeriesLaw.energy, d)


# --- The face ----------------------------------------------------------------------------

class Face:
    """A rounded rectangle with its lower left corner at (x0, y0) of the wall, as a grid.

    Gauss points between the cuts; on both sides of every cut a point without weight, so that the
    extremes at an edge are seen. cuts: further places from the middle, to the right and upwards.
    """

    BESIDE_MM, ALIKE_MM = 1e-6, 1e-6

    def __init__(self, corner, size, radius, cuts=((), ())):
        self.size, self.radius = size, radius
        self.middle = [low + length / 2 for low, length in zip(corner, size)]
        along = [self._along(length, radius, more) for length, more in zip(size, cuts)]
        (self.across, wx), (self.up, wy) = along
        self.x, self.y = self.across + self.middle[0], self.up + self.middle[1]
        self.inside = in_rectangle(self.across, self.up, *size, radius)
        weights = np.outer(wx, wy) * self.inside
        self.weights = weights * (size[0] * size[1] - (4 - math.pi) * radius**2) / weights.sum()

    def _along(self, length, radius, more):
        ends = {-length / 2, radius - length / 2, 0.0, length / 2 - radius, length / 2}
        ends |= {each for each in more if abs(each) < length / 2}
        places, weights = [], []
        nodes, shares = np.polynomial.legendre.leggauss(POINTS)
        for low, high in zip(sorted(ends)[:-1], sorted(ends)[1:]):
            if high - low < 10 * self.BESIDE_MM:
                continue
            cuts = np.linspace(low, high, math.ceil((high - low) / LONGEST_MM) + 1)
            half = np.diff(cuts)[:, None] / 2
            gauss = (cuts[:-1, None] + half * (nodes + 1)).ravel()
            places += [low + self.BESIDE_MM, *gauss, high - self.BESIDE_MM]
            weights += [0.0, *(half * shares).ravel(), 0.0]
        return np.array(places), np.array(weights)

    def phi(self):
        """Shape of a dome: 1 in the middle, 0 at the edges."""
        xi, eta = 2 * self.across / self.size[0], 2 * self.up / self.size[1]
        return np.outer(1 - xi**2, 1 - eta**2)**2

    def under(self, outline):
        """Which columns an outline of the build file lies on."""
        if outline is None:
            return np.ones_like(self.inside)
        if "points" in outline:
            covered = in_polygon(self.across, self.up, outline["points"])
        else:
            covered = in_rectangle(self.across, self.up, outline["width"], outline["height"],
                                   outline["corner_radius"])
        for hole in outline["holes"]:
            covered &= ~in_polygon(self.across, self.up, hole)
        return covered

    def covers_all(self, outline):
        return self.under(outline)[self.inside].all()

    def greatest(self, field):
        return float(field[self.inside].max())

    def in_the_middle(self, field):
        return float(field[np.abs(self.across).argmin(), np.abs(self.up).argmin()])

    def thickest(self, bulge):
        """Where cells are thickest: everywhere, or in the middle; None along a rim."""
        if bulge.min() < 0:
            return None
        columns = self.inside & (bulge > bulge[self.inside].max() - self.ALIKE_MM)
        middle = np.zeros_like(columns)
        middle[np.abs(self.across).argmin(), np.abs(self.up).argmin()] = True
        if (columns & middle).any() and not (columns * self.weights).any():
            return middle
        return columns if (columns * self.weights).any() else None

    def mean(self, field, weight):
        """0 where nothing has weight."""
        if not (weight * self.weights).any():  # the middle is a point without an area
            return float((weight * field).sum() / (weight.sum() or 1.0))
        weights = self.weights * weight
        return float((weights * field).sum() / weights.sum())


def in_rectangle(x, y, width, height, radius):
    """Of a rectangle with rounded corners, its middle at (0, 0)."""
    inside = np.logical_and.outer(np.abs(x) <= width / 2, np.abs(y) <= height / 2)
    beyond_x = np.maximum(np.abs(x) - (width / 2 - radius), 0)
    beyond_y = np.maximum(np.abs(y) - (height / 2 - radius), 0)
    in_corner = np.add.outer(beyond_x**2, beyond_y**2) <= radius**2
    return inside & (in_corner | np.logical_or.outer(beyond_x == 0, beyond_y == 0))


def in_polygon(x, y, points):
    """Even-odd rule."""
    x, y = np.meshgrid(x, y, indexing="ij")
    inside = np.zeros(x.shape, bool)
    for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1]):
        if ay != by:
            crossing = ax + (y - ay) * (bx - ax) / (by - ay)
            inside ^= ((ay > y) != (by > y)) & (x < crossing)
    return inside


def cuts_of(outlines):
    """Where edges and corners of outlines are: across, up."""
    points = [point for outline in outlines for shape in
              (_corners(outline), *outline["holes"]) for point in shape]
    return [x for x, _ in points], [y for _, y in points]


def _corners(outline):
    if "points" in outline:
        return outline["points"]
    right, top, radius = outline["width"] / 2, outline["height"] / 2, outline["corner_radius"]
    return [(sign * (right - r), sign * (top - r)) for sign in (-1, 1) for r in (0, radius)]


# --- The row -----------------------------------------------------------------------------

class Piece:
    """A row's face as columns.py asks for it; its interference where cells are flat."""

    def __init__(self, face, law, beyond, interference):
        self.face, self.law, self.beyond, self.interference = face, law, beyond, interference

    def gauss(self, _longest, _points):
        return self.face.x, self.face.y, self.face.weights

    def beyond_edge(self, _x, _y):
        return self.beyond


class Solved:
    """An equilibrium: the stage's own unknowns; one row's columns, interference and pressure."""

    def __init__(self, stage, unknowns, number, piece):
        face = piece.face
        self.unknowns, self.bends = unknowns, stage.bends
        self.coefficients, self.longer_mm = stage.split(unknowns)
        self.interference = stage.grids[number].interference(self.coefficients, self.longer_mm)
        self.pressures = piece.law.pressure(self.interference)
        self.free = piece.interference + piece.beyond
        self.bow = self.free - self.interference - self.longer_mm
        self.force = float((face.weights * self.pressures).sum())
        self.highest = float(self.pressures[face.inside].max())
        self.lowest = float(self.pressures[face.inside].min())
        pressed = face.weights * (self.interference > 0)
        self.contact = float(pressed.sum() / face.weights.sum())

    def greatest_bow(self, number):
        bend = self.bends[number]
        x, y = (np.linspace(0, length, 81) for length in (bend.wall.width, bend.wall.height))
        return float(bend.deflection(self.coefficients[number], x, y).max())


class ColumnRow:
    """A row in a box or frame (box_of_build.py), where other rows may press beside it.

    face: a Face; cells: (length, law); bulge: on the face's grid. A screwed lid holds the top for
    all that comes after the build; a frame is built at its force, its length following. stretch:
    walls of a known thickness stretch as they bow.
    """

    def __init__(self, face, cells, bulge, box, stretch=False):
        self.face, self.cells, self.bulge, self.box = face, cells, bulge, box
        self.walls, self.stretch = box.bending(face), stretch
        self.terms = STRETCHING_TERMS if stretch else TERMS
        self.plates = [columns.Wall(wall, self.terms) for wall in self.walls]
        self.bends = [self._bend(*each) for each in zip(self.walls, self.plates)]
        self.laws, self.starts = {}, {}

    def stretching(self):
        """The same row, its walls let stretch. A lid's later hold is then left out, as the program
        says it does: with it forces differ by up to 6 % in the builds tried."""
        return ColumnRow(self.face, self.cells, self.bulge, self.box, True)

    def _bend(self, wall, plate, before=()):
        if self.stretch and "in_plane" in wall:
            membrane = stretching.membrane_of(wall, wall["in_plane"] == "held")
            return stretching.StretchingBend(plate, membrane, before)
        return columns.Bend(plate, before)

    def bows(self, solved):
        """Greatest bow of each wall over its whole height and width [mm]."""
        return [solved.greatest_bow(i) / wall.get("alike", 1)
                for i, wall in enumerate(self.walls)]

    def bows_far(self, solved):
        """Beyond half the thickness of a plate."""
        return any(bow > wall["thickness_mm"] / 2
                   for bow, wall in zip(self.bows(solved), self.walls) if "in_plane" in wall)

    def law(self, parts):
        """parts: as in `free`. Laws alike are made once."""
        masks = [self.face.under(part.outline) for part in parts if part.outline]
        which, covers = _number(masks, self.face.inside.shape)
        laws = []
        for cover in covers:
            partial = iter(cover)
            series = [(part.count * part.thickness, part.law) for part in parts
                      if not part.outline or next(partial)]
            laws.append(self._series([self.cells, *series]))
        return RegionLaws(which, laws)

    def _series(self, parts):
        key = tuple((length, id(law)) for length, law in parts)
        if key not in self.laws:
            self.laws[key] = (SeriesLaw(parts), parts)  # parts kept, so that no id comes twice
        return self.laws[key][0]

    def beyond(self, lengths):
        """Of every column, beyond flat ones that have every part: lengths: [(part, mm)]."""
        missing = sum(length * ~self.face.under(part.outline)
                      for part, length in lengths if part.outline)
        return self.bulge - missing

    def solve(self, pieces, number, built=None):
        """Of row `number`; built: the Solved stage before, after which a lid holds the top."""
        stage = columns.Stage(self._bends(built), self._ties(built),
                              [([piece], piece.interference) for piece in pieces],
                              columns.Fineness(self.terms))
        start = self.starts.get(stage.size)
        unknowns = stage.solve(self._start(stage.size, pieces) if start is None else start)
        self.starts[stage.size] = unknowns
        return Solved(stage, unknowns, number, pieces[number])

    def _start(self, size, pieces):
        """Straight walls; a frame as long as its force leaves it between rigid plates."""
        start = np.zeros(size)
        if self.box.rods:
            pressure = self.box.rods.force / sum(piece.face.weights.sum() for piece in pieces)
            start[-1] = pieces[0].interference - pieces[0].law.squeeze(pressure)
        return start

    def _ties(self, built):
        if not self.box.rods:
            return columns.Ties(self.box.give)
        if built is None:
            return columns.Ties(force_n=self.box.rods.force, free=True)
        return self.box.rods.from_built(built.longer_mm)

    def _bends(self, built):
        if built is None or not self.box.lid or self.stretch:
            return self.bends
        later = [columns.Wall(wall, self.terms, "held", self.terms - 1)
                 if wall["edges"]["top"] == "free" else plate
                 for wall, plate in zip(self.walls, self.plates)]
        return [self._bend(wall, plate, [(before, bow)]) for wall, plate, before, bow
                in zip(self.walls, later, self.plates, built.coefficients)]


def _number(masks, shape):
    """(number of each column's region, what covers each region)."""
    if not masks:
        return np.zeros(shape, int), [()]
    stacked = np.array(masks).reshape(len(masks), -1).T
    covers, which = np.unique(stacked, axis=0, return_inverse=True)
    return which.reshape(shape), [tuple(cover) for cover in covers]


# --- Walls -------------------------------------------------------------------------------

def bow_of_even_force(wall, face):
    """(mean over the face, middle of the wall) per newton spread evenly over the face."""
    plate = columns.Wall(wall, TERMS)
    fx, fy = plate.x.at(face.x), plate.y.at(face.y)
    load = (fx.T @ (face.weights / face.weights.sum()) @ fy).ravel()
    bow = np.linalg.solve(plate.stiffness(), load)
    middle = np.kron(plate.x.at([plate.width / 2])[0], plate.y.at([plate.height / 2])[0])
    return float(load @ bow), float(middle @ bow)
