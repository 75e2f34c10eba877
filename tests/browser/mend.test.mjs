/**
 * Mending on the page: the search beside it, what it offers on trial, and that nothing is lost on the way.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { newTab } from './browser.mjs';
import { openFamily, rims } from './families.mjs';
import { cell, inked, openExample, openPage, ready, shown, shows, sketchTwoArches } from './page.mjs';

const file = new URL('../../dist/loftkin.html', import.meta.url).href;

/**
 * How many pairs are faulty, once it says so many.
 * @param {import('playwright-core').Page} tab
 * @param {number} count
 */
async function faulty(tab, count) {
  await tab.locator('#totals').getByText(`${count} faulty`, { exact: true }).waitFor();
}

/**
 * Mends the example whose last profile reaches the axis: from the search to one step that is taken back.
 * @param {import('playwright-core').Page} tab
 */
async function mendTheRing(tab) {
  await openExample(tab, /reaches its axis/);
  await faulty(tab, 5);
  assert.equal(await inked(tab, '--mend'), 0);
  await tab.getByLabel('What is to be clear').selectOption('all');
  await tab.getByRole('button', { name: 'Look for a mend' }).click();
  const trial = tab.getByRole('group', { name: 'Mend on trial' });
  await trial.getByText('It is proved.').waitFor();
  await faulty(tab, 0);
  assert.match(await tab.getByRole('table', { name: 'What moves' }).innerText(), /Profile \d+.*\s+node \d+\s+-?\d+\.\d\d, -?\d+\.\d\d\s+-?\d+\.\d\d, -?\d+\.\d\d\s+\d+\.\d\d mm/);
  assert.ok(0 < await inked(tab, '--mend'), 'the board shows what moves');
}

test('a faulty family is mended, shown before it is kept, and is one step', async () => {
  const { tab, complaints } = await openPage();
  await mendTheRing(tab);
  const trial = tab.getByRole('group', { name: 'Mend on trial' });
  await trial.getByRole('button', { name: 'Go back' }).click();
  await faulty(tab, 5);
  assert.equal(await inked(tab, '--mend'), 0);
  await tab.getByRole('button', { name: 'Look for a mend' }).click();
  await trial.getByRole('button', { name: 'Keep it' }).click();
  await trial.waitFor({ state: 'detached' });
  await faulty(tab, 0);
  await tab.getByRole('button', { name: 'Undo: Mend all pairs' }).click();
  await faulty(tab, 5);
  await tab.getByRole('button', { name: /^Undo: Open the example/ }).waitFor();
  assert.deepEqual(complaints, []);
});

test('the page in one file mends too, from a disk', async () => {
  const { tab, complaints } = await newTab({ viewport: { width: 1280, height: 900 }, home: file });
  await tab.goto(file);
  await ready(tab);
  const workers = tab.waitForEvent('worker');
  await mendTheRing(tab);
  assert.match((await workers).url(), /^blob:/);
  assert.deepEqual(complaints, []);
});

test('where a browser gives no worker the page mends by itself', async () => {
  const { context, tab, complaints } = await openPage();
  await context.addInitScript(() => {
    window.Worker = /** @type {any} */ (class { constructor() { throw new Error('refused'); } });
  });
  await tab.reload();
  await ready(tab);
  await mendTheRing(tab);
  assert.deepEqual(complaints, []);
});

test('pinned nodes and profiles that may not move stay', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /reaches its axis/);
  await tab.locator('#profiles .chip').nth(5).click();
  await tab.locator('#board').focus();
  for (let node = 0; node < 5; node += 1) await tab.keyboard.press('PageDown');
  await tab.getByText('What must hold').click();
  await tab.getByRole('button', { name: 'Pin the chosen nodes' }).click();
  await tab.getByText('Pinned: node 5 of profile 6').waitFor();
  await tab.getByLabel('What is to be clear').selectOption('all');
  await tab.getByLabel('What may move').selectOption({ index: 1 });
  await tab.getByRole('button', { name: 'Look for a mend' }).click();
  await tab.locator('#mend .what').waitFor();
  assert.match(await tab.locator('#mend .what').innerText(), /No mend was found/);
  await tab.getByRole('button', { name: 'Release all' }).click();
  await tab.getByText('No node is pinned').waitFor();
  assert.deepEqual(complaints, []);
});

