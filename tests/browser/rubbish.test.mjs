/**
 * Rubbish and refusals: what arrives may be huge, hostile or cut off, and the browser may refuse what the page asks
 * for. The page says what is the matter, runs nothing of it, and loses nothing.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address, newTab } from './browser.mjs';
import { isOpenAs, openPage, ready, shows, sketchTwoArches } from './page.mjs';

/** A generous bound for five megabytes on a busy machine, milliseconds. */
const PATIENCE = 20_000;

/**
 * Pastes text on the page.
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
 * Pastes text on the page, and adds it to the family that is there.
 *
 * @param {import('playwright-core').Page} tab
 * @param {string} text
 */
async function pasteAndAdd(tab, text) {
  await paste(tab, text);
  await tab.getByRole('button', { name: 'Add its profiles to this family' }).click({ timeout: PATIENCE });
}

/** @param {import('playwright-core').Page} tab */
function work(tab) {
  return tab.evaluate(() => localStorage.getItem('loftkin.work'));
}

test('five megabytes of anything are refused in words, and the family stays', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  const kept = await work(tab);
  const size = 5_000_000;
  const rubbish = {
    letters: 'lantern hoods '.repeat(size / 14),
    points: Array.from({ length: size / 13 }, (_, i) => `${(i * 7919) % 90000}.5 ${(i * 104729) % 8000}`).join('\n'),
    brackets: '['.repeat(size),
    'nested fields': '{"a":'.repeat(size / 5),
    elements: `<svg xmlns="http://www.w3.org/2000/svg">${'<g>'.repeat(size / 3)}`,
    'share code': `loft1.${'A'.repeat(size)}`,
  };
  for (const [what, text] of Object.entries(rubbish)) {
    await paste(tab, text);
    const alert = tab.locator('#notices [role=alert]');
    await alert.first().waitFor({ timeout: PATIENCE });
    const said = await alert.first().innerText();
    assert.ok(said.length < 600, `${what}: ${said.length} characters are said`);
    assert.equal(await work(tab), kept, what);
    assert.equal(await tab.locator('#arrival').isVisible(), false, `${what}: nothing is asked about what cannot be read`);
    // It stands while the person only looks on.
    await tab.mouse.move(300, 400);
    await tab.mouse.move(320, 420);
    await alert.first().getByRole('button', { name: 'Close' }).click();
  }
  await isOpenAs(tab, 2);
  assert.deepEqual(complaints, []);
});

test('dropped rubbish is read first and refused by its name, and goes with the next act that works', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  const drop = (/** @type {[string, string][]} */ files) => tab.evaluate((all) => {
    const carried = new DataTransfer();
    for (const [name, text] of all) carried.items.add(new File([text], name, { type: name.endsWith('png') ? 'image/png' : 'text/plain' }));
    document.body.dispatchEvent(new DragEvent('drop', { dataTransfer: carried, bubbles: true, cancelable: true }));
  }, files);
  const alert = tab.locator('#notices [role=alert]');
  const series = '{"format":"loftkin-series","version":1,"stations":[';
  for (const [name, text, told] of [
    ['x.txt', 'nothing of a curve', 'holds a point'], ['x.stl', 'solid x\nendsolid x', ''], ['cut.series.json', series, ''],
    ['odd.series.json', `${series}]}`, ''], ['p.png', 'no picture', 'damaged picture'],
  ]) {
    // Twice: one sentence stands once.
    for (let i = 0; i < 2; i += 1) {
      await drop([[name, text]]);
      await alert.filter({ hasText: `“${name}”` }).filter({ hasText: told }).waitFor();
      assert.equal(await alert.count(), 1, `${name}: ${await alert.allInnerTexts()}`);
      assert.equal(await tab.locator('#arrival').isVisible(), false);
    }
  }
  await drop([['x.txt', 'nothing'], ['rim.txt', '0 0\n10 8\n25 12\n50 0']]);
  await tab.getByRole('heading', { name: 'What is to be done with “rim.txt”?' }).waitFor();
  await tab.getByRole('button', { name: 'Leave it' }).click();
  await alert.filter({ hasText: '“x.txt”' }).waitFor();
  await isOpenAs(tab, 2);
  await tab.getByRole('button', { name: 'Mirror', exact: true }).click();
  await alert.waitFor({ state: 'detached' });
  assert.deepEqual(complaints, []);
});

test('a hostile SVG drawing runs nothing, fetches nothing and hides nothing', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  const svg = (/** @type {string} */ inside, before = '') => `${before}<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm" viewBox="0 0 100 100" onload="window.hacked=1">${inside}</svg>`;
  const path = '<path d="M10 10 C20 60 60 60 90 10" onclick="window.hacked=2"/>';
  const harmless = [
    `<script>window.hacked = 3</script>${path}`,
    `<script href="https://elsewhere.invalid/a.js"/><image href="https://elsewhere.invalid/a.png" width="9" height="9"/>${path}`,
    `<style>@import url(https://elsewhere.invalid/a.css);</style><use xlink:href="https://elsewhere.invalid/a.svg#b"/>${path}`,
    `<foreignObject width="9" height="9"><iframe xmlns="http://www.w3.org/1999/xhtml" src="https://elsewhere.invalid/"/></foreignObject><a href="javascript:window.hacked=4">${path}</a>`,
    `<animate attributeName="d" to="url(https://elsewhere.invalid/)" onbegin="window.hacked=5"/>${path}`,
  ];
  for (const [index, inside] of harmless.entries()) {
    await pasteAndAdd(tab, svg(inside));
    await isOpenAs(tab, 3 + index);
  }
  const kept = await work(tab);
  // Entities: the external one (OWASP, XML external entity), and the one that grows (billion laughs).
  const laughs = Array.from({ length: 9 }, (_, i) => `<!ENTITY a${i + 1} "${`&a${i};`.repeat(10)}">`).join('');
  for (const doctype of ['<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>', `<!DOCTYPE svg [<!ENTITY a0 "ha">${laughs}]>`]) {
    await paste(tab, svg(`<title>&x;&a9;</title>${path}`, doctype));
    await tab.getByRole('alert').filter({ hasText: /document type/ }).waitFor();
    await tab.getByRole('alert').getByRole('button', { name: 'Close' }).click();
  }
  assert.equal(await work(tab), kept);
  assert.equal(await tab.evaluate(() => /** @type {any} */ (window).hacked), undefined);
  assert.equal(await tab.locator('script:not([src="main.js"]), iframe').count(), 0);
  assert.deepEqual(complaints, []);
});

