/**
 * The page in one file, opened from the disk: it works, keeps a link in its address, and asks no one for anything.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { newTab } from './browser.mjs';
import { ready, shows, sketchTwoArches } from './page.mjs';

const file = new URL('../../dist/loftkin.html', import.meta.url).href;

test('the page in one file judges a sketch and opens a link, from a disk', async () => {
  const { context, tab, complaints } = await newTab({ viewport: { width: 1280, height: 900 }, home: file });
  await tab.goto(file);
  await ready(tab);
  await sketchTwoArches(tab);
  await shows(tab, [1, 2], 'clear');
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await tab.getByRole('button', { name: 'Copy link' }).click();
  const link = await tab.evaluate(() => navigator.clipboard.readText());
  assert.ok(link.startsWith(`${file}#`), link);

  const other = await newTab({ home: file });
  await other.tab.goto(link);
  await ready(other.tab);
  await shows(other.tab, [1, 2], 'clear');
  assert.deepEqual([...complaints, ...other.complaints], []);
});
