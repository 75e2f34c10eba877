/**
 * From an empty sheet to a proved verdict and back: sketching with the pointer, a fault that comes and goes,
 * undo, remedies.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { cell, drag, onSheet, openPage, shown, shows, sketch, sketchTwoArches } from './page.mjs';

test('a sketched pair is judged, and a dragged node makes a fault come and go before it is let go', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  await tab.getByText('Move', { exact: true }).click();
  // Node 2 of the active second profile, pulled beyond node 3 and below the first profile.
  await drag(tab, [0.35, 0.3], [0.72, 0.75], false);
  await shows(tab, [1, 2], 'faulty');
  await tab.locator('#finding h2 svg.sign-faulty').waitFor();
  const back = await onSheet(tab, [0.35, 0.3]);
  await tab.mouse.move(back.x, back.y, { steps: 4 });
  await shows(tab, [1, 2], 'clear');
  const there = await onSheet(tab, [0.72, 0.75]);
  await tab.mouse.move(there.x, there.y, { steps: 4 });
  await tab.mouse.up();
  await shows(tab, [1, 2], 'faulty');
  await tab.keyboard.press('Control+z');
  await shows(tab, [1, 2], 'clear');
  await tab.keyboard.press('Control+Shift+z');
  await shows(tab, [1, 2], 'faulty');
  assert.deepEqual(complaints, []);
});

test('every step back to the empty sheet can be undone and done again', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  await tab.getByRole('button', { name: /^Undo/ }).click();
  await tab.getByRole('button', { name: /^Undo/ }).click();
  await shown(tab);
  assert.equal(await tab.locator('#pairs td[role=gridcell]').count(), 0);
  assert.equal(await tab.getByRole('button', { name: 'Undo', exact: true }).isDisabled(), true);
  await tab.getByRole('button', { name: 'Redo: Sketch profile 1' }).click();
  await tab.getByRole('button', { name: 'Redo: Sketch profile 2' }).click();
  await shows(tab, [1, 2], 'clear');
  assert.deepEqual(complaints, []);
});

test('a reversed profile is faulty, the remedy is tried, kept, and is one step', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await tab.getByRole('button', { name: 'Reverse', exact: true }).click();
  await shows(tab, [1, 2], 'faulty');
  const remedy = tab.getByRole('button', { name: /^Try: Reverse/ }).first();
  await remedy.click();
  await shows(tab, [1, 2], 'clear');
  await tab.getByRole('button', { name: 'Go back', exact: true }).click();
  await shows(tab, [1, 2], 'faulty');
  await remedy.click();
  await tab.getByRole('button', { name: 'Keep it', exact: true }).click();
  await shows(tab, [1, 2], 'clear');
  await tab.getByRole('button', { name: /^Undo: Reverse/ }).click();
  await shows(tab, [1, 2], 'faulty');
  assert.deepEqual(complaints, []);
});

test('a faulty pair is named in words, with its section, and the slider goes through the sections', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await tab.getByRole('button', { name: 'Reverse', exact: true }).click();
  await cell(tab, 1, 2).click();
  const finding = tab.locator('#finding');
  await finding.getByText('Where:').first().waitFor();
  assert.match(await finding.innerText(), /Where: [\d.]+ .*along.*, [\d.]+ across, at x -?[\d.]+ y -?[\d.]+ mm/);
  assert.equal(await tab.locator('#section .plot-marks circle').count() > 0, true);
  await tab.locator('#across').fill('0');
  await shown(tab);
  assert.match(await tab.locator('#slider output').innerText(), /0\.000 across/);
  assert.equal(await tab.locator('#section .plot-marks circle').count(), 0);
  assert.deepEqual(complaints, []);
});

test('a freehand stroke becomes a profile and says how true it is', async () => {
  const { tab, complaints } = await openPage();
  await tab.getByText('Draw freely', { exact: true }).click();
  const places = Array.from({ length: 40 }, (_, i) => /** @type {[number, number]} */ ([0.2 + 0.015 * i, 0.6 - 0.25 * Math.sin(i / 12.5)]));
  const start = await onSheet(tab, places[0]);
  await tab.mouse.move(start.x, start.y);
  await tab.mouse.down();
  for (const place of places) {
    const { x, y } = await onSheet(tab, place);
    await tab.mouse.move(x, y);
  }
  await tab.mouse.up();
  await shown(tab);
  await tab.getByText(/nodes keep within [\d.]+ mm of the stroke/).waitFor();
  await tab.locator('#profiles .chip').waitFor();
  assert.deepEqual(complaints, []);
});

test('typed coordinates and keys do what the pointer does', async () => {
  const { tab, complaints } = await openPage();
  await sketch(tab, [[0.2, 0.8], [0.4, 0.4], [0.8, 0.8]]);
  await tab.getByText('Nodes and coordinates').click();
  const x = tab.getByLabel('x of node 2, mm');
  await x.fill('41.25');
  await x.press('Enter');
  await tab.locator('#board').focus();
  await tab.keyboard.press('PageDown');
  await tab.keyboard.press('PageDown');
  await tab.keyboard.press('ArrowRight');
  await tab.keyboard.press('Shift+ArrowLeft');
  await shown(tab);
  assert.equal(await x.inputValue(), '40.35');
  await tab.keyboard.press('c');
  await shown(tab);
  assert.equal(await tab.getByLabel('Node 2 is a corner').isChecked(), true);
  await tab.keyboard.press('Delete');
  await shown(tab);
  assert.equal(await tab.locator('.nodes tbody tr').count(), 2);
  assert.deepEqual(complaints, []);
});

test('a family that agrees by pairs and fails three at once is told so', async () => {
  const { tab, complaints } = await openPage();
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.getByRole('button', { name: /fail three at once/ }).click();
  await tab.locator('#totals').getByText('0 faulty').waitFor();
  // A fact of geometry: circles whose seams stand a third of a turn apart have the centre as their equal blend,
  // while any two of them blend to a circle of half the size.
  await tab.locator('#whole svg.sign-faulty').waitFor();
  assert.match(await tab.locator('#whole').innerText(), /A blend of .* crosses itself/);
  assert.deepEqual(complaints, []);
});

test('a drawing of any known kind opens as one step, and nothing of the former work is lost', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  await tab.getByRole('button', { name: 'Families' }).click();
  const chooser = tab.waitForEvent('filechooser');
  await tab.getByRole('button', { name: 'Open a file' }).click();
  const points = '0 0\n10 30\n40 40\n70 30\n80 0\n';
  await (await chooser).setFiles({ name: 'hood.txt', mimeType: 'text/plain', buffer: Buffer.from(points) });
  await tab.getByRole('button', { name: /^Undo: Open a file/ }).waitFor();
  assert.equal(await tab.locator('#profiles .chip').count(), 1);
  await tab.getByRole('button', { name: /^Undo: Open a file/ }).click();
  await shows(tab, [1, 2], 'clear');
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.getByRole('button', { name: /^Family without a name, 2 profiles, / }).waitFor();
  assert.deepEqual(complaints, []);
});
