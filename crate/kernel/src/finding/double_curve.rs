//! The double curve: where a pair meets itself, as polylines in (u, w).
//!
//! The zeros of cross(F_A, F_B) with F_A against F_B form curves in (u, w). Each
//! refined box gives a segment of one, and segments are linked to polylines:
//! estimates, good to rounding at their vertices.

use crate::bezier;
use crate::curve::Curve;
use crate::proof::patch::{Chart, joint_at, places};
use crate::proof::search::ZeroBox;
use crate::proof::telling;
use nalgebra::{Point2, Vector2};

/// Ends of segments closer than this, along, are the same point: neighbouring
/// boxes compute a shared crossing to about 1e-12.
pub const SAME: f64 = 1e-7;
/// A pair of places, fractions along.
pub type Uw = Point2<f64>;

/// A place of the double curve.
#[derive(Clone, Copy)]
pub struct Vertex {
    /// The two places.
    pub at: Uw,
    /// The fraction across where they meet.
    pub across: f64,
}

/// A piece meets itself in mirrored pairs: one of each is enough, and boxes on
/// the diagonal hold the same zero twice.
pub fn is_below_diagonal(zero_box: &ZeroBox) -> bool {
    zero_box.chart != Chart::Itself || zero_box.patch.y.1 <= zero_box.patch.x.0
}

/// F_A and F_B at (u, w): chords, or slopes on the diagonal.
pub fn differences(curves: [&Curve; 2], at: Uw) -> [Vector2<f64>; 2] {
    curves.map(|curve| {
        if at.x == at.y {
            curve.slope(at.x)
        } else {
            curve.point(at.y) - curve.point(at.x)
        }
    })
}

/// The cross product of F_A and F_B at (u, w).
pub fn cross(curves: [&Curve; 2], at: Uw) -> f64 {
    let [a, b] = differences(curves, at);
    a.perp(&b)
}

/// The zeros on the four edges of a box, joined two by two.
pub fn segments_of(zero_box: &ZeroBox) -> Vec<[Vertex; 2]> {
    const AROUND: [[usize; 4]; 4] = [
        [0, 4, 8, 12],
        [12, 13, 14, 15],
        [15, 11, 7, 3],
        [3, 2, 1, 0],
    ];
    let ZeroBox { patch, chart, ends } = zero_box;
    let corners = [
        (patch.x.0, patch.y.0),
        (patch.x.1, patch.y.0),
        (patch.x.1, patch.y.1),
        (patch.x.0, patch.y.1),
    ];
    let mut zeros = Vec::with_capacity(4);
    for (k, edge) in AROUND.iter().enumerate() {
        let values = patch.nets.map(|net| edge.map(|index| net.at(index)));
        let Some((t, across)) = on_edge(&values) else {
            continue;
        };
        let (from, to) = (corners[k], corners[(k + 1) % 4]);
        let (x, y) = (from.0 + (to.0 - from.0) * t, from.1 + (to.1 - from.1) * t);
        let (u, w) = match joint_at(*chart, x, ends) {
            Some(joint) => (joint, joint),
            None => places(*chart, x, y, ends),
        };
        zeros.push(Vertex {
            at: Uw::new(u, w),
            across,
        });
    }
    zeros.chunks_exact(2).map(|two| [two[0], two[1]]).collect()
}

/// The zero of the cross product along one edge, by halving, and its fraction
/// across; none where the sign does not change or the two are not opposed.
fn on_edge(values: &[[Vector2<f64>; 4]; 2]) -> Option<(f64, f64)> {
    let at = |t: f64| values.map(|cubic| cubic_at(&cubic, t));
    let cross = |[a, b]: [Vector2<f64>; 2]| a.perp(&b);
    let starts_negative = cross(at(0.0)) < 0.0;
    if starts_negative == (cross(at(1.0)) < 0.0) {
        return None;
    }
    let t = change(|t| (cross(at(t)) < 0.0) == starts_negative);
    let [a, b] = at(t);
    (a.dot(&b) < 0.0).then(|| (t, telling::across(a, b)))
}

fn cubic_at(p: &[Vector2<f64>; 4], t: f64) -> Vector2<f64> {
    bezier::blossom(*p, [t; 3], |a, b, t| a.lerp(&b, t))
}

/// Where in \[0, 1\] `is_before` ceases to hold, by halving.
pub fn change(is_before: impl Fn(f64) -> bool) -> f64 {
    let (mut from, mut to) = (0.0, 1.0);
    for _ in 0..50 {
        let middle = f64::midpoint(from, to);
        if is_before(middle) {
            from = middle;
        } else {
            to = middle;
        }
    }
    f64::midpoint(from, to)
}

/// Links segments that share ends to polylines.
pub fn chains(mut segments: Vec<[Vertex; 2]>) -> Vec<Vec<Vertex>> {
    let mut chains = Vec::new();
    while let Some([first, second]) = segments.pop() {
        let mut chain = std::collections::VecDeque::from([first, second]);
        while let Some(next) = take_at(&mut segments, chain[chain.len() - 1].at) {
            chain.push_back(next);
        }
        while let Some(next) = take_at(&mut segments, chain[0].at) {
            chain.push_front(next);
        }
        let mut chain = Vec::from(chain);
        chain.dedup_by(|one, other| (one.at - other.at).amax() < SAME);
        if 1 < chain.len() {
            chains.push(chain);
        }
    }
    chains
}

/// Takes a segment that starts or ends at `end` and gives its other end.
fn take_at(segments: &mut Vec<[Vertex; 2]>, end: Uw) -> Option<Vertex> {
    let near = |vertex: &Vertex| (vertex.at - end).amax() < SAME;
    let index = segments
        .iter()
        .position(|[from, to]| near(from) || near(to))?;
    let [from, to] = segments.swap_remove(index);
    Some(if near(&from) { to } else { from })
}

/// Groups the chains of a closed pair that go on across the seam: (0, x) is the
/// same pair of places as (x, 1).
pub fn over_seam(chains: Vec<Vec<Vertex>>, closed: bool) -> Vec<Vec<Vec<Vertex>>> {
    let mut groups: Vec<Vec<Vec<Vertex>>> = Vec::new();
    for chain in chains {
        let ends = [chain[0].at, chain[chain.len() - 1].at];
        let meets = |other: &Vec<Vertex>| {
            let others = [other[0].at, other[other.len() - 1].at];
            ends.iter().any(|&one| {
                others
                    .iter()
                    .any(|&other| across_seam(one, other) || across_seam(other, one))
            })
        };
        let (mut met, mut rest): (Vec<_>, Vec<_>) = groups
            .into_iter()
            .partition(|group| closed && group.iter().any(meets));
        let mut group: Vec<Vec<Vertex>> = met.drain(..).flatten().collect();
        group.push(chain);
        rest.push(group);
        groups = rest;
    }
    groups
}

fn across_seam(start: Uw, end: Uw) -> bool {
    start.x < SAME && 1.0 - SAME < end.y && (start.y - end.x).abs() < 10.0 * SAME
}

/// The vertex at a zero of the differences.
pub fn vertex(curves: [&Curve; 2], at: Uw) -> Vertex {
    let [a, b] = differences(curves, at);
    Vertex {
        at,
        across: telling::across(a, b),
    }
}
