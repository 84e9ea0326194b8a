// SPDX-License-Identifier: GPL-3.0-or-later
//
// Pictures of a build sheet, to be looked at by a person:
// node tests/page/pictures.mjs PROGRAM BUILD DIRECTORY [COMMAND]
//
// light.png, dark.png, phone.png: the whole sheet on a desk and on a phone; grey.png: without
// colours; paper-1.png ...: as printed on A4. Of a long sheet more than one picture: light-2.png ...
import { mkdirSync } from 'node:fs';
import { basename, join } from 'node:path';

import { look, missing, openBrowser, run, writeSheet } from './harness.mjs';
import { paper } from './paper_checks.mjs';

const tallest = 2400;  // px of one picture

const [program, build, directory, command = 'pick'] = process.argv.slice(2);
if (!directory) {
  console.error('node pictures.mjs PROGRAM BUILD DIRECTORY [COMMAND]');
  process.exit(2);
}
const lacks = await missing();
if (lacks.length > 0) {
  console.error(`missing here: ${lacks.join(', ')}`);
  process.exit(77);
}
mkdirSync(directory, { recursive: true });
const sheet = await writeSheet(program, command, build, directory, basename(build));
const browser = await openBrowser();
const t = { browser, check: (ok, message) => ok || console.log(message) };

async function slices(page, name) {
  const { width, height } = await page.evaluate(() => ({
    width: innerWidth,
    height: document.scrollingElement.scrollHeight,
  }));
  for (let from = 0, k = 1; from < height; from += tallest, ++k) {
    const path = join(directory, k === 1 ? `${name}.png` : `${name}-${k}.png`);
    const clip = { x: 0, y: from, width, height: Math.min(tallest, height - from) };
    await page.screenshot({ path, clip, fullPage: true });
  }
}

const phone = { viewport: { width: 360, height: 740 }, deviceScaleFactor: 2 };
for (const [name, settings] of [['light', {}], ['dark', { colorScheme: 'dark' }], ['phone', phone]]) {
  await look(t, sheet.file, settings, (page) => slices(page, name));
}
await look(t, sheet.file, {}, async (page) => {
  const pdf = join(directory, 'paper.pdf');
  await page.pdf({ ...paper, path: pdf });
  await run('pdftoppm', ['-r', '80', '-png', pdf, join(directory, 'paper')]);
  await page.evaluate(() => (document.documentElement.style.filter = 'grayscale(1)'));
  await slices(page, 'grey');
});
await browser.close();
console.log(`${sheet.file}, and its pictures beside it`);
