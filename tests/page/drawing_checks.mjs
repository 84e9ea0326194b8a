// SPDX-License-Identifier: GPL-3.0-or-later
//
// The drawings: each has a name and a text equivalent, figures that are figures, and words that
// lie within it and not over one another.

// Shares of a word's own box: letters do not fill theirs, so boxes may touch.
const mostOverlap = 0.2;

// Runs in the page.
function drawingsOf(mostOverlap) {
  const words = (id) => (document.getElementById(id)?.textContent ?? '').replace(/\s+/g, ' ').trim();
  const area = (box) => Math.max(0, box.width) * Math.max(0, box.height);

  function badAttributes(svg) {
    const bad = [];
    for (const element of [svg, ...svg.querySelectorAll('*')]) {
      for (const { name, value } of element.attributes) {
        const slip = /\b(nan|-?inf(inity)?|undefined|null)\b/i.test(value);
        if (slip && !name.startsWith('data-')) bad.push(`${element.tagName} ${name}="${value}"`);
        if (name === 'style') bad.push(`${element.tagName} has a style`);
      }
    }
    return bad;
  }

  // Boxes of what is written, one for each text element that can be seen.
  function written(svg) {
    return [...svg.querySelectorAll('text')]
      .filter((text) => text.textContent.trim() !== '' && text.getBoundingClientRect().width > 0)
      .map((text) => {
        const { left, top, right, bottom, width, height } = text.getBoundingClientRect();
        const angle = /rotate\(\s*(-?[\d.]+)/.exec(text.getAttribute('transform') ?? '');
        const skew = angle && Number(angle[1]) % 90 !== 0;
        return { text: text.textContent.trim(), left, top, right, bottom, width, height, skew };
      });
  }

  function overlaps(texts) {
    const found = [];
    const straight = texts.filter((text) => !text.skew);
    straight.forEach((a, k) => {
      for (const b of straight.slice(k + 1)) {
        const common = area({
          width: Math.min(a.right, b.right) - Math.max(a.left, b.left),
          height: Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top),
        });
        if (common > mostOverlap * Math.min(area(a), area(b))) found.push(`"${a.text}" and "${b.text}"`);
      }
    });
    return found;
  }

  return [...document.querySelectorAll('svg[role=img]')].map((svg) => {
    const box = svg.getBoundingClientRect();
    const ids = (svg.getAttribute('aria-labelledby') ?? '').split(' ');
    const texts = written(svg);
    // Above and below its letters a word's box has some room.
    const outside = texts.filter(
      (text) =>
        text.left < box.left - 1 || text.right > box.right + 1 ||
        text.top < box.top - 0.15 * text.height || text.bottom > box.bottom + 0.15 * text.height
    );
    return {
      id: ids[0],
      title: words(ids[0]),
      description: words(ids[1]),
      ownNames: ids.every((id) => svg.querySelector(`#${CSS.escape(id)}`)),
      width: box.width,
      height: box.height,
      shapes: svg.querySelectorAll('path, rect, line, polyline, polygon, circle, use, ellipse').length,
      bad: badAttributes(svg),
      outside: outside.map((text) => text.text),
      overlaps: overlaps(texts),
    };
  });
}

async function checkDrawings(t, sheet, page) {
  await page.evaluate(() => document.querySelectorAll('details').forEach((d) => (d.open = true)));
  const drawings = await page.evaluate(drawingsOf, mostOverlap);
  t.check(drawings.length > 0, `${sheet.name} has no drawing`);
  for (const drawing of drawings) {
    const where = `${sheet.name}, drawing ${drawing.id} "${drawing.title}"`;
    t.check(drawing.title !== '', `${where} has no title`);
    t.check(drawing.ownNames, `${where} is named by something outside it`);
    t.check(drawing.description.length >= 40, `${where}, description: "${drawing.description}"`);
    t.check(/[.!?]$/.test(drawing.description), `${where}: not a sentence: "${drawing.description}"`);
    t.check(drawing.width > 50 && drawing.height > 20, `${where} is ${drawing.width} x ${drawing.height}`);
    t.check(drawing.shapes > 0, `${where} shows nothing`);
    t.equal(drawing.bad, [], `${where}: attributes`);
    t.equal(drawing.outside, [], `${where}: words beyond its edge`);
    t.equal(drawing.overlaps, [], `${where}: words over one another`);
  }
}

export const tests = [
  {
    name: 'drawings: named, described, whole, and their words legible',
    view: 'desk',
    check: checkDrawings,
  },
];
