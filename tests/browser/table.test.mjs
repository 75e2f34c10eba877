/**
 * The table of pairs from 2 to 64 profiles: it fits the room, shows only what is in sight, remains a whole grid for
 * a screen reader, sorts, filters, shows margins, and points into the other pictures.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address, fromWww } from './browser.mjs';
import { cell, openPage, ready, shown, shows, sketchTwoArches } from './page.mjs';
import { openFamily, rims } from './families.mjs';

/** @type {import('playwright-core')} */
const { chromium } = fromWww('playwright-core');

/** @param {import('playwright-core').Page} tab */
const sidewaysScroll = (tab) => tab.locator('#table-frame').evaluate((frame) => frame.scrollWidth - frame.clientWidth);

for (const [width, height] of [[1440, 900], [820, 1180], [360, 740]]) {
  test(`eight profiles fit at ${width} pixels, each cell with its sections`, async () => {
    const { tab, complaints } = await openPage({ viewport: { width, height } });
    await openFamily(tab, rims(8));
    await shows(tab, [1, 8], 'clear');
    assert.equal(await tab.locator('#pairs td').count(), 36);
    assert.ok(await sidewaysScroll(tab) <= 0);
    assert.equal(await tab.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0);
    const pictures = await tab.locator('#pairs td .picture-ends').evaluateAll((paths) => paths.map((path) => path.getAttribute('d') ?? ''));
    assert.equal(new Set(pictures).size, 36, 'every cell has a picture of its own');
    assert.ok(pictures.every((data) => data.startsWith('M')));
    assert.deepEqual(complaints, []);
  });
}

test('beside real scroll bars every margin is whole, with its unit', async () => {
  // Others hide them for pictures that are alike.
  const browser = await chromium.launch({ executablePath: process.env.CHROME, args: (process.env.CHROME_FLAGS ?? '').split(' ').filter(Boolean), ignoreDefaultArgs: ['--hide-scrollbars'] });
  try {
    const tab = await browser.newPage({ viewport: { width: 1280, height: 900 } });
    await tab.goto(address);
    await ready(tab);
    // Rims at a scale at which margins have tens of millimetres.
    const large = rims(8);
    for (const profile of large.profiles) profile.nodes = profile.nodes.map(([x, y]) => [4 * x, 4 * y]);
    await openFamily(tab, large);
    await shows(tab, [1, 8], 'clear');
    assert.ok(await tab.evaluate(() => innerWidth - document.documentElement.clientWidth) > 10, 'the scroll bar is there');
    await tab.waitForFunction(() => [...document.querySelectorAll('#pairs td .margin')].every((one) => one.textContent));
    const margins = await tab.locator('#pairs td .margin').evaluateAll((all) => all.map((one) => {
      const text = document.createRange();
      text.selectNodeContents(one);
      const [own, cell] = [text.getBoundingClientRect(), /** @type {Element} */ (one.closest('td')).getBoundingClientRect()];
      return { text: one.textContent ?? '', cut: own.right > cell.right || own.left < cell.left || own.bottom > cell.bottom };
    }));
    assert.ok(margins.filter(({ text }) => 10 <= Number.parseFloat(text)).length > 5, JSON.stringify(margins));
    assert.deepEqual(margins.filter(({ text, cut }) => cut || !text.endsWith(' mm')), []);
  } finally {
    await browser.close();
  }
});

