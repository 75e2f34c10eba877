//! The family that an order works on, and the series that is asked for with it: read,
//! set and counted in one way for all orders.

use super::asked::{self, AskedError};
use crate::arguments::series::StationOptions;
use crate::arguments::{ListOptions, SettingOptions};
use crate::complain;
use crate::source::{self, LinkedSeries, SourceError};
use loftkin_exchange::import::Import;
use loftkin_exchange::series::SeriesPlan;
use loftkin_form::series::{Series, SeriesError};
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::table::Table;
use thiserror::Error;

/// Why there is no series of a family.
#[derive(Debug, Error)]
pub enum NoSeries {
    #[error("{0}")]
    Source(#[from] SourceError),
    #[error("{0}")]
    Family(#[from] FamilyError),
    #[error("{0}")]
    Asked(#[from] AskedError),
    #[error("{0}")]
    Series(#[from] SeriesError),
}

/// A family, judged, with its series.
pub struct Counted {
    /// What was read, with the settings of the order.
    pub import: Import,
    /// The series as it was asked for.
    pub plan: SeriesPlan,
    /// All pairs.
    pub table: Table,
    /// The pieces.
    pub series: Series,
}

/// Whether what was noted while reading is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notes {
    /// On standard error.
    Told,
    /// Where a report has them.
    Kept,
}

/// The family of `source` with `settings`, and the series that a link holds.
///
/// # Errors
/// [`NoSeries`].
pub fn read(
    source: &str,
    lists: &ListOptions,
    settings: &SettingOptions,
    notes: Notes,
) -> Result<(Import, LinkedSeries), NoSeries> {
    let (mut import, link) = source::read_with_series(source, lists.reading())?;
    if notes == Notes::Told {
        for note in &import.notes {
            complain(source, &note.to_string());
        }
    }
    settings.apply(&mut import.family)?;
    Ok((import, link))
}

/// The pieces that `plan` yields for `family`.
///
/// # Errors
/// [`NoSeries`].
pub fn counted(family: Family, plan: &SeriesPlan) -> Result<(Table, Series), NoSeries> {
    let table = Table::new(family)?;
    let series = asked::counted(&table, plan)?;
    Ok((table, series))
}

/// The family of `source` with the series that `stations` ask for, or else the link.
///
/// # Errors
/// [`NoSeries`].
pub fn needed(
    source: &str,
    (lists, settings): (&ListOptions, &SettingOptions),
    stations: &StationOptions,
    notes: Notes,
) -> Result<Counted, NoSeries> {
    let (import, link) = read(source, lists, settings, notes)?;
    let plan = asked::needed(stations, import.family.settings.placement, link)?;
    let (table, series) = counted(import.family.clone(), &plan)?;
    Ok(Counted {
        import,
        plan,
        table,
        series,
    })
}
