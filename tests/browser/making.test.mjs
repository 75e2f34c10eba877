/**
 * The place "Making": each check as a map on the piece, how far the proof of the draft reaches, the best draw, two
 * halves with their parting line, the passes of the cutter.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { accessibilityScript } from './browser.mjs';
import { openExample, openPage, shown } from './page.mjs';

/**
 * @param {RegExp} name
 * @param {import('playwright-core').BrowserContextOptions} [options]
 */
async function openMaking(name, options = {}) {
  const opened = await openPage(options);
  await openExample(opened.tab, name);
  await opened.tab.locator('#making-place > summary').click();
  await opened.tab.locator('tr.check').first().waitFor({ timeout: 30_000 });
  await reached(opened.tab);
  return opened;
}

/** Waits until it is told how far the proof reaches. @param {import('playwright-core').Page} tab */
async function reached(tab) {
  await tab.locator('.map-said').getByText('of the skin', { exact: false }).first().waitFor({ timeout: 30_000 });
}

/**
 * The pixels of the piece's picture, counted by which side of the limit their colour is on.
 * @param {import('playwright-core').Page} tab
 */
async function sides(tab) {
  await shown(tab);
  return tab.locator('.check-picture canvas').evaluate((/** @type {HTMLCanvasElement} */ canvas) => new Promise((resolve) => {
    // What is drawn is to be read in the frame in which it is drawn.
    canvas.dispatchEvent(new KeyboardEvent('keydown', { key: '0' }));
    requestAnimationFrame(() => {
      const copy = document.createElement('canvas');
      [copy.width, copy.height] = [canvas.width, canvas.height];
      const context = /** @type {CanvasRenderingContext2D} */ (copy.getContext('2d'));
      context.drawImage(canvas, 0, 0);
      const { data } = context.getImageData(0, 0, copy.width, copy.height);
      const counts = { kept: 0, broken: 0 };
      for (let at = 0; at < data.length; at += 4) {
        if (data[at + 3] === 0) continue;
        const warm = data[at] - data[at + 2];
        if (warm < -20) counts.kept += 1;
        if (60 < warm) counts.broken += 1;
      }
      resolve(counts);
    });
  }));
}

/** @param {import('playwright-core').Page} tab @param {string} kind */
async function choose(tab, kind) {
  await tab.locator(`tr.check[data-kind="${kind}"] button`).click();
  const what = await tab.locator(`tr.check[data-kind="${kind}"] th`).innerText();
  await tab.locator('.check-head').getByText(what, { exact: true }).waitFor({ timeout: 10_000 });
}

test('each check paints the piece, with its limit and its worst place', async () => {
  const { tab, complaints } = await openMaking(/^Closed rims that agree$/);
  for (const [kind, limit] of [['draft', 'limit 2°'], ['cutter', 'limit 3 mm'], ['scallop', 'limit 0.02 mm'], ['bend', 'limit 2 mm'], ['thinning', 'limit 0.5 mm'], ['pressure', 'limit 0.7 MPa'], ['offset', 'limit 1']]) {
    await choose(tab, kind);
    await tab.locator('.map-labels').getByText(limit, { exact: true }).waitFor();
    await tab.locator('.map-said').getByText(kind === 'cutter' ? 'no hollow on the side of the cutter' : 'Worst:', { exact: false }).waitFor();
    assert.equal(await tab.locator(`tr.check[data-kind="${kind}"] button`).getAttribute('aria-pressed'), 'true');
    const { kept, broken } = /** @type {{kept: number, broken: number}} */ (await sides(tab));
    assert.ok(1000 < kept + broken, `${kind}: ${kept} and ${broken} pixels`);
    // Rims one like the other make a deep piece with ample radii: its sheet keeps half its gauge near the rim only.
    if (kind === 'bend' || kind === 'cutter') assert.ok(broken < kept / 20, `${kind}: ${kept} and ${broken}`);
    if (kind === 'thinning') assert.ok(0 < kept && kept < broken, `${kind}: ${kept} and ${broken}`);
  }
  await tab.getByRole('button', { name: 'Turn to the worst place' }).click();
  assert.deepEqual(complaints, []);
});

