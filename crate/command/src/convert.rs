//! The orders that print a family in another form.

use crate::arguments::{Form, LinkOrder, WriteOrder};
use crate::html::loft::Loft;
use crate::series::asked;
use crate::series::source::{self, NoSeries, Notes, read};
use crate::source::LinkedSeries;
use crate::{BAD_INPUT, complain, print};
use loftkin_exchange::series::SeriesPlan;
use loftkin_exchange::words::{self, Cell, capital};
use loftkin_exchange::{family_json, share, svg};
use loftkin_form::series::walks::NumberError;
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::profile::ProfileError;
use loftkin_kernel::table::Table;
use loftkin_mend::RequestError;
use thiserror::Error;

/// Why a family has no such form.
#[derive(Debug, Error)]
enum FormError {
    #[error("{0}")]
    NoSeries(#[from] NoSeries),
    #[error("{0}")]
    Piece(#[from] NumberError),
    #[error("{0}")]
    Request(#[from] RequestError),
    #[error("{0}")]
    Family(#[from] FamilyError),
    #[error("{0}")]
    Profile(#[from] ProfileError),
    #[error("all points of the two profiles are in one place: there is no loft to draw")]
    NoExtent,
}

/// Prints the share code, or a whole link when a page is given.
pub fn link(order: &LinkOrder) -> u8 {
    let read = read(&order.source, &order.lists, &order.settings, Notes::Told);
    let code = read
        .map_err(FormError::from)
        .and_then(|(import, link)| linked(order, &import.family, link));
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
    let read = read(&order.source, &order.lists, &order.settings, Notes::Told);
    let text = read.map_err(FormError::from).and_then(|(import, link)| {
        if link.is_some() {
            complain(&order.source, SERIES_LEFT_OUT);
        }
        match (order.loft, order.form) {
            (Some(pair), _) => loft(import.family, pair),
            (None, Form::Family) => Ok(family_json::write(&import.family)),
            (None, Form::Svg) => Ok(svg::write(&import.family)),
        }
    });
    told(&order.source, text)
}

/// The picture of the loft between the two profiles of `pair`, from 0.
fn loft(family: Family, (first, second): (usize, usize)) -> Result<String, FormError> {
    let (first, second) = (first.min(second), first.max(second));
    let count = family.profiles.len();
    if count <= second {
        let profile = second;
        return Err(RequestError::NoSuchProfile { profile, count }.into());
    }
    if first == second {
        return Err(RequestError::SameProfile { profile: first }.into());
    }
    let table = Table::new(family)?;
    let curves = [
        table.prepared(first).curve()?,
        table.prepared(second).curve()?,
    ];
    let (family, judgement) = (table.family(), table.cell(first, second));
    let faults = judgement.faults().map(|fault| fault.place).collect();
    let title = format!(
        "{}: {}",
        capital(&Cell::new(family, first, second).label()),
        words::verdict(judgement.verdict)
    );
    Loft::new(curves, family.settings.placement, faults)
        .picture(&title)
        .ok_or(FormError::NoExtent)
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
        Some(_) => asked::needed(&order.stations, placement, link).map(Some),
        None => asked::plan(&order.stations, placement, link),
    };
    let Some(mut plan) = plan.map_err(NoSeries::from)? else {
        return Ok(share::encode(family));
    };
    plan.piece = order.piece.clone().or(plan.piece);
    can_be_used(family, &plan)?;
    Ok(share::encode_with_series(family, &plan))
}

/// Refuses a series that nobody could open: stations that the family cannot
/// have, or a piece that the series has not.
fn can_be_used(family: &Family, plan: &SeriesPlan) -> Result<(), FormError> {
    let (_, series) = source::counted(family.clone(), plan)?;
    if let Some(number) = &plan.piece {
        series.arrangement(number)?;
    }
    Ok(())
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
