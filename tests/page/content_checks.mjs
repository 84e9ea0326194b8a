// SPDX-License-Identifier: GPL-3.0-or-later
//
// What stands on the sheet: its words are those of the text answer, its tables and sections are
// filled, its data are those of --json, it is small, and it needs no script to be read.
import { readFileSync, statSync } from 'node:fs';

import { answer, eachOf } from './harness.mjs';
import { longRow } from './made_builds.mjs';

const mostBytes = 400_000;
const flat = (text) => text.replace(/\s+/g, ' ').trim();

// The first words of a verdict are capitals: FITS, DOES NOT FIT, OUTSIDE, ...
const verdictWords = /^\p{Lu}{2}[\p{Lu} ,*-]*/u;

// --- what a page holds, as plain data --------------------------------------------------------

function contentOf() {
  const text = (element) => element.textContent.replace(/\s+/g, ' ').trim();
  const all = (selector, from = document) => [...from.querySelectorAll(selector)];
  return {
    verdict: all('#verdict p').map(text),
    stop: all('section.stop li').map(text),
    ids: all('[id]').map((element) => element.id),
    sections: all('main > section').map((section) => ({
      id: section.id || section.className,
      heading: all('h2', section).map(text).join(' '),
      label: section.getAttribute('aria-label'),
      words: text(section).length,
    })),
    links: all('nav.contents a').map((link) => link.getAttribute('href').slice(1)),
    tables: all('table').map((table) => ({
      caption: table.caption ? text(table.caption) : '',
      head: all('thead th', table).map(text),
      rows: all('tbody tr', table).map((row) => all('th, td', row).map(text)),
    })),
    blanks: all('dt, dd, li, p:not([id]), h2, h3, figcaption, summary, caption')
      .filter((element) => text(element) === '' && !element.querySelector('input, svg'))
      .map((element) => element.outerHTML.slice(0, 120)),
    words: document.body.innerText,
    answer: document.getElementById('answer').textContent,
  };
}

function checkTable(t, name, table) {
  const where = `${name}, table "${table.caption || table.head.join(', ')}"`;
  t.check(table.rows.length > 0, `${where} has no rows`);
  // A short table may do without a head; its rows are then as wide as the first.
  const width = table.head.length || (table.rows[0] ?? []).length;
  for (const row of table.rows) {
    t.equal(row.length, width, `${where}, cells of the row ${row.join(' | ')}`);
    t.check(row[0] !== '', `${where}: a row without a name: ${row.join(' | ')}`);
    t.check(row.slice(1).some((cell) => cell !== ''), `${where}: nothing said of ${row[0]}`);
  }
  table.head.forEach((head, k) => {
    const said = table.rows.some((row) => (row[k] ?? '') !== '');
    t.check(said, `${where}: the column "${head}" is empty`);
  });
}

