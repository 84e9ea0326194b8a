// SPDX-License-Identifier: GPL-3.0-or-later
//
// What every test of the page stands on: a browser without a network, sheets as the program
// writes them, and checks that go on after the first failure so that one run tells all.
import { execFile } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import os from 'node:os';
import { basename, join, relative } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';

export const run = promisify(execFile);
const load = createRequire(import.meta.url);

const browserPaths = ['/usr/bin/chromium', '/usr/bin/chromium-browser'];
const browserArguments = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-dev-shm-usage',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];
const patience = 120_000;  // ms: only what hangs takes as long, on whatever machine
// Two at a time: more would only make the pages of a small machine wait for one another.
const atOnce = Math.min(2, os.cpus().length);

// --- what is needed --------------------------------------------------------------------------

async function runs(program, ...args) {
  try {
    await run(program, args);
    return true;
  } catch (error) {
    return error.code !== 'ENOENT' && error.code !== 'EACCES';
  }
}

function hasModule(name) {
  try {
    load.resolve(name);
    return true;
  } catch {
    return false;
  }
}

async function findBrowser() {
  for (const path of browserPaths) {
    if (await runs(path, '--version')) return path;
  }
  return null;
}

// Names of what is missing on this machine; empty where the tests can run.
export async function missing() {
  const lacks = [];
  if (!(await findBrowser())) lacks.push('chromium');
  for (const name of ['playwright-core', 'axe-core']) {
    if (!hasModule(name)) lacks.push(name + ' (npm ci in tests/page)');
  }
  for (const name of ['pdfinfo', 'pdftotext']) {
    if (!(await runs(name, '-v'))) lacks.push(name + ' (poppler-utils)');
  }
  return lacks;
}

export const axeSource = () => load('axe-core').source;

export async function openBrowser() {
  const { chromium } = load('playwright-core');
  return chromium.launch({ executablePath: await findBrowser(), args: browserArguments });
}

// --- sheets ----------------------------------------------------------------------------------

// Runs the program; exit status 1 is an answer as well as 0.
export async function answer(program, args) {
  try {
    const { stdout } = await run(program, args, { maxBuffer: 1 << 26 });
    return { status: 0, text: stdout };
  } catch (error) {
    if (error.code === 1) return { status: 1, text: error.stdout };
    throw new Error(`stackfit ${args.join(' ').slice(0, 300)}: ${error.code}\n${error.stderr}`);
  }
}

// {name, command, build, file, text}: a sheet, and the answer that was printed as it was written.
export async function writeSheet(program, command, build, directory, name) {
  const file = join(directory, (name + '.' + command).replaceAll('/', '_') + '.html');
  const { text } = await answer(program, [command, build, '--page', file]);
  return { name: `${command} ${name}`, command, build, file, text };
}

const builds = (root, folder) =>
  readdirSync(join(root, folder))
    .filter((name) => name.endsWith('.json'))
    .sort()
    .map((name) => join(root, folder, name));

// Every question that can be asked of the fixtures and answered by a sheet.
async function questions(program, root) {
  const list = builds(root, 'fixtures').flatMap((build) => [
    ['pick', build],
    ['pressure', build],
  ]);
  const later = {
    size: builds(root, 'fixtures/order'),
    check: [...builds(root, 'fixtures/check'), join(root, 'fixtures/used_twelve.csv')],
  };
  for (const [command, files] of Object.entries(later)) {
    const { stdout } = await run(program, [command, '--help']);
    if (/--page\b/.test(stdout)) list.push(...files.map((build) => [command, build]));
    else console.log(`NOT TESTED: ${command} writes no sheet yet (its --help names no --page)`);
  }
  return list;
}

export async function writeSheets(program, root, directory) {
  return eachOf(await questions(program, root), ([command, build]) =>
    writeSheet(program, command, build, directory, relative(join(root, 'fixtures'), build))
  );
}

export function temporaryDirectory() {
  const path = mkdtempSync(join(os.tmpdir(), 'stackfit-page-'));
  process.on('exit', () => rmSync(path, { recursive: true, force: true }));
  return path;
}

// `use` of every item, a few at a time; results in the order of the items.
export async function eachOf(items, use) {
  const results = [];
  let next = 0;
  const work = async () => {
    while (next < items.length) {
      const k = next++;
      results[k] = await use(items[k], k);
    }
  };
  await Promise.all(Array.from({ length: atOnce }, work));
  return results;
}

