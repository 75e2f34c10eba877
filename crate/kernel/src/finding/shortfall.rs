//! The shortfall: how far control points must move, at least, before a faulty
//! pair can be clear.
//!
//! A fault is certain where the cross product of F_A and F_B changes its sign
//! along a path on which they never point the same way (see
//! [`crate::proof::witness`]). If every control point moves by at most e, F
//! moves by at most r e (the rates of [`super::rate`]). So the fault survives
//! every such movement when, over r, the segment from F_A to F_B keeps farther
//! than e from zero at both ends of the path, and the segment from F_A to -F_B
//! keeps farther than e all along it. The best path among those of constant w,
//! and along the diagonal, is picked by samples; its e is then proved over the
//! whole path, or lowered until it is.

use super::rate::{ROUNDING, chord_rate};
use crate::curve::Curve;
use crate::grid::STEPS_PER_MM;
use crate::proof::bounds;
use crate::proof::piece::{Part, Piece, visit_pieces};
use crate::proof::{Ready, telling};
use nalgebra::{Point2, Vector2};

/// Samples along each way.
const SAMPLES: usize = 64;
/// Each try asks for this share of the one before.
const LOWERED: f64 = 0.9;
const TRIES: usize = 30;
/// The paths tried, those that promise most first.
const CANDIDATES: usize = 4;
/// Halvings of a piece while a path is proved.
const DEEPEST: u32 = 12;

/// What is compared along a path: slopes, or chords to the place `w`.
#[derive(Clone, Copy)]
enum Path {
    Diagonal,
    Row { w: f64, anchors: [Point2<f64>; 2] },
}

/// A path by the parameters of its ends, and the e that samples promise.
struct Candidate {
    path: Path,
    from: f64,
    to: f64,
    promise: f64,
}

/// A proved lower bound in mm, or none when no path could be proved.
pub fn shortfall(pair: [&Ready; 2]) -> Option<f64> {
    let curves = [&pair[0].curve, &pair[1].curve];
    let sizes = [pair[0].size, pair[1].size];
    let rows = (0..SAMPLES).map(|k| {
        let w = parameter(k);
        let anchors = curves.map(|curve| curve.point(w));
        Path::Row { w, anchors }
    });
    let mut candidates: Vec<Candidate> = std::iter::once(Path::Diagonal)
        .chain(rows)
        .filter_map(|path| best_on(curves, path))
        .collect();
    candidates.sort_by(|one, other| other.promise.total_cmp(&one.promise));
    candidates.truncate(CANDIDATES);
    candidates
        .iter()
        .find_map(|candidate| proved(curves, sizes, candidate))
        .map(|steps| steps / STEPS_PER_MM)
}

/// The largest share of its promise that is proved for a candidate.
fn proved(curves: [&Curve; 2], sizes: [f64; 2], candidate: &Candidate) -> Option<f64> {
    let mut wanted = candidate.promise;
    for _ in 0..TRIES {
        wanted *= LOWERED;
        if is_proved(curves, sizes, candidate, wanted) {
            return Some(wanted);
        }
    }
    None
}

fn parameter(k: usize) -> f64 {
    (k as f64 + 0.381_966) / SAMPLES as f64
}

/// Spans from the start to parameter `u`.
fn spans_to(curve: &Curve, u: f64) -> f64 {
    let (span, fraction) = curve.locate(u);
    span as f64 + fraction
}

fn spans_between(curve: &Curve, u: f64, w: f64) -> f64 {
    let forth = (spans_to(curve, u) - spans_to(curve, w)).abs();
    let spans = if curve.is_closed() {
        forth.min(curve.span_count() as f64 - forth)
    } else {
        forth
    };
    spans + ROUNDING
}

/// F of both curves over their rates at one place.
fn over_rates(curves: [&Curve; 2], path: Path, u: f64) -> [Vector2<f64>; 2] {
    [0, 1].map(|side| {
        let curve = curves[side];
        match path {
            Path::Diagonal => {
                let (span, _) = curve.locate(u);
                let length = curve.breaks()[span + 1] - curve.breaks()[span];
                // A slope is three steps over the length; a step moves by 2 e.
                curve.slope(u) * (length / 6.0)
            }
            Path::Row { w, anchors } => {
                (curve.point(u) - anchors[side]) / chord_rate(spans_between(curve, u, w))
            }
        }
    })
}

