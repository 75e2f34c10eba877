//! Where the skin of a mesh meets itself: squares of cells are proved as wholes, or
//! parted until single triangles are compared.
//!
//! Two tests spare nearly all comparing. *Apart*: a plane is between two squares.
//! *Graph*: a window of cells, as it is seen along some direction, covers no place
//! twice; see [`Search::is_graph`] for why that is enough.

use super::exact::Corners;
use super::patch::{DIRECTIONS, FLOOR, Facts, Pyramid, Skin, parts, square_to};
use crate::solid::grid::Grid;
use nalgebra::Vector3;

/// Two triangles that meet, or twice one that has no area.
pub type Meeting = [[u32; 3]; 2];

/// So many meetings are enough to know where a mesh must be finer.
const ENOUGH: usize = 64;

/// Squares this far from each other, counted in squares, are tried as one window.
const NEAR: usize = 2;

/// Square (i, j) of those with 2^level cells a side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Square {
    level: u32,
    i: usize,
    j: usize,
}

/// A stretch of columns or of levels; it may go on beyond a closing joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Stretch {
    from: usize,
    cells: usize,
    /// The squares that it is made of, likewise.
    first: usize,
    squares: usize,
}

/// A search through one skin.
pub struct Search<'a> {
    skin: Skin<'a>,
    pyramid: Pyramid,
    /// The rim of a window about its middle; kept to spare its memory.
    rim: Vec<Vector3<f64>>,
    /// The meetings found.
    found: Vec<Meeting>,
}

impl<'a> Search<'a> {
    /// Ready to search `skin`.
    pub fn new(skin: Skin<'a>) -> Self {
        let pyramid = Pyramid::new(&skin);
        Self {
            skin,
            pyramid,
            rim: Vec::new(),
            found: Vec::new(),
        }
    }

    /// Looks at every pair of triangles of the skin: the meetings, [`ENOUGH`] or a
    /// few more of them.
    pub fn run(&mut self) -> Vec<Meeting> {
        self.within(Square {
            level: self.pyramid.top(),
            i: 0,
            j: 0,
        });
        std::mem::take(&mut self.found)
    }

    fn within(&mut self, square: Square) {
        if square.level == 0 {
            let [one, other] = self.skin.cell(square.i, square.j);
            self.found
                .extend(compare(&self.skin.corners, one, other).err());
            return;
        }
        if self.is_graph(square, square) {
            return;
        }
        let children: Vec<Square> = self.children(square).collect();
        for (index, &one) in children.iter().enumerate() {
            self.within(one);
            for &other in &children[index + 1..] {
                self.between(one, other);
            }
        }
    }

    fn between(&mut self, one: Square, other: Square) {
        if ENOUGH <= self.found.len() || self.facts(one).are_apart(&self.facts(other)) {
            return;
        }
        if one.level == 0 {
            let [ours, theirs] = [one, other].map(|cell| self.skin.cell(cell.i, cell.j));
            for mine in ours {
                for their in theirs {
                    self.found
                        .extend(compare(&self.skin.corners, mine, their).err());
                }
            }
            return;
        }
        if self.is_graph(one, other) {
            return;
        }
        let theirs: Vec<Square> = self.children(other).collect();
        for mine in self.children(one) {
            for &their in &theirs {
                self.between(mine, their);
            }
        }
    }

    /// Compares a triangle that is not of the skin with all of it.
    ///
    /// # Errors
    /// The first [`Meeting`] found.
    pub fn against(&self, triangle: [u32; 3]) -> Result<(), Meeting> {
        let mut facts = Facts::NONE;
        for corner in triangle {
            facts.reach(&parts(self.skin.corners.at(corner).coords));
        }
        self.against_square(
            triangle,
            &facts,
            Square {
                level: self.pyramid.top(),
                i: 0,
                j: 0,
            },
        )
    }

    fn against_square(
        &self,
        triangle: [u32; 3],
        facts: &Facts,
        square: Square,
    ) -> Result<(), Meeting> {
        if facts.are_apart(&self.facts(square)) {
            return Ok(());
        }
        if square.level == 0 {
            let ours = self.skin.cell(square.i, square.j);
            return ours
                .into_iter()
                .try_for_each(|one| compare(&self.skin.corners, one, triangle));
        }
        self.children(square)
            .try_for_each(|part| self.against_square(triangle, facts, part))
    }

    fn children(&self, Square { level, i, j }: Square) -> impl Iterator<Item = Square> + use<> {
        let Grid {
            cells_along,
            cells_across,
            ..
        } = self.skin.grid;
        let level = level - 1;
        let corners = [(0, 0), (1, 0), (0, 1), (1, 1)];
        let all = corners.map(|(x, y)| Square {
            level,
            i: 2 * i + x,
            j: 2 * j + y,
        });
        all.into_iter()
            .filter(move |part| part.i << level < cells_along && part.j << level < cells_across)
    }

