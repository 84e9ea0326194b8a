// SPDX-License-Identifier: GPL-3.0-or-later
//
// The page's pure functions without a browser: digits against figures.json (which C++ printed),
// the monotone cubic against hand values, standings, and that solved states are met exactly.
// Run: node tests/page/script_test.mjs
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { test } from 'node:test';
import vm from 'node:vm';

const here = new URL('.', import.meta.url);
const scripts = new URL('../../cli/page/', here);

// As in the page: all files in the order of their names, one after another in one script.
function loadPage() {
  const names = readdirSync(scripts).filter((name) => name.endsWith('.js')).sort();
  const whole = names.map((name) => readFileSync(new URL(name, scripts), 'utf8')).join('\n');
  vm.runInThisContext(whole, { filename: 'page.js' });
  return globalThis.stackfitPage;
}
const page = loadPage();

const printedUnits = { pressure: 'kPa', force: 'kgf', length: 'mm', temperature: 'C' };
const dimensionOf = {
  P: 'pressure',
  C: 'pressure',
  F: 'force',
  L: 'length',
  D: 'length',
  T: 'temperature',
};
const within = (a, b, by) => assert.ok(Math.abs(a - b) <= by, `${a} is not within ${by} of ${b}`);

test('every quantity reads as C++ prints it, in every unit', () => {
  const table = JSON.parse(readFileSync(new URL('figures.json', here), 'utf8'));
  assert.ok(table.length > 600);
  const wrong = table.filter(([letter, unit, value, text]) => {
    const choice = { ...printedUnits, [dimensionOf[letter]]: unit };
    return page.quantity(letter, value, choice) !== text;
  });
  assert.deepEqual(wrong, []);
});

test('the table above has every unit that the page knows', () => {
  const table = JSON.parse(readFileSync(new URL('figures.json', here), 'utf8'));
  const seen = new Set(table.map(([letter, unit]) => dimensionOf[letter] + ' ' + unit));
  for (const [dimension, units] of Object.entries(page.units)) {
    for (const name of Object.keys(units)) assert.ok(seen.has(dimension + ' ' + name), name);
  }
});

test('a small letter leaves the unit out, and the companion of psi is kPa', () => {
  assert.equal(page.quantity('p', 0.0814, printedUnits), '81');
  assert.equal(page.quantity('d', 0.8, printedUnits), '0.80');
  assert.equal(page.unitName('C', printedUnits), 'psi');
  const psi = { ...printedUnits, pressure: 'psi' };
  assert.equal(page.unitName('C', psi), 'kPa');
  assert.equal(page.quantity('C', 0.0814, psi), '81');
});

test('a span that reads the same at both ends is one figure', () => {
  assert.equal(page.span('P', 0.0291, 0.0743, printedUnits), '29 to 74 kPa');
  assert.equal(page.span('P', 0.0291, 0.0292, printedUnits), '29 kPa');
  assert.equal(page.span('c', 0.0291, 0.0743, printedUnits), '4.2 to 10.8');
});

// --- curves ----------------------------------------------------------------------------------

const cubicAt = (x, y, at) => page.cubic(x, y, page.monotoneSlopes(x, y), at);

test('the cubic gives back a parabola where it need not be held back', () => {
  const x = [1, 2, 4, 5];
  const y = x.map((v) => v * v);
  assert.deepEqual(page.monotoneSlopes(x, y), [2, 4, 8, 10]);
  for (const at of [1, 1.3, 2, 3.7, 5]) within(cubicAt(x, y, at), at * at, 1e-12);
});

test('by hand: flat then rising, slopes nothing at the flat', () => {
  // The parabola at 1 would slope 0.5; its left secant is 0, so it lies flat there. At 2, an end,
  // the parabola slopes 1.5 against a secant of 1. Middle: 0.5 - (1/8)(1.5) = 0.3125.
  const x = [0, 1, 2];
  const y = [0, 0, 1];
  assert.deepEqual(page.monotoneSlopes(x, y), [0, 0, 1.5]);
  within(cubicAt(x, y, 1.5), 0.3125, 1e-15);
  assert.equal(cubicAt(x, y, 0.5), 0);
});

test('by hand: slopes beyond the circle of radius three are brought onto it', () => {
  // Secants 10, 1, 10: parabola slopes at the inner knots 5.5 each, hypot(5.5, 5.5) = 7.78 > 3.
  const slope = page.monotoneSlopes([0, 1, 2, 3], [0, 10, 11, 21]);
  within(slope[1], 3 / Math.SQRT2, 1e-14);
  within(slope[2], 3 / Math.SQRT2, 1e-14);
});

