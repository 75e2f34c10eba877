// @ts-check
/**
 * The loft in space: the surface, its two profiles, the section shown, the
 * double curves. Turned by pointer and keys. Where the browser refuses to draw
 * in space it says so, and the rest of the page goes on.
 */
import { Camera, Renderer } from 'ogl';
import { element } from '../page/dom.js';
import { LoftBody } from './loft-body.js';
import { LoftTools } from './loft-tools.js';
import { MeasureView } from './measure-view.js';
import { Orbit } from './orbit.js';
import { pick } from './pick.js';

/** What the picture asks of the browser; the colours come multiplied by their opacity. */
const CONTEXT = { alpha: true, antialias: true, premultipliedAlpha: true };

/** More pixels of the screen to one of the page than this are not seen and cost time. */
const MOST_RATIO = 2;

/** The angle of view, upright, in degrees. */
const VIEW = 32;

export class LoftView {
  /**
   * @param {{picture: HTMLElement, tools: HTMLElement, measure: HTMLElement}} places
   * @param {import('../page/controller.js').Controller} controller
   * @param {import('../page/theme.js').Theme} theme
   */
  constructor({ picture: place, tools, measure }, controller, theme) {
    this.place = place;
    this.controller = controller;
    this.tools = new LoftTools(tools, controller);
    this.measureView = new MeasureView(measure, controller);
    this.board = controller.board;
    this.theme = theme;
    this.canvas = /** @type {HTMLCanvasElement} */ (element('canvas', {
      tabindex: '0', role: 'application',
      'aria-label': 'The loft in space. Arrows turn it, plus and minus zoom, 0 goes back. Places can be measured below.',
    }));
    this.orbit = new Orbit(this.canvas, () => this.draw(), (event, pressed) => this.point(event, pressed));
    if (!this.build()) {
      place.append(element('p', { class: 'quiet-text' }, 'This browser does not draw in space (WebGL is refused), so the loft has no picture here. Verdicts, sections, measures and all else work without it.'));
      return;
    }
    place.append(this.canvas);
    tools.append(this.tools.legend);
    // A browser may take the graphics away from a page that was long in the background.
    this.canvas.addEventListener('webglcontextlost', (event) => event.preventDefault());
    this.canvas.addEventListener('webglcontextrestored', () => {
      if (this.build()) this.fitToPage();
    });
    new ResizeObserver(() => this.fitToPage()).observe(place);
  }

  /** @returns {boolean} whether the browser draws in space */
  build() {
    // Asked first, because the library complains on the console where it is refused.
    if (!this.canvas.getContext('webgl2', CONTEXT)) return false;
    this.renderer = new Renderer({ ...CONTEXT, canvas: this.canvas });
    this.camera = new Camera(this.renderer.gl, { fov: VIEW, near: 0.05, far: 40 });
    this.body = new LoftBody(this.renderer.gl, this.board);
    this.paintTheme();
    return true;
  }

  paintTheme() {
    this.body?.paint((name) => this.theme.colour(name));
    this.updateSurface();
  }

  fitToPage() {
    const { clientWidth: width, clientHeight: height } = this.place;
    if (!width || !height || !this.renderer) return;
    const ratio = Math.min(window.devicePixelRatio || 1, MOST_RATIO);
    this.renderer.dpr = ratio;
    this.renderer.setSize(width, height);
    this.camera?.perspective({ aspect: width / height });
    this.body?.fit(width * ratio, height * ratio, ratio);
    this.draw();
  }

  /** The curves have changed. */
  updateSurface() {
    this.tools.update();
    if (this.body) this.tools.showLegend(this.body.updateSurface(this.tools.map));
    this.measureView.update();
    this.updateSection();
  }

  /** Another section is shown. */
  updateSection() {
    this.body?.updateSection(this.board.across());
    this.draw();
  }

  /** @param {number[]} profiles pointed at elsewhere */
  showProfiles(profiles) {
    this.body?.pointProfiles(profiles);
    this.draw();
  }

  /** @param {import('../page/links.js').LoftPlace | null} place */
  showPointed(place) {
    this.body?.showPointed(place);
    this.measureView.showPointed(place);
    this.draw();
  }

  /** @param {(import('../page/links.js').LoftPlace | null)[]} places */
  showKept(places) {
    this.body?.showKept(places);
    this.draw();
  }

  /** @param {boolean} shown whether rulings and sections are drawn on the skin */
  showGrid(shown) {
    if (this.body) this.body.grid.value = Number(shown);
    this.draw();
  }

  /**
   * The pointer is over the picture, or was pressed there without turning it.
   * @param {PointerEvent | null} event
   * @param {boolean} pressed
   */
  point(event, pressed) {
    const skin = this.body?.skin;
    const { left, top, width, height } = this.canvas.getBoundingClientRect();
    if (!event || !skin || !width || !height) {
      this.controller.links.showPlace(null, 'loft');
      return;
    }
    const [x, y] = [(2 * (event.clientX - left)) / width - 1, 1 - (2 * (event.clientY - top)) / height];
    const { eye, way } = this.orbit.ray(x, y, Math.tan((VIEW * Math.PI) / 360), width / height);
    const place = pick(skin, eye, way);
    this.controller.links.showPlace(place, 'loft');
    if (place && pressed) this.measureView.keep(place);
  }

  /** Draws once, in the next frame. */
  draw() {
    if (!this.renderer || this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      if (!this.renderer || !this.camera || !this.body) return;
      this.orbit.place(this.camera);
      this.renderer.render({ scene: this.body.group, camera: this.camera });
    });
  }
}
