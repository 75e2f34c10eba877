/**
 * Handing on: the link as text and as a QR code, files out and in, what is dropped and pasted.
 */

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { address } from './browser.mjs';
import { readCode } from './codes.mjs';
import { isOpenAs, keepScreenshot, openPage, shown, shows, sketchTwoArches } from './page.mjs';

/** @param {import('playwright-core').Page} tab */
async function openShare(tab) {
  await tab.getByRole('button', { name: 'Share', exact: true }).click();
  await tab.getByRole('textbox', { name: 'The link' }).waitFor();
}

/**
 * Drops text as a file in the middle of the page.
 *
 * @param {import('playwright-core').Page} tab
 * @param {string} name
 * @param {string} text
 */
async function drop(tab, name, text) {
  await tab.evaluate(([fileName, content]) => {
    const carried = new DataTransfer();
    carried.items.add(new File([content], fileName));
    document.body.dispatchEvent(new DragEvent('drop', { dataTransfer: carried, bubbles: true, cancelable: true }));
  }, [name, text]);
}

/**
 * Pastes text with the board in focus.
 *
 * @param {import('playwright-core').Page} tab
 * @param {string} text
 */
async function paste(tab, text) {
  await tab.evaluate((content) => {
    const carried = new DataTransfer();
    carried.setData('text/plain', content);
    document.body.dispatchEvent(new ClipboardEvent('paste', { clipboardData: carried, bubbles: true, cancelable: true }));
  }, text);
}

/**
 * What a press on a button saves.
 *
 * @param {import('playwright-core').Page} tab
 * @param {string} name
 */
async function saved(tab, name) {
  const [download] = await Promise.all([tab.waitForEvent('download'), tab.getByRole('button', { name }).click()]);
  return { name: download.suggestedFilename(), text: readFileSync(await download.path(), 'utf8') };
}

test('the QR code says the link, and another reader reads it', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await openShare(tab);
  const link = await tab.getByRole('textbox', { name: 'The link' }).inputValue();
  assert.ok(link.startsWith(`${address}#`));
  await keepScreenshot(tab, 'share');
  assert.equal(await readCode(tab.locator('#share .qr')), link);
  assert.deepEqual(complaints, []);
});

test('a link that is too long for a QR code is said to be so', async () => {
  const { tab } = await openPage();
  // Numbers without a pattern, for a share code is short where steps repeat.
  const profiles = Array.from({ length: 30 }, (_, profile) => ({ nodes: Array.from({ length: 60 }, (_unused, i) => [i * 4, Math.round(1e4 * Math.abs(Math.sin(profile * 91 + i * i * 37))) / 100]) }));
  await paste(tab, JSON.stringify({ format: 'loftkin-family', version: 1, unit: 'mm', grid: 0.01, profiles }));
  await isOpenAs(tab, 30);
  await openShare(tab);
  await tab.getByText(/a QR code holds 2,953 at most/).waitFor();
  assert.equal(await tab.locator('#share .qr').count(), 0);
});

test('a family goes out as a file and as SVG, and both come in again', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await tab.getByRole('textbox', { name: 'Name of the family' }).fill('Höods, for the mole');
  await openShare(tab);
  const file = await saved(tab, 'Save the family file');
  assert.equal(file.name, 'hoods-for-the-mole.loftkin.json');
  assert.equal(JSON.parse(file.text).profiles.length, 2);
  const svg = await saved(tab, 'Save the profiles as SVG');
  assert.equal(svg.name, 'hoods-for-the-mole.svg');
  for (const { name, text } of [file, svg]) {
    const other = await openPage();
    await drop(other.tab, name, text);
    await shows(other.tab, [1, 2], 'clear');
    assert.deepEqual(other.complaints, []);
  }
  assert.deepEqual(complaints, []);
});

test('a dropped file is added to the family or opened in its place, as the person says', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  const points = '0 0\n10 8\n25 12\n40 8\n50 0\n';
  await drop(tab, 'rim.txt', points);
  await tab.getByRole('dialog').waitFor();
  await tab.getByRole('button', { name: 'Leave it' }).click();
  await shown(tab);
  await isOpenAs(tab, 2);
  await drop(tab, 'rim.txt', points);
  await tab.getByRole('button', { name: 'Add its profiles to this family' }).click();
  await isOpenAs(tab, 3);
  await tab.getByRole('button', { name: /^Undo/ }).click();
  await isOpenAs(tab, 2);
  await drop(tab, 'rim.txt', points);
  await tab.getByRole('button', { name: 'Open it in place of this family' }).click();
  await isOpenAs(tab, 1);
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.getByRole('button', { name: /^Family without a name, 2 profiles, / }).click();
  await isOpenAs(tab, 2);
  assert.deepEqual(complaints, []);
});

test('a link, a family file, an SVG drawing and points can be pasted', async () => {
  const { tab } = await openPage({ permissions: ['clipboard-read', 'clipboard-write'] });
  await sketchTwoArches(tab);
  await openShare(tab);
  const link = await tab.getByRole('textbox', { name: 'The link' }).inputValue();
  const { text: json } = await saved(tab, 'Save the family file');
  const { text: svg } = await saved(tab, 'Save the profiles as SVG');
  for (const [text, profiles] of /** @type {[string, number][]} */ ([[link, 2], [json, 2], [svg, 2], ['0,0\n5,5\n10,0', 1]])) {
    const other = await openPage();
    await paste(other.tab, text);
    await isOpenAs(other.tab, profiles);
    assert.deepEqual(other.complaints, []);
  }
  // Into a field, text goes as text.
  await tab.evaluate((content) => navigator.clipboard.writeText(content), '0,0\n5,5\n10,0');
  await tab.getByRole('textbox', { name: 'Name of the family' }).focus();
  await tab.keyboard.press('Control+V');
  await isOpenAs(tab, 2);
  assert.equal(await tab.getByRole('dialog').count(), 0);
});
