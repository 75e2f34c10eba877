//! Which profile is to blame: one that has a part in all that is not as asked is
//! moved alone before others are.
//!
//! Sharing the movement among all makes the sum of squares less, but a person who
//! has slipped with one profile wants the others left as they are.

use crate::request::{Mended, Outcome, Progress, Request};
use crate::rounds::Teller;
use crate::scope::{Open, Pair, Scope};
use crate::work::Work;
use loftkin_kernel::table::Table;
use std::ops::ControlFlow;

/// The mend that moves only what is to blame, if there is one, or that the caller
/// has stopped it. Adds to `done` the rounds that it took.
pub fn mended(
    table: &Table,
    request: &Request,
    scope: &Scope,
    open: &Open,
    done: &mut usize,
    progress: &mut Teller,
) -> Option<Outcome> {
    let mut best: Option<(f64, Box<Mended>)> = None;
    for suspects in suspects(table, request, scope, open) {
        let alone = Request {
            movable: Some(suspects.clone()),
            ..request.clone()
        };
        let work = Work::new(table, &alone, scope, open).only_from_the_drawing();
        let before = *done;
        let outcome = work.run(&mut |told: Progress| -> ControlFlow<()> {
            *done = before + told.round;
            progress(counted_on(told, before))
        });
        match outcome {
            Outcome::Cancelled => return Some(Outcome::Cancelled),
            Outcome::Moved(mut mended) => {
                let cost = cost(&mended, request);
                if best.as_ref().is_none_or(|(least, _)| cost < *least) {
                    mended.blamed = suspects;
                    best = Some((cost, mended));
                }
            }
            _ => {}
        }
    }
    best.map(|(_, mended)| Outcome::Moved(mended))
}

/// `told` with the rounds before it.
pub fn counted_on(told: Progress, before: usize) -> Progress {
    Progress {
        round: told.round + before,
        most_rounds: told.most_rounds + before,
        ..told
    }
}

/// The sets of profiles, fewer than all that have a part, each of which may mend
/// all that is open: profiles that are not clear themselves with one that has a part
/// in every other open pair; where there is none, with those that have a part in
/// most, one after the other.
fn suspects(table: &Table, request: &Request, scope: &Scope, open: &Open) -> Vec<Vec<usize>> {
    if open.blend.is_some() {
        return Vec::new();
    }
    let active = scope.active(table.family(), request, open);
    let base = &open.profiles;
    let mut left: Vec<Pair> = open.pairs.clone();
    left.retain(|pair| !base.iter().any(|&index| has_part(index, pair)));
    let parts =
        |index: usize, left: &[Pair]| left.iter().filter(|pair| has_part(index, pair)).count();
    let mut sets: Vec<Vec<usize>> = active
        .iter()
        .filter(|&&index| !left.is_empty() && parts(index, &left) == left.len())
        .map(|&index| base.iter().copied().chain([index]).collect())
        .collect();
    if sets.is_empty() {
        let mut set = base.clone();
        while !left.is_empty() {
            // Of equals the first.
            let most = active
                .iter()
                .rev()
                .max_by_key(|&&index| parts(index, &left));
            let Some(&most) = most.filter(|&&most| 0 < parts(most, &left)) else {
                return Vec::new();
            };
            left.retain(|pair| !has_part(most, pair));
            set.push(most);
        }
        sets.push(set);
    }
    sets.iter_mut().for_each(|set| set.sort_unstable());
    sets.retain(|set| set.len() < active.len() && set.iter().all(|index| active.contains(index)));
    sets
}

fn has_part(index: usize, pair: &Pair) -> bool {
    pair.0 == index || pair.1 == index
}

/// What the moves cost, in mm squared.
fn cost(mended: &Mended, request: &Request) -> f64 {
    let cost = mended.moves.iter().map(|moved| {
        let weight = request.weights.get(moved.profile).copied().unwrap_or(1.0);
        weight * (moved.right_mm * moved.right_mm + moved.up_mm * moved.up_mm)
    });
    cost.sum()
}
