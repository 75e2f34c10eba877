//! One piece: its measures, the bytes of its files, and its line of the manifest.

use super::plan::{Plan, word};
use crate::arguments::make::Format;
use loftkin_exchange::shop::{Label, Standing, drawing, gltf, step, stl, three_mf};
use loftkin_exchange::words;
use loftkin_form::body::{Measures, measure};
use loftkin_form::piece::{Arrangement, Piece};
use loftkin_form::series::standing::Grounds;
use loftkin_form::solid::body::Body;
use loftkin_form::solid::mesh::{Mesh, MeshError};
use loftkin_form::solid::net::Net;
use loftkin_kernel::curve::Curve;
use num_bigint::BigUint;
use std::io;
use std::sync::OnceLock;

/// How near the area is measured, relative: a thousandth of a per cent.
const AREA_TOLERANCE: f64 = 1e-5;

/// What all pieces of a run share while they are made.
pub struct Maker<'a> {
    plan: &'a Plan,
    /// One a profile; a profile that has none stands in no piece, and another is
    /// in its place here.
    curves: Vec<&'a Curve>,
    /// Margins of pairs, worked out when first needed: row the first profile.
    margins: Vec<OnceLock<f64>>,
}

/// A piece in memory.
pub struct Made {
    /// Number, arrangement and measures, without files.
    pub columns: String,
    /// The bytes of each file; none of one that cannot be made as asked.
    pub files: Vec<Option<Vec<u8>>>,
    /// Why one could not.
    pub problem: Option<String>,
}

impl<'a> Maker<'a> {
    /// Ready to make the pieces of `plan`.
    pub fn new(plan: &'a Plan) -> Self {
        let size = plan.table.size();
        let curve = |index: usize| plan.table.prepared(index).curve().ok();
        let any = (0..size).find_map(curve);
        let curves = (0..size).filter_map(|index| curve(index).or(any));
        Self {
            curves: curves.collect(),
            margins: (0..size * size).map(|_| OnceLock::new()).collect(),
            plan,
        }
    }

    /// Makes piece `number`; none for a number that no piece has.
    ///
    /// # Errors
    /// Those of writers, which write to memory here.
    pub fn make(&self, number: &BigUint) -> io::Result<Option<Made>> {
        let Ok(arrangement) = self.plan.series.arrangement(number) else {
            return Ok(None);
        };
        let layout = self.plan.series.layout();
        let Ok(piece) = Piece::new(&self.curves, layout, arrangement.clone()) else {
            return Ok(None);
        };
        let mut made = Made {
            columns: self.columns(number, &arrangement, &piece),
            files: Vec::new(),
            problem: None,
        };
        if !self.plan.formats.is_empty() {
            self.write(&piece, number, &arrangement, &mut made)?;
        }
        Ok(Some(made))
    }

    fn write(
        &self,
        piece: &Piece,
        number: &BigUint,
        arrangement: &Arrangement,
        made: &mut Made,
    ) -> io::Result<()> {
        let plan = self.plan;
        let label = self.label(number, arrangement);
        let net = Net::new(piece);
        let of_mesh = [Format::Stl, Format::ThreeMf, Format::Gltf];
        let needs_mesh = plan.formats.iter().any(|format| of_mesh.contains(format));
        let mesh: Option<Result<Mesh, MeshError>> =
            needs_mesh.then(|| Mesh::new(&net, plan.tolerance));
        if let Some(Err(error)) = &mesh {
            made.problem = Some(error.to_string());
        }
        for &format in &plan.formats {
            let mut bytes = Vec::new();
            match (format, &mesh) {
                (Format::Step, _) => {
                    let body = Body::new(&net, plan.tolerance);
                    step::write(&mut bytes, &body, &label, self.standing(arrangement))?;
                }
                (Format::Stl, Some(Ok(mesh))) => stl::write(&mut bytes, mesh, &label)?,
                (Format::ThreeMf, Some(Ok(mesh))) => three_mf::write(&mut bytes, mesh, &label)?,
                (Format::Gltf, Some(Ok(mesh))) => gltf::write(&mut bytes, mesh, &label)?,
                (Format::SvgProfiles, _) => bytes = drawing::profiles(piece, &label).into_bytes(),
                (Format::SvgTrim, _) => bytes = drawing::trim(&net, &label).into_bytes(),
                (Format::SvgFlat, _) => bytes = drawing::flat(piece, &net, &label).into_bytes(),
                (Format::Stl | Format::ThreeMf | Format::Gltf, _) => {
                    made.files.push(None);
                    continue;
                }
            }
            made.files.push(Some(bytes));
        }
        Ok(())
    }

