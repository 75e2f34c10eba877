/**
 * The sheet and what stands round it: grid, tolerance, typed coordinates, what is shown, the list of steps, the sheet of
 * keys.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { coordinates, hand, oneArch, undoes } from './board.mjs';
import { onSheet, openPage, shown, sketch, sketchTwoArches } from './page.mjs';

test('nodes keep to a grid whose step is chosen, and a wrong step is refused in words', async () => {
  const { tab, complaints } = await openPage();
  const step = tab.getByLabel('Step of the grid, mm');
  assert.match(await step.getAttribute('placeholder') ?? '', /^\d/);
  await step.fill('2.5');
  await step.press('Enter');
  await tab.getByLabel('Keep to the grid of').check();
  await oneArch(tab);
  for (const figure of (await coordinates(tab)).flat()) assert.equal(figure % 2.5, 0);
  await tab.locator('#board').focus();
  await tab.keyboard.press('PageDown');
  const [before] = await coordinates(tab);
  await tab.keyboard.press('ArrowRight');
  const [after] = await coordinates(tab);
  assert.equal(after[0] - before[0], 2.5);
  await step.fill('-3');
  await step.press('Enter');
  await tab.getByText('A grid step of -3 mm: give 0.01 to 1 000').waitFor();
  await step.blur();
  await tab.locator('#board').focus();
  await tab.keyboard.press('+');
  await shown(tab);
  assert.equal(await step.inputValue(), '2.5');
  assert.deepEqual(complaints, []);
});

test('the tolerance of a stroke is stated and can be set', async () => {
  const { tab, complaints } = await openPage();
  const stroke = async () => {
    const places = Array.from({ length: 60 }, (_, i) => /** @type {[number, number]} */ ([0.15 + 0.012 * i, 0.5 - 0.25 * Math.sin(i / 6)]));
    const start = await onSheet(tab, places[0]);
    await tab.mouse.move(start.x, start.y);
    await tab.mouse.down();
    for (const place of places) {
      const { x, y } = await onSheet(tab, place);
      await tab.mouse.move(x, y);
    }
    await tab.mouse.up();
    await shown(tab);
  };
  await hand(tab, 'Draw freely');
  const tolerance = tab.getByLabel('Tolerance, mm');
  assert.match(await tolerance.getAttribute('placeholder') ?? '', /^\d+\.\d\d$/);
  await tolerance.fill('8');
  await tolerance.press('Enter');
  await stroke();
  await tab.getByText(/nodes keep within [\d.]+ mm of the stroke; the tolerance is 8\.00 mm/).waitFor();
  await tolerance.fill('0.2');
  await tolerance.press('Enter');
  await stroke();
  const counts = await tab.locator('#profiles .chip').evaluateAll((chips) => chips.map((chip) => Number(/(\d+) nodes/.exec(chip.getAttribute('aria-label') ?? '')?.[1])));
  assert.ok(counts[0] < counts[1], counts.join());
  await tolerance.fill('0');
  await tolerance.press('Enter');
  await tab.getByText('A tolerance of 0 mm: give 0.01 to 100').waitFor();
  assert.deepEqual(complaints, []);
});

test('an emptied coordinate is refused, and shows the coordinate that holds', async () => {
  const { tab, complaints } = await openPage();
  await oneArch(tab);
  const x = tab.getByLabel('x of node 2, mm');
  const before = await x.inputValue();
  await x.fill('');
  await x.press('Enter');
  await tab.getByText('A coordinate is not a number').waitFor();
  assert.equal(await x.inputValue(), before);
  await x.fill('1e9');
  await x.press('Tab');
  await tab.getByText('has an exponent').waitFor();
  assert.equal(await x.inputValue(), before);
  await x.fill('1000000000');
  await x.press('Tab');
  await tab.getByText('lies outside the drawing').waitFor();
  assert.equal(await x.inputValue(), before);
  await x.fill('12.3456');
  await x.press('Enter');
  assert.equal(await x.inputValue(), '12.35');
  assert.deepEqual(complaints, []);
});

