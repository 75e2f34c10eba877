/**
 * Nothing that was set of a series is lost: another setting or number is tried and left, steps are taken back, and
 * stations that cannot be used are shown as wrong beside the last piece.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { isOpenAs, openExample, openPage } from './page.mjs';

/** @param {import('playwright-core').Page} tab */
async function counted(tab) {
  await tab.locator('#series').getByText('every one of them proved').waitFor({ timeout: 30_000 });
}

/**
 * @param {import('playwright-core').Page} tab
 * @param {string} label
 * @param {string} value
 */
async function write(tab, label, value) {
  await tab.getByLabel(label).fill(value);
  await tab.getByLabel(label).press('Enter');
}

/** @param {import('playwright-core').Page} tab */
function heights(tab) {
  return tab.locator('.stations input[data-field^="at "]').evaluateAll((all) => all.map((one) => Number(/** @type {HTMLInputElement} */ (one).value)));
}

/**
 * @param {import('playwright-core').Page} tab
 * @param {string} number
 */
async function pieceIs(tab, number) {
  await tab.waitForFunction((wanted) => /** @type {HTMLInputElement | null} */ (document.querySelector('#piece-number'))?.value === wanted
    && !document.querySelector('.series-piece.past'), number);
}

/** Four of the five stations that there were, at 0, 24, 42 and 52 mm, the third of them smaller. */
async function uneven() {
  const opened = await openPage();
  const { tab } = opened;
  await openExample(tab, /^Closed rims that agree$/);
  await tab.locator('#series-place > summary').click();
  await counted(tab);
  await tab.getByText('Stations one by one').click();
  const evenly = Number(await tab.getByLabel('From one to the next').inputValue());
  await write(tab, 'How many, 2 to 24', '4');
  // From the top, for heights must rise at any time.
  for (const [station, height] of [[4, 1000], [2, 24], [3, 42], [4, 52]]) await write(tab, `Height of station ${station}`, String(height));
  await write(tab, 'Scale of station 3', '0.75');
  assert.deepEqual(await heights(tab), [0, 24, 42, 52]);
  return { ...opened, evenly };
}

test('another setting or number of stations is tried, and the old stations come back', async () => {
  const { tab, complaints, evenly } = await uneven();
  const spacing = tab.getByLabel('From one to the next');
  assert.deepEqual([await spacing.inputValue(), await spacing.getAttribute('placeholder')], ['', 'uneven']);
  for (const setting of ['ring', 'round']) {
    await tab.getByLabel('Stations stand as').selectOption(setting);
    assert.deepEqual(await heights(tab), setting === 'ring' ? [0, 30, 60, 90] : [0, 90, 180, 270]);
    await tab.getByLabel('Stations stand as').selectOption('stack');
    assert.deepEqual(await heights(tab), [0, 24, 42, 52]);
  }
  await write(tab, 'How many, 2 to 24', '24');
  // The fifth was cut off before; those that never stood go on from it.
  const all = await heights(tab);
  assert.deepEqual(all.slice(0, 4), [0, 24, 42, 52]);
  assert.equal(all[4], 4 * evenly);
  assert.equal(all[6] - all[5], all[5] - all[4]);
  await write(tab, 'How many, 2 to 24', '2');
  await write(tab, 'How many, 2 to 24', '4');
  assert.deepEqual(await heights(tab), [0, 24, 42, 52]);
  assert.equal(await tab.getByLabel('Scale of station 3').inputValue(), '0.75');
  await write(tab, 'How many, 2 to 24', '99');
  await tab.getByRole('alert').getByText('at most 24 stations, not 99').waitFor();
  assert.deepEqual(complaints, []);
});

test('what was set is taken back and done again by buttons and keys, and the keys take back what was done last', async () => {
  const { tab, complaints } = await uneven();
  const [back, again] = ['Take back', 'Do again'].map((name) => tab.getByRole('button', { name, exact: true }));
  await counted(tab);
  await write(tab, 'Piece number', '9');
  await pieceIs(tab, '9');
  await tab.getByLabel('No profile beside itself').check();
  await write(tab, 'From one to the next', '20');
  assert.deepEqual(await heights(tab), [0, 20, 40, 60]);
  await back.click();
  assert.deepEqual(await heights(tab), [0, 24, 42, 52]);
  await back.focus();
  await tab.keyboard.press('Control+z');
  assert.equal(await tab.getByLabel('No profile beside itself').isChecked(), false);
  await pieceIs(tab, '9');
  await tab.keyboard.press('Control+Shift+Z');
  await tab.keyboard.press('Control+y');
  assert.equal(await tab.getByLabel('No profile beside itself').isChecked(), true);
  assert.deepEqual(await heights(tab), [0, 20, 40, 60]);
  assert.equal(await again.isDisabled(), true);
  // All the way back: the drawing stays, and the focus in the place.
  while (await back.isEnabled()) await tab.keyboard.press('Control+z');
  assert.equal(await back.isDisabled(), true);
  assert.equal((await heights(tab)).length, 5);
  assert.equal(await tab.evaluate(() => document.activeElement?.textContent), 'Do again');
  assert.equal(await tab.locator('#redo').getAttribute('title'), 'Redo: Set the series');
  await pieceIs(tab, '1');
  // The drawing was changed last: keys take that back, wherever the focus is, and nothing of the series.
  const profiles = () => tab.locator('#profiles .chips button').count();
  const before = await profiles();
  await again.click();
  await tab.locator('#profiles').getByRole('button', { name: 'Copy', exact: true }).click();
  await tab.getByRole('button', { name: /^Undo: Copy profile/ }).waitFor();
  assert.equal(await profiles(), before + 1);
  const set = await heights(tab);
  await back.focus();
  await tab.keyboard.press('Control+z');
  await tab.getByRole('button', { name: 'Undo: Set the series' }).waitFor();
  assert.equal(await profiles(), before);
  assert.deepEqual(await heights(tab), set);
  await tab.keyboard.press('Control+z');
  assert.equal(await back.isDisabled(), true);
  assert.deepEqual(complaints, []);
});

