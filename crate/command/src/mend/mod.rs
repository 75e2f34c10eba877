//! The order `mend`: find the least movement of nodes, prove it, write it.
//!
//! What the solver hands back is judged once more from the family that will be
//! written; only what that proves is called a mend.

mod asked;
mod form;
mod outcome;

use crate::arguments::mend::MendOrder;
use crate::wrap::wrapped;
use crate::{BAD_INPUT, complain, file, print, remark, source, stop};
use indicatif::{ProgressBar, ProgressStyle};
use loftkin_exchange::family_json;
use loftkin_exchange::words::{self, mending};
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_mend::{DefaultMargin, Outcome, Progress, Request, RequestError};
use outcome::Answer;
use std::io;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::time::Duration;
use thiserror::Error;

/// The exit code when no mend was found.
const NOT_FOUND: u8 = 1;
/// The file name that means standard output.
const STANDARD: &str = "-";

/// Why nothing could be done.
#[derive(Debug, Error)]
enum MendError {
    #[error("{0}")]
    Source(#[from] source::SourceError),
    #[error("{0}")]
    Family(#[from] FamilyError),
    #[error("{0}")]
    Request(#[from] RequestError),
    #[error("{path} is there already: give another name, or --overwrite")]
    IsThere { path: String },
    #[error(
        "{path} would be a drawing, which does not hold a family exactly; give a name that ends in .json, and draw it with `loftkin write`"
    )]
    Drawing { path: String },
    #[error(
        "a report for programs and the family cannot both go to standard output: give --out a file"
    )]
    BothOnStandard,
    #[error("the family could not be written to {path}: {error}")]
    Out { path: String, error: io::Error },
    #[error(
        "what was found is not proved when judged anew; this is an error of Loftkin, and nothing was written"
    )]
    NotProved,
}

/// Runs the order and returns the exit code.
pub fn run(order: &MendOrder) -> u8 {
    match mended(order) {
        Ok(answer) => {
            let code = code(&answer.outcome);
            if order.json {
                print(&form::text(&form::report(order, &answer)));
            } else if to_standard(order) {
                remark(&plain(&answer));
            } else {
                print(&plain(&answer));
            }
            code
        }
        Err(error) => {
            complain(&order.source, &error.to_string());
            if order.json {
                print(&form::text(&form::problem(order, &error.to_string())));
            }
            BAD_INPUT
        }
    }
}

fn code(outcome: &Outcome) -> u8 {
    match outcome {
        Outcome::AlreadyClear | Outcome::Remedy(_) | Outcome::Moved(_) => 0,
        Outcome::NotFound(_) => NOT_FOUND,
        Outcome::Cancelled => stop::STOPPED,
    }
}

fn mended(order: &MendOrder) -> Result<Answer, MendError> {
    check_out(order)?;
    let mut import = source::read(&order.source, order.lists.reading())?;
    for note in &import.notes {
        complain(&order.source, &note.to_string());
    }
    order.settings.apply(&mut import.family)?;
    let mut request = asked::request(order, &import.family)?;
    let (family, remedies) = if order.no_remedies {
        (import.family, Vec::new())
    } else {
        loftkin_mend::free_remedies(import.family, &request)?
    };
    let (outcome, margin) = sought(&family, &request, order.margin.is_none())?;
    if let Some(margin) = margin {
        request.margin_mm = margin.mm;
    }
    let mut answer = Answer::new(family, request, outcome)?;
    answer.margin = margin;
    answer.remedies = remedies;
    if !answer.is_proved() && !matches!(answer.outcome, Outcome::NotFound(_) | Outcome::Cancelled) {
        return Err(MendError::NotProved);
    }
    let wanted = answer.is_proved() || (order.nearest && answer.after.is_some());
    if let (Some(out), true, Some(after)) = (&order.out, wanted, &answer.after) {
        write(out, after, order.overwrite)?;
        answer.written = Some(out.clone());
    }
    Ok(answer)
}

/// Refuses before any work what could only fail after it.
fn check_out(order: &MendOrder) -> Result<(), MendError> {
    let Some(out) = &order.out else {
        return Ok(());
    };
    let path = words::shown(&out.display().to_string());
    if to_standard(order) {
        return if order.json {
            Err(MendError::BothOnStandard)
        } else {
            Ok(())
        };
    }
    if out
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("svg"))
    {
        return Err(MendError::Drawing { path });
    }
    if out.is_file() && !order.overwrite {
        return Err(MendError::IsThere { path });
    }
    let folder = file::folder_of(out);
    match std::fs::metadata(&folder) {
        Ok(there) if there.is_dir() => Ok(()),
        Ok(_) => Err(MendError::Out {
            path,
            error: io::ErrorKind::NotADirectory.into(),
        }),
        Err(error) => Err(MendError::Out { path, error }),
    }
}

fn to_standard(order: &MendOrder) -> bool {
    order.out.as_deref() == Some(Path::new(STANDARD))
}

fn write(out: &PathBuf, family: &Family, overwrite: bool) -> Result<(), MendError> {
    let text = family_json::write(family);
    if out == Path::new(STANDARD) {
        print(&text);
        return Ok(());
    }
    file::write(out, text.as_bytes(), overwrite).map_err(|error| MendError::Out {
        path: words::shown(&out.display().to_string()),
        error,
    })
}

/// Asks the solver, with a line of progress at a terminal and an ear for Ctrl-C.
/// Where no margin is named, it tells the one that was asked for.
fn sought(
    family: &Family,
    request: &Request,
    for_workshop: bool,
) -> Result<(Outcome, Option<DefaultMargin>), RequestError> {
    stop::listen();
    let line = ProgressBar::new_spinner();
    // The template is a constant of this file and well formed.
    if let Ok(style) = ProgressStyle::with_template("{spinner} {msg}") {
        line.set_style(style);
    }
    line.enable_steady_tick(Duration::from_millis(120));
    let mut told = |told: Progress| {
        line.set_message(mending::progress(&told));
        if stop::asked() {
            ControlFlow::Break(())
        } else {
            ControlFlow::Continue(())
        }
    };
    let outcome = if for_workshop {
        loftkin_mend::mend_for_workshop(family, request, &mut told)
            .map(|(outcome, margin)| (outcome, Some(margin)))
    } else {
        loftkin_mend::mend(family, request, &mut told).map(|outcome| (outcome, None))
    };
    line.finish_and_clear();
    outcome
}

/// The answer for people.
fn plain(answer: &Answer) -> String {
    let mut text = String::new();
    for sentence in answer.sentences() {
        text.push_str(&wrapped(&sentence, "", "  "));
    }
    text + &table(&answer.rows())
}

/// Rows below the heads of their columns, each as wide as it must be.
fn table(rows: &[[String; 5]]) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let head = mending::COLUMNS.map(str::to_owned);
    let lines = || std::iter::once(&head).chain(rows);
    let width = |column: usize| lines().map(|row| row[column].chars().count()).max();
    let widths: Vec<usize> = (0..head.len()).filter_map(width).collect();
    let mut text = "\n".to_owned();
    for row in lines() {
        let cells = row.iter().zip(&widths);
        let line: Vec<String> = cells.map(|(cell, &wide)| format!("{cell:wide$}")).collect();
        text.push_str(line.join("  ").trim_end());
        text.push('\n');
    }
    text
}
