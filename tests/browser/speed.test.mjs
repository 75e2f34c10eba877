/**
 * Speed as it is felt: a drag in a family of eight, the first verdict, the scrolling of ten thousand pieces.
 *
 * What counts is the processor's time in the page's own thread (the protocol's thread ticks), as a ratio to that of fixed
 * arithmetic in the same tab: neither a slow machine nor what else it does changes much of it.
 */

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { address, newTab } from './browser.mjs';
import { openFamily, rims } from './families.mjs';
import { onSheet, openPage, shown } from './page.mjs';

/** A frame of sixty a second, as a share of the yardstick, which takes 0.14 s on a common machine of 2026. */
const FRAME = 0.12;
/** The first verdict within two seconds of a processor four times as slow as that. */
const FIRST_VERDICT = 3.5;
const MOVES = 60;

/** @param {import('playwright-core').CDPSession} session */
async function seconds(session) {
  const { metrics } = await session.send('Performance.getMetrics');
  const of = (/** @type {string} */ name) => metrics.find((metric) => metric.name === name)?.value ?? NaN;
  return { tasks: of('TaskDuration'), script: of('ScriptDuration') };
}

/**
 * The processor's time, in seconds, of a fixed amount of whole-number arithmetic in the tab: what the machine makes of a
 * second just now. Times are held against it, so that a slow or busy machine slows both.
 *
 * @param {import('playwright-core').Page} tab
 * @param {import('playwright-core').CDPSession} session
 */
async function yardstick(tab, session) {
  const start = await seconds(session);
  await tab.evaluate(() => {
    let state = 1;
    for (let step = 0; step < 100_000_000; step += 1) state = (Math.imul(state, 1_664_525) + 1_013_904_223) | 0;
    return state;
  });
  return (await seconds(session)).tasks - start.tasks;
}

/**
 * A place of the sheet where there is something to drag, to the right of its middle.
 *
 * @param {import('playwright-core').Page} tab
 */
async function seekCurve(tab) {
  for (let across = 0.55; across < 1; across += 0.01) {
    const place = await onSheet(tab, [across, 0.5]);
    await tab.mouse.move(place.x, place.y);
    if (await tab.locator('#board').evaluate((board) => /** @type {HTMLElement} */ (board).style.cursor === 'pointer')) return place;
  }
  throw new Error('nothing is drawn to the right of the middle');
}

test('a drag in a family of 8 with 12 spans each keeps within its frames', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(8));
  const session = await tab.context().newCDPSession(tab);
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  const { x, y } = await seekCurve(tab);
  // The first press chooses the profile, the next one drags it.
  await tab.mouse.click(x, y);
  await tab.evaluate(() => {
    const page = /** @type {any} */ (window);
    page.longTasks = 0;
    new PerformanceObserver((list) => { page.longTasks += list.getEntries().length; }).observe({ entryTypes: ['longtask'] });
  });
  const drag = async (/** @type {number} */ moves) => {
    for (let move = 1; move <= moves; move += 1) {
      await tab.mouse.move(x + 14 * Math.sin(move / 5), y + 14 * Math.sin(move / 7));
      await shown(tab);
    }
  };
  await tab.mouse.move(x, y);
  await tab.mouse.down();
  await drag(5);
  const start = await seconds(session);
  const before = await tab.evaluate(() => /** @type {any} */ (window).longTasks);
  await drag(MOVES);
  const end = await seconds(session);
  const long = await tab.evaluate(() => /** @type {any} */ (window).longTasks) - before;
  await tab.mouse.up();
  await shown(tab);
  const [tasks, script] = [(1000 * (end.tasks - start.tasks)) / MOVES, (1000 * (end.script - start.script)) / MOVES];
  console.log(`a move takes ${tasks.toFixed(1)} ms of the processor, ${script.toFixed(1)} of them script; ${long} tasks passed 50 ms by the wall clock`);
  assert.match(await tab.locator('#undo').getAttribute('title') ?? '', /Move/, 'something was dragged');
  // What the browser does to show it depends on its graphics, and is only told.
  const share = script / 1000 / await yardstick(tab, session);
  assert.ok(share < FRAME, `${share} yardsticks of script a move`);
  assert.deepEqual(complaints, []);
});