fn best_on(curves: [&Curve; 2], path: Path) -> Option<Candidate> {
    let mut best: Option<Candidate> = None;
    let samples: Vec<_> = (0..SAMPLES)
        .filter(|&k| !matches!(path, Path::Row { w, .. } if parameter(k) == w))
        .map(|k| {
            let u = parameter(k);
            let [a, b] = over_rates(curves, path, u);
            let (_, opposite) = telling::nearest_blend([a, b]);
            let (_, alike) = telling::nearest_blend([a, -b]);
            (u, a.perp(&b) < 0.0, opposite, alike)
        })
        .collect();
    for (index, &(from, from_side, from_keeps, mut alike)) in samples.iter().enumerate() {
        for &(to, to_side, to_keeps, to_alike) in &samples[index + 1..] {
            if is_barred(curves, path, from, to) {
                break;
            }
            alike = alike.min(to_alike);
            let promise = alike.min(from_keeps).min(to_keeps);
            let improves = best.as_ref().is_none_or(|best| best.promise < promise);
            if from_side != to_side && improves {
                best = Some(Candidate {
                    path,
                    from,
                    to,
                    promise,
                });
            }
        }
    }
    best.filter(|best| 0.0 < best.promise)
}

/// A row does not pass the place it is anchored to, where F vanishes; the
/// diagonal does not pass a corner, where slopes jump.
fn is_barred(curves: [&Curve; 2], path: Path, from: f64, to: f64) -> bool {
    match path {
        Path::Row { w, .. } => from < w && w < to,
        Path::Diagonal => curves.into_iter().any(|curve| {
            let joints = curve.breaks().iter().enumerate();
            joints
                .filter(|(_, at)| from < **at && **at < to)
                .any(|(index, _)| curve.is_corner(index))
        }),
    }
}

fn is_proved(curves: [&Curve; 2], sizes: [f64; 2], path: &Candidate, wanted: f64) -> bool {
    let at_ends = [path.from, path.to].map(|u| over_rates(curves, path.path, u));
    let keeps = |end: usize| {
        let u = [path.from, path.to][end];
        let errors = [0, 1].map(|side| error_at(curves[side], sizes[side], path.path, u));
        let (_, opposite) = telling::nearest_blend(at_ends[end]);
        wanted + errors[0].max(errors[1]) < opposite
    };
    let sides = at_ends.map(|[a, b]| a.perp(&b) < 0.0);
    if sides[0] == sides[1] || !keeps(0) || !keeps(1) {
        return false;
    }
    let along = Along {
        curves,
        sizes,
        path: path.path,
        wanted,
    };
    let mut last: Option<[Hull; 2]> = None;
    visit_pieces(curves, path.from, path.to, |piece| {
        let hulls = along.hulls(&piece);
        let bridged = last.is_none_or(|last| along.bridges(&last, &hulls));
        last = Some(hulls);
        bridged && along.keeps_alike_away(&piece, 0)
    })
}

/// A path with the e that is to be proved over all of it.
struct Along<'a> {
    curves: [&'a Curve; 2],
    sizes: [f64; 2],
    path: Path,
    wanted: f64,
}

/// Vectors whose hull holds F of one curve over its greatest rate, and their error.
type Hull = ([Vector2<f64>; 4], f64);

