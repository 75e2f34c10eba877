/**
 * Works are kept until their owner removes them: more of them than one visit ever needs, and of two tabs each its own.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address, newTab } from './browser.mjs';
import { openExample, openPage, ready, shown } from './page.mjs';

/** @param {import('playwright-core').Page} tab */
const name = (tab) => tab.getByRole('textbox', { name: 'Name of the family' });

/**
 * @param {import('playwright-core').Page} tab
 * @param {string} text
 */
async function rename(tab, text) {
  await name(tab).fill(text);
  await name(tab).press('Enter');
  await tab.waitForFunction((old) => document.querySelector('#undo')?.getAttribute('title') === old, 'Undo: Rename');
  await shown(tab);
}

/** @param {import('playwright-core').Page} tab */
async function earlier(tab) {
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.locator('.earlier h2').waitFor();
  const names = await tab.locator('.earlier li button:first-child').allInnerTexts();
  await tab.getByRole('button', { name: 'Families' }).click();
  return names.map((text) => text.split(', ')[0]);
}

test('two tabs keep each its own family over reloads, and both are there when they are closed', async () => {
  const { tab, context, complaints } = await openPage();
  await openExample(tab, /^Closed rims that agree$/);
  await rename(tab, 'Rims of the first tab');
  const second = await context.newPage();
  await second.goto(address);
  await ready(second);
  assert.equal(await name(second).inputValue(), 'Rims of the first tab');
  await openExample(second, /^Hoods that agree$/);
  for (const round of ['one', 'two', 'three']) {
    await rename(second, `Hoods, ${round}`);
    await rename(tab, `Rims, ${round}`);
    for (const [one, kind] of /** @type {const} */ ([[tab, 'Rims'], [second, 'Hoods']])) {
      await one.reload();
      await ready(one);
      assert.equal(await name(one).inputValue(), `${kind}, ${round}`);
    }
  }
  await tab.close();
  await second.close();
  const third = await context.newPage();
  await third.goto(address);
  await ready(third);
  assert.equal(await name(third).inputValue(), 'Rims, three');
  const list = await earlier(third);
  // Not a version for each change to the other tab.
  assert.equal(list[0], 'Hoods');
  assert.ok(list.length <= 5, list.join('; '));
  await third.getByRole('button', { name: 'Families' }).click();
  await third.locator('.earlier li button').first().click();
  await third.waitForFunction(() => (/** @type {HTMLInputElement} */ (document.querySelector('#family-name'))).value === 'Hoods, three');
  assert.deepEqual(complaints, []);
});

/**
 * Undoes or does again the step of this name.
 * @param {import('playwright-core').Page} tab
 * @param {'Undo' | 'Redo'} order
 * @param {RegExp} step
 */
async function go(tab, order, step) {
  await tab.getByRole('button', { name: new RegExp(`^${order}: ${step.source}`) }).click();
  await shown(tab);
}

test('undo and redo go on after a reload, in each tab by its own steps, and to no other family', async () => {
  const { tab, context, complaints } = await openPage();
  await openExample(tab, /^Closed rims that agree$/);
  await rename(tab, 'Rims of the mole');
  const profiles = (/** @type {import('playwright-core').Page} */ of) => of.locator('#profiles .chips button').count();
  const before = await profiles(tab);
  await tab.locator('#profiles').getByRole('button', { name: 'Copy', exact: true }).click();
  await tab.getByRole('button', { name: /^Undo: Copy profile/ }).waitFor();
  const second = await context.newPage();
  await second.goto(address);
  await ready(second);
  // Its work is the same; nothing was done here.
  assert.equal(await profiles(second), before + 1);
  assert.equal(await second.locator('#undo').isDisabled(), true);
  await rename(second, 'Rims of the second tab');
  await tab.reload();
  await ready(tab);
  await go(tab, 'Undo', /Copy profile/);
  assert.equal(await profiles(tab), before);
  await tab.reload();
  await ready(tab);
  await go(tab, 'Undo', /Rename/);
  assert.notEqual(await name(tab).inputValue(), 'Rims of the mole');
  assert.equal(await tab.locator('#undo').isDisabled(), true);
  await go(tab, 'Redo', /Rename/);
  await go(tab, 'Redo', /Copy profile/);
  assert.deepEqual([await name(tab).inputValue(), await profiles(tab)], ['Rims of the mole', before + 1]);
  await second.reload();
  await ready(second);
  await go(second, 'Undo', /Rename/);
  assert.equal(await name(second).inputValue(), 'Rims of the mole');
  assert.equal(await second.locator('#undo').isDisabled(), true);
  assert.deepEqual(complaints, []);
});

