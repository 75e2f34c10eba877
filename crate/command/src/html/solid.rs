//! Pictures of pieces in space, as SVG inside the page: facets of the skin seen
//! aslant from above, painted from the farthest to the nearest. Drawn from
//! samples: they show and prove nothing.

use super::facets::{Facet, Frame, View};
use loftkin_form::piece::Piece;
use nalgebra::Point3;
use std::fmt::Write;

/// Facets round a piece: along it in a stack, across it in a ring.
const ROUND: usize = 60;
/// Facets the other way that a picture should have at least, in one colour and in
/// colours by height.
const UP: (usize, usize) = (18, 54);

/// `piece` in one colour, with `title` for those who do not see it.
pub fn shaded(piece: &Piece, title: &str) -> String {
    drawn(piece, title, UP.0, Facet::sheet)
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
    let facets = view.facets(&points(piece, up));
    let Some(frame) = Frame::around(&facets, &view) else {
        return String::new();
    };
    let (wide, tall) = frame.size;
    let mut text = format!(
        "<svg class=\"solid\" role=\"img\" viewBox=\"0 0 {wide:.0} {tall:.0}\"><title>{title}</title>\n"
    );
    for facet in &facets {
        let [red, green, blue] = paint(facet).map(|part| part as u8);
        let _ = writeln!(
            text,
            "<polygon color=\"#{red:02x}{green:02x}{blue:02x}\" points=\"{}\"/>",
            frame.places(&facet.corners)
        );
    }
    text + "</svg>\n"
}

/// Points of the skin: rows across, places along in each.
fn points(piece: &Piece, up: usize) -> Vec<Vec<Point3<f64>>> {
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
    (0..=across)
        .map(|row| {
            let v = place(row, across);
            let columns = 0..=along;
            columns.map(|k| piece.point(place(k, along), v)).collect()
        })
        .collect()
}
