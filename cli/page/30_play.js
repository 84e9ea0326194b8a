// SPDX-License-Identifier: GPL-3.0-or-later
//
// The sliders: shims, charge, temperature and age, and what the row makes of them.
//
// For: the section with the id "play", the chart's play-line and play-dot, and the bowed walls.
// Not for: reading the curves (20_curve.js). Without data the section stays hidden.
'use strict';
(() => {
  if (typeof document === 'undefined') return;
  const page = globalThis.stackfitPage;
  const byId = (id) => document.getElementById(id);
  const section = document.querySelector('section#play, section.play');
  const data = document.querySelector('script#play, script#play-data');
  if (!section) return;
  const play = readPlay(data);
  if (!play) {
    section.hidden = true;
    return;
  }
  section.hidden = false;
  const rows = page.prepared(play);
  const solvedValues = (name) => play.solved.map((solved) => solved[name]);

  function readPlay(from) {
    if (!from) return null;
    const read = JSON.parse(from.textContent);
    return read.kinds && read.kinds.length > 0 && read.charge.length > 0 ? read : null;
  }

  // --- sliders -------------------------------------------------------------------------------
  // Each slider's own value is in the unit a person thinks in: mm, %, %, C; `scale` of them make
  // one of the state's. It may stand on its stops only.

  const sliders = [
    slider('total', 'total_mm', 1, 0.1, play.least_total_mm, play.most_total_mm, [
      play.build.total_mm,
    ]),
    slider('charge', 'charge', 100, 1, 0, 1, [
      play.build.charge,
      play.window.charge.low,
      play.window.charge.high,
      ...solvedValues('charge'),
    ]),
    slider('loss', 'capacity_loss', 100, 0.1, 0, play.most_loss, [
      play.window.capacity_loss.high,
      ...solvedValues('capacity_loss'),
    ]),
    slider(
      'temperature',
      'temperature_c',
      1,
      1,
      play.least_temperature_c,
      play.most_temperature_c,
      [play.build.temperature_c, ...solvedValues('temperature_c')]
    ),
  ].filter(Boolean);
  const sliderOf = (name) => sliders.find((one) => one.name === name);

  const planned = {
    total_mm: play.build.total_mm,
    charge: play.build.charge,
    temperature_c: play.build.temperature_c,
    capacity_loss: 0,
  };
  const state = { ...planned };

  function slider(id, name, scale, step, low, high, exact) {
    const input = byId('play-' + id);
    if (!input) return null;
    const onScale = exact.map((value) => value * scale);
    const stops = page.stops(low * scale, high * scale, step, onScale);
    const one = {
      input,
      name,
      stops,
      step,
      // The very number that was solved, not one that went through the scale and back.
      value: (stop) => {
        const k = onScale.indexOf(stop);
        return k < 0 ? stop / scale : exact[k];
      },
      stopOf: (value) => page.nearest(stops, value * scale),
      output: section.querySelector('output[for="play-' + id + '"]'),
    };
    input.min = String(low * scale);
    input.max = String(high * scale);
    input.step = 'any';
    input.disabled = stops.length < 2;
    input.addEventListener('input', () => moved(one));
    input.addEventListener('keydown', (event) => pressed(one, event));
    return one;
  }

  const place = (one) => one.stops.indexOf(one.stopOf(state[one.name]));

  function moveTo(one, stop) {
    state[one.name] = one.value(stop);
    one.input.value = String(stop);
    show();
  }

  // A small push that would fall back to the same stop goes on to the next one.
  function moved(one) {
    const at = Number(one.input.value);
    const from = place(one);
    const stop = page.nearest(one.stops, at);
    const before = one.stops[from];
    const stuck = stop === before && at !== before && Math.abs(at - before) > one.step / 3;
    const next = one.stops[from + Math.sign(at - before)];
    moveTo(one, stuck && next !== undefined ? next : stop);
  }

  // Step "any" leaves the size of a key's step to each browser: the stops are the steps here.
  function pressed(one, event) {
    const by = {
      ArrowRight: 1,
      ArrowUp: 1,
      ArrowLeft: -1,
      ArrowDown: -1,
      PageUp: 10,
      PageDown: -10,
      Home: -Infinity,
      End: Infinity,
    }[event.key];
    if (by === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const last = one.stops.length - 1;
    moveTo(one, one.stops[Math.min(Math.max(place(one) + by, 0), last)]);
  }

  function standOn(values) {
    for (const one of sliders) {
      const stop = one.stopOf(values[one.name]);
      state[one.name] = one.value(stop);
      one.input.value = String(stop);
    }
    show();
  }

  // --- words ---------------------------------------------------------------------------------

  const percent = (fraction, decimals) => page.fixed(fraction * 100, decimals) + ' %';
  const signed = (text) => (text.startsWith('-') ? text.slice(1) + ' less' : text + ' more');

  function totalText() {
    const difference = state.total_mm - play.build.total_mm;
    const text = page.quantity('D', state.total_mm, page.choice);
    if (difference === 0) return text + ', as planned';
    return text + ', ' + signed(page.quantity('D', difference, page.choice));
  }

  const valueText = {
    total_mm: totalText,
    charge: () => percent(state.charge, 0),
    capacity_loss: () =>
      state.capacity_loss === 0 ? 'new' : percent(state.capacity_loss, 1) + ' of capacity lost',
    temperature_c: () => page.quantity('T', state.temperature_c, page.choice),
  };

  const spanText = (letter, span) => page.span(letter, span.low, span.high, page.choice);

  function verdictText(now, whole) {
    const { charge, temperature_c, capacity_loss } = play.window;
    const worn = capacity_loss.high > 0 ? ', to ' + percent(capacity_loss.high, 1) + ' lost' : '';
    const use =
      page.fixed(charge.low * 100, 0) + '-' + percent(charge.high, 0) + ', ' +
      page.quantity('t', temperature_c.low, page.choice) + '-' +
      page.quantity('T', temperature_c.high, page.choice) + worn;
    const source = now.solved ? 'as solved' : 'read from the curves';
    return [
      'Now ' + spanText('P', now.face_pressure_mpa) + ': ' + page.standingWords[now.standing] +
        ' (' + source + ').',
      'Over the whole use (' + use + ') with these shims ' +
        spanText('P', whole.face_pressure_mpa) + ': ' + page.standingWords[whole.standing] + '.',
    ];
  }

  // --- showing -------------------------------------------------------------------------------

  const verdict = byId('play-verdict');
  for (const output of section.querySelectorAll('output')) output.setAttribute('aria-live', 'off');

  // Set only where it changes: a reader that speaks is not told the same thing again.
  function write(element, text) {
    if (element && element.textContent !== text) element.textContent = text;
  }

  let quiet = 0;
  function showVerdict(now, whole) {
    if (!verdict) return;
    // While a slider moves, the verdict holds its breath; half a second later it is spoken once.
    verdict.setAttribute('aria-busy', 'true');
    clearTimeout(quiet);
    quiet = setTimeout(() => verdict.removeAttribute('aria-busy'), 500);
    while (verdict.children.length < 2) {
      if (verdict.children.length === 0) verdict.textContent = '';
      else verdict.append(' ');
      verdict.append(document.createElement('span'));
    }
    const [first, second] = verdictText(now, whole);
    for (const [k, text, standing] of [[0, first, now.standing], [1, second, whole.standing]]) {
      write(verdict.children[k], text);
      verdict.children[k].className = 'standing standing-' + standing.replace('_', '-');
    }
    section.dataset.standing = now.standing;
  }

  function showSliders() {
    for (const one of sliders) {
      const text = valueText[one.name]();
      write(one.output, text);
      one.input.setAttribute('aria-valuetext', text);
    }
  }

  function showButtons(now) {
    for (const button of section.querySelectorAll('button[data-solved]')) {
      const solved = play.solved[Number(button.dataset.solved)];
      const here = now.solved && solved && page.solvedAt(play, state).includes(solved);
      button.setAttribute('aria-pressed', String(Boolean(here)));
    }
  }

  function show() {
    const now = page.stateFigures(play, rows, state);
    const whole = page.windowFigures(play, rows, state.total_mm);
    showSliders();
    write(byId('play-pressure'), spanText('P', now.face_pressure_mpa));
    write(byId('play-companion'), spanText('c', now.face_pressure_mpa));
    write(byId('play-force'), spanText('F', now.force_n));
    write(byId('play-local'), spanText('P', now.highest_local_mpa));
    write(byId('play-bow'), spanText('L', now.wall_bow_mm));
    showVerdict(now, whole);
    showButtons(now);
    drawChart(now);
    drawWalls(now);
  }

  // --- drawings ------------------------------------------------------------------------------

  const round = (value) => Number(value.toFixed(2));

  // The chart and the row stand far up the sheet: copies beside the sliders move along. They say
  // nothing to a screen reader, which has the figures, and own no ids, as the originals do.
  function copyDrawings() {
    const holder = byId('play-drawings');
    if (!holder) return;
    const wall = document.querySelector('svg path.play-wall');
    const chart = document.querySelector('svg[data-top-mpa]');
    for (const drawn of [chart, wall && wall.closest('svg')]) {
      if (!drawn) continue;
      const copy = drawn.cloneNode(true);
      copy.setAttribute('aria-hidden', 'true');
      for (const name of ['id', 'role', 'aria-labelledby']) copy.removeAttribute(name);
      for (const told of copy.querySelectorAll('title, desc')) told.remove();
      for (const named of copy.querySelectorAll('[id]')) named.removeAttribute('id');
      holder.append(copy);
    }
  }

  function chargesToDraw() {
    const fine = [];
    for (let k = 0; k <= 100; ++k) fine.push(k / 100);
    return [...new Set([...fine, ...play.charge])].sort((a, b) => a - b);
  }
  const charges = chargesToDraw();

  function drawChart(now) {
    for (const chart of document.querySelectorAll('svg[data-top-mpa]')) {
      const { x0, x1, y0, y1, topMpa } = chart.dataset;
      const x = (charge) => round(Number(x0) + (Number(x1) - Number(x0)) * charge);
      const y = (mpa) =>
        round(Number(y0) + (Number(y1) - Number(y0)) * Math.min(1, mpa / Number(topMpa)));
      const points = charges.map((charge) => {
        const longer = page.longerMm(play, { ...state, charge });
        const list = page.figuresAt(play, rows, state.total_mm, longer);
        const pressures = list.map((figures) => figures.face_pressure_mpa);
        return { at: x(charge), low: Math.min(...pressures), high: Math.max(...pressures) };
      });
      const path = (pick) => 'M' + points.map((p) => p.at + ' ' + y(pick(p))).join('L');
      for (const line of chart.querySelectorAll('path.play-line')) {
        const soft = line.classList.contains('play-line-soft');
        const needed = !soft || rows.length > 1;
        line.setAttribute('d', needed ? path((p) => (soft ? p.low : p.high)) : '');
      }
      const dot = chart.querySelector('.play-dot');
      if (!dot) continue;
      dot.setAttribute('cx', x(state.charge));
      dot.setAttribute('cy', y(now.face_pressure_mpa.high));
      dot.setAttribute('r', 5);
    }
  }

  // The wall as it was drawn, its bow times what it is now over what it was when built.
  function drawWalls(now) {
    const most = 3;  // more would leave the drawing
    const times = now.wall_bow_mm.high / play.build.bow_mm;
    if (play.build.bow_mm > 0) bowWalls(Math.min(times, most));
  }

  function bowWalls(times) {
    const asBuilt = Math.abs(times - 1) < 1e-9;
    for (const wall of document.querySelectorAll('path.play-wall')) {
      if (wall.dataset.built === undefined) wall.dataset.built = wall.getAttribute('d') || '';
      const built = asBuilt && wall.dataset.built !== '';
      wall.setAttribute('d', built ? wall.dataset.built : wallPath(wall.dataset, times));
    }
  }

  // data-bow and data-outer are offsets in x, away from the row: to the left for the wall at left.
  function wallPath(drawn, times) {
    const numbers = (text) => text.trim().split(/\s+/).map(Number);
    const ys = numbers(drawn.ys);
    const bow = numbers(drawn.bow);
    const inner = ys.map((y, k) => [round(Number(drawn.straight) + bow[k] * times), y]);
    const outer = inner.map(([x, y]) => [round(x + Number(drawn.outer)), y]).reverse();
    return 'M' + [...inner, ...outer].map((point) => point.join(' ')).join('L') + 'Z';
  }

  // --- wiring --------------------------------------------------------------------------------

  for (const button of section.querySelectorAll('button[data-solved]')) {
    button.addEventListener('click', () => {
      const solved = play.solved[Number(button.dataset.solved)];
      if (solved) standOn({ ...solved, total_mm: play.build.total_mm });
    });
  }
  const reset = byId('play-reset');
  if (reset) reset.addEventListener('click', () => standOn(planned));
  page.onUnits(show);
  // On paper the row is drawn as it is built, wherever the sliders stand.
  window.addEventListener('beforeprint', () => bowWalls(1));
  window.addEventListener('afterprint', show);
  copyDrawings();
  page.play = { state, standOn };
  standOn(planned);
})();
