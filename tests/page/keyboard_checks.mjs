// SPDX-License-Identifier: GPL-3.0-or-later
//
// The keyboard alone: everything that can be used is reached in the order in which it stands,
// can be seen to be reached, and does what its kind does.
import { eachOf, look } from './harness.mjs';

const usable = 'a[href], button, input, select, textarea, summary, [tabindex="0"]';

// Runs in the page: a name for each thing that the Tab key should stop at, in order.
function stopsOf(usable) {
  const seen = (element) =>
    element.checkVisibility({ visibilityProperty: true }) && !element.disabled && element.tabIndex >= 0;
  const list = [...document.querySelectorAll(usable)].filter(seen);
  list.forEach((element, k) => (element.dataset.stop = k));
  return list.map((element) => element.outerHTML.slice(0, 80));
}

// Runs in the page: the one that has the focus, and what shows that it has.
function focusedOf() {
  const element = document.activeElement;
  const look = getComputedStyle(element);
  const box = element.getBoundingClientRect();
  const ring = look.outlineStyle !== 'none' && parseFloat(look.outlineWidth) >= 1.5;
  return {
    stop: Number(element.dataset.stop ?? -1),
    ring: ring || look.boxShadow !== 'none',
    inView: box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
  };
}

async function checkTabs(t, sheet) {
  await look(t, sheet.file, {}, async (page) => {
    const stops = await page.evaluate(stopsOf, usable);
    const reached = [];
    const unseen = [];
    for (let k = 0; k < stops.length; ++k) {
      await page.keyboard.press('Tab');
      const { stop, ring, inView } = await page.evaluate(focusedOf);
      reached.push(stop);
      if (!ring || !inView) unseen.push(`${inView ? 'no ring' : 'out of view'}: ${stops[stop]}`);
    }
    const astray = reached.findIndex((stop, k) => stop !== k);
    t.check(
      astray < 0,
      `${sheet.name}: Tab ${astray + 1} of ${stops.length} reaches ${stops[reached[astray]]}, ` +
        `not ${stops[astray]}`
    );
    t.equal(unseen.slice(0, 5), [], `${sheet.name}: focus that cannot be seen (${unseen.length})`);
  });
}

async function checkKeys(t, sheet) {
  await look(t, sheet.file, {}, async (page) => {
    await page.keyboard.press('Tab');
    t.check((await page.evaluate(focusedOf)).inView, `${sheet.name}: the first stop is out of view`);
    await page.keyboard.press('Enter');
    t.equal(await page.evaluate(() => location.hash), '#sheet', `${sheet.name}: past the contents`);

    for (const key of ['Enter', 'Space']) {
      const summary = page.locator('details > summary').first();
      const open = () => page.evaluate(() => document.querySelector('details').open);
      await summary.focus();
      const before = await open();
      await page.keyboard.press(key);
      t.check((await open()) !== before, `${sheet.name}: ${key} does not turn the details`);
    }

    const box = page.locator('input[type=checkbox]').first();
    if ((await box.count()) > 0) {
      await box.focus();
      await page.keyboard.press('Space');
      t.check(await box.isChecked(), `${sheet.name}: Space does not tick`);
      await page.locator('button[data-do=clear-ticks]').press('Enter');
      t.check(!(await box.isChecked()), `${sheet.name}: "clear ticks" leaves one`);
    }

    const figure = page.locator('.q[data-q=P]').first();
    const before = await figure.textContent();
    await page.locator('#unit-pressure').press('ArrowDown');
    t.check((await figure.textContent()) !== before, `${sheet.name}: the unit stays at ${before}`);

    for (const slider of await page.locator('input[type=range]:enabled').all()) {
      const value = () => slider.inputValue();
      const start = Number(await value());
      const low = start <= Number(await slider.getAttribute('min'));
      for (const key of low ? ['ArrowRight', 'ArrowLeft'] : ['ArrowLeft', 'ArrowRight']) {
        const from = await value();
        await slider.press(key);
        t.check((await value()) !== from, `${sheet.name}: ${key} leaves a slider at ${from}`);
      }
      t.equal(Number(await value()), start, `${sheet.name}: a slider there and back`);
      const spoken = await slider.getAttribute('aria-valuetext');
      t.check(spoken, `${sheet.name}: a slider does not say its value`);
    }
  });
}

const some = (sheets) =>
  sheets.filter(({ name }) => /shed_bank|two_rows|bench_frame|metal_box|eight_new/.test(name));

export const tests = [
  {
    name: 'keyboard: Tab reaches everything in order, and the focus can be seen',
    run: (t) => eachOf(some(t.sheets), (sheet) => checkTabs(t, sheet)),
  },
  {
    name: 'keyboard: details, ticks, pickers and sliders work',
    run: (t) => eachOf(t.sheets.filter(({ name }) => name.startsWith('pick shed_bank')), (s) => checkKeys(t, s)),
  },
];
