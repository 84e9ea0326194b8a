// SPDX-License-Identifier: GPL-3.0-or-later
//
// The sheet on A4: few pages, each with the file's name and the date, nothing cut off, and all
// that the screen has but what only a screen can do.
import { basename, join } from 'node:path';

import { eachOf, look, run } from './harness.mjs';

const mostPages = 5;

// As most people print: A4, without background colours.
export const paper = { format: 'A4', preferCSSPageSize: true, printBackground: false };

// The words of each page of a PDF.
export async function pagesOf(pdf) {
  const { stdout } = await run('pdfinfo', [pdf]);
  const count = Number(/^Pages:\s+(\d+)/m.exec(stdout)[1]);
  const pages = [];
  for (let k = 1; k <= count; ++k) {
    const { stdout: text } = await run('pdftotext', ['-f', `${k}`, '-l', `${k}`, pdf, '-']);
    pages.push(text.replace(/\s+/g, ' '));
  }
  return pages;
}

// Runs in the page as it is on paper: what is wider than its box, which paper cannot scroll.
function cutOf() {
  return [...document.querySelectorAll('.scroll, pre, table, svg[role=img]')]
    .filter((element) => element.getClientRects().length > 0)
    .filter((element) => {
      const right = document.body.getBoundingClientRect().right + 1;
      return element.scrollWidth > element.clientWidth + 1 && element.matches('.scroll, pre')
        ? true
        : element.getBoundingClientRect().right > right;
    })
    .map((element) => `${element.tagName} ${element.textContent.trim().slice(0, 50)}`);
}

// Runs in the page: what must be on paper.
function wordsOf() {
  const all = (selector) => [...document.querySelectorAll(selector)];
  return all('main h2, main caption, main summary, main td, main th, main li')
    .filter((element) => !element.closest('.screen-only') && !element.querySelector('ol, ul'))
    .map((element) => element.textContent.replace(/\s+/g, ''))
    .filter((text) => text.length > 3);
}

async function printed(t, sheet) {
  const pdf = join(t.directory, basename(sheet.file, '.html') + '.pdf');
  const seen = await look(t, sheet.file, {}, async (page) => {
    const words = await page.evaluate(wordsOf);
    await page.pdf({ ...paper, path: pdf });
    const folded = await page.evaluate(() => document.querySelectorAll('details.states:not([open])').length);
    return { words, folded };
  });
  return { ...seen, pages: await pagesOf(pdf) };
}

async function checkPaper(t, sheet) {
  const { words, folded, pages } = await printed(t, sheet);
  const file = basename(sheet.build);
  const { date } = /(?<date>\d{4}-\d{2}-\d{2})/.exec(pages.join(' '))?.groups ?? {};
  t.note(`${sheet.name}: ${pages.length} pages`);
  t.check(pages.length <= mostPages, `${sheet.name} takes ${pages.length} pages, not ${mostPages}`);
  t.check(date, `${sheet.name}: no date on paper`);
  pages.forEach((text, k) => {
    t.check(text.includes(file), `${sheet.name}, page ${k + 1} has no ${file}`);
    t.check(text.includes(date), `${sheet.name}, page ${k + 1} has no date`);
    t.check(text.length > 200, `${sheet.name}, page ${k + 1} is next to empty: "${text.trim()}"`);
  });
  const whole = pages.join('').replace(/\s+/g, '');
  const lost = [...new Set(words)].filter((text) => !whole.includes(text));
  t.note(`${sheet.name}: ${lost.length} of ${words.length} texts not found in one piece`);
  // A few are broken in two by the foot of a page, or by the columns of a table.
  t.check(lost.length < 0.1 * words.length, `${sheet.name}: not found on paper: ${lost.slice(0, 8).join(' | ')}`);
  t.check(!/Try it/.test(pages.join(' ')), `${sheet.name}: sliders are printed`);
  if (folded > 0) {
    t.check(pages.join(' ').includes('Each state'), `${sheet.name}: what was folded is not printed`);
  }
}

// 210 mm less the margins that the style sheet asks for.
async function checkCut(t, sheet, page) {
  const margin = await page.evaluate(() => {
    const rules = [...document.styleSheets].flatMap((one) => [...one.cssRules]);
    const pages = rules.filter((rule) => rule instanceof CSSPageRule);
    const side = pages.map((rule) => rule.style.marginLeft).find(Boolean);
    return /mm$/.test(side ?? '') ? parseFloat(side) : 10;
  });
  const width = Math.floor(((210 - 2 * margin) / 25.4) * 96);
  await page.setViewportSize({ width, height: 1000 });
  await page.emulateMedia({ media: 'print' });
  await page.evaluate(() => document.querySelectorAll('details').forEach((d) => (d.open = true)));
  t.equal(await page.evaluate(cutOf), [], `${sheet.name}: cut off on paper`);
  await page.emulateMedia({ media: null });
}

export const tests = [
  {
    name: `paper: every sheet on at most ${mostPages} pages, each with file and date`,
    // A sheet of `pressure` is one of `pick` with less on it.
    run: (t) =>
      eachOf(t.sheets.filter(({ name }) => !name.startsWith('pressure')), (sheet) => checkPaper(t, sheet)),
  },
  {
    name: 'paper: no sheet is wider than A4',
    view: 'desk',
    check: checkCut,
  },
];
