//! The report for programs, whose structure `mend-report.schema.json` fixes.
//!
//! Profiles, nodes and spans are counted from 1; lengths in mm. Sentences are
//! for people and may change; all else stays within version 1.

use super::outcome::Answer;
use crate::arguments::mend::MendOrder;
use crate::arguments::numbers::all;
use crate::change::{ChangeReport, MoveReport};
use loftkin_exchange::words::mending;
use loftkin_mend::{Hindrance, Move, Outcome};
use serde::Serialize;

/// The version of the structure.
const VERSION: u32 = 1;

#[derive(Serialize)]
pub struct MendReport {
    format: &'static str,
    version: u32,
    source: String,
    outcome: &'static str,
    proved: bool,
    margin: Option<f64>,
    asked: AskedReport,
    remedies: Vec<ChangeReport>,
    moves: Vec<MoveReport>,
    farthest: f64,
    blamed: Vec<usize>,
    profiles_mended: Vec<usize>,
    profiles_open: Vec<usize>,
    pairs_mended: Vec<[usize; 2]>,
    pairs_broken: Vec<[usize; 2]>,
    pairs_open: Vec<[usize; 2]>,
    reason: Option<&'static str>,
    rounds: usize,
    written: Option<String>,
    sentences: Vec<String>,
}

#[derive(Serialize)]
struct AskedReport {
    pairs: Option<Vec<[usize; 2]>>,
    any_blend: bool,
    margin: f64,
}

/// The report on a run that could be made.
pub fn report(order: &MendOrder, answer: &Answer) -> MendReport {
    let mut report = MendReport {
        proved: answer.is_proved(),
        margin: answer.proved.as_ref().and_then(|proved| proved.margin_mm),
        written: answer
            .written
            .as_ref()
            .map(|path| path.display().to_string()),
        sentences: answer.sentences(),
        remedies: answer
            .remedies
            .iter()
            .map(|hint| ChangeReport::from(hint.remedy))
            .collect(),
        ..empty(order, outcome_word(answer))
    };
    report.asked.margin = answer.request.margin_mm;
    match &answer.outcome {
        Outcome::AlreadyClear | Outcome::Cancelled => {}
        Outcome::Remedy(hint) => report.remedies.push(ChangeReport::from(hint.remedy)),
        Outcome::Moved(mended) => {
            report.set_moves(&mended.moves);
            report.blamed = numbers(&mended.blamed);
            report.profiles_mended = numbers(&mended.profiles_mended);
            report.pairs_mended = pairs(&mended.pairs_mended);
            report.pairs_broken = pairs(&mended.pairs_broken);
            report.rounds = mended.rounds;
        }
        Outcome::NotFound(nearest) => {
            report.set_moves(&nearest.moves);
            report.profiles_open = numbers(&nearest.open_profiles);
            report.pairs_open = pairs(&nearest.open_pairs);
            report.reason = Some(reason(&nearest.hindrance));
            report.rounds = nearest.rounds;
        }
    }
    report
}

/// The report on a run that bad input or use stopped, which `sentence` says.
pub fn problem(order: &MendOrder, sentence: &str) -> MendReport {
    MendReport {
        sentences: vec![sentence.to_owned()],
        ..empty(order, "problem")
    }
}

/// A report as text.
pub fn text(report: &MendReport) -> String {
    // Strings, numbers and lists only: nothing that serialising refuses.
    serde_json::to_string_pretty(report).unwrap_or_default() + "\n"
}

impl MendReport {
    fn set_moves(&mut self, moves: &[Move]) {
        self.moves = moves.iter().map(MoveReport::from).collect();
        self.farthest = moves.iter().map(mending::distance_mm).fold(0.0, f64::max);
    }
}

fn empty(order: &MendOrder, outcome: &'static str) -> MendReport {
    MendReport {
        format: "loftkin-mend",
        version: VERSION,
        source: order.source.clone(),
        outcome,
        proved: false,
        margin: None,
        asked: AskedReport {
            pairs: (!order.pairs.is_empty()).then(|| pairs(&all(&order.pairs))),
            any_blend: order.any_blend,
            margin: order.margin.unwrap_or(0.0),
        },
        remedies: Vec::new(),
        moves: Vec::new(),
        farthest: 0.0,
        blamed: Vec::new(),
        profiles_mended: Vec::new(),
        profiles_open: Vec::new(),
        pairs_mended: Vec::new(),
        pairs_broken: Vec::new(),
        pairs_open: Vec::new(),
        reason: None,
        rounds: 0,
        written: None,
        sentences: Vec::new(),
    }
}

fn outcome_word(answer: &Answer) -> &'static str {
    match &answer.outcome {
        Outcome::AlreadyClear if answer.are_remedies_enough() => "remedy",
        Outcome::AlreadyClear => "already-clear",
        Outcome::Remedy(_) => "remedy",
        Outcome::Moved(_) => "moved",
        Outcome::NotFound(_) => "not-found",
        Outcome::Cancelled => "stopped",
    }
}

fn reason(hindrance: &Hindrance) -> &'static str {
    match hindrance {
        Hindrance::RoundsUsedUp => "rounds-used-up",
        Hindrance::NothingMayMove => "nothing-may-move",
        Hindrance::OutOfReach { .. } => "out-of-reach",
        Hindrance::ProfileMeetsItself { .. } => "profile-meets-itself",
        Hindrance::ProfileInvalid { .. } => "profile-invalid",
        Hindrance::CountsDiffer { .. } => "counts-differ",
    }
}

fn numbers(indices: &[usize]) -> Vec<usize> {
    indices.iter().map(|index| index + 1).collect()
}

fn pairs(pairs: &[(usize, usize)]) -> Vec<[usize; 2]> {
    pairs
        .iter()
        .map(|&(one, other)| [one.min(other) + 1, one.max(other) + 1])
        .collect()
}
