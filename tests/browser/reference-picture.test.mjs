/**
 * The reference picture under the curves: laid, moved, made weaker, kept in this browser, removed; what is no picture
 * or too large is refused in words; no link holds it.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { deflateSync } from 'node:zlib';
import { drag, openPage, ready, shown } from './page.mjs';

/**
 * The checksum of PNG (ISO/IEC 15948, annex D).
 * @param {Buffer} bytes
 */
function crc32(bytes) {
  let sum = ~0;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit += 1) sum = (sum >>> 1) ^ (sum & 1 ? 0xedb88320 : 0);
  }
  return ~sum >>> 0;
}

/**
 * A grey picture as a PNG file (ISO/IEC 15948): signature, header, data, end.
 * @param {number} width
 * @param {number} height
 */
function png(width, height) {
  const chunk = (/** @type {string} */ kind, /** @type {Buffer} */ data) => {
    const body = Buffer.concat([Buffer.from(kind, 'latin1'), data]);
    const length = Buffer.alloc(4);
    length.writeUInt32BE(data.length);
    const sum = Buffer.alloc(4);
    sum.writeUInt32BE(crc32(body));
    return Buffer.concat([length, body, sum]);
  };
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  // Eight bits of grey.
  header[8] = 8;
  const rows = Buffer.alloc((width + 1) * height, 120);
  for (let row = 0; row < height; row += 1) rows[row * (width + 1)] = 0;
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([signature, chunk('IHDR', header), chunk('IDAT', deflateSync(rows)), chunk('IEND', Buffer.alloc(0))]);
}

/**
 * @param {import('playwright-core').Page} tab
 * @param {string} name
 * @param {Buffer} buffer
 */
async function lay(tab, name, buffer) {
  const chooser = tab.waitForEvent('filechooser');
  await tab.locator('#sheet').getByRole('button', { name: /^Lay / }).click();
  await (await chooser).setFiles({ name, mimeType: 'application/octet-stream', buffer });
}

/**
 * Waits until the browser's database holds the picture, or none.
 *
 * @param {import('playwright-core').Page} tab
 * @param {number[] | null} place its x and its width in mm, to a hundredth, or nothing where any will do; null: no picture
 */
