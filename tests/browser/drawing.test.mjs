/**
 * Drawing at the board: choosing, scaling, varying, the seam, keys, and what is half drawn.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { atMm, chosen, coordinates, hand, oneArch, square, squareScale, undoes } from './board.mjs';
import { drag, onSheet, openPage, shown, shows } from './page.mjs';

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
  await undoes(tab, 'Mirror top to bottom: profile 2');
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
