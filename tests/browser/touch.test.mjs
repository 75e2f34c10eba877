/**
 * Fingers, pen and wheel on the board: what is seen of the sheet follows two fingers, the wheel and keys; every target
 * is large enough.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { onSheet, openPage, shown, sketch } from './page.mjs';

const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };

/**
 * Fingers on the glass, as the browser gets them from its system: the protocol of the developer tools.
 * @param {import('playwright-core').BrowserContext} context
 * @param {import('playwright-core').Page} tab
 */
async function fingers(context, tab) {
  const session = await context.newCDPSession(tab);
  return (/** @type {'touchStart' | 'touchMove' | 'touchEnd'} */ type, /** @type {{x: number, y: number}[]} */ places) =>
    session.send('Input.dispatchTouchEvent', { type, touchPoints: places.map(({ x, y }, id) => ({ x, y, id })) });
}

/**
 * Sketches with the finger.
 * @param {import('playwright-core').Page} tab
 * @param {[number, number][]} places
 */
async function sketchByFinger(tab, places) {
  await tab.getByText('Place nodes', { exact: true }).tap();
  for (const place of [...places, places[places.length - 1]]) {
    const { x, y } = await onSheet(tab, place);
    await tab.touchscreen.tap(x, y);
  }
  await shown(tab);
}

/** @param {import('playwright-core').Page} tab the step of the grid that follows the zoom, mm */
const gridStep = async (tab) => (await shown(tab), Number(await tab.getByLabel('Step of the grid, mm').getAttribute('placeholder')));

/** @param {import('playwright-core').Page} tab */
async function coordinates(tab) {
  await shown(tab);
  return tab.evaluate(() => [...document.querySelectorAll('.nodes tbody input[data-figure]')].map((input) => Number(/** @type {HTMLInputElement} */ (input).value)));
}

test('two fingers zoom about their middle, move what is seen, and change nothing of the drawing', async () => {
  const { context, tab, complaints } = await openPage(PHONE);
  await sketchByFinger(tab, [[0.2, 0.8], [0.5, 0.4], [0.8, 0.8]]);
  await tab.getByText('Nodes and coordinates').tap();
  await tab.getByText('Move', { exact: true }).tap();
  const before = await coordinates(tab);
  const step = await gridStep(tab);
  const touch = await fingers(context, tab);
  const { x, y } = await onSheet(tab, [0.5, 0.4]);
  // The first finger even lands on a node: with the second one its drag never happened.
  const spread = (/** @type {number} */ half) => [{ x: x - half, y }, { x: x + half, y }];
  await touch('touchStart', [{ x: x - 20, y }]);
  await touch('touchStart', spread(20));
  for (let half = 25; half <= 120; half += 5) await touch('touchMove', spread(half));
  await touch('touchEnd', []);
  assert.ok(await gridStep(tab) < step, 'apart is nearer');
  assert.deepEqual(await coordinates(tab), before);
  const near = await gridStep(tab);
  await touch('touchStart', spread(120));
  for (let half = 115; 20 <= half; half -= 5) await touch('touchMove', spread(half));
  await touch('touchEnd', []);
  assert.ok(near < await gridStep(tab), 'together is farther');
  assert.equal(await tab.evaluate(() => window.visualViewport?.scale), 1);
  // After all that the node is where it was on the glass, for the fingers went back: a finger takes it there.
  await touch('touchStart', [{ x, y }]);
  for (let step = 1; step <= 6; step += 1) await touch('touchMove', [{ x, y: y - 8 * step }]);
  await touch('touchEnd', []);
  await tab.getByRole('button', { name: 'Undo: Move node 2 of profile 1' }).waitFor();
  assert.deepEqual(complaints, []);
});

