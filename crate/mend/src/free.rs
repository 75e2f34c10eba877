//! Changes that cost nothing, one after the other, before any node is moved.
//!
//! The solver offers one such change when it is enough by itself. A family with
//! several profiles drawn from the other end, or with seams turned, needs several:
//! each is taken when it makes pairs clear and loses none, the one that mends most
//! first. Each is proved by the table that follows it.

use crate::request::{Request, Target};
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::profile::Profile;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Hint, Remedy};

/// Open pairs that are asked for their hints before one is taken.
const ASKED: usize = 24;

/// The family after all changes that cost nothing and help `request`, and the
/// changes in their order, to be made before [`crate::mend`].
///
/// # Errors
/// Whatever makes `family` no family.
pub fn free_remedies(
    family: Family,
    request: &Request,
) -> Result<(Family, Vec<Hint>), FamilyError> {
    let mut table = Table::new(family)?;
    let mut taken = Vec::new();
    // No profile needs more than a turn and a new seam.
    let by_node = can_be_paced_by_node(table.family());
    while taken.len() < 2 * table.size() {
        let open = open(&table, &request.target);
        let hints = open
            .iter()
            .take(ASKED)
            .flat_map(|&(one, other)| table.hints(one, other))
            .filter(|hint| hint.breaks == 0 && 0 < hint.mends && may_change(request, hint))
            .filter(|hint| hint.remedy != Remedy::SwapPacing || by_node);
        let Some(best) = hints.max_by_key(|hint| hint.mends) else {
            break;
        };
        let Ok(changed) = best.remedy.made_in(table.family()) else {
            break;
        };
        table = Table::new(changed)?;
        taken.push(best);
    }
    Ok((table.family().clone(), taken))
}

/// By node pace pairs of different numbers of spans cannot be judged, nor mended.
fn can_be_paced_by_node(family: &Family) -> bool {
    let mut spans = family.profiles.iter().map(Profile::span_count);
    let first = spans.next();
    spans.all(|count| Some(count) == first)
}

/// A profile with pinned nodes keeps their numbers.
fn may_change(request: &Request, hint: &Hint) -> bool {
    match hint.remedy {
        Remedy::Reverse { profile } | Remedy::MoveSeam { profile, .. } => {
            let movable = request.movable.as_ref();
            movable.is_none_or(|movable| movable.contains(&profile))
                && request.pinned.iter().all(|pin| pin.0 != profile)
        }
        Remedy::SwapPacing => true,
    }
}

/// The pairs asked for that are not clear; none when one of them does not exist,
/// which the solver will say.
fn open(table: &Table, target: &Target) -> Vec<(usize, usize)> {
    let size = table.size();
    let pairs = match target {
        Target::Pair(one, other) => vec![(*one, *other)],
        Target::Pairs(pairs) => pairs.clone(),
        Target::All | Target::AnyBlend => (0..size)
            .flat_map(|second| (0..second).map(move |first| (first, second)))
            .collect(),
    };
    let exists = |&(one, other): &(usize, usize)| one < size && other < size && one != other;
    if !pairs.iter().all(exists) {
        return Vec::new();
    }
    let is_open = |&(one, other): &(usize, usize)| !table.cell(one, other).is_clear();
    pairs.into_iter().filter(is_open).collect()
}
