# SPDX-License-Identifier: GPL-3.0-or-later
"""Rows of cells as columns between two bending walls: an independent reference.

Not for one-column rows between rigid or linearly giving walls (pressure_reference.py), and not for
what columns leave out (block3d.py, with solids). column_check.py holds it against closed forms and
against itself. Written on NumPy and SciPy; it shares no line and no method with the program.

The row minimises

    E = 1/2 wA' K wA + 1/2 wB' K wB + 1/2 u^2/c + integral Psi(d0 - wA - wB - u) over the face

or, when a frame is brought to a force F, with F u in the place of 1/2 u^2/c. A wall is Kirchhoff's
plate in products of Jacobi polynomials times the edge factors (Ritz; energy: Timoshenko and
Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., art. 84). The face is integrated by
composite Gauss-Legendre rules whose pieces end at every pad's edge. Newton with line search.

Lengths mm, forces N, pressures MPa. x runs from the left edge and y from the bottom, the same way
for both walls; deflections are positive outwards, away from the cells, u when the box grows longer.
A case is a dictionary; column_cases.py describes its keys.
"""

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.linalg import cho_factor, cho_solve
from scipy.special import eval_jacobi

EDGE_ORDER = {"free": 0, "held": 1, "fixed": 2}
POINT_SUPPORT_N_PER_MM = 1e9  # stiff enough for a point that does not move: 1 kN, 1e-6 mm


# --- Laws of a column --------------------------------------------------------------------


class CellLaw:
    """`thickness` mm of cells: p = A (exp(B eps) - 1), along its tangent above a pressure."""

    def __init__(self, cells):
        self.thickness = cells["count"] * cells["nominal_mm"]
        self.a, self.b = cells["a_mpa"], cells["b"]
        self.top = cells["tangent_above_mpa"]
        self.top_strain = np.log1p(self.top / self.a) / self.b
        self.top_slope = self.b * (self.top + self.a)

    def squeeze(self, p):
        within = np.log1p(np.minimum(p, self.top) / self.a) / self.b
        return self.thickness * (within + np.maximum(p - self.top, 0) / self.top_slope)

    def give(self, p):
        return self.thickness / (self.b * (np.minimum(p, self.top) + self.a))

    def energy(self, p):
        within = np.log1p(np.minimum(p, self.top) / self.a) / self.b
        beyond = np.maximum(p - self.top, 0) / self.top_slope
        stored = self.a * (np.expm1(self.b * within) / self.b - within)
        return self.thickness * (stored + beyond * (self.top + p * (beyond > 0)) / 2)


class SheetLaw:
    """Linear sheets: `give` mm per MPa."""

    def __init__(self, give_mm_per_mpa):
        self.linear = give_mm_per_mpa

    def squeeze(self, p):
        return self.linear * p

    def give(self, p):
        return np.full_like(p, self.linear)

    def energy(self, p):
        return self.linear * p**2 / 2


