// @ts-check
/**
 * The skin of the loft as triangles: which points each has, and the direction
 * that the skin faces at each point.
 */

/**
 * Two triangles for each field of the grid of points.
 * @param {number} row points in a row
 * @param {number} rows
 */
export function triangles(row, rows) {
  const corners = new Uint32Array(6 * (row - 1) * (rows - 1));
  let at = 0;
  for (let r = 0; r + 1 < rows; r += 1) {
    for (let i = r * row; i + 1 < (r + 1) * row; i += 1) {
      corners.set([i, i + 1, i + row, i + 1, i + row + 1, i + row], at);
      at += 6;
    }
  }
  return corners;
}

/**
 * At each point the sum of its triangles' normals, each as long as the
 * triangle is large. Their lengths mean nothing further.
 * @param {Float32Array} points x, y, z of each
 * @param {Uint32Array} corners
 */
export function normals(points, corners) {
  const sums = new Float32Array(points.length);
  for (let at = 0; at < corners.length; at += 3) {
    const [a, b, c] = [3 * corners[at], 3 * corners[at + 1], 3 * corners[at + 2]];
    const [ux, uy, uz] = [points[b] - points[a], points[b + 1] - points[a + 1], points[b + 2] - points[a + 2]];
    const [vx, vy, vz] = [points[c] - points[a], points[c + 1] - points[a + 1], points[c + 2] - points[a + 2]];
    const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    for (const corner of [a, b, c]) {
      sums[corner] += x;
      sums[corner + 1] += y;
      sums[corner + 2] += z;
    }
  }
  return sums;
}
