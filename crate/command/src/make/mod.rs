//! The order `make`: pieces of a series, proved, measured, checked and written, on all
//! cores, so that it can be killed at any moment and go on.
//!
//! Plan: a run is a list of piece numbers, in order; a share takes every n-th.
//! Pieces are made a batch at a time by all cores. Each file is written under
//! another name, made durable and renamed; only then do the lines of its batch go
//! into the manifest, whose lines carry checksums. What the manifest names is
//! whole; everything else is made again. The same piece gives the same bytes, so
//! going on can also mend a file that was damaged since. Memory holds one batch,
//! however long the run.

mod checks;
mod folder;
mod manifest;
mod piece;
mod plan;
mod selection;

use crate::arguments::make::MakeOrder;
use crate::wrap::wrapped;
use crate::{BAD_INPUT, complain, print, source, stop};
use checks::Kept;
use folder::Folder;
use indicatif::{ProgressBar, ProgressStyle};
use loftkin_exchange::words;
use loftkin_form::making::DESIGN_ESTIMATE;
use loftkin_kernel::family::FamilyError;
use loftkin_kernel::table::Table;
use manifest::{Entry, Manifest};
use piece::{Maker, checked, column_names};
use plan::{Plan, PlanError};
use rayon::prelude::*;
use std::io;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// The exit code when some pieces could not be made as asked, or fail a check.
const SOME_MISSING: u8 = 1;
/// The exit code when the system stopped the run: it can go on.
const STOPPED_BY_SYSTEM: u8 = 3;
/// Pieces made between two entries into the manifest.
const BATCH: u64 = 64;

/// What ended a run before its end.
#[derive(Debug, Error)]
pub enum Failure {
    /// The system refused.
    #[error("{path}: {error}")]
    System {
        /// The file or folder.
        path: String,
        /// What it says.
        error: io::Error,
    },
    /// The folder has another run in it.
    #[error(
        "{path} describes another run (family, stations, pieces or files differ): choose another folder"
    )]
    OtherRun {
        /// The description.
        path: PathBuf,
    },
    /// A manifest that is not of this run.
    #[error("{path} is not the manifest of this run: choose another folder")]
    OtherManifest {
        /// The manifest.
        path: PathBuf,
    },
    /// Another process has the manifest.
    #[error("{path} is in use: another process makes these pieces; give each its own --shard")]
    Busy {
        /// The manifest.
        path: PathBuf,
    },
    /// A damaged file whose piece does not come out the same.
    #[error(
        "{path} is damaged and does not come out the same when it is made again: choose another folder"
    )]
    NotTheSame {
        /// The file.
        path: PathBuf,
    },
}

impl Failure {
    /// `error` at `path`.
    pub fn at(path: &Path, error: io::Error) -> Self {
        Self::System {
            path: words::shown(&path.display().to_string()),
            error,
        }
    }

    fn is_of_system(&self) -> bool {
        matches!(self, Self::System { .. })
    }
}

