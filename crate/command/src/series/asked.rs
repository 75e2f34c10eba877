//! The series that an order asks for: by options, by a series file, or by the
//! link that the family came in.

use crate::arguments::numbers::{List, all};
use crate::arguments::series::StationOptions;
use crate::source::{self, LinkedSeries};
use loftkin_exchange::series::{self, MOST_BYTES, PlannedStation, SeriesFileError, SeriesPlan};
use loftkin_exchange::share::SeriesCodeError;
use loftkin_exchange::words;
use loftkin_form::series::{Series, SeriesError};
use loftkin_form::stations::{Setting, Station};
use loftkin_kernel::family::Placement;
use loftkin_kernel::table::Table;
use std::fs::File;
use std::io;
use std::path::Path;
use thiserror::Error;

/// Why there is no series to work on. Positions count from 1.
#[derive(Debug, Error)]
pub enum AskedError {
    /// No stations at all.
    #[error(
        "no stations are given: name them by --at PLACES or --series FILE, or give a link that holds a series"
    )]
    Nothing,
    /// The link has a series that cannot be read.
    #[error("{0}; or name stations by --at PLACES or --series FILE")]
    Link(SeriesCodeError),
    /// Lists of another length than the stations.
    #[error("{given} values for {option}, but {stations} stations: give one a station")]
    Length {
        /// The option.
        option: &'static str,
        /// How many values it has.
        given: usize,
        /// How many stations there are.
        stations: usize,
    },
    /// A rule for a station that is not there.
    #[error("there is no station {station} to allow profiles at: there are {stations}")]
    NoSuchStation {
        /// From 1.
        station: usize,
        /// How many there are.
        stations: usize,
    },
    /// All round without a ring.
    #[error("only a ring can be joined all round: the family stands as a stack; see --placement")]
    StackAllRound,
    /// The series file cannot be opened or read.
    #[error("the series file {path} cannot be read: {error}")]
    File {
        /// The file.
        path: String,
        /// What the system says.
        error: io::Error,
    },
    /// Nothing in it; of standard input, the family may have come from there.
    #[error("{path} is empty where a series file should be")]
    Empty {
        /// The file.
        path: String,
    },
    /// Bytes that are no UTF-8.
    #[error("{path} is no text in UTF-8: give a series file")]
    NotText {
        /// The file.
        path: String,
    },
    /// The series file is none.
    #[error("{path}: {error}")]
    Form {
        /// The file.
        path: String,
        /// What is wrong.
        error: SeriesFileError,
    },
}

/// The plan that `options` ask for, else that of the link, else none. Stations
/// given one by one stand as `placement` says.
///
/// # Errors
/// [`AskedError`]. Whether the stations can be used is not asked here.
pub fn plan(
    options: &StationOptions,
    placement: Placement,
    link: LinkedSeries,
) -> Result<Option<SeriesPlan>, AskedError> {
    if let Some(path) = &options.series {
        return from_file(path).map(Some);
    }
    if options.at.is_empty() {
        return link.transpose().map_err(AskedError::Link);
    }
    from_options(options, placement).map(Some)
}

/// The plan, which must be given in one of these ways.
///
/// # Errors
/// [`AskedError`].
pub fn needed(
    options: &StationOptions,
    placement: Placement,
    link: LinkedSeries,
) -> Result<SeriesPlan, AskedError> {
    plan(options, placement, link)?.ok_or(AskedError::Nothing)
}

/// The series of `plan` for the family of `table`.
///
/// # Errors
/// [`SeriesError`].
pub fn counted(table: &Table, plan: &SeriesPlan) -> Result<Series, SeriesError> {
    let layout = plan.layout().map_err(SeriesError::Layout)?;
    Series::new(table, layout, &plan.rules())
}

/// The plan of the series file at `path`, or on standard input for -.
fn from_file(path: &Path) -> Result<SeriesPlan, AskedError> {
    let is_standard = path == Path::new("-");
    let most = MOST_BYTES as u64 + 1;
    let read = match is_standard {
        true => source::bounded(io::stdin().lock(), most),
        false => File::open(path).and_then(|file| source::bounded(file, most)),
    };
    let path = match is_standard {
        true => "standard input".to_owned(),
        false => words::shown(&path.display().to_string()),
    };
    let bytes = match read {
        Ok(bytes) if bytes.is_empty() => return Err(AskedError::Empty { path }),
        Ok(bytes) => bytes,
        Err(error) => return Err(AskedError::File { path, error }),
    };
    match String::from_utf8(bytes) {
        Ok(text) => series::read(&text).map_err(|error| AskedError::Form { path, error }),
        Err(_) => Err(AskedError::NotText { path }),
    }
}

fn from_options(options: &StationOptions, placement: Placement) -> Result<SeriesPlan, AskedError> {
    let at = all(&options.at);
    let count = at.len();
    let column = |option, lists: &[List<f64>], usual: f64| match all(lists) {
        values if values.is_empty() => Ok(vec![usual; count]),
        values if values.len() == count => Ok(values),
        values => Err(AskedError::Length {
            option,
            given: values.len(),
            stations: count,
        }),
    };
    let scales = column("--scales", &options.scales, 1.0)?;
    let turns = column("--turns", &options.turns, 0.0)?;
    let right = column("--shifts-x", &options.shifts_x, 0.0)?;
    let up = column("--shifts-y", &options.shifts_y, 0.0)?;
    let places = (0..count).map(|index| {
        Station::at(at[index])
            .scaled(scales[index])
            .turned(turns[index])
            .shifted(right[index], up[index])
    });
    let mut stations: Vec<PlannedStation> = places.map(PlannedStation::any).collect();
    for (station, profiles) in &all(&options.allow) {
        let Some(allowed) = stations.get_mut(*station) else {
            return Err(AskedError::NoSuchStation {
                station: station.saturating_add(1),
                stations: count,
            });
        };
        let list = allowed.profiles.get_or_insert_default();
        list.extend(profiles);
    }
    Ok(SeriesPlan {
        setting: match placement {
            Placement::Stack if options.all_round => return Err(AskedError::StackAllRound),
            Placement::Stack => Setting::Stack,
            Placement::Ring => Setting::Ring {
                all_round: options.all_round,
            },
        },
        blend: options.blend.into(),
        no_equal_neighbours: options.no_equal_neighbours,
        stations,
        piece: None,
    })
}