test('a name that looks like markup stays text everywhere', async () => {
  const { tab, complaints } = await openPage();
  const name = '<img src=x onerror=window.hacked=1>';
  const nodes = [[0, 0], [10, 8], [25, 12], [50, 0]];
  const family = { format: 'loftkin-family', version: 1, unit: 'mm', grid: 0.01, name, profiles: [{ name, nodes }, { name, nodes: nodes.map(([x, y]) => [x, y + 9]) }] };
  await tab.evaluate((content) => {
    const carried = new DataTransfer();
    carried.setData('text/plain', content);
    document.body.dispatchEvent(new ClipboardEvent('paste', { clipboardData: carried, bubbles: true, cancelable: true }));
  }, JSON.stringify(family));
  await isOpenAs(tab, 2);
  for (const opener of ['Share', 'Families']) await tab.getByRole('button', { name: opener, exact: true }).click();
  await tab.locator('#report[data-ready]').waitFor({ state: 'attached' });
  await tab.evaluate(() => window.dispatchEvent(new Event('beforeprint')));
  assert.equal(await tab.locator('img[src="x"]').count(), 0);
  assert.equal(await tab.evaluate(() => /** @type {any} */ (window).hacked), undefined);
  assert.deepEqual(complaints, []);
});

test('a link cut at every length says so and leaves the work alone', async () => {
  const { tab, complaints } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  await tab.getByRole('button', { name: 'Share', exact: true }).click();
  const link = await tab.getByRole('textbox', { name: 'The link' }).inputValue();
  const code = link.slice(link.indexOf('#') + 1);
  const kept = await work(tab);
  const silent = await tab.evaluate(async (whole) => {
    const lengths = [];
    for (let length = 1; length < whole.length; length += 1) {
      for (const notice of document.querySelectorAll('#notices > *')) notice.remove();
      const followed = new Promise((resolve) => window.addEventListener('hashchange', () => setTimeout(resolve), { once: true }));
      location.hash = whole.slice(0, length);
      await followed;
      const said = document.querySelector('#notices [role=alert]')?.textContent ?? '';
      if (!said.includes('Your own work is untouched')) lengths.push(length);
    }
    return lengths;
  }, code);
  assert.deepEqual(silent, []);
  assert.equal(await work(tab), kept);
  await isOpenAs(tab, 2);
  assert.deepEqual(complaints, []);
});

test('without storage the page works and says that nothing is kept', async () => {
  const { tab, context } = await newTab({ viewport: { width: 1280, height: 900 } });
  await context.addInitScript(() => {
    Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('denied', 'SecurityError'); } });
  });
  await tab.goto(address);
  await ready(tab);
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  await tab.getByRole('alert').filter({ hasText: 'keeps nothing for this page' }).waitFor();
  await tab.getByLabel('Colours').selectOption('dark');
});

test('a full storage is said once, and what was kept before is still there', async () => {
  const { tab } = await openPage();
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  await tab.waitForFunction(() => localStorage.getItem('loftkin.work') !== null);
  const kept = await work(tab);
  // Really full: quotas are a few megabytes.
  await tab.evaluate(() => {
    for (let size = 1 << 22; 1 <= size; size >>= 1) {
      for (let i = 0; i < 16; i += 1) {
        try {
          localStorage.setItem(`filler ${size} ${i}`, 'x'.repeat(size));
        } catch {
          break;
        }
      }
    }
  });
  for (let i = 0; i < 6; i += 1) await tab.getByRole('button', { name: 'Copy', exact: true }).click();
  await tab.getByRole('alert').filter({ hasText: 'storage for this page is full' }).waitFor();
  assert.equal(await tab.getByRole('alert').filter({ hasText: 'storage for this page is full' }).count(), 1);
  assert.ok(kept && (await work(tab)));
});

for (const [how, refuse] of /** @type {[string, () => void][]} */ ([
  ['missing', () => { delete /** @type {any} */ (globalThis).WebAssembly; }],
  ['forbidden', () => {
    const refused = () => Promise.reject(new WebAssembly.CompileError('Wasm code generation disallowed by embedder'));
    Object.assign(WebAssembly, { instantiateStreaming: refused, instantiate: refused, compile: refused, compileStreaming: refused });
  }],
])) {
  test(`a browser in which WebAssembly is ${how} is told so`, async () => {
    const { tab, context } = await newTab();
    await context.addInitScript(refuse);
    await tab.goto(address);
    await tab.getByRole('alert').filter({ hasText: 'proves in WebAssembly, which this browser refuses' }).waitFor();
    assert.equal(await tab.locator('#main').isVisible(), false);
  });
}