test('rising data stay rising between the knots, and knots are met', () => {
  let seed = 7;
  const draw = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
  for (let round = 0; round < 200; ++round) {
    const x = [0];
    const y = [0];
    for (let k = 0; k < 9; ++k) {
      x.push(x[k] + 0.05 + draw());
      y.push(y[k] + (draw() < 0.3 ? 0 : draw() ** 6 * 100));
    }
    x.forEach((at, k) => assert.equal(cubicAt(x, y, at), y[k]));
    let before = 0;
    for (let k = 0; k <= 500; ++k) {
      const now = cubicAt(x, y, (x[9] * k) / 500);
      assert.ok(now >= before - 1e-12 * y[9], `falls in round ${round}`);
      before = now;
    }
  }
});

test('beyond their ends the curves are level', () => {
  assert.equal(cubicAt([0, 1], [2, 3], -5), 2);
  assert.equal(cubicAt([0, 1], [2, 3], 5), 3);
  assert.equal(page.line([0.5], [4], 0.9), 4);
});

// --- states ----------------------------------------------------------------------------------

// Two kinds; pressure 0.1 x length + 0.02 x (total - 12) + 0.05, the second kind a tenth less.
function samplePlay() {
  const total_mm = [11, 12, 13];
  const shift_mm = [-0.5, 0, 0.5, 1];
  const grid = (of) => total_mm.flatMap((total) => shift_mm.map((shift) => of(total, shift)));
  const kind = (settled, share) => {
    const pressure = (total, shift) => share * (0.05 + 0.02 * (total - 12) + 0.1 * shift);
    return {
      settled,
      stiff_pads: false,
      face_pressure_mpa: grid(pressure),
      highest_local_mpa: grid((total, shift) => 2 * pressure(total, shift)),
      wall_bow_mm: grid((total, shift) => 10 * pressure(total, shift)),
    };
  };
  const solved = (name, charge, settled, mpa) => ({
    name, charge, temperature_c: 20, capacity_loss: 0, settled, stiff_pads: false,
    face_pressure_mpa: mpa, highest_local_mpa: 2.1 * mpa, wall_bow_mm: 10 * mpa,
    force_n: 26000 * mpa, standing: 'inside',
  });
  return {
    build: { charge: 0.4, temperature_c: 20, total_mm: 12, bow_mm: 0.5 },
    window: {
      charge: { low: 0.1, high: 0.9 },
      temperature_c: { low: 10, high: 30 },
      capacity_loss: { low: 0, high: 0 },
    },
    band: { low_mpa: 0.02, high_mpa: 0.1, limit_mpa: null, margin: 0.1 },
    charge: [0, 0.607, 1],
    longer_mm: [-0.2, -0.3, 0.3],
    longer_mm_per_k: 0.01,
    longer_mm_per_loss: 5,
    most_loss: 0.1,
    least_temperature_c: 0,
    most_temperature_c: 40,
    total_mm,
    least_total_mm: 11,
    most_total_mm: 13,
    shift_mm,
    kinds: [kind(false, 1), kind(true, 0.9)],
    solved: [
      solved('as built', 0.4, false, 0.05123),
      solved('lowest', 0.607, true, 0.01987),
      solved('highest', 0.9, false, 0.07777),
    ],
    face_area_mm2: 26000,
  };
}

const at = (more) => ({ total_mm: 12, charge: 0.4, temperature_c: 20, capacity_loss: 0, ...more });

test('lengthening: charge between knots, heat and age', () => {
  const play = samplePlay();
  within(page.longerMm(play, at({ charge: 0.607 })), -0.3, 1e-15);
  within(page.longerMm(play, at({ charge: 0.3035 })), -0.25, 1e-15);
  within(page.longerMm(play, at({ charge: 0, temperature_c: 30 })), -0.1, 1e-15);
  within(page.longerMm(play, at({ charge: 0, capacity_loss: 0.02 })), -0.1, 1e-15);
});

test('between solved states the grid is read, and straight lines between totals', () => {
  const play = samplePlay();
  const rows = page.prepared(play);
  const state = at({ total_mm: 12.5, charge: 1 });
  const now = page.stateFigures(play, rows, state);
  assert.equal(now.solved, false);
  within(now.face_pressure_mpa.high, 0.05 + 0.01 + 0.03, 1e-14);
  within(now.face_pressure_mpa.low, 0.9 * 0.09, 1e-14);
  within(now.force_n.high, 26000 * 0.09, 1e-9);
});

