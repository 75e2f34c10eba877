/**
 * What a person set of profiles for a series follows the profiles: when some are added, deleted or moved on the board,
 * when that is undone, and whether the places are open, closed or not yet fetched.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address } from './browser.mjs';
import { openFamily, rims } from './families.mjs';
import { keepScreenshot, openExample, openPage, ready } from './page.mjs';

/** @typedef {import('playwright-core').Page} Page */

/**
 * Acts on a profile of the board as a whole.
 * @param {Page} tab
 * @param {string} profile its name
 * @param {'Copy' | 'Earlier' | 'Later' | 'Delete profile'} order
 */
async function act(tab, profile, order) {
  await tab.locator('#profiles .chips').getByRole('button', { name: new RegExp(`\\d ${profile},`) }).first().click();
  await tab.locator('#profiles').getByRole('button', { name: order, exact: true }).click();
}

/**
 * Waits until the stations allow these profiles, by the words of their buttons, and the series has so many pieces.
 * @param {Page} tab
 * @param {string[]} allowed
 * @param {string} count
 */
async function allows(tab, allowed, count) {
  await tab.waitForFunction(([words, pieces]) => {
    const shown = [...document.querySelectorAll('.stations .allowed')].map((one) => one.textContent);
    return shown.join(';') === words && (document.querySelector('.series-count b')?.textContent ?? '').replace(/\D/g, '') === pieces;
  }, [allowed.join(';'), count], { timeout: 20_000 });
}

/**
 * Waits until the piece that is shown has these profiles.
 * @param {Page} tab
 * @param {string[]} profiles by name
 */
async function pieceHas(tab, profiles) {
  await tab.waitForFunction((names) => {
    const shown = [...document.querySelectorAll('.piece-stations select')].map((one) => /** @type {HTMLSelectElement} */ (one).selectedOptions[0]?.textContent?.replace(/^\d+ /, ''));
    return shown.join(';') === names && !document.querySelector('.series-piece.past');
  }, profiles.join(';'), { timeout: 20_000 });
}

/**
 * Allows some profiles at a station.
 * @param {Page} tab
 * @param {number} station
 * @param {number[]} profiles from 1
 */
async function allow(tab, station, profiles) {
  await tab.getByRole('button', { name: `Profiles at station ${station}: any` }).click();
  const chips = tab.getByRole('group', { name: `Profiles that may stand at station ${station}` });
  await chips.getByRole('button', { name: 'None yet' }).click();
  for (const profile of profiles) await chips.getByRole('button').nth(profile - 1).click();
  await tab.getByRole('button', { name: `Profiles at station ${station}: ${profiles.join(', ')}` }).click();
}

/** @param {Page} tab */
function kept(tab) {
  return tab.evaluate(() => localStorage.getItem('loftkin.work') ?? '');
}

/**
 * Waits until what is kept has changed and holds a series.
 * @param {Page} tab
 * @param {string} before
 */
async function keptAnew(tab, before) {
  await tab.waitForFunction((old) => { const now = localStorage.getItem('loftkin.work') ?? ''; return now !== old && now.includes('~'); }, before, { timeout: 20_000 });
}

/**
 * Five rims over three stations: at the second may stand Rim 2 and Rim 4, at the third Rim 4 alone; the piece of Rim 5,
 * Rim 2 and Rim 4 is shown.
 * @param {import('playwright-core').BrowserContextOptions} [options]
 */
async function begun(options) {
  const opened = await openPage({ permissions: ['clipboard-read', 'clipboard-write'], ...options });
  const { tab } = opened;
  await openFamily(tab, rims(5));
  await tab.locator('#series-place > summary').click();
  await tab.locator('#series').getByText('every one of them proved').waitFor({ timeout: 30_000 });
  await tab.getByLabel('How many, 2 to 24').fill('3');
  await tab.getByLabel('How many, 2 to 24').press('Enter');
  await tab.getByText('Stations one by one').click();
  await allow(tab, 2, [2, 4]);
  await allow(tab, 3, [4]);
  await allows(tab, ['any', '2, 4', '4'], '10');
  const before = await kept(tab);
  await tab.getByLabel('Profile of the piece at station 1').selectOption('4');
  await pieceHas(tab, ['Rim 5', 'Rim 2', 'Rim 4']);
  await keptAnew(tab, before);
  return opened;
}

