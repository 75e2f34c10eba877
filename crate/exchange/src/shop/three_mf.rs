//! 3MF core: a package with one object, a solid (type *model*) or an open skin
//! (type *surface*), in mm.
//!
//! The build item is shifted into the positive octant, where the specification
//! places what is to be made; the object itself keeps the coordinates of the
//! piece. They are written to their last digit, so readers that keep 32 bits and
//! readers that keep more find the mesh that was checked.

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
    let decimals = Decimals::of(mesh.step);
    for point in &mesh.points {
        text.push_str("<vertex");
        for (name, value) in [("x", point.x), ("y", point.y), ("z", point.z)] {
            text.push(' ');
            text.push_str(name);
            text.push_str("=\"");
            decimals.push(&mut text, value);
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

/// How multiples of a step 2^-k are written: with k decimals at most, exactly.
/// Meshes have many: this takes a fifth of the time of the formatting of std.
struct Decimals {
    /// 2^k.
    steps: u64,
    /// 5^k: so many units of the last decimal are a step.
    units: u64,
    /// 10^k.
    whole: u64,
}

impl Decimals {
    /// `step` is 1 mm or its half, quarter and so on to 2^-19.
    fn of(step: f64) -> Self {
        let steps = (1.0 / step) as u64;
        let units = 5_u64.pow(steps.trailing_zeros());
        let whole = steps * units;
        Self {
            steps,
            units,
            whole,
        }
    }

    fn push(&self, text: &mut String, value: f64) {
        let count = (value * self.steps as f64) as i64;
        if count < 0 {
            text.push('-');
        }
        let size = count.unsigned_abs();
        push_whole(text, size / self.steps);
        let mut rest = size % self.steps * self.units;
        if rest == 0 {
            return;
        }
        text.push('.');
        let mut place = self.whole;
        while rest != 0 {
            place /= 10;
            text.push(char::from(b'0' + (rest / place) as u8));
            rest %= place;
        }
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
    fn coordinates_read_back_as_they_are() {
        for (exponent, value, text) in [
            (10, 0.0, "0"),
            (10, -0.0, "0"),
            (10, 12.5, "12.5"),
            (10, -0.000_976_562_5, "-0.0009765625"),
            (0, -120.0, "-120"),
            (17, 1.0 + f64::powi(2.0, -17), "1.00000762939453125"),
            (11, 99_999.75, "99999.75"),
        ] {
            let mut written = String::new();
            Decimals::of(1.0 / f64::from(1 << exponent)).push(&mut written, value);
            assert_eq!(written, text);
            assert_eq!(written.parse::<f64>().unwrap(), value);
            assert_eq!(f64::from(written.parse::<f32>().unwrap()), value);
        }
    }
}
