/**
 * Links and kept work: a link opens anywhere as it was made, a damaged one harms nothing, and what was drawn is
 * there again after the page was left.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address } from './browser.mjs';
import { openPage, ready, shows, sketchTwoArches } from './page.mjs';

/** Sketches a family and gives its link. */
async function sketchedLink() {
  const opened = await openPage({ permissions: ['clipboard-read', 'clipboard-write'] });
  await sketchTwoArches(opened.tab);
  await opened.tab.getByRole('button', { name: 'Reverse', exact: true }).click();
  await shows(opened.tab, [1, 2], 'faulty');
  await opened.tab.getByRole('button', { name: 'Copy link' }).click();
  await opened.tab.getByText(/The link is copied/).waitFor();
  const link = await opened.tab.evaluate(() => navigator.clipboard.readText());
  return { ...opened, link };
}

test('a link opens in a fresh browser profile with the same family and the same finding', async () => {
  const { tab, link, complaints } = await sketchedLink();
  assert.equal(link, tab.url());
  const finding = await tab.locator('#finding').innerText();
  const other = await openPage({ fragment: link.slice(address.length) });
  await shows(other.tab, [1, 2], 'faulty');
  await other.tab.getByRole('gridcell', { name: /Profiles 1 and 2/ }).click();
  assert.equal(await other.tab.locator('#finding').innerText(), finding);
  assert.deepEqual([...complaints, ...other.complaints], []);
});

test('damaged, cut and foreign links say so and leave the kept work alone', async () => {
  const { tab, link, context } = await sketchedLink();
  const work = () => tab.evaluate(() => localStorage.getItem('loftkin.work'));
  const kept = await work();
  assert.ok(kept);
  const middle = Math.floor(link.length - 20);
  const changed = link[middle] === 'A' ? 'B' : 'A';
  const wrong = {
    damaged: link.slice(0, middle) + changed + link.slice(middle + 1),
    'cut short': link.slice(0, -9),
    'no Loftkin family': `${address}#something-else`,
  };
  for (const [words, bad] of Object.entries(wrong)) {
    const other = await context.newPage();
    await other.goto(bad);
    await ready(other);
    await other.getByRole('alert').filter({ hasText: words }).filter({ hasText: 'Your own work is untouched' }).waitFor();
    await shows(other, [1, 2], 'faulty');
    assert.equal(await work(), kept);
    await other.close();
  }
});

test('a good link over kept work sets that work aside when the linked family is worked on', async () => {
  const { link } = await sketchedLink();
  const { tab } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  const kept = await tab.evaluate(() => localStorage.getItem('loftkin.work'));
  await tab.goto('about:blank');
  await tab.goto(link);
  await ready(tab);
  await shows(tab, [1, 2], 'faulty');
  assert.equal(await tab.evaluate(() => localStorage.getItem('loftkin.work')), kept);
  await tab.getByRole('button', { name: 'Mirror', exact: true }).click();
  await tab.waitForFunction((before) => localStorage.getItem('loftkin.work') !== before, kept);
  assert.equal(new URL(tab.url()).hash, '');
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.getByRole('button', { name: /^Family without a name, 2 profiles, / }).first().click();
  await shows(tab, [1, 2], 'clear');
});

test('the work is there again after the page was left', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  const unnamed = await tab.evaluate(() => localStorage.getItem('loftkin.work'));
  assert.notEqual(unnamed, null);
  await tab.getByRole('textbox', { name: 'Name of the family' }).fill('Hoods for the mole');
  await tab.keyboard.press('Enter');
  await tab.waitForFunction((code) => localStorage.getItem('loftkin.work') !== code, unnamed);
  await tab.reload();
  await ready(tab);
  await shows(tab, [1, 2], 'clear');
  assert.equal(await tab.getByRole('textbox', { name: 'Name of the family' }).inputValue(), 'Hoods for the mole');
  assert.deepEqual(complaints, []);
});
