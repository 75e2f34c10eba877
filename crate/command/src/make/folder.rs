//! The folder of a run: its description, its pieces, what was left unfinished.

use super::Failure;
use super::manifest::Entry;
use super::plan::Plan;
use crate::file;
use sha2::{Digest, Sha256};
use std::fs::{self, File};
use std::io::{self, BufReader};
use std::path::{Path, PathBuf};

/// The name of the description.
const DESCRIPTION: &str = "run.json";

/// The folder of a run, made or met.
pub struct Folder {
    root: PathBuf,
    /// What unfinished files of this share are called; other shares may be at
    /// work in the same folder.
    mark: String,
}

impl Folder {
    /// Makes the folder of `plan` at `root`, or meets it again.
    ///
    /// # Errors
    /// [`Failure`]: what the system says, or a folder with another run.
    pub fn open(root: &Path, plan: &Plan) -> Result<Self, Failure> {
        fs::create_dir_all(root).map_err(|error| Failure::at(root, error))?;
        let mark = format!(
            "{}{}-of-{}-",
            file::UNFINISHED.0,
            plan.shard.index,
            plan.shard.count
        );
        let path = root.join(DESCRIPTION);
        let failed = |error| Failure::at(&path, error);
        let there = match fs::read_to_string(&path) {
            Ok(text) => Some(text),
            Err(error) if error.kind() == io::ErrorKind::NotFound => None,
            Err(error) => return Err(failed(error)),
        };
        match there {
            Some(text) if text == plan.description => {}
            Some(_) => return Err(Failure::OtherRun { path }),
            None => {
                let text = plan.description.as_bytes();
                match file::write_as(&path, text, false, &mark) {
                    // Another share was quicker: it must have come with the same.
                    Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
                        return Self::open(root, plan);
                    }
                    written => written.map_err(failed)?,
                }
                file::sync_folder(root);
            }
        }
        for folder in plan.folders() {
            let folder = root.join(folder);
            fs::create_dir_all(&folder).map_err(|error| Failure::at(&folder, error))?;
        }
        Ok(Self {
            root: root.to_owned(),
            mark,
        })
    }

    /// Removes files that a kill left unfinished, here and in the folders of
    /// `plan`.
    ///
    /// # Errors
    /// What the system says.
    pub fn tidy(&self, plan: &Plan) -> Result<(), Failure> {
        let inner = plan.folders();
        let inner = inner.into_iter().map(|folder| self.root.join(folder));
        for folder in inner.chain([self.root.clone()]) {
            let failed = |error| Failure::at(&folder, error);
            for entry in fs::read_dir(&folder).map_err(failed)? {
                let entry = entry.map_err(failed)?;
                let name = entry.file_name();
                let name = name.to_string_lossy();
                if name.starts_with(&self.mark) && name.ends_with(file::UNFINISHED.1) {
                    let path = entry.path();
                    fs::remove_file(&path).map_err(|error| Failure::at(&path, error))?;
                }
            }
        }
        Ok(())
    }

    /// Writes `bytes` as the file `name`, whole or not at all.
    ///
    /// # Errors
    /// What the system says.
    pub fn write(&self, name: String, bytes: &[u8]) -> Result<Entry, Failure> {
        let path = self.root.join(&name);
        file::write_as(&path, bytes, true, &self.mark)
            .map_err(|error| Failure::at(&path, error))?;
        Ok(Entry {
            name,
            length: bytes.len() as u64,
            sum: hexadecimal(&Sha256::digest(bytes)),
        })
    }

    /// Whether the file of `entry` is there and is what it was.
    pub fn holds(&self, entry: &Entry) -> bool {
        entry.name.is_empty()
            || sum_of(&self.root.join(&entry.name))
                .is_ok_and(|(length, sum)| length == entry.length && sum == entry.sum)
    }

    /// Makes the names of all files durable.
    pub fn sync(&self, plan: &Plan) {
        for folder in plan.folders() {
            file::sync_folder(&self.root.join(folder));
        }
        file::sync_folder(&self.root);
    }

    /// The path of `name` in this folder.
    pub fn path(&self, name: &str) -> PathBuf {
        self.root.join(name)
    }
}

fn sum_of(path: &Path) -> io::Result<(u64, String)> {
    let mut hash = Sha256::new();
    let length = io::copy(
        &mut BufReader::new(File::open(path)?),
        &mut HashWriter(&mut hash),
    )?;
    Ok((length, hexadecimal(&hash.finalize())))
}

/// Takes bytes into a hash.
struct HashWriter<'a>(&'a mut Sha256);

impl io::Write for HashWriter<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.update(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
