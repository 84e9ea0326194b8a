// SPDX-License-Identifier: GPL-3.0-or-later
//
// The build sheet in a browser: node tests/page/page_test.mjs PROGRAM ROOT [WORD]
//
// Writes the sheet of every fixture and looks at all of them. Exit status 0: all pass, 1: some
// fail, 77: the browser or a package is missing, and nothing was tested. With WORD only the tests
// whose name has it; with --missing in place of all only what would be missing is said.
import { tests as contents } from './content_checks.mjs';
import { tests as drawings } from './drawing_checks.mjs';
import { missing, openBrowser, runTests, temporaryDirectory, writeSheets } from './harness.mjs';
import { tests as hostile } from './hostile_checks.mjs';
import { tests as keyboard } from './keyboard_checks.mjs';
import { tests as layout } from './layout_checks.mjs';
import { tests as paper } from './paper_checks.mjs';
import { tests as play } from './play_checks.mjs';
import { tests as readers } from './reader_checks.mjs';

const skipped = 77;

const [program, root, word = ''] = process.argv.slice(2);
const lacks = await missing();
const reason = `skipped: the page was not looked at, missing here: ${lacks.join(', ')}`;
if (program === '--missing') {
  if (lacks.length > 0) console.log(reason);
  process.exit(0);
}
if (!program || !root) {
  console.error('node page_test.mjs PROGRAM ROOT [WORD]');
  process.exit(2);
}
if (lacks.length > 0) {
  console.log(reason);
  process.exit(skipped);
}
const tests = [
  ...contents, ...drawings, ...play, ...keyboard, ...layout, ...paper, ...readers, ...hostile,
].filter(({ name }) => name.includes(word));

const directory = temporaryDirectory();
const start = Date.now();
const sheets = await writeSheets(program, root, directory);
console.log(`${sheets.length} sheets written in ${((Date.now() - start) / 1000).toFixed(1)} s`);
const browser = await openBrowser();
let passed = false;
try {
  passed = await runTests(tests, { browser, sheets, program, root, directory });
} finally {
  await browser.close();
}
process.exit(passed ? 0 : 1);
