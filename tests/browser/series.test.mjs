/**
 * From the family to pieces on the page: the count, numbers both ways, the choice, the checks, the files.
 */

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { accessibilityScript } from './browser.mjs';
import { openExample, openPage } from './page.mjs';

/** @param {import('playwright-core').Page} tab */
async function openSeries(tab) {
  await tab.locator('#series-place > summary').click();
  await tab.locator('#series').getByText('every one of them proved').waitFor({ timeout: 30_000 });
  await pieceIs(tab, '1');
}

/**
 * Waits until a piece is shown.
 * @param {import('playwright-core').Page} tab
 * @param {string} number
 */
async function pieceIs(tab, number) {
  await tab.waitForFunction((wanted) => /** @type {HTMLInputElement} */ (document.querySelector('#piece-number')).value === wanted, number);
}

/** @param {import('playwright-core').Page} tab */
function arrangement(tab) {
  return tab.locator('.piece-stations select').evaluateAll((all) => all.map((one) => Number(/** @type {HTMLSelectElement} */ (one).value) + 1));
}

/** @param {number} count */
function grouped(count) {
  return String(count).replace(/\B(?=(\d{3})+$)/g, '\u202f');
}

/**
 * The names in a zip and the lines of its manifest, each with the checksum of what the zip holds under its name: all read
 * by Python's zipfile, csv and hashlib.
 *
 * @param {string} path
 * @returns {{names: string[], lines: Record<string, string>[]}}
 */
function readZip(path) {
  const script = `
import csv, hashlib, io, json, sys, zipfile
held = zipfile.ZipFile(sys.argv[1])
assert held.testzip() is None
lines = list(csv.DictReader(io.StringIO(held.read("manifest.csv").decode())))
for line in lines:
    content = held.read(line["file"]) if line["file"] else b""
    line["found"] = hashlib.sha256(content).hexdigest()
    assert int(line["bytes"] or 0) == len(content)
print(json.dumps({"names": held.namelist(), "lines": lines}))`;
  return JSON.parse(execFileSync('python3', ['-c', script, path], { encoding: 'utf8' }));
}

/** @param {import('playwright-core').Page} tab */
async function violations(tab) {
  await tab.addScriptTag({ path: accessibilityScript() });
  const found = await tab.evaluate(() => /** @type {any} */ (window).axe.run());
  return found.violations.map((/** @type {any} */ rule) => `${rule.id}: ${rule.nodes.map((/** @type {any} */ node) => node.html).join(' | ')}`);
}

test('nothing of the series is fetched before it is opened; then pieces are counted and numbered both ways', async () => {
  const { tab, complaints } = await openPage();
  /** @type {string[]} */
  const fetched = [];
  tab.on('request', (request) => fetched.push(request.url()));
  await openExample(tab, /^Closed rims that agree$/);
  assert.equal(await tab.locator('#series').evaluate((place) => place.childElementCount), 0);
  assert.ok(!fetched.some((url) => url.includes('worker')));
  await openSeries(tab);
  // All pairs of the example agree, so every arrangement over 5 stations is a piece.
  const profiles = await tab.locator('.piece-stations select').first().locator('option').count();
  await tab.locator('#series').getByText(`${grouped(profiles ** 5)} pieces`).waitFor();
  assert.deepEqual(await arrangement(tab), [1, 1, 1, 1, 1]);
  await tab.getByLabel('Piece number').fill('2');
  await tab.getByLabel('Piece number').press('Enter');
  await tab.waitForFunction(() => /** @type {HTMLSelectElement} */ (document.querySelectorAll('.piece-stations select')[4]).value === '1');
  await tab.getByLabel('Profile of the piece at station 1').selectOption('1');
  await pieceIs(tab, String(profiles ** 4 + 2));
  await tab.getByLabel('Piece number').fill('0');
  await tab.getByLabel('Piece number').press('Enter');
  await tab.getByText('there is no piece 0', { exact: false }).waitFor();
  await pieceIs(tab, String(profiles ** 4 + 2));
  assert.deepEqual(complaints, []);
});

