// @ts-check
/**
 * What stands in the loft's picture: surface, profiles, section, double curves
 * and worst places, as the kernel gives them. It judges nothing.
 */
import { BufferAttribute, BufferGeometry, Color, DoubleSide, Group, Mesh, MeshBasicMaterial, MeshLambertMaterial, SphereGeometry } from 'three';
import { LineMaterial } from 'three/addons/lines/LineMaterial.js';
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js';

const STEPS = 120;
const ROWS = 40;
/** Rows while a drag goes on: the eye follows the node. */
const ROWS_MOVING = 16;

export class LoftBody {
  /** @param {import('../loftkin_page.js').Board} board */
  constructor(board) {
    this.board = board;
    this.group = new Group();
    this.skin = new MeshLambertMaterial({ vertexColors: true, side: DoubleSide, transparent: true, opacity: 0.9 });
    this.surface = new Mesh(new BufferGeometry(), this.skin);
    this.first = line(3, true);
    this.second = line(3, true);
    this.section = line(3.5, false);
    this.doubles = line(5, false);
    this.axis = line(2, true);
    this.markMaterial = new MeshBasicMaterial({ depthTest: false, transparent: true });
    this.mark = new SphereGeometry(0.016, 16, 12);
    this.marks = new Group();
    this.plain = new Color();
    this.limit = new Color();
    this.faulty = new Color();
    // The skin is translucent, so what lies on it is drawn after it.
    [this.surface, this.axis, this.first, this.second, this.section, this.doubles].forEach((part, order) => { part.renderOrder = order; });
    this.group.add(this.surface, this.axis, this.first, this.second, this.section, this.doubles, this.marks);
  }

  /** @param {(name: string) => string} colour */
  paint(colour) {
    this.plain.set(colour('--skin'));
    this.faulty.set(colour('--faulty'));
    this.limit.copy(this.plain).lerp(this.faulty, 0.35);
    this.axis.material.color.set(colour('--origin'));
    this.first.material.color.set(colour('--first'));
    this.second.material.color.set(colour('--second'));
    this.section.material.color.set(colour('--section'));
    this.doubles.material.color.set(colour('--faulty'));
    this.markMaterial.color.set(colour('--faulty'));
    this.updateSurface();
  }

  updateSurface() {
    const surface = this.board.surface(STEPS, this.board.isDragging() ? ROWS_MOVING : ROWS);
    this.group.visible = Boolean(surface);
    if (!surface) return;
    const [points, concern, row] = [surface.points(), surface.concern(), surface.row()];
    surface.free();
    const geometry = this.surface.geometry;
    geometry.setAttribute('position', new BufferAttribute(points, 3));
    geometry.setAttribute('color', new BufferAttribute(this.colours(concern), 3));
    geometry.setIndex(new BufferAttribute(triangles(row, concern.length / row), 1));
    geometry.computeVertexNormals();
    geometry.computeBoundingSphere();
    setChords(this.first, chords(points.subarray(0, 3 * row)));
    setChords(this.second, chords(points.subarray(-3 * row)));
    setChords(this.axis, this.board.axisInSpace());
    setChords(this.doubles, this.board.doubleCurves());
    const places = this.board.worstPlaces();
    this.marks.clear();
    for (let i = 0; i + 2 < places.length; i += 3) {
      const mark = new Mesh(this.mark, this.markMaterial);
      mark.renderOrder = 6;
      mark.position.set(places[i], places[i + 1], places[i + 2]);
      this.marks.add(mark);
    }
  }

  /** @param {number} across */
  updateSection(across) {
    if (this.group.visible) setChords(this.section, chords(this.board.sectionInSpace(across, STEPS)));
  }

  /** @param {Uint8Array} concern 0 none, 1 a limit is passed, 2 folded */
  colours(concern) {
    const colours = new Float32Array(3 * concern.length);
    const inks = [this.plain, this.limit, this.faulty];
    concern.forEach((level, index) => inks[level].toArray(colours, 3 * index));
    return colours;
  }
}

/**
 * @param {number} linewidth pixels
 * @param {boolean} depthTest whether the surface hides it
 */
function line(linewidth, depthTest) {
  const made = new LineSegments2(new LineSegmentsGeometry(), new LineMaterial({ linewidth, depthTest, transparent: true }));
  made.frustumCulled = false;
  return made;
}

/**
 * @param {LineSegments2} line
 * @param {Float32Array} chords x, y, z of both ends of each
 */
function setChords(line, chords) {
  line.visible = 0 < chords.length;
  if (!line.visible) return;
  line.geometry.dispose();
  line.geometry = new LineSegmentsGeometry().setPositions(chords);
}

/**
 * A polyline as chords.
 * @param {Float32Array} points
 */
function chords(points) {
  const made = new Float32Array(Math.max(0, 2 * points.length - 6));
  for (let i = 0; i + 3 < points.length; i += 3) made.set(points.subarray(i, i + 6), 2 * i);
  return made;
}

/**
 * Two triangles for each field of the grid of points.
 * @param {number} row points in a row
 * @param {number} rows
 */
function triangles(row, rows) {
  const corners = new Uint32Array(6 * (row - 1) * (rows - 1));
  let at = 0;
  for (let r = 0; r + 1 < rows; r += 1) {
    for (let i = r * row; i + 1 < (r + 1) * row; i += 1) {
      corners.set([i, i + 1, i + row, i + 1, i + row + 1, i + row], at);
      at += 6;
    }
  }
  return corners;
}
