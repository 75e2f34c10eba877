//! Reading the series file: JSON, documented by `series.schema.json` beside this
//! crate.
//!
//! Strict about the form, as the family file is: unknown fields and wrong kinds
//! of value are refused with their place. Whether the stations can be used is
//! not asked here.

use super::SeriesPlan;
use super::form::{self, FORMAT, VERSION};
use crate::json;
use crate::json::form::{Misfit, head};
use thiserror::Error;

/// The largest file that is looked at: 24 stations that name 256 profiles each
/// stay far below it.
pub const MOST_BYTES: usize = 1 << 20;

/// Why a text is not a series file. Positions count from 1.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SeriesFileError {
    /// More than [`MOST_BYTES`].
    #[error("the file has {bytes} bytes: a series file has at most {MOST_BYTES}")]
    TooLarge {
        /// How many bytes there are.
        bytes: usize,
    },
    /// The text is no JSON, or not of the form.
    #[error("{place}: {problem} (line {line}, column {column})")]
    Form {
        /// The station or field in words.
        place: String,
        /// What is wrong and what was expected.
        problem: String,
        /// The line of the text.
        line: usize,
        /// The column of that line.
        column: usize,
    },
    /// JSON of another kind.
    #[error("this is no series file: its field \"format\" should say \"{FORMAT}\"")]
    Foreign,
    /// A version that did not exist when this was built.
    #[error(
        "the series file is of version {version}, this program reads version {VERSION}: open it with a newer Loftkin"
    )]
    Newer {
        /// The version of the file.
        version: u32,
    },
}

/// Reads the JSON form.
///
/// # Errors
/// A [`SeriesFileError`] that names the place. Stations that cannot be used are
/// none: [`SeriesPlan::layout`] names these.
///
/// ```
/// use loftkin_exchange::series::{read, write};
///
/// let plan = read(
///     r#"{"format": "loftkin-series", "version": 1, "placement": "stack", "blend": "eased",
///         "stations": [{"at": 0, "profiles": [1]}, {"at": 90}, {"at": 180, "scale": 0.8}]}"#,
/// )?;
/// assert_eq!(plan.stations[0].profiles, Some(vec![0]));
/// assert_eq!(plan.layout()?.stations().extent(), 180.0);
/// assert_eq!(read(&write(&plan))?, plan);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn read(text: &str) -> Result<SeriesPlan, SeriesFileError> {
    if MOST_BYTES < text.len() {
        return Err(SeriesFileError::TooLarge { bytes: text.len() });
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let refused = |misfit: Misfit| {
        let (place, line, column) = misfit.told(text);
        let problem = misfit.problem;
        SeriesFileError::Form {
            place,
            problem,
            line,
            column,
        }
    };
    let item = json::read(text).map_err(|syntax| refused(syntax.into()))?;
    let (format, version) = head(&item);
    if format != Some(FORMAT) {
        return Err(SeriesFileError::Foreign);
    }
    if let Some(version) = version.filter(|&version| VERSION < version) {
        return Err(SeriesFileError::Newer { version });
    }
    form::plan(&item).map_err(refused)
}

/// Whether `text` is a series file by its field `format`, readable or not, so
/// that it is not taken for a family file.
pub fn is_file(text: &str) -> bool {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    text.len() <= MOST_BYTES
        && text.trim_start().starts_with('{')
        && json::read(text).is_ok_and(|item| head(&item).0 == Some(FORMAT))
}
