// @ts-check
/**
 * From space as a piece stands in it, z up and in mm, to its picture.
 */

/**
 * @param {import('./messages.js').Picture} picture
 * @param {ArrayLike<number>} points x, y, z of each, mm
 * @returns {Float32Array}
 */
export function intoPicture({ frame: [x, y, z, size] }, points) {
  const made = new Float32Array(points.length);
  for (let at = 0; at + 2 < points.length; at += 3) {
    made[at] = (points[at] - x) / size;
    made[at + 1] = (points[at + 2] - y) / size;
    made[at + 2] = (-points[at + 1] - z) / size;
  }
  return made;
}

/**
 * A direction likewise.
 * @param {ArrayLike<number>} way
 */
export function turned(way) {
  return [way[0], way[2], -way[1]];
}

/**
 * The coordinate along a direction, in steps, as a plane over the picture: the parts of its x, y and z and what is added.
 * @param {import('./messages.js').Picture} picture
 * @param {ArrayLike<number>} way of any length
 * @param {number} step mm
 */
export function stepsAlong({ frame: [x, y, z, size] }, way, step) {
  const parts = turned(way);
  const long = Math.hypot(...parts) * step;
  const [a, b, c] = parts.map((part) => part / long);
  return [a * size, b * size, c * size, a * x + b * y + c * z];
}

/**
 * The height of each point of a picture, mm.
 * @param {import('./messages.js').Picture} picture
 */
export function heights({ frame, points }) {
  return Float32Array.from({ length: points.length / 3 }, (_, at) => points[3 * at + 1] * frame[3] + frame[1]);
}
