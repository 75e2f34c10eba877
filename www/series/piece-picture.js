// @ts-check
/**
 * One piece in space: its skin, the profiles at its stations. Turned as the
 * loft is.
 */
import { Geometry, Mesh, Program, Transform } from 'ogl';
import { Line } from '../loft/line.js';
import { rgb } from '../loft/maps.js';
import { SKIN } from '../loft/shaders.js';
import { triangles } from '../loft/skin.js';
import { Stage } from '../loft/stage.js';

export class PiecePicture {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/theme.js').Theme} theme
   */
  constructor(place, theme) {
    this.theme = theme;
    /** @type {import('./messages.js').Picture | undefined} */
    this.picture = undefined;
    this.stage = new Stage(place, {
      label: 'The piece in space. Arrows turn it, plus and minus zoom, 0 goes back.',
      refused: 'This browser does not draw in space (WebGL is refused), so the piece has no picture here. All else works without it.',
      build: (gl) => this.build(gl),
    });
  }

  /** @param {import('ogl').OGLRenderingContext} gl */
  build(gl) {
    const group = new Transform();
    const program = new Program(gl, { ...SKIN, transparent: true, cullFace: false, uniforms: { grid: { value: 0.5 } } });
    const skin = new Mesh(gl, { geometry: new Geometry(gl), program, frustumCulled: false, renderOrder: 0 });
    const lines = new Line(gl, 2.5, { hidden: true, order: 2 });
    for (const part of [skin, lines.mesh]) part.setParent(group);
    this.parts = { gl, group, skin, lines };
    this.paint();
    return { group, fit: lines.fit.bind(lines) };
  }

  /** The theme has changed, or there is another piece. */
  paint() {
    const { picture } = this;
    if (!this.parts) return;
    const { gl, group, skin, lines } = this.parts;
    group.visible = Boolean(picture);
    lines.paint(this.theme.colour('--section'));
    if (picture) {
      const { points, facing, along, across, stations } = picture;
      const ink = rgb(this.theme.colour('--skin'));
      const colour = new Float32Array(points.length);
      for (let at = 0; at < colour.length; at += 3) colour.set(ink, at);
      const place = new Float32Array(2 * along.length * across.length);
      across.forEach((v, row) => along.forEach((u, column) => place.set([u, v], 2 * (row * along.length + column))));
      skin.geometry.remove();
      skin.geometry = new Geometry(gl, {
        position: { size: 3, data: points }, normal: { size: 3, data: facing }, colour: { size: 3, data: colour },
        place: { size: 2, data: place }, index: { data: triangles(along.length, across.length) },
      });
      lines.setChords(chords(stations, along.length));
    }
    this.stage?.draw();
  }

  /** @param {import('./messages.js').Picture | undefined} picture */
  show(picture) {
    this.picture = picture;
    this.paint();
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
