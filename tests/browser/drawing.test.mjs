/**
 * The board as a place to draw: choosing, scaling, varying, the seam, the grid, tolerance, typed figures, the list of
 * steps, the sheet of keys.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { drag, onSheet, openPage, shown, shows, sketch, sketchTwoArches } from './page.mjs';

/** @param {import('playwright-core').Page} tab */
const hand = (tab, /** @type {string} */ name) => tab.locator('#hands').getByText(name, { exact: true }).click();

/** @param {import('playwright-core').Page} tab */
const undoes = (tab, /** @type {string} */ step) => tab.getByRole('button', { name: `Undo: ${step}`, exact: true }).waitFor({ timeout: 5000 });

/**
 * The coordinates in the node table.
 * @param {import('playwright-core').Page} tab
 */
async function coordinates(tab) {
  await shown(tab);
  return tab.evaluate(() => [...document.querySelectorAll('.nodes tbody tr')].map((row) => [...row.querySelectorAll('input[type=number]')].map((input) => Number(/** @type {HTMLInputElement} */ (input).value))));
}

/** @param {import('playwright-core').Page} tab */
const chosen = async (tab) => (await shown(tab), tab.locator('.nodes button[aria-pressed="true"]').count());

/** @param {import('playwright-core').Page} tab */
async function oneArch(tab) {
  await sketch(tab, [[0.3, 0.7], [0.4, 0.4], [0.6, 0.4], [0.7, 0.7]]);
  await tab.getByText('Nodes and coordinates').click();
}

/**
 * A square with straight sides and its corners at 10 and 50 mm, typed in.
 * @param {import('playwright-core').Page} tab
 */
async function square(tab) {
  await tab.getByLabel('Closed profiles').check();
  await tab.getByText('Nodes and coordinates').click();
  for (const [x, y] of [[10, 10], [50, 10], [50, 50], [10, 50]]) {
    await tab.getByLabel('x of the new node, mm').fill(String(x));
    await tab.getByLabel('y of the new node, mm').fill(String(y));
    await tab.getByRole('button', { name: 'Set node' }).click();
  }
  await tab.getByRole('button', { name: 'End profile' }).click();
  await tab.getByRole('button', { name: 'Choose all' }).click();
  await tab.getByRole('button', { name: 'Corner or smooth' }).click();
  await tab.getByRole('button', { name: 'Show all' }).click();
  await hand(tab, 'Move');
  await shown(tab);
}

/**
 * Where a place of the drawing (mm) stands in the window while the square is shown whole.
 * @param {import('playwright-core').Page} tab
 * @param {number} x
 * @param {number} y
 */
async function atMm(tab, x, y) {
  const { left, top, width, height } = await sheetBox(tab);
  const scale = await squareScale(tab);
  return { x: left + width / 2 + (x - 30) * scale, y: top + height / 2 - (y - 30) * scale };
}

/** @param {import('playwright-core').Page} tab */
async function sheetBox(tab) {
  const corner = await onSheet(tab, [0, 0]);
  const far = await onSheet(tab, [1, 1]);
  return { left: corner.x, top: corner.y, width: far.x - corner.x, height: far.y - corner.y };
}

/**
 * Pixels for one mm after “Show all”, which leaves 8 % of air on each side of what is drawn.
 * @param {import('playwright-core').Page} tab
 */
async function squareScale(tab) {
  const { width, height } = await sheetBox(tab);
  return (Math.min(width, height) * 0.84) / 40;
}

test('a frame chooses nodes, Shift adds, and all of them are dragged as one step', async () => {
  const { tab, complaints } = await openPage();
  await oneArch(tab);
  await hand(tab, 'Choose');
  await drag(tab, [0.35, 0.3], [0.65, 0.5]);
  assert.equal(await chosen(tab), 2);
  await tab.keyboard.down('Shift');
  await drag(tab, [0.25, 0.62], [0.34, 0.78]);
  await tab.keyboard.up('Shift');
  assert.equal(await chosen(tab), 3);
  const before = await coordinates(tab);
  await drag(tab, [0.4, 0.4], [0.45, 0.35]);
  await undoes(tab, 'Move 3 nodes of profile 1');
  const after = await coordinates(tab);
  const moved = before.map(([x, y], index) => [after[index][0] - x, after[index][1] - y]);
  assert.deepEqual(moved[3], [0, 0]);
  for (const [dx, dy] of moved.slice(0, 3)) {
    assert.ok(Math.abs(dx - moved[0][0]) < 0.011 && 0 < dx && Math.abs(dy - moved[0][1]) < 0.011 && 0 < dy);
  }
  await tab.locator('#board').focus();
  await tab.keyboard.press('Control+a');
  assert.equal(await chosen(tab), 4);
  await tab.keyboard.press('Escape');
  assert.equal(await chosen(tab), 0);
  assert.deepEqual(complaints, []);
});

