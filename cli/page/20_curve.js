// SPDX-License-Identifier: GPL-3.0-or-later
//
// The solver's reduced curves, read between their knots.
//
// For: what the sliders show where the solver itself has not been asked. Pure functions of the
// page's data (see solver/picture.hpp, Play).
// Not for: a second model: nothing here knows cells, walls or sheets; and where a solved state is
// met, its own figures are shown instead.
'use strict';
(() => {
  // Index of the knot at or below `at`, so that there is one above it.
  function interval(x, at) {
    let low = 0;
    let high = x.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (x[middle] <= at) low = middle;
      else high = middle;
    }
    return low;
  }

  // Straight lines between knots; level beyond the ends.
  function line(x, y, at) {
    if (x.length === 1 || at <= x[0]) return y[0];
    const last = x.length - 1;
    if (at >= x[last]) return y[last];
    const i = interval(x, at);
    return y[i] + ((y[i + 1] - y[i]) * (at - x[i])) / (x[i + 1] - x[i]);
  }

  // Slope of the parabola through three neighbouring points, at the one with index k.
  function parabolaSlope(x, y, k) {
    const secant = (i) => (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
    const n = x.length;
    if (n === 2) return secant(0);
    const i = Math.min(Math.max(k, 1), n - 2);
    const before = x[i] - x[i - 1];
    const after = x[i + 1] - x[i];
    const bend = (secant(i) - secant(i - 1)) / (before + after);
    return secant(i - 1) + bend * (2 * x[k] - x[i - 1] - x[i]);
  }

  // F. N. Fritsch, R. E. Carlson, Monotone piecewise cubic interpolation, SIAM J. Numer. Anal. 17
  // (1980): slopes of neighbouring parabolas, nothing at a turn, and both slopes of an interval
  // brought into the circle of radius three about its secant.
  function monotoneSlopes(x, y) {
    const slope = x.map((_, k) => parabolaSlope(x, y, k));
    for (let i = 0; i + 1 < x.length; ++i) {
      const secant = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
      for (const k of [i, i + 1]) {
        if (slope[k] * secant <= 0) slope[k] = 0;
      }
    }
    for (let i = 0; i + 1 < x.length; ++i) {
      const secant = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
      if (secant === 0) continue;
      const a = slope[i] / secant;
      const b = slope[i + 1] / secant;
      const radius = Math.hypot(a, b);
      if (radius <= 3) continue;
      slope[i] = (3 / radius) * a * secant;
      slope[i + 1] = (3 / radius) * b * secant;
    }
    return slope;
  }

  // Monotone cubic through (x, y), level beyond the ends; slopes as monotoneSlopes gives them.
  function cubic(x, y, slope, at) {
    if (x.length === 1 || at <= x[0]) return y[0];
    const last = x.length - 1;
    if (at >= x[last]) return y[last];
    const i = interval(x, at);
    const width = x[i + 1] - x[i];
    const t = (at - x[i]) / width;
    const s = 1 - t;
    return (
      s * s * (1 + 2 * t) * y[i] +
      t * t * (3 - 2 * t) * y[i + 1] +
      t * s * width * (s * slope[i] - t * slope[i + 1])
    );
  }

  const figureNames = ['face_pressure_mpa', 'highest_local_mpa', 'wall_bow_mm'];

  // Each figure of each kind as a row of {y, slope} over the shifts, one for each total.
  function prepared(play) {
    const width = play.shift_mm.length;
    return play.kinds.map((kind) => {
      const rows = {};
      for (const name of figureNames) {
        rows[name] = play.total_mm.map((_, t) => {
          const y = kind[name].slice(t * width, (t + 1) * width);
          return { y, slope: monotoneSlopes(play.shift_mm, y) };
        });
      }
      return rows;
    });
  }

  // How much longer than when it was built the row is [mm].
  function longerMm(play, state) {
    return (
      line(play.charge, play.longer_mm, state.charge) +
      play.longer_mm_per_k * (state.temperature_c - play.build.temperature_c) +
      play.longer_mm_per_loss * state.capacity_loss
    );
  }

  // Figures of every kind at a total of shims and a lengthening.
  function figuresAt(play, rows, total_mm, longer_mm) {
    return rows.map((kind) => {
      const read = (name) => {
        // Each total's curve at the same length of row: more shims are as good as more swelling.
        const along = kind[name].map((row, t) =>
          cubic(play.shift_mm, row.y, row.slope, longer_mm + total_mm - play.total_mm[t]),
        );
        return Math.max(0, line(play.total_mm, along, total_mm));
      };
      const face_pressure_mpa = read('face_pressure_mpa');
      return {
        face_pressure_mpa,
        highest_local_mpa: read('highest_local_mpa'),
        wall_bow_mm: read('wall_bow_mm'),
        force_n: face_pressure_mpa * play.face_area_mm2,
      };
    });
  }

  const near = (a, b) => Math.abs(a - b) < 1e-6;

  // What the solver itself said of this state, all kinds; empty where it was not asked.
  function solvedAt(play, state) {
    if (!near(state.total_mm, play.build.total_mm)) return [];
    return play.solved.filter(
      (solved) =>
        near(solved.charge, state.charge) &&
        near(solved.temperature_c, state.temperature_c) &&
        near(solved.capacity_loss, state.capacity_loss)
    );
  }

  // From worst to best, with the words of cli/answer_words.cpp.
  const standings = ['above_limit', 'above', 'loose', 'below', 'inside'];
  const standingWords = {
    above_limit: "above the maker's limit",
    above: 'above your band',
    loose: 'loose',
    below: 'below your band',
    inside: 'inside',
  };
  const worst = (list) => standings.find((standing) => list.includes(standing)) || 'inside';

  // Pressures from above are judged with the model's doubt on top, as the solver does.
  function standing(band, figures) {
    const doubt = 1 + band.margin;
    if (band.limit_mpa !== null && figures.highest_local_mpa * doubt > band.limit_mpa) {
      return 'above_limit';
    }
    if (figures.face_pressure_mpa * doubt > band.high_mpa) return 'above';
    if (figures.face_pressure_mpa === 0) return 'loose';
    return figures.face_pressure_mpa < band.low_mpa ? 'below' : 'inside';
  }

  // Low to high over a list of figures.
  function spread(list) {
    const of = (name) => {
      const values = list.map((figures) => figures[name]);
      return { low: Math.min(...values), high: Math.max(...values) };
    };
    return {
      face_pressure_mpa: of('face_pressure_mpa'),
      highest_local_mpa: of('highest_local_mpa'),
      wall_bow_mm: of('wall_bow_mm'),
      force_n: of('force_n'),
    };
  }

  const summary = (play, list, solved) => ({
    ...spread(list),
    solved,
    standing: worst(list.map((f) => (solved && f.standing) || standing(play.band, f))),
  });

  // One state: {total_mm, charge, temperature_c, capacity_loss}.
  function stateFigures(play, rows, state) {
    const solved = solvedAt(play, state);
    if (solved.length > 0) return summary(play, solved, true);
    return summary(play, figuresAt(play, rows, state.total_mm, longerMm(play, state)), false);
  }

  // The shortest and the longest the row gets in its whole use.
  function windowLengths(play) {
    const { charge, temperature_c, capacity_loss } = play.window;
    const knots = play.charge.filter((at) => at > charge.low && at < charge.high);
    const lengths = [];
    for (const at of [charge.low, ...knots, charge.high]) {
      for (const celsius of [temperature_c.low, temperature_c.high]) {
        for (const loss of [capacity_loss.low, capacity_loss.high]) {
          lengths.push(
            longerMm(play, { charge: at, temperature_c: celsius, capacity_loss: loss })
          );
        }
      }
    }
    return { low: Math.min(...lengths), high: Math.max(...lengths) };
  }

  // All of the use at one total. Pressure rises with length, so its ends are those of the length.
  function windowFigures(play, rows, total_mm) {
    if (near(total_mm, play.build.total_mm)) {
      const ends = play.solved.filter((s) => s.name === 'lowest' || s.name === 'highest');
      if (ends.length > 1) return summary(play, ends, true);
    }
    const lengths = windowLengths(play);
    const list = [
      ...figuresAt(play, rows, total_mm, lengths.low),
      ...figuresAt(play, rows, total_mm, lengths.high),
    ];
    return summary(play, list, false);
  }

  // Where a slider may stand: even steps, and the states that were solved in place of the steps
  // beside them, so that those can be met exactly.
  function stops(low, high, step, exact) {
    const inRange = exact.filter((at) => at >= low - 1e-9 && at <= high + 1e-9);
    const own = [...new Set([low, high, ...inRange])];
    const kept = own.filter((at) => inRange.includes(at) || inRange.every((e) => !near(e, at)));
    const all = [...kept];
    for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9; ++k) {
      const at = Number((k * step).toPrecision(12));
      if (kept.every((other) => Math.abs(other - at) > step / 2)) all.push(at);
    }
    return all.sort((a, b) => a - b);
  }

  const nearest = (list, at) =>
    list.reduce((best, stop) => (Math.abs(stop - at) < Math.abs(best - at) ? stop : best));

  const page = (globalThis.stackfitPage = globalThis.stackfitPage || {});
  Object.assign(page, {
    line,
    cubic,
    monotoneSlopes,
    prepared,
    longerMm,
    figuresAt,
    solvedAt,
    standing,
    standingWords,
    worst,
    stateFigures,
    windowFigures,
    stops,
    nearest,
  });
})();
