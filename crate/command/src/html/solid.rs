//! Pictures of pieces in space, as SVG inside the page: facets of the skin seen
//! aslant from above, painted from the farthest to the nearest. Drawn from
//! samples: they show and prove nothing.

use loftkin_form::piece::Piece;
use nalgebra::{Point2, Point3, Vector3};
use std::fmt::Write;

/// Facets round a piece: along it in a stack, across it in a ring.
const ROUND: usize = 60;
/// Facets the other way that a picture should have at least, in one colour and in
/// colours by height.
const UP: (usize, usize) = (18, 54);
/// From where a piece is seen: degrees round the vertical and above level.
const SEEN_FROM: (f64, f64) = (-62.0, 24.0);
/// The width of a picture, in units of the drawing.
const WIDTH: f64 = 800.0;
const EDGE: f64 = 24.0;
/// A sheet in shade and in full light: red, green, blue.
const SHEET: [[f64; 3]; 2] = [[30.0, 45.0, 54.0], [188.0, 206.0, 214.0]];

/// A part of the skin, nearly flat.
struct Facet {
    corners: [Point3<f64>; 4],
    /// Toward the viewer, for painting in order.
    near: f64,
    /// From 0, in shade, to 1, in full light.
    light: f64,
}

/// Directions of the picture: right, up, toward the viewer.
struct View([Vector3<f64>; 3]);

impl View {
    fn new() -> Self {
        let (around, above) = (SEEN_FROM.0.to_radians(), SEEN_FROM.1.to_radians());
        let (sine, cosine) = around.sin_cos();
        let toward = Vector3::new(above.cos() * cosine, above.cos() * sine, above.sin());
        let right = Vector3::new(-sine, cosine, 0.0);
        Self([right, toward.cross(&right), toward])
    }

    fn flat(&self, point: &Point3<f64>) -> Point2<f64> {
        let [right, up, _] = &self.0;
        Point2::new(point.coords.dot(right), -point.coords.dot(up))
    }
}

/// `piece` in one colour, with `title` for those who do not see it.
pub fn shaded(piece: &Piece, title: &str) -> String {
    let [shade, full] = SHEET;
    drawn(piece, title, UP.0, |facet| {
        [0, 1, 2].map(|part| shade[part] + (full[part] - shade[part]) * facet.light)
    })
}

/// `piece` with the colour of red, green and blue (to 255) that `colour` gives to
/// a height in mm.
pub fn coloured(piece: &Piece, title: &str, colour: impl Fn(f64) -> [u8; 3]) -> String {
    drawn(piece, title, UP.1, |facet| {
        let height = facet.corners.iter().map(|corner| corner.z).sum::<f64>() / 4.0;
        // Colour is what counts here, so shade no more than the form needs.
        let light = 0.62 + 0.38 * facet.light;
        colour(height).map(|part| f64::from(part) * light)
    })
}

fn drawn(piece: &Piece, title: &str, up: usize, paint: impl Fn(&Facet) -> [f64; 3]) -> String {
    let view = View::new();
    let mut facets = facets(piece, up, &view);
    facets.sort_by(|one, other| one.near.total_cmp(&other.near));
    let corners = || facets.iter().flat_map(|facet| &facet.corners);
    let infinite = Point2::new(f64::INFINITY, f64::INFINITY);
    let (low, high) = corners().fold((infinite, -infinite), |(low, high), corner| {
        let at = view.flat(corner);
        (low.inf(&at), high.sup(&at))
    });
    let extent = high - low;
    let size = extent.max();
    if !size.is_finite() || size <= 0.0 {
        return String::new();
    }
    let scale = (WIDTH - 2.0 * EDGE) / size;
    let (wide, tall) = (extent.x * scale + 2.0 * EDGE, extent.y * scale + 2.0 * EDGE);
    let mut text = format!(
        "<svg class=\"solid\" role=\"img\" viewBox=\"0 0 {wide:.0} {tall:.0}\"><title>{title}</title>\n"
    );
    for facet in &facets {
        let places = facet.corners.map(|corner| {
            let at = (view.flat(&corner) - low) * scale;
            format!("{:.0},{:.0}", at.x + EDGE, at.y + EDGE)
        });
        let [red, green, blue] = paint(facet).map(|part| part as u8);
        let _ = writeln!(
            text,
            "<polygon color=\"#{red:02x}{green:02x}{blue:02x}\" points=\"{}\"/>",
            places.join(" ")
        );
    }
    text + "</svg>\n"
}

fn facets(piece: &Piece, up: usize, view: &View) -> Vec<Facet> {
    let stations = piece.layout().stations();
    let (along, across) = if stations.is_ring() {
        (up, ROUND)
    } else {
        (ROUND, up)
    };
    // Joints fall between facets.
    let joints = stations.joint_count().max(1);
    let across = joints * across.div_ceil(joints);
    let place = |index: usize, count: usize| index as f64 / count as f64;
    let points: Vec<Vec<Point3<f64>>> = (0..=across)
        .map(|row| {
            let v = place(row, across);
            let columns = 0..=along;
            columns.map(|k| piece.point(place(k, along), v)).collect()
        })
        .collect();
    let [right, up, toward] = &view.0;
    let lamp = (toward + up * 0.6 - right * 0.5).normalize();
    let mut facets = Vec::with_capacity(across * along);
    for rows in points.windows(2) {
        for column in 0..along {
            let corners = [
                rows[0][column],
                rows[0][column + 1],
                rows[1][column + 1],
                rows[1][column],
            ];
            let normal = (corners[2] - corners[0]).cross(&(corners[3] - corners[1]));
            let normal = normal.try_normalize(0.0).unwrap_or(*toward);
            // The side that is seen is the one that is lit.
            let facing = normal * normal.dot(toward).signum();
            let middle = corners
                .iter()
                .map(|corner| corner.coords)
                .sum::<Vector3<f64>>();
            facets.push(Facet {
                near: middle.dot(toward),
                light: (0.15 + 0.85 * facing.dot(&lamp)).clamp(0.0, 1.0),
                corners,
            });
        }
    }
    facets
}