test('a search is stopped by its button and by a change of the drawing, and the page goes on', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /fault of each kind/);
  await tab.getByLabel('What is to be clear').selectOption('blend');
  const start = tab.getByRole('button', { name: 'Look for a mend' });
  await start.click();
  await tab.locator('#mend').getByText(/^Round \d+/).waitFor();
  await tab.getByRole('button', { name: 'Stop' }).click();
  await tab.getByText('Stopped: nothing is changed.').waitFor();
  assert.equal(await start.isEnabled(), true);
  await start.click();
  await tab.locator('#mend').getByText(/^Round \d+/).waitFor();
  await tab.getByRole('button', { name: 'Reverse', exact: true }).click();
  await tab.getByText('The family has changed, so the search for a mend is given up').waitFor();
  await tab.getByRole('button', { name: /^Undo: Reverse/ }).click();
  // The next search works, in a worker of its own.
  await tab.locator('#pairs td[data-first="0"][data-second="4"]').click();
  await tab.getByRole('button', { name: 'Mend this pair' }).click();
  await tab.getByRole('group', { name: 'Mend on trial' }).getByText('It is proved.').waitFor();
  assert.deepEqual(complaints, []);
});

test('a family that fails three at once is mended for any blend, which the board shows meanwhile', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /fail three at once/);
  const whole = tab.locator('#whole');
  await whole.getByText(/A blend of .* crosses itself/).waitFor();
  await shown(tab);
  assert.ok(0 < await inked(tab, '--blend'));
  await whole.getByLabel('Draw this blend on the board').uncheck();
  await shown(tab);
  assert.equal(await inked(tab, '--blend'), 0);
  await whole.getByRole('button', { name: 'Mend for any blend' }).click();
  await tab.getByRole('group', { name: 'Mend on trial' }).getByRole('button', { name: 'Keep it' }).click();
  await whole.getByText('Any blend of any profiles, in any order').waitFor();
  await tab.getByRole('button', { name: /^Undo/ }).click();
  await whole.getByText(/A blend of .* crosses itself/).waitFor();
  assert.deepEqual(complaints, []);
});

test('the tolerance follows a node while it is dragged', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  const whole = tab.locator('#whole .tolerance:not([data-redone])');
  await whole.getByText(/may move by/).waitFor();
  const before = await whole.innerText();
  await tab.getByText('Move', { exact: true }).click();
  const board = await tab.locator('#board').boundingBox();
  if (!board) throw new Error('the board is not to be seen');
  const at = (/** @type {number} */ x, /** @type {number} */ y) => /** @type {const} */ ([board.x + x * board.width, board.y + y * board.height]);
  await tab.mouse.move(...at(0.35, 0.3));
  await tab.mouse.down();
  await tab.mouse.move(...at(0.4, 0.36), { steps: 6 });
  await tab.waitForFunction((text) => /** @type {HTMLElement | null} */ (document.querySelector('#whole .tolerance:not([data-redone])'))?.innerText !== text, before);
  await whole.getByText(/may move by/).waitFor();
  assert.notEqual(await whole.innerText(), before);
  await tab.mouse.up();
  assert.deepEqual(complaints, []);
});

test('the result of a mend stays in sight where the browser does not hold the page still', async () => {
  const { tab, complaints } = await openPage();
  await tab.evaluate(() => {
    for (const part of [document.documentElement, document.body]) part.style.overflowAnchor = 'none';
  });
  // What is said of the pair stands above, and is far shorter once it is mended.
  await openFamily(tab, rims(3, { reversed: [3] }));
  await shows(tab, [1, 3], 'faulty');
  await cell(tab, 1, 3).click();
  await tab.getByLabel('What is to be clear').selectOption('all');
  const order = tab.getByRole('button', { name: 'Look for a mend' });
  await order.evaluate((button) => button.scrollIntoView({ block: 'center' }));
  const top = () => tab.locator('#mend').evaluate((place) => place.getBoundingClientRect().top);
  const before = await top();
  await order.click();
  await tab.getByRole('group', { name: 'Mend on trial' }).getByText('It is proved.').waitFor();
  await shown(tab);
  await shown(tab);
  assert.ok(Math.abs(await top() - before) < 4, `${before} becomes ${await top()}`);
  assert.deepEqual(complaints, []);
});

test('what a margin covers is told, and how far the nodes of a pair may move', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await tab.locator('#pairs td[data-first="0"][data-second="1"]').click();
  await tab.getByText('A margin covers tooling').first().waitFor();
  await tab.getByRole('button', { name: 'How far may nodes move?' }).click();
  const told = tab.locator('#mend');
  await told.getByText(/at a kept pace; proved\./).waitFor({ timeout: 20_000 });
  await told.getByText('by parameter pace nothing is proved of them').waitFor();
  await told.getByText(/A search found no movement|The least movement of nodes that a search found/).waitFor();
  assert.deepEqual(complaints, []);
});
