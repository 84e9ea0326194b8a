# SPDX-License-Identifier: GPL-3.0-or-later
"""What tests/bench/README.md says besides its figures, and how its tables are set.

For: table.py, which puts the figures between these words.
"""

TOP = """# Speed

Written whole by one run of one script, which holds these words too; do not edit it:

    cmake --workflow --preset bench
    /usr/bin/python3 tests/bench/table.py build/bench/tests/bench build/bench/cli/stackfit .

Read the ratios, not the times: whatever is set side by side was run in turn in the same run, but
another machine, or the same one at another hour, has other times. No test asserts any of them.

"""

PROCESSES = """## Every command, as a process

Each command on its example and on the largest or slowest fixtures of its kind, {rounds}, all in
turn. Median and least are what a clock on the wall shows, from start to exit; processor time is
that of all threads together, so it may be more. The ratio is of the medians. Where the machine is
busy with other work the wall's clock counts that too: processor time is then what to go by. Peak
memory is never below that of the small interpreter which starts the processes.

"""

BESIDE = """## Beside SciPy and NumPy

The same work done by the same method, on one thread each, in processor time; medians of {rounds}
in which the two took turns. Above 1 the program is quicker. The two answers are held to each other
before anything is timed: here the plate's deflections differed by at most {bent_off} of the
greatest, the ladder's forces by at most {forces_off} of each.

"""

BESIDE_NOTES = """What is compared:

- **Equilibria**: cells between giving walls as one column, the force at one interference.
  `scipy.optimize.brentq` to the last digits, called from a Python loop: most of the ratio is
  Python, as it would be for whoever writes it so.
- **Samples**: draws of every uncertain figure of a build, with the shims that each draw leaves.
  `chance_numpy.py` draws 20 figures on whole arrays, as many as "every figure open" has (shed_bank
  leaves only 14 open, so its ratio flatters), but only asks whether one plan passes; the best of
  its block sizes. The program's samples serve every plan.
- **Mesh**: the program makes a wall's nodes and triangles from outlines, to a size and a least
  angle, and finds the columns' points. `scipy.spatial.Delaunay` is handed those nodes and only
  joins them: it keeps no edge of face or wall and chooses no node. It does less, and is no
  alternative; it says what the joining alone costs.
- **Factor**: SciPy's `splu` on the very matrix that the program factors (`wall_dump.cpp` writes it,
  supports left out), told that it is symmetric. The program's time includes putting the matrix
  together from its triangles; SciPy's does not.
- **45 loads**: solved at once with that factor, as many as a face has shapes.
- **Ladder**: thirty interferences from loose to about 0.35 MPa, each from the one before, on the
  same shapes of the walls. NumPy's Newton method uses the law in closed form; the program's is any
  stack of laws, solved for its pressure at every point.

"""

CHANCE = """A million draws of shed_bank's chance as whole processes, in turn: `chance_scipy.py` solves
every draw on arrays for one plan, with springs for walls; the program's walls are plates, and it
answers the rest as well.

"""

SEARCH = """## The shim search beside GLPK and every placing

Drawn kits of 2 to 5 cells and 1 to 3 kinds, small enough for every placing to be tried
(`plan_beside_glpk.cpp`). All three found the same plan for each kit. GLPK solves the same rules as
integer programs, one after another; its time includes setting them up.

"""

GROWTH = """## How it grows

The exponent between a size and the one above it: 1 where twice the size takes twice the time, 2
where it takes four times as long. Processor time; medians. Of whole processes the empty one is
taken off before the exponent is.

"""

CELLS = """### With cells

shed_bank with its cells and shims repeated, in a box as much longer; the search alone is that of
wide_kit_sixteen, made longer in the same way, with its kit as it is.

"""

TRIANGLES = """### With triangles

shed_bank's end wall, meshed more finely than any answer needs; about 2,000 is what the program
uses. Shapes include the factor. A ladder and loads are linear in the points; a factor of a flat
mesh grows with the power 1.5 at best.

"""

KINDS = """### With kinds of shims

wide_kit_sixteen with the thickest kinds of its kit, sixteen pieces of each; with one kind nothing
fits (17 gaps need a sheet), and the time goes into what would mend it.

"""

HOTTEST = """## Hottest places

By `perf record -e cpu-clock` over `pick` of shed_bank and of too_few_shims and `size` of the three
builds of fixtures/order, their samples added up (in brackets: least and most of one of the five).
These are not of this run: whoever changes such a place measures anew.

| place                                                               | share |    of one |
|---------------------------------------------------------------------|------:|----------:|
| a column's pressure at its squeeze (`ColumnLaw`, laws, logarithms)  |  27 % | (15 - 31) |
| walls' shapes times amplitudes, and back (`Columns::solve`)         |  22 % | (12 - 35) |
| substitution in sparse factors (`Plate::solve`, `BowStiffening`)    |  14 % |  (2 - 27) |

The rest is spread: no other place has 6 %. What was plainly wasted is mended since:
many loads went through a factor one by one (now eight go along, `solver/many_loads.hpp`, the same
to the last bit), and where both walls are alike the second was solved again for what the first had
told. What remains:

- The laws are asked at every point of every step, and some laws only by Newton's method on their
  logarithms. A curve's rungs use a table (`ColumnLaw::quick`); full solutions, which people read,
  do not, because the table is good to 1e-5 only.
- Shapes are a matrix of points by amplitudes, read once for the walls and once for the forces of
  each step. Fewer shapes or points would change figures.
- A full solution substitutes one load at a time, each after the one before: conjugate gradients
  need it so. In `size` of a frame that is most of the substitution.
"""


def table(head, rows, left=1):
    """A table whose columns line up as text, too; the first `left` are words, the rest figures."""
    lines = [head, *rows]
    wide = [max(len(line[i]) for line in lines) for i in range(len(head))]
    cell = lambda i, text: text.ljust(wide[i]) if i < left else text.rjust(wide[i])
    said = ["| " + " | ".join(cell(i, text) for i, text in enumerate(line)) + " |"
            for line in lines]
    rule = "|" + "|".join("-" * (wide[i] + 2) if i < left else "-" * (wide[i] + 1) + ":"
                          for i in range(len(head))) + "|"
    return "\n".join([said[0], rule, *said[1:]]) + "\n\n"


def figure(value):
    """Three digits that count, without an exponent."""
    if value >= 99.95:
        return f"{value:,.0f}"
    digits = 1 if value >= 9.995 else 2 if value >= 0.0995 else 3
    return f"{value:.{digits}f}"


def rate(value):
    return f"{value / 1e6:.2f} million/s" if value >= 1e6 else f"{value:,.0f}/s"
