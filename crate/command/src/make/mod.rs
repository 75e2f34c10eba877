//! The order `make`: pieces of a series, proved, measured, checked and written, on all
//! cores, so that it can be killed at any moment and go on.
//!
//! Plan: a run is a list of piece numbers, in order; a share takes every n-th.
//! Pieces are made a batch at a time by all cores. Each file is written under
//! another name, made durable and renamed; only then do the lines of its batch go
//! into the manifest, whose lines carry checksums. What the manifest names is
//! whole; everything else is made again. A run may grow: the pieces that it has keep
//! their places, those that are added come after them. The same piece gives the same bytes, so
//! going on can also mend a file that was damaged since. Memory holds one batch,
//! however long the run.

pub mod basis;
pub mod checks;
mod columns;
pub mod description;
mod draft;
mod edges;
mod folder;
mod halves;
mod idle;
mod limits;
pub mod manifest;
mod piece;
mod plan;
mod recovered;
mod sealed;
mod tally;
mod work;

use crate::arguments::make::MakeOrder;
use crate::series::source::{NoSeries, Notes, needed};
use crate::{BAD_INPUT, complain, print, stop};
use loftkin_exchange::words;
use plan::{Plan, PlanError};

use std::path::{Path, PathBuf};
use std::{fs, io};
use tally::Tally;
use thiserror::Error;
use work::Work;

/// The exit code when some pieces could not be made as asked, or fail a check.
const SOME_MISSING: u8 = 1;
/// The exit code when the system stopped the run: it can go on.
const STOPPED_BY_SYSTEM: u8 = 3;

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
    /// A file stands where the folder should be.
    #[error("{path} is not a folder: name a folder for the pieces, there or new")]
    NotAFolder {
        /// What is there.
        path: PathBuf,
    },
    /// The folder has another run in it.
    #[error("{path} describes another run ({differ}): choose another folder")]
    OtherRun {
        /// The description.
        path: PathBuf,
        /// In what it differs.
        differ: String,
    },
    /// A manifest that is not of this run.
    #[error(
        "{path} does not begin as the manifest of this run does (was it edited?): move it away to have it made anew, or choose another folder"
    )]
    OtherManifest {
        /// The manifest.
        path: PathBuf,
    },
    /// The manifest, or its folder, was taken away while pieces were made.
    #[error(
        "{path} was removed, moved or changed while its pieces were made; give the same order again to make what is missing"
    )]
    Gone {
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

    /// The exit code.
    fn code(&self) -> u8 {
        match self {
            Self::System { .. } | Self::Gone { .. } => STOPPED_BY_SYSTEM,
            _ => BAD_INPUT,
        }
    }
}

/// Why nothing was made.
#[derive(Debug, Error)]
enum MakeError {
    #[error("{0}")]
    NoSeries(#[from] NoSeries),
    #[error("{0}")]
    Plan(#[from] PlanError),
}

/// Runs the order and returns the exit code.
pub fn run(order: &MakeOrder) -> u8 {
    let mut plan = match planned(order) {
        Ok(plan) => plan,
        Err(error) => {
            complain(&order.source, &error.to_string());
            return BAD_INPUT;
        }
    };
    for note in idle::notes(order) {
        complain(&order.source, note);
    }
    if let Ok(described) = fs::read_to_string(order.out.join(description::NAME)) {
        plan.go_on_from(&described);
    }
    let out = words::shown(&order.out.display().to_string());
    let work = match Work::begin(&plan, &order.out) {
        Ok(work) => work,
        Err(failure) => {
            complain(&out, &failure.to_string());
            return failure.code();
        }
    };
    let mut tally = Tally::default();
    let ended = work.run(&mut tally);
    if let Err(failure) = &ended {
        complain(&out, &failure.to_string());
    }
    if matches!(ended, Err(Failure::Gone { .. })) {
        return STOPPED_BY_SYSTEM;
    }
    let code = match ended {
        Err(failure) => failure.code(),
        Ok(()) if stop::asked() && !tally.is_whole(&plan) => stop::STOPPED,
        Ok(()) if tally.falls_short() => SOME_MISSING,
        Ok(()) => 0,
    };
    if [STOPPED_BY_SYSTEM, stop::STOPPED].contains(&code) {
        complain(&out, GO_ON);
    }
    print(&tally.told(&plan, &order.out));
    code
}

const GO_ON: &str = "what the manifest names is whole; give the same order again to go on";

fn planned(order: &MakeOrder) -> Result<Plan, MakeError> {
    let options = (&order.lists, &order.settings);
    let counted = needed(&order.source, options, &order.stations, Notes::Told)?;
    Ok(Plan::new(order, counted)?)
}
