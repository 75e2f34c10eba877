/**
 * The loft in space and its section: turned by pointer and keys, played through, mapped with a legend, measured by
 * pointing and by typing, linked with the other pictures; and all but the picture without WebGL.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { violations } from './access.mjs';
import { family, openFamily, rims } from './families.mjs';
import { openPage, shown, shows } from './page.mjs';

/** Two upright lines, 40 mm long and 30 mm apart: a plane between them, whose measures can be told by hand. */
const board = family('Board', [0, 30].map((y) => ({ name: '', closed: false, nodes: /** @type {[number, number][]} */ ([[0, y], [40, y]]) })));

/** @param {import('playwright-core').Page} tab */
async function inSight(tab) {
  await tab.locator('#loft canvas').scrollIntoViewIfNeeded();
  const box = await tab.locator('#loft canvas').boundingBox();
  if (!box) throw new Error('the loft is not to be seen');
  return { x: box.x + box.width / 2, y: box.y + box.height / 2, box };
}

/** @param {import('playwright-core').Page} tab */
const picture = (tab) => tab.locator('#loft').screenshot();

test('the loft is turned by mouse and keys, and goes back', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(2));
  await shows(tab, [1, 2], 'clear');
  const { x, y } = await inSight(tab);
  const start = await picture(tab);
  await tab.mouse.move(x, y);
  await tab.mouse.down();
  await tab.mouse.move(x + 80, y + 30, { steps: 4 });
  await tab.mouse.up();
  await shown(tab);
  assert.equal(await tab.locator('.measure').getAttribute('open'), null, 'a turn is no measure');
  await tab.mouse.move(2, 2);
  await shown(tab);
  assert.ok(!start.equals(await picture(tab)));
  await tab.locator('#loft canvas').focus();
  const turned = await picture(tab);
  await tab.keyboard.press('ArrowLeft');
  await tab.keyboard.press('+');
  await shown(tab);
  assert.ok(!turned.equals(await picture(tab)));
  assert.deepEqual(complaints, []);
});

test('the wheel moves the page over a view in space, and zooms the view once it was pressed on, till Escape', async () => {
  const { tab, complaints } = await openPage({ viewport: { width: 1280, height: 700 } });
  await openFamily(tab, rims(2));
  await shows(tab, [1, 2], 'clear');
  const { x, y } = await inSight(tab);
  await tab.evaluate(() => scrollBy(0, -1));
  const top = () => tab.evaluate(() => scrollY);
  const hint = tab.locator('#loft .wheel-hint');
  // What is pointed at is marked: looked at without.
  const plain = async () => (await tab.mouse.move(2, 2), await shown(tab), picture(tab));
  const start = await plain();
  await tab.mouse.move(x, y);
  assert.equal(await hint.innerText(), 'Press here: then the wheel zooms, till Esc');
  const before = await top();
  await tab.mouse.wheel(0, -60);
  await tab.waitForFunction((old) => scrollY < old, before);
  const place = await inSight(tab);
  assert.ok(start.equals(await plain()), 'the view is as it was');
  await tab.mouse.click(place.x, place.y);
  assert.equal(await hint.isVisible(), false);
  const held = await top();
  const pressed = (await shown(tab), await picture(tab));
  await tab.mouse.wheel(0, -240);
  while (pressed.equals(await picture(tab))) await shown(tab);
  assert.equal(await top(), held);
  await tab.keyboard.press('Escape');
  assert.equal(await hint.isVisible(), true);
  assert.ok(!start.equals(await plain()), 'the view is zoomed');
  await tab.mouse.move(place.x, place.y);
  await tab.mouse.wheel(0, -60);
  await tab.waitForFunction((old) => scrollY < old, held);
  assert.deepEqual(complaints, []);
});

test('one finger turns the loft', async () => {
  const { context, tab } = await openPage({ viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
  await openFamily(tab, rims(2));
  await shows(tab, [1, 2], 'clear');
  const { x, y } = await inSight(tab);
  const start = await picture(tab);
  const touch = await context.newCDPSession(tab);
  const send = (/** @type {string} */ type, /** @type {number} */ dx) => touch.send('Input.dispatchTouchEvent', /** @type {any} */ ({ type, touchPoints: type === 'touchEnd' ? [] : [{ x: x + dx, y }] }));
  await send('touchStart', 0);
  for (const dx of [20, 50, 90]) await send('touchMove', dx);
  await send('touchEnd', 90);
  await shown(tab);
  assert.ok(!start.equals(await picture(tab)));
});

test('maps have a legend with figures, and the planes stand as far apart as asked', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(3, { turned: [2] }));
  await shows(tab, [1, 3], 'clear');
  const legend = tab.locator('.map-legend');
  assert.match(await legend.innerText(), /front of the skin is lighter/);
  await tab.locator('#loft-tools label', { hasText: 'Twist' }).click();
  assert.match(await legend.innerText(), /0°\s*90°\s*180°/);
  await tab.locator('#loft-tools label', { hasText: 'Curvature' }).click();
  assert.match(await legend.innerText(), /−1\/\(\d+(\.\d+)? mm\)²\s*0\s*1\//);
  const before = await legend.innerText();
  await tab.getByLabel('Planes apart').fill('20');
  await tab.getByLabel('Planes apart').press('Enter');
  await shown(tab);
  assert.notEqual(await legend.innerText(), before, 'nearer planes bend the skin more');
  await tab.locator('#loft-tools label', { hasText: 'Ring' }).click();
  await shown(tab);
  assert.equal(await tab.getByLabel('Half-planes apart').inputValue(), '60');
  assert.deepEqual(complaints, []);
});

test('typed places are measured: a plane is flat and square, and the distance is straight', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, board);
  await shows(tab, [1, 2], 'clear');
  await tab.getByLabel('Planes apart').fill('40');
  await tab.getByLabel('Planes apart').press('Enter');
  await tab.locator('.measure > summary').click();
  for (const [name, along, across] of [['A', '0.5', '0'], ['B', '0.5', '1']]) {
    await tab.getByLabel(`Place ${name}, along`).fill(along);
    await tab.getByLabel(`Place ${name}, across`).fill(across);
    await tab.getByLabel(`Place ${name}, across`).press('Enter');
  }
  // A ruling of 30 mm in the drawing and 40 mm across: 50 mm, by Pythagoras.
  await tab.getByText('A to B: 50.00 mm straight; the skin turns by 0.0 degrees from one to the other.').waitFor();
  assert.match(await tab.locator('.measure-row p').first().innerText(), /x 20\.00, y 0\.00 mm; twist 0\.0 degrees; ruling to section 90\.0 degrees; curvature 0: flat/);
  await tab.getByRole('button', { name: 'Forget both places' }).click();
  assert.equal(await tab.getByLabel('Place A, along').inputValue(), '');
  assert.deepEqual(complaints, []);
});

