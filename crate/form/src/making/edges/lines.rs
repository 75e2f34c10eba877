//! The lines on which the skin of a piece may break, with the polynomials that meet
//! there.
//!
//! They are written in the frame of the section: (x, y, up) in a stack, (from the
//! axis, round it, up) in a ring. Both are right-handed and square, so angles are
//! those in space, and in a ring nothing turns.

use super::Line;
use super::turn::{Crease, product};
use crate::piece::Piece;
use crate::solid::net::{Band, Net, weights_on};
use loftkin_kernel::curve::Curve;
use nalgebra::{Point2, Vector2, Vector3};

/// How far a difference of two points of the grid may be off: half its diagonal for
/// either, grid steps.
const ROUNDED: f64 = 1.4143;
/// Where the kernel calls a joint of an exact path a corner, radians: one degree.
const CORNER: f64 = 0.017_455;
/// Tangents as like as this run on.
const ALIKE: f64 = 1e-9;

/// All lines of `piece` with their creases, but for those on which the skin is
/// plain to run on.
pub fn lines(piece: &Piece) -> Vec<(Line, Vec<Crease>)> {
    let net = Net::new(piece);
    let outward = piece.outward();
    let mut lines: Vec<(Line, Vec<Crease>)> = Vec::new();
    let joints = if net.closed_along { 0 } else { 1 }..net.spans();
    for joint in joints {
        let bands = net.bands.iter().enumerate();
        let creases = bands.filter_map(|(index, band)| {
            let ends = (net.across[index], net.across[index + 1]);
            let tangents = tangents(piece, net.breaks[joint], ends)?;
            let across = across(&net, band, 3 * joint);
            let [before, after] = tangents.map(|rows| in_plane(&net, rows));
            Some(Crease::new([&before, &after, &across], outward, ends))
        });
        lines.push((Line::AtAlong(net.breaks[joint]), creases.collect()));
    }
    let last = net.bands.len() - 1;
    let seam = net.closed_across().then_some((last, 0, 0.0));
    let inner = (0..last).map(|index| (index, index + 1, net.across[index + 1]));
    for (before, after, v) in inner.chain(seam) {
        let bands = [&net.bands[before], &net.bands[after]];
        let creases = (0..net.spans()).map(|span| at_station(&net, bands, span, outward));
        lines.push((Line::AtAcross(v), creases.collect()));
    }
    lines.retain(|(_, creases)| !creases.is_empty());
    lines
}

/// A direction in the plane of the section, in the frame.
fn in_frame(net: &Net, flat: Vector2<f64>, rise: f64) -> Vector3<f64> {
    if net.is_ring() {
        Vector3::new(flat.x, rise, flat.y)
    } else {
        Vector3::new(flat.x, flat.y, rise)
    }
}

fn in_plane(net: &Net, rows: Vec<Vector2<f64>>) -> Vec<Vector3<f64>> {
    rows.into_iter()
        .map(|flat| in_frame(net, flat, 0.0))
        .collect()
}

/// The tangents of the section that arrive at a joint and leave it, by the fraction
/// across; none where they are everywhere alike.
fn tangents(piece: &Piece, at: f64, ends: (f64, f64)) -> Option<[Vec<Vector2<f64>>; 2]> {
    let degree = piece.layout().blend().degree();
    let mut rows = [(); 2].map(|()| vec![Vector2::zeros(); degree + 1]);
    for (index, station) in piece.layout().stations().all().iter().enumerate() {
        let weights = weights_on(piece, index, ends);
        if weights.iter().all(|&weight| weight == 0.0) {
            continue;
        }
        let sides = beside(piece.placed(index), at, station.scale);
        for (rows, side) in rows.iter_mut().zip(sides) {
            for (row, weight) in rows.iter_mut().zip(&weights) {
                *row += side * *weight;
            }
        }
    }
    let [before, after] = &rows;
    let speed = before[0].norm() / after[0].norm();
    let is_alike =
        |(a, b): (&Vector2<f64>, &Vector2<f64>)| (a - b * speed).norm() <= ALIKE * a.norm();
    let is_plain = before.iter().zip(after).all(is_alike);
    (!is_plain).then_some(rows)
}

