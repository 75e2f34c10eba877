/**
 * For everyone: every panel, flap and dialog open, in both themes, on a desk and on a phone; text twice as large; no
 * motion where none is wanted; the whole way from a fault to the sent link by keys.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { accessibilityScript } from './browser.mjs';
import { openFamily, rims } from './families.mjs';
import { keepScreenshot, openPage, shown, shows } from './page.mjs';

/**
 * What axe-core finds against the Web Content Accessibility Guidelines 2.2, levels A and AA, and good practice.
 *
 * @param {import('playwright-core').Page} tab
 */
async function violations(tab) {
  await tab.evaluate(() => Promise.all(document.getAnimations().map((animation) => animation.finished.catch(() => {}))));
  if (!(await tab.evaluate(() => 'axe' in window))) await tab.addScriptTag({ path: accessibilityScript() });
  const found = await tab.evaluate(() => /** @type {any} */ (window).axe.run());
  return found.violations.map((/** @type {any} */ rule) => `${rule.id}: ${rule.nodes.map((/** @type {any} */ node) => node.html).join(' | ')}`);
}

/**
 * How far the page goes beyond the window sideways, in pixels.
 *
 * @param {import('playwright-core').Page} tab
 */
function sideways(tab) {
  return tab.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

const PLACES = /** @type {const} */ ([
  { place: 'desk', options: { colorScheme: 'light', viewport: { width: 1280, height: 900 } } },
  { place: 'phone', options: { colorScheme: 'dark', viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true } },
]);

for (const { place, options } of PLACES) {
  test(`every panel, flap and dialog is accessible and fits, ${place}, ${options.colorScheme}`, async () => {
    const { tab, complaints } = await openPage({ ...options, bypassCSP: true });
    await openFamily(tab, rims(8, { reversed: [3], turned: [6] }));
    await shows(tab, [1, 3], 'faulty');
    const folded = tab.locator('main details:not([open]) > summary:visible');
    while (await folded.count()) await folded.first().click();
    const check = async (/** @type {string} */ what) => {
      await shown(tab);
      await keepScreenshot(tab, `${place}-${what}`);
      assert.deepEqual(await violations(tab), [], what);
      assert.equal(await sideways(tab), 0, what);
    };
    await check('panels');
    for (const flap of ['Share', 'Families']) {
      await tab.getByRole('button', { name: flap, exact: true }).click();
      await check(flap);
    }
    await tab.keyboard.press('Escape');
    for (const dialog of ['Keys', 'Steps']) {
      await tab.getByRole('button', { name: dialog, exact: true }).click();
      await check(dialog);
      await tab.keyboard.press('Escape');
    }
    await tab.evaluate(() => {
      const carried = new DataTransfer();
      carried.setData('text/plain', '0 0\n5 5\n10 0');
      document.body.dispatchEvent(new ClipboardEvent('paste', { clipboardData: carried, bubbles: true, cancelable: true }));
    });
    await tab.getByRole('dialog').waitFor();
    await check('arrival');
    await tab.keyboard.press('Escape');
    assert.equal(await tab.getByRole('dialog').count(), 0);
    assert.deepEqual(complaints, []);
  });
}

test('text twice as large leaves everything in its place and readable', async () => {
  const { tab } = await openPage();
  await openFamily(tab, rims(4, { reversed: [3] }));
  await shows(tab, [1, 3], 'faulty');
  const size = () => tab.evaluate(() => parseFloat(getComputedStyle(document.body).fontSize));
  const before = await size();
  await tab.evaluate(() => { document.documentElement.style.fontSize = '187.5%'; });
  await shown(tab);
  assert.equal(await size(), 2 * before);
  assert.equal(await sideways(tab), 0);
  const cut = await tab.evaluate(() => [...document.querySelectorAll('button, select, label, h1, h2, p')]
    .filter((part) => part.getClientRects().length && getComputedStyle(part).overflow !== 'visible' && part.scrollWidth > part.clientWidth + 1 && !part.closest('.hidden'))
    .map((part) => part.outerHTML.slice(0, 120)));
  assert.deepEqual(cut, []);
  await keepScreenshot(tab, 'text-200');
});

test('nothing moves by itself where the person wants no motion', async () => {
  const { tab } = await openPage({ reducedMotion: 'reduce' });
  const moving = await tab.evaluate(() => [...document.querySelectorAll('*')].filter((part) => getComputedStyle(part).transitionDuration.split(', ').some((time) => parseFloat(time) > 0) || getComputedStyle(part).animationName !== 'none').map((part) => part.tagName));
  assert.deepEqual(moving, []);
});

/**
 * Goes by Tab until the focus is on a button of this name.
 *
 * @param {import('playwright-core').Page} tab
 * @param {RegExp} name
 */
async function tabTo(tab, name) {
  for (let i = 0; i < 150; i += 1) {
    await tab.keyboard.press('Tab');
    const text = await tab.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.textContent ?? '');
    if (name.test(text)) return;
  }
  throw new Error(`Tab never comes to ${name}`);
}

test('a fault is found, understood, mended and sent by keys alone', async () => {
  const { tab, complaints } = await openPage({ permissions: ['clipboard-read', 'clipboard-write'] });
  await openFamily(tab, rims(3, { reversed: [3] }));
  await shows(tab, [1, 3], 'faulty');
  await tabTo(tab, /^Profiles? \d.*(clear|faulty)/);
  await tab.keyboard.press('Home');
  await tab.keyboard.press('ArrowDown');
  await tab.keyboard.press('ArrowDown');
  await tab.waitForFunction(() => /Profiles 1 and 3: faulty/.test(document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.textContent ?? ''));
  await tabTo(tab, /^Try: Reverse profile 3/);
  await tab.keyboard.press('Enter');
  await tabTo(tab, /^Keep it/);
  await tab.keyboard.press('Enter');
  await shows(tab, [1, 3], 'clear');
  await tab.waitForFunction(() => /0 faulty/.test(document.getElementById('announcer')?.textContent ?? ''));
  await tabTo(tab, /^Copy link/);
  await tab.keyboard.press('Enter');
  await tab.getByText(/The link is copied/).waitFor();
  assert.deepEqual(complaints, []);
});
