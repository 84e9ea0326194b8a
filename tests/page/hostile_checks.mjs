// SPDX-License-Identifier: GPL-3.0-or-later
//
// Builds whose texts are written to break a page: nothing but their own text changes. Each is
// compared, element by element, with the same build under plain names.
import { eachOf, look, run, writeSheet } from './harness.mjs';
import { named, readBuild, writeBuild } from './made_builds.mjs';

const hostile = {
  markup: [
    '</script><img src=x onerror=alert(1)>',
    '"><svg onload=alert(2)>',
    '</title></style><script>alert(3)</script>',
    "' onfocus=alert(4) autofocus x='",
    '<!--<script>',
    ']]></svg><iframe src="javascript:alert(5)">',
    '&lt;b&gt;&#60;img src=x onerror=alert(6)&#62;',
  ],
  templates: ['{{title}}', '{{{script}}}', '{{#sections}}', '${x}', '%s%n%d', '{0}{}', '\\u003cscript\\u003e'],
  letters: ['\u202Eright to left', 'a\u2028b\u2029c', '\u200F\u2066x', '\uFEFFy', 'e\u0301\u0301\u0301', '\u{1F50B}\u{1F50B}'],
  long: ['W'.repeat(10_000), 'two words '.repeat(1_000), '\u4E2D'.repeat(3_000)],
};
const plain = ['one', 'two', 'three', 'four', 'five', 'six', 'seven'];

// Runs in the page: how many there are of each element, and what its elements can do.
function bonesOf() {
  const counts = {};
  const handlers = [];
  // Whether a sheet's thickness is said beside its name depends on the name, so figures may be more.
  for (const element of document.querySelectorAll(':not(span.q, span.u)')) {
    counts[element.tagName] = (counts[element.tagName] ?? 0) + 1;
    for (const { name } of element.attributes) {
      if (name.startsWith('on') || name === 'autofocus') handlers.push(`${element.tagName} ${name}`);
    }
  }
  return {
    counts,
    handlers,
    title: document.title,
    verdict: document.querySelector('#verdict p').textContent,
    sections: [...document.querySelectorAll('main > section')].map((section) => section.id),
    turned: (document.body.innerText.match(/.{0,20}[\u202A-\u202E\u2066-\u2069\u2028\u2029]/g) ?? []).slice(0, 3),
    answerEnds: document.getElementById('answer').textContent.trim().endsWith('}'),
  };
}

// Runs in the page: what reaches beyond its right edge.
function hangingOver() {
  return [...document.querySelectorAll('body *')]
    .filter((element) => element.getBoundingClientRect().right > innerWidth + 1)
    .slice(0, 4)
    .map((element) => `${element.tagName} ${element.className} ${element.textContent.slice(0, 30)}`);
}

// Words in a drawing may take more or fewer lines with their length; nothing else may.
const without = ({ text, tspan, ...rest }) => rest;

async function bones(t, command, build, name) {
  const sheet = await writeSheet(t.program, command, writeBuild(t, name, build), t.directory, name);
  return look(t, sheet.file, {}, async (page) => {
    const here = await page.evaluate(bonesOf);
    for (const width of [360, 1280]) {
      await page.setViewportSize({ width, height: 800 });
      const by = await page.evaluate(() => document.scrollingElement.scrollWidth - innerWidth);
      const over = by <= 0 ? [] : await page.evaluate(hangingOver);
      t.check(by <= 0, `${sheet.name} at ${width} px hangs over by ${by}: ${over.join('; ')}`);
    }
    await page.locator('#unit-pressure').selectOption('psi');
    return here;
  });
}

// With a sign that a cell shows, for the sheet that says STOP.
function withSign(build, sign) {
  const copy = structuredClone(build);
  copy.cells[1].signs = sign;
  return copy;
}

const asked = [
  { command: 'pick', kinds: Object.keys(hostile), make: named },
  { command: 'pick', kinds: Object.keys(hostile), make: (t, texts) => withSign(named(t, texts), texts[0]) },
  { command: 'pressure', kinds: ['markup'], make: named },
];

async function checkTexts(t, { command, kinds, make }, k) {
  const expected = await bones(t, command, make(t, plain), `plain_${k}`);
  for (const kind of kinds) {
    const where = `${command}, ${kind}${k === 1 ? ', a sign' : ''}`;
    const found = await bones(t, command, make(t, hostile[kind]), `${kind}_${k}`);
    const [are, were] = [found.counts, expected.counts].map(without);
    const other = Object.keys({ ...are, ...were }).filter((tag) => are[tag] !== were[tag]);
    t.equal(other.map((tag) => [tag, are[tag], were[tag]]), [], `${where}: elements, beside plain names`);
    t.equal(found.handlers, [], `${where}: handlers`);
    t.equal(found.sections, expected.sections, `${where}: sections`);
    t.equal(found.verdict, expected.verdict, `${where}: the verdict`);
    t.equal(found.turned, [], `${where}: letters that turn or break the text`);
    t.check(found.answerEnds, `${where}: the answer's data are cut`);
  }
}

// Where a name must be one of a list, a hostile one never reaches a page.
async function checkRefused(t) {
  const build = readBuild(t.root, 'shed_bank.json');
  build.kit[0].material = hostile.markup[0];
  const file = writeBuild(t, 'hostile_material', build);
  const page = file + '.html';
  const status = await run(t.program, ['pick', file, '--page', page]).then(
    () => 0,
    (error) => error.code
  );
  t.equal(status, 2, 'a material that there is not');
}

export const tests = [
  {
    name: 'hostile: texts of a build change nothing but their own text',
    run: (t) => eachOf(asked, (one, k) => checkTexts(t, one, k)),
  },
  { name: 'hostile: a material that is markup is refused', run: checkRefused },
];
