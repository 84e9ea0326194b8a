// SPDX-License-Identifier: GPL-3.0-or-later
//
// axe-core over every sheet: nothing serious or critical for those who read with their ears, with
// little sight or without colours. Every sheet once, in turn light, dark, wide and narrow; the
// example in all four. Of `pressure`, whose sheets are made of the same
// parts as those of `pick`, one.
import { axeSource } from './harness.mjs';

const grave = ['serious', 'critical'];
const looks = [360, 1280].flatMap((width) => ['light', 'dark'].map((scheme) => ({ width, scheme })));
const inAll = /^pick shed_bank/;

async function findings(page) {
  await page.evaluate(axeSource());
  return page.evaluate(async () => {
    const { violations } = await globalThis.axe.run(document, { resultTypes: ['violations'], preload: false });
    return violations.map(({ id, impact, nodes }) => ({
      id,
      impact,
      nodes: nodes.map(({ html, failureSummary }) => `${html.slice(0, 120)}\n${failureSummary}`),
    }));
  });
}

const turn = new Map();  // which look is a sheet's own: one after another
const looksOf = ({ name }) => {
  if (inAll.test(name)) return looks;
  if (!turn.has(name)) turn.set(name, looks[turn.size % looks.length]);
  return [turn.get(name)];
};

async function checkReaders(t, sheet, page) {
  await page.evaluate(() => document.querySelectorAll('details').forEach((d) => (d.open = true)));
  for (const { width, scheme } of looksOf(sheet)) {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme: scheme });
    const found = await findings(page);
    t.check(true);
    for (const { id, impact, nodes } of found) {
      const where = `${sheet.name}, ${scheme}, ${width} px: ${id} (${impact}), ${nodes.length} places`;
      if (grave.includes(impact)) t.check(false, `${where}, first: ${nodes[0]}`);
      else t.note(where);
    }
  }
}

export const tests = [
  {
    name: 'readers: axe-core finds nothing serious or critical',
    view: 'desk',
    which: ({ name }) => !/^pressure (?!shed_bank)/.test(name),
    check: checkReaders,
  },
];
