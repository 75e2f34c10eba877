/**
 * The printed report: one page with what is judged, and the way back to it as a link and as a QR code.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address } from './browser.mjs';
import { readCode } from './codes.mjs';
import { openFamily, rims } from './families.mjs';
import { keepScreenshot, openExample, openPage, shown, shows, sketchTwoArches } from './page.mjs';

/**
 * The report as it is printed.
 *
 * @param {import('playwright-core').Page} tab
 */
async function print(tab) {
  await tab.locator('#report[data-ready]').waitFor({ state: 'attached' });
  await tab.emulateMedia({ media: 'print' });
  await tab.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
  return tab.locator('#report').innerText();
}

/** @param {import('playwright-core').Page} tab */
function link(tab) {
  return tab.evaluate((page) => `${page}#${localStorage.getItem('loftkin.work')}`, address);
}

test('the report is one page with table, findings, settings and link', async () => {
  const { tab, complaints } = await openPage({ colorScheme: 'dark' });
  for (const example of [0, 1, 2]) {
    await tab.getByRole('button', { name: 'Families' }).click();
    await tab.locator('#family-menu .menu-group').nth(1).getByRole('button').nth(example).click();
    await shown(tab);
    await tab.locator('#report[data-ready]').waitFor({ state: 'attached' });
    const pdf = await tab.pdf();
    const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length;
    assert.equal(pages, 1, `example ${example}`);
    // What the page was while it was printed is gone afterwards.
    assert.equal(await tab.locator('#report').isVisible(), false);
  }
  await tab.getByRole('button', { name: 'Families' }).click();
  await tab.getByRole('button', { name: 'Begin anew' }).click();
  await sketchTwoArches(tab);
  await tab.getByRole('textbox', { name: 'Name of the family' }).fill('Hoods for the mole');
  await tab.getByRole('button', { name: 'Reverse', exact: true }).click();
  await shows(tab, [1, 2], 'faulty');
  const text = await print(tab);
  for (const part of ['Hoods for the mole', '1 pair: 0 clear, 1 faulty, 0 unproven', 'twist up to 90 degrees', 'fold', 'Where: ', 'Any blend', `${address}#`]) {
    assert.ok(text.includes(part), `${part} in ${text}`);
  }
  assert.equal(await tab.locator('#report td').filter({ hasText: 'faulty' }).count(), 1);
  assert.equal(await tab.locator('main').isVisible(), false);
  await keepScreenshot(tab, 'report');
  assert.deepEqual(complaints, []);
});

test('what is known of making the shown piece is printed with all that it was worked out from', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Hoods that agree$/);
  assert.doesNotMatch(await print(tab), /Making of piece/);
  await tab.emulateMedia({ media: 'screen' });
  await tab.locator('#making-place > summary').click();
  await tab.locator('tr.check').first().waitFor({ timeout: 30_000 });
  await tab.locator('#making').getByLabel('Radius of the cutter, mm').fill('7.5');
  await tab.locator('#making').getByLabel('Radius of the cutter, mm').press('Enter');
  await tab.locator('.check-basis').getByText('7.5 mm', { exact: false }).first().waitFor({ timeout: 30_000 });
  const checks = await tab.locator('tr.check th').allInnerTexts();
  const text = await print(tab);
  assert.match(text, /Making of piece 1/);
  for (const check of checks) assert.ok(text.includes(check), `${check} in ${text}`);
  assert.match(text, /cutter.*7\.5 mm/is);
  const rows = tab.locator('#report .report-checks tbody tr');
  assert.equal(await rows.count(), checks.length);
  for (const row of await rows.all()) assert.match(await row.locator('td').last().innerText(), /\w{4}.*\./);
  await tab.locator('#report .report-making').scrollIntoViewIfNeeded();
  await keepScreenshot(tab, 'report-making');
  const pages = (await tab.pdf()).toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length;
  assert.equal(pages, 2);
  assert.deepEqual(complaints, []);
});