async function checkContent(t, sheet, page) {
  const content = await page.evaluate(contentOf);
  const printed = flat(sheet.text);
  const first = content.verdict[0] ?? '';
  const words = (verdictWords.exec(first) ?? [''])[0].trim();
  if (/^STOP/.test(printed) && !words) {
    t.check(printed.includes(content.stop[0]), `${sheet.name}: "${content.stop[0]}" is not printed`);
  } else {
    t.check(words.length > 3, `${sheet.name}: the verdict begins with "${first.slice(0, 60)}"`);
    t.check(printed.includes(words), `${sheet.name}: "${words}" is not in the text answer`);
    t.check(printed.includes(first), `${sheet.name}: the text answer has another verdict: "${first}"`);
  }
  for (const table of content.tables) checkTable(t, sheet.name, table);
  for (const section of content.sections) {
    t.check(section.heading || section.label, `${sheet.name}: ${section.id} has no heading`);
    t.check(section.words > section.heading.length, `${sheet.name}: ${section.id} is empty`);
  }
  const twice = content.ids.filter((id, k) => content.ids.indexOf(id) !== k);
  t.equal(twice, [], `${sheet.name}: ids that stand twice`);
  const astray = content.links.filter((id) => !content.ids.includes(id));
  t.equal(astray, [], `${sheet.name}: contents that lead nowhere`);
  t.equal(content.blanks, [], `${sheet.name}: elements without a word`);
  const slip = /\b(NaN|undefined|null|\[object|-?inf(inity)?)\b|\{\{|\}\}/i.exec(content.words);
  t.check(!slip, `${sheet.name}: "${slip && content.words.substr(slip.index - 40, 80)}"`);
  const marks = content.words.match(/.{0,30}[\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F].{0,30}/g) ?? [];
  t.equal(marks, [], `${sheet.name}: letters that nobody can read`);
  t.check(JSON.parse(content.answer), `${sheet.name}: no answer in the page`);
}

// Each command once, and one with several rows.
const asked = /shed_bank|pick two_rows|eight_new|metal_box/;

async function checkAnswer(t, sheet) {
  const { text } = await answer(t.program, [sheet.command, sheet.build, '--json']);
  const html = readFileSync(sheet.file, 'utf8');
  const inPage = /<script type="application\/json" id="answer">(.*?)<\/script>/s.exec(html)[1];
  t.equal(inPage.trim().split('\n').length, 1, `${sheet.name}: lines of the page's answer`);
  t.equal(JSON.parse(inPage), JSON.parse(text), `${sheet.name}: the page's answer`);
}

// --- without a script ------------------------------------------------------------------------

function readableOf() {
  const seen = (element) => element.checkVisibility() && element.getBoundingClientRect().width > 1;
  const all = (selector) => [...document.querySelectorAll(selector)];
  const useless = '#play, input[type=range], select, button';
  return {
    hidden: all('main > section:not(#play)').filter((section) => !seen(section)).map((s) => s.id),
    headings: all('main h2').filter((h) => !h.closest('#play') && !h.matches('.hear') && !seen(h)).map((h) => h.textContent),
    drawings: all('svg[role=img]').filter((svg) => !svg.closest('#play, details') && !seen(svg)).length,
    cells: all('td, th').filter((cell) => !cell.closest('details') && !seen(cell)).length,
    useless: all(useless).filter(seen).map((element) => element.outerHTML.slice(0, 60)),
    folded: all('details > summary').filter((summary) => !seen(summary)).length,
  };
}

async function checkWithoutScript(t, sheet, page) {
  // Without scripts in the page, evaluate still reads its document.
  const found = await page.evaluate(readableOf);
  t.equal(
    found,
    { hidden: [], headings: [], drawings: 0, cells: 0, useless: [], folded: 0 },
    `${sheet.name}: without a script hidden, or shown though it can do nothing`
  );
  const folded = page.locator('details > summary');
  if ((await folded.count()) === 0) return;
  await folded.first().click();
  const open = await page.evaluate(() => document.querySelector('details').open);
  t.check(open, `${sheet.name}: without a script the first details do not open`);
}

export const tests = [
  {
    name: 'content: verdict, tables and sections say what the text answer says',
    view: 'desk',
    check: checkContent,
  },
  {
    name: 'content: the answer in the page is that of --json',
    run: (t) => eachOf(t.sheets.filter(({ name }) => asked.test(name)), (sheet) => checkAnswer(t, sheet)),
  },
  {
    name: 'content: no sheet is larger than 400 kB, that of 64 cells neither',
    run: async (t) => {
      const long = await longRow(t, 64);
      const sizes = [...t.sheets, long].map(({ name, file }) => [statSync(file).size, name]);
      for (const [bytes, name] of sizes) t.check(bytes < mostBytes, `${name}: ${bytes} bytes`);
      const [bytes, name] = sizes.sort((a, b) => b[0] - a[0])[0];
      t.note(`largest: ${name}, ${Math.round(bytes / 1000)} kB`);
    },
  },
  {
    name: 'content: without a script everything can be read, and nothing is there that needs one',
    view: 'bare',
    check: checkWithoutScript,
  },
];