test('allowed profiles, a fixed one and the piece follow their profiles when some are copied and moved', async () => {
  const { tab, complaints } = await begun();
  await act(tab, 'Rim 1', 'Copy');
  await allows(tab, ['any', '3, 5', '5'], '12');
  await pieceHas(tab, ['Rim 5', 'Rim 2', 'Rim 4']);
  await act(tab, 'Rim 4', 'Earlier');
  await allows(tab, ['any', '3, 4', '4'], '12');
  await pieceHas(tab, ['Rim 5', 'Rim 2', 'Rim 4']);
  // A copy may not stand where its original may.
  await act(tab, 'Rim 4', 'Copy');
  await allows(tab, ['any', '3, 4', '4'], '14');
  // It is like its original: which of them is moved, the family is the same.
  const before = await kept(tab);
  await act(tab, 'Rim 4', 'Later');
  await allows(tab, ['any', '3, 5', '5'], '14');
  await pieceHas(tab, ['Rim 5', 'Rim 2', 'Rim 4']);
  await keptAnew(tab, before);
  await tab.reload();
  await ready(tab);
  await tab.locator('#series-place > summary').click();
  await allows(tab, ['any', '3, 5', '5'], '14');
  await pieceHas(tab, ['Rim 5', 'Rim 2', 'Rim 4']);
  assert.deepEqual(complaints, []);
});

for (const [name, viewport] of /** @type {const} */ ([['desktop', { width: 1280, height: 900 }], ['phone', { width: 360, height: 740 }]])) {
  for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
    test(`an allowed profile that is deleted is told and never means any, and undo brings it back: ${name}, ${colorScheme}`, async () => {
      const { tab, complaints } = await begun({ viewport, colorScheme });
      await act(tab, 'Rim 4', 'Delete profile');
      await tab.locator('#notices').getByText('Series: Not in the drawing now: profile 4 “Rim 4” (allowed at stations 2 and 3).').waitFor();
      await tab.locator('#series').getByText('Nothing is left at station 3: choose what may stand there.').waitFor();
      await tab.locator('#series').getByRole('alert').getByText('No profile is allowed at station 3').waitFor();
      assert.deepEqual(await tab.locator('.stations .allowed').allInnerTexts(), ['any', '2', 'none left']);
      await tab.locator('#series').getByText('Not in the drawing now').scrollIntoViewIfNeeded();
      await keepScreenshot(tab, `profile-gone-${name}-${colorScheme}`);
      const over = await tab.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(over <= 0, `the page is ${over} pixels too wide`);
      // What is kept says so too, and no less.
      const other = await openPage({ fragment: `#${await kept(tab)}` });
      await other.tab.locator('#series').getByRole('alert').getByText('No profile is allowed at station 3').waitFor({ timeout: 20_000 });
      await other.context.close();
      await tab.locator('#undo').click();
      await allows(tab, ['any', '2, 4', '4'], '10');
      await pieceHas(tab, ['Rim 5', 'Rim 2', 'Rim 4']);
      assert.equal(await tab.locator('#series').getByText('Not in the drawing now').isVisible(), false);
      await tab.locator('#redo').click();
      await tab.locator('#series').getByText('Nothing is left at station 3').waitFor();
      // Another one is chosen; what was deleted comes back beside it.
      await tab.getByRole('button', { name: 'Profiles at station 3: none left' }).click();
      await tab.getByRole('group', { name: 'Profiles that may stand at station 3' }).getByRole('button').nth(0).click();
      await allows(tab, ['any', '2', '1'], '4');
      await tab.getByRole('button', { name: 'Steps', exact: true }).click();
      await tab.locator('#step-list .step').nth(1).click();
      await tab.locator('#step-list').getByRole('button', { name: 'Close' }).click();
      await allows(tab, ['any', '2, 4', '1, 4'], '20');
      assert.deepEqual(complaints, []);
    });
  }
}

