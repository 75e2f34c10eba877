/**
 * What is held of every state of the page, for everyone: for the tests beside this file.
 */

import { accessibilityScript } from './browser.mjs';

/**
 * What axe-core finds against the Web Content Accessibility Guidelines 2.2, levels A and AA, and good practice. The tab
 * must let the script in: open it with `bypassCSP`.
 *
 * @param {import('playwright-core').Page} tab
 */
export async function violations(tab) {
  // A transition that is given up has not failed.
  await tab.evaluate(() => Promise.all(document.getAnimations().map((animation) => animation.finished.catch(() => {}))));
  if (!(await tab.evaluate(() => 'axe' in window))) await tab.addScriptTag({ path: accessibilityScript() });
  // What it holds to be right is not gone into, which saves a third of its time.
  const found = await tab.evaluate(() => /** @type {any} */ (window).axe.run(document, { resultTypes: ['violations'] }));
  return found.violations.map((/** @type {any} */ rule) => `${rule.id}: ${rule.nodes.map((/** @type {any} */ node) => node.html).join(' | ')}`);
}

/** Tables, which need both directions to be read (guidelines 2.2, 1.4.10): they scroll within a frame. */
const FRAMES = '.table-frame, .station-frame, .making-frame, .node-frame';

/**
 * What goes beyond the window sideways: the page itself, or a control that only a sideways scroll would reach.
 *
 * @param {import('playwright-core').Page} tab
 */
export function beyondWindow(tab) {
  return tab.evaluate((frames) => {
    const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    const cut = [...document.querySelectorAll('button, input, select, summary, a, canvas')].filter((part) => {
      const { width, left, right } = part.getBoundingClientRect();
      return 0 < width && (left < -1 || window.innerWidth + 1 < right) && !part.closest(`${frames}, .hidden`);
    });
    return [...(wide ? [`the page, by ${wide} pixels`] : []), ...cut.map((part) => part.outerHTML.slice(0, 90))];
  }, FRAMES);
}

/**
 * Opens every folded part of the page, and what these hold folded.
 *
 * @param {import('playwright-core').Page} tab
 */
export async function unfold(tab) {
  const folded = tab.locator('main details:not([open]) > summary:visible');
  while (await folded.count()) await folded.first().click();
}
