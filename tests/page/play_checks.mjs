// SPDX-License-Identifier: GPL-3.0-or-later
//
// What can be played with: on a solved state the figures are those that the program printed,
// between them they move as they must, and every unit comes back as it was.
import { readFileSync } from 'node:fs';

const playable = ({ file }) => readFileSync(file, 'utf8').includes('id="play-data"');

// --- figures, written down here once more ----------------------------------------------------

const kgf = 9.80665;
const whole = (n) => n.toFixed(n !== 0 && Math.abs(n) + 0.05 < 10 ? 1 : 0);
const asText = {
  pressure: [(mpa) => whole(mpa * 1000), 'kPa'],
  force: [(newton) => whole(newton / kgf), 'kgf'],
  local: [(mpa) => whole(mpa * 1000), 'kPa'],
  bow: [(mm) => mm.toFixed(Math.abs(mm) < 0.995 ? 2 : 1), 'mm'],
};
const figureOf = {
  pressure: 'face_pressure_mpa',
  force: 'force_n',
  local: 'highest_local_mpa',
  bow: 'wall_bow_mm',
};

// All that the program said of a state (pads fresh and settled, soft and stiff), low to high.
function expected(plan, state) {
  const same = (a, b) => Math.abs(a - b) < 1e-9;
  const solved = [plan.as_built, plan.lowest, plan.highest, ...plan.states].filter((other) =>
    ['charge', 'temperature_c', 'capacity_loss'].every((name) => same(other[name], state[name]))
  );
  return Object.fromEntries(
    Object.entries(asText).map(([name, [text, unit]]) => {
      const values = solved.map((one) => one[figureOf[name]]);
      const [low, high] = [text(Math.min(...values)), text(Math.max(...values))];
      return [name, (low === high ? high : `${low} to ${high}`) + ' ' + unit];
    })
  );
}

const readOff = (page) =>
  page.evaluate((names) => {
    const texts = names.map((name) => [name, document.getElementById('play-' + name).textContent]);
    return Object.fromEntries(texts);
  }, Object.keys(asText));

// kPa and kgf of a row of the first table, as C++ wrote them.
const printedRow = (page, name) =>
  page.evaluate((start) => {
    const rows = [...document.querySelectorAll('#pressure table')].flatMap((table) => [...table.rows]);
    const row = rows.find((one) => one.cells[0].textContent.startsWith(start + ','));
    return row ? [row.cells[1].textContent, row.cells[3].textContent] : null;
  }, name);

async function checkSolved(t, sheet, page) {
  const { plan } = await page.evaluate(() => JSON.parse(document.getElementById('answer').textContent));
  const states = { 'as built': plan.as_built, lowest: plan.lowest, highest: plan.highest };
  t.equal(await readOff(page), expected(plan, plan.as_built), `${sheet.name}, as it opens`);
  for (const [name, state] of Object.entries(states)) {
    const where = `${sheet.name}, standing on "${name}"`;
    const button = page.locator('#play button[data-solved]', { hasText: name });
    if (!t.check((await button.count()) === 1, `${where}: no button`)) continue;
    await button.click();
    const found = await readOff(page);
    t.equal(found, expected(plan, state), where);
    const printed = await printedRow(page, name);
    if (!t.check(printed, `${where}: no such row in the table`)) continue;
    // Of a span the end that has the state's name.
    const end = (text) => {
      const ends = text.split(' ')[0] === text.split(' to ')[0] ? text.split(' to ') : [text];
      return (name === 'lowest' ? ends[0] : ends[ends.length - 1]).split(' ')[0];
    };
    const own = [end(found.pressure), end(found.force)];
    if (name !== 'as built' || !found.pressure.includes(' to ')) {
      t.equal(own, printed, `${where}, beside the table`);
    }
    const pressed = await button.getAttribute('aria-pressed');
    t.equal(pressed, 'true', `${where}: the button's own state`);
    const verdict = await page.locator('#play-verdict').textContent();
    t.check(verdict.includes(found.pressure), `${where}: the verdict says "${verdict}"`);
  }
  const each = plan.states.map((state) => [state, expected(plan, state)]);
  for (const [state, figures] of each) {
    await page.evaluate(
      ([to, total_mm]) => globalThis.stackfitPage.play.standOn({ ...to, total_mm }),
      [state, plan.shim_total_mm]
    );
    t.equal(await readOff(page), figures, `${sheet.name}, on the state ${JSON.stringify(state).slice(0, 90)}`);
  }
  await page.locator('#play-reset').click();
}

// --- sliders ---------------------------------------------------------------------------------

function shown() {
  const text = (id) => document.getElementById(id).textContent;
  const paths = (selector) => [...document.querySelectorAll(selector)].map((p) => p.getAttribute('d'));
  return {
    pressure: text('play-pressure'),
    companion: text('play-companion'),
    force: text('play-force'),
    local: text('play-local'),
    bow: text('play-bow'),
    verdict: text('play-verdict'),
    total: document.querySelector('output[for=play-total]').textContent,
    charge: document.querySelector('output[for=play-charge]').textContent,
    loss: document.querySelector('output[for=play-loss]').textContent,
    temperature: document.querySelector('output[for=play-temperature]').textContent,
    lines: paths('path.play-line'),
    dots: [...document.querySelectorAll('circle.play-dot')].map((dot) => [
      dot.getAttribute('cx'), dot.getAttribute('cy'), dot.getAttribute('r'),
    ]),
    walls: paths('path.play-wall'),
  };
}

