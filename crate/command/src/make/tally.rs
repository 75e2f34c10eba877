//! What a run came to: counted while it goes, told at its end.

use super::checks::Kept;
use super::piece::checked;
use super::plan::Plan;
use crate::wrap::wrapped;
use loftkin_exchange::words;
use loftkin_form::making::DESIGN_ESTIMATE;
use std::path::Path;

/// The counts of one share of a run.
#[derive(Default)]
pub struct Tally {
    /// Whole pieces met in the folder.
    pub met: u64,
    /// Of them, those whose damaged or missing files were made again.
    pub repaired: u64,
    /// Pieces made now.
    pub made: u64,
    /// Whole pieces with a file that could not be made as asked, and the first
    /// reason.
    short: u64,
    reason: Option<String>,
    /// How whole pieces keep the limits of the checks.
    kept: Vec<Kept>,
}

impl Tally {
    /// Counts the piece of `line`, with what it lacks.
    pub fn note(&mut self, plan: &Plan, line: &str, problem: Option<String>) {
        let number = line.split(',').next().unwrap_or_default();
        plan.checks
            .count(number, &checked(plan, line), &mut self.kept);
        self.short += u64::from(problem.is_some());
        self.reason = self.reason.take().or(problem);
    }

    /// Whether all pieces of the share are whole.
    pub fn is_whole(&self, plan: &Plan) -> bool {
        self.met + self.made == plan.count()
    }

    /// Whether some piece lacks a file or fails a check.
    pub fn falls_short(&self) -> bool {
        0 < self.short || self.kept.iter().any(|kept| 0 < kept.fail)
    }

    /// What was done in the folder `out`, for people.
    pub fn told(&self, plan: &Plan, out: &Path) -> String {
        let whole = self.met + self.made;
        let mut lines = vec![
            format!(
                "The series has {} pieces; {whole} of the {} asked for here are whole in {}.",
                plan.series.count(),
                plan.count(),
                words::shown(&out.display().to_string())
            ),
            format!(
                "{} were there already and are unchanged, {} were made again, {} are new.",
                self.met - self.repaired,
                self.repaired,
                self.made
            ),
        ];
        if let Some(reason) = &self.reason {
            lines.push(format!(
                "{} lack a file that could not be made as asked; the first: {reason}.",
                self.short
            ));
        }
        lines.extend(plan.checks.told(&self.kept));
        if !plan.checks.is_empty() {
            lines.push(DESIGN_ESTIMATE.to_owned());
        }
        lines.iter().map(|line| wrapped(line, "", "  ")).collect()
    }
}