test('a table of 64 makes only what is in sight and tells its whole size', async () => {
  const { tab, complaints } = await openPage({ viewport: { width: 1440, height: 900 } });
  await openFamily(tab, rims(64));
  await shows(tab, [1, 2], 'clear');
  const table = tab.locator('#pairs');
  assert.equal(await table.getAttribute('aria-rowcount'), '65');
  assert.equal(await table.getAttribute('aria-colcount'), '65');
  assert.ok(await tab.locator('#pairs td').count() < 900, 'not all of 2,080 cells');
  await cell(tab, 1, 2).focus();
  await tab.keyboard.press('Control+End');
  await tab.waitForFunction(() => document.activeElement?.getAttribute('data-second') === '63');
  const last = cell(tab, 64, 64);
  assert.equal(await last.getAttribute('aria-colindex'), '65');
  assert.equal(await last.locator('xpath=..').getAttribute('aria-rowindex'), '64');
  assert.match(await last.innerText(), /Profile 64 alone: clear/);
  assert.ok(await last.evaluate((home) => {
    const [own, frame] = [home.getBoundingClientRect(), /** @type {HTMLElement} */ (document.getElementById('table-frame')).getBoundingClientRect()];
    return frame.top <= own.top && own.bottom <= frame.bottom && own.right <= frame.right + 1;
  }), 'it is in sight');
  const rows = await tab.locator('#pairs tbody tr').evaluateAll((all) => all.map((row) => Number(row.getAttribute('aria-rowindex'))));
  assert.deepEqual(rows, [...rows].sort((a, b) => a - b), 'rows stand in the order they are read');
  await tab.locator('label', { hasText: 'Signs' }).click();
  await shown(tab);
  assert.ok(await sidewaysScroll(tab) <= 0, 'as signs all columns fit');
  assert.deepEqual(complaints, []);
});

test('scrolling a table of 64 keeps its cells right', async () => {
  const { tab, complaints } = await openPage({ viewport: { width: 820, height: 900 } });
  await openFamily(tab, rims(64, { reversed: [40] }));
  await shows(tab, [1, 2], 'clear');
  for (const [left, top] of [[600, 1200], [200, 900], [1200, 1300], [0, 0]]) {
    await tab.locator('#table-frame').evaluate((frame, to) => frame.scrollTo(to[0], to[1]), [left, top]);
    await shown(tab);
    const wrong = await tab.locator('#pairs td').evaluateAll((cells) => cells.filter((home) => {
      const about40 = home.dataset.first === '39' || home.dataset.second === '39';
      const alone = home.dataset.first === home.dataset.second;
      return home.dataset.verdict !== (about40 && !alone ? 'faulty' : 'clear');
    }).length);
    assert.equal(wrong, 0);
  }
  assert.deepEqual(complaints, []);
});

test('an edit of one of 64 profiles is shown in every cell of it, in sight or not', async () => {
  const { tab, complaints } = await openPage({ viewport: { width: 1440, height: 900 } });
  await openFamily(tab, rims(64));
  await shows(tab, [1, 2], 'clear');
  await tab.getByRole('button', { name: 'Reverse', exact: true }).click();
  await shows(tab, [1, 2], 'faulty');
  for (const top of [0, 700, 1500]) {
    await tab.locator('#table-frame').evaluate((frame, to) => frame.scrollTo(0, to), top);
    await shown(tab);
    const column = await tab.locator('#pairs td[data-first="0"]:not(.alone)').evaluateAll((cells) => cells.map((home) => home.dataset.verdict));
    assert.ok(5 < column.length && column.every((verdict) => verdict === 'faulty'), column.join());
  }
  await tab.locator('#totals', { hasText: '1953 clear' }).waitFor();
  assert.deepEqual(complaints, []);
});

test('the profiles with most trouble come first, and what is clear can be left out', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(6, { reversed: [4] }));
  await shows(tab, [1, 4], 'faulty');
  const rows = () => tab.locator('#pairs tbody th').evaluateAll((heads) => heads.map((head) => Number(/** @type {HTMLElement} */ (head).dataset.profile) + 1));
  assert.deepEqual(await rows(), [1, 2, 3, 4, 5, 6]);
  await tab.getByLabel('Order of the profiles').selectOption('Most trouble first');
  assert.deepEqual(await rows(), [4, 1, 2, 3, 5, 6]);
  await shows(tab, [3, 4], 'faulty');
  await tab.getByRole('button', { name: 'Reverse', exact: true }).waitFor();
  await tab.getByLabel('Only what is not clear').check();
  assert.equal(await tab.locator('#pairs td.dim').count(), await tab.locator('#pairs td[data-verdict="clear"]').count());
  await tab.locator('#table-tools').getByRole('button', { name: 'Next fault' }).click();
  await shown(tab);
  assert.match(await tab.locator('#pairs td[aria-selected="true"]').innerText(), /Profiles . and .: faulty/);
  await cell(tab, 1, 4).click();
  await tab.getByRole('button', { name: /^Try: Reverse profile 4/ }).click();
  await tab.getByRole('button', { name: 'Keep it', exact: true }).click();
  await tab.getByText('Every pair is clear: nothing is left to show.').waitFor();
  await tab.getByLabel('Only what is not clear').uncheck();
  await shows(tab, [1, 4], 'clear');
  assert.deepEqual(complaints, []);
});