test('rules are kept, and stations that do not suit say why', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Closed rims that agree$/);
  await openSeries(tab);
  await tab.getByLabel('No profile beside itself').check();
  await tab.waitForFunction(() => {
    const all = [...document.querySelectorAll('.piece-stations select')].map((one) => /** @type {HTMLSelectElement} */ (one).value);
    return all.join() === '0,1,0,1,0';
  });
  await tab.getByLabel('How many, 2 to 24').fill('1');
  await tab.getByLabel('How many, 2 to 24').press('Enter');
  assert.equal(await tab.getByLabel('How many, 2 to 24').inputValue(), '2');
  await tab.getByRole('alert').getByText('at least 2 stations, not 1').waitFor();
  await tab.getByLabel('Blend').selectOption('b-spline-3');
  await tab.getByText('A B-spline of degree 3 needs at least 4 stations, not 2.').waitFor();
  assert.deepEqual(complaints, []);
});

test('a ring that is closed all round is counted up to turning and mirroring too', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /reaches its axis/);
  await openSeries(tab);
  assert.equal(await tab.getByLabel('Stations stand as').inputValue(), 'round');
  await tab.locator('#series').getByText('that differ when a ring may be turned').waitFor();
  // The last profile reaches the axis and stands in no piece; the others all agree: necklaces and bracelets of
  // 5 beads, (n^5 + 4n)/5 and (n^5 + 5n^3 + 4n)/10 by Burnside.
  const n = await tab.locator('.piece-stations select').first().locator('option').count() - 1;
  const told = (await tab.locator('.series-count').innerText()).replaceAll('\u202f', '');
  assert.match(told, new RegExp(`^${n ** 5} pieces`));
  assert.ok(told.includes(`${(n ** 5 + 4 * n) / 5} that differ when a ring may be turned, ${(n ** 5 + 5 * n ** 3 + 4 * n) / 10} when it may be mirrored too`), told);
  assert.deepEqual(complaints, []);
});

test('thousands of chosen pieces make a sheet that holds only those in sight, and one is opened from it', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Hoods that agree$/);
  await openSeries(tab);
  await tab.getByLabel('Choose by chance').fill('5000');
  await tab.getByLabel('pieces from seed').fill('7');
  await tab.getByRole('button', { name: 'Choose', exact: true }).click();
  const cells = tab.locator('.contact-cell');
  await cells.first().waitFor();
  const before = await cells.count();
  assert.ok(before < 150, `${before} pictures exist`);
  const inked = await cells.first().locator('canvas').evaluate((/** @type {HTMLCanvasElement} */ canvas) => {
    const { data } = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d')).getImageData(0, 0, canvas.width, canvas.height);
    return data.filter((_, at) => at % 4 === 3 && 0 < data[at]).length;
  });
  assert.ok(100 < inked, `${inked} pixels are drawn`);
  await tab.locator('.contact').evaluate((frame) => { frame.scrollTop = frame.scrollHeight; });
  const last = tab.locator('.contact-cell[data-index="4999"]');
  await last.waitFor();
  assert.ok(await cells.count() < 150);
  const number = (await last.innerText()).replace(/\D/g, '');
  await last.click();
  await pieceIs(tab, number);
  assert.equal(await last.getAttribute('aria-pressed'), 'true');
  assert.deepEqual(complaints, []);
});

test('the piece is measured and checked against limits that can be changed', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Closed rims that agree$/);
  await tab.locator('#making-place > summary').click();
  const checks = tab.getByRole('table', { name: /Making checks of piece 1/ });
  await checks.waitFor({ timeout: 30_000 });
  await tab.getByText('estimates for design', { exact: false }).waitFor();
  await tab.getByRole('rowheader', { name: 'Volume enclosed' }).waitFor();
  assert.equal(await checks.locator('tbody tr.check').count(), 7);
  const draft = checks.locator('tbody tr.check').first();
  await tab.getByLabel('Least draft, degrees').fill('89.9');
  await tab.getByLabel('Least draft, degrees').press('Enter');
  await draft.getByText('at least 89.90 degrees').waitFor();
  await draft.getByText('not kept').waitFor();
  await tab.getByLabel('Gauge of the sheet, mm').fill('0');
  await tab.getByLabel('Gauge of the sheet, mm').press('Enter');
  await tab.getByText('the gauge must be above 0', { exact: false }).waitFor();
  await tab.getByLabel('Material').selectOption({ label: 'titanium grade 5 (Ti-6Al-4V)' });
  assert.equal(await tab.getByLabel('Density, g/cm³').inputValue(), '4.43');
  await tab.getByText('899 °C (1650 °F)', { exact: false }).waitFor();
  assert.deepEqual(complaints, []);
});

