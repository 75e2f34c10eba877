// @ts-check
/**
 * Where a ray from the eye meets the skin first: the fractions along and
 * across. By every triangle, which for a skin of ten thousand is quicker than
 * keeping an index of one that changes under the hand.
 */

/**
 * @typedef {object} Skin
 * @property {Float32Array} points x, y, z of each
 * @property {Uint32Array} corners three points of each triangle
 * @property {Float64Array} along of each point of a row
 * @property {number} rows
 */

/**
 * @param {Skin} skin
 * @param {ArrayLike<number>} eye
 * @param {ArrayLike<number>} way of any length
 * @returns {import('../page/links.js').LoftPlace | null}
 */
export function pick(skin, eye, way) {
  const found = pickPoints(skin, eye, way);
  if (!found) return null;
  const { along, rows } = skin;
  const place = { along: 0, across: 0 };
  for (const [point, weight] of found) {
    place.along += weight * along[point % along.length];
    place.across += (weight * Math.floor(point / along.length)) / (rows - 1);
  }
  return place;
}

/**
 * The three points between which the ray meets the skin first, and their weights.
 * @param {{points: Float32Array, corners: Uint32Array}} skin
 * @param {ArrayLike<number>} eye
 * @param {ArrayLike<number>} way of any length
 * @returns {[number, number][] | null}
 */
export function pickPoints({ points, corners }, eye, way) {
  let nearest = Infinity;
  /** @type {[number, number][] | null} */
  let hit = null;
  for (let at = 0; at < corners.length; at += 3) {
    const [one, other, third] = [corners[at], corners[at + 1], corners[at + 2]];
    const found = meet(points, one, other, third, eye, way);
    if (!found || nearest <= found[0]) continue;
    nearest = found[0];
    hit = [[one, 1 - found[1] - found[2]], [other, found[1]], [third, found[2]]];
  }
  return hit;
}

/**
 * Möller and Trumbore, Fast, Minimum Storage Ray/Triangle Intersection, 1997:
 * how far along the way, and the weights of the second and third corner.
 * @param {Float32Array} points
 * @param {number} first
 * @param {number} second
 * @param {number} third
 * @param {ArrayLike<number>} eye
 * @param {ArrayLike<number>} way
 * @returns {[number, number, number] | null}
 */
function meet(points, first, second, third, eye, way) {
  const [a, b, c] = [3 * first, 3 * second, 3 * third];
  const [e1x, e1y, e1z] = [points[b] - points[a], points[b + 1] - points[a + 1], points[b + 2] - points[a + 2]];
  const [e2x, e2y, e2z] = [points[c] - points[a], points[c + 1] - points[a + 1], points[c + 2] - points[a + 2]];
  const [px, py, pz] = [way[1] * e2z - way[2] * e2y, way[2] * e2x - way[0] * e2z, way[0] * e2y - way[1] * e2x];
  const size = e1x * px + e1y * py + e1z * pz;
  if (size === 0) return null;
  const [tx, ty, tz] = [eye[0] - points[a], eye[1] - points[a + 1], eye[2] - points[a + 2]];
  const u = (tx * px + ty * py + tz * pz) / size;
  if (u < 0 || 1 < u) return null;
  const [qx, qy, qz] = [ty * e1z - tz * e1y, tz * e1x - tx * e1z, tx * e1y - ty * e1x];
  const v = (way[0] * qx + way[1] * qy + way[2] * qz) / size;
  if (v < 0 || 1 < u + v) return null;
  const distance = (e2x * qx + e2y * qy + e2z * qz) / size;
  return 0 < distance ? [distance, u, v] : null;
}
