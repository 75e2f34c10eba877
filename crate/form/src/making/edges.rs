//! Sharp edges of the skin: where two smooth parts of it meet at an angle. No
//! radius lives there, so checks of radii look at them apart (see [`super::fillet`]).
//!
//! The skin is one polynomial on each cell (see [`crate::body::cells`]), so it can
//! break in two kinds of lines only, and all of both are looked at: across the piece
//! at joints of the profiles (corners, breaks of an exact path, joints smooth in all
//! profiles whose speeds change differently), and along the profiles where the blend
//! has a knot (a ruled stack breaks at each inner station).
//!
//! The turn on such a line is bounded, see [`turn`]: what is told as most is no less
//! than the truth, as least no more, and the length is that of control polygons, no
//! less than the truth.

use super::check::Place;
use super::radius::ToolSide;
use crate::piece::Piece;
use turn::{Side, sides};

mod lines;
mod turn;

/// A turn of the skin by less is none, degrees. Breakpoints are rounded, which may
/// turn a blend of smooth profiles by 0.0014 degrees (see the curve of the kernel),
/// and all other rounding is far below; a sheet of 1 mm over an edge of 0.01 degrees
/// is off a radius of 100 mm by less than a millionth of a millimetre.
pub const SHARP: f64 = 0.01;

/// Along which line an edge runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Line {
    /// Across the piece at this fraction along: a joint of profiles.
    AtAlong(f64),
    /// Along the profiles at this fraction across: a station.
    AtAcross(f64),
}

/// A sharp edge: all of one line that turns one way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// The line that it runs on.
    pub line: Line,
    /// Whether it is a ridge seen from outside, else a valley.
    pub is_ridge: bool,
    /// The skin turns by no less on it, degrees; 0 where the edge runs out.
    pub least: f64,
    /// The skin turns by no more on it, degrees.
    pub most: f64,
    /// The sharpest turn that was seen, degrees; 0 when none was.
    pub seen: f64,
    /// It is no longer, mm.
    pub length: f64,
    /// Where the sharpest turn was seen.
    pub place: Place,
}

impl Edge {
    /// Whether it is a valley seen from `side`.
    pub fn is_valley_from(&self, side: ToolSide) -> bool {
        self.is_ridge == (side == ToolSide::Inside)
    }
}

/// All sharp edges of `piece`, the sharpest first; at most two a line, a ridge and a
/// valley.
pub fn sharp_edges(piece: &Piece) -> Vec<Edge> {
    let mut edges = Vec::new();
    for (line, creases) in lines::lines(piece) {
        let [ridge, valley] = sides(&creases);
        edges.extend(ridge.map(|side| edge(piece, line, true, side)));
        edges.extend(valley.map(|side| edge(piece, line, false, side)));
    }
    edges.sort_by(|one, other| other.most.total_cmp(&one.most));
    edges
}

fn edge(piece: &Piece, line: Line, is_ridge: bool, side: Side) -> Edge {
    let (along, across) = match line {
        Line::AtAlong(u) => (u, side.at),
        Line::AtAcross(v) => (side.at, v),
    };
    Edge {
        line,
        is_ridge,
        least: side.least,
        most: side.most,
        seen: side.seen,
        length: side.length,
        place: Place {
            along,
            across,
            point: piece.point(along, across),
        },
    }
}
