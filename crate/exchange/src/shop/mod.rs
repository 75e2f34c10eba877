//! Files for the shop: one piece as STEP, 3MF, STL, glTF or SVG, a manifest of
//! several, and a zip of them.
//!
//! Writers take plain bodies and meshes of `loftkin_form::solid` and write to
//! anything that takes bytes; they open no file, ask no clock and give the same
//! bytes for the same input. All lengths are mm unless the format has its own
//! unit, which then is said where it is written.

pub mod step;

pub mod stl;

pub mod three_mf;

pub mod gltf;

pub mod drawing;

pub mod package;

pub mod manifest;

pub mod files;

use crate::words;

/// What a file says about itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Label {
    /// The name of the piece; may be empty.
    pub name: String,
    /// One or two sentences: arrangement, blend, what is proved.
    pub note: String,
    /// When it was made, as ISO 8601 text; empty to leave the time out, so that
    /// the same piece always gives the same bytes.
    pub made: String,
}

impl Label {
    /// Of piece `number` of a series of the family called `family`; the profiles
    /// by station are indices in it. Without a time: the same piece is always the
    /// same bytes.
    pub fn of_piece(family: &str, number: &str, profiles: &[usize]) -> Self {
        let places: Vec<String> = profiles.iter().map(|one| (one + 1).to_string()).collect();
        let name = format!("{} piece {number}", words::shown(family.trim()));
        Self {
            name: name.trim_start().to_owned(),
            note: format!(
                "Profiles {} over {} stations; proved free of folds and crossings as the exact surface (a mesh only comes near to it).",
                places.join(" "),
                profiles.len()
            ),
            made: String::new(),
        }
    }
}

/// What is proved of the loft of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Standing {
    /// It neither folds nor crosses itself, and no control point of its placed
    /// profiles loses that by a move of up to `margin` mm.
    Proved {
        /// In mm, at the scale of the piece.
        margin: f64,
    },
    /// It is not proved; it may be sound.
    Unproven,
}

/// Who wrote a file.
const WRITER: &str = concat!("Loftkin ", env!("CARGO_PKG_VERSION"));