test('the first verdict comes soon on a processor four times as slow', async () => {
  const { tab } = await openPage();
  await openFamily(tab, rims(8));
  await tab.getByRole('button', { name: 'Share', exact: true }).click();
  const link = await tab.getByRole('textbox', { name: 'The link' }).inputValue();
  const { tab: fresh } = await newTab({ viewport: { width: 1280, height: 900 } });
  const session = await fresh.context().newCDPSession(fresh);
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  const start = await seconds(session);
  await fresh.goto(link, { waitUntil: 'commit' });
  await fresh.locator('#pairs td[data-verdict]').first().waitFor({ state: 'attached' });
  const wall = await fresh.evaluate(() => performance.now());
  const end = await seconds(session);
  const own = 1000 * (end.tasks - start.tasks);
  const ratio = own / 1000 / await yardstick(fresh, session);
  console.log(`the first verdict took ${own.toFixed(0)} ms of the processor, ${ratio.toFixed(2)} yardsticks, ${wall.toFixed(0)} ms by the wall clock of this machine`);
  assert.ok(link.startsWith(address));
  assert.ok(ratio < FIRST_VERDICT, `${ratio} yardsticks`);
});

test('a contact sheet of ten thousand pieces scrolls within its frames', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(8));
  await tab.locator('#series-place > summary').click();
  await tab.locator('#series').getByText('every one of them proved').waitFor({ timeout: 30_000 });
  await tab.getByLabel('Choose by chance').fill('10000');
  await tab.getByRole('button', { name: 'Choose', exact: true }).click();
  await tab.locator('.contact-cell').first().waitFor();
  const session = await tab.context().newCDPSession(tab);
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  const start = await seconds(session);
  const frames = 200;
  const median = await tab.locator('.contact').evaluate(async (frame, count) => {
    /** @type {number[]} */
    const times = [];
    for (let last = performance.now(); times.length < count;) {
      frame.scrollTop += 90;
      await new Promise((resolve) => requestAnimationFrame(resolve));
      times.push(performance.now() - last);
      last = performance.now();
    }
    return times.sort((one, other) => one - other)[count >> 1];
  }, frames);
  const end = await seconds(session);
  const script = (1000 * (end.script - start.script)) / frames;
  console.log(`a frame of the contact sheet takes ${script.toFixed(1)} ms of script, ${median.toFixed(1)} ms by the wall clock of this machine`);
  assert.ok(90 * (frames - 1) < await tab.locator('.contact').evaluate((frame) => frame.scrollTop), 'it was scrolled');
  assert.ok(await tab.locator('.contact-cell').count() < 150);
  const share = script / 1000 / await yardstick(tab, session);
  assert.ok(share < FRAME, `${share} yardsticks of script a frame`);
  assert.deepEqual(complaints, []);
});

test('a finding that does not keep pace with a drag stands on, and is marked as being redone', async () => {
  const { tab, complaints } = await openPage();
  await openFamily(tab, rims(2, { reversed: [2] }));
  const { x, y } = await seekCurve(tab);
  await tab.mouse.click(x, y);
  // A clock by which some findings seem to take minutes, so that the next ones have to wait.
  await tab.evaluate(() => { performance.now = () => 1e6 * Math.random(); });
  await tab.evaluate(() => {
    const finding = /** @type {HTMLElement} */ (document.getElementById('finding'));
    new MutationObserver(() => {
      if ('redone' in finding.dataset) /** @type {any} */ (window).seen ??= finding.innerText;
    }).observe(finding, { attributes: true });
  });
  await tab.mouse.down();
  for (let move = 1; move <= 20; move += 1) {
    await tab.mouse.move(x + move, y + move);
    await shown(tab);
  }
  // It comes and goes: what it said is taken down when it comes.
  const said = await (await tab.waitForFunction(() => /** @type {any} */ (window).seen)).jsonValue();
  assert.match(said, /Rim 1.*being redone/s);
  assert.match(said, /fold|cross/i);
  await tab.mouse.up();
  await tab.locator('#finding:not([data-redone])').waitFor();
  assert.deepEqual(complaints, []);
});