test('a piece is saved in every format', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Hoods that agree$/);
  await tab.locator('#files-place > summary').click();
  await tab.getByText('Piece 1, as chosen in Series.').waitFor({ timeout: 30_000 });
  for (const [order, ending, begins] of [['STEP', '.step', 'ISO-10303-21;'], ['3MF', '.3mf', 'PK'], ['STL', '.stl', ''], ['glTF', '.glb', 'glTF'], ['profiles (SVG)', '-profiles.svg', '<'], ['trim outline (SVG)', '-trim.svg', '<'], ['flat layout (SVG)', '-flat.svg', '<']]) {
    const saved = tab.waitForEvent('download');
    await tab.getByRole('button', { name: `Save as ${order}` }).click();
    const file = await saved;
    assert.ok(file.suggestedFilename().endsWith(`piece-1${ending}`), file.suggestedFilename());
    const bytes = readFileSync(await file.path());
    assert.equal(bytes.subarray(0, begins.length).toString('latin1'), begins);
    if (order === 'STL') assert.equal(bytes.length, 84 + 50 * bytes.readUInt32LE(80));
  }
  assert.deepEqual(complaints, []);
});

test('stations take any profile, some of them, or one, by keyboard too', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Closed rims that agree$/);
  await openSeries(tab);
  const profiles = await tab.locator('.piece-stations select').first().locator('option').count();
  const told = (/** @type {number} */ count) => tab.locator('.series-count').getByText(`${grouped(count)} pieces`).waitFor();
  await tab.getByText('Stations one by one').click();
  const second = tab.getByRole('button', { name: 'Profiles at station 2: any' });
  await second.focus();
  await tab.keyboard.press('Enter');
  const chips = tab.getByRole('group', { name: 'Profiles that may stand at station 2' });
  // Any: all are taken, and one that is pressed is taken out.
  assert.equal(await chips.locator('.chip[aria-pressed=true]').count(), profiles);
  await tab.keyboard.press('Space');
  await told((profiles - 1) * profiles ** 4);
  await chips.getByRole('button', { name: 'None yet' }).click();
  assert.equal(await tab.locator('.stations .allowed').nth(1).innerText(), 'none yet');
  await chips.locator('.chip').first().click();
  await told(profiles ** 4);
  assert.equal(await tab.locator('.stations .allowed').nth(1).innerText(), '1');
  await tab.keyboard.press('Tab');
  await tab.keyboard.press('Space');
  await told(2 * profiles ** 4);
  assert.equal(await tab.locator('.stations .allowed').nth(1).innerText(), '1, 2');
  await tab.getByRole('group', { name: 'Profiles that may stand at station 2' }).getByRole('button', { name: 'All others' }).click();
  await told((profiles - 2) * profiles ** 4);
  assert.deepEqual((await arrangement(tab)).slice(0, 3), [1, 3, 1]);
  await tab.keyboard.press('Escape');
  assert.equal(await tab.locator('.allowed-choice').nth(1).isVisible(), false);
  assert.equal(await tab.evaluate(() => document.activeElement?.className), 'allowed');
  // A profile that is not allowed there is not offered.
  assert.equal(await tab.getByLabel('Profile of the piece at station 2').locator('option').count(), profiles - 2);
  assert.equal(await tab.getByLabel('Profile of the piece at station 2').locator('option[value="0"]').count(), 0);
  assert.deepEqual(complaints, []);
});

