// @ts-check
/**
 * One piece in space: its skin, the profiles at its stations. Turned as the
 * loft is. Where the browser refuses to draw in space it says so.
 */
import { Camera, Geometry, Mesh, Program, Renderer, Transform } from 'ogl';
import { Line } from '../loft/line.js';
import { rgb } from '../loft/maps.js';
import { Orbit } from '../loft/orbit.js';
import { SKIN } from '../loft/shaders.js';
import { triangles } from '../loft/skin.js';
import { element } from '../page/dom.js';

const CONTEXT = { alpha: true, antialias: true, premultipliedAlpha: true };
const MOST_RATIO = 2;

export class PiecePicture {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/theme.js').Theme} theme
   */
  constructor(place, theme) {
    this.place = place;
    this.theme = theme;
    /** @type {import('./messages.js').Picture | undefined} */
    this.picture = undefined;
    this.canvas = /** @type {HTMLCanvasElement} */ (element('canvas', {
      tabindex: '0', role: 'application', 'aria-label': 'The piece in space. Arrows turn it, plus and minus zoom, 0 goes back.',
    }));
    this.orbit = new Orbit(this.canvas, () => this.draw(), () => {});
    if (!this.build()) {
      place.append(element('p', { class: 'quiet-text' }, 'This browser does not draw in space (WebGL is refused), so the piece has no picture here. All else works without it.'));
      return;
    }
    place.append(this.canvas);
    this.canvas.addEventListener('webglcontextlost', (event) => event.preventDefault());
    this.canvas.addEventListener('webglcontextrestored', () => { if (this.build()) this.fit(); });
    new ResizeObserver(() => this.fit()).observe(place);
  }

  build() {
    if (!this.canvas.getContext('webgl2', CONTEXT)) return false;
    this.renderer = new Renderer({ ...CONTEXT, canvas: this.canvas });
    const { gl } = this.renderer;
    this.camera = new Camera(gl, { fov: 32, near: 0.05, far: 40 });
    this.scene = new Transform();
    const program = new Program(gl, { ...SKIN, transparent: true, cullFace: false, uniforms: { grid: { value: 0.5 } } });
    this.skin = new Mesh(gl, { geometry: new Geometry(gl), program, frustumCulled: false, renderOrder: 0 });
    this.lines = new Line(gl, 2.5, { hidden: true, order: 2 });
    for (const part of [this.skin, this.lines.mesh]) part.setParent(this.scene);
    this.paint();
    return true;
  }

  /** The theme has changed, or there is another piece. */
  paint() {
    const { renderer, skin, lines, scene, picture } = this;
    if (!renderer || !skin || !lines || !scene) return;
    scene.visible = Boolean(picture);
    lines.paint(this.theme.colour('--section'));
    if (picture) {
      const { points, facing, along, across, stations } = picture;
      const ink = rgb(this.theme.colour('--skin'));
      const colour = new Float32Array(points.length);
      for (let at = 0; at < colour.length; at += 3) colour.set(ink, at);
      const place = new Float32Array(2 * along.length * across.length);
      across.forEach((v, row) => along.forEach((u, column) => place.set([u, v], 2 * (row * along.length + column))));
      skin.geometry.remove();
      skin.geometry = new Geometry(renderer.gl, {
        position: { size: 3, data: points }, normal: { size: 3, data: facing }, colour: { size: 3, data: colour },
        place: { size: 2, data: place }, index: { data: triangles(along.length, across.length) },
      });
      lines.setChords(chords(stations, along.length));
    }
    this.draw();
  }

  /** @param {import('./messages.js').Picture | undefined} picture */
  show(picture) {
    this.picture = picture;
    this.paint();
  }

  fit() {
    const { clientWidth: width, clientHeight: height } = this.place;
    if (!width || !height || !this.renderer) return;
    const ratio = Math.min(window.devicePixelRatio || 1, MOST_RATIO);
    this.renderer.dpr = ratio;
    this.renderer.setSize(width, height);
    this.camera?.perspective({ aspect: width / height });
    this.lines?.fit(width * ratio, height * ratio, ratio);
    this.draw();
  }

  /** Draws once, in the next frame. */
  draw() {
    if (!this.renderer || this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      if (!this.renderer || !this.camera || !this.scene) return;
      this.orbit.place(this.camera);
      this.renderer.render({ scene: this.scene, camera: this.camera });
    });
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