test('a limit that is changed moves the sides, and the proof says how far it reaches', async () => {
  const { tab, complaints } = await openMaking(/^Hoods that agree$/);
  const before = /** @type {{kept: number, broken: number}} */ (await sides(tab));
  await tab.locator('.proof-keys').getByText('proved undercut').waitFor();
  assert.equal(await tab.locator('.limit-bar .zero-mark').count(), 1);
  const shares = await tab.locator('.map-said').getByText('proved undercut', { exact: false }).first().innerText();
  const whole = [...shares.matchAll(/([\d.]+) %/g)].reduce((sum, [, share]) => sum + Number(share), 0);
  assert.ok(Math.abs(whole - 100) < 0.01, shares);
  await tab.getByLabel('Least draft, degrees').fill('89');
  await tab.getByLabel('Least draft, degrees').press('Enter');
  await tab.locator('.map-labels').getByText('limit 89°').waitFor();
  await reached(tab);
  const after = /** @type {{kept: number, broken: number}} */ (await sides(tab));
  assert.ok(before.kept === 0 || after.kept < before.kept, `${before.kept} and ${after.kept}`);
  assert.deepEqual(complaints, []);
});

test('the best draw is told, taken and can be typed otherwise', async () => {
  const { tab, complaints } = await openMaking(/^Hoods that agree$/);
  const worst = async () => Number.parseFloat(await tab.locator('tr.check[data-kind="draft"] td').first().innerText());
  const before = await worst();
  await tab.getByRole('button', { name: 'Find the best draw' }).click();
  await tab.getByText('It is taken as the direction of draw.', { exact: false }).waitFor();
  assert.equal(await tab.getByRole('combobox', { name: 'Direction of draw', exact: true }).inputValue(), 'other');
  await tab.waitForFunction((former) => Number.parseFloat(/** @type {HTMLElement} */ (document.querySelector('tr.check[data-kind="draft"] td')).innerText) !== former, before);
  assert.ok(before < await worst());
  await tab.getByText(`finds ${await tab.locator('tr.check[data-kind="draft"] td').first().innerText()} at worst`, { exact: false }).waitFor();
  for (const axis of ['x', 'y', 'z']) {
    await tab.getByLabel(`Direction of draw, ${axis}`).fill('0');
    await tab.getByLabel(`Direction of draw, ${axis}`).press('Enter');
  }
  await tab.getByText('the direction of draw has no length', { exact: false }).waitFor();
  assert.equal(await tab.getByLabel('Direction of draw, z').getAttribute('aria-invalid'), 'true');
  assert.deepEqual(complaints, []);
});

test('what is typed by half is not yet asked about', async () => {
  const { tab, complaints } = await openMaking(/^Hoods that agree$/);
  await tab.getByRole('combobox', { name: 'Direction of draw', exact: true }).selectOption('other');
  await tab.getByLabel('Direction of draw, z').fill('0');
  // As when an answer comes while one types, and a map is asked for: no field is left.
  for (const kind of ['draft', 'cutter']) {
    await tab.locator(`tr.check[data-kind="${kind}"] button`).evaluate((choose) => /** @type {HTMLElement} */ (choose).click());
  }
  await tab.locator('.check-head').getByText(await tab.locator('tr.check[data-kind="cutter"] th').innerText(), { exact: true }).waitFor();
  assert.equal(await tab.getByText('has no length', { exact: false }).count(), 0);
  assert.deepEqual(complaints, []);
});

