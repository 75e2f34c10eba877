//! Certain crossings of one curve with itself.
//!
//! F_A and F_B are the same there, so their cross product has no sign to change.
//! Instead two short arcs that pass right through each other's strips certify
//! that they meet: the distance between them along either strip's normal changes
//! its sign from end to end (Poincaré-Miranda theorem), and the two normals
//! differ, for the ends of an arc are level along its own and apart along the
//! other's. An arc may run over joints: its hull is that of all its pieces, and
//! nothing else of it is used.

use super::bounds;
use super::piece::parts_of;
use super::prepared::Ready;
use super::telling::crossing_alone;
use crate::curve::Curve;
use crate::verdict::Fault;
use nalgebra::{Matrix2, Point2, Vector2};

/// Chords a span, and how many that meet are looked at.
const CHORDS: usize = 4;
const MOST_TRIES: u32 = 200;

/// A certain crossing of one curve with itself near (u, w), or none.
pub fn own_crossing(ready: &Ready, u: f64, w: f64) -> Option<Fault> {
    let curve = &ready.curve;
    let (u, w) = polished(curve, u, w)?;
    let mut reach = (w - u).abs() * 0.02;
    for _ in 0..12 {
        let one = arc(curve, u, reach);
        let other = arc(curve, w, reach);
        if let (Some(one), Some(other)) = (one, other)
            && strips_cross(&one, &other, ready.size)
        {
            let (u, w) = met(ready, u, w, reach);
            return Some(crossing_alone(curve, u, w));
        }
        reach *= 0.25;
    }
    None
}

/// A certain crossing where two chords of the curve cross, or none: what a search
/// asks that has met a touch first, which certifies nothing and takes its time.
pub fn crossing_of_chords(ready: &Ready) -> Option<Fault> {
    let curve = &ready.curve;
    let mut parameters: Vec<f64> = vec![0.0];
    for ends in curve.breaks().windows(2) {
        let step = (ends[1] - ends[0]) / CHORDS as f64;
        parameters.extend((1..CHORDS).map(|k| ends[0] + step * k as f64));
        parameters.push(ends[1]);
    }
    let points: Vec<Point2<f64>> = parameters.iter().map(|&u| curve.point(u)).collect();
    let mut tries = MOST_TRIES;
    for j in 2..points.len() - 1 {
        for i in 0..j - 1 {
            let Some([s, t]) = meeting([points[i], points[i + 1]], [points[j], points[j + 1]])
            else {
                continue;
            };
            let at = |k: usize, s: f64| parameters[k] + (parameters[k + 1] - parameters[k]) * s;
            let found = own_crossing(ready, at(i, s), at(j, t));
            tries -= 1;
            if found.is_some() || tries == 0 {
                return found;
            }
        }
    }
    None
}

/// Where two chords meet, as shares of both; ends count, for a crossing may run
/// through a joint.
fn meeting(one: [Point2<f64>; 2], other: [Point2<f64>; 2]) -> Option<[f64; 2]> {
    const NEAR: f64 = 1e-9;
    let (a, b, gap) = (one[1] - one[0], other[1] - other[0], other[0] - one[0]);
    let turn = a.perp(&b);
    let shares = [gap.perp(&b) / turn, gap.perp(&a) / turn];
    let inside = |share: &f64| (-NEAR..=1.0 + NEAR).contains(share);
    shares.iter().all(inside).then_some(shares)
}