/// Why nothing was made.
#[derive(Debug, Error)]
enum MakeError {
    #[error("{0}")]
    Source(#[from] source::SourceError),
    #[error("{0}")]
    Family(#[from] FamilyError),
    #[error("{0}")]
    Plan(#[from] PlanError),
}

/// What was done.
#[derive(Default)]
struct Tally {
    /// Whole pieces met in the folder.
    met: u64,
    /// Of them, those whose damaged or missing files were made again.
    repaired: u64,
    /// Pieces made now.
    made: u64,
    /// Of all whole pieces, those with a file that could not be made as asked,
    /// and the first reason.
    short: u64,
    reason: Option<String>,
    /// How all whole pieces keep the limits of the checks.
    kept: Vec<Kept>,
}

/// Runs the order and returns the exit code.
pub fn run(order: &MakeOrder) -> u8 {
    let plan = match planned(order) {
        Ok(plan) => plan,
        Err(error) => {
            complain(&order.source, &error.to_string());
            return BAD_INPUT;
        }
    };
    let mut tally = Tally::default();
    let ended = make(order, &plan, &mut tally);
    print(&told(order, &plan, &tally));
    match ended {
        Err(failure) => {
            complain(&order.out.display().to_string(), &failure.to_string());
            if failure.is_of_system() {
                complain(&order.out.display().to_string(), GO_ON);
                return STOPPED_BY_SYSTEM;
            }
            BAD_INPUT
        }
        Ok(()) if stop::asked() => {
            complain(&order.out.display().to_string(), GO_ON);
            stop::STOPPED
        }
        Ok(()) if tally.falls_short() => SOME_MISSING,
        Ok(()) => 0,
    }
}

const GO_ON: &str = "what the manifest names is whole; give the same order again to go on";

fn planned(order: &MakeOrder) -> Result<Plan, MakeError> {
    let mut import = source::read(&order.source, order.lists.reading())?;
    for note in &import.notes {
        complain(&order.source, &note.to_string());
    }
    order.settings.apply(&mut import.family)?;
    Ok(Plan::new(order, Table::new(import.family)?)?)
}

fn make(order: &MakeOrder, plan: &Plan, tally: &mut Tally) -> Result<(), Failure> {
    stop::listen();
    let folder = Folder::open(&order.out, plan)?;
    let path = folder.path(&plan.manifest_name());
    let (mut manifest, found) = Manifest::open(&path, &column_names(plan))?;
    folder.tidy(plan)?;
    let line = progress(plan.count());
    let maker = Maker::new(plan);
    verify(plan, &folder, &maker, found, &line, tally)?;
    let mut from = found;
    while from < plan.count() && !stop::asked() {
        let to = (from + BATCH).min(plan.count());
        let batch: Vec<Result<Done, Failure>> = (from..to)
            .into_par_iter()
            .map(|place| one(plan, &folder, &maker, place))
            .collect();
        // What is whole before the first failure is kept.
        let mut lines = Vec::new();
        let mut failed = None;
        for done in batch {
            match done {
                Ok(done) if failed.is_none() => {
                    tally.note(plan, &done.line, done.problem);
                    lines.push(done.line);
                }
                Ok(_) => {}
                Err(failure) => failed = failed.or(Some(failure)),
            }
        }
        manifest.add(&lines)?;
        tally.made += lines.len() as u64;
        line.inc(lines.len() as u64);
        if let Some(failure) = failed {
            return Err(failure);
        }
        from = to;
    }
    folder.sync(plan);
    line.finish_and_clear();
    Ok(())
}

/// One piece, written.
struct Done {
    line: String,
    problem: Option<String>,
}

/// Makes and writes the piece at `place` of the share.
fn one(plan: &Plan, folder: &Folder, maker: &Maker, place: u64) -> Result<Done, Failure> {
    let number = plan.number(place).unwrap_or_default();
    let made = maker
        .make(&number)
        .map_err(|error| Failure::at(&folder.path(&format!("piece {number}")), error))?;
    let Some(made) = made else {
        let line = format!("{number}{}", ",".repeat(column_names(plan).len() - 1));
        return Ok(Done {
            line,
            problem: Some(format!("piece {number} could not be formed")),
        });
    };
    let mut columns = vec![made.columns];
    for (bytes, &format) in made.files.iter().zip(&plan.formats) {
        columns.push(match bytes {
            Some(bytes) => {
                let name = plan.file_name(place, &number, format);
                let Entry { name, length, sum } = folder.write(name, bytes)?;
                format!("{name},{length},{sum}")
            }
            None => ",,".to_owned(),
        });
    }
    Ok(Done {
        line: columns.join(","),
        problem: made.problem.map(|why| format!("piece {number}: {why}")),
    })
}

/// Compares every file that the manifest names with its checksum, and makes again
/// what is damaged or gone.
fn verify(
    plan: &Plan,
    folder: &Folder,
    maker: &Maker,
    count: u64,
    line: &ProgressBar,
    tally: &mut Tally,
) -> Result<(), Failure> {
    let path = folder.path(&plan.manifest_name());
    let mut lines = manifest::lines(&path)?;
    let mut from = 0;
    while from < count && !stop::asked() {
        let batch: Vec<(u64, String)> = (from..(from + BATCH).min(count))
            .zip(lines.by_ref())
            .map(|(place, line)| Ok((place, line?)))
            .collect::<Result<_, Failure>>()?;
        let compared: Vec<Result<Met, Failure>> = batch
            .into_par_iter()
            .map(|(place, line)| met(plan, folder, maker, place, line))
            .collect();
        for met in compared {
            let met = met?;
            tally.met += 1;
            tally.repaired += u64::from(met.repaired);
            tally.note(plan, &met.line, met.problem);
        }
        from = (from + BATCH).min(count);
        line.set_position(from);
    }
    // Time left is told by what is made, not by what was met.
    line.reset_eta();
    Ok(())
}

struct Met {
    line: String,
    repaired: bool,
    problem: Option<String>,
}

fn met(
    plan: &Plan,
    folder: &Folder,
    maker: &Maker,
    place: u64,
    line: String,
) -> Result<Met, Failure> {
    let entries = manifest::entries(&line, plan.formats.len());
    let missing = entries.iter().any(|entry| entry.name.is_empty());
    let repaired = !entries.iter().all(|entry| folder.holds(entry));
    if repaired && one(plan, folder, maker, place)?.line != line {
        let path = folder.path(&entries[0].name);
        return Err(Failure::NotTheSame { path });
    }
    let number = line.split(',').next().unwrap_or_default();
    let problem = missing.then(|| format!("piece {number}: a file could not be made as asked"));
    Ok(Met {
        line,
        repaired,
        problem,
    })
}

impl Tally {
    fn falls_short(&self) -> bool {
        0 < self.short || self.kept.iter().any(|kept| 0 < kept.fail)
    }

    fn note(&mut self, plan: &Plan, line: &str, problem: Option<String>) {
        let number = line.split(',').next().unwrap_or_default();
        plan.checks
            .count(number, &checked(plan, line), &mut self.kept);
        self.short += u64::from(problem.is_some());
        self.reason = self.reason.take().or(problem);
    }
}

/// A line at a terminal that shows how far the run has come, and the time left.
fn progress(count: u64) -> ProgressBar {
    let line = ProgressBar::new(count);
    let template = "{wide_bar} {human_pos} of {human_len} pieces, {per_sec}, {eta} left";
    // The template is a constant of this file and well formed.
    if let Ok(style) = ProgressStyle::with_template(template) {
        line.set_style(style.progress_chars("=> "));
    }
    line
}

/// What was done, for people.
fn told(order: &MakeOrder, plan: &Plan, tally: &Tally) -> String {
    let whole = tally.met + tally.made;
    let mut text = format!(
        "The series has {} pieces; {whole} of the {} asked for here are whole in {}.\n",
        plan.series.count(),
        plan.count(),
        words::shown(&order.out.display().to_string())
    );
    text.push_str(&format!(
        "{} were there already and are unchanged, {} were made again, {} are new.\n",
        tally.met - tally.repaired,
        tally.repaired,
        tally.made
    ));
    if let Some(reason) = &tally.reason {
        text.push_str(&format!(
            "{} lack a file that could not be made as asked; the first: {reason}.\n",
            tally.short
        ));
    }
    for sentence in plan.checks.told(&tally.kept) {
        text.push_str(&sentence);
        text.push('\n');
    }
    if !plan.checks.is_empty() {
        text.push_str(&wrapped(DESIGN_ESTIMATE, "", ""));
    }
    text
}
