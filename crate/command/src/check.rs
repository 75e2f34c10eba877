//! The order `check`: judge each source, report, and sum up as an exit code.

use crate::arguments::CheckOrder;
use crate::report::{FamilyReport, Report};
use crate::{BAD_INPUT, complain, plain, print, source};
use loftkin_exchange::import::Note;
use loftkin_kernel::family::FamilyError;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Finding, Verdict};
use std::io::IsTerminal;
use thiserror::Error;

/// One family, judged.
pub struct Judged {
    /// Where it came from, as the person gave it.
    pub source: String,
    /// What the reader had to decide.
    pub notes: Vec<Note>,
    /// The verdicts.
    pub table: Table,
    /// Row by row below and on the diagonal, as the table goes; empty when only
    /// verdicts were asked for.
    pub findings: Vec<Finding>,
}

impl Judged {
    /// All cells, row by row: the indices from 0, the lower one first.
    pub fn cells(&self) -> impl Iterator<Item = (usize, usize)> + use<> {
        let size = self.table.size();
        (0..size).flat_map(|second| (0..=second).map(move |first| (first, second)))
    }

    /// What there is to say about a cell, if it was worked out.
    pub fn finding(&self, first: usize, second: usize) -> Option<&Finding> {
        self.findings.get(second * (second + 1) / 2 + first)
    }
}

/// Why a source could not be judged.
#[derive(Debug, Error)]
enum CheckError {
    #[error("{0}")]
    Source(#[from] source::SourceError),
    #[error("{0}")]
    Family(#[from] FamilyError),
}

/// Runs the order and returns the exit code: bad input before faults before
/// what is unproven.
pub fn run(order: &CheckOrder) -> u8 {
    let mut code = 0;
    let mut report = Report::default();
    for source in &order.sources {
        match judge(source, order) {
            Err(error) => {
                complain(source, &error.to_string());
                report.add_problem(source, &error.to_string());
                code = BAD_INPUT;
            }
            Ok(judged) => {
                code = combined(code, judged.table.verdict());
                if order.json {
                    report.add_family(FamilyReport::new(&judged));
                } else {
                    for note in &judged.notes {
                        complain(source, &note.to_string());
                    }
                    print(&plain::report(&judged, colours()));
                }
            }
        }
    }
    if order.json {
        print(&report.text());
    }
    code
}

fn judge(source: &str, order: &CheckOrder) -> Result<Judged, CheckError> {
    let mut import = source::read(source, order.lists.reading())?;
    order.settings.apply(&mut import.family)?;
    let mut judged = Judged {
        source: source.to_owned(),
        notes: import.notes,
        table: Table::new(import.family)?,
        findings: Vec::new(),
    };
    if !order.brief {
        let cells = judged.cells();
        let table = &mut judged.table;
        judged.findings = cells
            .map(|(first, second)| table.finding(first, second))
            .collect();
    }
    Ok(judged)
}

fn combined(code: u8, verdict: Verdict) -> u8 {
    match (code, verdict) {
        (BAD_INPUT, _) => BAD_INPUT,
        (_, Verdict::Faulty) | (1, _) => 1,
        (_, Verdict::Unproven) | (3, _) => 3,
        (_, Verdict::Clear) => 0,
    }
}

/// Colours are for eyes only: at a terminal, unless the person has set NO_COLOR
/// (no-color.org).
fn colours() -> bool {
    std::io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none_or(|set| set.is_empty())
}
