// @ts-check
/**
 * One piece in space: its skin, plain, in given colours or as a map; the
 * profiles at its stations; places and lines marked on it. Turned as the loft is.
 */
import { Geometry, Mesh, Program, Transform } from 'ogl';
import { Line } from '../loft/line.js';
import { rgb } from '../loft/maps.js';
import { pickPoints } from '../loft/pick.js';
import { SKIN } from '../loft/shaders.js';
import { triangles } from '../loft/skin.js';
import { Stage } from '../loft/stage.js';
import { MapSkin } from './map-skin.js';

/** How wide the marks are, in pixels, in the order in which they are drawn. */
const MARKS = { parting: 4, near: 3, rim: 15, worst: 10 };

/**
 * @typedef {object} Dress how the skin is painted; plain without either
 * @property {Float32Array} [colours] red, green, blue of each point
 * @property {Float32Array} [shares] of each point, see {@link MapSkin}
 * @property {number} [second] a further share that is drawn as a line
 * @property {number[]} [passes] of a cutter, see {@link MapSkin}
 */

export class PiecePicture {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/theme.js').Theme} theme
   * @param {{turned?: () => void, pointed?: (points: [number, number][] | null) => void}} [acts] the view has changed;
   *   the pointer is over the skin between so many points, with their weights
   */
  constructor(place, theme, { turned, pointed } = {}) {
    this.theme = theme;
    /** @type {import('./messages.js').Picture | undefined} */
    this.picture = undefined;
    /** @type {Dress} */
    this.dress = {};
    /** Three points of each triangle of the skin. @type {Uint32Array | undefined} */
    this.corners = undefined;
    /** @type {Record<string, Float32Array>} */
    this.marked = {};
    /** @type {import('./messages.js').Reach | undefined} */
    this.reach = undefined;
    this.stage = new Stage(place, {
      label: 'The piece in space. Arrows turn it, plus and minus zoom, 0 goes back.',
      refused: 'This browser does not draw in space (WebGL is refused), so the piece has no picture here. All else works without it.',
      build: (gl) => this.build(gl),
      turned,
      pointed: pointed && ((event) => pointed(event && this.pointsUnder(event))),
    });
  }

  /** @param {import('ogl').OGLRenderingContext} gl */
  build(gl) {
    const group = new Transform();
    const program = new Program(gl, { ...SKIN, transparent: true, cullFace: false, uniforms: { grid: { value: 0.5 } } });
    const map = new MapSkin(gl);
    const skin = new Mesh(gl, { geometry: new Geometry(gl), program, frustumCulled: false, renderOrder: 0 });
    const lines = new Line(gl, 2.5, { hidden: true, order: 2 });
    const marks = Object.entries(MARKS).map(([name, wide], at) => ({ name, line: new Line(gl, wide, { hidden: name === 'parting', order: 3 + at }) }));
    for (const part of [skin, lines.mesh, ...marks.map(({ line }) => line.mesh)]) part.setParent(group);
    this.parts = { gl, group, skin, lines, marks, map, plain: program };
    this.paint();
    return {
      group,
      fit: (/** @type {number} */ width, /** @type {number} */ height, /** @type {number} */ ratio) => {
        for (const line of [lines, ...marks.map((mark) => mark.line)]) line.fit(width, height, ratio);
        map.rest.ratio.value = ratio;
      },
    };
  }

  /** The theme has changed, or there is another piece or dress. */
  paint() {
    const { picture, dress } = this;
    if (!this.parts) return;
    const { gl, group, skin, lines, marks, map, plain } = this.parts;
    const colour = (/** @type {string} */ name) => this.theme.colour(name);
    group.visible = Boolean(picture);
    lines.paint(colour(dress.shares ? '--text' : '--section'));
    map.paint(colour);
    map.setReach(this.reach);
    map.rest.second.value = dress.second ?? -3;
    map.rest.passes.value = dress.passes ?? [0, 0, 0, 0];
    if (!dress.passes) map.rest.every.value = 0;
    const inks = { parting: '--second', near: '--faulty', rim: '--ground', worst: '--text' };
    for (const { name, line } of marks) {
      line.paint(colour(inks[/** @type {'rim'} */ (name)]));
      const points = this.marked[name] ?? new Float32Array();
      if (name === 'parting' || name === 'near') line.setChords(points);
      else line.setDiscs(points);
    }
    if (picture) {
      const { points, facing, along, across, stations } = picture;
      const place = new Float32Array(2 * along.length * across.length);
      across.forEach((v, row) => along.forEach((u, column) => place.set([u, v], 2 * (row * along.length + column))));
      this.corners = triangles(along.length, across.length);
      skin.geometry.remove();
      skin.program = dress.shares ? map.program : plain;
      skin.geometry = new Geometry(gl, {
        position: { size: 3, data: points }, normal: { size: 3, data: facing }, place: { size: 2, data: place },
        ...(dress.shares ? { share: { size: 1, data: dress.shares } } : { colour: { size: 3, data: dress.colours ?? this.plainColours(points.length) } }),
        index: { data: this.corners },
      });
      lines.setChords(chords(stations, along.length));
    }
    this.stage?.draw();
  }

  /** @param {PointerEvent} event */
  pointsUnder(event) {
    const ray = this.stage.ray(event);
    return ray && this.picture && this.corners ? pickPoints({ points: this.picture.points, corners: this.corners }, ray.eye, ray.way) : null;
  }

  /** @param {number} length of the colours of all points */
  plainColours(length) {
    const ink = rgb(this.theme.colour('--skin'));
    const colours = new Float32Array(length);
    for (let at = 0; at < length; at += 3) colours.set(ink, at);
    return colours;
  }

  /** @param {import('./messages.js').Picture | undefined} picture */
  show(picture) {
    this.picture = picture;
    this.dress = {};
    this.marked = {};
    this.reach = undefined;
    this.paint();
  }

  /**
   * @param {Dress} dress
   * @param {import('./messages.js').Reach} [reach] how far a proof reaches
   */
  put(dress, reach) {
    this.dress = dress;
    this.reach = reach;
    this.paint();
  }

  /**
   * @param {{worst?: Float32Array, parting?: Float32Array, near?: Float32Array}} marks points, and both ends of chords
   */
  mark({ worst, parting, near }) {
    const none = new Float32Array();
    this.marked = { worst: worst ?? none, rim: worst ?? none, parting: parting ?? none, near: near ?? none };
    this.paint();
  }

  /** @param {number} every which of the passes are drawn */
  drawPasses(every) {
    if (!this.parts || this.parts.map.rest.every.value === every) return;
    this.parts.map.rest.every.value = every;
    this.stage.draw();
  }
}

/**
 * Lines of so many points each, as chords.
 * @param {Float32Array} lines
 * @param {number} row
 */
function chords(lines, row) {
  const count = lines.length / 3 / row;
  const made = new Float32Array(6 * count * (row - 1));
  let at = 0;
  for (let line = 0; line < count; line += 1) {
    for (let point = 0; point + 1 < row; point += 1, at += 6) {
      const from = 3 * (line * row + point);
      made.set(lines.subarray(from, from + 6), at);
    }
  }
  return made;
}