test('24 stations with everything open leave no stray width on a phone', async () => {
  const { tab, complaints } = await openPage({ viewport: { width: 360, height: 740 } });
  await openExample(tab, /^Closed rims that agree$/);
  await openSeries(tab);
  await tab.getByLabel('How many, 2 to 24').fill('24');
  await tab.getByLabel('How many, 2 to 24').press('Enter');
  await tab.waitForFunction(() => document.querySelectorAll('.piece-stations select').length === 24);
  await tab.getByText('Stations one by one').click();
  await tab.getByRole('button', { name: 'Profiles at station 24: any' }).click();
  await tab.locator('#files-place > summary').click();
  await tab.getByText('Several pieces in one zip').waitFor();
  const over = await tab.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  assert.ok(over <= 0, `the page is ${over} pixels too wide`);
  const [chips, frame] = await Promise.all(['.allowed-line:not([hidden]) .allowed-choice', '.station-frame'].map((part) => tab.locator(part).boundingBox()));
  assert.ok(chips && frame && frame.x <= chips.x && chips.x + chips.width <= frame.x + frame.width + 1, 'the chips stand within what is seen of the table');
  assert.deepEqual(complaints, []);
});

test('the pieces of the contact sheet are saved in one zip with a manifest that fits', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Hoods that agree$/);
  await openSeries(tab);
  await tab.getByLabel('Choose by chance').fill('6');
  await tab.getByRole('button', { name: 'Choose', exact: true }).click();
  await tab.locator('.contact-cell').first().waitFor();
  const numbers = (await tab.locator('.contact-cell').allInnerTexts()).map((text) => text.replace(/\D/g, ''));
  await tab.locator('#files-place > summary').click();
  await tab.getByLabel('the 6 of the contact sheet').check();
  const zip = tab.getByRole('region', { name: 'Several pieces in one zip' });
  await zip.getByLabel('STL').check();
  const saved = tab.waitForEvent('download');
  await zip.getByRole('button', { name: 'Make the zip' }).click();
  const file = await saved;
  assert.match(file.suggestedFilename(), /6-pieces\.zip$/);
  await zip.getByText('6 pieces saved in one zip', { exact: false }).waitFor();
  const { names, lines } = readZip(await file.path());
  assert.deepEqual(names.sort(), [...numbers.flatMap((number) => [`piece-${number}.step`, `piece-${number}.stl`]), 'manifest.csv', 'family.json', 'series.json'].sort());
  assert.equal(lines.length, 12);
  for (const line of lines) assert.equal(line.sha256, line.found, line.file);
  assert.deepEqual([...new Set(lines.map(({ piece }) => piece))], numbers);
  assert.deepEqual(complaints, []);
});

