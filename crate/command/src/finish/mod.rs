//! The order `finish`: a programme by which a piece is lifted out of the bath for
//! anodised colour along its height, as a table and as a page; or the films that come
//! near a colour.

pub mod bath;

use crate::arguments::finish::FinishOrder;
use crate::arguments::numbers::all;
use crate::series::source::{Counted, NoSeries, Notes, needed};
use crate::wrap::wrapped;
use crate::{BAD_INPUT, complain, file, html, print, remark};
use loftkin_exchange::finish::{table, wished, words::said};
use loftkin_exchange::words;
use loftkin_form::finish::colour::Srgb;
use loftkin_form::finish::lift::LiftError;
use loftkin_form::finish::wished::films;
use loftkin_form::finish::{CAUTIONS, MODEL};
use loftkin_form::piece::{Piece, PieceError, judged_curves};
use loftkin_form::series::walks::NumberError;
use num_bigint::BigUint;
use std::io;
use std::path::Path;
use thiserror::Error;

/// Why there is no programme.
#[derive(Debug, Error)]
enum FinishError {
    #[error("{0}")]
    NoSeries(#[from] NoSeries),
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

/// The exit code when no film comes near the colour.
const NOT_NEAR: u8 = 1;

/// Runs the order and returns the exit code.
pub fn run(order: &FinishOrder) -> u8 {
    // One of the two is given.
    let source = order.source.as_deref().unwrap_or("--colour");
    let code = match order.colour {
        Some(colour) => sought(order, colour),
        None => finished(order, source).map(|()| 0),
    };
    code.unwrap_or_else(|error| {
        complain(source, &error.to_string());
        BAD_INPUT
    })
}

/// Tells the films that come near a colour.
fn sought(order: &FinishOrder, colour: Srgb) -> Result<u8, FinishError> {
    let bath = bath::bath(&order.bath)?;
    bath.validate().map_err(LiftError::from)?;
    let near = films(&bath, colour);
    put_out(order, &wished::csv(&near))?;
    let mut told = vec![wished::said(colour, &near)];
    told.extend(near.iter().map(wished::film));
    told.push(wished::looked_at(&bath));
    told.extend([wished::SOURCE, MODEL].map(str::to_owned));
    tell(&told);
    Ok(if wished::is_near(&near) { 0 } else { NOT_NEAR })
}

fn finished(order: &FinishOrder, source: &str) -> Result<(), FinishError> {
    let options = (&order.lists, &order.settings);
    let Counted {
        plan,
        table,
        series,
        ..
    } = needed(source, options, &order.stations, Notes::Told)?;
    let number = order.piece.clone().or(plan.piece);
    let number = number.unwrap_or_else(|| BigUint::from(1_u32));
    let arrangement = series.arrangement(&number)?;
    let piece = Piece::new(&judged_curves(&table), series.layout(), arrangement)?;
    let worked = bath::worked(&piece, &all(&order.stops), &order.bath)?;
    if let Some(path) = &order.html {
        let name = &table.family().name;
        let page = html::finish::page(name, &piece, &number.to_string(), &worked);
        written(path, &page, order.overwrite)?;
    }
    put_out(order, &table::csv(&worked.rows))?;
    tell(&said(&worked.lift, &worked.demand, worked.drainage));
    Ok(())
}

/// Writes the table where it is wanted.
fn put_out(order: &FinishOrder, csv: &str) -> Result<(), FinishError> {
    match &order.out {
        Some(path) => written(path, csv, order.overwrite),
        None => {
            print(csv);
            Ok(())
        }
    }
}

/// Says it beside the table, not in it, for that is read by programs; and what can
/// hurt.
fn tell(sentences: &[String]) {
    let sentences = sentences.iter().map(String::as_str);
    for sentence in sentences.chain(CAUTIONS) {
        remark(&wrapped(sentence, "", "  "));
    }
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