test('two halves part along lines whose length is told', async () => {
  const { tab, complaints } = await openMaking(/^Closed rims that agree$/, { viewport: { width: 360, height: 740 } });
  await tab.getByRole('combobox', { name: 'Direction of draw', exact: true }).selectOption('right');
  await tab.getByLabel('The mould comes off').selectOption('two');
  // Five equal rims in a stack of 4 steps: two rulings, each as long as the stack is high.
  await tab.locator('.map-said').getByText(/^2 parting lines, [\d.]+ mm in all/).waitFor({ timeout: 20_000 });
  assert.ok(await tab.getByRole('button', { name: 'Find the best draw' }).isDisabled());
  // There the skin runs along the direction of draw, so its draft is 0.
  const row = tab.locator('tr.check[data-kind="draft"]');
  await row.locator('.kept').getByText('not at the line').waitFor();
  // How far from the line it is below the limit is seen and proved, in the row and beside the picture.
  const basis = tab.locator('tr.check[data-kind="draft"] + .check-help .check-basis');
  await basis.getByText(/below 2 degrees up to [\d.]+ mm from the parting line, along the skin, widest at [\d., -]+ mm; seen at sampled places; proved: nowhere farther than [\d.]+ mm from the line/).waitFor();
  await tab.locator('.map-said').getByText('a parting land (common practice)', { exact: false }).waitFor();
  const told = await basis.innerText();
  const [seen, proved] = [/up to ([\d.]+) mm/, /farther than ([\d.]+) mm/].map((what) => Number(what.exec(told)?.[1]));
  assert.ok(0 < seen && seen <= proved && proved < 1.5 * seen, told);
  // A band that is accepted, below what was seen and above what is proved.
  const accepted = tab.getByLabel('Band accepted at the parting line, mm');
  for (const [most, kept] of /** @type {[number, string][]} */ ([[seen / 2, 'seen wider'], [proved + 0.1, 'kept'], [0, 'not at the line']])) {
    await accepted.fill(String(most));
    await accepted.press('Enter');
    await row.locator('.kept').getByText(kept, { exact: true }).waitFor({ timeout: 20_000 });
  }
  const { width, room } = await tab.locator('.checks').evaluate((table) => ({ width: table.scrollWidth, room: /** @type {Element} */ (table.parentElement).clientWidth }));
  assert.ok(width <= room, `a table of ${width} px in ${room} px`);
  await accepted.fill('-1');
  await accepted.press('Enter');
  await tab.locator('#making .refused').getByText('0 mm or more', { exact: false }).waitFor();
  assert.equal(await tab.locator('#wrong-mostBand').innerText(), 'Give 0 or a number above 0.');
  await tab.getByLabel('The mould comes off').selectOption('one');
  assert.ok(await accepted.isHidden());
  assert.deepEqual(complaints, []);
});

test('a limit that cannot be is marked beside its field, and the marks go when it is put right', async () => {
  const { tab, complaints } = await openMaking(/^Closed rims that agree$/);
  const field = tab.getByLabel('Least draft, degrees');
  await field.fill('-40');
  await field.press('Enter');
  await tab.locator('#making .refused').getByText('least draft', { exact: false }).waitFor();
  assert.equal(await field.getAttribute('aria-invalid'), 'true');
  assert.equal(await tab.locator('#wrong-leastDraft').innerText(), 'Give a number above 0.');
  await field.fill('3');
  await field.press('Enter');
  await tab.locator('#making .refused').waitFor({ state: 'hidden' });
  assert.equal(await field.getAttribute('aria-invalid'), 'false');
  assert.equal(await tab.locator('#wrong-leastDraft').innerText(), '');
  assert.deepEqual(complaints, []);
});

