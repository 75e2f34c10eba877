//! A judged family: what the orders `check` and `report` tell.

use loftkin_exchange::import::Note;
use loftkin_kernel::blend::Agreement;
use loftkin_kernel::table::{Table, Tolerance};
use loftkin_kernel::verdict::{AnyBlend, Finding};
use loftkin_mend::NodeMargin;
use std::collections::BTreeMap;

/// One family, judged.
pub struct Judged {
    /// Where it came from, as the person gave it.
    pub source: String,
    /// What the reader had to decide.
    pub notes: Vec<Note>,
    /// The verdicts.
    pub table: Table,
    /// By cell, the lower index first: of all cells for programs, of those that
    /// are not clear for people, of none when only verdicts were asked for.
    pub findings: BTreeMap<(usize, usize), Finding>,
    /// How far nodes may move, by pair, where that was asked for.
    pub nodes: BTreeMap<(usize, usize), NodeMargin>,
    /// What is said of all profiles together.
    pub whole: Whole,
}

/// The statements about a family as a whole.
pub struct Whole {
    /// Whether any blend is free.
    pub any_blend: AnyBlend,
    /// The sets that agree.
    pub agreement: Agreement,
    /// How true it must be made; not worked out when only verdicts were asked for.
    pub tolerance: Option<Tolerance>,
}

impl Judged {
    /// All cells, row by row: the indices from 0, the lower one first.
    pub fn cells(&self) -> impl Iterator<Item = (usize, usize)> + use<> {
        let size = self.table.size();
        (0..size).flat_map(|second| (0..=second).map(move |first| (first, second)))
    }

    /// What there is to say about a cell, if it was worked out.
    pub fn finding(&self, first: usize, second: usize) -> Option<&Finding> {
        self.findings.get(&(first, second))
    }
}