test('with the places closed, or not fetched yet, what is kept and linked follows too', async () => {
  const { tab, complaints } = await begun();
  for (const reload of [false, true]) {
    if (reload) await tab.reload();
    else await tab.locator('#series-place > summary').click();
    await ready(tab);
    const before = await kept(tab);
    await act(tab, 'Rim 1', reload ? 'Delete profile' : 'Copy');
    await keptAnew(tab, before);
    await tab.getByRole('button', { name: 'Copy link' }).click();
    await tab.getByText('it holds the curves, the stations and the piece that is shown', { exact: false }).waitFor();
    const link = await tab.evaluate(() => navigator.clipboard.readText());
    const other = await openPage({ fragment: link.slice(address.length) });
    await other.tab.getByText('Stations one by one').click();
    await allows(other.tab, ['any', '3, 5', '5'].map((words) => (reload ? words.replace('3, 5', '2, 4').replace('5', '4') : words)), reload ? '10' : '12');
    await pieceHas(other.tab, ['Rim 5', 'Rim 2', 'Rim 4']);
    await other.context.close();
  }
  assert.deepEqual(complaints, []);
});

test('at once after a profile is deleted nothing is kept or linked that names other profiles', async () => {
  const { tab, complaints } = await begun();
  await tab.reload();
  await ready(tab);
  const before = await kept(tab);
  await tab.locator('#profiles .chips').getByRole('button', { name: /Rim 1,/ }).click();
  // The link is asked for in the same moment.
  await tab.evaluate(() => {
    /** @type {HTMLElement} */ ([...document.querySelectorAll('#profiles button')].find((one) => one.textContent === 'Delete profile')).click();
    document.getElementById('copy-link')?.click();
  });
  await tab.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
  const now = await kept(tab);
  assert.ok(now === before || now.split('~')[1] !== before.split('~')[1], 'the series of before stands beside the family of before alone');
  await tab.getByText('The link is copied', { exact: false }).waitFor({ timeout: 20_000 });
  const other = await openPage({ fragment: (await tab.evaluate(() => navigator.clipboard.readText())).slice(address.length) });
  await other.tab.getByText('Stations one by one').click();
  await allows(other.tab, ['any', '1, 3', '3'], '8');
  assert.deepEqual(complaints, []);
});

test('a work that a step of the drawing leads back to has its series again, though no place was opened', async () => {
  const { tab, complaints } = await begun();
  await tab.reload();
  await ready(tab);
  const before = await kept(tab);
  await openExample(tab, /^Hoods that agree$/);
  await tab.waitForFunction((old) => localStorage.getItem('loftkin.work') !== old, before);
  await tab.locator('#undo').click();
  await tab.waitForFunction((old) => localStorage.getItem('loftkin.work') === old, before);
  await tab.locator('#series-place > summary').click();
  await allows(tab, ['any', '2, 4', '4'], '10');
  await pieceHas(tab, ['Rim 5', 'Rim 2', 'Rim 4']);
  assert.deepEqual(complaints, []);
});

test('where the places cannot be fetched, a series that is behind is set aside with its drawing, and what is drawn is kept', async () => {
  const { tab } = await begun({ serviceWorkers: 'block' });
  const before = await kept(tab);
  const unfetched = /\/places[-.]/;
  await tab.route(unfetched, (route) => route.abort());
  await tab.reload();
  await ready(tab);
  await act(tab, 'Rim 4', 'Delete profile');
  await tab.getByText('The series could not be written anew', { exact: false }).waitFor();
  await tab.waitForFunction((old) => { const now = localStorage.getItem('loftkin.work') ?? ''; return now !== old && !now.includes('~'); }, before);
  await tab.unroute(unfetched);
  await tab.reload();
  await ready(tab);
  assert.equal(await tab.locator('#profiles .chips button').count(), 4);
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.getByRole('button', { name: /^Rims, 5 profiles/ }).click();
  await tab.locator('#series-place > summary').click();
  await tab.getByText('Stations one by one').click();
  await allows(tab, ['any', '2, 4', '4'], '10');
  await pieceHas(tab, ['Rim 5', 'Rim 2', 'Rim 4']);
});

test('what is drawn is kept when the page is left before the series has followed', async () => {
  const { tab } = await begun({ serviceWorkers: 'block' });
  const before = await kept(tab);
  // The places never come.
  const unfetched = /\/places[-.]/;
  await tab.route(unfetched, () => {});
  await tab.reload();
  await ready(tab);
  await act(tab, 'Rim 4', 'Delete profile');
  await tab.waitForFunction(() => document.querySelectorAll('#profiles .chips button').length === 4);
  assert.equal(await kept(tab), before);
  await tab.goto('about:blank');
  await tab.unroute(unfetched);
  await tab.goto(address);
  await ready(tab);
  assert.equal(await tab.locator('#profiles .chips button').count(), 4);
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.getByRole('button', { name: /^Rims, 5 profiles/ }).waitFor();
});
