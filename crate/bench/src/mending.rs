//! Mending faulty families: how many are mended, how long it takes, and how the movement compares with the least that
//! a slow search finds.
//!
//! The slow search begins at many places by chance, mends from each, and then presses the best with a pattern search
//! that asks nothing but the table: it shares no row and no direction with the mend it is compared with.

use crate::chance::Chance;
use crate::faulty;
use loftkin_kernel::family::Family;
use loftkin_kernel::profile::Outline;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::Verdict;
use loftkin_mend::{Mended, Outcome, Request, Target, mend};
use std::ops::ControlFlow;

/// Mends every pair of `family` by moving nodes.
///
/// # Panics
/// When the request is refused, or a mend does not hold: then no number is worth printing.
pub fn mended(family: &Family, begin_at: Option<Family>) -> Option<Mended> {
    let request = Request {
        remedies_first: false,
        begin_at,
        ..Request::new(Target::All)
    };
    let outcome =
        mend(family, &request, &mut |_| ControlFlow::Continue(())).expect("a sound request");
    match outcome {
        Outcome::Moved(mended) => {
            assert!(is_clear(&mended.family), "a mend must be proved");
            Some(*mended)
        }
        Outcome::NotFound(_) => None,
        other => panic!("the families are faulty, but it says {other:?}"),
    }
}

fn is_clear(family: &Family) -> bool {
    Table::new(family.clone()).is_ok_and(|table| table.verdict() == Verdict::Clear)
}

/// The sum of squares that all nodes moved, in mm squared.
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
    moved
        .map(|((a, b), (c, d))| (c - a) * (c - a) + (d - b) * (d - b))
        .sum()
}

/// What the slow search found for the family of `seed`: the movement of the mend and the least movement found, both as
/// roots of sums of squares in mm.
pub fn against_slow_search(seed: u64, starts: usize) -> Option<(f64, f64)> {
    let family = faulty::family(seed);
    let plain = mended(&family, None)?;
    let mut best = plain.family.clone();
    let mut least = movement(&family, &best);
    let first = least;
    let mut chance = Chance::new(seed ^ 0x5eed);
    for start in 0..starts {
        let spread = [0.3, 1.0, 3.0, 8.0][start % 4];
        let begin = strewn(&family, spread, &mut chance);
        if let Some(found) = mended(&family, Some(begin)) {
            let movement = movement(&family, &found.family);
            if movement < least {
                (least, best) = (movement, found.family);
            }
        }
    }
    let pressed = pressed(&family, best, &mut chance);
    Some((first.sqrt(), movement(&family, &pressed).sqrt()))
}

/// The family with every node moved by up to `spread` mm each way.
fn strewn(family: &Family, spread: f64, chance: &mut Chance) -> Family {
    moved(family, |_| {
        (
            chance.between(-spread, spread),
            chance.between(-spread, spread),
        )
    })
}

fn moved(family: &Family, mut by: impl FnMut(usize) -> (f64, f64)) -> Family {
    let mut family = family.clone();
    for (index, profile) in family.profiles.iter_mut().enumerate() {
        if let Outline::Nodes(nodes) = &mut profile.outline {
            for node in nodes {
                let (right, up) = by(index);
                node.at.x += (right * 100.0).round() as i32;
                node.at.y += (up * 100.0).round() as i32;
            }
        }
    }
    family
}

/// Draws single nodes and whole families back towards where they were, by chance, as long as the table stays clear.
fn pressed(drawn: &Family, mut mended: Family, chance: &mut Chance) -> Family {
    const TRIES: usize = 4000;
    let mut least = movement(drawn, &mended);
    for _ in 0..TRIES {
        let mut tried = mended.clone();
        let which = chance.below(tried.profiles.len());
        let back = chance.between(0.0, 0.3);
        let single = chance.below(2) == 0;
        let swing = least.sqrt() * 0.1;
        if let (Outline::Nodes(from), Outline::Nodes(nodes)) = (
            &drawn.profiles[which].outline,
            &mut tried.profiles[which].outline,
        ) {
            let only = chance.below(nodes.len());
            for (index, (node, from)) in nodes.iter_mut().zip(from).enumerate() {
                if single && index != only {
                    continue;
                }
                let draw = |at: i32, from: i32, by: f64| {
                    at + (f64::from(from - at) * back + by * 100.0).round() as i32
                };
                let by = if single {
                    (chance.between(-swing, swing), chance.between(-swing, swing))
                } else {
                    (0.0, 0.0)
                };
                node.at.x = draw(node.at.x, from.at.x, by.0);
                node.at.y = draw(node.at.y, from.at.y, by.1);
            }
        }
        let movement = movement(drawn, &tried);
        if movement < least && is_clear(&tried) {
            (least, mended) = (movement, tried);
        }
    }
    mended
}