for (const width of [360, 1440]) {
  test(`no choice is cut off at ${width} px`, async () => {
    const { tab, complaints } = await openMaking(/^Closed rims that agree$/, { viewport: { width, height: 800 } });
    await tab.locator('#finish-place > summary').click();
    await tab.getByLabel('The piece hangs').waitFor();
    const cut = await tab.locator('#making select, #finish select').evaluateAll((all) => all.flatMap((one) => {
      const select = /** @type {HTMLSelectElement} */ (one);
      const pen = /** @type {CanvasRenderingContext2D} */ (document.createElement('canvas').getContext('2d'));
      const { font, paddingLeft } = getComputedStyle(select);
      pen.font = font;
      // The arrow of the browser takes some 20 pixels.
      const room = select.clientWidth - 2 * Number.parseFloat(paddingLeft) - 20;
      return [...select.options].filter(({ text }) => room < pen.measureText(text).width).map(({ text }) => text);
    }));
    assert.deepEqual(cut, []);
    assert.deepEqual(complaints, []);
  });
}

test('a finger is told to touch', async () => {
  const { tab, complaints } = await openMaking(/^Closed rims that agree$/, { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
  await tab.locator('.map-reading').getByText('Touch the skin').waitFor();
  assert.deepEqual(complaints, []);
});

test('help gives formula, source, caution, and the formulas that thinning is held against', async () => {
  const { tab, complaints } = await openMaking(/^Closed rims that agree$/);
  await tab.locator('.check-help details[data-kind="thinning"] summary').click();
  for (const text of ['volume constancy', 'free dome', 'long free trough', 'design estimate']) await tab.locator('.check-help details[data-kind="thinning"]').getByText(text, { exact: false }).first().waitFor();
  await choose(tab, 'scallop');
  await tab.getByText(/The thin lines are (every \d+th pass|the passes) of the cutter/).waitFor();
  await choose(tab, 'offset');
  await tab.getByText('Between parts of the skin that face one another the sheet was seen to take less than 0.8 of the room', { exact: false }).first().waitFor({ timeout: 30_000 });
  await tab.getByRole('table', { name: /Stretch of the sheet from flat/ }).waitFor();
  assert.deepEqual(complaints, []);
});

test('a value is read under the pointer, and limits are kept for the next visit', async () => {
  const { tab, complaints } = await openMaking(/^Closed rims that agree$/);
  await choose(tab, 'pressure');
  const box = await tab.locator('.check-picture canvas').boundingBox();
  if (!box) throw new Error('there is no picture');
  await tab.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await tab.locator('.map-reading').getByText(/^Here [\d.e-]+ MPa\.$/).waitFor();
  await tab.mouse.move(box.x + 3, box.y + 3);
  await tab.locator('.map-reading').getByText('Point at the skin').waitFor();
  await tab.getByLabel('Radius of the cutter, mm').fill('4.5');
  await tab.getByLabel('Radius of the cutter, mm').press('Enter');
  await tab.getByLabel('The mould comes off').selectOption('two');
  await tab.reload();
  await tab.locator('#main:not([hidden])').waitFor();
  await tab.locator('#making-place > summary').click();
  await tab.locator('tr.check[data-kind="cutter"]').getByText('at least 4.500 mm').waitFor({ timeout: 30_000 });
  assert.equal(await tab.getByLabel('The mould comes off').inputValue(), 'two');
  assert.deepEqual(complaints, []);
});

for (const [name, viewport] of /** @type {const} */ ([['desktop', { width: 1280, height: 900 }], ['phone', { width: 360, height: 740 }]])) {
  for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
    test(`axe-core finds nothing in Making on a ${name}, ${colorScheme}, and nothing is cut off`, async () => {
      const { tab, complaints } = await openMaking(/^Hoods that agree$/, { viewport, colorScheme, bypassCSP: true });
      await tab.addScriptTag({ path: accessibilityScript() });
      const found = await tab.evaluate(() => /** @type {any} */ (window).axe.run('#making-place'));
      assert.deepEqual(found.violations.map((/** @type {any} */ rule) => `${rule.id}: ${rule.nodes.map((/** @type {any} */ node) => node.html).join(' | ')}`), []);
      assert.ok(await tab.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth));
      assert.deepEqual(complaints, []);
    });
  }
}