class PadLaw:
    """A foam pad: stress over strain by PCHIP, then along a tangent.

    The tangent is the curve's own at the last point, but no softer than the last secant.
    """

    def __init__(self, pad):
        self.thickness = pad["thickness_mm"]
        self.strain = np.asarray(pad["strain"], float)
        self.stress = np.asarray(pad["stress_mpa"], float)
        if self.strain[0] != 0 or self.stress[0] != 0 or np.any(np.diff(self.stress) <= 0):
            raise ValueError("a pad's table starts at nothing and rises")
        self.curve = PchipInterpolator(self.strain, self.stress)
        self.slope = self.curve.derivative()
        self.work = self.curve.antiderivative()
        secant = np.diff(self.stress)[-1] / np.diff(self.strain)[-1]
        self.end_slope = max(float(self.slope(self.strain[-1])), secant)

    def _strain(self, p):
        inside = np.minimum(p, self.stress[-1])
        piece = np.clip(np.searchsorted(self.stress, inside) - 1, 0, len(self.strain) - 2)
        low, high = self.strain[piece].copy(), self.strain[piece + 1].copy()
        share = (inside - self.stress[piece]) / np.diff(self.stress)[piece]
        at = low + share * (high - low)
        for _ in range(80):
            error = self.curve(at) - inside
            low, high = np.where(error <= 0, at, low), np.where(error >= 0, at, high)
            with np.errstate(divide="ignore", invalid="ignore"):
                step = at - error / self.slope(at)
            step = np.where((step >= low) & (step <= high), step, (low + high) / 2)
            if np.max(np.abs(step - at), initial=0) < 1e-15:
                break
            at = step
        return step + np.maximum(p - self.stress[-1], 0) / self.end_slope

    def squeeze(self, p):
        return self.thickness * self._strain(p)

    def give(self, p):
        slope = np.where(p < self.stress[-1], self.slope(self._strain(p)), self.end_slope)
        return self.thickness / np.maximum(slope, 1e-12)

    def energy(self, p):
        strain = self._strain(p)
        inside = np.minimum(strain, self.strain[-1])
        beyond = strain - inside
        return self.thickness * (self.work(inside)
                                 + beyond * (self.stress[-1] + self.end_slope * beyond / 2))


class ColumnLaw:
    """Parts in series under one pressure; pressure at an interference, zero when loose."""

    GRID = 4000
    HIGHEST = 1e4  # MPa, far above anything a row sees

    def __init__(self, parts):
        self.parts = parts
        self.p_grid = np.concatenate([[0.0], np.geomspace(1e-8, self.HIGHEST, self.GRID)])
        self.d_grid = self.squeeze(self.p_grid)

    def squeeze(self, p):
        return sum(part.squeeze(p) for part in self.parts)

    def give(self, p):
        return sum(part.give(p) for part in self.parts)

    def pressure(self, d):
        """Newton inside the bracket that the table gives."""
        flat = np.maximum(np.ravel(d), 0.0)
        place = np.clip(np.searchsorted(self.d_grid, flat) - 1, 0, self.GRID - 1)
        low, high = self.p_grid[place], self.p_grid[place + 1]
        p = low + (high - low) * (flat - self.d_grid[place]) / np.diff(self.d_grid)[place]
        for _ in range(80):
            error = self.squeeze(p) - flat
            low, high = np.where(error <= 0, p, low), np.where(error >= 0, p, high)
            step = p - error / self.give(p)
            step = np.where((step >= low) & (step <= high), step, (low + high) / 2)
            done = np.all(np.abs(step - p) <= 1e-14 + 1e-13 * p)
            p = step
            if done:
                break
        return np.where(flat > 0, p, 0.0).reshape(np.shape(d))

    def pressure_and_stiffness(self, d):
        p = self.pressure(d)
        return p, np.where(d > 0, 1 / self.give(p), 0.0)

    def energy(self, d):
        p = self.pressure(d)
        return sum(part.energy(p) for part in self.parts)


# --- Walls -------------------------------------------------------------------------------


class Line:
    """`count` polynomials over [0, length] that keep to the supports at both ends."""

    def __init__(self, length, first, last, count):
        self.length, self.count = length, count
        self.first, self.last = EDGE_ORDER[first], EDGE_ORDER[last]
        # Powers of s = 2 t/length - 1 through Gauss points of exact degree: derivatives by a
        # polynomial fit that is exact, in Legendre form.
        degree = count - 1 + self.first + self.last
        nodes, weights = np.polynomial.legendre.leggauss(degree + 1)
        values = self._values(nodes)
        legendre = np.polynomial.legendre.legvander(nodes, degree)
        norms = 2 / (2 * np.arange(degree + 1) + 1)
        series = (legendre * weights[:, None]).T @ values / norms[:, None]
        scale = np.sqrt(np.sum(series**2 * norms[:, None], axis=0))
        self.series = series / scale

    def _values(self, s):
        edge = (1 + s)**self.first * (1 - s)**self.last
        return np.stack([edge * eval_jacobi(i, 2 * self.last, 2 * self.first, s)
                         for i in range(self.count)], axis=-1)

    def at(self, t, order=0):
        """Values, or derivatives, of all polynomials at the places t: places x polynomials."""
        series = self.series if order == 0 else np.polynomial.legendre.legder(self.series, order)
        s = 2 * np.asarray(t, float) / self.length - 1
        return np.polynomial.legendre.legval(s, series).T * (2 / self.length)**order