test('on a solved state the figures are the solver\'s own, to the last bit', () => {
  const play = samplePlay();
  const rows = page.prepared(play);
  for (const solved of play.solved) {
    const now = page.stateFigures(play, rows, at({ charge: solved.charge }));
    assert.equal(now.solved, true);
    for (const name of ['face_pressure_mpa', 'highest_local_mpa', 'wall_bow_mm', 'force_n']) {
      assert.deepEqual(now[name], { low: solved[name], high: solved[name] });
    }
  }
  const beside = [{ charge: 0.41 }, { temperature_c: 21 }, { total_mm: 12.1 }];
  for (const more of [...beside, { capacity_loss: 0.001 }]) {
    assert.equal(page.stateFigures(play, rows, at(more)).solved, false);
  }
});

test('several kinds solved at one state are shown low to high', () => {
  const play = samplePlay();
  const settled = { settled: true, face_pressure_mpa: 0.044, standing: 'below' };
  play.solved.push({ ...play.solved[0], ...settled });
  const now = page.stateFigures(play, page.prepared(play), at({}));
  assert.deepEqual(now.face_pressure_mpa, { low: 0.044, high: 0.05123 });
  assert.equal(now.standing, 'below');
});

test('the whole use: the solver\'s two ends as planned, the curves elsewhere', () => {
  const play = samplePlay();
  const rows = page.prepared(play);
  const planned = page.windowFigures(play, rows, 12);
  assert.deepEqual(planned.face_pressure_mpa, { low: 0.01987, high: 0.07777 });
  // Shortest at 60.7 % and 10 C, -0.4; longest at 90 % and 30 C.
  const longest = -0.3 + 0.6 * ((0.9 - 0.607) / (1 - 0.607)) + 0.1;
  const other = page.windowFigures(play, rows, 13);
  within(other.face_pressure_mpa.low, 0.9 * (0.07 - 0.04), 1e-14);
  within(other.face_pressure_mpa.high, 0.07 + 0.1 * longest, 1e-14);
  assert.equal(other.standing, 'above');
});

test('standings, with the doubt on top of what is judged from above', () => {
  const band = { low_mpa: 0.02, high_mpa: 0.11, limit_mpa: 0.2, margin: 0.1 };
  const of = (face_pressure_mpa, highest_local_mpa) =>
    page.standing(band, { face_pressure_mpa, highest_local_mpa });
  assert.equal(of(0.05, 0.1), 'inside');
  assert.equal(of(0.099, 0.1), 'inside');
  assert.equal(of(0.101, 0.1), 'above');
  assert.equal(of(0.02, 0.1), 'inside');
  assert.equal(of(0.0199, 0.1), 'below');
  assert.equal(of(0, 0), 'loose');
  assert.equal(of(0.05, 0.19), 'above_limit');
  assert.equal(of(0.15, 0.19), 'above_limit');
  const unlimited = { ...band, limit_mpa: null };
  const figures = { face_pressure_mpa: 0.05, highest_local_mpa: 9 };
  assert.equal(page.standing(unlimited, figures), 'inside');
  assert.equal(page.worst(['inside', 'below', 'loose']), 'loose');
  assert.equal(page.worst(['below', 'above', 'above_limit']), 'above_limit');
  assert.equal(page.worst([]), 'inside');
});

// --- sliders ---------------------------------------------------------------------------------

test('stops are even, but solved states take the place of the steps beside them', () => {
  const stops = page.stops(0, 100, 1, [60.7, 38, 10]);
  assert.ok(stops.includes(60) && stops.includes(60.7) && stops.includes(62));
  assert.ok(!stops.includes(61));
  assert.equal(stops.filter((stop) => stop === 38).length, 1);
  assert.equal(stops.length, 101);
  assert.deepEqual([stops[0], stops[100]], [0, 100]);
});

test('stops begin and end at the grid, off the steps too, and the planned total is one', () => {
  const stops = page.stops(10.33, 14.33, 0.1, [12.33]);
  assert.equal(stops[0], 10.33);
  assert.equal(stops[stops.length - 1], 14.33);
  assert.ok(stops.includes(12.33) && !stops.includes(12.3) && stops.includes(12.4));
  assert.ok(stops.every((stop, k) => k === 0 || stop > stops[k - 1]));
  assert.deepEqual(page.stops(0, 0, 0.1, [0]), [0]);
});

test('a value goes to the nearest stop', () => {
  assert.equal(page.nearest([0, 60, 60.7, 62], 60.4), 60.7);
  assert.equal(page.nearest([0, 60, 60.7, 62], 1e9), 62);
});
