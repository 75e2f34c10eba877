//! The order `check`: judge each source, report, and sum up as an exit code.

use crate::arguments::CheckOrder;
use crate::judged::{Judged, Whole};
use crate::report::{FamilyReport, Report};
use crate::{BAD_INPUT, complain, file, plain, print, source};
use loftkin_exchange::import::Note;
use loftkin_exchange::proof_file;
use loftkin_kernel::family::FamilyError;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{AnyBlend, Verdict};
use loftkin_mend::node_margin;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::io::{self, IsTerminal};
use std::path::Path;
use thiserror::Error;

/// The exit code when some pair or profile is faulty.
const FAULTY: u8 = 1;
/// The exit code when none is faulty, but some unproven.
const UNPROVEN: u8 = 3;
/// The exit code when all pairs are clear, but not any blend is proved.
const SOME_BLEND: u8 = 4;

/// Why a source could not be judged.
#[derive(Debug, Error)]
enum CheckError {
    #[error("{0}")]
    Source(#[from] source::SourceError),
    #[error("{0}")]
    Family(#[from] FamilyError),
    #[error("the proof could not be written to {path}: {error}")]
    Proof { path: String, error: io::Error },
    #[error("a proof file holds one family: check one source at a time with --proof")]
    ManyProofs,
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
                code = combined(code, outcome(&judged, order.any_blend));
                if order.json {
                    report.add_family(FamilyReport::new(&judged));
                } else {
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
    if !order.json {
        for note in &import.notes {
            complain(source, &note.to_string());
        }
    }
    order.settings.apply(&mut import.family)?;
    let table = Table::new(import.family)?;
    if order.proof.is_some() && 1 < order.sources.len() {
        return Err(CheckError::ManyProofs);
    }
    if let Some(path) = &order.proof {
        write_proof(&table, path)?;
    }
    if order.brief {
        return Ok(brief(source, import.notes, table));
    }
    let mut judged = judged(source, import.notes, table, order.json);
    if order.node_margins {
        add_node_margins(&mut judged);
    }
    Ok(judged)
}

/// What there is to say of a family; with the findings of clear cells as well
/// when `clear_too`.
pub fn judged(source: &str, notes: Vec<Note>, table: Table, clear_too: bool) -> Judged {
    let tolerance = table.tolerance();
    let mut judged = brief(source, notes, table);
    judged.whole.tolerance = tolerance;
    work_out(&mut judged, clear_too);
    judged
}

/// Verdicts only.
fn brief(source: &str, notes: Vec<Note>, table: Table) -> Judged {
    Judged {
        whole: Whole {
            any_blend: table.any_blend(),
            agreement: table.agreement(),
            tolerance: None,
        },
        source: source.to_owned(),
        findings: BTreeMap::new(),
        nodes: BTreeMap::new(),
        notes,
        table,
    }
}

/// Adds the findings, worked out on all cores. People are told nothing of clear
/// cells, and a large family has thousands of them.
fn work_out(judged: &mut Judged, clear_too: bool) {
    let table = &judged.table;
    let cells: Vec<(usize, usize)> = judged
        .cells()
        .filter(|&(first, second)| clear_too || table.cell(first, second).verdict != Verdict::Clear)
        .collect();
    judged.findings = cells
        .into_par_iter()
        .map(|(first, second)| ((first, second), table.finding_apart(first, second)))
        .collect();
}

/// Adds how far the nodes of each pair may move, worked out on all cores.
pub fn add_node_margins(judged: &mut Judged) {
    let table = &judged.table;
    let pairs: Vec<(usize, usize)> = judged
        .cells()
        .filter(|&(first, second)| first != second && table.cell(first, second).is_free())
        .collect();
    judged.nodes = pairs
        .into_par_iter()
        .filter_map(|pair| Some((pair, node_margin(table.family(), pair)?)))
        .collect();
}

/// Writes the proof to a file.
fn write_proof(table: &Table, path: &Path) -> Result<(), CheckError> {
    let proof = proof_file::write(table);
    let written = file::write(path, proof.text.as_bytes(), true);
    written.map_err(|error| CheckError::Proof {
        path: path.display().to_string(),
        error,
    })
}

/// The exit code for one family.
fn outcome(judged: &Judged, any_blend: bool) -> u8 {
    match judged.table.verdict() {
        Verdict::Faulty => FAULTY,
        Verdict::Unproven => UNPROVEN,
        Verdict::Clear if any_blend && judged.whole.any_blend != AnyBlend::Proved => SOME_BLEND,
        Verdict::Clear => 0,
    }
}

/// The exit code of several: bad input before faults before what is unproven
/// before a blend.
fn combined(code: u8, other: u8) -> u8 {
    [BAD_INPUT, FAULTY, UNPROVEN, SOME_BLEND]
        .into_iter()
        .find(|&worst| code == worst || other == worst)
        .unwrap_or(0)
}

/// Colours are for eyes only: at a terminal, unless the person has set NO_COLOR
/// (no-color.org).
fn colours() -> bool {
    io::stdout().is_terminal() && std::env::var_os("NO_COLOR").is_none_or(|set| set.is_empty())
}
