// @ts-check
/**
 * The canvas of the board: passes pointers and keys on, and paints when told.
 *
 * Mouse, pen and touch come as pointer events; two fingers pinch. The wheel
 * zooms, with Shift it pans; the space bar or the middle button pans.
 */
import { button, byId, element } from '../page/dom.js';
import { actOf } from './acts.js';
import { keyName } from './keys.js';

/** Zoom for one pixel of the wheel, and for one of a pinched track pad, which browsers send as a wheel with Ctrl. */
const [WHEEL, PINCHED] = [0.0016, 0.01];
/** The pointer over the empty sheet, hand by hand. */
const CURSORS = ['default', 'crosshair', 'crosshair', 'crosshair', 'default', 'move'];
/** The number of the hand that draws freely. */
const STROKE = 2;

export class BoardView {
  /**
   * @param {HTMLCanvasElement} canvas
   * @param {import('../page/controller.js').Controller} controller
   */
  constructor(canvas, controller) {
    this.canvas = canvas;
    this.controller = controller;
    this.board = controller.board;
    this.space = false;
    /** How far a track pad was pinched when it last told. */
    this.pinched = 1;
    /** @type {Set<number>} */
    this.pressed = new Set();
    /** Stands on the sheet while nothing of the family is seen. */
    this.away = byId('away');
    this.away.append(element('p', {}, 'All curves are out of sight.'), button('Show all', () => controller.act(() => this.board.fit())));
    this.context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
    new ResizeObserver(() => this.fitToPage()).observe(canvas);
    canvas.addEventListener('pointerdown', (event) => this.press(event));
    canvas.addEventListener('pointermove', (event) => this.steer(event));
    canvas.addEventListener('pointerup', (event) => this.release(event));
    canvas.addEventListener('pointercancel', (event) => {
      this.pressed.delete(event.pointerId);
      controller.act(() => this.board.abandon());
    });
    canvas.addEventListener('wheel', (event) => this.wheel(event), { passive: false });
    canvas.addEventListener('keydown', (event) => this.key(event));
    canvas.addEventListener('keyup', (event) => { if (event.key === ' ') this.space = false; });
    canvas.addEventListener('blur', () => {
      this.space = false;
      this.keyed(true);
    });
    // Safari tells of a pinched track pad by events of its own, and would enlarge the whole page.
    for (const type of ['gesturestart', 'gesturechange']) canvas.addEventListener(type, (event) => this.pinch(event));
    canvas.addEventListener('contextmenu', (event) => event.preventDefault());
  }

  /** Sharp on every screen: as many pixels as the screen has. */
  fitToPage() {
    const { clientWidth: width, clientHeight: height } = this.canvas;
    if (!width || !height) return;
    const ratio = window.devicePixelRatio || 1;
    this.canvas.width = Math.round(width * ratio);
    this.canvas.height = Math.round(height * ratio);
    this.context.setTransform(ratio, 0, 0, ratio, 0, 0);
    const first = !this.sized;
    this.sized = true;
    this.controller.act(() => {
      this.board.resize(width, height);
      if (first) this.board.fit();
    });
  }

  paint() {
    this.board.paint(this.context);
    this.canvas.style.cursor = this.cursor();
    this.away.hidden = this.board.inSight() || 0 < this.board.sketchNodes();
  }

  /** @param {boolean} yes whether keys move the board, and not a pointer: then it tells of its keys */
  keyed(yes) {
    this.canvas.toggleAttribute('data-pressed', !yes);
  }

  cursor() {
    if (this.space) return 'grab';
    return this.board.isOverSomething() ? 'pointer' : CURSORS[this.board.hand()];
  }

  /** @param {PointerEvent} event */
  pointer(event) {
    const { left, top } = this.canvas.getBoundingClientRect();
    const panning = this.space || event.button === 1;
    return new this.controller.kernel.BoardPointer(
      event.pointerId, event.clientX - left, event.clientY - top,
      event.pointerType === 'touch', event.shiftKey, panning, event.timeStamp,
    );
  }

  /**
   * @param {PointerEvent} event
   * @param {(pointer: import('../loftkin_page.js').BoardPointer) => string | void | undefined} act
   */
  pass(event, act) {
    const pointer = this.pointer(event);
    try {
      this.controller.act(() => act(pointer));
    } finally {
      pointer.free();
    }
  }

  /** @param {PointerEvent} event */
  press(event) {
    if (event.button === 2) return;
    event.preventDefault();
    this.keyed(false);
    this.pressed.add(event.pointerId);
    this.canvas.focus({ preventScroll: true });
    this.canvas.setPointerCapture(event.pointerId);
    this.pass(event, (pointer) => this.board.press(pointer));
  }

  /** @param {PointerEvent} event */
  steer(event) {
    // A stroke takes every place the pen has told, and not one a frame only; Safari and hosts without encryption tell one.
    const told = this.board.hand() === STROKE && event.buttons ? event.getCoalescedEvents?.() ?? [] : [];
    for (const part of told.length ? told : [event]) this.pass(part, (pointer) => this.board.steer(pointer));
  }

  /** @param {PointerEvent} event */
  release(event) {
    this.pressed.delete(event.pointerId);
    this.pass(event, (pointer) => this.board.release(pointer));
  }

  /** @param {WheelEvent} event */
  wheel(event) {
    event.preventDefault();
    const { left, top } = this.canvas.getBoundingClientRect();
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
    const [x, y] = [event.deltaX * lines, event.deltaY * lines];
    this.controller.act(() => {
      // Some browsers turn the wheel sideways by themselves when Shift is held.
      if (event.shiftKey) this.board.pan(-(x || y), 0);
      else this.board.zoomAt(event.clientX - left, event.clientY - top, Math.exp(-y * (event.ctrlKey ? PINCHED : WHEEL)));
    });
  }

  /** @param {any} event enlarged by `scale` since it began */
  pinch(event) {
    event.preventDefault();
    const factor = event.type === 'gesturestart' ? 1 : event.scale / this.pinched;
    this.pinched = event.scale;
    // Fingers on the glass come as pointers too.
    if (this.pressed.size || factor === 1) return;
    const { left, top } = this.canvas.getBoundingClientRect();
    this.controller.act(() => this.board.zoomAt(event.clientX - left, event.clientY - top, factor));
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    this.keyed(true);
    if (event.key === ' ') {
      this.space = true;
      event.preventDefault();
      return;
    }
    const key = keyName(event);
    const { controller, board } = this;
    const desk = {
      board,
      say: (/** @type {string} */ text) => controller.announcer.announce(text),
      open: (/** @type {any} */ name) => controller.drawing.open(name),
    };
    const act = actOf(key, desk);
    if (!act) return;
    event.preventDefault();
    controller.act(() => act.act(desk, key));
  }
}