test('the list of steps goes to any of them', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await tab.getByRole('button', { name: 'Mirror', exact: true }).click();
  await tab.getByRole('button', { name: 'Steps', exact: true }).click();
  const list = tab.getByRole('dialog', { name: 'Steps' });
  await list.locator('li').first().waitFor();
  assert.deepEqual(await list.locator('li').allInnerTexts(), ['Mirror profile 2', 'Sketch profile 2', 'Sketch profile 1', 'As it was opened']);
  await list.getByRole('button', { name: 'Sketch profile 1' }).click();
  await shown(tab);
  assert.equal(await tab.locator('#profiles .chip').count(), 1);
  assert.equal(await list.locator('[aria-current=step]').innerText(), 'Sketch profile 1');
  await list.getByRole('button', { name: 'Mirror profile 2 (undone)' }).click();
  await tab.keyboard.press('Escape');
  await undoes(tab, 'Mirror profile 2');
  assert.equal(await tab.locator('#profiles .chip').count(), 2);
  assert.deepEqual(complaints, []);
});

test('the sheet of keys opens by button and key, tells every key, and prints on its own', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await tab.locator('#board').focus();
  await tab.keyboard.press('?');
  const sheet = tab.getByRole('dialog', { name: 'Keys and hands' });
  await sheet.waitFor();
  await tab.keyboard.press('Escape');
  await sheet.waitFor({ state: 'hidden' });
  assert.equal(await tab.evaluate(() => document.activeElement?.id), 'board');
  // A question mark in a name is a question mark.
  await tab.locator('#family-name').focus();
  await tab.keyboard.press('?');
  assert.equal(await sheet.isVisible(), false);
  await tab.keyboard.press('F1');
  await sheet.waitFor();
  assert.ok(20 < await sheet.locator('kbd').count());
  await tab.evaluate(() => { window.print = () => {}; });
  await sheet.getByRole('button', { name: 'Print this sheet' }).click();
  await tab.emulateMedia({ media: 'print' });
  assert.equal(await tab.locator('main').isVisible(), false);
  assert.equal(await sheet.locator('table').first().isVisible(), true);
  assert.equal(await tab.locator('#report').isVisible(), false);
  await tab.evaluate(() => window.dispatchEvent(new Event('afterprint')));
  // The browser's own print gives the report again.
  assert.equal(await sheet.isVisible(), false);
  await tab.emulateMedia({ media: 'screen' });
  assert.equal(await tab.locator('main').isVisible(), true);
  assert.deepEqual(complaints, []);
});

test('siblings, tangents and bend are shown or not', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await sketch(tab, [[0.2, 0.6], [0.35, 0.15], [0.6, 0.15], [0.8, 0.6]]);
  await tab.getByText('Sheet and reference picture').click();
  const pixels = () => tab.evaluate(() => /** @type {HTMLCanvasElement} */ (document.getElementById('board')).toDataURL());
  await hand(tab, 'Move');
  await shown(tab);
  const seen = [await pixels()];
  for (const look of ['Tangents at the nodes', 'How the profile bends', 'Other profiles']) {
    await tab.getByLabel(look).click();
    await shown(tab);
    seen.push(await pixels());
  }
  assert.equal(new Set(seen).size, 4);
  await tab.locator('#board').focus();
  for (const key of ['t', 'b', 'o']) await tab.keyboard.press(key);
  await shown(tab);
  assert.equal(await tab.getByLabel('Tangents at the nodes').isChecked(), false);
  assert.equal(await tab.getByLabel('Other profiles').isChecked(), true);
  assert.deepEqual(complaints, []);
});

test('a scroll bar that lies over the content of the drawing lies beside the sheet', async () => {
  const { tab, complaints } = await openPage({ viewport: { width: 1280, height: 900 } });
  const room = await tab.evaluate(() => {
    const [sheet, drawing] = ['board', 'drawing'].map((name) => /** @type {Element} */ (document.getElementById(name) ?? document.querySelector(`.${name}`)));
    return drawing.getBoundingClientRect().left + drawing.clientWidth - sheet.getBoundingClientRect().right;
  });
  // Pixels from the edge in which WebKitGTK 2.50 takes presses for its scroll bar, measured.
  assert.ok(21 <= room, `${room}`);
  assert.deepEqual(complaints, []);
});
