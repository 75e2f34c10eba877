//! The orders that print a family in another form.

use crate::arguments::{Form, LinkOrder, ListOptions, SettingOptions, WriteOrder};
use crate::series::asked::{self, AskedError};
use crate::source::LinkedSeries;
use crate::{BAD_INPUT, complain, print, source};
use loftkin_exchange::series::SeriesPlan;
use loftkin_exchange::{family_json, share, svg};
use loftkin_form::series::SeriesError;
use loftkin_form::series::walks::NumberError;
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::table::Table;
use thiserror::Error;

/// Why a family has no such form.
#[derive(Debug, Error)]
enum FormError {
    #[error("{0}")]
    Source(#[from] source::SourceError),
    #[error("{0}")]
    Family(#[from] FamilyError),
    #[error("{0}")]
    Asked(#[from] AskedError),
    #[error("{0}")]
    Series(#[from] SeriesError),
    #[error("{0}")]
    Piece(#[from] NumberError),
}

/// Prints the share code, or a whole link when a page is given.
pub fn link(order: &LinkOrder) -> u8 {
    let code = read(&order.source, &order.lists, &order.settings)
        .and_then(|(family, link)| linked(order, &family, link));
    told(
        &order.source,
        code.map(|code| match &order.page {
            Some(page) => format!("{}#{code}\n", page.trim_end_matches('#')),
            None => format!("{code}\n"),
        }),
    )
}

/// Prints the family file or the drawing.
pub fn write(order: &WriteOrder) -> u8 {
    let text = read(&order.source, &order.lists, &order.settings).map(|(family, link)| {
        if link.is_some() {
            complain(&order.source, SERIES_LEFT_OUT);
        }
        match order.form {
            Form::Family => family_json::write(&family),
            Form::Svg => svg::write(&family),
        }
    });
    told(&order.source, text)
}

const SERIES_LEFT_OUT: &str =
    "the link holds a series as well, which is left out here: `loftkin series` writes it";

/// The share code of the family, with the series that is given or that the link
/// holds.
fn linked(order: &LinkOrder, family: &Family, link: LinkedSeries) -> Result<String, FormError> {
    // A series that cannot be read is no reason to keep the family back, unless it is needed.
    let link = match link {
        Some(Err(error)) if order.piece.is_none() && !order.stations.are_given() => {
            complain(&order.source, &error.to_string());
            None
        }
        link => link,
    };
    let placement = family.settings.placement;
    let plan = match order.piece {
        Some(_) => Some(asked::needed(&order.stations, placement, link)?),
        None => asked::plan(&order.stations, placement, link)?,
    };
    let Some(mut plan) = plan else {
        return Ok(share::encode(family));
    };
    plan.piece = order.piece.clone().or(plan.piece);
    can_be_used(family, &plan)?;
    Ok(share::encode_with_series(family, &plan))
}

/// Refuses a series that nobody could open: stations that the family cannot
/// have, or a piece that the series has not.
fn can_be_used(family: &Family, plan: &SeriesPlan) -> Result<(), FormError> {
    let series = asked::counted(&Table::new(family.clone())?, plan)?;
    if let Some(number) = &plan.piece {
        series.arrangement(number)?;
    }
    Ok(())
}

fn read(
    source: &str,
    lists: &ListOptions,
    settings: &SettingOptions,
) -> Result<(Family, LinkedSeries), FormError> {
    let (mut import, link) = source::read_with_series(source, lists.reading())?;
    for note in &import.notes {
        complain(source, &note.to_string());
    }
    settings.apply(&mut import.family)?;
    Ok((import.family, link))
}

/// Prints `text`, or the reason why there is none.
fn told(source: &str, text: Result<String, FormError>) -> u8 {
    match text {
        Ok(text) => {
            print(&text);
            0
        }
        Err(error) => {
            complain(source, &error.to_string());
            BAD_INPUT
        }
    }
}