impl Along<'_> {
    fn hulls(&self, piece: &Piece) -> [Hull; 2] {
        [0, 1].map(|side| hull(self.curves[side], self.sizes[side], self.path, piece, side))
    }

    /// Whether F_A and -F_B, over their rates, keep `wanted` from zero in one
    /// half-plane over `piece`, or over its parts.
    fn keeps_alike_away(&self, piece: &Piece, depth: u32) -> bool {
        let [(a, error_a), (b, error_b)] = self.hulls(piece);
        if are_unlike(&a, &b, [error_a, error_b], self.wanted) {
            return true;
        }
        let middle = f64::midpoint(piece.from, piece.to);
        depth < DEEPEST
            && [(piece.from, middle), (middle, piece.to)]
                .into_iter()
                .all(|(from, to)| {
                    let parts = [0, 1]
                        .map(|side| Part::cut(self.curves[side], piece.parts[side].span, from, to));
                    self.keeps_alike_away(&Piece { from, to, parts }, depth + 1)
                })
    }

    /// Whether the same holds of all that lies between the slopes before a joint
    /// and those after it: they may jump there, and will when points move.
    fn bridges(&self, [before_a, before_b]: &[Hull; 2], [after_a, after_b]: &[Hull; 2]) -> bool {
        let errors = [before_a.1.max(after_a.1), before_b.1.max(after_b.1)];
        let (a, b) = ([before_a.0[3], after_a.0[0]], [before_b.0[3], after_b.0[0]]);
        matches!(self.path, Path::Row { .. }) || are_unlike(&a, &b, errors, self.wanted)
    }
}

/// Whether all of `a` and the opposites of all of `b` lie more than `wanted`, and
/// their errors, on one side of a line through zero.
fn are_unlike(a: &[Vector2<f64>], b: &[Vector2<f64>], errors: [f64; 2], wanted: f64) -> bool {
    let mean = |hull: &[Vector2<f64>]| hull.iter().sum::<Vector2<f64>>() / hull.len() as f64;
    let (mean_a, mean_b) = (mean(a), mean(b));
    let (share, _) = telling::nearest_blend([mean_a, -mean_b]);
    let nearest = mean_a * (1.0 - share) - mean_b * share;
    nearest.try_normalize(0.0).is_some_and(|towards| {
        a.iter().all(|a| wanted + errors[0] < towards.dot(a))
            && b.iter().all(|b| wanted + errors[1] < -towards.dot(b))
    })
}

/// The error of what [`over_rates`] gives at `u`.
fn error_at(curve: &Curve, size: f64, path: Path, u: f64) -> f64 {
    match path {
        Path::Diagonal => bounds::PATCH * curve.longest_step(curve.locate(u).0),
        Path::Row { w, .. } => 2.0 * bounds::PATCH * size / chord_rate(spans_between(curve, u, w)),
    }
}

/// The hull of F over `piece`.
fn hull(curve: &Curve, size: f64, path: Path, piece: &Piece, side: usize) -> Hull {
    let part = &piece.parts[side];
    match path {
        Path::Diagonal => {
            let over = 2.0 * part.share;
            let [p, q, r] = part.steps.map(|step| step / over);
            ([p, q, q, r], 2.0 * bounds::PATCH * part.reach / over)
        }
        Path::Row { w, anchors } => {
            let spans = spans_between(curve, piece.from, w).max(spans_between(curve, piece.to, w));
            // Half way round a closed curve both ways are longest.
            let rate = if curve.is_closed() {
                2.0
            } else {
                chord_rate(spans)
            };
            let hull = part.points.map(|point| (point - anchors[side]) / rate);
            (hull, 2.0 * bounds::PATCH * size / rate)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::{Pacing, Placement};
    use crate::grid::GridPoint;
    use crate::profile::{Outline, PathSpan, Profile};

    /// Two lines with a bend too slight for a corner, the one upward and the
    /// other downward: at the joint their directions change sides without ever
    /// having opposed each other.
    #[test]
    fn a_clear_pair_has_no_shortfall() {
        let bent = |by: i32| {
            let to = |x: i32, y: i32| PathSpan::Line {
                to: GridPoint::new(x, y),
            };
            let profile = Profile {
                name: String::new(),
                closed: false,
                outline: Outline::Path {
                    start: GridPoint::new(0, by),
                    spans: vec![to(100_000, 0), to(200_000, by)],
                },
            };
            let curve = Curve::new(&profile, Pacing::Parameter).unwrap();
            assert!(!curve.is_corner(1));
            Ready::new(curve, Placement::Stack)
        };
        assert_eq!(shortfall([&bent(400), &bent(-400)]), None);
    }
}
