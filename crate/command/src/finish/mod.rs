//! The order `finish`: a programme by which a piece is lifted out of the bath for
//! anodised colour along its height, as a table and as a page.

pub mod bath;

use crate::arguments::finish::FinishOrder;
use crate::series::asked::{self, AskedError};
use crate::wrap::wrapped;
use crate::{BAD_INPUT, complain, file, html, print, source};
use loftkin_exchange::finish::words::said;
use loftkin_exchange::{finish::table, words};
use loftkin_form::finish::CAUTIONS;
use loftkin_form::finish::lift::LiftError;
use loftkin_form::piece::{Piece, PieceError, judged_curves};
use loftkin_form::series::SeriesError;
use loftkin_form::series::walks::NumberError;
use loftkin_kernel::family::FamilyError;
use loftkin_kernel::table::Table;
use num_bigint::BigUint;
use std::io;
use std::path::Path;
use thiserror::Error;

/// Why there is no programme.
#[derive(Debug, Error)]
enum FinishError {
    #[error("{0}")]
    Source(#[from] source::SourceError),
    #[error("{0}")]
    Family(#[from] FamilyError),
    #[error("{0}")]
    Asked(#[from] AskedError),
    #[error("{0}")]
    Series(#[from] SeriesError),
    #[error("{0}")]
    Number(#[from] NumberError),
    #[error("{0}")]
    Piece(#[from] PieceError),
    #[error("{0}")]
    Lift(#[from] LiftError),
    #[error("{path} is there already: give another name, or --overwrite")]
    IsThere { path: String },
    #[error("{path} could not be written: {error}")]
    Out { path: String, error: io::Error },
}

/// Runs the order and returns the exit code.
pub fn run(order: &FinishOrder) -> u8 {
    match finished(order) {
        Ok(()) => 0,
        Err(error) => {
            complain(&order.source, &error.to_string());
            BAD_INPUT
        }
    }
}

fn finished(order: &FinishOrder) -> Result<(), FinishError> {
    let (mut import, link) = source::read_with_series(&order.source, order.lists.reading())?;
    for note in &import.notes {
        complain(&order.source, &note.to_string());
    }
    order.settings.apply(&mut import.family)?;
    let placement = import.family.settings.placement;
    let asked = asked::needed(&order.stations, placement, link)?;
    let table = Table::new(import.family)?;
    let series = asked::counted(&table, &asked)?;
    let number = order.piece.clone().or(asked.piece);
    let number = number.unwrap_or_else(|| BigUint::from(1_u32));
    let arrangement = series.arrangement(&number)?;
    let piece = Piece::new(&judged_curves(&table), series.layout(), arrangement)?;
    let worked = bath::worked(&piece, &order.stops, &order.bath)?;
    if let Some(path) = &order.html {
        let name = &table.family().name;
        let page = html::finish::page(name, &piece, &number.to_string(), &worked);
        written(path, &page, order.overwrite)?;
    }
    let csv = table::csv(&worked.rows);
    match &order.out {
        Some(path) => written(path, &csv, order.overwrite)?,
        None => print(&csv),
    }
    // Beside the table, not in it: it is read by programs.
    for sentence in said(&worked.lift) {
        eprint!("{}", wrapped(&sentence, "", "  "));
    }
    for sentence in CAUTIONS {
        eprint!("{}", wrapped(sentence, "", "  "));
    }
    Ok(())
}

fn written(path: &Path, text: &str, overwrite: bool) -> Result<(), FinishError> {
    let shown = words::shown(&path.display().to_string());
    file::write(path, text.as_bytes(), overwrite).map_err(|error| {
        if error.kind() == io::ErrorKind::AlreadyExists {
            FinishError::IsThere { path: shown }
        } else {
            FinishError::Out { path: shown, error }
        }
    })
}