test('places pointed at in the loft and on its section are read, linked and kept', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(2));
  await shows(tab, [1, 2], 'clear');
  const { x, y } = await inSight(tab);
  await tab.mouse.move(x, y + 20);
  await tab.waitForFunction(() => /along, .* across: x /.test(document.querySelector('.place-reading')?.textContent ?? ''));
  assert.equal(await tab.locator('.plot-pointed circle').count(), 1, 'the section shows the place');
  await tab.mouse.click(x, y + 20);
  await tab.mouse.click(x + 30, y);
  await tab.getByText(/^A to B: \d+\.\d\d mm straight/).waitFor();
  await tab.mouse.move(2, 2);
  await tab.waitForFunction(() => document.querySelector('.place-reading')?.textContent === '');
  assert.equal(await tab.locator('.plot-pointed circle').count(), 0);
  const plot = await tab.locator('#section svg').boundingBox();
  if (!plot) throw new Error('the section is not to be seen');
  await tab.mouse.move(plot.x + plot.width * 0.7, plot.y + plot.height * 0.3);
  await tab.waitForFunction(() => /0\.500 across/.test(document.querySelector('.place-reading')?.textContent ?? ''));
  assert.deepEqual(complaints, []);
});

test('the sections play to and fro and stop; with reduced motion they go by steps', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(2));
  await shows(tab, [1, 2], 'clear');
  const across = () => tab.locator('#across').inputValue();
  const start = await across();
  await tab.locator('#slider').scrollIntoViewIfNeeded();
  await tab.getByRole('button', { name: 'Play' }).click();
  await tab.waitForFunction((before) => /** @type {HTMLInputElement} */ (document.getElementById('across')).value !== before, start);
  await tab.getByRole('button', { name: 'Stop' }).click();
  await shown(tab);
  const stopped = await across();
  // A player that goes on moves with every frame.
  await shown(tab);
  await shown(tab);
  assert.equal(await across(), stopped);
  await tab.emulateMedia({ reducedMotion: 'reduce' });
  await tab.locator('#across').fill('0.2');
  await tab.getByRole('button', { name: 'Step', exact: true }).click();
  await shown(tab);
  const stepped = Number(await across());
  assert.ok(Math.abs(Math.abs(stepped - 0.2) - 0.05) < 1e-6, `${stepped}`);
  await shown(tab);
  await shown(tab);
  assert.equal(Number(await across()), stepped);
  assert.deepEqual(complaints, []);
});

test('without WebGL the section is pointed at and measured all the same', async () => {
  const { context, tab, complaints } = await openPage();
  await context.addInitScript(() => {
    const original = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function (/** @type {string} */ kind, ...rest) {
      return kind.startsWith('webgl') ? null : /** @type {any} */ (original).call(this, kind, ...rest);
    };
  });
  await tab.reload();
  await openFamily(tab, board);
  await shows(tab, [1, 2], 'clear');
  await tab.getByText('WebGL is refused').waitFor();
  await tab.locator('#section svg').scrollIntoViewIfNeeded();
  const plot = await tab.locator('#section svg').boundingBox();
  if (!plot) throw new Error('the section is not to be seen');
  await tab.mouse.click(plot.x + plot.width / 2, plot.y + plot.height / 2);
  await tab.getByText(/x 20\.\d\d, y 15\.00 mm/).first().waitFor();
  await tab.locator('#loft-tools label', { hasText: 'Curvature' }).click();
  assert.deepEqual(complaints, []);
});

for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
  test(`axe-core finds nothing about the loft and the table, ${colorScheme}`, async () => {
    const { tab } = await openPage({ colorScheme, bypassCSP: true });
    await openFamily(tab, rims(12, { reversed: [3] }));
    await shows(tab, [1, 2], 'clear');
    await tab.locator('label', { hasText: 'Margins' }).click();
    await tab.locator('#pairs td[data-heat]').first().waitFor();
    await tab.locator('#loft-tools label', { hasText: 'Curvature' }).click();
    await tab.locator('.measure > summary').click();
    assert.deepEqual(await violations(tab), []);
  });
}
