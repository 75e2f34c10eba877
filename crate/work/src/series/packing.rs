//! A zip of several pieces, made one after the other, with a manifest at its
//! end, and the family and the series that piece numbers mean something for. It
//! can be taken away while it grows, so that memory holds one piece.

use super::file::{FileFailure, format, word};
use super::session::{MOST_CHOSEN, SeriesFailure, SeriesSession};
use loftkin_exchange::shop::files::{FileError, Format};
use loftkin_exchange::shop::manifest::{self, MEASURES, Manifest, PieceColumns};
use loftkin_exchange::shop::package::Stream;
use loftkin_exchange::{family_json, series};
use loftkin_form::body::measure;
use loftkin_form::series::selection::Selection;
use loftkin_form::solid::mesh::{COARSEST, FINEST, MeshError};

/// How near the area is measured, relative: as in the manifest of a run.
const AREA_TOLERANCE: f64 = 1e-5;

/// Pieces on their way into a zip.
pub struct Packing {
    zip: Stream,
    manifest: Manifest,
    formats: Vec<Format>,
    tolerance: f64,
    pieces: usize,
}

impl SeriesSession {
    /// The piece numbers that a person wrote, as "1-40,57", one by one.
    ///
    /// # Errors
    /// [`SeriesFailure::Selection`].
    pub fn selected(&self, text: &str) -> Result<Vec<String>, SeriesFailure> {
        let selection = Selection::parse(text, self.series.count(), MOST_CHOSEN as u64)?;
        let numbers = (0..selection.count()).filter_map(|index| selection.number(index));
        Ok(numbers.map(|number| number.to_string()).collect())
    }
}

impl Packing {
    /// A zip for files in the formats of `words`, meshes within `tolerance` mm.
    ///
    /// # Errors
    /// [`FileFailure`]: no or unknown formats, or no such tolerance.
    pub fn new(words: &[String], tolerance: f64) -> Result<Self, FileFailure> {
        let formats: Vec<_> = words
            .iter()
            .map(|word| format(word))
            .collect::<Result<_, _>>()?;
        let meshed = formats.iter().any(|format| format.is_mesh());
        if meshed && !(FINEST..=COARSEST).contains(&tolerance) {
            return Err(FileError::Mesh(MeshError::Tolerance { tolerance }).into());
        }
        if formats.is_empty() {
            return Err(FileFailure::NoFormat);
        }
        Ok(Self {
            zip: Stream::new(),
            manifest: Manifest::new(&MEASURES),
            formats,
            tolerance,
            pieces: 0,
        })
    }

    /// Adds the files of piece `number` of `session`. What cannot be made is told,
    /// a sentence each, and stands in the manifest.
    ///
    /// # Errors
    /// [`FileFailure`]: no such piece, one that is there already, or a zip that is
    /// full.
    pub fn add(
        &mut self,
        session: &SeriesSession,
        number: &str,
    ) -> Result<Vec<String>, FileFailure> {
        let number = session.number_in(number)?;
        let piece = session.form(&number)?;
        let columns = PieceColumns {
            piece: number.to_string(),
            profiles: manifest::profiles(&piece.arrangement().0),
            figures: manifest::measures(&measure(&piece, AREA_TOLERANCE)).to_vec(),
        };
        let written = session.written(&piece, &number, &self.formats, self.tolerance);
        let mut problems = Vec::new();
        for (&format, file) in self.formats.iter().zip(written) {
            match file {
                Ok(bytes) => {
                    let name = format!("piece-{number}{}", format.ending());
                    self.zip.add(&name, &bytes)?;
                    self.manifest.add(&columns, &name, &bytes);
                }
                Err(error) => {
                    let why = format!("{}: {error}", word(format));
                    self.manifest.add_problem(&columns, &why);
                    problems.push(format!("piece {number}, {why}"));
                }
            }
        }
        self.pieces += 1;
        Ok(problems)
    }

    /// The bytes of the zip since they were last taken.
    pub fn take(&mut self) -> Vec<u8> {
        self.zip.take()
    }

    /// The last bytes: the manifest, and the files of family and series of `session`.
    /// With fewer than `wanted` pieces the manifest's last line says that this is
    /// a part.
    ///
    /// # Errors
    /// [`FileFailure::Package`].
    pub fn finish(
        mut self,
        session: &SeriesSession,
        wanted: usize,
    ) -> Result<Vec<u8>, FileFailure> {
        if self.pieces < wanted {
            let no_piece = PieceColumns {
                figures: vec![String::new(); MEASURES.len()],
                ..PieceColumns::default()
            };
            let part = format!(
                "this is a part: {} of {wanted} pieces, for the making was stopped",
                self.pieces
            );
            self.manifest.add_problem(&no_piece, &part);
        }
        let family = family_json::write(session.table.family());
        let series = series::write(&session.plan);
        let last = [
            ("manifest.csv", self.manifest.text()),
            ("family.json", &family),
            ("series.json", &series),
        ];
        for (name, text) in last {
            self.zip.add(name, text.as_bytes())?;
        }
        Ok(self.zip.finish()?)
    }
}