test('Shift frames nodes in the moving hand, and the empty sheet still pans without it', async () => {
  const { tab, complaints } = await openPage();
  await oneArch(tab);
  await hand(tab, 'Move');
  await tab.keyboard.down('Shift');
  await drag(tab, [0.1, 0.2], [0.9, 0.5]);
  await tab.keyboard.up('Shift');
  assert.equal(await chosen(tab), 2);
  await tab.locator('#board').focus();
  await tab.keyboard.press('Delete');
  await undoes(tab, 'Delete nodes of profile 1');
  assert.equal((await coordinates(tab)).length, 2);
  assert.deepEqual(complaints, []);
});

test('a grip scales the profile about the opposite end, or about the middle', async () => {
  const { tab, complaints } = await openPage();
  await square(tab);
  await hand(tab, 'Scale');
  await shown(tab);
  const size = async () => Number(await tab.locator('#reshape').getByLabel('Width between nodes, mm').inputValue());
  await tab.getByText('Scale, turn, shift and copy').click();
  const wide = await size();
  // The grip of the right side stands in the middle of the height, 14 pixels off the box.
  const scale = await squareScale(tab);
  const pull = async () => {
    const middle = await atMm(tab, 30, 30);
    const grip = { x: middle.x + (wide / 2) * scale + 14, y: middle.y };
    await tab.mouse.move(grip.x, grip.y);
    await tab.mouse.down();
    await tab.mouse.move(grip.x - 10 * scale, grip.y, { steps: 5 });
    await tab.mouse.up();
    await undoes(tab, 'Scale profile 1');
  };
  await pull();
  assert.equal(wide, 40);
  assert.ok(Math.abs(await size() - 30) < 0.2);
  const narrow = await coordinates(tab);
  assert.deepEqual([narrow[0], narrow[1][1]], [[10, 10], 10]);
  await tab.getByRole('button', { name: /^Undo/ }).click();
  await tab.getByLabel('About the middle').check();
  await shown(tab);
  await pull();
  assert.ok(Math.abs(await size() - 20) < 0.3);
  assert.ok(Math.abs((await coordinates(tab))[0][0] - 20) < 0.2);
  assert.deepEqual(complaints, []);
});

test('the seam of a closed profile is dragged to another node', async () => {
  const { tab, complaints } = await openPage();
  await square(tab);
  // Its mark stands 28 pixels outside of the first node, square to the side that begins there.
  const node = await atMm(tab, 10, 10);
  const before = await coordinates(tab);
  const mark = { x: node.x, y: node.y + 28 };
  await tab.mouse.move(mark.x, mark.y);
  await tab.mouse.down();
  const target = await atMm(tab, 50, 50);
  await tab.mouse.move(target.x, target.y, { steps: 10 });
  await tab.mouse.up();
  await undoes(tab, 'Move the seam of profile 1');
  const after = await coordinates(tab);
  assert.deepEqual(after, [...before.slice(2), ...before.slice(0, 2)]);
  assert.deepEqual(complaints, []);
});

