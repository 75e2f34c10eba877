// @ts-check
/**
 * Light or dark: as the system has it, or as the person chose. Hands the
 * colours of the style sheet to what is painted by hand.
 */

const KEY = 'loftkin.colours';

/** The style properties of the board's inks, in the order of the inks. */
const INKS = [
  '--grid', '--grid-bold', '--origin', '--sibling', '--first', '--second',
  '--active', '--section', '--faulty', '--ground', '--chosen', '--label',
  '--bend', '--mend', '--blend',
];

export class Theme {
  /**
   * @param {HTMLSelectElement} select
   * @param {() => void} changed
   */
  constructor(select, changed) {
    select.value = read();
    this.apply(select.value);
    select.addEventListener('change', () => {
      write(select.value);
      this.apply(select.value);
      changed();
    });
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', changed);
  }

  /** @param {string} choice */
  apply(choice) {
    if (choice) document.documentElement.dataset.theme = choice;
    else delete document.documentElement.dataset.theme;
  }

  /** @returns {string[]} the colours of the inks */
  inks() {
    return INKS.map((name) => this.colour(name));
  }

  /** @param {string} name a style property */
  colour(name) {
    return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  }
}

function read() {
  try {
    return localStorage.getItem(KEY) ?? '';
  } catch {
    return '';
  }
}

/** @param {string} choice */
function write(choice) {
  try {
    localStorage.setItem(KEY, choice);
  } catch {
    // Storage is refused: the choice holds until the page is left.
  }
}
