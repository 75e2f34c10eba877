//! Files of a piece for the shop.

use super::session::{SeriesFailure, SeriesSession};
use loftkin_exchange::shop::files::{self, FileError, Format};
use loftkin_exchange::shop::{Label, Standing};
use loftkin_form::piece::Piece;
use num_bigint::BigUint;
use thiserror::Error;

/// The formats by the words that the page has for them.
const FORMATS: [(&str, Format); 7] = [
    ("step", Format::Step),
    ("3mf", Format::ThreeMf),
    ("stl", Format::Stl),
    ("gltf", Format::Gltf),
    ("profiles", Format::Profiles),
    ("trim", Format::Trim),
    ("flat", Format::Flat),
];

/// Why there is no file.
#[derive(Debug, Error)]
pub enum FileFailure {
    /// No such piece.
    #[error(transparent)]
    Series(#[from] SeriesFailure),
    /// No such file of it.
    #[error(transparent)]
    File(#[from] FileError),
    /// A word that names no format.
    #[error("files are step, 3mf, stl, gltf, profiles, trim and flat, not “{0}”")]
    Format(String),
    /// No format at all.
    #[error("no format is chosen: choose one or more")]
    NoFormat,
    /// More than a zip archive can hold.
    #[error("the zip has grown beyond what one can hold: choose fewer pieces ({0})")]
    Package(#[from] std::io::Error),
}

/// The format that `word` names.
pub(super) fn format(word: &str) -> Result<Format, FileFailure> {
    let known = FORMATS.iter().find(|(name, _)| *name == word);
    let unknown = || FileFailure::Format(word.to_owned());
    known.map(|&(_, format)| format).ok_or_else(unknown)
}

/// The word that the page has for `format`.
pub(super) fn word(format: Format) -> &'static str {
    let known = FORMATS.iter().find(|(_, one)| *one == format);
    known.map_or("", |&(word, _)| word)
}

impl SeriesSession {
    /// The bytes of piece `number` in the format of `word`, meshes within
    /// `tolerance` mm.
    ///
    /// # Errors
    /// [`FileFailure`].
    pub fn file(&self, number: &str, word: &str, tolerance: f64) -> Result<Vec<u8>, FileFailure> {
        let format = format(word)?;
        let number = self.number_in(number)?;
        let piece = self.form(&number)?;
        let written = self.written(&piece, &number, &[format], tolerance);
        let written: Vec<_> = written.into_iter().collect::<Result<_, _>>()?;
        // One file for one format.
        Ok(written.concat())
    }

    /// The files of `piece` in the order of `formats`.
    pub(super) fn written(
        &self,
        piece: &Piece,
        number: &BigUint,
        formats: &[Format],
        tolerance: f64,
    ) -> Vec<Result<Vec<u8>, FileError>> {
        let arrangement = piece.arrangement();
        let margin = self.series.margin(arrangement, |low, high| {
            Some(self.table.margin(low, high)?.mm)
        });
        let standing = margin.map_or(Standing::Unproven, |margin| Standing::Proved { margin });
        let family = &self.table.family().name;
        let label = Label::of_piece(family, &number.to_string(), &arrangement.0);
        files::write(piece, formats, tolerance, &label, standing)
    }
}
