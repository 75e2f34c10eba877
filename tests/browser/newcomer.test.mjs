/**
 * What a person meets who has never seen the page: a curve is taken where it is touched, nothing lies over the sheet,
 * the way back from an empty view, words explained, a slip of the hand mended without moving the rest.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { coordinates, hand, undoes } from './board.mjs';
import { family, openFamily } from './families.mjs';
import { cell, drag, onSheet, openPage, shown, shows, sketch, sketchTwoArches } from './page.mjs';

const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };

/**
 * Four arches, one over the other; the last has its middle node wherever `slip` says, in mm.
 * @param {[number, number]} [slip]
 */
function arches(slip = [60, 90]) {
  const profiles = [0, 1, 2, 3].map((lift) => ({
    name: '', closed: false,
    nodes: /** @type {[number, number][]} */ ([[0, 2 * lift], [27, 42 + 10 * lift], lift === 3 ? slip : [60, 54 + 12 * lift], [93, 42 + 10 * lift], [120, 2 * lift]]),
  }));
  return family('Arches', profiles);
}

/**
 * The places of the sheet, in pixels of the window, where a press would not reach the sheet itself.
 * @param {import('playwright-core').Page} tab
 */
const covered = (tab) => tab.locator('#board').evaluate((board) => {
  board.scrollIntoView({ block: 'center' });
  const { left, top, right, bottom } = board.getBoundingClientRect();
  const places = [];
  for (let y = top + 6; y < bottom; y += 12) {
    for (let x = left + 6; x < right; x += 12) {
      const over = document.elementFromPoint(x, y);
      if (over !== board) places.push(`${x - left}, ${y - top}: ${over?.outerHTML.slice(0, 60)}`);
    }
  }
  return places;
});

test('a drag that begins on another curve chooses it and moves it; on the empty sheet it moves what is seen', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await hand(tab, 'Move');
  await tab.getByText('Nodes and coordinates').click();
  await tab.locator('#profiles .chip').first().click();
  const other = await coordinates(tab);
  await tab.locator('#profiles .chip').nth(1).click();
  const own = await coordinates(tab);
  // The top of the first arch, between its nodes, while the second is chosen.
  await drag(tab, [0.47, 0.43], [0.47, 0.53]);
  await undoes(tab, 'Move profile 1');
  assert.equal(await tab.locator('#profiles .chip').first().getAttribute('aria-pressed'), 'true');
  const moved = await coordinates(tab);
  const down = other[0][1] - moved[0][1];
  assert.ok(0.5 < down);
  moved.forEach(([x, y], node) => {
    assert.ok(Math.abs(x - other[node][0]) < 0.02);
    assert.ok(Math.abs(other[node][1] - y - down) < 0.02);
  });
  await tab.locator('#profiles .chip').nth(1).click();
  assert.deepEqual(await coordinates(tab), own);
  const before = await tab.locator('#board').evaluate((/** @type {HTMLCanvasElement} */ board) => board.toDataURL());
  await drag(tab, [0.1, 0.1], [0.15, 0.15]);
  await undoes(tab, 'Move profile 1');
  assert.notEqual(await tab.locator('#board').evaluate((/** @type {HTMLCanvasElement} */ board) => board.toDataURL()), before);
  assert.deepEqual(complaints, []);
});

for (const [place, options] of /** @type {const} */ ([['a desk', {}], ['a phone', PHONE]])) {
  test(`nothing lies over the sheet on ${place}: every node can be taken`, async () => {
    const { tab, complaints } = await openPage(options);
    await openFamily(tab, arches());
    await shows(tab, [1, 4], 'clear');
    assert.deepEqual(await covered(tab), []);
    for (const look of ['Zoom in', 'Zoom out', 'Show all']) await tab.getByRole('button', { name: look, exact: true }).click();
    await shown(tab);
    assert.deepEqual(await covered(tab), []);
    assert.deepEqual(complaints, []);
  });
}

