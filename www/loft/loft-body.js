// @ts-check
/**
 * What stands in the loft's picture: surface, profiles, section, double curves
 * and worst places, as the kernel gives them. It judges nothing.
 */
import { Color, Geometry, Mesh, Program, Transform } from 'ogl';
import { Line } from './line.js';
import { SKIN } from './shaders.js';
import { normals, triangles } from './skin.js';

const STEPS = 120;
const ROWS = 40;
/** Rows while a drag goes on: the eye follows the node. */
const ROWS_MOVING = 16;

export class LoftBody {
  /**
   * @param {import('ogl').OGLRenderingContext} gl
   * @param {import('../loftkin_page.js').Board} board
   */
  constructor(gl, board) {
    this.gl = gl;
    this.board = board;
    this.group = new Transform();
    const program = new Program(gl, { ...SKIN, transparent: true, cullFace: false });
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
    };
    /** The colours of the skin by concern: none, a limit is passed, folded. @type {Color[]} */
    this.inks = [];
    for (const part of [this.surface, ...Object.values(this.lines).map((line) => line.mesh)]) part.setParent(this.group);
  }

  /** @param {(name: string) => string} colour */
  paint(colour) {
    const [plain, faulty] = ['--skin', '--faulty'].map((name) => new Color(colour(name)));
    this.inks = [plain, between(plain, faulty, 0.35), faulty];
    const { axis, first, second, section, doubles, marks, ruling, place } = this.lines;
    axis.paint(colour('--origin'));
    first.paint(colour('--first'));
    second.paint(colour('--second'));
    section.paint(colour('--section'));
    doubles.paint(colour('--faulty'));
    marks.paint(colour('--faulty'));
    ruling.paint(colour('--text'));
    place.paint(colour('--text'));
    this.updateSurface();
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

  updateSurface() {
    const surface = this.board.surface(STEPS, this.board.isDragging() ? ROWS_MOVING : ROWS);
    this.group.visible = Boolean(surface);
    if (!surface) return;
    const [points, concern, row] = [surface.points(), surface.concern(), surface.row()];
    surface.free();
    const index = triangles(row, concern.length / row);
    this.surface.geometry.remove();
    this.surface.geometry = new Geometry(this.gl, {
      position: { size: 3, data: points },
      normal: { size: 3, data: normals(points, index) },
      colour: { size: 3, data: this.colours(concern) },
      index: { data: index },
    });
    const { axis, first, second, doubles, marks } = this.lines;
    first.setPoints(points.subarray(0, 3 * row));
    second.setPoints(points.subarray(-3 * row));
    axis.setChords(this.board.axisInSpace());
    doubles.setChords(this.board.doubleCurves());
    marks.setDiscs(this.board.worstPlaces());
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

  /** @param {Uint8Array} concern 0 none, 1 a limit is passed, 2 folded */
  colours(concern) {
    const colours = new Float32Array(3 * concern.length);
    concern.forEach((level, index) => colours.set(this.inks[level], 3 * index));
    return colours;
  }
}

/**
 * @param {Color} first
 * @param {Color} second
 * @param {number} share of the second
 */
function between(first, second, share) {
  const [r, g, b] = [0, 1, 2].map((i) => first[i] + share * (second[i] - first[i]));
  return new Color(r, g, b);
}
