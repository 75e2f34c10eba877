// @ts-check
/**
 * The skin of the loft as triangles: which points each has.
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
