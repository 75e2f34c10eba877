//! 3MF core: a package with one object, a solid (type *model*) or an open skin
//! (type *surface*), in mm.
//!
//! The build item is shifted into the positive octant, where the specification
//! places what is to be made; the object itself keeps the coordinates of the
//! piece. Coordinates are written to a millionth of a millimetre.

use super::package::Package;
use super::{Label, WRITER};
use crate::rounding::short;
use crate::xml::escaped;
use loftkin_form::solid::mesh::Mesh;
use std::fmt::Write as _;
use std::io::{self, Write};

/// The namespace of the core specification.
const CORE: &str = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02";

const CONTENT_TYPES: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\
<Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\
<Default Extension=\"model\" ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/>\
</Types>\n";

const RELATIONSHIPS: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
<Relationship Target=\"/3D/3dmodel.model\" Id=\"rel0\" \
Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/>\
</Relationships>\n";

/// Writes `mesh` to `out`.
///
/// # Errors
/// Those of `out`, or a package beyond 4 GB.
pub fn write(mut out: impl Write, mesh: &Mesh, label: &Label) -> io::Result<()> {
    let mut package = Package::new();
    package.add("[Content_Types].xml", CONTENT_TYPES.as_bytes())?;
    package.add("_rels/.rels", RELATIONSHIPS.as_bytes())?;
    package.add("3D/3dmodel.model", model(mesh, label).as_bytes())?;
    out.write_all(&package.finish()?)
}

fn model(mesh: &Mesh, label: &Label) -> String {
    let kind = if mesh.solid { "model" } else { "surface" };
    let mut text = String::with_capacity(60 * (mesh.points.len() + mesh.triangles.len()));
    let _ = write!(
        text,
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<model unit=\"millimeter\" xml:lang=\"en\" xmlns=\"{CORE}\">\n\
         <metadata name=\"Title\">{}</metadata>\n<metadata name=\"Description\">{}</metadata>\n\
         <metadata name=\"Application\">{WRITER}</metadata>\n",
        escaped(&label.name),
        escaped(&format!(
            "{} Chord within {:.4} mm.",
            label.note, mesh.chord
        )),
    );
    if !label.made.is_empty() {
        let made = escaped(&label.made);
        let _ = writeln!(text, "<metadata name=\"CreationDate\">{made}</metadata>");
    }
    let _ = write!(
        text,
        "<resources>\n<object id=\"1\" type=\"{kind}\" name=\"{}\"><mesh>\n<vertices>\n",
        escaped(&label.name)
    );
    for point in &mesh.points {
        text.push_str("<vertex");
        for (name, value) in [("x", point.x), ("y", point.y), ("z", point.z)] {
            text.push(' ');
            text.push_str(name);
            text.push_str("=\"");
            push_millionths(&mut text, value);
            text.push('"');
        }
        text.push_str("/>\n");
    }
    text.push_str("</vertices>\n<triangles>\n");
    for [a, b, c] in &mesh.triangles {
        for (name, corner) in [("<triangle v1=\"", a), ("\" v2=\"", b), ("\" v3=\"", c)] {
            text.push_str(name);
            push_whole(&mut text, u64::from(*corner));
        }
        text.push_str("\"/>\n");
    }
    let [x, y, z] = to_positive(mesh).map(short);
    let _ = write!(
        text,
        "</triangles>\n</mesh></object>\n</resources>\n<build>\n\
         <item objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 1 {x} {y} {z}\"/>\n</build>\n</model>\n"
    );
    text
}

/// A coordinate (far below 1e12 mm) rounded to a millionth, without idle zeros.
/// Meshes have many: this takes a fifth of the time of the formatting of std.
fn push_millionths(text: &mut String, value: f64) {
    let millionths = (value * 1e6).round() as i64;
    if millionths < 0 {
        text.push('-');
    }
    let size = millionths.unsigned_abs();
    push_whole(text, size / 1_000_000);
    let mut rest = size % 1_000_000;
    if rest == 0 {
        return;
    }
    text.push('.');
    let mut place = 100_000;
    while rest != 0 {
        text.push(char::from(b'0' + (rest / place) as u8));
        rest %= place;
        place /= 10;
    }
}

fn push_whole(text: &mut String, number: u64) {
    let mut digits = [0; 20];
    let mut from = digits.len();
    let mut rest = number;
    loop {
        from -= 1;
        digits[from] = b'0' + (rest % 10) as u8;
        rest /= 10;
        if rest == 0 {
            break;
        }
    }
    text.extend(digits[from..].iter().map(|&digit| char::from(digit)));
}

/// What moves the mesh into the positive octant, mm: whole millimetres, and none
/// where it already stands there.
fn to_positive(mesh: &Mesh) -> [f64; 3] {
    let least = |axis: usize| {
        let values = mesh.points.iter().map(|point| point[axis]);
        values.fold(f64::INFINITY, f64::min)
    };
    [0, 1, 2].map(|axis| f64::max(0.0, (-least(axis)).ceil()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn coordinates_read_back_to_a_millionth() {
        for (value, text) in [
            (0.0, "0"),
            (-0.000_000_1, "0"),
            (12.5, "12.5"),
            (-0.000_001, "-0.000001"),
            (99_999.999_999_6, "100000"),
            (1.234_567_891, "1.234568"),
            (-120.003, "-120.003"),
        ] {
            let mut written = String::new();
            push_millionths(&mut written, value);
            assert_eq!(written, text);
        }
    }
}
