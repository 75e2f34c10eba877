//! glTF 2.0 binary (ISO/IEC 12113:2022), for showing: metres, +Y up.
//!
//! Right-handed turn from ours: (x, y, z) becomes (x, z, -y). Positions are mm, as
//! in the mesh, for 32-bit numbers hold them exactly; the node scales them to the
//! metres of the format. Corners carry normals, shared where the triangles about a corner differ little and
//! parted where they meet at an edge; so there are more corners than in the mesh.
//! The name and the note stand in the asset's extras.

use super::{Label, WRITER};
use loftkin_form::solid::mesh::Mesh;
use nalgebra::Vector3;
use serde_json::{Value, json};
use std::io::{self, Write};

/// Triangles about a corner that differ by more than this are shown with an
/// edge between them: the cosine of 30 degrees, by the look of it.
const SHOWN_EDGE: f64 = 0.866;

/// Names of numbers in the format.
const FLOAT: u32 = 5126;
const UNSIGNED_INT: u32 = 5125;
const ARRAY_BUFFER: u32 = 34962;
const ELEMENT_ARRAY_BUFFER: u32 = 34963;

/// Writes `mesh` to `out`.
///
/// # Errors
/// Those of `out`.
pub fn write(mut out: impl Write, mesh: &Mesh, label: &Label) -> io::Result<()> {
    let shown = Shown::new(mesh);
    let mut binary = Vec::with_capacity(24 * shown.points.len() + 12 * shown.triangles.len());
    for vector in shown.points.iter().chain(&shown.normals).flatten() {
        binary.extend(vector.to_le_bytes());
    }
    for corner in shown.triangles.iter().flatten() {
        binary.extend(corner.to_le_bytes());
    }
    let mut document = document(&shown, mesh, label).to_string().into_bytes();
    // Chunks end on multiples of four bytes, text with blanks.
    document.resize(document.len().next_multiple_of(4), b' ');
    let total = 12 + 8 + document.len() + 8 + binary.len();
    out.write_all(b"glTF")?;
    for number in [2, total as u32, document.len() as u32] {
        out.write_all(&number.to_le_bytes())?;
    }
    out.write_all(b"JSON")?;
    out.write_all(&document)?;
    out.write_all(&(binary.len() as u32).to_le_bytes())?;
    out.write_all(b"BIN\0")?;
    out.write_all(&binary)
}

fn document(shown: &Shown, mesh: &Mesh, label: &Label) -> Value {
    let corners = shown.points.len();
    let (vectors, indices) = (12 * corners, 12 * shown.triangles.len());
    let (least, most) = shown.bounds();
    json!({
        "asset": {
            "version": "2.0",
            "generator": WRITER,
            "extras": { "name": label.name, "note": label.note, "chord_mm": mesh.chord },
        },
        "scene": 0,
        "scenes": [{ "nodes": [0] }],
        "nodes": [{ "mesh": 0, "name": label.name, "scale": [0.001, 0.001, 0.001] }],
        "meshes": [{ "name": label.name, "primitives": [{
            "attributes": { "POSITION": 0, "NORMAL": 1 },
            "indices": 2,
            "material": 0,
        }] }],
        "materials": [{
            // An open skin is seen from both sides.
            "doubleSided": !mesh.solid,
            "pbrMetallicRoughness": {
                "baseColorFactor": [0.62, 0.63, 0.66, 1.0],
                "metallicFactor": 0.4,
                "roughnessFactor": 0.5,
            },
        }],
        "accessors": [
            { "bufferView": 0, "componentType": FLOAT, "count": corners, "type": "VEC3", "min": least, "max": most },
            { "bufferView": 1, "componentType": FLOAT, "count": corners, "type": "VEC3" },
            { "bufferView": 2, "componentType": UNSIGNED_INT, "count": 3 * shown.triangles.len(), "type": "SCALAR" },
        ],
        "bufferViews": [
            { "buffer": 0, "byteOffset": 0, "byteLength": vectors, "target": ARRAY_BUFFER },
            { "buffer": 0, "byteOffset": vectors, "byteLength": vectors, "target": ARRAY_BUFFER },
            { "buffer": 0, "byteOffset": 2 * vectors, "byteLength": indices, "target": ELEMENT_ARRAY_BUFFER },
        ],
        "buffers": [{ "byteLength": 2 * vectors + indices }],
    })
}

/// Corners with normals, in the format's axes and unit.
struct Shown {
    points: Vec<[f32; 3]>,
    normals: Vec<[f32; 3]>,
    triangles: Vec<[u32; 3]>,
}

/// A corner of the mesh as triangles on one side of an edge see it.
struct Facet {
    /// Which corner of the mesh.
    corner: u32,
    /// The unit normal of its first triangle, by which others join or do not.
    first: Vector3<f64>,
    /// The sum of the normals, as long as twice the areas.
    sum: Vector3<f64>,
    /// Another facet of the same corner, or [`NONE`].
    next: u32,
}

/// No facet.
const NONE: u32 = u32::MAX;

/// The facets of all corners: chains in one list, for most corners have but one.
struct Facets {
    heads: Vec<u32>,
    all: Vec<Facet>,
}

impl Facets {
    /// The facet of `corner` that a triangle with this normal belongs to.
    fn joined(&mut self, corner: u32, normal: Vector3<f64>, unit: Vector3<f64>) -> u32 {
        let head = self.heads[corner as usize];
        let mut number = head;
        while number != NONE {
            let facet = &mut self.all[number as usize];
            if SHOWN_EDGE <= facet.first.dot(&unit) {
                facet.sum += normal;
                return number;
            }
            number = facet.next;
        }
        let number = self.all.len() as u32;
        self.all.push(Facet {
            corner,
            first: unit,
            sum: normal,
            next: head,
        });
        self.heads[corner as usize] = number;
        number
    }
}

impl Shown {
    fn new(mesh: &Mesh) -> Self {
        let mut facets = Facets {
            heads: vec![NONE; mesh.points.len()],
            all: Vec::with_capacity(mesh.points.len()),
        };
        let triangles = (mesh.triangles.iter())
            .map(|triangle| {
                let [a, b, c] = triangle.map(|corner| mesh.points[corner as usize]);
                let normal = (b - a).cross(&(c - a));
                let unit = normal.try_normalize(0.0).unwrap_or_default();
                triangle.map(|corner| facets.joined(corner, normal, unit))
            })
            .collect();
        let place = |corner: u32| turned(mesh.points[corner as usize].coords);
        // A corner whose triangles have no area is shown with any normal.
        let up = |facet: &Facet| facet.sum.try_normalize(0.0).unwrap_or(Vector3::z());
        Self {
            points: facets.all.iter().map(|facet| place(facet.corner)).collect(),
            normals: facets.all.iter().map(|facet| turned(up(facet))).collect(),
            triangles,
        }
    }

    fn bounds(&self) -> ([f32; 3], [f32; 3]) {
        let ends = ([f32::INFINITY; 3], [f32::NEG_INFINITY; 3]);
        self.points.iter().fold(ends, |(least, most), point| {
            let pick = |from: [f32; 3], choose: fn(f32, f32) -> f32| {
                [0, 1, 2].map(|axis| choose(from[axis], point[axis]))
            };
            (pick(least, f32::min), pick(most, f32::max))
        })
    }
}

/// z up becomes y up.
fn turned(vector: Vector3<f64>) -> [f32; 3] {
    [vector.x as f32, vector.z as f32, -vector.y as f32]
}