test('Undo of the head takes back what was done last, of the series or of the curves, and never the family with it', async () => {
  const { tab, complaints } = await uneven();
  await counted(tab);
  const [undo, redo] = [tab.locator('#undo'), tab.locator('#redo')];
  const profiles = () => tab.locator('#profiles .chips button').count();
  const before = await profiles();
  assert.equal(await undo.getAttribute('title'), 'Undo: Set the series');
  await tab.locator('#profiles').getByRole('button', { name: 'Copy', exact: true }).click();
  await tab.getByRole('button', { name: /^Undo: Copy profile/ }).waitFor();
  await undo.click();
  await tab.getByRole('button', { name: 'Undo: Set the series' }).waitFor();
  for (const scale of ['1', '0.75']) {
    assert.equal(await tab.getByLabel('Scale of station 3').inputValue(), scale === '1' ? '0.75' : '1');
    await (scale === '1' ? undo : redo).click();
    assert.equal(await tab.getByLabel('Scale of station 3').inputValue(), scale);
  }
  await redo.click();
  await tab.getByRole('button', { name: /^Undo: Copy profile/ }).waitFor();
  // All the way back to where the family was opened, and one step further: it is put away, with a word.
  await undo.click();
  await tab.getByRole('button', { name: 'Undo: Set the series' }).waitFor();
  while (await undo.getAttribute('title') === 'Undo: Set the series') {
    await undo.click();
    assert.equal(await profiles(), before);
  }
  await undo.click();
  await tab.locator('#notices').getByText(/“.*rims.*” was put away: it is among the earlier works, under Families, and Redo brings it back/i).waitFor();
  await isOpenAs(tab, 0);
  await tab.reload();
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.getByRole('button', { name: /^Rims.*, \d/ }).waitFor();
  assert.deepEqual(complaints, []);
});

test('stations that cannot be used are marked, and the last piece stays to be seen', async () => {
  const { tab, complaints } = await uneven();
  await counted(tab);
  await write(tab, 'Piece number', '9');
  await pieceIs(tab, '9');
  await write(tab, 'Height of station 3', '10');
  await tab.locator('#series').getByRole('alert').getByText('Station 3 at 10 mm does not lie beyond the one before it at 24 mm: give heights').waitFor();
  assert.equal(await tab.getByLabel('Height of station 3').getAttribute('aria-invalid'), 'true');
  assert.equal(await tab.locator('.series-piece.past').isVisible(), true);
  assert.equal(await tab.locator('#piece-number').inputValue(), '9');
  await write(tab, 'Height of station 3', '30');
  await pieceIs(tab, '9');
  assert.equal(await tab.locator('#series .refused').and(tab.locator(':visible')).count(), 0);
  assert.equal(await tab.locator('#series [aria-invalid]').count(), 0);
  assert.deepEqual(complaints, []);
});

test('a step of the drawing back to a family brings its series and its piece', async () => {
  const { tab, complaints } = await uneven();
  await counted(tab);
  await write(tab, 'Piece number', '9');
  await pieceIs(tab, '9');
  await openExample(tab, /^Hoods that agree$/);
  await tab.waitForFunction(() => document.querySelectorAll('.piece-stations select').length === 5);
  await write(tab, 'Piece number', '3');
  await pieceIs(tab, '3');
  for (const [order, count, piece] of /** @type {const} */ ([['#undo', 4, '9'], ['#redo', 5, '3'], ['#undo', 4, '9']])) {
    await tab.locator(order).click();
    await tab.waitForFunction((wanted) => document.querySelectorAll('.piece-stations select').length === wanted, count);
    await pieceIs(tab, piece);
    if (count === 4) assert.deepEqual(await heights(tab), [0, 24, 42, 52]);
  }
  // With no family between, once what was set of the series is taken back.
  const [back, again] = ['Take back', 'Do again'].map((name) => tab.getByRole('button', { name, exact: true }));
  while (await back.isEnabled()) await back.click();
  await tab.locator('#undo').click();
  await tab.getByText('There is no profile yet').waitFor();
  await tab.locator('#redo').click();
  await tab.waitForFunction(() => [...document.querySelectorAll('#series button')].some((one) => one.textContent === 'Do again' && !(/** @type {HTMLButtonElement} */ (one).disabled)));
  while (await again.isEnabled()) await again.click();
  await pieceIs(tab, '9');
  assert.deepEqual(complaints, []);
});
