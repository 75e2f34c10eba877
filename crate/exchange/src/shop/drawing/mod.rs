//! Drawings of a piece for the shop, as SVG in true size: its profiles, where its
//! sheet is trimmed, and the sheet laid flat.
//!
//! One user unit is one millimetre, y turned downward. Every drawing says on its
//! face what it shows, so that a trim line is not taken for a pattern. Lines are
//! exact cubics where the piece has such, see each drawing.

mod sheet;

use super::Label;
use crate::rounding::short;
use kurbo::{BezPath, Point};
use loftkin_form::piece::Piece;
use loftkin_form::solid::flat::{Bands, CHORD, Flat, Joint, Pattern, lay};
use loftkin_form::solid::net::Net;
use loftkin_form::solid::trim::{Loop, edges};
use loftkin_form::stations::Station;
use nalgebra::Point2;
use sheet::{Mark, Shape, Sheet};

/// How far lines that go round an axis may stand off, mm.
const ROUND: f64 = 0.001;

/// The profiles as they stand at their stations, one over the other in the plane
/// of the drawing: exact.
pub fn profiles(piece: &Piece, label: &Label) -> String {
    let mut sheet = Sheet::new(&label.name, "Profiles at their stations, true size in mm.");
    sheet.note(&label.note);
    sheet.place(stations(piece));
    sheet.text()
}

/// Where the formed sheet is trimmed, in plan. A piece whose skin has no edge in
/// plan says so.
pub fn trim(net: &Net, label: &Label) -> String {
    let mut sheet = Sheet::new(
        &label.name,
        "Trim outline: the edges of the skin in plan, true size in mm.",
    );
    sheet.note(&label.note);
    let loops = edges(net, ROUND);
    if loops.is_empty() {
        sheet
            .note("This skin has no edge in plan: it closes on itself, or its ends stand upright.");
    }
    if net.is_ring() && !loops.is_empty() {
        sheet.note(&format!("Lines round the axis keep within {ROUND} mm."));
    }
    let count = loops.len();
    let shapes = loops.iter().enumerate().map(|(index, path)| Shape {
        id: format!("edge-{}", index + 1),
        title: edge_name(index, count).to_owned(),
        path: closed(path),
        mark: Mark::Cut,
    });
    sheet.place(shapes.collect());
    sheet.text()
}

/// The skin laid flat, each band that can be a pattern with its folds; for the others
/// the profiles side by side as templates, and why.
pub fn flat(piece: &Piece, net: &Net, label: &Label) -> String {
    let bands = match lay(net) {
        Flat::Bands(bands) => bands,
        Flat::NotRuled => {
            let why = "The skin is not ruled between parallel planes, so it is not laid flat.";
            return templates(piece, label, &[why.to_owned()]);
        }
    };
    let twisted = bands.twisted.iter().map(|band| {
        format!(
            "The skin from station {} to {} cannot be laid flat: its rulings twist, so a sheet must stretch.",
            band + 1,
            band + 2
        )
    });
    let twisted: Vec<String> = twisted.collect();
    if bands.patterns.is_empty() {
        templates(piece, label, &twisted)
    } else {
        patterns(piece, &bands, label, &twisted)
    }
}

fn templates(piece: &Piece, label: &Label, why: &[String]) -> String {
    let mut sheet = Sheet::new(&label.name, "Profiles as templates, true size in mm.");
    sheet.note(&label.note);
    for line in why {
        sheet.note(line);
    }
    for shape in stations(piece) {
        sheet.place(vec![shape]);
    }
    sheet.text()
}

fn patterns(piece: &Piece, bands: &Bands, label: &Label, twisted: &[String]) -> String {
    let mut sheet = Sheet::new(
        &label.name,
        "Skin laid flat without stretch, true size in mm.",
    );
    sheet.note(&label.note);
    for line in twisted {
        sheet.note(line);
    }
    if !twisted.is_empty() {
        sheet.note("The stations at its ends are drawn as templates, the other bands as patterns.");
    }
    sheet.note(&format!(
        "Chords within {CHORD} mm. No allowance for gauge, seam or bend; try it in card first."
    ));
    sheet.note(&format!(
        "{} Dashed: fold by so many degrees from flat, up to the eye or down from it.",
        seen_from(piece)
    ));
    sheet.note("Dots: here the next band joins on at that angle, cut or folded.");
    for pattern in &bands.patterns {
        sheet.place(pattern_shapes(pattern, &bands.joints));
    }
    for (index, shape) in stations(piece).into_iter().enumerate() {
        let beside = |band: &usize| *band == index || *band + 1 == index;
        if bands.twisted.iter().any(beside) {
            sheet.place(vec![shape]);
        }
    }
    sheet.text()
}