test('checks and pictures of a piece go with its family, and are marked while another is counted', async () => {
  const { tab, complaints } = await openMaking(/^Hoods that agree$/);
  await tab.locator('#finish-place > summary').click();
  await tab.locator('#finish .strips figure').first().waitFor({ timeout: 30_000 });
  await tab.evaluate(() => {
    // What ages is looked at while it does: a fast machine counts within a frame or two.
    const seen = /** @type {any} */ (window).seen = new Set();
    new MutationObserver((all) => {
      for (const { target } of all) if (/** @type {Element} */ (target).matches('.past')) seen.add(/** @type {Element} */ (target).closest('details')?.id);
    }).observe(document.body, { subtree: true, attributeFilter: ['class'] });
  });
  await tab.locator('#profiles').getByRole('button', { name: 'Reverse', exact: true }).click();
  await tab.waitForFunction(() => ['series-place', 'making-place', 'finish-place'].every((id) => (/** @type {any} */ (window)).seen.has(id) || !document.getElementById(id)?.hasAttribute('open')), undefined, { timeout: 20_000 });
  // Between looking and pressing a step that is on its way may be the last.
  while (await tab.locator('#undo').isEnabled()) await tab.locator('#undo').click({ timeout: 2000 }).catch(() => {});
  await tab.locator('#making').getByText('There is no piece to make: see Series.').waitFor();
  await tab.locator('#finish').getByText('There is no piece to finish: see Series.').waitFor();
  for (const gone of ['#making tr.check', '#making canvas', '#finish canvas', '#finish .strips figure', '#series canvas', '#series-place .series-piece']) {
    assert.equal(await tab.locator(gone).and(tab.locator(':visible')).count(), 0, gone);
  }
  // With the family its piece is there again.
  await tab.locator('#redo').click();
  await tab.locator('tr.check').first().waitFor({ timeout: 30_000 });
  await tab.waitForFunction(() => !document.querySelector('#making .past, #finish .past'), undefined, { timeout: 30_000 });
  assert.deepEqual(complaints, []);
});

test('the sides of mould and sheet and the fillet decide, and are kept', async () => {
  const { tab, complaints } = await openMaking(/^Closed rims that agree$/);
  const worst = (/** @type {string} */ kind) => tab.locator(`tr.check[data-kind="${kind}"] td`).first();
  // Five equal round rims of 150 mm: no hollow for a cutter outside, one of their radius for a cutter inside.
  await worst('cutter').getByText('unbounded').waitFor();
  await tab.getByLabel('The mould is').selectOption('inside');
  await worst('cutter').getByText(/^1[45]\d\.\d+ mm$/).waitFor({ timeout: 30_000 });
  await tab.locator('.edges').getByText('The mould is female', { exact: false }).waitFor({ state: 'attached' });
  // A sheet of 1 mm is bent to the radius less what lies inside.
  const bend = async () => Number.parseFloat(await worst('bend').innerText());
  const before = await bend();
  await tab.getByLabel('The sheet lies').selectOption('outside');
  await tab.waitForFunction((former) => Number.parseFloat(/** @type {HTMLElement} */ (document.querySelector('tr.check[data-kind="bend"] td')).innerText) !== former, before);
  assert.ok(Math.abs(await bend() - before - 0.5) < 0.002, `${before} and ${await bend()}`);
  await tab.getByLabel('Fillet assumed on sharp edges, mm').fill('6');
  await tab.getByLabel('Fillet assumed on sharp edges, mm').press('Enter');
  await tab.reload();
  await tab.locator('#main:not([hidden])').waitFor();
  await tab.locator('#making-place > summary').click();
  await tab.locator('tr.check').first().waitFor({ timeout: 30_000 });
  const values = ['The mould is', 'The sheet lies', 'Fillet assumed on sharp edges, mm'].map((label) => tab.getByLabel(label).inputValue());
  assert.deepEqual(await Promise.all(values), ['inside', 'outside', '6']);
  assert.deepEqual(complaints, []);
});