/// The derivatives of a profile, placed at `scale`, by u just before and after `at`,
/// in grid steps: of a joint that is drawn smooth without what rounding its handles
/// breaks.
fn beside(curve: &Curve, at: f64, scale: f64) -> [Vector2<f64>; 2] {
    let Some(joint) = curve.breaks().iter().position(|&own| own == at) else {
        return [curve.slope(at); 2];
    };
    let span = |index: usize| {
        let length = curve.breaks()[index + 1] - curve.breaks()[index];
        (curve.span(index), 3.0 / length)
    };
    let ([_, _, c, d], before) = span(if joint == 0 {
        curve.span_count() - 1
    } else {
        joint - 1
    });
    let ([a, b, _, _], after) = span(joint);
    let (mut arriving, mut leaving) = (d - c, b - a);
    if !curve.is_corner(joint) {
        unrounded(&mut arriving, &mut leaving, scale);
    }
    [arriving * before, leaving * after]
}

/// Takes the break between two tangents away where rounding the handles of an exact
/// path to the grid explains it: of a joint that is drawn smooth, nothing else is
/// left. Speeds stay, so that the blend may break between two such joints.
fn unrounded(before: &mut Vector2<f64>, after: &mut Vector2<f64>, scale: f64) {
    let (a, b) = (before.norm(), after.norm());
    let turn = libm::atan2(before.perp(after).abs(), before.dot(after));
    let rounded = ROUNDED * scale * (1.0 / a + 1.0 / b);
    if turn <= rounded.min(CORNER) {
        let mean = (*before / a + *after / b).normalize();
        (*before, *after) = (mean * a, mean * b);
    }
}

/// How the skin runs across a band along the line of control points `place`.
fn across(net: &Net, band: &Band, place: usize) -> Vec<Vector3<f64>> {
    let degree = band.degree() as f64;
    let steps = |k: usize| {
        let flat = (band.rows[k + 1][place] - band.rows[k][place]) * degree;
        (flat, (band.places[k + 1] - band.places[k]) * degree)
    };
    let (flat, rise): (Vec<Vector2<f64>>, Vec<f64>) = (0..band.degree()).map(steps).unzip();
    if !net.is_ring() {
        return flat
            .into_iter()
            .zip(rise)
            .map(|(flat, rise)| in_frame(net, flat, rise))
            .collect();
    }
    // Round the axis the way is the distance from it times the turn.
    let radius: Vec<f64> = band.rows.iter().map(|row| row[place].x).collect();
    let round = product(&radius, &rise, 0.0, |r, turn| r * turn);
    let ones = vec![1.0; radius.len()];
    let part = |of: fn(&Vector2<f64>) -> f64| {
        let values: Vec<f64> = flat.iter().map(of).collect();
        product(&values, &ones, 0.0, |a, b| a * b)
    };
    let (x, y) = (part(|flat| flat.x), part(|flat| flat.y));
    let parts = x.into_iter().zip(y).zip(round);
    parts
        .map(|((x, y), round)| in_frame(net, Vector2::new(x, y), round))
        .collect()
}

/// Where two bands meet, on one span of the profiles: ridges have there the sign
/// against that of lines across, for along and across have changed places.
fn at_station(net: &Net, [before, after]: [&Band; 2], span: usize, outward: f64) -> Crease {
    let at = 3 * span..3 * span + 4;
    let way = |band: &Band, from: usize, to: usize, here: usize| -> Vec<Vector3<f64>> {
        let turn = band.places[to] - band.places[from];
        let step = |place: usize| {
            let rise = if net.is_ring() {
                turn * band.rows[here][place].x
            } else {
                turn
            };
            in_frame(net, band.rows[to][place] - band.rows[from][place], rise)
        };
        at.clone().map(step).collect()
    };
    let last = before.degree();
    let arriving = way(before, last - 1, last, last);
    let leaving = way(after, 0, 1, 0);
    let section: &[Point2<f64>] = &after.rows[0][at.clone()];
    let steps = section.windows(2).map(|pair| (pair[1] - pair[0]) * 3.0);
    let along = in_plane(net, steps.collect());
    let ends = (net.breaks[span], net.breaks[span + 1]);
    Crease::new([&arriving, &leaving, &along], -outward, ends)
}
