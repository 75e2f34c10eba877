/**
 * Families made up for the tests beside this file, and how they get onto the page: as files, as a person opens them.
 */

/** @typedef {{name: string, closed: boolean, nodes: [number, number][]}} ProfileFile */

/**
 * Wavy closed rims about one centre, all agreeing but those that are reversed or turned (counted from 1).
 *
 * @param {number} count
 * @param {{reversed?: number[], turned?: number[]}} [faults]
 */
export function rims(count, { reversed = [], turned = [] } = {}) {
  const profiles = Array.from({ length: count }, (_, index) => {
    const shift = turned.includes(index + 1) ? 2.6 : 0;
    const nodes = Array.from({ length: 12 }, (__, k) => {
      const angle = (2 * Math.PI * k) / 12;
      const radius = 80 + 4 * (index % 7) + 3 * Math.cos(2 * angle + 0.37 * index);
      return /** @type {[number, number]} */ ([round(radius * Math.cos(angle + shift)), round(0.8 * radius * Math.sin(angle + shift))]);
    });
    const run = reversed.includes(index + 1) ? [nodes[0], ...nodes.slice(1).reverse()] : nodes;
    return { name: `Rim ${index + 1}`, closed: true, nodes: run };
  });
  return family('Rims', profiles);
}

/**
 * @param {string} name
 * @param {ProfileFile[]} profiles
 * @param {Record<string, unknown>} [settings]
 */
export function family(name, profiles, settings = {}) {
  return {
    format: 'loftkin-family', version: 1, name, unit: 'mm', grid: 0.01,
    settings: { pacing: 'parameter', placement: 'stack', twist_limit: 90, crease_limit: 5, ...settings }, profiles,
  };
}

/**
 * Opens a family as a file.
 *
 * @param {import('playwright-core').Page} tab
 * @param {object | {file: string}} what a family, or the path of its file
 */
export async function openFamily(tab, what) {
  const opener = tab.getByRole('button', { name: 'Families' });
  await opener.click();
  const [chooser] = await Promise.all([tab.waitForEvent('filechooser'), tab.getByRole('button', { name: /^Open a file/ }).click()]);
  await chooser.setFiles('file' in what ? what.file : { name: 'family.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(what)) });
  await tab.locator('#pairs td').first().waitFor();
  if (await opener.getAttribute('aria-expanded') === 'true') await opener.click();
}

/** @param {number} value to the grid */
function round(value) {
  return Math.round(value * 100) / 100;
}
