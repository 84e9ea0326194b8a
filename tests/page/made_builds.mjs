// SPDX-License-Identifier: GPL-3.0-or-later
//
// Builds made from a fixture for the page's tests: a long row, and one whose texts are hostile.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import { writeSheet } from './harness.mjs';

// The fixtures' comments stand on lines of their own.
export const readBuild = (root, name) =>
  JSON.parse(readFileSync(join(root, 'fixtures', name), 'utf8').replace(/^\s*\/\/.*$/gm, ''));

export function writeBuild(t, name, build) {
  const file = join(t.directory, name + '.json');
  writeFileSync(file, JSON.stringify(build));
  return file;
}

// The shed bank's cells over and over, between the same walls, with a kit to match.
export function longRow(t, count) {
  const build = readBuild(t.root, 'shed_bank.json');
  const some = build.cells;
  const middleSum = (cells) => cells.reduce((sum, cell) => sum + cell.middle, 0);
  build.title = `A row of ${count} cells`;
  build.series = count;
  build.cells = Array.from({ length: count }, (_, k) => ({ ...some[k % some.length], id: `${k + 1}` }));
  build.kit.forEach((sheet) => (sheet.count = 2 * count));
  const shims = 1.1 * (count + 1);
  build.box.inner.length = Math.round(10 * (middleSum(build.cells) + shims - 0.3 * count)) / 10;
  return writeSheet(t.program, 'pick', writeBuild(t, `row_of_${count}`, build), t.directory, build.title);
}

// Texts of one build: the title, an id for each cell, and a name for each sheet of the kit.
export function named(t, texts) {
  const build = readBuild(t.root, 'shed_bank.json');
  const text = (k) => texts[k % texts.length];
  build.title = text(0);
  build.note = text(1);
  build.cell.makers_force.note = text(2);
  build.cells.forEach((cell, k) => (cell.id = `${text(k)}${k}`));
  build.kit.forEach((sheet, k) => (sheet.name = `${text(k + 3)}${k}`));
  return build;
}
