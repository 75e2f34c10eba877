//! What a manifest is found to have when a run goes on: whole lines of this run, in
//! order or not, and where each of them stands.
//!
//! A line that is damaged, moved, doubled or gone costs its own piece alone: every
//! other line is found by its number, wherever it is.

use super::Failure;
use super::sealed::{checked, number_of};
use std::fs::File;
use std::io::{self, BufRead, BufReader, Seek, SeekFrom};
use std::path::Path;

/// How the lines of a run are ordered.
pub trait Order {
    /// The number of the piece at a place, from 0; none beyond the last.
    fn number_at(&self, place: u64) -> Option<String>;
    /// The place of a piece; none of one that is not of the run.
    fn place_of(&self, number: &str) -> Option<u64>;
}

/// The whole lines of a manifest, by their places.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Found {
    /// How many places they reach over, from the first.
    pub count: u64,
    /// Where the line of each place begins, where they do not simply follow one
    /// another; none where a place has no whole line.
    places: Option<Vec<Option<u64>>>,
}

impl Found {
    /// Lines that follow one another from the first place.
    pub fn in_order(count: u64) -> Self {
        let places = None;
        Self { count, places }
    }

    /// The lines behind the header of `file`, wherever they are; the first one of
    /// each place.
    ///
    /// # Errors
    /// What the system says.
    pub fn anywhere(file: &File, order: &impl Order) -> io::Result<Self> {
        let mut reader = BufReader::new(file);
        reader.seek(SeekFrom::Start(0))?;
        let mut line = Vec::new();
        let mut at = reader.read_until(b'\n', &mut line)? as u64;
        let mut places: Vec<Option<u64>> = Vec::new();
        loop {
            line.clear();
            let read = reader.read_until(b'\n', &mut line)? as u64;
            let Some(text) = line.strip_suffix(b"\n") else {
                break;
            };
            let number = checked(text).and_then(number_of);
            if let Some(place) = number.and_then(|number| order.place_of(number)) {
                let index = place as usize;
                if places.len() <= index {
                    places.resize(index + 1, None);
                }
                places[index].get_or_insert(at);
            }
            at += read;
        }
        Ok(Self {
            count: places.len() as u64,
            places: Some(places),
        })
    }

    /// Whether the manifest is to be written anew.
    pub fn is_disturbed(&self) -> bool {
        self.places.is_some()
    }

    /// The lines of the manifest at `path`, place by place, without checksums.
    ///
    /// # Errors
    /// What the system says.
    pub fn lines(&self, path: &Path) -> Result<Lines<'_>, Failure> {
        let failed = |error| Failure::at(path, error);
        let mut reader = BufReader::new(File::open(path).map_err(failed)?);
        let at = reader.skip_until(b'\n').map_err(failed)? as u64;
        Ok(Lines {
            found: self,
            reader,
            at,
            place: 0,
        })
    }
}

/// Reads the lines of [`Found`], one place after the other.
pub struct Lines<'a> {
    found: &'a Found,
    reader: BufReader<File>,
    /// Where the reader stands.
    at: u64,
    place: u64,
}

impl Lines<'_> {
    /// The line of the next place; none where there is no whole one.
    ///
    /// # Errors
    /// What the system says.
    pub fn next_line(&mut self) -> io::Result<Option<String>> {
        let place = self.place as usize;
        self.place += 1;
        if let Some(places) = &self.found.places {
            let Some(at) = places.get(place).copied().flatten() else {
                return Ok(None);
            };
            if at != self.at {
                self.at = self.reader.seek(SeekFrom::Start(at))?;
            }
        }
        let mut line = Vec::new();
        self.at += self.reader.read_until(b'\n', &mut line)? as u64;
        let text = line.strip_suffix(b"\n").and_then(checked);
        Ok(text.map(|text| String::from_utf8_lossy(text).into_owned()))
    }
}