test('a second finger takes a stroke back', async () => {
  const { context, tab, complaints } = await openPage(PHONE);
  await tab.getByText('Draw freely', { exact: true }).tap();
  const touch = await fingers(context, tab);
  const [from, to] = [await onSheet(tab, [0.2, 0.5]), await onSheet(tab, [0.7, 0.3])];
  await touch('touchStart', [from]);
  await touch('touchMove', [to]);
  await touch('touchStart', [to, from]);
  await touch('touchEnd', []);
  await shown(tab);
  assert.equal(await tab.locator('#profiles .chip').count(), 0);
  await touch('touchStart', [from]);
  for (let part = 1; part <= 10; part += 1) await touch('touchMove', [{ x: from.x + ((to.x - from.x) * part) / 10, y: from.y + 30 * Math.sin(part / 2) }]);
  await touch('touchEnd', []);
  await tab.locator('#profiles .chip').waitFor();
  assert.deepEqual(complaints, []);
});

test('a pen draws a stroke', async () => {
  const { context, tab, complaints } = await openPage();
  await tab.getByText('Draw freely', { exact: true }).click();
  const session = await context.newCDPSession(tab);
  const pen = async (/** @type {'mousePressed' | 'mouseMoved' | 'mouseReleased'} */ type, /** @type {[number, number]} */ place) => session.send('Input.dispatchMouseEvent', {
    type, ...await onSheet(tab, place), button: 'left', buttons: type === 'mouseReleased' ? 0 : 1, clickCount: 1, pointerType: 'pen', force: 0.5,
  });
  const kind = tab.evaluate(() => new Promise((resolve) => { document.getElementById('board')?.addEventListener('pointerdown', (event) => resolve(event.pointerType), { once: true }); }));
  await pen('mousePressed', [0.2, 0.5]);
  for (let i = 0; i <= 20; i += 1) await pen('mouseMoved', [0.2 + 0.025 * i, 0.5 - 0.2 * Math.sin(i / 6)]);
  await pen('mouseReleased', [0.7, 0.54]);
  assert.equal(await kind, 'pen');
  await tab.getByText(/nodes keep within [\d.]+ mm of the stroke/).waitFor();
  await tab.locator('#profiles .chip').waitFor();
  assert.deepEqual(complaints, []);
});

test('a finger chooses several nodes without a key', async () => {
  const { tab, complaints } = await openPage(PHONE);
  const places = /** @type {[number, number][]} */ ([[0.15, 0.8], [0.4, 0.35], [0.65, 0.35], [0.85, 0.8]]);
  await sketchByFinger(tab, places);
  await tab.getByText('Nodes and coordinates').tap();
  await tab.getByText('Choose', { exact: true }).tap();
  for (const place of [places[1], places[2]]) {
    const { x, y } = await onSheet(tab, place);
    await tab.touchscreen.tap(x, y);
  }
  await shown(tab);
  assert.equal(await tab.locator('.nodes button[aria-pressed="true"]').count(), 2);
  const { x, y } = await onSheet(tab, places[1]);
  await tab.touchscreen.tap(x, y);
  await shown(tab);
  assert.equal(await tab.locator('.nodes button[aria-pressed="true"]').count(), 1);
  assert.deepEqual(complaints, []);
});

test('the wheel zooms about the pointer, with Shift it looks sideways, keys do both', async () => {
  const { tab, complaints } = await openPage();
  await sketch(tab, [[0.3, 0.7], [0.5, 0.4], [0.7, 0.7]]);
  await tab.getByText('Move', { exact: true }).click();
  const step = await gridStep(tab);
  const { x, y } = await onSheet(tab, [0.5, 0.4]);
  await tab.mouse.move(x, y);
  await tab.mouse.wheel(0, -600);
  const near = await gridStep(tab);
  assert.ok(near < step);
  // The node under the pointer stayed there.
  await tab.mouse.down();
  await tab.mouse.move(x + 40, y, { steps: 4 });
  await tab.mouse.up();
  await tab.getByRole('button', { name: 'Undo: Move node 2 of profile 1' }).waitFor();
  const look = () => tab.evaluate(() => /** @type {HTMLCanvasElement} */ (document.getElementById('board')).toDataURL());
  await shown(tab);
  const before = await look();
  await tab.keyboard.down('Shift');
  await tab.mouse.wheel(0, 120);
  await tab.keyboard.up('Shift');
  await shown(tab);
  assert.notEqual(await look(), before);
  assert.equal(await gridStep(tab), near);
  await tab.locator('#board').focus();
  await tab.keyboard.press('Escape');
  await shown(tab);
  const still = await look();
  for (const key of ['ArrowLeft', 'ArrowUp', 'Control+ArrowRight', 'Control+ArrowDown']) await tab.keyboard.press(key);
  await shown(tab);
  assert.equal(await look(), still);
  for (let i = 0; i < 12; i += 1) await tab.keyboard.press('-');
  assert.ok(near < await gridStep(tab));
  await tab.keyboard.press('0');
  assert.ok(await gridStep(tab) <= step);
  assert.deepEqual(complaints, []);
});