class Wall:
    """A rectangular Kirchhoff plate in products of two sets of polynomials."""

    def __init__(self, wall, terms, top=None, top_terms=None):
        self.width, self.height = wall["width_mm"], wall["height_mm"]
        self.poisson = wall["poisson"]
        self.rigidity = (wall["modulus_mpa"] * wall["thickness_mm"]**3
                         / (12 * (1 - self.poisson**2)))
        edges = wall["edges"]
        self.x = Line(self.width, edges["left"], edges["right"], terms)
        self.y = Line(self.height, edges["bottom"], top or edges["top"], top_terms or terms)
        self.size = self.x.count * self.y.count
        self.points = [(point["x_mm"], point["y_mm"]) for point in wall.get("point_supports", [])]

    def stiffness(self, other=None):
        """The bending energy's matrix, between this wall's polynomials and another set's."""
        other = other or self
        x = self._products(self.x, other.x)
        y = self._products(self.y, other.y)
        nu = self.poisson
        terms = ((1, (2, 2), (0, 0)), (1, (0, 0), (2, 2)), (nu, (2, 0), (0, 2)),
                 (nu, (0, 2), (2, 0)), (2 * (1 - nu), (1, 1), (1, 1)))
        bending = self.rigidity * sum(f * np.kron(x[a], y[b]) for f, a, b in terms)
        return bending + POINT_SUPPORT_N_PER_MM * self._at_points().T @ other._at_points()

    def _at_points(self):
        rows = [np.kron(self.x.at([x])[0], self.y.at([y])[0]) for x, y in self.points]
        return np.array(rows).reshape(len(self.points), self.size)

    @staticmethod
    def _products(one, two):
        count = max(one.count + one.first + one.last, two.count + two.first + two.last) + 1
        nodes, weights = np.polynomial.legendre.leggauss(count)
        t = (nodes + 1) / 2 * one.length
        weights = weights * one.length / 2
        orders = ((0, 0), (1, 1), (2, 2), (0, 2), (2, 0))
        return {(i, j): (one.at(t, i) * weights[:, None]).T @ two.at(t, j) for i, j in orders}


class Bend:
    """A wall's deflection: what it was when this stage began, and polynomials added to that.

    As built it begins straight. A lid that holds the top afterwards holds it where it was: the
    polynomials added vanish there, and the whole plate still carries its bending energy.
    """

    def __init__(self, wall, before=()):
        self.wall, self.before = wall, tuple(before)
        self.size = wall.size
        self.matrix = wall.stiffness()
        self.pull = sum((wall.stiffness(w) @ c for w, c in self.before), np.zeros(wall.size))

    def deflection(self, c, x, y):
        """On the tensor grid of the places x and y."""
        parts = self.before + ((self.wall, c),)
        return sum(w.x.at(x) @ each.reshape(w.x.count, w.y.count) @ w.y.at(y).T
                   for w, each in parts)

    def energy(self, c):
        return c @ self.matrix @ c / 2 + c @ self.pull

    def force(self, c):
        return self.matrix @ c + self.pull

    def curvature(self, _c):
        return self.matrix


# --- The face ----------------------------------------------------------------------------


