/**
 * The series beside its family: in the link, in the browser's storage, in a file. What a person has set is there
 * again, and what cannot be read says so and harms nothing.
 */

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { address } from './browser.mjs';
import { openExample, openPage, ready } from './page.mjs';

/** @param {import('playwright-core').Page} tab */
async function counted(tab) {
  await tab.locator('#series').getByText('every one of them proved').waitFor({ timeout: 30_000 });
}

/**
 * Waits until a piece is shown.
 * @param {import('playwright-core').Page} tab
 * @param {string} number
 */
async function pieceIs(tab, number) {
  await tab.waitForFunction((wanted) => /** @type {HTMLInputElement | null} */ (document.querySelector('#piece-number'))?.value === wanted, number);
}

/**
 * Sets stations, blend and rules on the closed rims, and opens piece 123.
 * @param {import('playwright-core').BrowserContextOptions} [options]
 */
async function setSeries(options) {
  const opened = await openPage({ permissions: ['clipboard-read', 'clipboard-write'], ...options });
  const { tab } = opened;
  await openExample(tab, /^Closed rims that agree$/);
  await tab.locator('#series-place > summary').click();
  await counted(tab);
  await tab.getByLabel('How many, 2 to 24').fill('6');
  await tab.getByLabel('How many, 2 to 24').press('Enter');
  await tab.getByLabel('Blend').selectOption('eased');
  await tab.getByLabel('No profile beside itself').check();
  await tab.getByText('Stations one by one').click();
  await tab.getByLabel('Scale of station 3').fill('0.75');
  await tab.getByLabel('Scale of station 3').press('Enter');
  await tab.getByLabel('Turn of station 2').fill('4.5');
  await tab.getByLabel('Turn of station 2').press('Enter');
  await tab.getByRole('button', { name: 'Profiles at station 6: any' }).click();
  const chips = tab.getByRole('group', { name: 'Profiles that may stand at station 6' });
  await chips.getByRole('button', { name: 'None yet' }).click();
  await chips.getByRole('button').nth(1).click();
  await chips.getByRole('button').nth(3).click();
  await tab.getByRole('button', { name: 'Profiles at station 6: 2, 4' }).waitFor();
  await counted(tab);
  await pieceIs(tab, '1');
  await tab.waitForFunction(() => (localStorage.getItem('loftkin.work') ?? '').includes('~series1.'));
  await tab.waitForTimeout(300);
  const kept = await tab.evaluate(() => localStorage.getItem('loftkin.work'));
  await tab.getByLabel('Piece number').fill('123');
  await tab.getByLabel('Piece number').press('Enter');
  await tab.waitForFunction((before) => localStorage.getItem('loftkin.work') !== before, kept);
  return opened;
}

/**
 * All that is set of the series, as it is shown.
 * @param {import('playwright-core').Page} tab
 */
async function shownSeries(tab) {
  return tab.evaluate(() => {
    const values = (/** @type {string} */ which) => [...document.querySelectorAll(which)].map((one) => /** @type {HTMLInputElement} */ (one).value);
    return {
      settings: values('.stations-form .settings input, .stations-form .settings select'),
      apart: /** @type {HTMLInputElement} */ (document.querySelector('.stations-form input[type=checkbox]')).checked,
      stations: values('.stations input'),
      allowed: [...document.querySelectorAll('.stations .allowed')].map((one) => one.textContent),
      number: values('#piece-number'),
      arrangement: values('.piece-stations select'),
      count: document.querySelector('.series-count b')?.textContent,
    };
  });
}

/**
 * Waits until the series is shown as it was.
 * @param {import('playwright-core').Page} tab
 * @param {Awaited<ReturnType<typeof shownSeries>>} before
 */
async function isAsBefore(tab, before) {
  await pieceIs(tab, before.number[0]);
  assert.deepEqual(await shownSeries(tab), before);
}

test('a link holds the series and the piece, and opens on it; without a series it holds the family alone', async () => {
  const { tab, complaints } = await setSeries();
  const before = await shownSeries(tab);
  assert.deepEqual(before.number, ['123']);
  // Its blend is eased, and the footer says clear of ruled lofts.
  await tab.locator('.series-count').getByText('every section of it is a section of the ruled loft of these two').waitFor();
  assert.equal(before.stations.length, 6 * 5);
  await tab.getByRole('button', { name: 'Copy link' }).click();
  await tab.getByText('it holds the curves, the stations and the piece that is shown', { exact: false }).waitFor();
  const link = await tab.evaluate(() => navigator.clipboard.readText());
  assert.equal(link, tab.url());
  await tab.getByRole('button', { name: 'Share', exact: true }).click();
  assert.equal(await tab.getByRole('textbox', { name: 'The link' }).inputValue(), link);
  const other = await openPage({ fragment: link.slice(address.length), permissions: ['clipboard-read', 'clipboard-write'] });
  await isAsBefore(other.tab, before);
  // To look at another piece is no work: the address and the kept work stay.
  await other.tab.getByRole('button', { name: 'Next', exact: true }).click();
  await pieceIs(other.tab, '124');
  await other.tab.waitForTimeout(300);
  assert.equal(other.tab.url(), link);
  assert.equal(await other.tab.evaluate(() => localStorage.getItem('loftkin.work')), null);
  await other.tab.getByRole('button', { name: 'Copy link' }).click();
  await other.tab.waitForFunction((was) => location.href !== was, link);
  // Nothing of a series was set here.
  const plain = await openPage({ permissions: ['clipboard-read', 'clipboard-write'] });
  await openExample(plain.tab, /^Closed rims that agree$/);
  await plain.tab.locator('#series-place > summary').click();
  await counted(plain.tab);
  await pieceIs(plain.tab, '1');
  await plain.tab.getByRole('button', { name: 'Copy link' }).click();
  await plain.tab.getByText(/it holds the whole family\./).waitFor();
  assert.ok(!plain.tab.url().includes('~'));
  // A link to another piece of the family that is there shows that piece, and sets nothing aside.
  const same = await openPage({ fragment: link.slice(address.length) });
  await isAsBefore(same.tab, before);
  await same.tab.evaluate((hash) => { location.hash = hash; }, other.tab.url().slice(address.length));
  await pieceIs(same.tab, '124');
  assert.equal(await same.tab.locator('#undo').isDisabled(), true);
  assert.deepEqual([...complaints, ...other.complaints, ...plain.complaints, ...same.complaints], []);
});

