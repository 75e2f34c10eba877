/**
 * What a QR code on the page says, read by another maker's reader.
 */

import { fromWww } from './browser.mjs';

const { default: readQr } = await import(fromWww.resolve('qr/decode.js'));

/**
 * @param {import('playwright-core').Locator} code
 * @returns {Promise<string>}
 */
export async function readCode(code) {
  const { side, pixels } = await code.evaluate(async (shown) => {
    const svg = /** @type {SVGSVGElement} */ (shown.cloneNode(true));
    const picture = new Image();
    const size = 4 * svg.viewBox.baseVal.width;
    svg.setAttribute('width', String(size));
    svg.setAttribute('height', String(size));
    picture.src = URL.createObjectURL(new Blob([new XMLSerializer().serializeToString(svg)], { type: 'image/svg+xml' }));
    await picture.decode();
    const canvas = new OffscreenCanvas(size, size);
    const context = /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext('2d'));
    context.drawImage(picture, 0, 0);
    return { side: size, pixels: [...context.getImageData(0, 0, size, size).data] };
  });
  return readQr({ width: side, height: side, data: Uint8ClampedArray.from(pixels) }, { timeLimit: 10_000 });
}
