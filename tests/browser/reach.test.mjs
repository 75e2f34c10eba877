/**
 * For everyone and everywhere: accessibility rules in every hand, the keyboard, a phone, no WebGL, no request
 * to any other host.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { violations } from './access.mjs';
import { cell, onSheet, openPage, shown, shows, sketchTwoArches } from './page.mjs';

test('axe-core finds nothing in any hand', async () => {
  const { tab, complaints } = await openPage({ bypassCSP: true });
  await sketchTwoArches(tab);
  for (const key of ['1', '2', '3', '5']) {
    await tab.locator('#board').focus();
    await tab.keyboard.press(key);
    await shown(tab);
    assert.deepEqual(await violations(tab), [], `hand ${key}`);
  }
  assert.deepEqual(complaints, []);
});

test('the theme can be chosen and is remembered', async () => {
  const { tab } = await openPage({ colorScheme: 'light' });
  const ground = () => tab.evaluate(() => getComputedStyle(document.body.parentElement ?? document.body).backgroundColor);
  const light = await ground();
  await tab.getByLabel('Colours').selectOption('dark');
  assert.notEqual(await ground(), light);
  await tab.reload();
  assert.notEqual(await ground(), light);
});

test('the table is one tab stop and goes by arrows', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  assert.equal(await tab.locator('#pairs td[tabindex="0"]').count(), 1);
  await cell(tab, 1, 2).focus();
  await tab.keyboard.press('ArrowRight');
  await tab.waitForFunction(() => document.activeElement?.getAttribute('aria-selected') === 'true');
  assert.match(await tab.evaluate(() => document.activeElement?.textContent ?? ''), /Profile 2 alone: clear/);
  await tab.keyboard.press('Home');
  await tab.keyboard.press('ArrowUp');
  await tab.waitForFunction(() => document.activeElement?.textContent?.startsWith('Profile 1 alone'));
  assert.deepEqual(complaints, []);
});

test('a change of verdict is announced', async () => {
  const { tab } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  await tab.getByRole('button', { name: 'Reverse', exact: true }).click();
  await tab.waitForFunction(() => /Profiles 1 and 2: faulty, .*1 faulty/.test(document.getElementById('announcer')?.textContent ?? ''));
});

test('a phone sketches with the finger and shows all without sideways scrolling', async () => {
  const { tab, complaints } = await openPage({ viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
  for (const arch of /** @type {[number, number][][]} */ ([[[0.1, 0.8], [0.3, 0.4], [0.6, 0.4], [0.85, 0.8]], [[0.1, 0.65], [0.3, 0.2], [0.6, 0.2], [0.85, 0.65]]])) {
    await tab.getByText('Place nodes', { exact: true }).tap();
    for (const place of [...arch, arch[arch.length - 1]]) {
      const { x, y } = await onSheet(tab, place);
      await tab.touchscreen.tap(x, y);
    }
  }
  await shows(tab, [1, 2], 'clear');
  const wide = await tab.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  assert.equal(wide, 0);
  assert.deepEqual(complaints, []);
});

test('without WebGL the page says so and the rest works', async () => {
  const { context, tab } = await openPage();
  await context.addInitScript(() => {
    const original = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function (/** @type {string} */ kind, ...rest) {
      return kind.startsWith('webgl') ? null : /** @type {any} */ (original).call(this, kind, ...rest);
    };
  });
  await tab.reload();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  await tab.getByText('WebGL is refused').waitFor();
  await tab.locator('#across').fill('0.25');
  await shown(tab);
  assert.match(await tab.locator('#slider output').innerText(), /0\.250 across/);
});
