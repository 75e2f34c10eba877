//! The part of a report that tells of a run of pieces: read from its manifests a
//! line at a time, so that it takes no more memory for many pieces than for few.

mod checks;
mod chosen;
mod columns;
mod inputs;
mod materials;

use super::paragraph;
use crate::make::checks::{Checks, Kept};
use crate::make::description::{self, Description};
use crate::make::{Failure, manifest};
use columns::{Column, Extreme};
use loftkin_exchange::{share, words};
use loftkin_form::blend::{Layout, LayoutError};
use loftkin_form::piece::{Piece, judged_curves};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::table::Table;
use num_bigint::BigUint;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Why a folder cannot be told of.
#[derive(Debug, Error)]
pub enum RunError {
    #[error("{0}")]
    System(#[from] Failure),
    #[error("{path} describes no run: name the folder that `loftkin make` wrote into")]
    NoRun { path: String },
    #[error(
        "the pieces in {path} were made of another family, or with other settings: give the family of the run, with the same options"
    )]
    OtherFamily { path: String },
    #[error("{0}")]
    Layout(#[from] LayoutError),
    #[error("{path} has no piece {piece}: it is not made yet, or not part of the run")]
    NoPiece { path: String, piece: String },
}

/// A run in a folder, of the family of a report.
pub struct Run<'a> {
    folder: &'a Path,
    description: Description,
    /// How its profiles stand.
    layout: Layout,
    /// One a profile: see [`judged_curves`].
    curves: Vec<&'a Curve>,
}

/// What the manifests say.
#[derive(Default)]
struct Told {
    columns: Vec<Column>,
    kept: Vec<Kept>,
    first: Option<Extreme>,
    pieces: u64,
    files: u64,
    bytes: u64,
    /// Pieces without all of their files.
    short: u64,
}

impl<'a> Run<'a> {
    /// Reads the description in `folder`, whose pieces are of the family of `table`.
    ///
    /// # Errors
    /// [`RunError`].
    pub fn open(folder: &'a Path, table: &'a Table) -> Result<Self, RunError> {
        let path = folder.join(description::NAME);
        let shown = || words::shown(&folder.display().to_string());
        let text = fs::read_to_string(&path).map_err(|error| Failure::at(&path, error))?;
        let Some(description) = Description::read(&text) else {
            return Err(RunError::NoRun { path: shown() });
        };
        if description.family != share::encode(table.family()) {
            return Err(RunError::OtherFamily { path: shown() });
        }
        Ok(Self {
            layout: description.layout()?,
            curves: judged_curves(table),
            description,
            folder,
        })
    }

    /// Piece `number`, formed anew from its profiles in the manifests.
    ///
    /// # Errors
    /// [`RunError`]: it is not there.
    pub fn piece(&self, number: &BigUint) -> Result<Piece, RunError> {
        let number = number.to_string();
        for path in manifests(self.folder)? {
            for line in manifest::lines(&path)? {
                let line = line?;
                let mut values = line.split(',');
                if values.next() != Some(&number) {
                    continue;
                }
                let profiles = values.next().unwrap_or_default();
                if let Some(piece) = chosen::formed(profiles, &self.curves, &self.layout) {
                    return Ok(piece);
                }
            }
        }
        Err(RunError::NoPiece {
            path: words::shown(&self.folder.display().to_string()),
            piece: number,
        })
    }

