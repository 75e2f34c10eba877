/**
 * The proof that the page writes is one that the independent checker accepts (tests/certificate/check_proof.py: exact
 * rational arithmetic, no code of ours), and one that was tampered with is refused.
 */

import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { openExample, openPage } from './page.mjs';

const checker = fileURLToPath(new URL('../certificate/check_proof.py', import.meta.url));

/** @param {string} file */
function check(file) {
  const { status, stdout, stderr } = spawnSync('python3', [checker, file], { encoding: 'utf8' });
  return { status, text: `${stdout}${stderr}` };
}

test('the proof is written, checked by exact arithmetic, and refused when a curve is changed', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'loftkin-proof-'));
  try {
    const { tab, complaints } = await openPage();
    await openExample(tab, /Hoods that agree/);
    const written = tab.waitForEvent('download');
    await tab.getByRole('button', { name: 'Write the proof to a file' }).click();
    const download = await written;
    assert.match(download.suggestedFilename(), /\.proof\.json$/);
    const file = join(folder, 'proof.json');
    await download.saveAs(file);
    const proof = check(file);
    assert.equal(proof.status, 0, proof.text);
    assert.match(proof.text, /proved: any blend of profiles 1 "Quay bell", 2 /);

    const document = JSON.parse(readFileSync(file, 'utf8'));
    document.curves[0].points[1][0] += 1;
    writeFileSync(file, JSON.stringify(document));
    assert.notEqual(check(file).status, 0);
    assert.deepEqual(complaints, []);
  } finally {
    rmSync(folder, { recursive: true });
  }
});

test('pairs that are not clear are named as missing from the proof', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /fault of each kind/);
  const written = tab.waitForEvent('download');
  await tab.getByRole('button', { name: 'Write the proof to a file' }).click();
  await written;
  await tab.getByText(/It says nothing of \d+ pairs that are not clear/).waitFor();
  assert.deepEqual(complaints, []);
});