/// The outline of a pattern, its bends, and its edges to the bands beside it.
fn pattern_shapes(pattern: &Pattern, joints: &[Joint]) -> Vec<Shape> {
    let number = pattern.band + 1;
    let mut shapes = vec![Shape {
        id: format!("skin-{number}"),
        title: format!("Skin from station {number} to {}", number + 1),
        path: polygon(pattern.lower.iter().chain(pattern.upper.iter().rev())),
        mark: Mark::Cut,
    }];
    for (count, bend) in pattern.bends.iter().enumerate() {
        let ends = [pattern.lower[bend.at], pattern.upper[bend.at]];
        shapes.push(Shape {
            id: format!("skin-{number}-bend-{}", count + 1),
            title: folded([bend.fold; 2]),
            path: line(&ends),
            mark: Mark::Bend,
        });
    }
    let below = pattern
        .band
        .checked_sub(1)
        .and_then(|band| joints.get(band));
    let above = joints.get(pattern.band);
    let edges = [(below, &pattern.lower, 0), (above, &pattern.upper, 1)];
    for (joint, edge, end) in edges {
        if let Some(joint) = joint {
            shapes.push(Shape {
                id: format!("skin-{number}-joint-{}", number + end),
                title: folded(joint.folds),
                path: line(edge),
                mark: Mark::Joint,
            });
        }
    }
    shapes
}

/// "84.3\u{b0} down": a fold as it is written at its line, from its least to its most.
fn folded(folds: [f64; 2]) -> String {
    let [least, most] = folds.map(|fold| (10.0 * fold).round() / 10.0);
    let way = |fold: f64| if fold < 0.0 { "down" } else { "up" };
    let told = |fold: f64| format!("{:.1}\u{b0} {}", fold.abs(), way(fold));
    match (least == most, way(least) == way(most)) {
        (true, _) if most == 0.0 => "flat".to_owned(),
        (true, _) => told(most),
        (false, true) => {
            let (low, high) = (least.abs().min(most.abs()), least.abs().max(most.abs()));
            format!("{low:.1} to {high:.1}\u{b0} {}", way(least))
        }
        (false, false) => format!("{} to {}", told(least), told(most)),
    }
}

/// From which side of the skin its patterns are seen: folded to the other side,
/// they would make the mirror image. They run to the right as the outline does and
/// upward as the stack, so they are seen from where S_u × S_v points.
fn seen_from(piece: &Piece) -> &'static str {
    if !piece.is_closed_along() {
        "Seen from the right of the profiles, as they run from their first node."
    } else if 0.0 < piece.outward() {
        "Seen from outside the piece."
    } else {
        "Seen from inside the piece."
    }
}

fn edge_name(index: usize, count: usize) -> &'static str {
    match (count, index) {
        (1, _) => "Edge of the skin",
        (_, 0) => "First edge",
        _ => "Last edge",
    }
}

fn stations(piece: &Piece) -> Vec<Shape> {
    let layout = piece.layout().stations();
    let unit = if layout.is_ring() { "degrees" } else { "mm" };
    let all = layout.all().iter().enumerate();
    all.map(|(index, station)| Shape {
        id: format!("station-{}", index + 1),
        title: station_name(piece, index, station, unit),
        path: outline(piece, index),
        mark: Mark::Cut,
    })
    .collect()
}

fn station_name(piece: &Piece, index: usize, station: &Station, unit: &str) -> String {
    format!(
        "Station {} at {} {unit}: profile {}",
        index + 1,
        short(station.at),
        piece.arrangement().0[index] + 1
    )
}

/// The placed profile of a station.
fn outline(piece: &Piece, index: usize) -> BezPath {
    let curve = piece.placed(index);
    let mut path = BezPath::new();
    path.move_to(shown(curve.span_mm(0)[0]));
    for span in 0..curve.span_count() {
        let [_, b, c, d] = curve.span_mm(span).map(shown);
        path.curve_to(b, c, d);
    }
    if curve.is_closed() {
        path.close_path();
    }
    path
}

fn closed(pieces: &Loop) -> BezPath {
    let mut path = BezPath::new();
    for (index, span) in pieces.iter().enumerate() {
        let [a, b, c, d] = span.map(shown);
        if index == 0 {
            path.move_to(a);
        }
        path.curve_to(b, c, d);
    }
    path.close_path();
    path
}

fn polygon<'a>(points: impl Iterator<Item = &'a Point2<f64>>) -> BezPath {
    let points: Vec<Point2<f64>> = points.copied().collect();
    let mut path = line(&points);
    path.close_path();
    path
}

fn line(points: &[Point2<f64>]) -> BezPath {
    let mut path = BezPath::new();
    for (index, point) in points.iter().enumerate() {
        if index == 0 {
            path.move_to(shown(*point));
        } else {
            path.line_to(shown(*point));
        }
    }
    path
}

/// y turned downward.
fn shown(point: Point2<f64>) -> Point {
    Point::new(point.x, -point.y)
}
