//! Zip archives: the package of a 3MF file, and the selection of files that the
//! page hands out at once.
//!
//! Entries have no time of their own, so the same files give the same bytes.

use std::io::{self, Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// How hard deflate tries, 0 to 9: a mesh as text shrinks to a fifth at 3, to a sixth at the usual 6 in twice the time.
const EFFORT: i64 = 3;

/// A zip archive in memory, filled file by file.
pub struct Package {
    zip: ZipWriter<Cursor<Vec<u8>>>,
}

impl Default for Package {
    fn default() -> Self {
        Self::new()
    }
}

impl Package {
    /// An empty archive.
    pub fn new() -> Self {
        Self {
            zip: ZipWriter::new(Cursor::new(Vec::new())),
        }
    }

    /// Adds the file `name` (folders by /), deflated.
    ///
    /// # Errors
    /// When a file of this name is already in the archive, or it grows beyond
    /// what the format holds.
    pub fn add(&mut self, name: &str, content: &[u8]) -> io::Result<()> {
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Deflated)
            .compression_level(Some(EFFORT))
            .last_modified_time(DateTime::default());
        self.zip.start_file(name, options)?;
        self.zip.write_all(content)
    }

    /// The bytes of the finished archive.
    ///
    /// # Errors
    /// When it has grown beyond what the format holds.
    pub fn finish(self) -> io::Result<Vec<u8>> {
        Ok(self.zip.finish()?.into_inner())
    }
}
