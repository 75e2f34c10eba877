//! How much of the skin is undercut at most, and at least: parts of the skin that are
//! proved to face away from the direction of draw, and parts that are not decided,
//! the largest of which is cut first.

use crate::making::hull::{Part, parts};
use crate::piece::Piece;
use nalgebra::{UnitVector3, Vector3};
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// What is left undecided, as a share of the undercut area.
pub const TOLERANCE: f64 = 0.05;
/// The same as a share of the whole skin.
pub const LEAST: f64 = 2e-3;
/// Cuts for one piece.
const MOST_CUTS: usize = 20_000;
/// A wall along the direction is no undercut, whatever its roundings: in sines.
const UPRIGHT: f64 = 1e-9;

/// Bounds on the undercut area, mm².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UndercutArea {
    /// It is no more; told on the safe side.
    pub at_most: f64,
    /// It is no less, but for what areas of proved parts are bounded to.
    pub proved: f64,
}

struct Undecided {
    area: f64,
    part: Part,
}

impl PartialEq for Undecided {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Undecided {}

impl PartialOrd for Undecided {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Undecided {
    fn cmp(&self, other: &Self) -> Ordering {
        self.area.total_cmp(&other.area)
    }
}

/// The undercut area of `piece` to a mould in one part that is drawn along
/// `direction`.
pub fn undercut_area(piece: &Piece, direction: UnitVector3<f64>) -> UndercutArea {
    let direction = direction.into_inner();
    let (mut proved, mut whole, mut left) = (0.0, 0.0, 0.0);
    let mut open = BinaryHeap::new();
    let sort = |part: Part, open: &mut BinaryHeap<Undecided>, proved: &mut f64| {
        let area = part.most_area();
        match facing(&part, &direction) {
            Facing::With => 0.0,
            Facing::Against => {
                *proved += area;
                0.0
            }
            Facing::Unknown => {
                open.push(Undecided { area, part });
                area
            }
        }
    };
    for part in parts(piece) {
        whole += part.most_area();
        left += sort(part, &mut open, &mut proved);
    }
    for _ in 0..MOST_CUTS {
        if left <= (TOLERANCE * (proved + left)).max(LEAST * whole) {
            break;
        }
        let Some(Undecided { area, part }) = open.pop() else {
            break;
        };
        left -= area;
        for half in part.halves() {
            left += sort(half, &mut open, &mut proved);
        }
    }
    // Summed anew: differences of many sums round.
    let left: f64 = open.iter().map(|undecided| undecided.area).sum();
    UndercutArea {
        at_most: proved + left,
        proved,
    }
}

enum Facing {
    With,
    Against,
    Unknown,
}

fn facing(part: &Part, direction: &Vector3<f64>) -> Facing {
    let Some(normals) = part.normals() else {
        return Facing::Unknown;
    };
    let least = |direction: &Vector3<f64>| normals.least_facing(&part.directions(direction));
    if -UPRIGHT <= least(direction) {
        Facing::With
    } else if UPRIGHT <= least(&-direction) {
        Facing::Against
    } else {
        Facing::Unknown
    }
}
