//! How far a pair twists, and along which stretch it does so too far.
//!
//! The largest twist is bounded over every piece, not sampled; rounded as usual.
//! The limit itself is proved or refuted elsewhere.

use super::curves;
use crate::family::TenthsOfDegree;
use crate::proof::Ready;
use crate::proof::piece::{Piece, visit_pieces};
use crate::proof::telling;
use crate::proof::turn::{Largest, first_within};
use crate::verdict::{Fault, FaultKind, Region};
use nalgebra::Vector2;

/// Boxes in the search for the largest twist of one pair.
const MOST_BOXES: u32 = 20_000;

/// The steps of both curves over `piece`.
fn steps(piece: &Piece) -> [[Vector2<f64>; 3]; 2] {
    [0, 1].map(|side| piece.parts[side].steps)
}

/// The largest twist in degrees, with its sign, and the fraction along where
/// it stands: no other is larger by more than 6e-6 degrees.
pub fn largest_twist(pair: [&Ready; 2]) -> (f64, f64) {
    let mut largest = Largest::new(MOST_BOXES);
    visit_pieces(curves(pair), 0.0, 1.0, |piece| {
        largest.climb(steps(&piece), (piece.from, piece.to), 0);
        true
    });
    (largest.turn.to_degrees(), largest.at)
}

/// The stretch around the largest twist on which it exceeds `limit`.
pub fn twisted(pair: [&Ready; 2], fault: &Fault, limit: TenthsOfDegree) -> Region {
    let curves = curves(pair);
    let (angle, at) = largest_twist(pair);
    let limit = limit.degrees().to_radians();
    let mut end = None;
    visit_pieces(curves, at, 1.0, |piece| {
        end = first_within(steps(&piece), (piece.from, piece.to), limit, 0);
        end.is_none()
    });
    let mut pieces: Vec<Piece> = Vec::new();
    visit_pieces(curves, 0.0, at, |piece| {
        pieces.push(piece);
        true
    });
    let start = pieces.iter().rev().find_map(|piece| {
        let back = steps(piece).map(|[p, q, r]| [r, q, p]);
        first_within(back, (piece.to, piece.from), limit, 0)
    });
    Region {
        kind: FaultKind::Twist,
        across: (0.0, 1.0),
        along: (start.unwrap_or(0.0), end.unwrap_or(1.0)),
        curves: Vec::new(),
        place: telling::place(curves, at, at, fault.place.across),
        angle,
    }
}