const lastNumber = (text) => Number(/([\d.]+)[^\d.]*$/.exec(text)[1]);

async function checkSliders(t, sheet, page) {
  const data = await page.evaluate(() => JSON.parse(document.getElementById('play-data').textContent));
  const frame = await page.evaluate(() => JSON.parse(document.getElementById('answer').textContent).clamp_frame);
  const at = () => page.evaluate(shown);
  const start = await at();
  t.check(start.lines.some((d) => d && d.length > 20), `${sheet.name}: the chart has no line of its own`);
  t.check(start.dots.some(([, , r]) => Number(r) > 0), `${sheet.name}: the chart has no dot`);
  if (!frame && data.build.bow_mm > 0.05) {
    t.check(start.walls.length >= 2, `${sheet.name}: no walls that bow`);
  }
  for (const name of ['total', 'charge', 'loss', 'temperature']) {
    const where = `${sheet.name}, slider ${name}`;
    const slider = page.locator('#play-' + name);
    if (await slider.isDisabled()) continue;
    await slider.focus();
    await page.keyboard.press('Home');
    const low = await at();
    await page.keyboard.press('End');
    const high = await at();
    t.check(low[name] !== high[name], `${where}: its own figure stays at "${low[name]}"`);
    t.check(low.verdict !== high.verdict || low.pressure === high.pressure, `${where}: the verdict stays`);
    const rises = lastNumber(high.pressure) >= lastNumber(low.pressure);
    const pressed = lastNumber(high.pressure) > 0;
    // With the charge a row grows, shrinks and grows; with all others it only grows.
    if (name !== 'charge') t.check(rises, `${where}: ${low.pressure} to ${high.pressure}`);
    if (pressed && (name === 'loss' || (name === 'total' && !frame))) {
      t.check(low.pressure !== high.pressure, `${where}: the pressure stays at ${low.pressure}`);
      t.check(low.force !== high.force, `${where}: the force stays at ${low.force}`);
      t.check(JSON.stringify(low.lines) !== JSON.stringify(high.lines), `${where}: the line stays`);
    }
    if (name === 'charge') {
      t.check(JSON.stringify(low.dots) !== JSON.stringify(high.dots), `${where}: the dot stays`);
    }
    if (high.bow !== low.bow && data.build.bow_mm > 0 && start.walls.length > 0) {
      t.check(JSON.stringify(low.walls) !== JSON.stringify(high.walls), `${where}: the walls stay`);
    }
    const slip = /NaN|undefined|Infinity/.exec(JSON.stringify([low, high]));
    t.check(!slip, `${where}: ${slip} is shown`);
    await page.keyboard.press('ArrowLeft');
    const back = await at();
    t.check(back[name] !== high[name], `${where}: an arrow moves nothing`);
    await page.locator('#play-reset').click();
    t.equal(await at(), start, `${where}, after "the plan again"`);
  }
}

// --- units -----------------------------------------------------------------------------------

const marked = () => [...document.querySelectorAll('.q[data-q], .u[data-u]')].map((mark) => mark.textContent);
const others = {
  pressure: { other: 'psi', letters: ['P', 'p', 'C'] },
  force: { other: 'N', letters: ['F', 'f'] },
  length: { other: 'in', letters: ['L', 'l', 'D', 'd'] },
  temperature: { other: 'F', letters: ['T', 't'] },
};

// The same marks as C++ wrote them; their texts hold no elements.
function printedMarks(file) {
  const entities = { lt: '<', gt: '>', quot: '"', apos: "'", amp: '&' };
  const plain = (text) => text.replace(/&(\w+);/g, (_, name) => entities[name]);
  const found = readFileSync(file, 'utf8').matchAll(/<span class="(?:q|u)" data-[^>]*>([^<]*)<\/span>/g);
  return [...found].map(([, text]) => plain(text));
}

async function checkUnits(t, sheet, page) {
  const printed = printedMarks(sheet.file);
  const differing = (found) => found.map((text, k) => [text, printed[k]]).filter(([a, b]) => a !== b);
  const start = await page.evaluate(marked);
  t.check(start.length === printed.length && start.length > 5, `${sheet.name}: ${start.length} of ${printed.length} marks`);
  t.equal(differing(start), [], `${sheet.name}: the script's figures beside C++'s`);
  for (const [dimension, { other, letters }] of Object.entries(others)) {
    const picker = page.locator('#unit-' + dimension);
    const own = await picker.inputValue();
    await picker.selectOption(other);
    const changed = await page.evaluate(marked);
    const due = await page.locator(letters.map((letter) => `.q[data-q="${letter}"]`).join(', ')).count();
    t.check(due === 0 || differing(changed).length > 0, `${sheet.name}: ${other} changes nothing`);
    const wrong = changed.filter((text) => /NaN|undefined|Infinity/.test(text));
    t.equal(wrong, [], `${sheet.name}: figures in ${other}`);
    await picker.selectOption(own);
    t.equal(differing(await page.evaluate(marked)), [], `${sheet.name}: back from ${other} to ${own}`);
  }
}

export const tests = [
  {
    name: 'play: on every solved state the figures are those of table and --json',
    view: 'desk',
    which: playable,
    check: checkSolved,
  },
  {
    name: 'play: sliders move figures, curve and walls, and come back',
    view: 'desk',
    which: playable,
    check: checkSliders,
  },
  {
    name: 'play: units change every figure and come back as C++ printed it',
    view: 'desk',
    check: checkUnits,
  },
];
