// @ts-check
/**
 * The loft in space: the surface, its two profiles, the section shown, the
 * double curves. Turned by pointer and keys. Where the browser refuses to draw
 * in space it says so, and the rest of the page goes on.
 */
import { LoftBody } from './loft-body.js';
import { LoftTools } from './loft-tools.js';
import { MeasureView } from './measure-view.js';
import { pick } from './pick.js';
import { Stage } from './stage.js';

export class LoftView {
  /**
   * @param {{picture: HTMLElement, tools: HTMLElement, measure: HTMLElement}} places
   * @param {import('../page/controller.js').Controller} controller
   * @param {import('../page/theme.js').Theme} theme
   */
  constructor({ picture: place, tools, measure }, controller, theme) {
    this.controller = controller;
    this.tools = new LoftTools(tools, controller);
    this.measureView = new MeasureView(measure, controller);
    this.board = controller.board;
    this.theme = theme;
    this.stage = new Stage(place, {
      label: 'The loft in space. Arrows turn it, plus and minus zoom, 0 goes back. Places can be measured below.',
      refused: 'This browser does not draw in space (WebGL is refused), so the loft has no picture here. Verdicts, sections, measures and all else work without it.',
      build: (gl) => this.build(gl),
      pointed: (event, pressed) => this.point(event, pressed),
    });
    if (this.stage.stands) tools.append(this.tools.legend);
  }

  /** @param {import('ogl').OGLRenderingContext} gl */
  build(gl) {
    this.body = new LoftBody(gl, this.board);
    this.paintTheme();
    return this.body;
  }

  paintTheme() {
    this.body?.paint((name) => this.theme.colour(name));
    this.updateSurface();
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
    this.stage?.draw();
  }

  /** @param {number[]} profiles pointed at elsewhere */
  showProfiles(profiles) {
    this.body?.pointProfiles(profiles);
    this.stage?.draw();
  }

  /** @param {import('../page/links.js').LoftPlace | null} place */
  showPointed(place) {
    this.body?.showPointed(place);
    this.measureView.showPointed(place);
    this.stage?.draw();
  }

  /** @param {(import('../page/links.js').LoftPlace | null)[]} places */
  showKept(places) {
    this.body?.showKept(places);
    this.stage?.draw();
  }

  /** @param {boolean} shown whether rulings and sections are drawn on the skin */
  showGrid(shown) {
    if (this.body) this.body.grid.value = Number(shown);
    this.stage?.draw();
  }

  /**
   * The pointer is over the picture, or was pressed there without turning it.
   * @param {PointerEvent | null} event
   * @param {boolean} pressed
   */
  point(event, pressed) {
    const skin = this.body?.skin;
    const ray = event && this.stage.ray(event);
    if (!skin || !ray) {
      this.controller.links.showPlace(null, 'loft');
      return;
    }
    const place = pick(skin, ray.eye, ray.way);
    this.controller.links.showPlace(place, 'loft');
    if (place && pressed) this.measureView.keep(place);
  }
}
