/**
 * Notices: one at a time, those that ask to be closed come back, and all of them can be read again.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openFamily, rims } from './families.mjs';
import { openPage, shows } from './page.mjs';

test('notices take each other’s place, and what was said can be looked back at', async () => {
  const { tab, context, complaints } = await openPage({ permissions: ['clipboard-read', 'clipboard-write'] });
  await openFamily(tab, rims(2));
  await shows(tab, [1, 2], 'clear');
  // From here on nothing more can be kept, which is said until it is closed.
  await tab.evaluate(() => {
    Storage.prototype.setItem = () => { throw new DOMException('denied', 'SecurityError'); };
  });
  const notices = tab.locator('#notices .notice');
  const says = (/** @type {RegExp} */ text) => notices.filter({ hasText: text }).waitFor();
  await tab.locator('#profiles').getByRole('button', { name: 'Copy', exact: true }).click();
  await says(/keeps nothing for this page/);
  for (let round = 0; round < 3; round += 1) {
    const former = await notices.elementHandle();
    await tab.getByRole('button', { name: 'Copy link' }).click();
    await tab.waitForFunction((notice) => !notice?.isConnected, former);
    await says(/The link is copied/);
    assert.equal(await notices.count(), 1);
  }
  await tab.evaluate(() => {
    const carried = new DataTransfer();
    carried.setData('text/plain', 'no family at all');
    document.body.dispatchEvent(new ClipboardEvent('paste', { clipboardData: carried, bubbles: true, cancelable: true }));
  });
  await notices.and(tab.getByRole('alert')).filter({ hasNotText: /keeps nothing/ }).waitFor();
  assert.equal(await notices.count(), 1);
  // With the next act that works the refusal goes, and what still holds is there again.
  await tab.locator('#profiles').getByRole('button', { name: 'Reverse', exact: true }).click();
  await says(/keeps nothing for this page/);
  assert.equal(await notices.count(), 1);
  await notices.getByRole('button', { name: 'Earlier notices' }).or(tab.locator('#notices-opener')).first().click();
  const said = tab.getByRole('dialog', { name: 'Notices' }).locator('dd');
  await said.first().waitFor();
  const list = await said.allInnerTexts();
  assert.deepEqual(list.map((text) => /keeps nothing|link is copied/.exec(text)?.[0] ?? 'refused'), ['refused', 'link is copied', 'link is copied', 'link is copied', 'keeps nothing']);
  await tab.keyboard.press('Escape');
  await notices.getByRole('button', { name: 'Close' }).click();
  assert.equal(await notices.count(), 0);
  await tab.locator('#notices-opener').click();
  await tab.getByRole('dialog', { name: 'Notices' }).waitFor();
  await context.close();
  assert.deepEqual(complaints, []);
});
