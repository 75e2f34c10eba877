// @ts-check
/**
 * What stands in the loft's picture: surface, profiles, section, double curves
 * and worst places, as the kernel gives them. It judges nothing.
 */
import {
  BufferAttribute, BufferGeometry, Color, DoubleSide, Group, Line, LineBasicMaterial, LineSegments,
  Mesh, MeshBasicMaterial, MeshLambertMaterial, SphereGeometry,
} from 'three';

const STEPS = 120;
const ROWS = 40;

export class LoftBody {
  /** @param {import('../loftkin_page.js').Board} board */
  constructor(board) {
    this.board = board;
    this.group = new Group();
    this.skin = new MeshLambertMaterial({ vertexColors: true, side: DoubleSide, transparent: true, opacity: 0.9 });
    this.surface = new Mesh(new BufferGeometry(), this.skin);
    this.first = new Line(new BufferGeometry(), new LineBasicMaterial());
    this.second = new Line(new BufferGeometry(), new LineBasicMaterial());
    this.section = new Line(new BufferGeometry(), new LineBasicMaterial({ depthTest: false }));
    this.doubles = new LineSegments(new BufferGeometry(), new LineBasicMaterial({ depthTest: false }));
    this.markMaterial = new MeshBasicMaterial({ depthTest: false });
    this.mark = new SphereGeometry(0.016, 16, 12);
    this.marks = new Group();
    this.plain = new Color();
    this.faulty = new Color();
    this.section.renderOrder = 1;
    this.doubles.renderOrder = 2;
    this.marks.renderOrder = 3;
    this.group.add(this.surface, this.first, this.second, this.section, this.doubles, this.marks);
  }

  /** @param {(name: string) => string} colour */
  paint(colour) {
    this.plain.set(colour('--skin'));
    this.faulty.set(colour('--faulty'));
    this.first.material.color.set(colour('--first'));
    this.second.material.color.set(colour('--second'));
    this.section.material.color.set(colour('--section'));
    this.doubles.material.color.set(colour('--faulty'));
    this.markMaterial.color.set(colour('--faulty'));
    this.updateSurface();
  }

  updateSurface() {
    const surface = this.board.surface(STEPS, ROWS);
    this.group.visible = Boolean(surface);
    if (!surface) return;
    const [points, faulty, row] = [surface.points(), surface.faulty(), surface.row()];
    surface.free();
    const geometry = this.surface.geometry;
    geometry.setAttribute('position', new BufferAttribute(points, 3));
    geometry.setAttribute('color', new BufferAttribute(this.colours(faulty), 3));
    geometry.setIndex(new BufferAttribute(triangles(row, faulty.length / row), 1));
    geometry.computeVertexNormals();
    geometry.computeBoundingSphere();
    setLine(this.first, points.slice(0, 3 * row));
    setLine(this.second, points.slice(-3 * row));
    setLine(this.doubles, this.board.doubleCurves());
    const places = this.board.worstPlaces();
    this.marks.clear();
    for (let i = 0; i + 2 < places.length; i += 3) {
      const mark = new Mesh(this.mark, this.markMaterial);
      mark.renderOrder = 3;
      mark.position.set(places[i], places[i + 1], places[i + 2]);
      this.marks.add(mark);
    }
  }

  /** @param {number} across */
  updateSection(across) {
    if (this.group.visible) setLine(this.section, this.board.sectionInSpace(across, STEPS));
  }

  /** @param {Uint8Array} faulty */
  colours(faulty) {
    const colours = new Float32Array(3 * faulty.length);
    faulty.forEach((is, index) => (is ? this.faulty : this.plain).toArray(colours, 3 * index));
    return colours;
  }
}

/**
 * @param {Line} line
 * @param {Float32Array} points
 */
function setLine(line, points) {
  line.geometry.dispose();
  line.geometry = new BufferGeometry();
  line.geometry.setAttribute('position', new BufferAttribute(points, 3));
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
