//! What one profile must keep by itself: off the axis of a ring, its height
//! and width, the directions of its ends.

use crate::request::{END_TURN_DEGREES, EXTENT_MM, Request};
use crate::response::{Response, Spot, length, point, slope};
use crate::wishes::Row;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Placement;
use loftkin_kernel::grid::STEPS_PER_MM;
use nalgebra::Vector2;
use std::ops::Range;

/// Places of one span at which its distance from the axis is looked at.
const IN_SPAN: usize = 8;
/// How far from the axis to stay, grid steps: two roundings to the grid.
const OFF_AXIS: f64 = 2.0;

/// The lowest and the highest place of a curve along one axis.
struct Extent {
    low: Spot,
    high: Spot,
    length: f64,
}

/// The rows of one profile, and how far the curve is from the axis it must not
/// reach (grid steps; 0 when far enough).
pub fn rows_of(
    response: &Response,
    drawn: &Curve,
    range: Range<usize>,
    request: &Request,
    placement: Placement,
    band: f64,
) -> (Vec<Row>, f64) {
    let mut rows = Vec::new();
    let mut shortfall: f64 = 0.0;
    let mut push = |value: f64, tie: bool, of: &dyn Fn(&Curve) -> f64| {
        let slopes = (0..response.knobs()).map(|knob| (range.start + knob, response.of(knob, of)));
        rows.push(Row {
            value,
            slopes: slopes.collect(),
            tie,
        });
    };
    let curve = &response.curve;
    if placement == Placement::Ring {
        for span in 0..curve.span_count() {
            for k in 0..=IN_SPAN {
                let t = k as f64 / IN_SPAN as f64;
                let spot = Spot { span, t };
                let value = point(curve, spot).x - OFF_AXIS;
                if value < band {
                    shortfall = shortfall.max(-value);
                    push(value, false, &|curve| point(curve, spot).x);
                }
            }
        }
    }
    for axis in kept_axes(request) {
        let (was, is) = (extent(drawn, axis), extent(curve, axis));
        push(is.length - was.length, true, &|curve| {
            point(curve, is.high)[axis] - point(curve, is.low)[axis]
        });
    }
    if request.keep_end_tangents && !curve.is_closed() {
        for spot in ends(curve) {
            let kept = slope(drawn, spot).normalize();
            let lean = |curve: &Curve| slope(curve, spot) * (length(curve, spot.span) / 3.0);
            push(kept.perp(&lean(curve)), true, &|curve| {
                kept.perp(&lean(curve))
            });
        }
    }
    (rows, shortfall)
}

/// Whether `curve` keeps what was asked of it, within the stated tolerances.
pub fn keeps(curve: &Curve, drawn: &Curve, request: &Request) -> bool {
    let extents = kept_axes(request).all(|axis| {
        let change = extent(curve, axis).length - extent(drawn, axis).length;
        change.abs() <= EXTENT_MM * STEPS_PER_MM
    });
    let tangents = !request.keep_end_tangents
        || curve.is_closed()
        || ends(curve).into_iter().all(|spot| {
            let (is, was) = (slope(curve, spot), slope(drawn, spot));
            let limit = libm::tan(END_TURN_DEGREES.to_radians());
            0.0 < is.dot(&was) && is.perp(&was).abs() <= limit * is.dot(&was)
        });
    extents && tangents
}

fn kept_axes(request: &Request) -> impl Iterator<Item = usize> {
    let axes = [(0, request.keep_width), (1, request.keep_height)];
    axes.into_iter()
        .filter(|(_, kept)| *kept)
        .map(|(axis, _)| axis)
}

fn ends(curve: &Curve) -> [Spot; 2] {
    let last = curve.span_count() - 1;
    [Spot { span: 0, t: 0.0 }, Spot { span: last, t: 1.0 }]
}

/// The exact extent along an axis: joints, and where the slope has no share.
fn extent(curve: &Curve, axis: usize) -> Extent {
    let start = Spot { span: 0, t: 0.0 };
    let at = |spot: Spot| point(curve, spot)[axis];
    let (mut low, mut high) = (start, start);
    for span in 0..curve.span_count() {
        let [a, b, c, d] = curve.span(span);
        let steps: [Vector2<f64>; 3] = [b - a, c - b, d - c];
        let [p, q, r] = steps.map(|step| step[axis]);
        let turns = roots(p - 2.0 * q + r, 2.0 * (q - p), p);
        for t in turns.into_iter().flatten().chain([1.0]) {
            let spot = Spot { span, t };
            if at(spot) < at(low) {
                low = spot;
            }
            if at(high) < at(spot) {
                high = spot;
            }
        }
    }
    Extent {
        low,
        high,
        length: at(high) - at(low),
    }
}

/// The roots of a t^2 + b t + c within (0, 1).
fn roots(a: f64, b: f64, c: f64) -> [Option<f64>; 2] {
    let root = b * b - 4.0 * a * c;
    if root < 0.0 {
        return [None; 2];
    }
    // Without cancellation: q has the sign of b.
    let q = -0.5 * (b + root.sqrt().copysign(b));
    [q / a, c / q].map(|t| Some(t).filter(|t| 0.0 < *t && *t < 1.0))
}
