//! Zip archives: the package of a 3MF file, whole in memory, and the selection of
//! pieces that the page hands out at once, taken away while it grows.
//!
//! Entries have no time of their own, so the same files give the same bytes.

use std::cell::RefCell;
use std::io::{self, Cursor, Seek, Write};
use std::rc::Rc;
use zip::write::{SimpleFileOptions, StreamWriter};
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
        add(&mut self.zip, name, content)
    }

    /// The bytes of the finished archive.
    ///
    /// # Errors
    /// When it has grown beyond what the format holds.
    pub fn finish(self) -> io::Result<Vec<u8>> {
        Ok(self.zip.finish()?.into_inner())
    }
}

/// A zip archive of which nothing stays in memory but the list of its files:
/// lengths and checksums follow each file (a data descriptor, APPNOTE 4.3.9), so
/// that what is written need not be gone back to.
pub struct Stream {
    zip: ZipWriter<StreamWriter<Written>>,
    written: Written,
}

/// What is written and not yet taken away.
#[derive(Clone, Default)]
struct Written(Rc<RefCell<Vec<u8>>>);

impl Write for Written {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Default for Stream {
    fn default() -> Self {
        Self::new()
    }
}

impl Stream {
    /// An empty archive.
    pub fn new() -> Self {
        let written = Written::default();
        Self {
            zip: ZipWriter::new_stream(written.clone()),
            written,
        }
    }

    /// Adds the file `name` (folders by /), deflated.
    ///
    /// # Errors
    /// As [`Package::add`].
    pub fn add(&mut self, name: &str, content: &[u8]) -> io::Result<()> {
        add(&mut self.zip, name, content)
    }

    /// The bytes written since they were last taken.
    pub fn take(&mut self) -> Vec<u8> {
        self.written.0.take()
    }

    /// The last bytes of the finished archive.
    ///
    /// # Errors
    /// As [`Package::finish`].
    pub fn finish(self) -> io::Result<Vec<u8>> {
        self.zip.finish()?;
        Ok(self.written.0.take())
    }
}

fn add<W: Write + Seek>(zip: &mut ZipWriter<W>, name: &str, content: &[u8]) -> io::Result<()> {
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .compression_level(Some(EFFORT))
        .last_modified_time(DateTime::default());
    zip.start_file(name, options)?;
    zip.write_all(content)
}
