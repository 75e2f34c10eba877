/**
 * For everyone: every state of the page, in both themes, on a desk and on a phone; enlarged; text twice as large; the
 * focus seen and in order; no motion where none is wanted; the whole way from a fault to the sent link by keys.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { beyondWindow, unfold, violations } from './access.mjs';
import { openFamily, rims } from './families.mjs';
import { cell, keepScreenshot, onSheet, openPage, shown, shows } from './page.mjs';

const DESK = { viewport: { width: 1280, height: 900 } };
const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };

/**
 * Goes through the states of the page, one after the other.
 *
 * @param {import('playwright-core').Page} tab
 * @param {(what: string) => Promise<void>} check
 */
async function everyState(tab, check) {
  await check('empty');
  const { x, y } = await onSheet(tab, [0.3, 0.6]);
  await tab.mouse.click(x, y);
  await check('sketch');
  await openFamily(tab, rims(8, { reversed: [3], turned: [6] }));
  await shows(tab, [1, 3], 'faulty');
  await unfold(tab);
  await check('panels');
  await cell(tab, 1, 3).click();
  await tab.getByRole('button', { name: /^Try: / }).first().click();
  await check('trial');
  await tab.getByRole('button', { name: 'Go back', exact: true }).click();
  await tab.getByLabel('What is to be clear').selectOption('all');
  await tab.getByRole('button', { name: 'Look for a mend' }).click();
  await tab.getByRole('group', { name: 'Mend on trial' }).waitFor({ timeout: 20_000 });
  await check('mend');
  await tab.getByRole('group', { name: 'Mend on trial' }).getByRole('button', { name: 'Go back' }).click();
  for (const flap of ['Share', 'Families']) {
    await tab.getByRole('button', { name: flap, exact: true }).click();
    await tab.getByRole('button', { name: flap, exact: true, expanded: true }).waitFor();
    await check(flap);
  }
  await tab.keyboard.press('Escape');
  for (const dialog of ['Keys', 'Steps', 'What the words mean', 'Notices']) {
    await tab.getByRole('button', { name: dialog, exact: true }).click();
    await tab.getByRole('dialog').waitFor();
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
  const corner = await onSheet(tab, [0.02, 0.02]);
  await tab.mouse.move(corner.x, corner.y);
  for (let turn = 0; turn < 8; turn += 1) await tab.mouse.wheel(0, -300);
  await tab.getByText('All curves are out of sight.').waitFor();
  await check('away');
}

for (const [place, options] of /** @type {const} */ ([['desk', DESK], ['phone', PHONE]])) {
  for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
    test(`every state of the page is accessible and fits, ${place}, ${colorScheme}`, async () => {
      const { tab, complaints } = await openPage({ ...options, colorScheme, bypassCSP: true });
      await everyState(tab, async (what) => {
        await shown(tab);
        await keepScreenshot(tab, `${place}-${colorScheme}-${what}`);
        assert.deepEqual(await violations(tab), [], what);
        assert.deepEqual(await beyondWindow(tab), [], what);
      });
      assert.deepEqual(complaints, []);
    });
  }
}

// Half the width of 1280, as enlarged to 200 %, and a quarter, as to 400 % (guidelines 2.2, 1.4.10).
for (const [width, height] of [[640, 450], [320, 256]]) {
  test(`enlarged until ${width} pixels are left, everything is reached by scrolling down`, async () => {
    const { tab } = await openPage({ viewport: { width, height } });
    assert.deepEqual(await beyondWindow(tab), []);
    await openFamily(tab, rims(8, { reversed: [3] }));
    await shows(tab, [1, 3], 'faulty');
    await unfold(tab);
    await shown(tab);
    assert.deepEqual(await beyondWindow(tab), []);
    for (const name of ['Share', 'Families', 'Keys']) {
      await tab.getByRole('button', { name, exact: true }).click();
      await shown(tab);
      assert.deepEqual(await beyondWindow(tab), [], name);
      if (name !== 'Share') await tab.keyboard.press('Escape');
    }
    await keepScreenshot(tab, `enlarged-${width}`);
  });
}