test('after a reload undo takes back nothing that was done before the series was set', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Closed rims that agree$/);
  await rename(tab, 'Rims of the mole');
  await tab.locator('#series-place > summary').click();
  await tab.locator('#series').getByText('every one of them proved').waitFor({ timeout: 30_000 });
  await tab.getByLabel('No profile beside itself').check();
  await tab.waitForFunction(() => (localStorage.getItem('loftkin.work') ?? '').includes('~series1.'));
  await tab.reload();
  await ready(tab);
  assert.equal(await tab.locator('#undo').isDisabled(), true);
  await rename(tab, 'Rims of the pier');
  await tab.reload();
  await ready(tab);
  await go(tab, 'Undo', /Rename/);
  assert.equal(await name(tab).inputValue(), 'Rims of the mole');
  assert.equal(await tab.locator('#undo').isDisabled(), true);
  await tab.locator('#series-place > summary').click();
  await tab.locator('#series').getByText('every one of them proved').waitFor({ timeout: 30_000 });
  assert.equal(await tab.getByLabel('No profile beside itself').isChecked(), true);
  assert.deepEqual(complaints, []);
});

/** Opens the page with as many earlier works as an older page kept. @param {string} [refused] what the browser does not have */
async function withMany(refused) {
  const { tab, context, complaints } = await newTab({ viewport: { width: 1280, height: 900 } });
  await context.addInitScript((without) => {
    if (without) Object.defineProperty(window, without, { value: undefined });
    if (localStorage.getItem('loftkin.earlier') !== null) return;
    const list = Array.from({ length: 24 }, (_, index) => ({ code: `old ${index}`, name: `Old ${index}`, when: 1e12 - index }));
    localStorage.setItem('loftkin.earlier', JSON.stringify(list));
  }, refused);
  await tab.goto(address);
  await ready(tab);
  for (let round = 1; round <= 3; round += 1) {
    await openExample(tab, /^Closed rims that agree$/);
    await rename(tab, `New ${round}`);
  }
  await openExample(tab, /^Hoods that agree$/);
  return { tab, complaints };
}

const ALL = ['New 3', 'New 2', 'New 1', ...Array.from({ length: 24 }, (_, index) => `Old ${index}`)];

test('earlier works are kept until they are forgotten, however many there are', async () => {
  const { tab, complaints } = await withMany();
  assert.deepEqual(await earlier(tab), ALL);
  await tab.getByText('Earlier works: 27, kept in this browser until you forget them').waitFor({ state: 'attached' });
  await tab.getByRole('button', { name: 'Families' }).click();
  for (const gone of ['Old 23', 'New 2, 8 profiles', 'Old 3']) await tab.getByRole('button', { name: `Forget ${gone}`, exact: true }).click();
  await tab.getByText('Earlier works: 24,').waitFor();
  assert.equal(await tab.evaluate(() => document.activeElement?.closest('.earlier') !== null), true);
  await tab.reload();
  await ready(tab);
  assert.deepEqual(await earlier(tab), ALL.filter((one) => !['Old 23', 'New 2', 'Old 3'].includes(one)));
  assert.deepEqual(complaints, []);
});

test('where the browser has no database they stay where they are', async () => {
  const { tab, complaints } = await withMany('indexedDB');
  assert.deepEqual(await earlier(tab), ALL);
  await tab.reload();
  await ready(tab);
  assert.deepEqual(await earlier(tab), ALL);
  assert.deepEqual(complaints, []);
});