def bulge(domes, face, x, y):
    """Sum of all domes over the flat thickness on a tensor grid; a slack first closes at no force."""
    xi = 2 * (x - face["x_mm"]) / face["width_mm"] - 1
    eta = 2 * (y - face["y_mm"]) / face["height_mm"] - 1
    phi = np.outer(1 - xi**2, 1 - eta**2)**2
    total = np.zeros_like(phi)
    for dome in domes:
        height = dome["height_mm"]
        total += np.maximum(0, height * phi - dome["slack_mm"]) if height > 0 else height * phi
    return total


class Piece:
    """A rectangle of a row's face under which all columns have the same law."""

    def __init__(self, row, spans, law, shorter_mm):
        self.face, self.domes = row["face"], row["cells"].get("domes", [])
        self.spans, self.law, self.shorter_mm = spans, law, shorter_mm
        self.area = (spans[0][1] - spans[0][0]) * (spans[1][1] - spans[1][0])

    def gauss(self, longest, points):
        """Composite rule: parts no longer than `longest` mm, `points` in each."""
        places = []
        nodes, weights = np.polynomial.legendre.leggauss(points)
        for low, high in self.spans:
            cuts = np.linspace(low, high, int(np.ceil((high - low) / longest)) + 1)
            half = np.diff(cuts)[:, None] / 2
            places.append(((cuts[:-1, None] + half * (nodes + 1)).ravel(), (half * weights).ravel()))
        (x, wx), (y, wy) = places
        return x, y, np.outer(wx, wy)

    def even(self, count):
        """An even grid with its border on the piece's border."""
        return tuple(np.linspace(low, high, count) for low, high in self.spans)

    def beyond_edge(self, x, y):
        """Interference here beyond that of flat columns with every pad."""
        return bulge(self.domes, self.face, x, y) - self.shorter_mm


def _cuts(low, high, pads, start, size):
    edges = {low, high}
    for pad in pads:
        if "patch" in pad:
            edges |= {pad["patch"][start], pad["patch"][start] + pad["patch"][size]}
    kept = sorted(edge for edge in edges if low <= edge <= high)
    return list(zip(kept[:-1], kept[1:]))


def _covers(pad, x, y):
    patch = pad.get("patch")
    return patch is None or (0 < x - patch["x_mm"] < patch["width_mm"]
                             and 0 < y - patch["y_mm"] < patch["height_mm"])


def pieces_of(row):
    """The face cut along the edges of its pads."""
    face, pads = row["face"], row.get("pads", [])
    laws, pieces = {}, []
    for sx in _cuts(face["x_mm"], face["x_mm"] + face["width_mm"], pads, "x_mm", "width_mm"):
        for sy in _cuts(face["y_mm"], face["y_mm"] + face["height_mm"], pads, "y_mm", "height_mm"):
            here = tuple(i for i, pad in enumerate(pads) if _covers(pad, sum(sx) / 2, sum(sy) / 2))
            if here not in laws:
                parts = [CellLaw(row["cells"]), SheetLaw(row.get("sheets_give_mm_per_mpa", 0.0))]
                laws[here] = ColumnLaw(parts + [PadLaw(pads[i]) for i in here])
            shorter = sum(pad["gap_outside_mm"] for i, pad in enumerate(pads) if i not in here)
            pieces.append(Piece(row, (sx, sy), laws[here], shorter))
    return pieces


# --- Equilibrium -------------------------------------------------------------------------


class Fineness:
    """How finely a case is solved."""

    def __init__(self, terms=20, longest_mm=12.0, points=6, even=241):
        self.terms, self.longest_mm, self.points, self.even = terms, longest_mm, points, even


class Ties:
    """What the length of the box does: rigid, a spring, or a force; energy of u beyond u = 0."""

    def __init__(self, give_mm_per_n=0.0, force_n=0.0, start_mm=0.0, free=False):
        self.moves = free or give_mm_per_n > 0
        self.stiffness = 0.0 if free or give_mm_per_n == 0 else 1 / give_mm_per_n
        self.force_n, self.start_mm = force_n, start_mm

    def energy(self, u):
        return self.force_n * (u - self.start_mm) + self.stiffness * (u - self.start_mm)**2 / 2

    def pull(self, u):
        return self.force_n + self.stiffness * (u - self.start_mm)

    def curvature(self, _u):
        return self.stiffness