test('the focus goes through the page in the order it is read, is seen, and nothing lies over it', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(3, { reversed: [3] }));
  await shows(tab, [1, 3], 'faulty');
  await unfold(tab);
  await shown(tab);
  // The first that takes the focus: no step is there to be undone.
  await tab.locator('#family-name').focus();
  const wrong = [];
  let [last, stops] = [-1, 0];
  for (; stops < 400; stops += 1) {
    await tab.keyboard.press('Tab');
    const at = await tab.evaluate(() => {
      const focused = /** @type {HTMLElement} */ (document.activeElement);
      const { left, top, width, height } = focused.getBoundingClientRect();
      const seen = [focused, focused.closest('label')].some((part) => part && getComputedStyle(part).outlineStyle === 'solid' && 2 <= parseFloat(getComputedStyle(part).outlineWidth));
      // The middle of what is seen of it.
      const middle = (Math.max(0, top) + Math.min(window.innerHeight, top + height)) / 2;
      const over = document.elementFromPoint(left + width / 2, middle);
      const reached = over !== null && (focused.contains(over) || over.contains(focused) || focused.closest('label')?.contains(over));
      return { place: [...document.querySelectorAll('body *')].indexOf(focused), seen, reached, name: focused.outerHTML.slice(0, 90) };
    });
    if (at.place < last) break;
    last = at.place;
    if (!at.seen) wrong.push(`not seen: ${at.name}`);
    if (!at.reached) wrong.push(`covered: ${at.name}`);
  }
  assert.ok(80 < stops && stops < 400, `it went through, in ${stops} stops`);
  assert.deepEqual(wrong, []);
  assert.equal(await tab.locator('[tabindex]:not([tabindex="0"], [tabindex="-1"])').count(), 0);
  assert.deepEqual(complaints, []);
});

test('text twice as large leaves everything in its place and readable', async () => {
  const { tab } = await openPage();
  await openFamily(tab, rims(4, { reversed: [3] }));
  await shows(tab, [1, 3], 'faulty');
  const size = () => tab.evaluate(() => parseFloat(getComputedStyle(document.body).fontSize));
  const before = await size();
  await tab.evaluate(() => { document.documentElement.style.fontSize = '187.5%'; });
  await shown(tab);
  assert.equal(await size(), 2 * before);
  assert.deepEqual(await beyondWindow(tab), []);
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

test('with forced colours what is chosen differs from what is not', async () => {
  const { tab, complaints } = await openPage({ ...DESK, forcedColors: 'active' });
  await openFamily(tab, rims(3));
  await unfold(tab);
  await tab.getByRole('button', { name: 'Steps', exact: true }).click();
  await tab.getByRole('dialog').waitFor();
  const unlike = await tab.evaluate(() => {
    const look = (/** @type {Element | null} */ one) => one && [getComputedStyle(one).backgroundColor, getComputedStyle(one).borderTopColor].join();
    const kinds = {
      profile: ['#profiles .chips button[aria-pressed=true]', '#profiles .chips button[aria-pressed=false]'],
      hand: ['#hands .choice:has(:checked)', '#hands .choice:not(:has(:checked))'],
      step: ['#step-list .step[aria-current]', '#step-list .step:not([aria-current])'],
    };
    return Object.entries(kinds).map(([kind, pair]) => {
      const [chosen, other] = pair.map((selector) => look(document.querySelector(selector)));
      return [kind, Boolean(chosen && other && chosen !== other)];
    });
  });
  assert.deepEqual(unlike, [['profile', true], ['hand', true], ['step', true]]);
  await keepScreenshot(tab, 'forced-colours');
  assert.deepEqual(complaints, []);
});

test('the sheet keeps clear of a scroll bar that lies over the page, and placeholders can be read', async () => {
  for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
    const { tab, complaints } = await openPage({ ...DESK, colorScheme });
    // Such bars take up to 15 pixels.
    const beside = await tab.evaluate(() => {
      const [drawing, sheet] = ['.drawing', '.sheet'].map((name) => /** @type {Element} */ (document.querySelector(name)).getBoundingClientRect());
      return drawing.right - sheet.right;
    });
    assert.ok(15 <= beside, `${beside} pixels`);
    const contrast = await tab.evaluate(() => {
      /** The relative luminance of Web Content Accessibility Guidelines 2.2. @param {string} colour */
      const light = (colour) => (colour.match(/[\d.]+/g) ?? []).slice(0, 3).map((part) => Number(part) / 255)
        .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4))
        .reduce((sum, part, at) => sum + part * [0.2126, 0.7152, 0.0722][at], 0);
      const style = getComputedStyle(/** @type {Element} */ (document.querySelector('#family-name')), '::placeholder');
      const [ink, paper] = [light(style.color), light(getComputedStyle(document.documentElement).backgroundColor)].sort((one, other) => other - one);
      return { ratio: (ink + 0.05) / (paper + 0.05), opacity: style.opacity };
    });
    assert.ok(4.5 <= contrast.ratio && contrast.opacity === '1', JSON.stringify(contrast));
    assert.deepEqual(complaints, []);
  }
});
