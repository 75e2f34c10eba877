//! The margin of the nodes: how far nodes may move, the pace worked out anew.
//!
//! The margin of a pair is one of the surface as it is: control points move, the
//! pace is kept. Whoever draws nodes elsewhere changes the pace with them. What
//! is found here for that: the least movement that a search finds to break the
//! pair, with the profiles it leads to (an upper bound, checked); by node pace,
//! where nodes change no parameter, a proved lower bound as well (`carried`); by
//! parameter pace corners that a small movement swaps (`swaps`).

mod aim;
mod attack;
mod carried;
mod swaps;

pub use swaps::Swap;

use crate::freedom::Freedom;
use crate::request::Move;
use attack::Attack;
use loftkin_kernel::family::{Family, Pacing};
use loftkin_kernel::grid::STEPS_PER_MM;
use loftkin_kernel::profile::Profile;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::Fault;

/// How far the nodes of a pair may move; lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct NodeMargin {
    /// The margin of the surface, which holds at a kept pace.
    pub surface_mm: f64,
    /// Proved: no movement of nodes (of an exact path: joints and handles) by up
    /// to so much makes a fold or a crossing. By parameter pace there is none.
    pub proved_mm: Option<f64>,
    /// The least movement found that breaks the pair.
    pub broken: Option<Broken>,
    /// Corners that less than the surface's margin swaps, the easiest first.
    pub swaps: Vec<Swap>,
    /// What holds when the pair is paced by node; none where it is, and where
    /// the profiles have different numbers of spans.
    pub by_node: Option<ByNode>,
}

/// A pair with nodes moved that folds or crosses itself, as the table judges it.
#[derive(Clone, Debug, PartialEq)]
pub struct Broken {
    /// The farthest that a node, joint or handle is moved.
    pub mm: f64,
    /// The two profiles.
    pub profiles: [Profile; 2],
    /// What moved; profiles are 0 and 1.
    pub moves: Vec<Move>,
    /// What is wrong.
    pub fault: Fault,
    /// The profile, 0 or 1, that meets itself, where it is not the pair.
    pub alone: Option<usize>,
}

/// A pair as it is when paced by node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ByNode {
    /// The margin of the surface; none when it is not proved free of folds and
    /// crossings.
    pub surface_mm: Option<f64>,
    /// What is proved of moved nodes.
    pub proved_mm: Option<f64>,
}

/// How far the nodes of two profiles of `family` (from 0) may move; none when
/// they do not exist or their pair is not proved free of folds and crossings.
pub fn node_margin(family: &Family, pair: (usize, usize)) -> Option<NodeMargin> {
    let profile = |index: usize| family.profiles.get(index).cloned();
    let two = Family {
        profiles: vec![profile(pair.0)?, profile(pair.1)?],
        ..family.clone()
    };
    let surface_mm = surface(&two)?;
    let by_parameter = two.settings.pacing == Pacing::Parameter;
    let freedom = Freedom::of_points(&two);
    let (broken, swaps) = Attack::new(&freedom).run(surface_mm);
    Some(NodeMargin {
        surface_mm,
        proved_mm: if by_parameter {
            None
        } else {
            proved(&two, surface_mm)
        },
        broken,
        swaps: if by_parameter { swaps } else { Vec::new() },
        by_node: if by_parameter { by_node(&two) } else { None },
    })
}

fn surface(two: &Family) -> Option<f64> {
    let table = Table::new(two.clone()).ok()?;
    table.margin(0, 1).map(|margin| margin.mm)
}

fn proved(two: &Family, surface_mm: f64) -> Option<f64> {
    let room = carried::room_of_nodes(&two.profiles, surface_mm * STEPS_PER_MM);
    room.map(|steps| steps / STEPS_PER_MM)
}

fn by_node(two: &Family) -> Option<ByNode> {
    let spans = |profile: &Profile| profile.span_count();
    if spans(&two.profiles[0]) != spans(&two.profiles[1]) {
        return None;
    }
    let mut paced = two.clone();
    paced.settings.pacing = Pacing::Node;
    let surface_mm = surface(&paced);
    Some(ByNode {
        surface_mm,
        proved_mm: surface_mm.and_then(|mm| proved(&paced, mm)),
    })
}

#[cfg(test)]
mod tests;
