// SPDX-License-Identifier: GPL-3.0-or-later
//
// Ticks and printing.
//
// For: the buttons that clear the ticks and print, and the page's word that a script runs.
// Not for: keeping anything: ticks and blanks live in the page alone, and go with it.
'use strict';
(() => {
  if (typeof document === 'undefined') return;
  document.documentElement.classList.replace('no-script', 'script');

  const boxes = () => [...document.querySelectorAll('input[type=checkbox]')];
  const said = document.getElementById('ticks-said');

  function count() {
    const all = boxes();
    if (said) said.textContent = all.filter((box) => box.checked).length + ' of ' + all.length;
  }

  for (const button of document.querySelectorAll('button[data-do=clear-ticks]')) {
    button.addEventListener('click', () => {
      for (const box of boxes()) box.checked = false;
      count();
    });
  }
  for (const button of document.querySelectorAll('button[data-do=print]')) {
    button.addEventListener('click', () => window.print());
  }
  document.addEventListener('change', count);
  window.addEventListener('pageshow', count);

  // Closed details would be missing on paper.
  const opened = [];
  window.addEventListener('beforeprint', () => {
    for (const details of document.querySelectorAll('details:not([open])')) {
      details.open = true;
      opened.push(details);
    }
  });
  window.addEventListener('afterprint', () => {
    for (const details of opened.splice(0)) details.open = false;
  });
})();
