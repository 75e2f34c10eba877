//! Files of a piece for the shop.

use super::session::{SeriesFailure, SeriesSession};
use loftkin_exchange::shop::files::{self, FileError, Format};
use loftkin_exchange::shop::{Label, Standing};
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
}

impl SeriesSession {
    /// The bytes of piece `number` in the format of `word`, meshes within
    /// `tolerance` mm.
    ///
    /// # Errors
    /// [`FileFailure`].
    pub fn file(&self, number: &str, word: &str, tolerance: f64) -> Result<Vec<u8>, FileFailure> {
        let unknown = || FileFailure::Format(word.to_owned());
        let known = FORMATS.iter().find(|(name, _)| *name == word);
        let (_, format) = *known.ok_or_else(unknown)?;
        let number = self.number_in(number)?;
        let piece = self.form(&number)?;
        let arrangement = piece.arrangement();
        let margin = self.series.margin(arrangement, |low, high| {
            Some(self.table.margin(low, high)?.mm)
        });
        let standing = margin.map_or(Standing::Unproven, |margin| Standing::Proved { margin });
        let family = &self.table.family().name;
        let label = Label::of_piece(family, &number.to_string(), &arrangement.0);
        let written = files::write(&piece, &[format], tolerance, &label, standing);
        let written: Vec<_> = written.into_iter().collect::<Result<_, _>>()?;
        // One file for one format.
        Ok(written.concat())
    }
}