    fn facts(&self, square: Square) -> Facts {
        let Square { level, i, j } = square;
        if FLOOR <= level {
            return *self.pyramid.facts(level, i, j);
        }
        let grid = self.skin.grid;
        let columns = i << level..grid.cells_along.min((i + 1) << level);
        let levels = j << level..grid.cells_across.min((j + 1) << level);
        self.skin.facts(columns, levels)
    }

    /// Whether the window about two squares is the graph of a function over some
    /// plane, by this sufficient test: seen along a direction, all its triangles
    /// turn one way, and its rim runs once round a middle point, straight about it.
    ///
    /// Then no two triangles of it meet but in what they share. The window is a
    /// disc of triangles; its view is a map of the disc into the plane that keeps
    /// the turn of every triangle. A place off the views of the edges is covered as
    /// often as the view of the rim winds about it (the degree of the map), which is
    /// once or never for a rim that is seen as a simple polygon. So the views of two
    /// triangles overlap nowhere. A place on the views of two edges or corners that
    /// are not the same one would have both their surroundings over it, so places
    /// nearby would be covered twice; on the rim the polygon is simple.
    fn is_graph(&mut self, one: Square, other: Square) -> bool {
        let grid = self.skin.grid;
        let level = one.level;
        let along = stretch([one.i, other.i], level, grid.cells_along, grid.closed_along);
        let across = stretch(
            [one.j, other.j],
            level,
            grid.cells_across,
            grid.closed_across,
        );
        let (Some(along), Some(across)) = (along, across) else {
            return false;
        };
        let mut facing = u32::MAX;
        for j in across.first..across.first + across.squares {
            for i in along.first..along.first + along.squares {
                let i = i % (grid.cells_along.div_ceil(1 << level));
                let j = j % (grid.cells_across.div_ceil(1 << level));
                facing &= self.facts(Square { level, i, j }).facing;
                if facing == 0 {
                    return false;
                }
            }
        }
        self.lay_rim(along, across);
        let either = facing | facing >> DIRECTIONS;
        (0..DIRECTIONS).any(|way| either & (1 << way) != 0 && runs_round(&self.rim, way))
    }

    /// The corners of the rim, counterclockwise in columns and levels, from the
    /// middle: a corner, or halfway between two.
    fn lay_rim(&mut self, along: Stretch, across: Stretch) {
        let at = |column: usize, level: usize| {
            let corner = self
                .skin
                .grid
                .corner(along.from + column, across.from + level);
            self.skin.corners.at(corner).coords
        };
        let (w, h) = (along.cells, across.cells);
        let middle = (at(w / 2, h / 2) + at(w.div_ceil(2), h.div_ceil(2))) * 0.5;
        self.rim.clear();
        self.rim.extend((0..w).map(|k| at(k, 0) - middle));
        self.rim.extend((0..h).map(|k| at(w, k) - middle));
        self.rim.extend((0..w).map(|k| at(w - k, h) - middle));
        self.rim.extend((0..h).map(|k| at(0, h - k) - middle));
    }
}

/// Whether a polygon, seen along a direction, turns about the origin the same way
/// at every side, once in all: it is simple then.
fn runs_round(rim: &[Vector3<f64>], direction: usize) -> bool {
    // Halves of steps have 25 bits: products 50, three of their differences 53.
    let turn = |from: &Vector3<f64>, to: &Vector3<f64>| parts(from.cross(to))[direction];
    let mut from = &rim[rim.len() - 1];
    let first = turn(from, &rim[0]);
    let mut rounds = 0;
    for to in rim {
        let here = turn(from, to);
        if here == 0.0 || (0.0 < here) != (0.0 < first) {
            return false;
        }
        // A turn below 180 degrees at each side: each round passes one line upward once.
        let [before, after] = [from, to].map(|point| square_to(direction, point));
        rounds += u32::from(before < 0.0 && 0.0 <= after);
        from = to;
    }
    rounds == 1
}

/// From one square to the other the shorter way; none when that is too far, or
/// when it closes.
fn stretch(ends: [usize; 2], level: u32, cells: usize, closed: bool) -> Option<Stretch> {
    let count = cells.div_ceil(1 << level);
    let (low, high) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    let (inside, outside) = (high - low, low + count - high);
    let (first, steps) = if closed && outside < inside {
        (high, outside)
    } else {
        (low, inside)
    };
    if NEAR < steps {
        return None;
    }
    let from = first << level;
    let last = first + steps;
    let end = if last < count {
        cells.min((last + 1) << level)
    } else {
        cells + cells.min((last - count + 1) << level)
    };
    let cells_in = end - from;
    (!closed || cells_in < cells).then_some(Stretch {
        from,
        cells: cells_in,
        first,
        squares: steps + 1,
    })
}

/// Compares two triangles.
fn compare(corners: &Corners, one: [u32; 3], other: [u32; 3]) -> Result<(), Meeting> {
    for triangle in [one, other] {
        if corners.normal(triangle) == Vector3::zeros() {
            return Err([triangle, triangle]);
        }
    }
    if corners.meet(one, other) {
        return Err([one, other]);
    }
    Ok(())
}
