/**
 * What a person does at the board, for the tests of drawing beside this file.
 */

import { onSheet, shown, sketch } from './page.mjs';

/** @param {import('playwright-core').Page} tab */
export const hand = (tab, /** @type {string} */ name) => tab.locator('#hands').getByText(name, { exact: true }).click();

/** @param {import('playwright-core').Page} tab */
export const undoes = (tab, /** @type {string} */ step) => tab.getByRole('button', { name: `Undo: ${step}`, exact: true }).waitFor({ timeout: 5000 });

/**
 * The coordinates in the node table.
 * @param {import('playwright-core').Page} tab
 */
export async function coordinates(tab) {
  await shown(tab);
  return tab.evaluate(() => [...document.querySelectorAll('.nodes tbody tr')].map((row) => [...row.querySelectorAll('input[data-figure]')].map((input) => Number(/** @type {HTMLInputElement} */ (input).value))));
}

/** @param {import('playwright-core').Page} tab */
export const chosen = async (tab) => (await shown(tab), tab.locator('.nodes button[aria-pressed="true"]').count());

/** @param {import('playwright-core').Page} tab */
export async function oneArch(tab) {
  await sketch(tab, [[0.3, 0.7], [0.4, 0.4], [0.6, 0.4], [0.7, 0.7]]);
  await tab.getByText('Nodes and coordinates').click();
}

/**
 * A square with straight sides and its corners at 10 and 50 mm, typed in.
 * @param {import('playwright-core').Page} tab
 */
export async function square(tab) {
  await tab.getByLabel('Closed profiles').check();
  await tab.getByText('Nodes and coordinates').click();
  for (const [x, y] of [[10, 10], [50, 10], [50, 50], [10, 50]]) {
    await tab.getByLabel('x of the new node, mm').fill(String(x));
    await tab.getByLabel('y of the new node, mm').fill(String(y));
    await tab.getByRole('button', { name: 'Set node' }).click();
  }
  await tab.getByRole('button', { name: 'End profile' }).click();
  await tab.getByRole('button', { name: 'Choose all' }).click();
  await tab.getByRole('button', { name: 'Corner or smooth' }).click();
  await tab.getByRole('button', { name: 'Show all' }).click();
  await hand(tab, 'Move');
  await shown(tab);
}

/**
 * Where a place of the drawing (mm) stands in the window while the square is shown whole.
 * @param {import('playwright-core').Page} tab
 * @param {number} x
 * @param {number} y
 */
export async function atMm(tab, x, y) {
  const { left, top, width, height } = await sheetBox(tab);
  const scale = await squareScale(tab);
  return { x: left + width / 2 + (x - 30) * scale, y: top + height / 2 - (y - 30) * scale };
}

/** @param {import('playwright-core').Page} tab */
export async function sheetBox(tab) {
  const corner = await onSheet(tab, [0, 0]);
  const far = await onSheet(tab, [1, 1]);
  return { left: corner.x, top: corner.y, width: far.x - corner.x, height: far.y - corner.y };
}

/**
 * Pixels for one mm after “Show all”, which leaves 8 % of air on each side of what is drawn.
 * @param {import('playwright-core').Page} tab
 */
export async function squareScale(tab) {
  const { width, height } = await sheetBox(tab);
  return (Math.min(width, height) * 0.84) / 40;
}
