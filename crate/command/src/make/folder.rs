//! The folder of a run: its description, its pieces, what was left unfinished.

use super::Failure;
use super::description;
use super::manifest::Entry;
use super::plan::Plan;
use crate::file;
use sha2::{Digest, Sha256};
use std::fs::{self, File};
use std::io::{self, BufReader};
use std::path::{Path, PathBuf};

/// How often the description may be met half made by another share.
const TRIES: usize = 20;

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
        if root.exists() && !root.is_dir() {
            return Err(Failure::NotAFolder {
                path: root.to_owned(),
            });
        }
        fs::create_dir_all(root).map_err(|error| Failure::at(root, error))?;
        let mark = format!(
            "{}{}-of-{}-",
            file::UNFINISHED.0,
            plan.shard.index,
            plan.shard.count
        );
        describe(&root.join(description::NAME), plan, &mark)?;
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

    /// What unfinished files of this share are called.
    pub fn mark(&self) -> &str {
        &self.mark
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

/// Makes the description of `plan` at `path`, or meets it again.
fn describe(path: &Path, plan: &Plan, mark: &str) -> Result<(), Failure> {
    let failed = |error| Failure::at(path, error);
    for tried in 1.. {
        match fs::read_to_string(path) {
            Ok(text) if text == plan.description => return Ok(()),
            // What is made under it stays where it is in the grown run.
            Ok(text) if plan.grown_from.as_ref() == Some(&text) => {
                file::write_as(path, plan.description.as_bytes(), true, mark).map_err(failed)?;
                break;
            }
            Ok(text) => {
                return Err(Failure::OtherRun {
                    path: path.to_owned(),
                    differ: description::differences(&text, &plan.description),
                });
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => return Err(failed(error)),
        }
        match file::write_as(path, plan.description.as_bytes(), false, mark) {
            Ok(()) => break,
            // Another share was quicker, or another process of this share tidied
            // up: what is there then must be the same.
            Err(error) if tried < TRIES && is_overtaken(error.kind()) => {}
            Err(error) => return Err(failed(error)),
        }
    }
    file::sync_folder(&file::folder_of(path));
    Ok(())
}

fn is_overtaken(kind: io::ErrorKind) -> bool {
    matches!(kind, io::ErrorKind::AlreadyExists | io::ErrorKind::NotFound)
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