test('a damaged series says so and opens the family', async () => {
  const { tab } = await setSeries();
  const code = await tab.evaluate(() => localStorage.getItem('loftkin.work') ?? '');
  const [family, series] = code.split('~');
  const damaged = series.slice(0, -4) + (series.at(-4) === 'A' ? 'B' : 'A') + series.slice(-3);
  for (const [wrong, told] of [[damaged, 'damaged'], [series.slice(0, -5), 'cut short'], ['something', 'no series']]) {
    const other = await openPage({ fragment: `#${family}~${wrong}` });
    await other.tab.getByRole('alert').filter({ hasText: told }).filter({ hasText: /family is (whole|read)/ }).waitFor();
    await counted(other.tab);
    await pieceIs(other.tab, '1');
    assert.deepEqual(other.complaints, []);
    await other.context.close();
  }
  // Some programs escape what need not be.
  const escaped = await openPage({ fragment: `#${family}%7E${series}` });
  await pieceIs(escaped.tab, '123');
});

test('the series is there again after the page was left, and with an earlier work', async () => {
  const { tab, complaints } = await setSeries();
  const before = await shownSeries(tab);
  await tab.reload();
  await ready(tab);
  assert.equal(await tab.locator('#series').evaluate((place) => place.childElementCount), 0);
  await tab.locator('#series-place > summary').click();
  await isAsBefore(tab, before);
  // Another family begins with a series of its own.
  await openExample(tab, /^Hoods that agree$/);
  await tab.waitForFunction(() => document.querySelectorAll('.piece-stations select').length === 5);
  assert.ok(!(await tab.evaluate(() => localStorage.getItem('loftkin.work') ?? '')).includes('~'));
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.getByRole('button', { name: /rims.*profiles, /i }).first().click();
  await isAsBefore(tab, before);
  assert.deepEqual(complaints, []);
});

test('stations that cannot be used are kept too, and the arrangement stays when the curves change', async () => {
  const { tab, complaints } = await setSeries();
  const before = await shownSeries(tab);
  await tab.getByRole('textbox', { name: 'Name of the family' }).fill('Rims of the mole');
  await tab.keyboard.press('Enter');
  await tab.waitForTimeout(500);
  await isAsBefore(tab, before);
  await tab.getByLabel('Height of station 2').fill('-5');
  await tab.getByLabel('Height of station 2').press('Enter');
  await tab.getByText('does not lie beyond the one before it', { exact: false }).waitFor();
  await tab.waitForTimeout(200);
  await tab.reload();
  await ready(tab);
  await tab.locator('#series-place > summary').click();
  await tab.getByText('does not lie beyond the one before it', { exact: false }).waitFor();
  assert.equal(await tab.getByLabel('Scale of station 3').inputValue(), '0.75');
  assert.deepEqual(complaints, []);
});

test('a series file is saved, and opened where families are', async () => {
  const { tab, complaints } = await setSeries();
  const before = await shownSeries(tab);
  const saved = tab.waitForEvent('download');
  await tab.getByRole('button', { name: 'Save the series' }).click();
  const file = await saved;
  assert.match(file.suggestedFilename(), /\.series\.json$/);
  const text = readFileSync(await file.path(), 'utf8');
  assert.equal(JSON.parse(text).format, 'loftkin-series');
  assert.equal(JSON.parse(text).piece, '123');
  const other = await openPage();
  await openExample(other.tab, /^Closed rims that agree$/);
  const open = async (/** @type {string} */ content) => {
    await other.tab.getByRole('button', { name: 'Families' }).click();
    const [chooser] = await Promise.all([other.tab.waitForEvent('filechooser'), other.tab.getByRole('button', { name: /^Open a file/ }).click()]);
    await chooser.setFiles({ name: 'series.json', mimeType: 'application/json', buffer: Buffer.from(content) });
  };
  await open(text);
  await isAsBefore(other.tab, before);
  await open(text.replace('"eased"', '"knitted"'));
  await other.tab.getByRole('alert').filter({ hasText: '“series.json”' }).filter({ hasText: 'blend' }).waitFor();
  assert.deepEqual(await shownSeries(other.tab), before);
  // Dropped on the page it asks nothing, for it takes the place of no family.
  await other.tab.getByLabel('How many, 2 to 24').fill('3');
  await other.tab.getByLabel('How many, 2 to 24').press('Enter');
  await pieceIs(other.tab, '1');
  await other.tab.evaluate((content) => {
    const carried = new DataTransfer();
    carried.items.add(new File([content], 'dropped.json', { type: 'application/json' }));
    document.dispatchEvent(new DragEvent('drop', { dataTransfer: carried, bubbles: true, cancelable: true }));
  }, text);
  await isAsBefore(other.tab, before);
  assert.equal(await other.tab.locator('#arrival').isVisible(), false);
  assert.deepEqual([...complaints, ...other.complaints], []);
});
