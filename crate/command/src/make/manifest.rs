//! The manifest: one line a piece, in the order of the run, with the length and
//! the SHA-256 of each file of the piece, and a checksum of the line itself.
//!
//! A piece is whole exactly when its line is. Lines are only ever added, after
//! the files that they name; so a line cut short by a kill can only be the last,
//! and its checksum tells. The checksum is CRC-32 (ISO 3309) over the line up to
//! its last comma. From the first line on that is not whole, or names another
//! piece than the run has there (somebody sorted or cut the lines), pieces are
//! made again.

use super::Failure;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{BufRead, BufReader, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

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
    /// checksum; says how many whole lines it has, the line at each place (from 0)
    /// of the piece that `number` tells. What comes after them is cut off.
    ///
    /// # Errors
    /// [`Failure`]: what the system says, a manifest of another run, or another
    /// process at work on it.
    pub fn open(
        path: &Path,
        columns: &[String],
        number: impl Fn(u64) -> Option<String>,
    ) -> Result<(Self, u64), Failure> {
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
        let lines = manifest.recover(number)?;
        Ok((manifest, lines))
    }

    /// Finds the end of the whole lines, cuts off the rest and stands there.
    fn recover(&mut self, number: impl Fn(u64) -> Option<String>) -> Result<u64, Failure> {
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
            } else if is_line_of(text, number(lines)) {
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
        self.file.set_len(whole).map_err(failed)?;
        self.file.seek(SeekFrom::Start(whole)).map_err(failed)?;
        if !has_header {
            let text = format!("{}\n", self.header);
            self.file.write_all(text.as_bytes()).map_err(failed)?;
        }
        Ok(lines)
    }

    /// Adds `lines` (without checksums) and makes them durable.
    ///
    /// # Errors
    /// What the system says; then what is not whole is cut off again, if the
    /// system lets us, or else by whoever opens the manifest next.
    pub fn add<'a>(&mut self, lines: impl Iterator<Item = &'a str>) -> Result<(), Failure> {
        let mut text = String::new();
        for line in lines {
            text.push_str(&sealed(line));
            text.push('\n');
        }
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

/// The lines of a manifest, without header and checksums; a line that is not
/// whole is empty.
///
/// # Errors
/// What the system says.
pub fn lines(path: &Path) -> Result<impl Iterator<Item = Result<String, Failure>>, Failure> {
    let path = path.to_owned();
    let file = File::open(&path).map_err(|error| Failure::at(&path, error))?;
    let lines = BufReader::new(file).lines().skip(1);
    Ok(lines.map(move |line| {
        let line = line.map_err(|error| Failure::at(&path, error))?;
        let text = checked(line.as_bytes()).and_then(|text| std::str::from_utf8(text).ok());
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
    let first = checked(line).and_then(|text| text.split(|&byte| byte == b',').next());
    number.is_some() && first == number.as_ref().map(String::as_bytes)
}

fn sealed(line: &str) -> String {
    format!("{line},{:08x}", crc32fast::hash(line.as_bytes()))
}

/// The line before its checksum, when that is right.
fn checked(line: &[u8]) -> Option<&[u8]> {
    let comma = line.iter().rposition(|&byte| byte == b',')?;
    let (text, sum) = (&line[..comma], &line[comma + 1..]);
    let right = format!("{:08x}", crc32fast::hash(text));
    (right.as_bytes() == sum).then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn columns() -> Vec<String> {
        ["piece", "stl_file", "stl_bytes", "stl_sha256"]
            .map(str::to_owned)
            .to_vec()
    }

    /// A run of five pieces, from 1.
    fn number(place: u64) -> Option<String> {
        (place < 5).then(|| (place + 1).to_string())
    }

    #[test]
    fn wherever_it_is_cut_only_whole_lines_are_kept() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("manifest.csv");
        let (mut manifest, found) = Manifest::open(&path, &columns(), number).unwrap();
        assert_eq!(found, 0);
        let added = ["1,a.stl,5,aa", "2,b.stl,6,bb"].map(str::to_owned);
        manifest.add(added.iter().map(String::as_str)).unwrap();
        drop(manifest);
        let whole = fs::read(&path).unwrap();
        let ends: Vec<usize> = (0..whole.len()).filter(|&at| whole[at] == b'\n').collect();
        for cut in 0..=whole.len() {
            fs::write(&path, &whole[..cut]).unwrap();
            let (mut manifest, found) = Manifest::open(&path, &columns(), number).unwrap();
            let left = ends.iter().filter(|&&end| end < cut).count();
            assert_eq!(found as usize, left.saturating_sub(1), "cut at {cut}");
            let left = added[found as usize..].iter().map(String::as_str);
            manifest.add(left).unwrap();
            drop(manifest);
            assert_eq!(fs::read(&path).unwrap(), whole, "cut at {cut}");
        }
        let kept: Vec<String> = lines(&path).unwrap().map(|line| line.unwrap()).collect();
        assert_eq!(kept, added);
        assert_eq!(entries(&kept[1], 1)[0].name, "b.stl");
    }

    #[test]
    fn lines_that_were_moved_are_not_kept() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("manifest.csv");
        let found = |places: &[usize]| {
            let lines = places.iter().map(|piece| sealed(&format!("{piece},,,")));
            let header = format!("{},line_crc32\n", columns().join(","));
            let text = lines.fold(header, |text, line| text + &line + "\n");
            fs::write(&path, text).unwrap();
            Manifest::open(&path, &columns(), number).unwrap().1
        };
        assert_eq!(found(&[1, 2, 3, 4, 5]), 5);
        assert_eq!(found(&[1, 2, 4, 5]), 2, "one is cut out");
        assert_eq!(found(&[5, 4, 3, 2, 1]), 0, "sorted another way");
        assert_eq!(found(&[1, 2, 3, 4, 5, 4, 5]), 5, "some twice");
        assert_eq!(found(&[1, 2, 3, 4, 5, 6]), 5, "one too many");
    }

    #[test]
    fn a_manifest_that_was_removed_is_missed() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("manifest.csv");
        let (mut manifest, _) = Manifest::open(&path, &columns(), number).unwrap();
        fs::remove_file(&path).unwrap();
        let missed = manifest.add(["1,,,"].into_iter()).unwrap_err();
        assert!(matches!(missed, Failure::Gone { .. }), "{missed}");
    }

    #[test]
    fn what_is_not_ours_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("manifest.csv");
        for foreign in ["something else", "a,b\n1,2\n"] {
            fs::write(&path, foreign).unwrap();
            let refused = Manifest::open(&path, &columns(), number).err().unwrap();
            assert!(
                matches!(refused, Failure::OtherManifest { .. }),
                "{refused}"
            );
            assert_eq!(fs::read_to_string(&path).unwrap(), foreign);
        }
    }

    #[test]
    fn two_cannot_work_on_one() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("manifest.csv");
        let _held = Manifest::open(&path, &columns(), number).unwrap();
        let refused = Manifest::open(&path, &columns(), number).err().unwrap();
        assert!(matches!(refused, Failure::Busy { .. }), "{refused}");
    }
}
