//! Getting a family from a file, a pipe or a link.

use loftkin_exchange::any::{self, ImportError};
use loftkin_exchange::import::{Import, Note};
use loftkin_exchange::point_list::Reading;
use loftkin_exchange::series::SeriesPlan;
use loftkin_exchange::share::{self, SeriesCodeError};
use loftkin_exchange::words::{capital, shown};
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;
use thiserror::Error;

/// No kind of file is read beyond this many bytes.
const MOST_BYTES: u64 = 33 << 20;

/// Why a source gives no family.
#[derive(Debug, Error)]
pub enum SourceError {
    /// The file cannot be opened or read.
    #[error("cannot be read: {0}")]
    File(#[from] io::Error),
    /// The content is none that can be read.
    #[error("{0}{way}", way = ways(.0))]
    Import(#[from] ImportError),
}

/// Which option chooses, where a choice is all that is missing.
fn ways(error: &ImportError) -> &'static str {
    match error.mixed() {
        Some(_) => ", by --take open or --take closed",
        None => "",
    }
}

/// The series of a link, or why it cannot be read.
pub type LinkedSeries = Option<Result<SeriesPlan, SeriesCodeError>>;

/// Reads `source`: - is standard input, an existing file is read, and what is
/// no file but looks like a share link is followed. A series in the link that
/// cannot be read is noted.
pub fn read(source: &str, reading: Reading) -> Result<Import, SourceError> {
    let (mut import, series) = read_with_series(source, reading)?;
    if let Some(Err(error)) = series {
        import
            .notes
            .push(Note::general(capital(&format!("{error}."))));
    }
    Ok(import)
}

/// What `source` is called in a sentence: a link, of hundreds of characters, is
/// not repeated.
pub fn name(source: &str) -> String {
    match is_link(source) {
        true => "the link".to_owned(),
        false => shown(source),
    }
}

/// No file, but what looks like a share link.
fn is_link(source: &str) -> bool {
    source != "-" && !Path::new(source).exists() && share::is_code(source)
}

/// The same, with the series that a link holds after the family.
pub fn read_with_series(
    source: &str,
    reading: Reading,
) -> Result<(Import, LinkedSeries), SourceError> {
    let (name, bytes) = match source {
        "-" => ("", bounded(io::stdin().lock(), MOST_BYTES)?),
        _ if is_link(source) => ("", source.as_bytes().to_vec()),
        _ => (source, bounded(File::open(source)?, MOST_BYTES)?),
    };
    let import = any::read(name, &bytes, reading)?;
    Ok((import, linked_series(&bytes)))
}

/// The series of a text that may be a link.
fn linked_series(bytes: &[u8]) -> LinkedSeries {
    let text = std::str::from_utf8(bytes).ok()?.trim();
    let is_one_word = !text.contains(char::is_whitespace);
    let shared = is_one_word.then(|| share::decode_all(text).ok()).flatten();
    shared?.series
}

/// All bytes, up to `most`: more than may be read, so that the reader can refuse.
pub fn bounded(from: impl Read, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    from.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}