test('who has lost all curves from sight is told so, and led back', async () => {
  const { tab, complaints } = await openPage();
  const told = tab.getByText('All curves are out of sight.');
  await drag(tab, [0.5, 0.5], [0.6, 0.5]);
  await tab.getByRole('button', { name: /^Undo/ }).click();
  assert.equal(await told.isVisible(), false, 'on an empty sheet there is nothing to miss');
  await sketchTwoArches(tab);
  await hand(tab, 'Move');
  assert.equal(await told.isVisible(), false);
  await drag(tab, [0.05, 0.1], [0.95, 0.1]);
  await told.waitFor();
  await tab.locator('#away').getByRole('button', { name: 'Show all' }).click();
  await told.waitFor({ state: 'hidden' });
  // Nor are they in sight from within an arch.
  const middle = await onSheet(tab, [0.5, 0.8]);
  await tab.mouse.move(middle.x, middle.y);
  for (let turn = 0; turn < 8; turn += 1) await tab.mouse.wheel(0, -400);
  await told.waitFor();
  await tab.locator('#board').focus();
  await tab.keyboard.press('0');
  await told.waitFor({ state: 'hidden' });
  assert.deepEqual(complaints, []);
});

test('keys are told of on the sheet to those who use keys, not under a finger', async () => {
  const { tab, complaints } = await openPage(PHONE);
  const hint = tab.locator('#key-hint');
  const { x, y } = await onSheet(tab, [0.3, 0.6]);
  await tab.touchscreen.tap(x, y);
  await undoes(tab, 'Set a node');
  assert.equal(await hint.isVisible(), false);
  await tab.keyboard.press('ArrowRight');
  await hint.waitFor();
  assert.deepEqual(complaints, []);
});

test('the words of a finding are explained beside it', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, arches());
  const opener = tab.getByRole('button', { name: 'What the words mean' });
  await opener.click();
  const sheet = tab.getByRole('dialog', { name: 'What the words mean' });
  for (const word of ['along', 'across', 'margin', 'seam', 'held up', 'station']) await sheet.getByRole('term').filter({ hasText: new RegExp(`^${word}$`) }).waitFor();
  await tab.keyboard.press('Escape');
  assert.equal(await opener.evaluate((button) => button === document.activeElement), true);
  assert.deepEqual(complaints, []);
});

test('after a slip in one profile both ways out are told with their movements, and either is tried', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, arches([10, 20]));
  await tab.locator('#totals').getByText('3 clear', { exact: true }).waitFor();
  await tab.getByLabel('What is to be clear').selectOption('all');
  await tab.getByRole('button', { name: 'Look for a mend' }).click();
  const ways = tab.getByRole('group', { name: 'Ways to mend' });
  const [all, alone] = [ways.getByRole('button', { name: /^Any profile may move: / }), ways.getByRole('button', { name: /^Only profile 4 moves: / })];
  await all.waitFor({ timeout: 20_000 });
  assert.match(await all.innerText(), /\d+ points of [234] profiles moved, the farthest by \d+\.\d\d mm/);
  assert.match(await alone.innerText(), /\d points of 1 profile moved, the farthest by \d+\.\d\d mm/);
  const moves = tab.getByRole('table', { name: 'What moves' });
  assert.equal(await alone.getAttribute('aria-pressed'), 'true');
  assert.doesNotMatch(await moves.innerText(), /Profile [123]/);
  await all.click();
  await shown(tab);
  assert.equal(await all.getAttribute('aria-pressed'), 'true');
  assert.equal(await alone.getAttribute('aria-pressed'), 'false');
  assert.match(await moves.innerText(), /Profile [123]/);
  await alone.click();
  await shown(tab);
  await tab.getByRole('group', { name: 'Mend on trial' }).getByText('It is proved.').waitFor();
  await tab.getByRole('button', { name: 'Keep it', exact: true }).click();
  await tab.locator('#totals').getByText('6 clear', { exact: true }).waitFor();
  await ways.waitFor({ state: 'detached' });
  await tab.getByText('Nodes and coordinates').click();
  await tab.locator('#profiles .chip').first().click();
  assert.deepEqual((await coordinates(tab))[2], [60, 54], 'the others are as drawn');
  assert.deepEqual(complaints, []);
});

