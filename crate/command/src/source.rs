//! Getting a family from a file, a pipe or a link.

use loftkin_exchange::any::{self, ImportError};
use loftkin_exchange::import::Import;
use loftkin_exchange::point_list::Reading;
use loftkin_exchange::share;
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
    #[error("{0}")]
    Import(#[from] ImportError),
}

/// Reads `source`: - is standard input, an existing file is read, and what is
/// no file but looks like a share link is followed.
pub fn read(source: &str, reading: Reading) -> Result<Import, SourceError> {
    if source == "-" {
        let bytes = bounded(io::stdin().lock())?;
        return Ok(any::read("", &bytes, reading)?);
    }
    if !Path::new(source).exists() && share::is_code(source) {
        return Ok(any::read("", source.as_bytes(), reading)?);
    }
    let bytes = bounded(File::open(source)?)?;
    Ok(any::read(source, &bytes, reading)?)
}

/// All bytes, up to one more than may be read, so that the reader can refuse.
fn bounded(from: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    from.take(MOST_BYTES).read_to_end(&mut bytes)?;
    Ok(bytes)
}