for (const [name, viewport] of /** @type {const} */ ([['desktop', { width: 1280, height: 900 }], ['phone', { width: 360, height: 740 }]])) {
  for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
    test(`where a series was set, the report leads to it too: ${name}, ${colorScheme}`, async () => {
      const { tab, complaints } = await openPage({ viewport, colorScheme });
      await openExample(tab, /^Hoods that agree$/);
      assert.match(await print(tab), /The whole family: http/);
      await tab.emulateMedia({ media: 'screen' });
      await tab.locator('#series-place > summary').click();
      await tab.getByLabel('Piece number').fill('12');
      await tab.getByLabel('Piece number').press('Enter');
      await tab.waitForFunction(() => localStorage.getItem('loftkin.work')?.includes('~'), undefined, { timeout: 30_000 });
      const text = await print(tab);
      const whole = await link(tab);
      assert.ok(text.includes(`The family, its series and the piece that is shown: ${whole}`), text);
      assert.equal(await readCode(tab.locator('#report .qr')), whole);
      await tab.locator('#report .report-link').scrollIntoViewIfNeeded();
      await keepScreenshot(tab, `report-series-${name}-${colorScheme}`);
      assert.deepEqual(complaints, []);
    });
  }
}

test('a series that a QR code does not hold is left out of the report, which says so', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(38));
  // Numbers without a pattern, which take all their bits.
  const any = (/** @type {number} */ seed) => Math.sin(seed * 91.7);
  const stations = Array.from({ length: 24 }, (_, index) => ({ at: 5 * index + any(index), scale: 1 + any(index + 30) / 10, right: any(index + 60), up: any(index + 90), turn: any(index + 120) }));
  await tab.evaluate((content) => {
    const carried = new DataTransfer();
    carried.items.add(new File([content], 'stations.series.json'));
    document.body.dispatchEvent(new DragEvent('drop', { dataTransfer: carried, bubbles: true, cancelable: true }));
  }, JSON.stringify({ format: 'loftkin-series', version: 1, placement: 'stack', stations }));
  await tab.waitForFunction(() => localStorage.getItem('loftkin.work')?.includes('~'), undefined, { timeout: 30_000 });
  const text = await print(tab);
  const whole = await link(tab);
  const [family] = whole.split('~');
  assert.ok(family.length < 2953 && 2953 < whole.length, `${family.length} and ${whole.length} characters`);
  assert.match(text, /The family without its series: .* With its series the link has [\d,]+ characters, and a QR code holds 2,953 at most\. Ask for the series file\./);
  assert.equal(await readCode(tab.locator('#report .qr')), family);
  assert.deepEqual(complaints, []);
});

test('the report draws its signs itself, and leaves room for a browser that sets its lines larger', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(14, { reversed: [3] }));
  await shows(tab, [1, 3], 'faulty');
  await print(tab);
  // A symbol in a part that is not printed is drawn by some browsers only.
  assert.equal(await tab.locator('#report use').count(), 0);
  const signs = await tab.locator('#report td .sign').evaluateAll((all) => all.map((one) => one.getAttribute('viewBox') === '0 0 16 16' && one.childElementCount));
  assert.ok(signs.length === 105 && signs.every((shapes) => shapes === 1), String(signs));
  assert.deepEqual(complaints, []);
  for (const example of [0, 1, 2]) {
    const other = await openPage();
    await other.tab.getByRole('button', { name: 'Families' }).click();
    await other.tab.locator('#family-menu .menu-group').nth(1).getByRole('button').nth(example).click();
    await shown(other.tab);
    // The room of A4 inside its margins, in pixels of which 96 are an inch.
    const [wide, high] = [210 - 22, 297 - 22].map((mm) => (mm * 96) / 25.4);
    await other.tab.setViewportSize({ width: Math.floor(wide), height: 900 });
    await print(other.tab);
    const { height, line } = await other.tab.locator('#report').evaluate((report) => ({ height: report.getBoundingClientRect().bottom + scrollY, line: Number.parseFloat(getComputedStyle(report).lineHeight) }));
    assert.ok(height + 3 * line < high, `example ${example}: ${height} of ${high} pixels`);
    await other.context.close();
  }
});
