// SPDX-License-Identifier: GPL-3.0-or-later
//
// Widths from a phone's to a desk's, light and dark: nothing hangs over the side, words are large
// enough, and a thumb meets what it aims at.
const widths = [360, 800, 1280];
const schemes = ['light', 'dark'];
const leastTarget = 24;  // px, WCAG 2.2, target size (minimum)
const leastLetters = 9.5;  // px, of drawings that do not scroll on a phone

// Runs in the page.
function overhangOf() {
  const root = document.scrollingElement;
  const scrolls = (element) => element.closest('.scroll') !== null;
  const over = [...document.body.querySelectorAll('*')]
    .filter((element) => !scrolls(element) || element.matches('.scroll'))
    .filter((element) => element.getBoundingClientRect().right > innerWidth + 0.5)
    .map((element) => `${element.tagName} ${element.className} ${element.textContent.slice(0, 40)}`);
  return { by: root.scrollWidth - innerWidth, over: root.scrollWidth > innerWidth ? over.slice(0, 4) : [] };
}

// Runs in the page: relative luminance of what is behind the words, and of the words.
function tonesOf() {
  const channel = (value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4);
  const luminance = (colour) => {
    const [r, g, b] = colour.match(/[\d.]+/g).map((value) => channel(Number(value) / 255));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const behind = [document.body, document.documentElement]
    .map((element) => getComputedStyle(element).backgroundColor)
    .find((colour) => colour !== 'rgba(0, 0, 0, 0)');
  return { paper: behind ? luminance(behind) : 1, ink: luminance(getComputedStyle(document.body).color) };
}

// Runs in the page: what a finger can aim at and is too small, but for links within a sentence.
function smallTargetsOf(least) {
  const aimedAt = 'a[href], button, input, select, summary';
  return [...document.querySelectorAll(aimedAt)]
    .filter((element) => element.checkVisibility() && !element.matches('.skip, p a, li p a'))
    .map((element) => [element, (element.closest('label') ?? element).getBoundingClientRect()])
    .filter(([, box]) => box.width < least || box.height < least)
    .map(([element, box]) => `${element.outerHTML.slice(0, 70)} ${box.width.toFixed(0)} x ${box.height.toFixed(0)}`);
}

// Runs in the page: the smallest letters of each drawing that does not scroll by itself.
function smallLettersOf(least) {
  const found = [];
  for (const svg of document.querySelectorAll('svg[role=img]')) {
    if (svg.closest('.scroll')) continue;
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    for (const text of svg.querySelectorAll('text')) {
      const size = parseFloat(getComputedStyle(text).fontSize) * scale;
      if (size < least) {
        found.push(`${svg.querySelector('title').textContent}: "${text.textContent}" ${size.toFixed(1)} px`);
        break;
      }
    }
  }
  return found;
}

async function checkWidths(t, sheet, page) {
  await page.evaluate(() => document.querySelectorAll('details').forEach((d) => (d.open = true)));
  for (const width of widths) {
    await page.setViewportSize({ width, height: 800 });
    const { by, over } = await page.evaluate(overhangOf);
    t.check(by <= 0, `${sheet.name} at ${width} px hangs over by ${by}: ${over.join('; ')}`);
  }
}

async function checkTones(t, sheet, page) {
  for (const colorScheme of schemes) {
    await page.emulateMedia({ colorScheme });
    const { paper, ink } = await page.evaluate(tonesOf);
    const right = colorScheme === 'dark' ? paper < 0.1 && ink > 0.5 : paper > 0.7 && ink < 0.1;
    t.check(right, `${sheet.name}, ${colorScheme}: paper ${paper.toFixed(2)}, ink ${ink.toFixed(2)}`);
  }
  await page.emulateMedia({ colorScheme: 'dark', media: 'print' });
  const { paper, ink } = await page.evaluate(tonesOf);
  await page.emulateMedia({ colorScheme: null, media: null });
  t.check(paper > 0.9 && ink < 0.1, `${sheet.name}, printed when dark: paper ${paper}, ink ${ink}`);
}

async function checkPhone(t, sheet, page) {
  const small = await page.evaluate(smallTargetsOf, leastTarget);
  t.equal(small.slice(0, 6), [], `${sheet.name}: ${small.length} too small for a thumb`);
  t.equal(await page.evaluate(smallLettersOf, leastLetters), [], `${sheet.name}: letters too small`);
  const width = await page.evaluate(() => visualViewport.width);
  t.equal(Math.round(width), 360, `${sheet.name}: the phone zooms out to`);
}

export const tests = [
  { name: 'layout: nothing hangs over at 360, 800 and 1280 px', view: 'desk', check: checkWidths },
  {
    name: 'layout: dark where dark is asked for, and light on paper',
    view: 'desk',
    which: ({ name }) => /shed_bank|too_few/.test(name),
    check: checkTones,
  },
  { name: 'layout: on a phone targets and letters are large enough', view: 'phone', check: checkPhone },
];
