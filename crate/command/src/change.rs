//! Changes of a drawing, as reports for programs name them.

use loftkin_exchange::words::mending;
use loftkin_kernel::verdict::Remedy;
use loftkin_mend::{Move, MovedPoint};
use serde::Serialize;

/// A change that costs nothing: what it is, and of what; positions count from 1.
#[derive(Serialize)]
pub struct ChangeReport {
    kind: &'static str,
    profile: Option<usize>,
    node: Option<usize>,
}

impl From<Remedy> for ChangeReport {
    fn from(remedy: Remedy) -> Self {
        let (kind, profile, node) = match remedy {
            Remedy::Reverse { profile } => ("reverse", Some(profile), None),
            Remedy::MoveSeam { profile, node } => ("move-seam", Some(profile), Some(node)),
            Remedy::SwapPacing => ("swap-pacing", None, None),
        };
        Self {
            kind,
            profile: profile.map(|index| index + 1),
            node: node.map(|index| index + 1),
        }
    }
}

/// A point that moved; positions count from 1, lengths are mm.
#[derive(Serialize)]
pub struct MoveReport {
    profile: usize,
    point: &'static str,
    number: usize,
    from: [f64; 2],
    to: [f64; 2],
    right: f64,
    up: f64,
    distance: f64,
}

impl From<&Move> for MoveReport {
    fn from(moved: &Move) -> Self {
        let (point, index) = match moved.point {
            MovedPoint::Node(node) => ("node", node),
            MovedPoint::FirstHandle(span) => ("first-handle", span),
            MovedPoint::SecondHandle(span) => ("second-handle", span),
        };
        Self {
            profile: moved.profile + 1,
            point,
            number: index + 1,
            from: [moved.from_mm.0, moved.from_mm.1],
            to: [
                moved.from_mm.0 + moved.right_mm,
                moved.from_mm.1 + moved.up_mm,
            ],
            right: moved.right_mm,
            up: moved.up_mm,
            distance: mending::distance_mm(moved),
        }
    }
}
