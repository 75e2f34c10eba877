// @ts-check
/**
 * The pictures that explain a fault, drawn from the pair itself: what the
 * kernel gives in mm becomes SVG of a fixed size, with a title above each and
 * a sentence below it. It judges nothing.
 */
import { drawing, element } from '../page/dom.js';

/** The size of a picture, in its own units. */
const WIDTH = 220;
const HEIGHT = 170;

/**
 * @param {import('../page/messages.js').WhyPanel[]} panels
 * @returns {HTMLElement}
 */
export function whyPictures(panels) {
  return element('div', { class: `why-panels ${panels.length === 4 ? 'of-four' : ''}` }, ...panels.map((panel) => element('figure', {},
    element('figcaption', { class: 'why-title' }, panel.title),
    picture(panel),
    element('p', {}, panel.text))));
}

/** @param {import('../page/messages.js').WhyPanel} panel */
function picture(panel) {
  const [left, low, right, high] = panel.frame;
  const scale = Math.min(WIDTH / (right - left), HEIGHT / (high - low));
  const x = (/** @type {number} */ mm) => WIDTH / 2 + (mm - (left + right) / 2) * scale;
  const y = (/** @type {number} */ mm) => HEIGHT / 2 - (mm - (low + high) / 2) * scale;
  /** @type {[number, number][]} */
  const place = [];
  const svg = drawing('svg', { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: 'img', 'aria-label': `${panel.title}. ${panel.text}`, class: 'why-picture' });
  for (const item of panel.items) {
    place.length = 0;
    for (let i = 0; i < item.points.length; i += 2) place.push([x(item.points[i]), y(item.points[i + 1])]);
    svg.append(...drawn(item, place));
  }
  return svg;
}

/**
 * @param {import('../page/messages.js').WhyItem} item
 * @param {[number, number][]} place its points in the picture
 * @returns {SVGElement[]}
 */
function drawn(item, place) {
  const name = `part-${item.part}`;
  switch (item.kind) {
    case 'line': return [drawing('path', { class: name, d: path(place) })];
    case 'angle': return [drawing('path', { class: `${name} why-angle`, d: path(place) })];
    case 'arrow': return arrow(name, place);
    case 'mark': {
      const [px, py] = place[0];
      return [drawing('path', { class: 'why-mark', d: `M${px} ${py - 7}L${px + 7} ${py}L${px} ${py + 7}L${px - 7} ${py}Z` })];
    }
    default: {
      const text = drawing('text', { class: name, x: String(place[0][0]), y: String(place[0][1] + 4), 'text-anchor': anchor(place[0][0]) });
      text.textContent = item.text;
      return [text];
    }
  }
}

/**
 * A line with a head; short ones are a head alone, to tell a direction.
 * @param {string} name
 * @param {[number, number][]} place
 */
function arrow(name, [[fromX, fromY], [toX, toY]]) {
  const [dx, dy] = [toX - fromX, toY - fromY];
  const length = Math.hypot(dx, dy);
  if (length < 1e-9) return [];
  const [ux, uy] = [dx / length, dy / length];
  const [backX, backY] = [toX - 8 * ux, toY - 8 * uy];
  const head = `M${backX - 4.5 * uy} ${backY + 4.5 * ux}L${toX} ${toY}L${backX + 4.5 * uy} ${backY - 4.5 * ux}`;
  const stem = length < 8 ? '' : `M${fromX} ${fromY}L${toX} ${toY}`;
  return [drawing('path', { class: `${name} why-arrow`, d: stem + head })];
}

/** @param {[number, number][]} place */
function path(place) {
  return place.map(([px, py], index) => `${index ? 'L' : 'M'}${px.toFixed(2)} ${py.toFixed(2)}`).join('');
}

/** @param {number} px so that a label stays inside */
function anchor(px) {
  return px < WIDTH * 0.25 ? 'start' : WIDTH * 0.75 < px ? 'end' : 'middle';
}
