/**
 * What explains a fault: pictures drawn from the pair itself, with words for those who do not see them.
 */

import assert from 'node:assert/strict';
import { fileURLToPath } from 'node:url';
import { test } from 'node:test';
import { violations } from './access.mjs';
import { openFamily } from './families.mjs';
import { cell, drag, openPage, shown, shows, sketchTwoArches } from './page.mjs';

/** @param {string} name */
const demo = (name) => ({ file: fileURLToPath(new URL(`../../demo-curves/${name}`, import.meta.url)) });

/**
 * Opens the first explanation of a pair and gives the titles of its pictures.
 *
 * @param {import('playwright-core').Page} tab
 * @param {[number, number]} pair
 */
async function explain(tab, [first, second]) {
  await cell(tab, first, second).click();
  await shown(tab);
  const why = tab.locator('#finding details.why').first();
  if (await why.getAttribute('open') === null) await why.locator('summary').click();
  const pictures = why.getByRole('img');
  await pictures.first().waitFor();
  return pictures.evaluateAll((all) => all.map((picture) => picture.getAttribute('aria-label') ?? ''));
}

test('each kind of fault is explained by pictures of the pair itself', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, demo('hoods-with-faults.json'));
  await shows(tab, [1, 5], 'faulty');
  const fold = await explain(tab, [1, 5]);
  assert.equal(fold.length, 4);
  assert.match(fold[0], /^Before: 0\.\d+ across\. Here the section still runs on/);
  assert.match(fold[1], /^The fold: 0\.\d+ across\./);
  assert.match(fold[2], /^After: 0\.\d+ across\. Further on it has a loop/);
  assert.match(fold[3], /opposite directions/);
  const twist = await explain(tab, [1, 6]);
  assert.match(twist.join(), /Like points at 0\.\d+ along.*90\.0 degrees are allowed/);
  const crossing = await explain(tab, [6, 7]);
  assert.match(crossing.join(), /Two of its strands meet.*Enlarged \d+ times.*pass each other, \d+\.\d\d mm apart/);
  const crease = await explain(tab, [3, 4]);
  assert.match(crease.join(), /arrives in one direction and leaves in another, \d+\.\d degrees off.*times its speed before it/);
  await openFamily(tab, demo('ring-through-the-axis.json'));
  await shows(tab, [1, 6], 'faulty');
  assert.match((await explain(tab, [1, 6])).join(), /reaches 6\.00 mm past the axis/);
  assert.deepEqual(complaints, []);
});

test('an opened explanation stays open and follows a drag', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await tab.getByRole('button', { name: 'Reverse', exact: true }).click();
  await shows(tab, [1, 2], 'faulty');
  const before = await explain(tab, [1, 2]);
  await tab.locator('label', { hasText: 'Move' }).first().click();
  await drag(tab, [0.35, 0.3], [0.42, 0.22]);
  await shown(tab);
  await tab.waitForFunction((text) => document.querySelector('#finding details.why[open] svg[role=img]:nth-of-type(1)')?.getAttribute('aria-label') !== text, before[0]);
  assert.equal(await tab.locator('#finding details.why[open]').count(), 1);
  assert.deepEqual(complaints, []);
});

for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
  test(`axe-core finds nothing in an explanation, ${colorScheme}`, async () => {
    const { tab } = await openPage({ colorScheme, bypassCSP: true });
    await openFamily(tab, demo('hoods-with-faults.json'));
    await shows(tab, [1, 5], 'faulty');
    await explain(tab, [1, 5]);
    for (const summary of await tab.locator('#finding details.why:not([open]) > summary').all()) await summary.click();
    assert.deepEqual(await violations(tab), []);
  });
}
