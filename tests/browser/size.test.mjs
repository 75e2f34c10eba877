/**
 * What is sent to a visitor: every file of dist/ that a host serves, compressed each by itself as a host does it.
 *
 * Left out are the page in one file, which holds the same once more, for a disk; the worker with its module, which is
 * fetched when a mend or a proof file is first asked for, or a file is opened; and the places after the pairs, the sheets
 * over the page and the list of earlier works, fetched when one is opened;
 * and the guide, which is a page of its own.
 */

import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { test } from 'node:test';
import { gzipSync } from 'node:zlib';

/** Bytes: 450 kB, of a thousand bytes each. */
const MOST = 450_000;

const dist = new URL('../../dist/', import.meta.url);

test('all that is sent stays below 450 kB compressed', () => {
  const names = readdirSync(dist, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name !== 'loftkin.html' && !/worker|^(places|papers|earlier-works)-/.test(entry.name))
    .filter((entry) => !(entry.parentPath ?? entry.path).endsWith('guide'))
    .map((entry) => new URL(entry.name, new URL(`${entry.parentPath ?? entry.path}/`, 'file://')));
  const sizes = names.map((file) => ({ file, sent: gzipSync(readFileSync(file), { level: 9 }).length }));
  sizes.sort((one, other) => other.sent - one.sent);
  const sum = sizes.reduce((total, { sent }) => total + sent, 0);
  for (const { file, sent } of sizes.slice(0, 8)) console.log(`${String(sent).padStart(8)}  ${file.href.slice(dist.href.length)}`);
  console.log(`${String(sum).padStart(8)}  in all, of ${MOST}`);
  assert.ok(names.length > 5, 'dist/ is made');
  assert.ok(sum < MOST, `${sum} bytes are sent`);
});

test('no module tells where it was built', () => {
  const checkout = new URL('../../', import.meta.url).pathname;
  for (const name of ['loftkin_page_bg.wasm', 'loftkin_worker_bg.wasm']) {
    const text = readFileSync(new URL(name, dist)).toString('latin1');
    for (const trace of [checkout, 'registry/src/']) assert.ok(!text.includes(trace), `${name} holds ${trace}`);
  }
});
