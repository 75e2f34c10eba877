//! A verdict of the kernel held against the oracle: confirmed, contradicted,
//! or beyond what the oracle can tell.
//!
//! Only folds and crossings are compared; twist and crease have closed forms
//! and tests of their own.

use crate::generate::Case;
use crate::oracle::confirm::confirm_crossing;
use crate::oracle::fold::{FoldGround, confirm_fold};
use crate::oracle::pair::OraclePair;
use crate::oracle::search::{QUICK, Sight, THOROUGH, search, search_alone};
use crate::shapes::wide;
use loftkin_kernel::family::{Family, Settings};
use loftkin_kernel::profile::Profile;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Doubt, Fault, FaultKind, Judgement};

/// Chords a piece for a profile by itself.
const CHORDS_ALONE: usize = 24;

/// Two parameters nearer than this are one place.
const SAME_PLACE: f64 = 1e-6;

/// What a judgement says about folds and crossings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Claim {
    /// Proved free of both.
    Clear,
    /// One of them, with its witness.
    Faulty(Fault),
    /// Neither.
    Unproven,
}

/// Reads a judgement for folds and crossings.
pub fn claim(judgement: &Judgement) -> Claim {
    let contact = judgement
        .faults()
        .find(|fault| matches!(fault.kind, FaultKind::Fold | FaultKind::Crossing));
    match (contact, judgement.doubt) {
        (Some(&fault), _) => Claim::Faulty(fault),
        (None, None | Some(Doubt::AtLimit { .. })) => Claim::Clear,
        (None, Some(_)) => Claim::Unproven,
    }
}

/// How a verdict stands up to the oracle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Outcome {
    /// Not compared: a profile is not simple in itself.
    Skipped,
    /// Clear, and dense sections show nothing.
    Clear,
    /// Clear, but polylines cross where no contact could be reached.
    ClearButOracleDoubts,
    /// A fold with a loop beside it.
    Fold,
    /// A fold; no loop was found beside it.
    FoldWithoutLoop,
    /// Tangents exactly opposite, or none.
    FoldStanding,
    /// A crossing.
    Crossing,
    /// Unproven.
    Unproven,
    /// Clear, but a section meets itself.
    FalseClear,
    /// Faulty, but the witness does not refine.
    FalseFaulty,
}

impl Outcome {
    /// Whether the kernel is contradicted.
    pub fn disagrees(self) -> bool {
        matches!(self, Self::FalseClear | Self::FalseFaulty)
    }
}

/// The table of `profiles`.
///
/// # Panics
/// When the family is not well formed: open and closed profiles mixed, none,
/// or limits out of range.
pub fn table(settings: Settings, profiles: Vec<Profile>) -> Table {
    let family = Family {
        settings,
        profiles,
        ..Family::default()
    };
    Table::new(family).expect("the family is well formed")
}

/// The table of both profiles of `case`, with the widest limits.
pub fn pair_table(case: &Case) -> Table {
    table(
        wide(case.pacing),
        vec![case.first.clone(), case.second.clone()],
    )
}

/// The judgements of the first profile, the second, and their pair, with the
/// widest limits.
pub fn judge(case: &Case) -> [Judgement; 3] {
    let table = pair_table(case);
    [(0, 0), (1, 1), (0, 1)].map(|(first, second)| *table.cell(first, second))
}

/// Judges and compares both profiles and, when they are simple, their pair.
pub fn compare(case: &Case) -> [Outcome; 3] {
    let [first, second, pair] = judge(case);
    [
        compare_alone(&OraclePair::alone(&case.first, case.pacing), &first),
        compare_alone(&OraclePair::alone(&case.second, case.pacing), &second),
        if first.is_simple() && second.is_simple() {
            compare_pair(
                &OraclePair::new(&case.first, &case.second, case.pacing),
                &pair,
            )
        } else {
            Outcome::Skipped
        },
    ]
}

/// One profile by itself; `pair` is it lofted to itself.
pub fn compare_alone(pair: &OraclePair, judgement: &Judgement) -> Outcome {
    match claim(judgement) {
        Claim::Unproven => Outcome::Unproven,
        Claim::Clear => match search_alone(pair, CHORDS_ALONE) {
            Sight::Nothing => Outcome::Clear,
            Sight::Doubtful(..) => Outcome::ClearButOracleDoubts,
            Sight::Contact(_) | Sight::Fold(..) => Outcome::FalseClear,
        },
        Claim::Faulty(fault) => confirmed(pair, &fault),
    }
}

/// Two profiles; a doubt of the quick search is looked at thoroughly.
pub fn compare_pair(pair: &OraclePair, judgement: &Judgement) -> Outcome {
    match claim(judgement) {
        Claim::Unproven => Outcome::Unproven,
        Claim::Faulty(fault) => confirmed(pair, &fault),
        Claim::Clear => {
            let mut sight = search(pair, QUICK);
            if matches!(sight, Sight::Doubtful(..)) {
                sight = search(pair, THOROUGH);
            }
            match sight {
                Sight::Nothing => Outcome::Clear,
                Sight::Doubtful(..) => Outcome::ClearButOracleDoubts,
                Sight::Contact(_) | Sight::Fold(..) => Outcome::FalseClear,
            }
        }
    }
}

/// Whether the true curves confirm `fault`: how it looks on them, or
/// [`Outcome::FalseFaulty`].
pub fn confirmed(pair: &OraclePair, fault: &Fault) -> Outcome {
    let place = &fault.place;
    // Two places that near are one: the spike of a joint.
    let at_one_place = pair.way(place.along, place.other_along).abs() < SAME_PLACE;
    if fault.kind == FaultKind::Fold || at_one_place {
        return match confirm_fold(pair, place.along, place.across) {
            Some(FoldGround::LoopBeside) => Outcome::Fold,
            Some(FoldGround::Opposition) => Outcome::FoldWithoutLoop,
            Some(FoldGround::Standing) => Outcome::FoldStanding,
            None => Outcome::FalseFaulty,
        };
    }
    match confirm_crossing(pair, (place.along, place.other_along, place.across)) {
        Some(_) => Outcome::Crossing,
        None => Outcome::FalseFaulty,
    }
}