class Grid:
    """One piece's Gauss points, with all polynomials of the stage's two walls there."""

    def __init__(self, piece, interference_mm, bends, fineness):
        self.law = piece.law
        self.x, self.y, self.weights = piece.gauss(fineness.longest_mm, fineness.points)
        self.bases = [(b.wall.x.at(self.x), b.wall.y.at(self.y)) for b in bends]
        self.free = interference_mm + piece.beyond_edge(self.x, self.y)
        for bend in bends:
            self.free = self.free - bend.deflection(np.zeros(bend.size), self.x, self.y)

    def interference(self, coefficients, u):
        total = self.free - u
        for (fx, fy), c in zip(self.bases, coefficients):
            total = total - fx @ c.reshape(fx.shape[1], fy.shape[1]) @ fy.T
        return total

    def moments(self, field):
        """Integral of a field times each polynomial, wall by wall."""
        return [(fx.T @ field @ fy).ravel() for fx, fy in self.bases]

    def products(self, field, i, j):
        """Integral of a field times a polynomial of wall i times one of wall j."""
        (ax, ay), (bx, by) = self.bases[i], self.bases[j]
        pairs_x = (ax[:, :, None] * bx[:, None, :]).reshape(len(self.x), -1)
        pairs_y = (ay[:, :, None] * by[:, None, :]).reshape(len(self.y), -1)
        full = pairs_x.T @ field @ pairs_y
        full = full.reshape(ax.shape[1], bx.shape[1], ay.shape[1], by.shape[1])
        return full.transpose(0, 2, 1, 3).reshape(ax.shape[1] * ay.shape[1], -1)


class Stage:
    """One stage of a box: the walls that bend, its length, all rows' pieces."""

    def __init__(self, bends, ties, rows, fineness):
        self.bends, self.ties, self.rows, self.fineness = bends, ties, rows, fineness
        self.grids = [Grid(piece, interference, bends, fineness)
                      for pieces, interference in rows for piece in pieces]
        ends = [0, *np.cumsum([bend.size for bend in bends], dtype=int)]
        self.parts = [slice(low, high) for low, high in zip(ends[:-1], ends[1:])]
        self.size = ends[-1] + 1

    def split(self, z):
        return [z[part] for part in self.parts], z[-1]

    def energy(self, z):
        coefficients, u = self.split(z)
        held = sum(bend.energy(c) for bend, c in zip(self.bends, coefficients))
        pressed = sum(np.sum(g.weights * g.law.energy(g.interference(coefficients, u)))
                      for g in self.grids)
        return held + self.ties.energy(u) + pressed

    def gradient_and_hessian(self, z):
        coefficients, u = self.split(z)
        gradient, hessian = np.zeros(self.size), np.zeros((self.size, self.size))
        for bend, c, part in zip(self.bends, coefficients, self.parts):
            gradient[part] += bend.force(c)
            hessian[part, part] += bend.curvature(c)
        gradient[-1] += self.ties.pull(u)
        hessian[-1, -1] += self.ties.curvature(u)
        for grid in self.grids:
            p, k = grid.law.pressure_and_stiffness(grid.interference(coefficients, u))
            self._add_pressure(grid, p * grid.weights, k * grid.weights, gradient, hessian)
        if not self.ties.moves:
            gradient[-1], hessian[-1, :], hessian[:, -1], hessian[-1, -1] = 0, 0, 0, 1
        return gradient, hessian

    def _add_pressure(self, grid, p, k, gradient, hessian):
        for i, (push, row) in enumerate(zip(grid.moments(p), self.parts)):
            gradient[row] -= push
            for j in range(i, len(self.parts)):
                block = grid.products(k, i, j)
                hessian[row, self.parts[j]] += block
                if j > i:
                    hessian[self.parts[j], row] += block.T
        for slope, row in zip(grid.moments(k), self.parts):
            hessian[row, -1] += slope
            hessian[-1, row] += slope
        gradient[-1] -= p.sum()
        hessian[-1, -1] += k.sum()

    def solve(self, z=None):
        """Newton with line search (Armijo). The energy is convex: there is one answer."""
        z = np.zeros(self.size) if z is None else z.copy()
        energy = self.energy(z)
        for _ in range(200):
            gradient, hessian = self.gradient_and_hessian(z)
            scale = 1 / np.sqrt(np.maximum(np.diag(hessian), 1e-12))
            factor = cho_factor(hessian * np.outer(scale, scale) + 1e-14 * np.eye(self.size))
            step = -scale * cho_solve(factor, scale * gradient)
            fall = -gradient @ step
            if fall <= 1e-20 + 1e-17 * abs(energy):
                return z
            length = 1.0
            while length > 1e-10:
                trial = self.energy(z + length * step)
                if trial <= energy - 1e-4 * length * fall + 1e-14 * abs(energy):
                    break
                length /= 2
            z, energy = z + length * step, trial
            if fall <= 1e-12 * abs(energy):  # the last full step was quadratically small
                return z
        raise ArithmeticError("no equilibrium found")