// --- looking at one --------------------------------------------------------------------------

// Opens a sheet's file, lets `use` look at it, and checks that the page did nothing it must not:
// no error, no word on the console, no dialog, no request but for files and data of its own.
export async function look(t, file, settings, use) {
  const context = await t.browser.newContext({
    offline: true,
    viewport: { width: 1280, height: 900 },
    reducedMotion: 'reduce',
    ...settings,
  });
  const name = basename(file, '.html');
  const forbidden = (what) => t.check(false, `${name}: ${what}`);
  try {
    const page = await context.newPage();
    page.setDefaultTimeout(patience);
    page.setDefaultNavigationTimeout(patience);
    page.on('pageerror', (error) => forbidden('error in the page: ' + error.message));
    page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) {
        forbidden('the console says: ' + message.text());
      }
    });
    page.on('request', (request) => {
      if (!/^(file|data):/.test(request.url())) forbidden('asks for ' + request.url());
    });
    page.on('dialog', (dialog) => {
      forbidden('opens a dialog: ' + dialog.message());
      dialog.dismiss();
    });
    await page.goto(pathToFileURL(file).href);
    return await use(page);
  } finally {
    await context.close();
  }
}

// --- checks ----------------------------------------------------------------------------------

const shown = 15;  // failures of one test that are printed

// What a check is handed: it counts, and goes on after a failure.
function recorder(name, world) {
  const record = { name, checks: 0, failures: [], notes: [], ms: 0 };
  record.t = {
    ...world,
    check: (ok, message) => {
      ++record.checks;
      if (!ok) record.failures.push(message);
      return Boolean(ok);
    },
    equal: (found, expected, message) => {
      const [a, b] = [found, expected].map((value) => JSON.stringify(value));
      return record.t.check(a === b, `${message}: found ${a}, expected ${b}`.slice(0, 1000));
    },
    note: (text) => record.notes.push(text),
  };
  return record;
}

async function timed(record, body) {
  const start = Date.now();
  try {
    await body();
  } catch (error) {
    record.failures.push(error.stack);
    return false;
  } finally {
    record.ms += Date.now() - start;
  }
  return true;
}

// How the sheets are opened for the tests that look at one after another.
const views = {
  desk: {},
  phone: { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true },
  bare: { javaScriptEnabled: false },
};

// Opens each sheet once and hands it to every check of the view; one that breaks off leaves a
// fresh page to the next.
async function lookAtAll(view, pairs, quiet) {
  await eachOf(quiet.t.sheets, (sheet) =>
    look(quiet.t, sheet.file, views[view], async (page) => {
      quiet.t.check(true);
      for (const [test, record] of pairs) {
        if (test.which && !test.which(sheet)) continue;
        if (!(await timed(record, () => test.check(record.t, sheet, page)))) await page.reload();
      }
    })
  );
}

function report({ name, checks, failures, notes, ms }) {
  if (checks === 0) failures.push('nothing was checked');
  const verdict = failures.length > 0 ? 'FAIL' : 'ok  ';
  console.log(`${verdict} ${name} (${checks} checks, ${(ms / 1000).toFixed(1)} s)`);
  for (const note of notes) console.log('       ' + note);
  for (const failure of failures.slice(0, shown)) {
    console.log('     - ' + failure.slice(0, 1200).replaceAll('\n', '\n       '));
  }
  if (failures.length > shown) console.log(`     ... and ${failures.length - shown} more`);
  return failures.length === 0;
}

// Runs tests: {name, view, which, check(t, sheet, page)} of every sheet, or {name, run(t)} of a
// test that opens what it needs. True where all pass.
export async function runTests(tests, world) {
  const quiet = recorder('quiet: no error, dialog or request in any page', world);
  const pairs = tests.map((test) => [test, recorder(test.name, world)]);
  for (const view of Object.keys(views)) {
    const own = pairs.filter(([test]) => test.view === view);
    if (own.length > 0) await timed(quiet, () => lookAtAll(view, own, quiet));
  }
  for (const [test, record] of pairs) {
    if (test.run) await timed(record, () => test.run(record.t));
  }
  const records = pairs.map(([, record]) => record);
  if (quiet.checks > 0) records.unshift(quiet);
  return records.map(report).every(Boolean);
}
