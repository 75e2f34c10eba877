/**
 * The place "Finish": colours along the height, the table for the bath, calibration by a patch, the volts of a colour,
 * refusals in words.
 */

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { accessibilityScript } from './browser.mjs';
import { keepScreenshot, openExample, openPage } from './page.mjs';

/** @param {import('playwright-core').BrowserContextOptions} [options] */
async function openFinish(options = {}) {
  const opened = await openPage(options);
  await openExample(opened.tab, /^Closed rims that agree$/);
  await opened.tab.locator('#finish-place > summary').click();
  await opened.tab.getByRole('table', { name: /Table for the bath/ }).waitFor({ timeout: 30_000 });
  return opened;
}

/**
 * @param {import('playwright-core').Page} tab
 * @param {string} label
 * @param {string} value
 */
async function type(tab, label, value) {
  await tab.getByLabel(label, { exact: true }).fill(value);
  await tab.getByLabel(label, { exact: true }).press('Enter');
}

test('the table for the bath follows calibration, stops and time, and is saved', async () => {
  const { tab, complaints } = await openFinish();
  const row = (/** @type {number} */ at) => tab.locator('.bath tbody tr').nth(at).locator('th, td').allInnerTexts();
  // Linear growth: 15 V of 2.4 nm are 36 nm, between 30 and 42 by 2.0 and 2.8 nm per volt.
  assert.deepEqual((await row(0)).slice(1, 4), ['15.0', '0:00', '36 (30 to 42)']);
  assert.deepEqual((await row(12)).slice(0, 4), ['0.00', '60.0', '5:00', '144 (120 to 168)']);
  await type(tab, 'Volts of stop 2', '40');
  await type(tab, 'Lift-out takes, minutes', '8');
  await type(tab, 'Lines of the table', '3');
  await tab.waitForFunction(() => document.querySelectorAll('.bath tbody tr').length === 3);
  assert.deepEqual((await row(2)).slice(1, 4), ['40.0', '8:00', '96 (80 to 112)']);
  const saved = tab.waitForEvent('download');
  await tab.getByRole('button', { name: 'Save as CSV' }).click();
  const file = await saved;
  assert.match(file.suggestedFilename(), /piece-1-bath\.csv$/);
  const lines = readFileSync(await file.path(), 'utf8').trim().split('\r\n');
  assert.equal(lines.length, 4);
  assert.ok(lines[0].startsWith('height_mm,lifted_mm,seconds,volts,'));
  assert.match(lines[3], /^0\.00,[\d.]+,480\.0,40\.00,96\.0,80\.0,112\.0,#.*,8:00,/);
  assert.deepEqual(complaints, []);
});

test('what cannot be run is refused in words, and the piece can be turned over', async () => {
  const { tab, complaints } = await openFinish();
  await type(tab, 'Volts of stop 1', '100');
  await tab.locator('#finish .refused').getByText('the voltage can only rise from stop to stop', { exact: false }).waitFor();
  await type(tab, 'Volts of stop 1', '15');
  await tab.locator('#finish .refused').waitFor({ state: 'hidden' });
  await type(tab, 'Volts of stop 2', '200');
  await tab.locator('#finish .refused').getByText('give 0 to 140 V', { exact: false }).waitFor();
  // What needs more volts at the top is refused as it stands, and runs upside down: volts go with their heights.
  await type(tab, 'Volts of stop 2', '10');
  await tab.locator('#finish .refused').getByText('turn the piece over', { exact: false }).waitFor();
  await tab.getByLabel('The piece hangs').selectOption('over');
  await tab.locator('#finish .refused', { hasText: 'turn the piece over' }).waitFor({ state: 'hidden' });
  assert.equal(await tab.getByLabel('Volts of stop 1').inputValue(), '10');
  await tab.getByText('its foot up', { exact: false }).waitFor();
  assert.equal(await tab.locator('.bath tbody th').first().innerText(), '0.00');
  await tab.getByRole('button', { name: 'Add a stop' }).click();
  await tab.getByLabel('Height of stop 3').waitFor();
  assert.equal(await tab.getByLabel('Volts of stop 2').inputValue(), '12.5');
  assert.deepEqual(complaints, []);
});

test('the strips are as long as the scale beside them, on a phone too', async () => {
  const { tab, complaints } = await openFinish({ viewport: { width: 360, height: 740 } });
  const bars = await tab.locator('.strip-bar').evaluateAll((all) => all.map((bar) => { const { top, bottom } = bar.getBoundingClientRect(); return [top, bottom]; }));
  const ends = await tab.locator('.strip-labels').evaluate((scale) => [scale.firstElementChild, scale.lastElementChild].map((label) => {
    const words = document.createRange();
    words.selectNodeContents(/** @type {Element} */ (label));
    const { top, bottom } = words.getBoundingClientRect();
    return (top + bottom) / 2;
  }));
  assert.equal(bars.length, 4);
  for (const bar of bars) bar.forEach((end, at) => assert.ok(Math.abs(end - ends[at]) < 2, `${end} beside ${ends[at]}`));
  await tab.getByText('Every film may be up to 17 % thinner', { exact: false }).waitFor();
  assert.equal(await tab.getByText('calibrated', { exact: true }).count(), 0);
  assert.deepEqual(complaints, []);
});

test('limits of bath and supply are kept to, and what they ask for is told', async () => {
  const { tab, complaints } = await openFinish();
  await tab.getByText('how fast your supply can raise it is not given', { exact: false }).waitFor();
  await type(tab, 'The bath breaks down at, V', '50');
  await tab.locator('#finish-place .refused').getByText('breaks down at 50 V', { exact: false }).waitFor();
  await type(tab, 'The bath breaks down at, V', '90');
  await type(tab, 'Growth is linear up to, V', '40');
  await tab.getByText('above 40 V are guesses', { exact: false }).waitFor();
  assert.match(await tab.locator('.bath tbody tr').last().innerText(), /not linear/);
  await type(tab, 'The supply rises by at most, V a second', '0.01');
  await tab.locator('#finish-place .refused').getByText('take at least', { exact: false }).waitFor();
  await type(tab, 'The supply rises by at most, V a second', '1');
  await tab.getByText('the supply gives 1.', { exact: false }).waitFor();
  const aslant = () => tab.locator('.strip-bar').last().evaluate((bar) => bar.style.background);
  const before = await aslant();
  await type(tab, 'Seen aslant at, degrees', '20');
  await tab.waitForFunction((old) => [...document.querySelectorAll('.strip-bar')].at(-1)?.style.background !== old, before);
  assert.deepEqual(complaints, []);
});

test('a material that is not titanium has a caution of its own', async () => {
  const { tab, complaints } = await openFinish();
  assert.ok(await tab.locator('.other-material').isHidden());
  await tab.locator('#making-place > summary').click();
  const material = tab.getByRole('combobox', { name: 'Material', exact: true });
  const other = await material.locator('option', { hasNotText: /titanium|as given/i }).first().getAttribute('value');
  await material.selectOption(other);
  await tab.locator('.other-material').getByText('titanium only', { exact: false }).waitFor();
  await tab.getByText('The table has none for this material', { exact: false }).waitFor();
  await tab.getByText('a flow stress that the table does not have', { exact: false }).waitFor();
  assert.deepEqual(complaints, []);
});

test('a patch of a trial strip calibrates the bath', async () => {
  const { tab, complaints } = await openFinish();
  await tab.getByText('Not calibrated', { exact: false }).waitFor();
  await tab.getByText('Calibrate by a patch of a trial strip').click();
  await tab.getByLabel('Film that the colour of the patch shows, nm').fill('50');
  await type(tab, 'Grown at, V', '20');
  await type(tab, 'Unsure by, percent', '10');
  await tab.getByRole('button', { name: 'Take the patch' }).click();
  // 50 nm at 20 V are 2.5 nm per volt, give or take a tenth.
  await tab.waitForFunction(() => document.querySelector('.bath tbody td:nth-of-type(3)')?.textContent === '38 (34 to 41)');
  assert.equal(await tab.getByText('Not calibrated', { exact: false }).count(), 0);
  assert.deepEqual(complaints, []);
});

test('a film of the chart leads to its volts, which a stop takes and gives back', async () => {
  const { tab, complaints } = await openFinish();
  await tab.getByText('Find the volts of a colour').click();
  await tab.getByLabel('Film whose colour is wished, nm').fill('45');
  await tab.getByText('A film of 45 nm.').waitFor();
  // 45 nm of 2.4 nm a volt are 18.75 V; by 2.8 and 2.0, 16.1 to 22.5 V.
  const film = tab.locator('.near-films li', { hasText: /^45 nm, first order, blue .*: 18\.[78] V \(16\.\d to 22\.\d V, .*not told apart/ });
  await film.waitFor();
  const give = film.getByRole('button');
  assert.match(await give.innerText(), /^Set stop 1 to 18\.[78] V$/);
  const volts = /18\.\d/.exec(await give.innerText())?.[0] ?? '';
  await give.press('Enter');
  await tab.waitForFunction((set) => document.querySelector('.bath tbody td')?.textContent === set, volts);
  assert.equal(await tab.getByLabel('Volts of stop 1').inputValue(), volts);
  assert.ok(await give.evaluate((button) => button === document.activeElement), 'the focus stays');
  await tab.getByText(`Stop 1 has ${volts} V; it had 15 V.`).waitFor();
  await tab.getByRole('button', { name: 'Put it back' }).click();
  await tab.waitForFunction(() => document.querySelector('.bath tbody td')?.textContent === '15.0');
  assert.equal(await tab.getByRole('button', { name: 'Put it back' }).count(), 0);
  // The stop that was last touched gets the volts; what cannot be run is said, and put back.
  await tab.getByLabel('Volts of stop 1').fill('30');
  await tab.getByLabel('Volts of stop 2').focus();
  await tab.locator('.near-films').getByRole('button', { name: `Set stop 2 to ${volts} V` }).click();
  await tab.locator('#finish .refused').getByText('the voltage can only rise from stop to stop', { exact: false }).waitFor();
  await tab.getByRole('button', { name: 'Put it back' }).click();
  await tab.locator('#finish .refused').waitFor({ state: 'hidden' });
  assert.equal(await tab.getByLabel('Volts of stop 2').inputValue(), '60');
  // Another growth, other volts: 45 nm of 3 nm a volt.
  await type(tab, 'At most, nm per volt', '3.2');
  await type(tab, 'Film grown, nm per volt', '3');
  await tab.locator('.near-films li', { hasText: /^45 nm, .*: 15\.0 V/ }).waitFor();
  assert.deepEqual(complaints, []);
});

test('a colour that no film has is said to have none, and text that is no colour is refused', async () => {
  const { tab, complaints } = await openFinish();
  await tab.getByText('Find the volts of a colour').focus();
  await tab.keyboard.press('Enter');
  await tab.getByText('near #3f6fb0 (blue)', { exact: false }).waitFor();
  await type(tab, 'The same in digits', 'FF0000');
  await tab.getByText('No film comes near #ff0000 (red): the nearest is seen as another colour', { exact: false }).waitFor();
  assert.equal(await tab.getByLabel('Colour wished').inputValue(), '#ff0000');
  await tab.locator('.near-films li').getByText('seen as another colour', { exact: false }).first().waitFor();
  await type(tab, 'The same in digits', 'blue');
  await tab.getByText('“blue” is no colour: give red, green and blue as six hexadecimal digits', { exact: false }).waitFor();
  assert.equal(await tab.locator('.near-films li').count(), 0);
  await tab.getByLabel('Film whose colour is wished, nm').press('ArrowRight');
  await tab.locator('.near-films li', { hasText: /^51 nm, first order/ }).waitFor();
  assert.deepEqual(complaints, []);
});

test('the cautions stand before the figures, and the piece wears the colours', async () => {
  const { tab, complaints } = await openFinish();
  for (const text of ['Colours on a screen are estimates', 'voltages above 60 V can kill', 'Never mix baths', 'ventilate', 'data sheets']) await tab.locator('.finish-cautions').getByText(text, { exact: false }).first().waitFor();
  const hues = await tab.locator('#finish canvas').evaluate((/** @type {HTMLCanvasElement} */ canvas) => new Promise((resolve) => {
    canvas.dispatchEvent(new KeyboardEvent('keydown', { key: '0' }));
    requestAnimationFrame(() => {
      const copy = document.createElement('canvas');
      [copy.width, copy.height] = [canvas.width, canvas.height];
      const context = /** @type {CanvasRenderingContext2D} */ (copy.getContext('2d'));
      context.drawImage(canvas, 0, 0);
      const { data } = context.getImageData(0, 0, copy.width, copy.height);
      const found = { blue: 0, gold: 0 };
      for (let at = 0; at < data.length; at += 4) {
        const warm = data[at] - data[at + 2];
        if (data[at + 3] && warm < -50) found.blue += 1;
        if (data[at + 3] && 50 < warm) found.gold += 1;
      }
      resolve(found);
    });
  }));
  const { blue, gold } = /** @type {{blue: number, gold: number}} */ (hues);
  assert.ok(500 < blue && 500 < gold, `${blue} blue and ${gold} gold pixels`);
  assert.deepEqual(complaints, []);
});

for (const [name, viewport] of /** @type {const} */ ([['desktop', { width: 1280, height: 900 }], ['phone', { width: 360, height: 740 }]])) {
  for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
    test(`axe-core finds nothing in Finish on a ${name}, ${colorScheme}, and nothing is cut off`, async () => {
      const { tab, complaints } = await openFinish({ viewport, colorScheme, bypassCSP: true });
      await tab.getByText('Calibrate by a patch of a trial strip').click();
      await tab.getByText('Find the volts of a colour').click();
      await tab.locator('.near-films li').first().waitFor();
      await keepScreenshot(tab, `finish-${name}-${colorScheme}`);
      await tab.addScriptTag({ path: accessibilityScript() });
      const found = await tab.evaluate(() => /** @type {any} */ (window).axe.run('#finish-place'));
      assert.deepEqual(found.violations.map((/** @type {any} */ rule) => `${rule.id}: ${rule.nodes.map((/** @type {any} */ node) => node.html).join(' | ')}`), []);
      assert.ok(await tab.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth));
      assert.deepEqual(complaints, []);
    });
  }
}
