/**
 * Figures as people type them: comma and point are decimal marks alike in every field, and what is no figure is refused
 * in words; and drawings that mix open and closed paths.
 */

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { readFigure, wrongIn } from '../../www/page/figure.js';
import { isOpenAs, openExample, openPage, shown } from './page.mjs';

test('the page reads figures by the same table as the command', () => {
  const table = JSON.parse(readFileSync(new URL('../../crate/exchange/tests/numbers.json', import.meta.url), 'utf8'));
  assert.ok(60 < table.length, `${table.length} cases`);
  for (const { text, value, refused = '' } of table) {
    assert.equal(wrongIn(text), refused, JSON.stringify(text));
    if (!refused) assert.equal(readFigure(text), value, JSON.stringify(text));
  }
});

test('no field drops a comma, and each refuses in words what is no figure', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Closed rims that agree$/);
  await tab.getByText('Nodes and coordinates').click();
  for (const summary of await tab.locator('details[id$=-place] > summary').all()) {
    await summary.click();
    await shown(tab);
  }
  await tab.waitForFunction(() => 30 < document.querySelectorAll('[data-figure]').length);
  assert.equal(await tab.locator('input[type=number]').count(), 0);
  const refused = await tab.evaluate(() => [...document.querySelectorAll('[data-figure]')].flatMap((field) => {
    const input = /** @type {HTMLInputElement} */ (field);
    if (input.disabled || !input.isConnected) return [];
    const before = input.value;
    return ['1.234,5', '1e5', 'abc'].map((typed) => {
      let taken = 0;
      const listen = () => { taken += 1; };
      input.addEventListener('change', listen);
      input.value = typed;
      input.dispatchEvent(new Event('change', { bubbles: true }));
      input.removeEventListener('change', listen);
      const said = document.querySelector('#notices [role=alert]')?.textContent ?? '';
      const bad = input.validity.patternMismatch;
      input.value = before;
      return { name: input.id || input.getAttribute('aria-label') || input.labels?.[0]?.textContent || '', typed, taken, said, bad };
    });
  }));
  assert.ok(60 < refused.length, `${refused.length} refusals`);
  for (const { name, typed, taken, said, bad } of refused) {
    assert.equal(taken, 0, `${name} took ${typed}`);
    assert.ok(bad, `${name} is not marked for ${typed}`);
    assert.match(said, new RegExp(`^.+: “${typed.replace('.', '\\.')}”`), `${name}: ${said}`);
  }
  assert.deepEqual(complaints, []);
});

test('a comma typed into a field is the decimal mark, and arrows step it', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Closed rims that agree$/);
  await tab.getByText('Nodes and coordinates').click();
  await tab.locator('.nodes tbody button').first().click();
  const x = tab.getByLabel('x of node 1, mm');
  const type = async (/** @type {string} */ text) => {
    await x.click();
    await x.fill('');
    await x.pressSequentially(text);
    await x.press('Enter');
    await x.blur();
    await shown(tab);
    return x.inputValue();
  };
  assert.equal(await type('2,25'), '2.25');
  assert.equal(await type('-0,8'), '-0.80');
  assert.equal(await type('3.5'), '3.50');
  await x.focus();
  await x.press('ArrowUp');
  await x.press('ArrowUp');
  assert.equal(await x.inputValue(), '3.52');
  assert.equal(await type('1.234,5'), '3.52');
  assert.match(await tab.locator('#notices [role=alert]').innerText(), /X of node 1, mm: “1\.234,5” has a second decimal mark/);
  assert.equal(await type('4'), '4.00');
  assert.equal(await tab.locator('#notices [role=alert]').count(), 0);
  assert.deepEqual(complaints, []);
});

const MIXED = '<svg width="99mm" height="99mm" viewBox="0 0 99 99"><path d="M0 0L90 9"/><path d="M0 20L90 29"/><path id="lid" d="M0 0L50.001 0L50 50.001Z"/></svg>';

/**
 * @param {import('playwright-core').Page} tab
 * @param {string} text
 */
async function drop(tab, text) {
  await tab.evaluate((content) => {
    const carried = new DataTransfer();
    carried.items.add(new File([content], 'lids.svg'));
    document.body.dispatchEvent(new DragEvent('drop', { dataTransfer: carried, bubbles: true, cancelable: true }));
  }, text);
}

test('of open and closed paths in one drawing the person takes one kind, and one notice tells of it', async () => {
  for (const [order, count] of /** @type {[string, number][]} */ ([['Take the 2 open', 2], ['Take the 1 closed', 1], ['Leave it', 0]])) {
    const { tab, complaints } = await openPage();
    await drop(tab, MIXED);
    await tab.getByRole('button', { name: order }).click();
    await isOpenAs(tab, count);
    await shown(tab);
    assert.equal(await tab.locator('#notices > *').count(), count ? 1 : 0);
    if (count) assert.match(await tab.locator('#notices').innerText(), /“lids\.svg” is opened\./);
    if (count === 1) assert.equal(await tab.locator('#notices details li').count(), 2);
    assert.deepEqual(complaints, []);
  }
});

test('added to a family, those of its own kind are taken', async () => {
  const { tab, complaints } = await openPage();
  await drop(tab, MIXED);
  await tab.getByRole('button', { name: 'Take the 1 closed' }).click();
  await isOpenAs(tab, 1);
  await drop(tab, MIXED);
  await tab.getByRole('button', { name: 'Add its profiles to this family' }).click();
  await isOpenAs(tab, 2);
  assert.match(await tab.locator('#notices').innerText(), /1 profile added/);
  assert.deepEqual(complaints, []);
});