test('everything to press on is 24 pixels large at least', async () => {
  // Web Content Accessibility Guidelines 2.2, success criterion 2.5.8.
  for (const options of [{}, PHONE]) {
    const { tab } = await openPage(options);
    await tab.getByRole('button', { name: 'Open an example instead' }).click();
    await tab.locator('#profiles .chip').first().waitFor();
    await tab.getByRole('button', { name: 'Families' }).click();
    for (const folded of await tab.locator('.drawing summary').all()) await folded.click();
    await tab.getByRole('button', { name: 'Keys', exact: true }).click();
    await shown(tab);
    const small = await tab.evaluate(() => [...document.querySelectorAll('.masthead :is(button, select), .drawing :is(button, select, input, summary), dialog button')]
      .filter((target) => target.checkVisibility())
      .map((target) => target.closest('label.choice') ?? target)
      .map((target) => ({ name: target.outerHTML.slice(0, 90), box: target.getBoundingClientRect() }))
      .filter(({ box }) => box.width < 24 || box.height < 24)
      .map(({ name, box }) => `${name} ${box.width} x ${box.height}`));
    assert.deepEqual(small, []);
    await tab.context().close();
  }
});

test('a finger beside the sheet scrolls the page, the head stays, and a trial is decided below the sheet', async () => {
  const { context, tab, complaints } = await openPage(PHONE);
  await sketchByFinger(tab, [[0.2, 0.8], [0.35, 0.45], [0.6, 0.45], [0.8, 0.8]]);
  await sketchByFinger(tab, [[0.8, 0.7], [0.6, 0.35], [0.35, 0.35], [0.2, 0.7]]);
  const line = tab.locator('#sheet-line');
  await line.getByText('0 clear, 1 faulty, 0 unproven').waitFor();
  await tab.getByRole('button', { name: /^Try:/ }).first().tap();
  await line.getByText('1 clear, 0 faulty, 0 unproven').waitFor();
  const box = await tab.locator('#board').evaluate((board) => ({ left: board.getBoundingClientRect().left, right: window.innerWidth - board.getBoundingClientRect().right }));
  assert.ok(16 <= box.left && 16 <= box.right, JSON.stringify(box));
  await tab.evaluate(() => window.scrollTo(0, 200));
  const touch = await fingers(context, tab);
  await touch('touchStart', [{ x: 8, y: 500 }]);
  for (let y = 490; 300 <= y; y -= 10) await touch('touchMove', [{ x: 8, y }]);
  await touch('touchEnd', []);
  await tab.waitForFunction(() => 250 < window.scrollY);
  const head = await tab.locator('#copy-link').boundingBox();
  assert.ok(head && 0 <= head.y && head.y < 100, JSON.stringify(head));
  await line.getByRole('button', { name: 'Keep it' }).tap();
  await line.getByRole('button', { name: 'Keep it' }).waitFor({ state: 'hidden' });
  await line.getByText('1 clear, 0 faulty, 0 unproven').waitFor();
  assert.deepEqual(complaints, []);
});
