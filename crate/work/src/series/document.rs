//! A series as a document: the part of a link after the family, and a file.

use super::wish::SeriesWish;
use loftkin_exchange::series::{self, SeriesFileError, SeriesPlan, piece_number};
use loftkin_exchange::share::{self, SeriesCodeError};
use serde::Serialize;

/// A series that was read, with the piece that was shown.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SeriesMessage {
    /// Stations, blend and rules.
    pub wish: SeriesWish,
    /// The number of the piece, decimal, if one was shown.
    pub piece: Option<String>,
}

impl From<SeriesPlan> for SeriesMessage {
    fn from(plan: SeriesPlan) -> Self {
        Self {
            wish: SeriesWish::of(&plan),
            piece: plan.piece.map(|number| number.to_string()),
        }
    }
}

/// The part of a link for `wish` with piece `piece` (decimal) shown, if one is.
pub fn to_code(wish: &SeriesWish, piece: Option<&str>) -> String {
    share::encode_series(&wish.plan(piece.and_then(piece_number)))
}

/// The series of that part of a link.
///
/// # Errors
/// [`SeriesCodeError`].
pub fn of_code(code: &str) -> Result<SeriesMessage, SeriesCodeError> {
    Ok(share::decode_series(code)?.into())
}

/// The series file for `wish` with piece `piece` (decimal) shown, if one is.
pub fn to_file(wish: &SeriesWish, piece: Option<&str>) -> String {
    series::write(&wish.plan(piece.and_then(piece_number)))
}

/// The series of a file.
///
/// # Errors
/// [`SeriesFileError`].
pub fn of_file(text: &str) -> Result<SeriesMessage, SeriesFileError> {
    Ok(series::read(text)?.into())
}
