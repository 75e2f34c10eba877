// @ts-check
/**
 * A link as a QR code (ISO/IEC 18004), drawn on the page itself.
 */
import { correction, generate } from 'lean-qr';
import { toSvgPath } from 'lean-qr/extras/svg';
import { drawing } from '../page/dom.js';

/** The most that a code holds: version 40 with the least correction, in bytes (ISO/IEC 18004, table 7). */
export const MOST_BYTES = 2953;

/** The free rim that a reader needs, in modules (ISO/IEC 18004, 5.3.8). */
const RIM = 4;

/**
 * @param {string} text
 * @returns {SVGElement | null} nothing when the text is too long
 */
export function qrPicture(text) {
  if (MOST_BYTES < new TextEncoder().encode(text).length) return null;
  const code = generate(text, { minCorrectionLevel: correction.L });
  const side = code.size + 2 * RIM;
  const picture = drawing('svg', { class: 'qr', role: 'img', 'aria-label': 'QR code of the link', viewBox: `${-RIM} ${-RIM} ${side} ${side}`, 'shape-rendering': 'crispEdges' });
  picture.append(
    drawing('rect', { x: String(-RIM), y: String(-RIM), width: String(side), height: String(side), fill: '#fff' }),
    drawing('path', { d: toSvgPath(code), fill: '#000' }),
  );
  return picture;
}

/**
 * Says why there is no code.
 * @param {string} text
 * @param {string} [what] the text is
 */
export function tooLong(text, what = 'The link') {
  return `${what} has ${text.length.toLocaleString('en')} characters, and a QR code holds ${MOST_BYTES.toLocaleString('en')} at most.`;
}