/// Where two arcs that certainly meet do so, `reach` either side of u and w:
/// Newton's steps may have ended elsewhere, so that the arcs are halved while
/// their control points could meet.
fn met(ready: &Ready, u: f64, w: f64, reach: f64) -> (f64, f64) {
    const MOST: usize = 4_000;
    let Ready { curve, size, .. } = ready;
    let mut pairs = vec![[(u, reach), (w, reach)]];
    if (curve.point(u) - curve.point(w)).amax() <= bounds::MET * size {
        pairs.clear();
    }
    for _ in 0..MOST {
        let Some([one, other]) = pairs.pop() else {
            break;
        };
        let extents = [one, other].map(|(at, reach)| arc(curve, at, reach).map(extent));
        let [Some(a), Some(b)] = extents else {
            continue;
        };
        let error = bounds::SEPARATION * size;
        if (0..2).any(|k| a.1[k] + error < b.0[k] || b.1[k] + error < a.0[k]) {
            continue;
        }
        if (a.1 - a.0).amax().max((b.1 - b.0).amax()) < bounds::MET * size {
            return (one.0.min(other.0), one.0.max(other.0));
        }
        // Over the seam a half lies at the other end.
        let halves = |(at, reach): (f64, f64)| {
            let middles = [at - 0.5 * reach, at + 0.5 * reach];
            middles.map(|at| (at - libm::floor(at), 0.5 * reach))
        };
        for one in halves(one) {
            pairs.extend(halves(other).map(|other| [one, other]));
        }
    }
    (u, w)
}

/// The least and the greatest coordinates of an arc.
fn extent(arc: Vec<Point2<f64>>) -> (Vector2<f64>, Vector2<f64>) {
    let whole = Vector2::repeat(f64::INFINITY);
    arc.iter().fold((whole, -whole), |(low, high), point| {
        (low.inf(&point.coords), high.sup(&point.coords))
    })
}

/// Newton's steps towards C(u) = C(w); an estimate to be certified.
fn polished(curve: &Curve, mut u: f64, mut w: f64) -> Option<(f64, f64)> {
    for _ in 0..20 {
        let (to_u, to_w) = (curve.slope(u), curve.slope(w));
        let jacobian = Matrix2::from_columns(&[to_u, -to_w]);
        let step = jacobian.try_inverse()? * (curve.point(u) - curve.point(w));
        u = (u - step.x).clamp(0.0, 1.0);
        w = (w - step.y).clamp(0.0, 1.0);
        if step.amax() < 1e-15 {
            break;
        }
    }
    (u < w).then_some((u, w))
}

/// The control points of all pieces over `reach` either side of `u`, in order;
/// over the seam of a closed curve, none beyond the ends of an open one.
fn arc(curve: &Curve, u: f64, reach: f64) -> Option<Vec<Point2<f64>>> {
    let (from, to) = (u - reach, u + reach);
    let over = |from: f64, to: f64| {
        let parts = parts_of(curve, from, to);
        parts.into_iter().flat_map(|part| part.points).collect()
    };
    let joined = |[one, other]: [Vec<Point2<f64>>; 2]| [one, other].concat();
    let arc: Vec<_> = match (from < 0.0, 1.0 < to) {
        (false, false) => over(from, to),
        _ if !curve.is_closed() => return None,
        (true, _) => joined([over(1.0 + from, 1.0), over(0.0, to)]),
        (false, true) => joined([over(from, 1.0), over(0.0, to - 1.0)]),
    };
    (1 < arc.len()).then_some(arc)
}

/// Whether two arcs pass right through each other: each runs from one side of
/// the other's strip to the other side.
fn strips_cross(one: &[Point2<f64>], other: &[Point2<f64>], size: f64) -> bool {
    passes_through(one, other, size) && passes_through(other, one, size)
}

fn passes_through(arc: &[Point2<f64>], strip: &[Point2<f64>], size: f64) -> bool {
    let run = strip[strip.len() - 1] - strip[0];
    let Some(normal) = Vector2::new(-run.y, run.x).try_normalize(0.0) else {
        return false;
    };
    let along = |point: &Point2<f64>| normal.dot(&point.coords);
    let low = strip.iter().map(along).fold(f64::INFINITY, f64::min);
    let high = strip.iter().map(along).fold(f64::NEG_INFINITY, f64::max);
    let (from, to) = (along(&arc[0]), along(&arc[arc.len() - 1]));
    let error = bounds::SEPARATION * size;
    from.min(to) < low - error && high + error < from.max(to)
}
