// @ts-check
/**
 * The link: the whole family in the fragment of the address.
 */

/** Beyond this many characters some mail programs break a link. */
const LONG = 2000;

/** @returns {string} the fragment of the address, without its sign */
export function fragment() {
  return location.hash.slice(1);
}

/** @param {string} code */
export function linkTo(code) {
  return `${location.href.split('#')[0]}#${code}`;
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
  const caution = LONG < link.length ? ' It is long for a mail: a saved file may travel better.' : '';
  try {
    await navigator.clipboard.writeText(link);
    return `The link is copied (${size}): it holds the whole family.${caution}`;
  } catch {
    return `The browser does not allow copying here. The link (${size}) stands in the address line: copy it from there.${caution}`;
  }
}
