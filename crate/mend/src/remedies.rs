//! Changes that cost nothing, for a whole set of pairs at once.
//!
//! Each hint of each open pair is put to the whole family and judged anew: it
//! is offered only when it makes every target pair clear and breaks none.

use loftkin_kernel::family::{Family, Settings};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Hint, Remedy, Verdict};

/// The remedy that makes all `targets` clear and mends most.
pub fn remedy(
    table: &mut Table,
    targets: &[(usize, usize)],
    open: &[(usize, usize)],
) -> Option<Hint> {
    // A remedy for all open pairs is one for the first of them.
    let &(first, second) = open.first()?;
    let hints = table.hints(first, second);
    hints.into_iter().find(|hint| {
        hint.breaks == 0
            && open.len() <= hint.mends
            && changed(table.family(), hint.remedy)
                .and_then(|family| Table::new(family).ok())
                .is_some_and(|table| {
                    let is_clear = |&(one, other): &(usize, usize)| {
                        table.cell(one, other).verdict == Verdict::Clear
                    };
                    targets.iter().all(is_clear)
                })
    })
}

/// The family after `remedy`; none when it does not apply.
pub fn changed(family: &Family, remedy: Remedy) -> Option<Family> {
    let mut family = family.clone();
    match remedy {
        Remedy::Reverse { profile } => {
            let drawn = family.profiles.get_mut(profile)?;
            *drawn = drawn.reversed();
        }
        Remedy::MoveSeam { profile, node } => {
            let drawn = family.profiles.get_mut(profile)?;
            *drawn = drawn.with_seam(node).ok()?;
        }
        Remedy::SwapPacing => {
            family.settings = Settings {
                pacing: family.settings.pacing.swapped(),
                ..family.settings
            };
        }
    }
    Some(family)
}
