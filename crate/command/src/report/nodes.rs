//! How far the nodes of a pair may move, for programs.

use super::place::{PlaceReport, place};
use crate::change::MoveReport;
use loftkin_exchange::words;
use loftkin_kernel::family::Family;
use loftkin_mend::{Broken, Move, NodeMargin, Swap};
use serde::Serialize;

#[derive(Serialize)]
pub struct NodesReport {
    proved: Option<f64>,
    broken: Option<BrokenReport>,
    swaps: Vec<SwapReport>,
    by_node: Option<ByNodeReport>,
    sentences: Vec<String>,
}

#[derive(Serialize)]
struct BrokenReport {
    mm: f64,
    kind: &'static str,
    /// The profile that meets itself, where it is not the pair.
    profile: Option<usize>,
    place: PlaceReport,
    moves: Vec<MoveReport>,
}

#[derive(Serialize)]
struct SwapReport {
    corners: [usize; 2],
    along: [f64; 2],
    mm: f64,
    breaks: bool,
}

#[derive(Serialize)]
struct ByNodeReport {
    surface: Option<f64>,
    proved: Option<f64>,
}

impl NodesReport {
    /// The report on `pair` of `family`.
    pub fn new(family: &Family, pair: (usize, usize), found: &NodeMargin) -> Self {
        Self {
            proved: found.proved_mm,
            broken: found.broken.as_ref().map(|broken| reported(pair, broken)),
            swaps: found.swaps.iter().map(SwapReport::from).collect(),
            by_node: found.by_node.map(|by_node| ByNodeReport {
                surface: by_node.surface_mm,
                proved: by_node.proved_mm,
            }),
            sentences: words::margin_of_nodes(family, pair, found),
        }
    }
}

fn reported(pair: (usize, usize), broken: &Broken) -> BrokenReport {
    let of = [pair.0, pair.1];
    BrokenReport {
        mm: broken.mm,
        kind: words::fault_kind(broken.fault.kind),
        profile: broken.alone.map(|which| of[which] + 1),
        place: place(&broken.fault.place),
        moves: broken
            .moves
            .iter()
            .map(|moved| {
                MoveReport::from(&Move {
                    profile: of[moved.profile],
                    ..*moved
                })
            })
            .collect(),
    }
}

impl From<&Swap> for SwapReport {
    fn from(swap: &Swap) -> Self {
        Self {
            corners: swap.corners.map(|corner| corner + 1),
            along: swap.along,
            mm: swap.mm,
            breaks: swap.breaks,
        }
    }
}
