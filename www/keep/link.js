// @ts-check
/**
 * The link: the whole family in the fragment of the address, and after it the
 * series where one was set.
 */

/** Beyond this many characters some mail programs break a link. */
const LONG = 2000;

/** What stands between the family and the series. */
const JOINT = '~';

/** A family, the joint (also as some programs escape it), and what follows it. */
const WITH_SERIES = /loft\d+\.[\w-]*(?:~|%7e)(\S*)/i;

/**
 * The series in a share code, a link or a text; empty when there is none.
 * @param {string} text
 */
export function seriesIn(text) {
  return WITH_SERIES.exec(text)?.[1] ?? '';
}

/**
 * @param {string} family its share code
 * @param {string} series empty for none
 */
export function joined(family, series) {
  return series ? family + JOINT + series : family;
}

/**
 * What a link holds, in words.
 * @param {string} link
 */
export function held(link) {
  return seriesIn(link) ? 'the curves, the stations and the piece that is shown; limits of Making and the stops of Finish stay in this browser' : 'the whole family';
}

/** @returns {string} the fragment of the address, without its sign */
export function fragment() {
  return location.hash.slice(1);
}

/** @param {string} code */
export function linkTo(code) {
  return `${location.href.split('#')[0]}#${code}`;
}

/**
 * What is to be known of a link before it is sent; may be empty.
 * @param {string} link
 */
export function caution(link) {
  const cautions = [];
  if (LONG < link.length) cautions.push('It is long for a mail: a saved file may travel better.');
  if (location.protocol === 'file:') cautions.push('This page was opened from a disk, so the link opens on this machine only: send the family file instead.');
  return cautions.join(' ');
}

/** Takes the fragment away: what stands on the board is no longer what the link says. */
export function dropFragment() {
  if (location.hash) history.replaceState(null, '', location.href.split('#')[0]);
}

/**
 * Copies the link and shows it in the address.
 * @param {string} code
 * @returns {Promise<string>} what to tell
 */
export async function copyLink(code) {
  const link = linkTo(code);
  history.replaceState(null, '', link);
  const size = `${link.length.toLocaleString('en')} characters`;
  const more = ` ${caution(link)}`.trimEnd();
  try {
    await navigator.clipboard.writeText(link);
    return `The link is copied (${size}): it holds ${held(link)}.${more}`;
  } catch {
    return `The browser does not allow copying here. The link (${size}) stands in the address line: copy it from there.${more}`;
  }
}
