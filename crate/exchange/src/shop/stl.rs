//! Binary STL: bare triangles in mm.
//!
//! The format has no unit and no list of corners: the header says mm and the
//! chordal tolerance. Its 32-bit numbers hold the corners of a mesh exactly (but
//! not the normals), so a closed mesh stays closed and clear of itself. It cannot
//! say whether a mesh is meant as a solid.

use super::Label;
use loftkin_form::solid::mesh::Mesh;
use std::io::{self, Write};

/// Bytes before the number of triangles.
const HEADER: usize = 80;

/// Writes `mesh` to `out`.
///
/// # Errors
/// Those of `out`.
pub fn write(mut out: impl Write, mesh: &Mesh, label: &Label) -> io::Result<()> {
    out.write_all(&header(mesh, label))?;
    out.write_all(&(mesh.triangles.len() as u32).to_le_bytes())?;
    let mut bytes = Vec::with_capacity(50);
    for triangle in &mesh.triangles {
        let [a, b, c] = triangle.map(|corner| mesh.points[corner as usize]);
        let normal = (b - a).cross(&(c - a));
        // A triangle without area has no direction: the format allows zeros.
        let normal = normal.try_normalize(0.0).unwrap_or_default();
        bytes.clear();
        for vector in [normal, a.coords, b.coords, c.coords] {
            for value in &vector {
                bytes.extend((*value as f32).to_le_bytes());
            }
        }
        bytes.extend([0, 0]);
        out.write_all(&bytes)?;
    }
    Ok(())
}

/// Must not begin with "solid", by which readers know the text form.
fn header(mesh: &Mesh, label: &Label) -> [u8; HEADER] {
    let text = format!("unit mm; chord <= {:.4} mm; {}", mesh.chord, label.name);
    let mut header = [b' '; HEADER];
    for (place, letter) in header.iter_mut().zip(text.chars()) {
        *place = if (' '..='~').contains(&letter) {
            letter as u8
        } else {
            b'?'
        };
    }
    header
}
