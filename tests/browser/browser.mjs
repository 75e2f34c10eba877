/**
 * Opens the page in a headless browser, for the tests beside this file.
 *
 * `cargo verify browser` serves the page and tells by environment variables where it is and which browser to use.
 * A test run by hand needs the same: LOFTKIN_PAGE, CHROME and, if it needs any, CHROME_FLAGS. This file knows
 * nothing of what is on the page.
 */

import { createRequire } from 'node:module';
import { after, afterEach } from 'node:test';

// The npm packages are installed in www.
export const fromWww = createRequire(new URL('../../www/package.json', import.meta.url));

/** @type {import('playwright-core')} */
const { chromium } = fromWww('playwright-core');

/** The page's address, with a slash at its end. */
export const address = needed('LOFTKIN_PAGE');

const flags = (process.env.CHROME_FLAGS ?? '').split(' ').filter((flag) => flag !== '');
const browser = await chromium.launch({ executablePath: needed('CHROME'), args: flags });
/** The tabs of the test that runs. @type {import('playwright-core').BrowserContext[]} */
const contexts = [];
// A tab that is left open goes on drawing beside the tests that follow.
afterEach(() => Promise.all(contexts.splice(0).map((context) => context.close())));
after(() => browser.close());

/**
 * A new tab with storage of its own, and the list of everything that went wrong in it: errors nobody caught,
 * errors on the console, and requests that left the page's own host. A test ends by asserting that it is empty.
 *
 * @param {import('playwright-core').BrowserContextOptions & {home?: string}} [options] window size, colour scheme,
 *   touch; and what every address that the page asks for must begin with
 */
export async function newTab({ home = address, ...options } = {}) {
  // The copy for use without network would be fetched beside each test; its own test asks for it.
  const context = await browser.newContext({ serviceWorkers: 'block', ...options });
  contexts.push(context);
  const tab = await context.newPage();
  /** @type {string[]} */
  const complaints = [];
  tab.on('pageerror', (error) => complaints.push(`uncaught: ${error.message}`));
  tab.on('console', (message) => {
    if (message.type() === 'error') complaints.push(`console: ${message.text()}`);
  });
  tab.on('request', (request) => {
    const url = request.url();
    const inside = url.startsWith(home) || url.startsWith('data:') || url.startsWith('blob:');
    if (!inside) complaints.push(`left the host: ${url}`);
  });
  return { context, tab, complaints };
}

/**
 * The script of the package axe-core, to be added to a tab: it then judges the tab's accessibility.
 *
 * @returns {string} the path of the script
 */
export function accessibilityScript() {
  return fromWww.resolve('axe-core/axe.min.js');
}

/** @param {string} name */
function needed(name) {
  const value = process.env[name];
  if (value === undefined) throw new Error(`set ${name}, or run this by cargo verify browser`);
  return value;
}