test('a zip of numbers says what is wrong with them, can be stopped, and is made beside the page', async () => {
  const { tab, complaints } = await openPage();
  await openExample(tab, /^Hoods that agree$/);
  await tab.locator('#files-place > summary').click();
  await tab.getByText('Piece 1, as chosen in Series.').waitFor({ timeout: 30_000 });
  const zip = tab.getByRole('region', { name: 'Several pieces in one zip' });
  const numbers = zip.getByRole('textbox', { name: 'Numbers of the pieces' });
  const make = zip.getByRole('button', { name: 'Make the zip' });
  for (const [text, told] of [['all of them', 'names no pieces'], ['1-20000', 'more than can be made at once'], ['3,2', 'must rise'], ['0', 'there is no piece 0: numbers start from 1']]) {
    await numbers.fill(text);
    await make.click();
    await zip.getByText(told, { exact: false }).waitFor();
  }
  await zip.getByLabel('STEP').uncheck();
  await numbers.fill('1-2');
  await make.click();
  await zip.getByText('no format is chosen', { exact: false }).waitFor();
  await zip.getByLabel('STL').check();
  await tab.getByLabel('Meshes stay this close').fill('0.0001');
  await make.click();
  await zip.getByText('choose from 0.001 to 100 mm', { exact: false }).waitFor();
  await tab.getByLabel('Meshes stay this close').fill('0.001');
  await numbers.fill('1-10000');
  await make.click();
  await zip.getByText(/would come to about [\d.]+ GB.*choose about [\d,]+ pieces/).waitFor({ timeout: 60_000 });
  await tab.getByLabel('Meshes stay this close').fill('0.1');
  await numbers.fill('1-5000');
  await make.click();
  await zip.getByText(/^[1-9]\d* of 5,000 pieces/).waitFor({ timeout: 60_000 });
  // Another piece is opened meanwhile.
  await tab.locator('#series-place > summary').click();
  await tab.getByLabel('Piece number').fill('7');
  await tab.getByLabel('Piece number').press('Enter');
  await tab.getByText('Piece 7, as chosen in Series.').waitFor();
  await zip.getByRole('button', { name: 'Stop' }).click();
  await zip.getByText(/^Stopped after [1-9]\d* of 5,000 pieces\.$/).waitFor();
  await make.waitFor();
  assert.equal(await make.isEnabled(), true);
  const keep = zip.getByRole('button', { name: /^Save the [1-9]\d* of 5,000 pieces$/ });
  const done = Number((await keep.innerText()).match(/[\d,]+/)?.[0].replaceAll(',', ''));
  assert.equal(await keep.evaluate((button) => button === document.activeElement), true);
  const [file] = await Promise.all([tab.waitForEvent('download'), keep.click()]);
  assert.match(file.suggestedFilename(), new RegExp(`${done}-of-5000-pieces\\.zip$`));
  await zip.getByText(new RegExp(`^${done.toLocaleString('en')} of 5,000 pieces saved in one zip`)).waitFor();
  assert.equal(await make.evaluate((button) => button === document.activeElement), true);
  const { names, lines } = readZip(await file.path());
  const made = Array.from({ length: done }, (_, index) => `piece-${index + 1}.stl`);
  assert.deepEqual(names.sort(), [...made, 'manifest.csv', 'family.json', 'series.json'].sort());
  const told = lines.pop();
  assert.deepEqual([told?.piece, told?.file], ['', '']);
  assert.equal(told?.problem, `this is a part: ${done} of 5000 pieces, for the making was stopped`);
  assert.deepEqual(lines.map((line) => line.file), made);
  for (const line of lines) assert.equal(line.sha256, line.found, line.file);
  // Before a piece is done there is nothing to save.
  await make.evaluate((/** @type {HTMLButtonElement} */ button) => {
    button.click();
    /** @type {HTMLButtonElement} */ (document.querySelector('.zip progress ~ button')).click();
  });
  await zip.getByText('Stopped: nothing is saved.').waitFor();
  assert.equal(await zip.getByRole('button', { name: /^Save/ }).count(), 0);
  assert.deepEqual(complaints, []);
});

test('a drawing that changes is counted anew, and an empty one says so', async () => {
  const { tab, complaints } = await openPage();
  await tab.locator('#series-place > summary').click();
  await tab.getByText('There is no profile yet').waitFor();
  await openExample(tab, /^Hoods that agree$/);
  await tab.locator('#series').getByText('every one of them proved').waitFor({ timeout: 30_000 });
  assert.deepEqual(complaints, []);
});

for (const [name, viewport] of /** @type {const} */ ([['desktop', { width: 1280, height: 900 }], ['phone', { width: 390, height: 844 }]])) {
  for (const colorScheme of /** @type {const} */ (['light', 'dark'])) {
    test(`axe-core finds nothing in the places on a ${name}, ${colorScheme}, and nothing is cut off`, async () => {
      const { tab, complaints } = await openPage({ viewport, colorScheme, bypassCSP: true });
      await openExample(tab, /^Closed rims that agree$/);
      await openSeries(tab);
      await tab.getByText('Stations one by one').click();
      await tab.getByRole('button', { name: 'Choose', exact: true }).click();
      await tab.locator('.contact-cell').first().waitFor();
      await tab.locator('#making-place > summary').click();
      await tab.getByRole('table', { name: /Making checks/ }).waitFor();
      await tab.locator('#files-place > summary').click();
      assert.deepEqual(await violations(tab), []);
      const over = await tab.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(over <= 0, `the page is ${over} pixels too wide`);
      assert.deepEqual(complaints, []);
    });
  }
}