test('margins are shown as figures and shades, with a legend', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(5, { reversed: [2] }));
  await shows(tab, [1, 3], 'clear');
  await tab.locator('label', { hasText: 'Margins' }).click();
  await tab.locator('#pairs td[data-first="0"][data-second="2"][data-heat]').waitFor();
  assert.match(await cell(tab, 1, 3).innerText(), /\d\.\d\d mm/);
  assert.match(await tab.locator('.legend').first().innerText(), /Margin in mm:\s*below 0\.1/);
  assert.equal(await cell(tab, 1, 2).getAttribute('data-heat'), null);
  assert.match(await cell(tab, 1, 2).innerText(), /faulty/);
  assert.deepEqual(complaints, []);
});

test('a profile of the loft stands out in it while a cell that shares it is pointed at', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(4));
  await shows(tab, [1, 2], 'clear');
  const loft = tab.locator('#loft canvas');
  // In the middle, so that taking its picture never scrolls.
  await loft.evaluate((canvas) => canvas.scrollIntoView({ block: 'center' }));
  const picture = async () => {
    await shown(tab);
    return loft.screenshot();
  };
  const before = await picture();
  // The cell may be out of sight beside the loft, where no pointer reaches it.
  await cell(tab, 2, 3).dispatchEvent('pointerover');
  const pointed = await picture();
  await tab.locator('#pairs').dispatchEvent('pointerleave');
  assert.ok(!pointed.equals(before), 'profile 2 stands out');
  assert.ok((await picture()).equals(before), 'and no longer');
  assert.deepEqual(complaints, []);
});

test('a cell pointed at shows its profiles on the board, and a profile its row and column', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(4));
  await shows(tab, [1, 2], 'clear');
  /** How many pixels of the board differ from what was last remembered. */
  const differing = () => tab.locator('#board').evaluate((canvas) => {
    const board = /** @type {HTMLCanvasElement} */ (canvas);
    const now = /** @type {CanvasRenderingContext2D} */ (board.getContext('2d')).getImageData(0, 0, board.width, board.height).data;
    const page = /** @type {any} */ (window);
    page.remembered ??= now;
    return now.reduce((count, value, at) => count + (at % 4 === 3 && Math.abs(value - page.remembered[at]) > 40 ? 1 : 0), 0);
  });
  await tab.mouse.move(2, 2);
  await shown(tab);
  await differing();
  await cell(tab, 3, 4).hover();
  await shown(tab);
  const pointed = await differing();
  assert.ok(300 < pointed, `${pointed} pixels show what is pointed at`);
  assert.deepEqual(await tab.locator('#pairs tfoot th.pointed').evaluateAll((heads) => heads.map((head) => head.textContent?.trim()[0])), ['3', '4']);
  assert.match(await tab.locator('#table-reading').innerText(), /^Profiles 3 and 4: clear/);
  await tab.mouse.move(2, 2);
  await shown(tab);
  const left = await differing();
  assert.ok(left < pointed / 5, `${left} pixels are left of it`);
  assert.deepEqual(complaints, []);
});

test('a new sheet has no table, and two profiles make one', async () => {
  const { tab, complaints } = await openPage();
  assert.equal(await tab.locator('#pairs').isVisible(), false);
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  assert.equal(await tab.locator('#pairs td').count(), 3);
  assert.deepEqual(complaints, []);
});