    fn label(&self, number: &BigUint, arrangement: &Arrangement) -> Label {
        let family = self.plan.table.family();
        let name = words::shown(family.name.trim());
        Label {
            name: format!("{name} piece {number}").trim_start().to_owned(),
            note: format!(
                "Profiles {} over {} stations; proved free of folds and crossings as a smooth surface.",
                profiles(arrangement),
                arrangement.0.len()
            ),
            // No time: the same piece is always the same bytes.
            made: String::new(),
        }
    }

    /// The margin of the piece, where the margins of its pairs give one: stations
    /// that turn nothing, joined two at a time. A move in space is one by 1/scale
    /// in the drawing.
    fn standing(&self, arrangement: &Arrangement) -> Standing {
        let layout = self.plan.series.layout();
        let stations = layout.stations();
        let turned = stations.all().iter().any(|station| station.turn != 0.0);
        if turned || self.plan.series.standing().grounds() != Grounds::Pairs {
            return Standing::Unproven;
        }
        let margins = (0..stations.joint_count()).map(|joint| {
            let (low, high) = stations.beside(joint);
            let scale = stations.all()[low].scale.min(stations.all()[high].scale);
            self.margin(arrangement.0[low], arrangement.0[high]) * scale
        });
        match margins.fold(f64::INFINITY, f64::min) {
            margin if 0.0 < margin => Standing::Proved { margin },
            _ => Standing::Unproven,
        }
    }

    fn margin(&self, one: usize, other: usize) -> f64 {
        let (low, high) = (one.min(other), one.max(other));
        let place = &self.margins[low * self.curves.len() + high];
        let table = &self.plan.table;
        *place.get_or_init(|| table.margin(low, high).map_or(0.0, |margin| margin.mm))
    }

    fn columns(&self, number: &BigUint, arrangement: &Arrangement, piece: &Piece) -> String {
        let measures: &Measures = &measure(piece, AREA_TOLERANCE);
        let volume = measures.volume.as_ref();
        let centre = measures.solid_centre.unwrap_or(measures.skin_centre);
        let mut columns = vec![
            number.to_string(),
            profiles(arrangement),
            decimal(measures.skin_area.value),
            volume.map_or_else(String::new, |volume| decimal(volume.by_sections)),
            volume
                .and_then(|volume| volume.disagreement())
                .map_or_else(String::new, |share| format!("{share:.1e}")),
            decimal(centre.x),
            decimal(centre.y),
            decimal(centre.z),
        ];
        if let Some(sheet) = &self.plan.sheet {
            let wall = sheet.wall(measures);
            columns.push(decimal(wall.mass));
            columns.push(wall.capacity.map_or_else(String::new, decimal));
        }
        if !self.plan.checks.is_empty() {
            columns.extend(self.plan.checks.columns(piece));
        }
        columns.join(",")
    }
}

/// The columns of the making checks in `line`.
pub fn checked<'a>(plan: &Plan, line: &'a str) -> Vec<&'a str> {
    let names = column_names(plan).len();
    let last = names - 3 * plan.formats.len();
    let first = last - plan.checks.column_names().len();
    let columns: Vec<&str> = line.split(',').collect();
    columns.get(first..last).unwrap_or_default().to_vec()
}

/// The names of the columns, files last.
pub fn column_names(plan: &Plan) -> Vec<String> {
    let mut names: Vec<String> = [
        "piece",
        "profiles",
        "skin_area_mm2",
        "volume_mm3",
        "volume_difference",
        "centre_x_mm",
        "centre_y_mm",
        "centre_z_mm",
    ]
    .map(str::to_owned)
    .to_vec();
    if plan.sheet.is_some() {
        names.extend(["mass_kg", "capacity_mm3"].map(str::to_owned));
    }
    names.extend(plan.checks.column_names());
    for &format in &plan.formats {
        let word = word(format);
        names.extend(["file", "bytes", "sha256"].map(|what| format!("{word}_{what}")));
    }
    names
}

/// "1 4 2": the profiles by station, from 1.
fn profiles(arrangement: &Arrangement) -> String {
    let numbers: Vec<String> = arrangement
        .0
        .iter()
        .map(|one| (one + 1).to_string())
        .collect();
    numbers.join(" ")
}

/// Four decimals, and never a negative zero.
fn decimal(value: f64) -> String {
    let text = format!("{value:.4}");
    match text.as_str() {
        "-0.0000" => "0.0000".to_owned(),
        _ => text,
    }
}
