// SPDX-License-Identifier: GPL-3.0-or-later
//
// Quantities as the page prints them, in whichever units the reader picks.
//
// For: the same digits as cli/figures.cpp prints, from the same factors as cli/units.cpp has;
// tests/page/figures.json holds this file to both.
// Not for: reading what somebody typed, nor for deciding anything.
'use strict';
(() => {
  const mmPerInch = 25.4;
  const kgPerPound = 0.45359237;
  const standardGravity = 9.80665;  // m/s2
  const nPerLbf = kgPerPound * standardGravity;
  const mpaPerPsi = nPerLbf / (mmPerInch * mmPerInch);
  const fPerC = 1.8;

  // Value in the program's unit (MPa, N, mm, C) = number * factor + offset.
  const unit = (factor, decimals, offset = 0) => ({ factor, decimals, offset });
  const units = {
    pressure: {
      'kPa': unit(1e-3, 0),
      'psi': unit(mpaPerPsi, 1),
      'bar': unit(0.1, 2),
      'mbar': unit(1e-4, 0),
      'MPa': unit(1, 3),
      'kgf/cm2': unit(standardGravity / 100, 2),
      'N/mm2': unit(1, 3),
      'Pa': unit(1e-6, 0),
      'GPa': unit(1000, 6),
    },
    force: {
      'kgf': unit(standardGravity, 0),
      'N': unit(1, 0),
      'lbf': unit(nPerLbf, 0),
      'kN': unit(1000, 3),
    },
    length: {
      'mm': unit(1, 2),
      'in': unit(mmPerInch, 4),
      'cm': unit(10, 3),
      'm': unit(1000, 5),
      'um': unit(1e-3, 0),
      'mil': unit(mmPerInch / 1000, 1),
      'ft': unit(mmPerInch * 12, 5),
    },
    temperature: {
      'C': unit(1, 0),
      'F': unit(1 / fPerC, 0, -32 / fPerC),
      'K': unit(1, 0, -273.15),
    },
  };

  // What the pickers offer, besides the unit the sheet was printed in.
  const offered = {
    pressure: ['kPa', 'psi', 'bar', 'mbar', 'MPa', 'kgf/cm2'],
    force: ['kgf', 'N', 'lbf'],
    length: ['mm', 'in'],
    temperature: ['C', 'F'],
  };

  const inUnit = (value, of) => (value - of.offset) / of.factor;

  // A number half way between two printable ones goes to the even one, as C++ prints it;
  // toFixed alone would round it up. A hundred places show a double's half way exactly.
  function roundedText(size, decimals) {
    const text = size.toFixed(decimals);
    const tail = size.toFixed(100).split('.')[1].slice(decimals);
    if (!/^50*$/.test(tail)) return text;
    const odd = /[13579]$/.test(text);
    return odd ? (Number(text) - 10 ** -decimals).toFixed(decimals) : text;
  }

  // A value that rounds to nothing is printed without a minus sign.
  function fixed(number, decimals) {
    const text = roundedText(Math.abs(number), decimals);
    return number < 0 && /[1-9]/.test(text) ? '-' + text : text;
  }

  // A unit printed in whole numbers gets one decimal below ten.
  function digits(value, of) {
    const number = inUnit(value, of);
    const small = of.decimals === 0 && Math.abs(number) + 0.05 < 10 && number !== 0;
    return fixed(number, small ? 1 : of.decimals);
  }

  // One place less than for a sheet, unless that place is all there is.
  function coarseDigits(mm, of) {
    const fine = Math.abs(mm) < 0.995 || of.decimals === 0;
    return fixed(inUnit(mm, of), of.decimals - (fine ? 0 : 1));
  }

  const companion = (choice) => (choice.pressure === 'psi' ? 'kPa' : 'psi');

  // One letter for each kind of quantity; see data-q. Small letters leave the unit's name out.
  const kinds = {
    p: { unit: (c) => c.pressure, text: (v, c) => digits(v, units.pressure[c.pressure]) },
    c: { unit: companion, text: (v, c) => digits(v, units.pressure[companion(c)]) },
    f: { unit: (c) => c.force, text: (v, c) => digits(v, units.force[c.force]) },
    l: { unit: (c) => c.length, text: (v, c) => coarseDigits(v, units.length[c.length]) },
    d: {
      unit: (c) => c.length,
      text: (v, c) => fixed(inUnit(v, units.length[c.length]), units.length[c.length].decimals),
    },
    t: {
      unit: (c) => c.temperature,
      text: (v, c) => fixed(inUnit(v, units.temperature[c.temperature]), 0),
    },
  };

  // 'P' and 81.4 kPa in MPa -> '81 kPa'; 'p' -> '81'.
  function quantity(letter, value, choice) {
    const kind = kinds[letter.toLowerCase()];
    const number = kind.text(value, choice);
    const alone = letter !== letter.toUpperCase() || letter === 'C';
    return alone ? number : number + ' ' + kind.unit(choice);
  }

  const unitName = (letter, choice) => kinds[letter.toLowerCase()].unit(choice);

  // '29 to 74 kPa', and one figure only where both read the same.
  function span(letter, low, high, choice) {
    const small = letter.toLowerCase();
    const first = quantity(small, low, choice);
    const last = quantity(letter, high, choice);
    return quantity(small, high, choice) === first ? last : first + ' to ' + last;
  }

  const page = (globalThis.stackfitPage = globalThis.stackfitPage || {});
  Object.assign(page, { units, offered, quantity, unitName, span, fixed });

  if (typeof document === 'undefined') return;

  // --- the pickers ---------------------------------------------------------------------------

  const choice = { pressure: 'kPa', force: 'kgf', length: 'mm', temperature: 'C' };
  const listeners = [];
  page.choice = choice;
  page.onUnits = (listener) => listeners.push(listener);

  function reformat() {
    for (const mark of document.querySelectorAll('.q[data-q][data-v]')) {
      mark.textContent = quantity(mark.dataset.q, Number(mark.dataset.v), choice);
    }
    for (const mark of document.querySelectorAll('.u[data-u]')) {
      mark.textContent = unitName(mark.dataset.u, choice);
    }
    for (const listener of listeners) listener();
  }

  // data-unit is what the sheet was printed in; it stays on offer whatever it is.
  function fill(select, dimension) {
    const printed = select.dataset.unit || select.value || offered[dimension][0];
    const names = offered[dimension].includes(printed)
      ? offered[dimension]
      : [printed, ...offered[dimension]];
    if (select.options.length === 0) {
      for (const name of names) {
        const own = name === printed;
        select.add(new Option(name, name, own, own));
      }
    }
    choice[dimension] = select.value;
    select.addEventListener('change', () => {
      choice[dimension] = select.value;
      reformat();
    });
  }

  for (const dimension of Object.keys(offered)) {
    const select = document.getElementById('unit-' + dimension);
    if (select) fill(select, dimension);
  }
  // A browser that goes back to a page may have put another choice into the pickers.
  document.addEventListener('DOMContentLoaded', reformat);
  window.addEventListener('pageshow', (event) => {
    if (!event.persisted) return;
    for (const dimension of Object.keys(offered)) {
      const select = document.getElementById('unit-' + dimension);
      if (select) choice[dimension] = select.value;
    }
    reformat();
  });
})();
