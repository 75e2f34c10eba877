// @ts-check
/**
 * The loft in space: the surface, its two profiles, the section shown, the
 * double curves. Turned by pointer and keys. Where the browser refuses to draw
 * in space it says so, and the rest of the page goes on.
 */
import { Camera, Renderer } from 'ogl';
import { element } from '../page/dom.js';
import { LoftBody } from './loft-body.js';
import { Orbit } from './orbit.js';

/** What the picture asks of the browser; the colours come multiplied by their opacity. */
const CONTEXT = { alpha: true, antialias: true, premultipliedAlpha: true };

/** More pixels of the screen to one of the page than this are not seen and cost time. */
const MOST_RATIO = 2;

export class LoftView {
  /**
   * @param {HTMLElement} place
   * @param {import('../page/controller.js').Controller} controller
   * @param {import('../page/theme.js').Theme} theme
   */
  constructor(place, controller, theme) {
    this.place = place;
    this.board = controller.board;
    this.theme = theme;
    this.canvas = /** @type {HTMLCanvasElement} */ (element('canvas', {
      tabindex: '0', role: 'application',
      'aria-label': 'The loft in space. Arrows turn it, plus and minus zoom, 0 goes back.',
    }));
    this.orbit = new Orbit(this.canvas, () => this.draw());
    if (!this.build()) {
      place.append(element('p', { class: 'quiet-text' }, 'This browser does not draw in space (WebGL is refused), so the loft has no picture here. Verdicts, sections and all else work without it.'));
      return;
    }
    place.append(this.canvas);
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
    this.camera = new Camera(this.renderer.gl, { fov: 32, near: 0.05, far: 40 });
    this.body = new LoftBody(this.renderer.gl, this.board);
    this.paintTheme();
    this.updateSection();
    return true;
  }

  paintTheme() {
    this.body?.paint((name) => this.theme.colour(name));
    this.draw();
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
    this.body?.updateSurface();
    this.updateSection();
  }

  /** Another section is shown. */
  updateSection() {
    this.body?.updateSection(this.board.across());
    this.draw();
  }

  /** @param {import('../page/links.js').LoftPlace | null} place */
  showPointed(place) {
    this.body?.showPointed(place);
    this.draw();
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
