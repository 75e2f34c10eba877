//! What sharp edges do to the making checks, and a fillet that is assumed on them.
//!
//! A sharp edge has no radius: a ball-nose cutter leaves material in a valley, sheet
//! is not bent to it, gas does not press into it, and the sheet has no room on its
//! hollow side. With a fillet of radius r, a ball that rolls along the edge on its
//! hollow side, the edge counts as a skin of that radius. The fillet is assumed: it is
//! in no file. It must also fit: it begins r tan(Φ/2) from an edge of turn Φ, and what
//! lies so far from an edge must end before the next edge's part, or the rim.

use super::edges::{Edge, Line};
use crate::piece::Piece;
use nalgebra::Vector3;

/// Places at which the way to the next edge is looked at, on each cell's stretch.
pub(super) const PLACES: usize = 5;

/// The sharp edges of a piece with what an assumed fillet makes of them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Edges {
    /// The sharpest first.
    pub all: Vec<Edge>,
    /// The edge on which the fillet fits least, if on any it does not.
    pub misfit: Option<Misfit>,
}

/// Where the fillet that is assumed does not fit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Misfit {
    /// The edge.
    pub edge: Edge,
    /// How much of the skin the fillet and that of the next edge take, mm.
    pub needed: f64,
    /// How much there is, mm.
    pub there: f64,
}

/// What a ball-nose cutter of radius `cutter` leaves in a valley that turns by `turn`
/// degrees, beyond a fillet of radius `fillet` (0 for none), mm: both balls rest on
/// the same two faces, R / cos(Φ/2) from the edge, so it is (R - r)(1 / cos(Φ/2) - 1).
pub fn left_by(cutter: f64, fillet: f64, turn: f64) -> f64 {
    if 180.0 <= turn {
        return f64::INFINITY;
    }
    let beyond = (cutter - fillet).max(0.0);
    beyond * (1.0 / libm::cos(turn.to_radians() / 2.0) - 1.0)
}

/// How far from an edge that turns by `turn` degrees a fillet of radius `fillet`
/// begins on either face, mm.
pub fn setback(fillet: f64, turn: f64) -> f64 {
    if 180.0 <= turn {
        return f64::INFINITY;
    }
    fillet * libm::tan(turn.to_radians() / 2.0)
}

/// Where the fillet fits least, if it does not fit. Looked at in places.
pub(super) fn worst_misfit(piece: &Piece, edges: &[Edge], fillet: f64) -> Option<Misfit> {
    let mut worst: Option<Misfit> = None;
    for edge in edges {
        let own = setback(fillet, edge.most);
        for (next, taken) in beside(piece, edges, edge, fillet) {
            let (needed, there) = (own + taken, way(piece, edge.line, next));
            let lacks = |misfit: &Misfit| misfit.needed - misfit.there;
            let found = Misfit {
                edge: *edge,
                needed,
                there,
            };
            let is_worse = worst.is_none_or(|worst| lacks(&worst) < lacks(&found));
            if there < needed && is_worse {
                worst = Some(found);
            }
        }
    }
    worst
}

/// The lines next to `edge` of the same kind, sharp ones and rims, with the part of
/// the skin that the fillet takes on them.
fn beside(piece: &Piece, edges: &[Edge], edge: &Edge, fillet: f64) -> Vec<(f64, f64)> {
    let at = |line: &Line| match *line {
        Line::AtAlong(u) => (true, u),
        Line::AtAcross(v) => (false, v),
    };
    let (is_along, own) = at(&edge.line);
    let closed = if is_along {
        piece.is_closed_along()
    } else {
        piece.is_closed_across()
    };
    let mut lines: Vec<(f64, f64)> = Vec::new();
    if !closed {
        lines.extend([(0.0, 0.0), (1.0, 0.0)]);
    }
    for other in edges {
        let (other_along, place) = at(&other.line);
        if other_along == is_along && place != own {
            lines.push((place, setback(fillet, other.most)));
        }
    }
    // The nearest on either side, round where closed.
    let gap = |place: f64, forward: bool| {
        let gap = if forward { place - own } else { own - place };
        if closed && gap < 0.0 { gap + 1.0 } else { gap }
    };
    let mut nearest = Vec::new();
    for forward in [true, false] {
        let ahead = lines.iter().filter(|(place, _)| 0.0 < gap(*place, forward));
        let least = ahead.fold(f64::INFINITY, |least: f64, (place, _)| {
            least.min(gap(*place, forward))
        });
        let there = lines.iter().filter(|line| gap(line.0, forward) == least);
        nearest.extend(there.copied());
    }
    nearest
}

/// How far a line is at least from the line at `next` of the same kind, square to
/// itself, by looked-at places, mm.
fn way(piece: &Piece, line: Line, next: f64) -> f64 {
    let stretches = match line {
        Line::AtAlong(_) => piece.breaks_across(),
        Line::AtAcross(_) => piece.breaks_along().to_vec(),
    };
    let mut least = f64::INFINITY;
    for ends in stretches.windows(2) {
        for k in 0..PLACES {
            let t = (k as f64 + 0.5) / PLACES as f64;
            let at = ends[0] + (ends[1] - ends[0]) * t;
            let (here, there, run): (_, _, Vector3<f64>) = match line {
                Line::AtAlong(u) => {
                    let patch = piece.patch(u, at);
                    (patch.point, piece.point(next, at), patch.across)
                }
                Line::AtAcross(v) => {
                    let patch = piece.patch(at, v);
                    (patch.point, piece.point(at, next), patch.along)
                }
            };
            least = least.min((there - here).cross(&run).norm() / run.norm());
        }
    }
    least
}