# --- Results -----------------------------------------------------------------------------


class Reader:
    """Figures of one row of a solved stage."""

    def __init__(self, stage, z, index):
        self.stage = stage
        self.coefficients, self.u = stage.split(z)
        self.pieces, self.interference_mm = stage.rows[index]
        self.face = self.pieces[0].face
        self.area = self.face["width_mm"] * self.face["height_mm"]

    def walls(self, x, y):
        return [bend.deflection(c, x, y)
                for bend, c in zip(self.stage.bends, self.coefficients)]

    def interference(self, piece, x, y):
        return self.interference_mm + piece.beyond_edge(x, y) - sum(self.walls(x, y)) - self.u

    def integrals(self):
        """Force, its first moments, and the integral of each wall's deflection."""
        sums = np.zeros(5)
        for piece in self.pieces:
            x, y, weights = piece.gauss(self.stage.fineness.longest_mm, self.stage.fineness.points)
            p = weights * piece.law.pressure(self.interference(piece, x, y))
            a, b = self.walls(x, y)
            sums += [p.sum(), x @ p.sum(1), y @ p.sum(0), (weights * a).sum(), (weights * b).sum()]
        return sums

    def extremes(self):
        """Lowest and highest local pressure, each side of a pad's edge counted."""
        lows, highs = [], []
        for piece in self.pieces:
            x, y = piece.even(self.stage.fineness.even)
            p = piece.law.pressure(self.interference(piece, x, y))
            lows.append(p.min())
            highs.append(p.max())
        return min(lows), max(highs)

    def contact_share(self):
        """Share of the face under pressure: cells of an even grid, cut by the local gradient."""
        pressed = 0.0
        for piece in self.pieces:
            edges = piece.even(2 * self.stage.fineness.even)
            x, y = ((edge[1:] + edge[:-1]) / 2 for edge in edges)
            d = self.interference(piece, x, y)
            across = sum(np.abs(np.gradient(d, axis=axis)) for axis in (0, 1))
            with np.errstate(divide="ignore", invalid="ignore"):
                share = np.where(across > 0, 0.5 + d / across, d > 0)
            pressed += piece.area * np.clip(share, 0, 1).mean()
        return pressed / self.area

    def figures(self):
        force, turn_x, turn_y, mean_a, mean_b = self.integrals()
        lowest, highest = self.extremes()
        middle_x = np.array([self.face["x_mm"] + self.face["width_mm"] / 2])
        middle_y = np.array([self.face["y_mm"] + self.face["height_mm"] / 2])
        middle = [float(w[0, 0]) for w in self.walls(middle_x, middle_y)]
        pressed = force > 0
        return {
            "force_n": force,
            "mean_pressure_mpa": force / self.area,
            "lowest_pressure_mpa": lowest,
            "highest_pressure_mpa": highest,
            "contact_share": self.contact_share(),
            "centre_of_pressure_x_mm": turn_x / force if pressed else None,
            "centre_of_pressure_y_mm": turn_y / force if pressed else None,
            "wall_a_face_mean_mm": mean_a / self.area,
            "wall_b_face_mean_mm": mean_b / self.area,
            "wall_a_face_middle_mm": middle[0],
            "wall_b_face_middle_mm": middle[1],
        }


