//! Changes that cost nothing, for a whole set of targets at once.
//!
//! Each hint of the first open pair is put to the whole family and judged anew:
//! it is offered only when it makes every target clear and breaks nothing. Where
//! every pair is clear and a blend of three is not, one of the three must
//! change: each is tried reversed and with every other seam.

use crate::request::Request;
use crate::scope::{Open, Scope};
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Hint, Remedy, Verdict};

/// The remedy that makes all targets clear and mends most.
pub fn remedy(table: &mut Table, scope: &Scope, open: &Open, request: &Request) -> Option<Hint> {
    let hints = match open.pairs.first() {
        // A remedy for all open pairs is one for the first of them.
        Some(&(first, second)) => table.hints(first, second),
        None => hints_for_blend(table.family(), open),
    };
    let may_change = |hint: &Hint| match hint.remedy {
        Remedy::Reverse { profile } | Remedy::MoveSeam { profile, .. } => request.may_move(profile),
        Remedy::SwapPacing => true,
    };
    hints.into_iter().filter(may_change).find(|hint| {
        hint.breaks == 0
            && open.pairs.len() <= hint.mends
            && (hint.remedy.made_in(table.family()).ok())
                .and_then(|family| Table::new(family).ok())
                .is_some_and(|after| {
                    keeps_clear_pairs(table, &after) && scope.open(&after).is_empty()
                })
    })
}

fn keeps_clear_pairs(before: &Table, after: &Table) -> bool {
    let mut pairs = (0..before.size()).flat_map(|high| (0..high).map(move |low| (low, high)));
    pairs.all(|(low, high)| {
        before.cell(low, high).verdict != Verdict::Clear
            || after.cell(low, high).verdict == Verdict::Clear
    })
}

/// Changes to each profile of the bad blend: no pair is mended by them.
fn hints_for_blend(family: &Family, open: &Open) -> Vec<Hint> {
    let profiles = open.bad_blend().map_or(Vec::new(), |bad| bad.profiles);
    let remedies = profiles.into_iter().flat_map(|profile| {
        let drawn = &family.profiles[profile];
        let seams = if drawn.closed {
            1..drawn.node_count()
        } else {
            0..0
        };
        let seams = seams.map(move |node| Remedy::MoveSeam { profile, node });
        seams.chain([Remedy::Reverse { profile }])
    });
    let hint = |remedy| Hint {
        remedy,
        mends: 0,
        breaks: 0,
    };
    remedies.map(hint).collect()
}
