/**
 * Without network: the hosted page works after the first visit, asks no one for anything, and gives way to a newer
 * build as a whole.
 */

import assert from 'node:assert/strict';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { newTab } from './browser.mjs';
import { openPage, ready, shows, sketchTwoArches } from './page.mjs';

const TYPES = { '.html': 'text/html', '.js': 'text/javascript', '.css': 'text/css', '.wasm': 'application/wasm', '.svg': 'image/svg+xml' };

/** Serves a copy of dist/ that a test may change, below a path of its own. */
async function serveCopy() {
  const folder = mkdtempSync(join(tmpdir(), 'loftkin-offline-'));
  cpSync(fileURLToPath(new URL('../../dist/', import.meta.url)), folder, { recursive: true });
  const server = createServer((request, response) => {
    const name = new URL(request.url ?? '/', 'http://host').pathname.replace('/deep/page/', '') || 'index.html';
    try {
      const body = readFileSync(join(folder, name));
      response.writeHead(200, { 'Content-Type': TYPES[/** @type {'.html'} */ (extname(name))] ?? 'text/plain', 'Cache-Control': 'no-cache' }).end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', () => resolve(undefined)));
  after(() => {
    server.close();
    rmSync(folder, { recursive: true });
  });
  const { port } = /** @type {import('node:net').AddressInfo} */ (server.address());
  return { folder, server, home: `http://127.0.0.1:${port}/deep/page/` };
}

/** @param {import('playwright-core').Page} tab */
async function kept(tab) {
  await tab.evaluate(() => navigator.serviceWorker.ready);
  await tab.waitForFunction(() => navigator.serviceWorker.controller !== null);
  return tab.evaluate(async () => {
    const [name, ...more] = await caches.keys();
    const files = (await (await caches.open(name)).keys()).map(({ url }) => url);
    return { name, more, files };
  });
}

test('after the first visit the page works with the network shut, mending included', async () => {
  const { home } = await serveCopy();
  const { tab, context, complaints } = await newTab({ viewport: { width: 1280, height: 900 }, serviceWorkers: 'allow', home });
  await tab.goto(home);
  await ready(tab);
  const { files, more } = await kept(tab);
  assert.deepEqual(more, []);
  for (const name of ['index.html', 'main.js', 'loftkin_page_bg.wasm', 'loftkin_worker_bg.wasm', 'worker.js', 'style.css']) {
    assert.ok(files.includes(home + name), `${name} in ${files}`);
  }
  assert.ok(!files.includes(`${home}loftkin.html`));
  await context.setOffline(true);
  await tab.reload();
  await ready(tab);
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  assert.ok(await tab.evaluate(async () => (await fetch('loftkin_worker_bg.wasm')).ok));
  await tab.getByRole('link', { name: 'guide' }).click();
  await tab.getByRole('heading', { name: /can be believed/ }).waitFor();
  assert.equal(await tab.getByAltText(/profile curves of lantern hoods/).evaluate((picture) => /** @type {HTMLImageElement} */ (picture).naturalWidth > 0), true);
  assert.deepEqual(complaints, []);
});

test('a newer build is offered, taken as a whole, and the former is thrown away', async () => {
  const { home, folder } = await serveCopy();
  const { tab, complaints } = await newTab({ viewport: { width: 1280, height: 900 }, serviceWorkers: 'allow', home });
  await tab.goto(home);
  await ready(tab);
  const first = await kept(tab);
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');

  const change = (/** @type {string} */ name, /** @type {string | RegExp} */ from, /** @type {string} */ to) => {
    const text = readFileSync(join(folder, name), 'utf8');
    assert.notEqual(text.replace(from, to), text);
    writeFileSync(join(folder, name), text.replace(from, to));
  };
  change('index.html', '<title>Loftkin</title>', '<title>Loftkin, newer</title>');
  change('offline.js', /version:"[0-9a-f]{16}"/, 'version:"0123456789abcdef"');

  // The former build goes on until the person takes the newer one.
  await tab.reload();
  await ready(tab);
  assert.equal(await tab.title(), 'Loftkin');
  await tab.getByRole('button', { name: 'Begin it now' }).click();
  await tab.waitForFunction(() => document.title === 'Loftkin, newer');
  await ready(tab);
  await shows(tab, [1, 2], 'clear');
  await tab.waitForFunction(async () => (await caches.keys()).length === 1);
  const second = await kept(tab);
  assert.notEqual(second.name, first.name);
  assert.match(second.name, /0123456789abcdef$/);
  assert.deepEqual(complaints, []);
});

test('the policy of the page forbids every request to elsewhere', async () => {
  const { tab } = await openPage();
  const asked = await tab.evaluate(async () => {
    const elsewhere = 'https://elsewhere.invalid/';
    const told = new Promise((resolve) => document.addEventListener('securitypolicyviolation', (event) => resolve(event.effectiveDirective), { once: true }));
    const failed = await fetch(elsewhere).then(() => false, () => true);
    const picture = new Image();
    const unloaded = new Promise((resolve) => { picture.onerror = () => resolve(true); });
    picture.src = elsewhere;
    return { failed, directive: await told, unloaded: await unloaded };
  });
  assert.equal(asked.failed, true);
  assert.equal(asked.directive, 'connect-src');
  assert.equal(asked.unloaded, true);
});