    /// Adds what is to be told to `text`.
    ///
    /// # Errors
    /// What the system says.
    pub fn part(&self, text: &mut String) -> Result<(), RunError> {
        let limits = self.description.checks.as_ref();
        let checks = limits.map(Checks::from).unwrap_or_default();
        let told = self.told(&checks)?;
        text.push_str("<h2>The run of pieces</h2>\n");
        paragraph(text, "", &self.stations());
        if told.pieces == 0 {
            paragraph(text, "", "No piece is made yet.");
            return Ok(());
        }
        let files = match told.files {
            0 => "measured, without files".to_owned(),
            files => format!(
                "in {} of {:.1} MB",
                words::counted(files as usize, "file", "files"),
                told.bytes as f64 / 1e6
            ),
        };
        let mut sentence = format!(
            "The series has {} pieces; {} of them are whole here, {files}.",
            self.description.series, told.pieces
        );
        if 0 < told.short {
            let _ = write!(
                sentence,
                " {} lack a file that could not be made as asked.",
                told.short
            );
        }
        paragraph(text, "", &sentence);
        let parts = (&self.curves[..], &self.layout);
        chosen::part(text, told.first.as_ref(), &told.columns, &checks, parts);
        text.push_str("<h3>Measures</h3>\n");
        columns::table(text, told.columns.iter());
        checks::part(text, &checks, &told.kept);
        inputs::part(text, &self.description, &self.layout, &checks);
        materials::part(text);
        paragraph(text, "facts", loftkin_form::making::DESIGN_ESTIMATE);
        Ok(())
    }

    fn told(&self, checks: &Checks) -> Result<Told, RunError> {
        let mut told = Told::default();
        let names = checks.column_names();
        for path in &manifests(self.folder)? {
            let header = manifest::column_names(path)?;
            if told.columns.is_empty() {
                told.columns = header.iter().filter_map(|name| Column::new(name)).collect();
            }
            let places: Vec<Option<usize>> = told
                .columns
                .iter()
                .map(|column| header.iter().position(|name| *name == column.name))
                .collect();
            let first_check = names
                .first()
                .and_then(|name| header.iter().position(|other| other == name));
            for line in manifest::lines(path)? {
                let line = line?;
                if line.is_empty() {
                    // Cut short by a kill: not whole, so not told.
                    continue;
                }
                let values: Vec<&str> = line.split(',').collect();
                told.add(&values, &places);
                let own = first_check.and_then(|first| values.get(first..first + names.len()));
                if let Some(own) = own {
                    checks.count(values[0], own, &mut told.kept);
                }
                told.add_files(&header, &values);
            }
        }
        Ok(told)
    }

    /// Where the profiles stand, in words.
    fn stations(&self) -> String {
        let stations = self.layout.stations();
        let unit = if stations.is_ring() { "degrees" } else { "mm" };
        let places: Vec<String> = stations
            .all()
            .iter()
            .map(|station| station.at.to_string())
            .collect();
        let kind = match (stations.is_ring(), stations.is_all_round()) {
            (true, true) => "a ring, closed all round",
            (true, false) => "a ring",
            (false, _) => "a stack",
        };
        format!(
            "Stations of {kind} at {} {unit}; blend {}.",
            places.join(", "),
            self.description.blend
        )
    }
}

impl Told {
    fn add(&mut self, values: &[&str], places: &[Option<usize>]) {
        self.pieces += 1;
        let profiles = values.get(1).copied().unwrap_or_default();
        self.first.get_or_insert_with(|| Extreme {
            value: 0.0,
            piece: values[0].to_owned(),
            profiles: profiles.to_owned(),
        });
        for (column, place) in self.columns.iter_mut().zip(places) {
            let value = place.and_then(|place| values.get(place));
            column.add(value.unwrap_or(&""), values[0], profiles);
        }
    }

    fn add_files(&mut self, header: &[String], values: &[&str]) {
        let mut is_short = false;
        for (name, value) in header.iter().zip(values) {
            if !name.ends_with("_bytes") {
                continue;
            }
            match value.parse::<u64>() {
                Ok(bytes) => {
                    self.files += 1;
                    self.bytes += bytes;
                }
                Err(_) => is_short = true,
            }
        }
        self.short += u64::from(is_short);
    }
}

/// All manifests in `folder`, by name.
fn manifests(folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let failed = |error| Failure::at(folder, error);
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).map_err(failed)? {
        let path = entry.map_err(failed)?.path();
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        if name.starts_with("manifest") && name.ends_with(".csv") {
            found.push(path);
        }
    }
    found.sort();
    Ok(found)
}
