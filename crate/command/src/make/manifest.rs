//! The manifest: one line a piece, in the order of the run, with the length and
//! the SHA-256 of each file of the piece, and a checksum of the line itself.
//!
//! A piece is whole exactly when its line is. Lines are only ever added, after
//! the files that they name; so a line cut short by a kill can only be the last,
//! and its checksum tells. The checksum is CRC-32 (ISO 3309) over the line up to
//! its last comma. Where lines were damaged, moved or taken out since, the others
//! are kept ([`super::recovered`]) and the manifest is written anew beside the old
//! one, which stays until the new one is whole.

use super::Failure;
use super::recovered::{Found, Order};
use super::sealed::{checked, number_of, sealed};
use crate::file;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{BufRead, BufReader, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile};

/// The manifest of one share of a run, open and locked.
pub struct Manifest {
    path: PathBuf,
    file: File,
    header: String,
}

/// One file of a piece, as the manifest names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Below the folder of the run, with forward slashes; empty when the piece
    /// has no such file.
    pub name: String,
    /// In bytes.
    pub length: u64,
    /// SHA-256, in hexadecimal.
    pub sum: String,
}

impl Manifest {
    /// Opens the manifest at `path` or begins one, with `columns` before the
    /// checksum; says which whole lines of the run it has. A line cut short at its
    /// end is cut off.
    ///
    /// # Errors
    /// [`Failure`]: what the system says, a manifest of another run, or another
    /// process at work on it.
    pub fn open(
        path: &Path,
        columns: &[String],
        order: &impl Order,
    ) -> Result<(Self, Found), Failure> {
        let failed = |error| Failure::at(path, error);
        let mut options = OpenOptions::new();
        options.read(true).write(true).create(true).truncate(false);
        let file = options.open(path).map_err(failed)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                return Err(Failure::Busy {
                    path: path.to_owned(),
                });
            }
            // A file system without locks: then care is the person's.
            Err(TryLockError::Error(_)) => {}
        }
        let mut manifest = Self {
            path: path.to_owned(),
            file,
            header: format!("{},line_crc32", columns.join(",")),
        };
        let found = manifest.recover(order)?;
        Ok((manifest, found))
    }

    /// Finds the whole lines. Where they follow one another, what comes after them
    /// is cut off, and the next line goes there.
    fn recover(&mut self, order: &impl Order) -> Result<Found, Failure> {
        let path = self.path.clone();
        let failed = |error| Failure::at(&path, error);
        let mut reader = BufReader::new(&self.file);
        let mut line = Vec::new();
        let (mut whole, mut lines, mut has_header) = (0_u64, 0, false);
        loop {
            line.clear();
            let read = reader.read_until(b'\n', &mut line).map_err(failed)?;
            let Some(text) = line.strip_suffix(b"\n") else {
                break;
            };
            if !has_header {
                if text != self.header.as_bytes() {
                    return Err(Failure::OtherManifest { path });
                }
                has_header = true;
            } else if is_line_of(text, order.number_at(lines)) {
                lines += 1;
            } else {
                break;
            }
            whole += read as u64;
        }
        // What stands behind a header that is not ours is not ours to cut off.
        if !has_header && !self.header.as_bytes().starts_with(&line) {
            return Err(Failure::OtherManifest { path });
        }
        drop(reader);
        let length = self.file.metadata().map_err(failed)?.len();
        if whole < length {
            let found = Found::anywhere(&self.file, order).map_err(failed)?;
            if lines < found.count {
                return Ok(found);
            }
        }
        self.file.set_len(whole).map_err(failed)?;
        self.file.seek(SeekFrom::Start(whole)).map_err(failed)?;
        if !has_header {
            let text = format!("{}\n", self.header);
            self.file.write_all(text.as_bytes()).map_err(failed)?;
        }
        Ok(Found::in_order(lines))
    }

    /// Adds `lines` (without checksums) and makes them durable.
    ///
    /// # Errors
    /// What the system says; then what is not whole is cut off again, if the
    /// system lets us, or else by whoever opens the manifest next.
    pub fn add<'a>(&mut self, lines: impl Iterator<Item = &'a str>) -> Result<(), Failure> {
        let text = sealed_all(lines);
        let failed = |error| Failure::at(&self.path, error);
        let before = self.file.stream_position().map_err(failed)?;
        let mut written = self.file.write_all(text.as_bytes());
        if written.is_ok() {
            written = self.file.sync_data();
        }
        if written.is_err() {
            let _ = self.file.set_len(before);
        }
        written.map_err(failed)?;
        // A folder that was removed keeps taking what is written into open files.
        let whole = before + text.len() as u64;
        match fs::metadata(&self.path) {
            Ok(there) if there.len() == whole => Ok(()),
            _ => Err(Failure::Gone {
                path: self.path.clone(),
            }),
        }
    }
}

