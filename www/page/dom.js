// @ts-check
/**
 * Makes elements. Strings become text nodes, never markup.
 */

/**
 * @param {string} name
 * @param {Record<string, string | boolean | ((event: any) => void)>} [attributes]
 *   Functions become listeners; `true` sets an empty attribute, `false` none.
 * @param {...(Node | string)} children
 * @returns {HTMLElement}
 */
export function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  setAll(made, attributes);
  made.append(...children);
  return made;
}

/**
 * The same for SVG.
 * @param {string} name
 * @param {Record<string, string | boolean | ((event: any) => void)>} [attributes]
 * @param {...Node} children
 * @returns {SVGElement}
 */
export function drawing(name, attributes = {}, ...children) {
  const made = document.createElementNS('http://www.w3.org/2000/svg', name);
  setAll(made, attributes);
  made.append(...children);
  return made;
}

/**
 * One of the signs of the page, by verdict.
 * @param {string} verdict
 */
export function sign(verdict) {
  return drawing('svg', { class: `sign sign-${verdict}`, 'aria-hidden': 'true' }, drawing('use', { href: `#sign-${verdict}` }));
}

/**
 * A button with its text and what it does.
 * @param {string} text
 * @param {() => void} act
 * @param {Record<string, string | boolean>} [attributes]
 */
export function button(text, act, attributes = {}) {
  return /** @type {HTMLButtonElement} */ (element('button', { type: 'button', click: act, ...attributes }, text));
}

/**
 * The element of the page with this id.
 * @param {string} id
 * @returns {any}
 */
export function byId(id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`The page has no element "${id}".`);
  return found;
}

/**
 * Asks for an act in the next frame, however often it is called before.
 * @param {() => void} act
 */
export function onceAFrame(act) {
  let waiting = false;
  return () => {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      act();
    });
  };
}

/**
 * Holds what is in sight where it is while what stands above it changes in the next frame: not every browser does.
 * @param {HTMLElement} part
 */
export function holdPlace(part) {
  const { top, bottom } = part.getBoundingClientRect();
  if (bottom < 0 || window.innerHeight < top) return;
  requestAnimationFrame(() => requestAnimationFrame(() => window.scrollBy(0, part.getBoundingClientRect().top - top)));
}

/**
 * @param {Element} target
 * @param {Record<string, string | boolean | ((event: any) => void)>} attributes
 */
function setAll(target, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === 'function') target.addEventListener(name, value);
    else if (value === true) target.setAttribute(name, '');
    else if (value !== false) target.setAttribute(name, value);
  }
}