async function isStored(tab, place) {
  const found = () => tab.evaluate(async (wanted) => {
    /** @type {(request: IDBRequest) => Promise<any>} */
    const answer = (request) => new Promise((resolve, reject) => {
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const base = await answer(indexedDB.open('loftkin', 1));
    try {
      const kept = await answer(base.transaction('reference').objectStore('reference').get('picture'));
      if (!wanted || !kept) return !wanted && !kept;
      const [x, , width] = kept.place;
      return wanted.every((value, at) => Math.abs(value - [x, width][at]) < 0.006);
    } finally {
      base.close();
    }
  }, place);
  while (!await found()) await shown(tab);
}

test('a picture is laid, moved by hand and by figures, kept for the next visit, and is in no link', async () => {
  const { tab, complaints } = await openPage();
  await tab.getByText('Sheet and reference picture').click();
  const code = () => tab.evaluate(() => location.href + JSON.stringify({ ...localStorage }));
  const before = await code();
  await lay(tab, 'hood.png', png(80, 40));
  const picture = tab.locator('img.reference');
  await picture.waitFor();
  const width = tab.locator('#sheet').getByLabel('Width of the picture, mm');
  await width.fill('60');
  await width.press('Enter');
  for (const side of ['x', 'y']) {
    await tab.locator('#sheet').getByLabel(`${side} of the picture, mm`).fill('10');
    await tab.locator('#sheet').getByLabel(`${side} of the picture, mm`).press('Enter');
  }
  await shown(tab);
  const box = /** @type {{x: number, y: number, width: number, height: number}} */ (await picture.boundingBox());
  assert.ok(Math.abs(box.width - 2 * box.height) < 1, 'its proportions are kept');
  await tab.getByRole('button', { name: 'Move by hand' }).click();
  await tab.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await tab.mouse.down();
  await tab.mouse.move(box.x + box.width / 2 + 50, box.y + box.height / 2, { steps: 5 });
  await tab.mouse.up();
  await shown(tab);
  const moved = /** @type {{x: number}} */ (await picture.boundingBox());
  assert.ok(Math.abs(moved.x - box.x - 50) < 1);
  await tab.locator('#sheet').getByLabel('Strength').fill('30');
  await shown(tab);
  assert.equal(await picture.evaluate((image) => getComputedStyle(image).opacity), '0.3');
  await tab.locator('#board').focus();
  const x = Number(await tab.locator('#sheet').getByLabel('x of the picture, mm').inputValue());
  await tab.keyboard.press('ArrowRight');
  await shown(tab);
  assert.equal(Number(await tab.locator('#sheet').getByLabel('x of the picture, mm').inputValue()), Number((x + 0.1).toFixed(2)));
  assert.equal(await code(), before);
  assert.equal(await tab.getByRole('button', { name: 'Undo', exact: true }).isDisabled(), true);
  await isStored(tab, [Number((x + 0.1).toFixed(2)), 60]);
  await tab.reload();
  await ready(tab);
  await picture.waitFor();
  assert.equal(await picture.evaluate((image) => getComputedStyle(image).opacity), '0.3');
  await tab.getByText('Sheet and reference picture').click();
  assert.equal(Number(await width.inputValue()), 60);
  await tab.getByRole('button', { name: 'Remove the picture' }).click();
  await picture.waitFor({ state: 'hidden' });
  await isStored(tab, null);
  await tab.reload();
  await ready(tab);
  assert.equal(await picture.isVisible(), false);
  assert.deepEqual(complaints, []);
});

test('what is no picture, damaged or too large is refused in words and changes nothing', async () => {
  const { tab, complaints } = await openPage();
  await tab.getByText('Sheet and reference picture').click();
  const refused = async (/** @type {string} */ name, /** @type {Buffer} */ buffer, /** @type {RegExp} */ words) => {
    await lay(tab, name, buffer);
    await tab.locator('#notices').getByText(words).waitFor();
    assert.equal(await tab.locator('img.reference').isVisible(), false);
  };
  await refused('notes.txt', Buffer.from('no picture at all'), /“notes.txt” is no picture that can be laid/);
  await refused('bad.svg', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'), /“bad.svg” is no picture/);
  await refused('nothing.png', Buffer.alloc(0), /“nothing.png” is a damaged picture, or none at all/);
  await refused('cut.png', png(40, 40).subarray(0, 30), /“cut.png” begins like a picture but cannot be read/);
  const large = Buffer.alloc(31_000_000);
  png(4, 4).copy(large);
  await refused('large.png', large, /“large.png” has 31 MB: give a picture of 30 MB at most/);
  await refused('wide.png', png(20_000, 2_600), /“wide.png” has 20000 by 2600 pixels: give a picture of 50 million pixels/);
  await lay(tab, 'good.png', png(30, 30));
  await tab.locator('img.reference').waitFor();
  // What failed leaves the laid picture alone.
  await lay(tab, 'notes.txt', Buffer.from('no picture'));
  await tab.locator('#notices').getByText(/“notes.txt” is no picture/).waitFor();
  assert.equal(await tab.locator('img.reference').isVisible(), true);
  assert.deepEqual(complaints.filter((complaint) => !complaint.includes('blob:')), []);
});

test('a dropped picture is laid under the curves, a dropped drawing of curves is not', async () => {
  const { tab, complaints } = await openPage();
  const drop = (/** @type {number[]} */ bytes, /** @type {string} */ name, /** @type {string} */ type) => tab.evaluate(([content, title, kind]) => {
    const carried = new DataTransfer();
    carried.items.add(new File([new Uint8Array(/** @type {number[]} */ (content))], String(title), { type: String(kind) }));
    document.getElementById('board')?.dispatchEvent(new DragEvent('drop', { dataTransfer: carried, bubbles: true, cancelable: true }));
  }, /** @type {const} */ ([bytes, name, type]));
  await drop([...png(24, 12)], 'hood.png', 'image/png');
  await tab.locator('img.reference').waitFor();
  assert.equal(await tab.locator('#profiles .chip').count(), 0);
  await drop([...Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0C3 3 6 3 9 0"/></svg>')], 'hood.svg', 'image/svg+xml');
  await tab.locator('#profiles .chip').waitFor();
  await tab.keyboard.press('Control+z');
  await shown(tab);
  assert.equal(await tab.locator('img.reference').isVisible(), true);
  assert.deepEqual(complaints, []);
});

test('where storage is refused a picture is laid all the same', async () => {
  const { context, tab, complaints } = await openPage();
  await context.addInitScript(() => {
    Object.defineProperty(window, 'indexedDB', { get() { throw new Error('refused'); } });
  });
  await tab.reload();
  await ready(tab);
  await tab.getByText('Sheet and reference picture').click();
  await lay(tab, 'hood.png', png(30, 20));
  await tab.locator('img.reference').waitFor();
  await drag(tab, [0.5, 0.5], [0.6, 0.5]);
  await tab.locator('#notices').getByText(/does not keep the picture/).waitFor();
  assert.deepEqual(complaints, []);
});

test('where the browser stores no blobs the picture is kept all the same, and where it stores nothing that is said', async () => {
  const { tab, context, complaints } = await openPage();
  await context.addInitScript(() => {
    const { put } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.put = function refusing(value, key) {
      if (sessionStorage.getItem('nothing') || Object.values(value).some((part) => part instanceof Blob)) throw new DOMException('BlobURLs are not yet supported', 'DataCloneError');
      return put.call(this, value, key);
    };
  });
  await tab.reload();
  await ready(tab);
  await tab.getByText('Sheet and reference picture').click();
  await lay(tab, 'hood.png', png(40, 30));
  await tab.locator('img.reference:not([hidden])').waitFor();
  await isStored(tab, []);
  await tab.reload();
  await ready(tab);
  await tab.locator('img.reference:not([hidden])').waitFor();
  assert.equal(await tab.locator('#notices .notice').count(), 0);
  await tab.evaluate(() => sessionStorage.setItem('nothing', 'yes'));
  await tab.getByText('Sheet and reference picture').click();
  await lay(tab, 'hood.png', png(30, 40));
  await tab.locator('#notices').getByText('This browser does not keep the picture under the curves').waitFor();
  assert.deepEqual(complaints, []);
});