def stage_figures(stage, z):
    coefficients, u = stage.split(z)
    greatest = []
    for bend, c in zip(stage.bends, coefficients):
        x = np.linspace(0, bend.wall.width, stage.fineness.even)
        y = np.linspace(0, bend.wall.height, stage.fineness.even)
        greatest.append(float(bend.deflection(c, x, y).max()))
    rows = [Reader(stage, z, i).figures() for i in range(len(stage.rows))]
    return {
        "force_n": sum(row["force_n"] for row in rows),
        "length_gain_mm": float(u),
        "wall_a_greatest_mm": greatest[0],
        "wall_b_greatest_mm": greatest[1],
        "rows": [{key: None if value is None else float(value) for key, value in row.items()}
                 for row in rows],
    }


def solve_case(case, fineness=None):
    """All stages of a case: {"built": figures} and, where the case has one, "closed"."""
    fineness = fineness or Fineness()
    pieces = [pieces_of(row) for row in case["rows"]]
    walls = [Wall(case["wall_a"], fineness.terms), Wall(case["wall_b"], fineness.terms)]
    give = case.get("tie_give_mm_per_n", 0.0)
    force = case.get("frame_force_n")
    ties = Ties(give) if force is None else Ties(force_n=force, free=True)
    rows = [(each, row["interference_mm"]) for each, row in zip(pieces, case["rows"])]
    built = Stage([Bend(wall) for wall in walls], ties, rows, fineness)
    z = built.solve(_start(built, case))
    results = {"built": stage_figures(built, z)}
    if "closed" in case:
        results["closed"] = _closed(case, built, z)
    return results


def _start(stage, case):
    """Straight walls; a frame as long as its force leaves it between rigid walls."""
    z = np.zeros(stage.size)
    if case.get("frame_force_n") is not None:
        areas = [piece.area for pieces, _ in stage.rows for piece in pieces]
        pieces, interference = stage.rows[0]
        rigid = pieces[0].law.squeeze(np.array([case["frame_force_n"] / sum(areas)]))
        z[-1] = interference - float(rigid[0])
    return z


def _closed(case, built, z):
    coefficients, u = built.split(z)
    closed, fineness = case["closed"], built.fineness
    bends = []
    for key, bend, c in zip(("wall_a", "wall_b"), built.bends, coefficients):
        top = case[key]["edges"]["top"]
        if closed.get("lid_holds_top") and top == "free":
            # One polynomial fewer: the same degree, so that all stays within what was there.
            wall = Wall(case[key], fineness.terms, "held", fineness.terms - 1)
        else:
            wall = bend.wall
        bends.append(Bend(wall, [(bend.wall, c)]))
    ties = built.ties
    if case.get("frame_force_n") is not None:
        ties = Ties(case.get("tie_give_mm_per_n", 0.0), case["frame_force_n"], u)
    later = closed.get("interference_mm", [row["interference_mm"] for row in case["rows"]])
    rows = [(pieces, d) for (pieces, _), d in zip(built.rows, later)]
    stage = Stage(bends, ties, rows, fineness)
    start = np.zeros(stage.size)
    start[-1] = u
    return stage_figures(stage, stage.solve(start))