test('a profile that meets itself is counted, holds its pairs up, and is mended from its own cell', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, family('Looped', [
    { name: '', closed: false, nodes: [[0, 0], [30, 40], [70, 40], [100, 0]] },
    { name: '', closed: false, nodes: [[0, 10], [70, 50], [30, 50], [100, 10]] },
    { name: '', closed: false, nodes: [[0, 20], [30, 60], [70, 60], [100, 20]] },
  ]));
  await shows(tab, [2, 2], 'faulty');
  await tab.locator('#totals').getByText('1 profile faulty by itself', { exact: true }).waitFor();
  assert.match(await tab.locator('#sheet-line').innerText(), /1 profile faulty by itself/);
  for (const pair of /** @type {[number, number][]} */ ([[1, 2], [2, 3]])) {
    assert.match(await cell(tab, ...pair).innerText(), /held up\s*by profile 2/);
  }
  assert.doesNotMatch(await cell(tab, 1, 3).innerText(), /held up/);
  await cell(tab, 2, 2).click();
  await tab.locator('#finding').getByRole('button', { name: 'Mend all pairs' }).click();
  await tab.getByRole('group', { name: 'Mend on trial' }).getByText('It is proved.').waitFor({ timeout: 20_000 });
  await tab.getByRole('button', { name: 'Keep it', exact: true }).click();
  await tab.locator('#totals').getByText('3 clear', { exact: true }).waitFor();
  await shows(tab, [2, 2], 'clear');
  assert.doesNotMatch(await tab.locator('#totals').innerText() + await tab.locator('#sheet-line').innerText(), /by itself/);
  assert.deepEqual(complaints, []);
});

test('what Safari lacks, or any browser on a host without encryption, is done without', async () => {
  const { context, tab, complaints } = await openPage();
  await context.addInitScript(() => {
    delete /** @type {any} */ (PointerEvent.prototype).getCoalescedEvents;
    delete /** @type {any} */ (Navigator.prototype).clipboard;
    delete /** @type {any} */ (Navigator.prototype).serviceWorker;
    delete /** @type {any} */ (window).requestIdleCallback;
  });
  await tab.reload();
  await hand(tab, 'Draw freely');
  await drag(tab, [0.2, 0.6], [0.7, 0.3]);
  await tab.locator('#profiles .chip').waitFor();
  await tab.getByRole('button', { name: 'Copy link', exact: true }).click();
  await tab.getByText('The browser does not allow copying here.').waitFor();
  assert.match(tab.url(), /#\w/);
  // The copy for use without network is looked for when the page has nothing else to do.
  await tab.waitForFunction(() => performance.getEntriesByType('resource').some(({ name }) => /papers-/.test(name)));
  assert.deepEqual(complaints, []);
});

test('a pinched track pad enlarges the drawing where it comes as a gesture of its own', async () => {
  const { tab, complaints } = await openPage();
  await sketch(tab, [[0.3, 0.7], [0.5, 0.4], [0.7, 0.7]]);
  const step = async () => (await shown(tab), Number(await tab.getByLabel('Step of the grid, mm').getAttribute('placeholder')));
  const before = await step();
  const { x, y } = await onSheet(tab, [0.5, 0.5]);
  const prevented = await tab.locator('#board').evaluate((board, [clientX, clientY]) => [['gesturestart', 1], ['gesturechange', 2], ['gesturechange', 5]].map(([type, scale]) => {
    const event = Object.assign(new Event(/** @type {string} */ (type), { bubbles: true, cancelable: true }), { scale, clientX, clientY });
    return !board.dispatchEvent(event);
  }), [x, y]);
  assert.deepEqual(prevented, [true, true, true]);
  assert.ok(await step() <= before / 4, 'five times as large, a finer grid');
  assert.deepEqual(complaints, []);
});
