//! All files of one piece: what is asked for, made from one net and one mesh.
//!
//! Page and command share it, so that a piece is the same bytes from both. It
//! writes to memory; where files go is theirs to say.

use super::{Label, Standing, drawing, gltf, step, stl, three_mf};
use loftkin_form::piece::Piece;
use loftkin_form::solid::body::{Body, FIT};
use loftkin_form::solid::mesh::{Mesh, MeshError};
use loftkin_form::solid::net::Net;
use thiserror::Error;

/// The kinds of files that a piece can be written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Format {
    /// Exact faces: ISO 10303-21.
    Step,
    /// A mesh in a package: 3MF core.
    ThreeMf,
    /// Bare triangles: binary STL.
    Stl,
    /// For showing: glTF 2.0 binary.
    Gltf,
    /// The profiles at their stations: SVG.
    Profiles,
    /// Where the sheet is trimmed: SVG.
    Trim,
    /// The skin laid flat, or templates: SVG.
    Flat,
}

/// Why a file could not be made.
#[derive(Debug, Error)]
pub enum FileError {
    /// No mesh within this tolerance.
    #[error(transparent)]
    Mesh(#[from] MeshError),
    /// More than a package can hold.
    #[error("the mesh is too large for a 3MF package: choose a coarser chordal tolerance ({0})")]
    Package(std::io::Error),
}

impl Format {
    /// All of them, exact ones first.
    pub const ALL: [Self; 7] = [
        Self::Step,
        Self::ThreeMf,
        Self::Stl,
        Self::Gltf,
        Self::Profiles,
        Self::Trim,
        Self::Flat,
    ];

    /// How a file's name ends, after the number of its piece.
    pub fn ending(self) -> &'static str {
        match self {
            Self::Step => ".step",
            Self::ThreeMf => ".3mf",
            Self::Stl => ".stl",
            Self::Gltf => ".glb",
            Self::Profiles => "-profiles.svg",
            Self::Trim => "-trim.svg",
            Self::Flat => "-flat.svg",
        }
    }

    /// The type by which browsers and mail know the file (IANA, but for STEP's
    /// and 3MF's, which their bodies registered as model types).
    pub fn media_type(self) -> &'static str {
        match self {
            Self::Step => "model/step",
            Self::ThreeMf => "model/3mf",
            Self::Stl => "model/stl",
            Self::Gltf => "model/gltf-binary",
            Self::Profiles | Self::Trim | Self::Flat => "image/svg+xml",
        }
    }

    /// Whether it holds a mesh, so that the chordal tolerance counts.
    pub fn is_mesh(self) -> bool {
        matches!(self, Self::ThreeMf | Self::Stl | Self::Gltf)
    }
}

/// The files of `piece` in the order of `formats`; meshes within `tolerance` mm.
/// What cannot be made has its reason in its place.
pub fn write(
    piece: &Piece,
    formats: &[Format],
    tolerance: f64,
    label: &Label,
    standing: Standing,
) -> Vec<Result<Vec<u8>, FileError>> {
    let net = Net::new(piece);
    let needed = formats.iter().any(|format| format.is_mesh());
    let mesh = needed.then(|| Mesh::new(&net, tolerance));
    let one = |format: &Format| {
        let mut bytes = Vec::new();
        let written = match (format, &mesh) {
            (Format::Profiles, _) => return Ok(drawing::profiles(piece, label).into_bytes()),
            (Format::Trim, _) => return Ok(drawing::trim(&net, label).into_bytes()),
            (Format::Flat, _) => return Ok(drawing::flat(piece, &net, label).into_bytes()),
            (Format::Stl, Some(Ok(mesh))) => stl::write(&mut bytes, mesh, label),
            (Format::ThreeMf, Some(Ok(mesh))) => three_mf::write(&mut bytes, mesh, label),
            (Format::Gltf, Some(Ok(mesh))) => gltf::write(&mut bytes, mesh, label),
            (Format::Stl | Format::ThreeMf | Format::Gltf, Some(Err(error))) => {
                return Err(FileError::Mesh(*error));
            }
            _ => step::write(&mut bytes, &Body::new(&net, FIT), label, standing),
        };
        written.map(|()| bytes).map_err(FileError::Package)
    };
    formats.iter().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn endings_tell_formats_apart() {
        let endings: BTreeSet<_> = Format::ALL.map(Format::ending).into();
        assert_eq!(endings.len(), Format::ALL.len());
    }
}
