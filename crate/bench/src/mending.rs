//! Mending faulty families: how long each takes, and whether it is mended at all.

use crate::faulty;
use loftkin_kernel::family::Family;
use loftkin_kernel::profile::Outline;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::Verdict;
use loftkin_mend::{Mended, Outcome, Request, Target, free_remedies, mend};
use std::ops::ControlFlow;

/// How long the family of `seed` takes to mend, in the unit of the clock; none when it is not mended.
pub fn time(seed: u64, now: &dyn Fn() -> f64) -> Option<f64> {
    let family = faulty::family(seed);
    let start = now();
    let mended = without_proof(&family, None);
    let time = now() - start;
    mended.map(|mended| {
        must_be_proved(&mended);
        time
    })
}

/// How long `family` takes to be as a person would have it, changes that cost nothing first, in the unit of the clock;
/// none when no mend is found.
///
/// # Panics
/// When the request is refused, or a mend does not hold.
pub fn time_of(family: &Family, now: &dyn Fn() -> f64) -> Option<f64> {
    let start = now();
    let helped = helped(family);
    let time = now() - start;
    helped.map(|family| {
        assert!(is_clear(&family), "a mend must be proved");
        time
    })
}

/// `family` after changes that cost nothing and a mend of every pair; none when none is found.
///
/// # Panics
/// When the request is refused.
pub fn helped(family: &Family) -> Option<Family> {
    let request = Request::new(Target::All);
    let (freed, _) = free_remedies(family.clone(), &request).expect("a sound family");
    let outcome =
        mend(&freed, &request, &mut |_| ControlFlow::Continue(())).expect("a sound request");
    match outcome {
        Outcome::AlreadyClear => Some(freed),
        Outcome::Remedy(hint) => hint.remedy.made_in(&freed).ok(),
        Outcome::Moved(mended) => Some(mended.family),
        Outcome::NotFound(_) | Outcome::Cancelled => None,
    }
}

/// Mends every pair of `family` by moving nodes.
///
/// # Panics
/// When the request is refused, or a mend does not hold: then no number is worth printing.
pub fn mended(family: &Family, begin_at: Option<Family>) -> Option<Mended> {
    let mended = without_proof(family, begin_at);
    mended.inspect(must_be_proved)
}

fn without_proof(family: &Family, begin_at: Option<Family>) -> Option<Mended> {
    let request = Request {
        remedies_first: false,
        begin_at,
        ..Request::new(Target::All)
    };
    let outcome =
        mend(family, &request, &mut |_| ControlFlow::Continue(())).expect("a sound request");
    match outcome {
        Outcome::Moved(mended) => Some(*mended),
        Outcome::NotFound(_) => None,
        other => panic!("the families are faulty, but it says {other:?}"),
    }
}

fn must_be_proved(mended: &Mended) {
    assert!(is_clear(&mended.family), "a mend must be proved");
}

/// Whether every pair and every profile of `family` is proved clear.
pub fn is_clear(family: &Family) -> bool {
    Table::new(family.clone()).is_ok_and(|table| table.verdict() == Verdict::Clear)
}

/// The root of the sum of squares that all nodes moved, in mm.
pub fn movement(from: &Family, to: &Family) -> f64 {
    let nodes = |family: &Family| -> Vec<(f64, f64)> {
        let outlines = family.profiles.iter().map(|profile| &profile.outline);
        outlines
            .flat_map(|outline| match outline {
                Outline::Nodes(nodes) => nodes.iter().map(|node| node.at.to_mm()).collect(),
                Outline::Path { .. } => Vec::new(),
            })
            .collect()
    };
    let moved = nodes(from).into_iter().zip(nodes(to));
    let squares = moved.map(|((a, b), (c, d))| (c - a) * (c - a) + (d - b) * (d - b));
    squares.sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::{Node, Profile};

    /// Polygons of different numbers of nodes, of which two would agree by node pace: the others could not be judged then.
    /// And turned copies to which no beginning near the drawing leads.
    #[test]
    fn families_of_other_kinds_are_mended() {
        for seed in [36, 20, 25, 26] {
            let family = crate::other_kinds::family(seed);
            let helped = helped(&family).unwrap_or_else(|| panic!("family {seed}"));
            assert!(is_clear(&helped));
        }
    }

    #[test]
    fn movement_is_the_root_of_the_sum_of_squares() {
        let family = |x, y| Family {
            profiles: vec![Profile::open(vec![Node::smooth(0, 0), Node::smooth(x, y)])],
            ..Family::default()
        };
        assert!((movement(&family(1000, 500), &family(1300, 900)) - 5.0).abs() < 1e-12);
    }
}
