// @ts-check
/**
 * What stands in the loft's picture: surface, profiles, section, double curves
 * and worst places, as the kernel gives them. It judges nothing.
 */
import { Geometry, Mesh, Program, Transform } from 'ogl';
import { Line } from './line.js';
import { SKIN } from './shaders.js';
import { rgb, scaleOf } from './maps.js';
import { triangles } from './skin.js';

const STEPS = 120;
const ROWS = 40;
/** Rows while a drag goes on: the eye follows the node. */
const ROWS_MOVING = 16;

/** A profile that is pointed at elsewhere is drawn so much wider. */
const POINTED = 2.2;

export class LoftBody {
  /**
   * @param {import('ogl').OGLRenderingContext} gl
   * @param {import('../loftkin_page.js').Board} board
   */
  constructor(gl, board) {
    this.gl = gl;
    this.board = board;
    this.group = new Transform();
    this.grid = { value: 1 };
    const program = new Program(gl, { ...SKIN, transparent: true, cullFace: false, uniforms: { grid: this.grid } });
    this.surface = new Mesh(gl, { geometry: new Geometry(gl), program, frustumCulled: false, renderOrder: 0 });
    this.lines = {
      axis: new Line(gl, 2, { hidden: true, order: 1 }),
      first: new Line(gl, 3, { hidden: true, order: 2 }),
      second: new Line(gl, 3, { hidden: true, order: 3 }),
      section: new Line(gl, 3.5, { hidden: false, order: 4 }),
      doubles: new Line(gl, 5, { hidden: false, order: 5 }),
      marks: new Line(gl, 12, { hidden: false, order: 6 }),
      ruling: new Line(gl, 2, { hidden: false, order: 7 }),
      place: new Line(gl, 9, { hidden: false, order: 8 }),
      kept: new Line(gl, 11, { hidden: false, order: 9 }),
      distance: new Line(gl, 2, { hidden: false, order: 9 }),
    };
    /** The colours of the skin by concern: none, a limit is passed, folded. @type {[number, number, number][]} */
    this.inks = [];
    /** @type {(name: string) => string} */
    this.colour = () => '#808080';
    /** The skin as it stands, to be pointed at. @type {import('./pick.js').Skin | undefined} */
    this.skin = undefined;
    for (const part of [this.surface, ...Object.values(this.lines).map((line) => line.mesh)]) part.setParent(this.group);
  }

  /** @param {(name: string) => string} colour */
  paint(colour) {
    this.colour = colour;
    const [plain, faulty] = ['--skin', '--faulty'].map((name) => rgb(colour(name)));
    this.inks = [plain, between(plain, faulty, 0.35), faulty];
    const inks = {
      axis: '--origin', first: '--first', second: '--second', section: '--section', doubles: '--faulty', marks: '--faulty',
      ruling: '--text', place: '--text', kept: '--accent', distance: '--accent',
    };
    for (const [name, ink] of Object.entries(inks)) this.lines[/** @type {'axis'} */ (name)].paint(colour(ink));
  }

  /**
   * The size of the picture.
   * @param {number} width pixels of the screen
   * @param {number} height pixels of the screen
   * @param {number} ratio of them to the pixels of the page
   */
  fit(width, height, ratio) {
    for (const line of Object.values(this.lines)) line.fit(width, height, ratio);
  }

  /** @param {number[]} profiles pointed at elsewhere: those that end this loft stand out */
  pointProfiles(profiles) {
    const { first, second } = this.lines;
    const ends = this.board.pair();
    for (const [at, line] of [first, second].entries()) line.thicken(profiles.includes(ends[at]) ? POINTED : 1);
  }

  /**
   * @param {number} map what the colours tell
   * @returns {import('./maps.js').Scale | undefined} how they tell it
   */
  updateSurface(map) {
    const surface = this.board.surface(STEPS, this.board.isDragging() ? ROWS_MOVING : ROWS, map);
    this.group.visible = Boolean(surface);
    this.skin = undefined;
    if (!surface) return undefined;
    const [points, facing, concern, along] = [surface.points(), surface.facing(), surface.concern(), surface.along()];
    const figures = surface.figures();
    surface.free();
    const row = along.length;
    const rows = concern.length / row;
    const scale = scaleOf(map, figures, this.colour, this.board);
    const corners = triangles(row, rows);
    this.skin = { points, corners, along, rows };
    this.surface.geometry.remove();
    this.surface.geometry = new Geometry(this.gl, {
      position: { size: 3, data: points },
      normal: { size: 3, data: facing },
      colour: { size: 3, data: this.colours(concern, figures, scale) },
      place: { size: 2, data: places(along, rows) },
      index: { data: corners },
    });
    const { axis, first, second, doubles, marks } = this.lines;
    first.setPoints(points.subarray(0, 3 * row));
    second.setPoints(points.subarray(-3 * row));
    axis.setChords(this.board.axisInSpace());
    doubles.setChords(this.board.doubleCurves());
    marks.setDiscs(this.board.worstPlaces());
    return scale;
  }

  /** @param {number} across */
  updateSection(across) {
    if (this.group.visible) this.lines.section.setPoints(this.board.sectionInSpace(across, STEPS));
  }

  /** @param {import('../page/links.js').LoftPlace | null} place */
  showPointed(place) {
    const points = place && this.group.visible ? this.board.rulingInSpace(place.along, place.across) : new Float32Array();
    this.lines.ruling.setChords(points.slice(0, 6));
    this.lines.place.setDiscs(points.slice(6));
  }

  /**
   * The places kept to be measured, and the straight line between them.
   * @param {(import('../page/links.js').LoftPlace | null)[]} places
   */
  showKept(places) {
    const at = this.group.visible ? places.map((place) => (place ? [...this.board.rulingInSpace(place.along, place.across).slice(6)] : [])) : [];
    this.lines.kept.setDiscs(Float32Array.from(at.flat()));
    this.lines.distance.setChords(Float32Array.from(at.length === 2 && at.every((point) => point.length) ? at.flat() : []));
  }

  /**
   * The colours of the skin: by the map, or by concern. What is faulty stays tinted on a map.
   * @param {Uint8Array} concern 0 none, 1 a limit is passed, 2 folded
   * @param {Float64Array} figures
   * @param {import('./maps.js').Scale | undefined} scale
   */
  colours(concern, figures, scale) {
    const colours = new Float32Array(3 * concern.length);
    const faulty = this.inks[2];
    concern.forEach((level, index) => {
      const ink = scale ? scale.shade(figures[index]) : this.inks[level];
      colours.set(scale && level === 2 ? between(ink, faulty, 0.6) : ink, 3 * index);
    });
    return colours;
  }
}

/**
 * The fractions along and across of each point.
 * @param {Float64Array} along
 * @param {number} rows
 */
function places(along, rows) {
  const made = new Float32Array(2 * along.length * rows);
  for (let r = 0, at = 0; r < rows; r += 1) {
    for (let i = 0; i < along.length; i += 1, at += 2) {
      made[at] = along[i];
      made[at + 1] = r / (rows - 1);
    }
  }
  return made;
}

/**
 * @param {ArrayLike<number>} first
 * @param {ArrayLike<number>} second
 * @param {number} share of the second
 * @returns {[number, number, number]}
 */
function between(first, second, share) {
  const mix = (/** @type {number} */ i) => first[i] + share * (second[i] - first[i]);
  return [mix(0), mix(1), mix(2)];
}
