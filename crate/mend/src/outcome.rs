//! From what the rounds came to, to what is handed back.

use crate::freedom::{Freedom, moves};
use crate::request::{Approach, Hindrance, Mended, Move, MovedPoint, Outcome};
use crate::scope::{Open, Scope};
use crate::survey::Proved;
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;

/// A proved mend.
pub fn moved(
    freedom: &Freedom,
    scope: &Scope,
    open: &Open,
    active: &[usize],
    best: Proved,
    rounds: usize,
) -> Outcome {
    let before = &freedom.drawn;
    let family = freedom.family(&best.setting);
    let moves = moves(before, &family);
    let counts = active
        .iter()
        .map(|&index| before.profiles[index].node_count());
    Outcome::Moved(Box::new(Mended {
        largest_mm: farthest_mm(&moves),
        rms_mm: rms_mm(&moves, counts.sum()),
        moves,
        blamed: Vec::new(),
        family,
        pairs_mended: open.pairs.clone(),
        profiles_mended: open.profiles.clone(),
        any_blend: scope.any_blend,
        pairs_broken: Vec::new(),
        margin_mm: best.margin,
        rounds,
    }))
}

/// No mend, and nothing tried.
pub fn not_tried(family: &Family, hindrance: Hindrance, open: &Open) -> Outcome {
    Outcome::NotFound(Box::new(Approach {
        hindrance,
        family: family.clone(),
        moves: Vec::new(),
        open_pairs: open.pairs.clone(),
        open_profiles: open.profiles.clone(),
        bad_blend: open.bad_blend(),
        rounds: 0,
    }))
}

/// No mend, and the setting that came nearest.
pub fn not_found(
    freedom: &Freedom,
    scope: &Scope,
    hindrance: Hindrance,
    nearest: &[f64],
    rounds: usize,
) -> Outcome {
    let reached = freedom.family(nearest);
    // A setting that cannot be judged is no approach.
    let (family, table) = match Table::new(reached.clone()) {
        Ok(table) => (reached, Ok(table)),
        Err(_) => (freedom.drawn.clone(), Table::new(freedom.drawn.clone())),
    };
    let nothing = Open {
        pairs: scope.pairs.clone(),
        profiles: Vec::new(),
        blend: None,
    };
    let open = table.map_or(nothing, |table| scope.open(&table));
    Outcome::NotFound(Box::new(Approach {
        hindrance,
        moves: moves(&freedom.drawn, &family),
        family,
        bad_blend: open.bad_blend(),
        open_pairs: open.pairs,
        open_profiles: open.profiles,
        rounds,
    }))
}

/// The farthest that any point moved, in mm.
pub fn farthest_mm(moves: &[Move]) -> f64 {
    moves
        .iter()
        .map(|moved| moved.right_mm.hypot(moved.up_mm))
        .fold(0.0, f64::max)
}

/// The root of the mean square of the distances that nodes moved, over `nodes`
/// of them, in mm.
fn rms_mm(moves: &[Move], nodes: usize) -> f64 {
    let sum: f64 = moves
        .iter()
        .filter(|moved| matches!(moved.point, MovedPoint::Node(_)))
        .map(|moved| moved.right_mm * moved.right_mm + moved.up_mm * moved.up_mm)
        .sum();
    (sum / nodes.max(1) as f64).sqrt()
}