/// A manifest that is written anew, under another name until it is whole.
pub struct Anew {
    file: NamedTempFile,
}

impl Anew {
    /// Begins one beside `manifest`, under a name that begins with `mark`.
    ///
    /// # Errors
    /// What the system says.
    pub fn begin(manifest: &Manifest, mark: &str) -> Result<Self, Failure> {
        let failed = |error| Failure::at(&manifest.path, error);
        let mut builder = Builder::new();
        builder.prefix(mark).suffix(file::UNFINISHED.1);
        if let Ok(there) = manifest.file.metadata() {
            builder.permissions(there.permissions());
        }
        let folder = file::folder_of(&manifest.path);
        let mut file = builder.tempfile_in(folder).map_err(failed)?;
        let header = format!("{}\n", manifest.header);
        file.write_all(header.as_bytes()).map_err(failed)?;
        Ok(Self { file })
    }

    /// Adds `lines` (without checksums).
    ///
    /// # Errors
    /// What the system says.
    pub fn add<'a>(&mut self, lines: impl Iterator<Item = &'a str>) -> Result<(), Failure> {
        let text = sealed_all(lines);
        let path = self.file.path().to_owned();
        let written = self.file.write_all(text.as_bytes());
        written.map_err(|error| Failure::at(&path, error))
    }

    /// Puts it in place of `manifest`.
    ///
    /// # Errors
    /// What the system says.
    pub fn end(self, manifest: &mut Manifest) -> Result<(), Failure> {
        let path = manifest.path.clone();
        let failed = |error| Failure::at(&path, error);
        let file = self.file;
        file.as_file().sync_all().map_err(failed)?;
        // Locked before it has the name; a system without locks has none to give.
        let _ = file.as_file().try_lock();
        manifest.file = file.persist(&path).map_err(|error| failed(error.error))?;
        file::sync_folder(&file::folder_of(&path));
        Ok(())
    }
}

/// The lines of a manifest, without header and checksums; a line that is not
/// whole is empty.
///
/// # Errors
/// What the system says.
pub fn lines(path: &Path) -> Result<impl Iterator<Item = Result<String, Failure>>, Failure> {
    let path = path.to_owned();
    let file = File::open(&path).map_err(|error| Failure::at(&path, error))?;
    let lines = BufReader::new(file).split(b'\n').skip(1);
    Ok(lines.map(move |line| {
        let line = line.map_err(|error| Failure::at(&path, error))?;
        let text = checked(&line).and_then(|text| std::str::from_utf8(text).ok());
        Ok(text.unwrap_or_default().to_owned())
    }))
}

/// The columns of the manifest at `path`, without the checksum's.
///
/// # Errors
/// What the system says.
pub fn column_names(path: &Path) -> Result<Vec<String>, Failure> {
    let failed = |error| Failure::at(path, error);
    let mut header = String::new();
    let file = File::open(path).map_err(failed)?;
    BufReader::new(file)
        .read_line(&mut header)
        .map_err(failed)?;
    let names = header.trim_end().split(',').map(str::to_owned);
    Ok(names.filter(|name| name != "line_crc32").collect())
}

/// The last `count` groups of three columns of a line, as entries.
pub fn entries(line: &str, count: usize) -> Vec<Entry> {
    let columns: Vec<&str> = line.split(',').collect();
    let first = columns.len().saturating_sub(3 * count);
    columns[first..]
        .chunks_exact(3)
        .map(|column| Entry {
            name: column[0].to_owned(),
            length: column[1].parse().unwrap_or(0),
            sum: column[2].to_owned(),
        })
        .collect()
}

/// Whether `line` is whole and of piece `number`.
fn is_line_of(line: &[u8], number: Option<String>) -> bool {
    number.is_some() && checked(line).and_then(number_of) == number.as_deref()
}

fn sealed_all<'a>(lines: impl Iterator<Item = &'a str>) -> String {
    lines.fold(String::new(), |text, line| text + &sealed(line) + "\n")
}

#[cfg(test)]
mod tests;
