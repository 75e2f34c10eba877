/**
 * What a person does on the page, in a few words each, for the tests beside this file.
 *
 * It knows the page's own names and shapes; how the browser is opened is browser.mjs's.
 */

import { mkdirSync } from 'node:fs';
import { address, newTab } from './browser.mjs';

/**
 * Opens the page in a fresh browser profile and waits until it is ready.
 *
 * @param {import('playwright-core').BrowserContextOptions & {fragment?: string, tab?: any}} [options]
 */
export async function openPage({ fragment = '', ...options } = {}) {
  const opened = await newTab({ viewport: { width: 1280, height: 900 }, ...options });
  await opened.tab.goto(address + fragment);
  await ready(opened.tab);
  return opened;
}

/** @param {import('playwright-core').Page} tab */
export async function ready(tab) {
  await tab.locator('#main:not([hidden])').waitFor();
}

/**
 * Waits until what was asked for is shown: the page shows changes in the next frame.
 *
 * @param {import('playwright-core').Page} tab
 */
export async function shown(tab) {
  await tab.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
}

/**
 * Where a place of the sheet stands in the window: fractions of the sheet from its left and its top.
 *
 * @param {import('playwright-core').Page} tab
 * @param {[number, number]} place
 */
export async function onSheet(tab, [x, y]) {
  const board = tab.locator('#board');
  await board.scrollIntoViewIfNeeded();
  const box = await board.boundingBox();
  if (!box) throw new Error('the board is not to be seen');
  return { x: box.x + x * box.width, y: box.y + y * box.height };
}

/**
 * Sketches an open profile by pressing at each place and at the last one once more.
 *
 * @param {import('playwright-core').Page} tab
 * @param {[number, number][]} places
 */
export async function sketch(tab, places) {
  await tab.getByText('Place nodes', { exact: true }).click();
  const last = places[places.length - 1];
  for (const place of [...places, last]) {
    const { x, y } = await onSheet(tab, place);
    await tab.mouse.click(x, y);
  }
}

/**
 * Drags with the pressed mouse, in several moves.
 *
 * @param {import('playwright-core').Page} tab
 * @param {[number, number]} from
 * @param {[number, number]} to
 * @param {boolean} [release] whether the button is let go at the end
 */
export async function drag(tab, from, to, release = true) {
  const [start, end] = [await onSheet(tab, from), await onSheet(tab, to)];
  await tab.mouse.move(start.x, start.y);
  await tab.mouse.down();
  await tab.mouse.move(end.x, end.y, { steps: 8 });
  if (release) await tab.mouse.up();
}

/**
 * The cell of a pair; profiles are counted from 1.
 *
 * @param {import('playwright-core').Page} tab
 * @param {number} first
 * @param {number} second
 */
export function cell(tab, first, second) {
  return tab.locator(`#pairs td[data-first="${first - 1}"][data-second="${second - 1}"]`);
}

/**
 * Waits until a cell shows a verdict.
 *
 * @param {import('playwright-core').Page} tab
 * @param {[number, number]} pair
 * @param {'clear' | 'faulty' | 'unproven'} verdict
 */
export async function shows(tab, [first, second], verdict) {
  await tab.locator(`#pairs td[data-first="${first - 1}"][data-second="${second - 1}"][data-verdict="${verdict}"]`).waitFor({ timeout: 15_000 });
}

/**
 * Two arches, one over the other, sketched with the pointer: a pair that is clear.
 *
 * @param {import('playwright-core').Page} tab
 */
export async function sketchTwoArches(tab) {
  await sketch(tab, [[0.2, 0.8], [0.35, 0.45], [0.6, 0.45], [0.8, 0.8]]);
  await sketch(tab, [[0.2, 0.7], [0.35, 0.3], [0.6, 0.3], [0.8, 0.7]]);
}

/**
 * Opens one of the examples by what its name says.
 *
 * @param {import('playwright-core').Page} tab
 * @param {RegExp} name
 */
export async function openExample(tab, name) {
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.getByRole('button', { name }).click();
  await shown(tab);
}

/**
 * How many pixels of the board have exactly the colour of a style property.
 *
 * @param {import('playwright-core').Page} tab
 * @param {string} name
 */
export async function inked(tab, name) {
  await shown(tab);
  return tab.locator('#board').evaluate((/** @type {HTMLCanvasElement} */ board, property) => {
    const colour = getComputedStyle(document.documentElement).getPropertyValue(property).trim();
    const [red, green, blue] = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
    const { data } = /** @type {CanvasRenderingContext2D} */ (board.getContext('2d')).getImageData(0, 0, board.width, board.height);
    let count = 0;
    for (let at = 0; at < data.length; at += 4) {
      if (data[at] === red && data[at + 1] === green && data[at + 2] === blue) count += 1;
    }
    return count;
  }, name);
}

/**
 * Waits until the family on the board has as many profiles.
 *
 * @param {import('playwright-core').Page} tab
 * @param {number} profiles
 */
export async function isOpenAs(tab, profiles) {
  await tab.waitForFunction((count) => document.querySelectorAll('#profiles .chips button').length === count, profiles, { timeout: 5000 });
}

/** Where pictures of the page are kept for people to look at; git ignores it. */
const PICTURES = new URL('../../target/pictures/', import.meta.url);

/**
 * Keeps a picture of what the window shows.
 *
 * @param {import('playwright-core').Page} tab
 * @param {string} name
 */
export async function keepScreenshot(tab, name) {
  mkdirSync(PICTURES, { recursive: true });
  await tab.screenshot({ path: new URL(`${name}.png`, PICTURES).pathname });
}