test('figures scale, turn and shift the profile; copies vary step by step', async () => {
  const { tab, complaints } = await openPage();
  await square(tab);
  await tab.getByText('Scale, turn, shift and copy').click();
  const form = tab.locator('#reshape');
  await form.getByLabel('Width, %').fill('50');
  await form.getByLabel('To the right, mm').fill('2.5');
  await form.getByLabel('About').selectOption('start');
  await form.getByRole('button', { name: 'Change the profile' }).click();
  await undoes(tab, 'Scale and shift profile 1');
  assert.deepEqual(await coordinates(tab), [[12.5, 10], [32.5, 10], [32.5, 50], [12.5, 50]]);
  assert.equal(await form.getByLabel('Width, %').inputValue(), '100');
  await form.getByLabel('About').selectOption('origin');
  await form.getByLabel('Turn, °').fill('90');
  await form.getByLabel('Turn, °').press('Enter');
  await undoes(tab, 'Turn profile 1');
  assert.deepEqual((await coordinates(tab))[1], [-10, 32.5]);
  await form.getByLabel('Width, %').fill('0');
  await form.getByRole('button', { name: 'Change the profile' }).click();
  await tab.getByText('A scale of 0 %: give 0.1 to 100 000').waitFor();
  await form.getByLabel('Width, %').fill('110');
  await form.getByLabel('Copies', { exact: true }).fill('3');
  await form.getByLabel('Nodes wander by, mm at most').fill('0.2');
  await form.getByRole('button', { name: 'Copy and vary' }).click();
  await undoes(tab, 'Copy and vary profile 1 3 times');
  assert.equal(await tab.locator('#profiles .chip').count(), 4);
  await tab.getByRole('button', { name: /^Undo/ }).click();
  await shown(tab);
  assert.equal(await tab.locator('#profiles .chip').count(), 1);
  assert.deepEqual(complaints, []);
});

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
  await tab.getByText('lies outside the drawing').waitFor();
  assert.equal(await x.inputValue(), before);
  await x.fill('12.3456');
  await x.press('Enter');
  assert.equal(await x.inputValue(), '12.35');
  assert.deepEqual(complaints, []);
});

test('a profile is drawn, changed and judged by keys alone', async () => {
  const { tab, complaints } = await openPage();
  await tab.locator('#board').focus();
  await tab.keyboard.press('4');
  const press = async (/** @type {string} */ keys) => { for (const key of keys.split(' ')) await tab.keyboard.press(key); };
  for (const lift of ['', 'ArrowUp ArrowUp ']) {
    await press(`ArrowRight ${lift}n ArrowRight ArrowRight ArrowUp ArrowUp ArrowUp n ArrowRight ArrowRight n ArrowRight ArrowRight ArrowDown ArrowDown ArrowDown n Enter`);
    await press('4');
  }
  await shows(tab, [1, 2], 'clear');
  await press('1 r');
  await shows(tab, [1, 2], 'faulty');
  await undoes(tab, 'Reverse profile 2');
  await press('r');
  await shows(tab, [1, 2], 'clear');
  await press('Shift+m');
  await undoes(tab, 'Upend profile 2');
  await press('Control+z PageDown i');
  await undoes(tab, 'Insert a node in profile 2');
  await press('c');
  await undoes(tab, 'Corner or smooth in profile 2');
  await tab.waitForFunction(() => /Node 2 of 5, a corner, at x -?[\d.]+, y -?[\d.]+ mm/.test(document.getElementById('announcer')?.textContent ?? ''));
  await press('q');
  await undoes(tab, 'Move profile 2 to place 1');
  await press(', d');
  await undoes(tab, 'Copy profile 2');
  await press('e');
  assert.equal(await tab.evaluate(() => document.activeElement?.closest('#reshape') !== null), true);
  assert.deepEqual(complaints, []);
});

test('what is half drawn is not lost by turning away from it, nor by Escape', async () => {
  const { tab, complaints } = await openPage();
  await hand(tab, 'Place nodes');
  for (const place of /** @type {[number, number][]} */ ([[0.2, 0.7], [0.4, 0.4], [0.7, 0.6]])) {
    const { x, y } = await onSheet(tab, place);
    await tab.mouse.click(x, y);
  }
  await undoes(tab, 'Set a node');
  await tab.keyboard.press('Escape');
  await tab.locator('#welcome').waitFor();
  await tab.getByRole('button', { name: 'Undo: Give a sketch up' }).click();
  await hand(tab, 'Move');
  await undoes(tab, 'Sketch profile 1');
  // A drag that Escape ends never was.
  await drag(tab, [0.4, 0.4], [0.6, 0.2], false);
  await tab.keyboard.press('Escape');
  await tab.mouse.up();
  await undoes(tab, 'Sketch profile 1');
  assert.deepEqual(complaints, []);
});

test('the list of steps goes to any of them', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await tab.getByRole('button', { name: 'Mirror', exact: true }).click();
  await tab.getByRole('button', { name: 'Steps', exact: true }).click();
  const list = tab.getByRole('dialog', { name: 'Steps' });
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
