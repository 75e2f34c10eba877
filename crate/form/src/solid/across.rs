//! Bands of a net that run on smoothly, joined to one strip of faces, and the
//! B-splines across a strip.
//!
//! Eased and B-spline blends pass smoothly from band to band (C1 by the fraction
//! across at least), so a reader sees one skin, not one for each station. With
//! knots counted degree - 1 times at a joint, the joint's own control point follows
//! from its neighbours and is left out. How far that moves the skin is measured,
//! not supposed, and where it is too far the bands stay apart.

use super::around::Round;
use super::net::{Net, in_space};
use super::spline::Knot;
use nalgebra::{Point2, Point3};

/// Bands are joined where leaving out the joint moves the skin no farther than
/// this, mm.
const SMOOTH_ENOUGH: f64 = 1e-9;
/// The degree of the pieces that stand for a run round the axis.
const ROUND_DEGREE: usize = 5;
/// How often knots count inside a band of a ring: two derivatives run on.
const ROUND_KNOTS: usize = 3;

/// Consecutive bands shown by one face in each stretch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Strip {
    /// The first band.
    pub first: usize,
    /// The band after the last.
    pub end: usize,
}

/// One control along: for each band of a strip, its section points by their
/// Bernstein coefficients across.
pub type Course = Vec<Vec<Point2<f64>>>;

/// The strips of `net`.
pub fn strips(net: &Net) -> Vec<Strip> {
    let count = net.bands.len();
    let mut ends = vec![0];
    ends.extend((1..count).filter(|&joint| SMOOTH_ENOUGH < roughness(net, joint)));
    ends.push(count);
    // A skin that closes on itself is shown in two strips at least, as outlines are in two stretches.
    if net.closed_across() && ends.len() == 2 && 1 < count {
        ends.insert(1, count / 2);
    }
    let pairs = ends.windows(2);
    pairs
        .map(|pair| Strip {
            first: pair[0],
            end: pair[1],
        })
        .collect()
}

/// How far the sections at a joint are from what their neighbours make of them,
/// in mm: points by distance, heights likewise, angles as arcs.
fn roughness(net: &Net, joint: usize) -> f64 {
    let (before, after) = (&net.bands[joint - 1], &net.bands[joint]);
    let degree = before.degree();
    if degree < 2 || degree != after.degree() {
        return f64::INFINITY;
    }
    let share = share_before(net, joint);
    let neighbours = before.rows[degree - 1].iter().zip(&after.rows[1]);
    let mut most: f64 = 0.0;
    let mut reach: f64 = 1.0;
    for ((low, high), middle) in neighbours.zip(&before.rows[degree]) {
        most = most.max((low + (high - low) * share - middle).norm());
        reach = reach.max(middle.x.abs());
    }
    let (low, high) = (before.places[degree - 1], after.places[1]);
    let place = (low + (high - low) * share - before.places[degree]).abs();
    most.max(if net.is_ring() { reach * place } else { place })
}

/// Which share of the two bands at a joint lies before it, by fraction across.
fn share_before(net: &Net, joint: usize) -> f64 {
    let [from, at, to] = [joint - 1, joint, joint + 1].map(|index| net.across[index]);
    (at - from) / (to - from)
}

/// The degree across of a strip's faces.
pub fn degree(net: &Net, strip: Strip) -> usize {
    if net.is_ring() {
        ROUND_DEGREE
    } else {
        net.bands[strip.first].degree()
    }
}

/// The knots across of a strip, by fraction across the piece; `parts` has the
/// number of equal parts of every band of the net.
pub fn knots(net: &Net, strip: Strip, parts: &[usize]) -> Vec<Knot> {
    let degree = degree(net, strip);
    let end = |at: f64| Knot {
        at,
        multiplicity: degree + 1,
    };
    let mut knots = vec![end(net.across[strip.first])];
    let bands = (strip.first..strip.end).zip(&parts[strip.first..strip.end]);
    for (band, &count) in bands {
        let (from, to) = (net.across[band], net.across[band + 1]);
        knots.extend((1..count).map(|part| Knot {
            at: from + (to - from) * part as f64 / count as f64,
            multiplicity: ROUND_KNOTS,
        }));
        knots.push(Knot {
            at: to,
            multiplicity: degree - 1,
        });
    }
    knots.pop();
    knots.push(end(net.across[strip.end]));
    knots
}

/// The controls across of `course`, and a bound of how far from the piece they
/// may take its line, mm.
pub fn run(net: &Net, strip: Strip, course: &Course, parts: &[usize]) -> (Vec<Point3<f64>>, f64) {
    let mut controls: Vec<Point3<f64>> = Vec::new();
    let (mut fitted, mut moved) = (0.0_f64, 0.0_f64);
    for (band, points) in (strip.first..strip.end).zip(course) {
        let places = &net.bands[band].places;
        let own = if net.is_ring() {
            let round = round(points, places);
            fitted = fitted.max(round.distance(parts[band]));
            round.spline_controls(parts[band])
        } else {
            let pairs = points.iter().zip(places);
            pairs
                .map(|(point, &place)| in_space(net.setting, *point, place))
                .collect()
        };
        if band == strip.first {
            controls = own;
            continue;
        }
        let joint = controls.pop().unwrap_or(own[0]);
        let low = controls[controls.len() - 1];
        let share = share_of_parts(net, band, parts);
        // The curve moves no farther than this one of its Bézier points.
        moved = moved.max((low + (own[1] - low) * share - joint).norm());
        controls.extend_from_slice(&own[1..]);
    }
    (controls, fitted + moved)
}

/// As [`share_before`], of the two parts that meet at the start of `band`.
fn share_of_parts(net: &Net, band: usize, parts: &[usize]) -> f64 {
    let width = |band: usize| (net.across[band + 1] - net.across[band]) / parts[band] as f64;
    let (before, after) = (width(band - 1), width(band));
    before / (before + after)
}

/// How many equal parts keep a course of one band within `tolerance` mm.
pub fn parts(net: &Net, band: usize, points: &[Point2<f64>], tolerance: f64) -> usize {
    if net.is_ring() {
        round(points, &net.bands[band].places).parts(tolerance)
    } else {
        1
    }
}

fn round(points: &[Point2<f64>], places: &[f64]) -> Round {
    Round {
        radius: points.iter().map(|point| point.x).collect(),
        angle: places.to_vec(),
        height: points.iter().map(|point| point.y).collect(),
    }
}
