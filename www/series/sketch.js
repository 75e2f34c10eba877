// @ts-check
/**
 * Small pictures of pieces, all from the same few points: the profiles at the
 * stations, and how the section at each level is blended of them. What is drawn
 * lies on the skin, whatever the blend.
 */

/** Points of an outline, less one. */
export const OUTLINE_STEPS = 48;

/** Every so many points of an outline a line runs across. */
const ACROSS = 6;
/** Numbers of a level: origin, two directions, four stations, four weights. */
const LEVEL = 17;
/** From where it is seen, radians. */
const SEEN = { around: 0.65, up: 0.42 };
/** What of a picture the largest piece fills. */
const FILLED = 0.88;

/**
 * A place of a section in the picture: x times the first two, y times the next
 * two, and the last two.
 * @typedef {[number, number, number, number, number, number]} Plane
 */

export class Sketch {
  /**
   * @param {import('./messages.js').SketchPoints} points
   * @param {number} profiles
   */
  constructor({ sections, levels, stations }, profiles) {
    this.sections = sections;
    this.profiles = profiles;
    this.stations = stations;
    this.levels = Array.from({ length: levels.length / LEVEL }, (_, index) => {
      const level = levels.subarray(LEVEL * index, LEVEL * (index + 1));
      const weights = [...level.subarray(13)].map((weight, slot) => ({ station: level[9 + slot], weight })).filter(({ weight }) => weight !== 0);
      return { plane: /** @type {Plane} */ ([...seen(level, 3), ...seen(level, 6), ...seen(level, 0)]), weights };
    });
    this.frame = this.extent();
  }

  /** The middle and the size of what all pieces take up. */
  extent() {
    const low = [Infinity, Infinity];
    const high = [-Infinity, -Infinity];
    for (const { plane, weights } of this.levels) {
      const [most] = [...weights].sort((one, other) => other.weight - one.weight);
      for (let profile = 0; profile < this.profiles; profile += 1) {
        for (let point = 0; point < OUTLINE_STEPS; point += ACROSS) {
          const place = 2 * ((most.station * this.profiles + profile) * (OUTLINE_STEPS + 1) + point);
          onPlane(plane, this.sections[place], this.sections[place + 1]).forEach((part, axis) => {
            low[axis] = Math.min(low[axis], part);
            high[axis] = Math.max(high[axis], part);
          });
        }
      }
    }
    return { x: (low[0] + high[0]) / 2, y: (low[1] + high[1]) / 2, size: Math.max(high[0] - low[0], high[1] - low[1], 1e-6) };
  }

  /**
   * @param {CanvasRenderingContext2D} context a square one
   * @param {number[]} arrangement
   * @param {{skin: string, outline: string, ratio: number}} ink
   */
  draw(context, arrangement, { skin, outline, ratio }) {
    const side = context.canvas.width;
    const scale = (FILLED * side) / this.frame.size;
    const at = (/** @type {typeof this.levels[number]} */ { plane, weights }, /** @type {number} */ point) => {
      let x = 0;
      let y = 0;
      for (const { station, weight } of weights) {
        const place = 2 * ((station * this.profiles + arrangement[station]) * (OUTLINE_STEPS + 1) + point);
        x += weight * this.sections[place];
        y += weight * this.sections[place + 1];
      }
      const [right, down] = onPlane(plane, x, y);
      return /** @type {const} */ ([side / 2 + scale * (right - this.frame.x), side / 2 + scale * (down - this.frame.y)]);
    };
    context.lineWidth = ratio * 0.7;
    context.strokeStyle = skin;
    context.beginPath();
    for (let point = 0; point <= OUTLINE_STEPS; point += ACROSS) {
      this.levels.forEach((level, index) => context[index ? 'lineTo' : 'moveTo'](...at(level, point)));
    }
    context.stroke();
    context.lineWidth = ratio * 1.1;
    context.strokeStyle = outline;
    context.beginPath();
    for (const index of this.stations) {
      context.moveTo(...at(this.levels[index], 0));
      for (let point = 1; point <= OUTLINE_STEPS; point += 1) context.lineTo(...at(this.levels[index], point));
    }
    context.stroke();
  }
}

/**
 * A point or a direction of space, z up, as it is seen: to the right and down.
 * @param {Float32Array} level
 * @param {number} from
 */
function seen(level, from) {
  const [x, y, z] = level.subarray(from, from + 3);
  const [sine, cosine] = [Math.sin(SEEN.around), Math.cos(SEEN.around)];
  return [x * cosine + y * sine, -z * Math.cos(SEEN.up) + (x * sine - y * cosine) * Math.sin(SEEN.up)];
}

/**
 * @param {Plane} plane
 * @param {number} x
 * @param {number} y
 */
function onPlane(plane, x, y) {
  return /** @type {const} */ ([plane[4] + x * plane[0] + y * plane[2], plane[5] + x * plane[1] + y * plane[3]]);
}
