// @ts-check
/**
 * What the colours of the skin tell, and how: form and faults only, the twist,
 * or the Gaussian curvature. Each map has a scale that keeps its order for
 * every eye, by lightness as well as by hue, and a legend with figures.
 */

/** The words of the maps, in the kernel's order. */
export const MAPS = ['Form only', 'Twist', 'Curvature'];

/** The twist's shades, from 0 to 180 degrees: style properties. */
const TWIST = ['--heat-5', '--heat-4', '--heat-3', '--heat-2', '--heat-1', '--heat-0'];
/** The curvature's shades: from a saddle over flat to a dome. */
const CURVATURE = ['--saddle', '--skin-flat', '--dome'];
/** The strongest curvature on the scale passes this share of the skin by: a few sharp points would leave the rest flat. */
const PASSED = 0.04;

/**
 * @typedef {object} Scale
 * @property {(figure: number) => [number, number, number]} shade
 * @property {{colours: string[], labels: string[], words: string}} legend
 */

/**
 * The scale of a map, or nothing for the form alone.
 * @param {number} map
 * @param {Float64Array} figures
 * @param {(name: string) => string} colour of a style property
 * @param {{curvatureWords: (curvature: number) => string}} board
 * @returns {Scale | undefined}
 */
export function scaleOf(map, figures, colour, board) {
  if (map === 1) {
    const stops = TWIST.map((name) => rgb(colour(name)));
    return {
      shade: (degrees) => between(stops, degrees / 180),
      legend: { colours: TWIST.map(colour), labels: ['0°', '90°', '180°'], words: 'Twist: the angle between the two profiles’ directions at each ruling. At 180 degrees the loft folds.' },
    };
  }
  if (map !== 2) return undefined;
  const stops = CURVATURE.map((name) => rgb(colour(name)));
  const strongest = strong(figures);
  // By the radius, for the curvature is one over its square.
  const share = (/** @type {number} */ figure) => Math.sign(figure) * Math.min(1, Math.sqrt(Math.abs(figure) / strongest));
  return {
    shade: (figure) => (Number.isFinite(figure) ? between(stops, 0.5 + 0.5 * share(figure)) : stops[0]),
    legend: {
      colours: CURVATURE.map(colour), labels: [words(board, -strongest), '0', words(board, strongest)],
      words: 'Gaussian curvature: below nought the skin is a saddle, at nought it rolls flat, above it is a dome or a bowl. Between planes it is never above nought.',
    },
  };
}

/**
 * @param {{curvatureWords: (curvature: number) => string}} board
 * @param {number} curvature
 */
function words(board, curvature) {
  return board.curvatureWords(curvature).split(',')[0];
}

/** @param {Float64Array} figures */
function strong(figures) {
  const sizes = figures.map(Math.abs).filter(Number.isFinite).sort();
  return Math.max(sizes[Math.floor((1 - PASSED) * (sizes.length - 1))] ?? 0, 1e-12);
}

/**
 * @param {[number, number, number][]} stops
 * @param {number} share from 0 to 1
 * @returns {[number, number, number]}
 */
function between(stops, share) {
  const at = Math.max(0, Math.min(1, share)) * (stops.length - 1);
  const lower = Math.min(Math.floor(at), stops.length - 2);
  const part = at - lower;
  const mix = (/** @type {number} */ i) => stops[lower][i] + part * (stops[lower + 1][i] - stops[lower][i]);
  return [mix(0), mix(1), mix(2)];
}

/**
 * @param {string} hex as #rrggbb
 * @returns {[number, number, number]} from 0 to 1
 */
export function rgb(hex) {
  const value = Number.parseInt(hex.slice(1), 16);
  return [(value >> 16) / 255, ((value >> 8) & 255) / 255, (value & 255) / 255];
}
