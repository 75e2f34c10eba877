//! Two oracle curves cut at their common breakpoints, and how far apart two
//! places of one section lie, per parameter between them.
//!
//! The divided difference `G(u, w) = (C(u) - C(w)) / (u - w)` is worked out
//! without cancellation inside one piece and across one joint, so that small
//! loops near a fold are told from the trivial `u = w`.

use super::curve::{OracleCurve, slope, value};
use super::spline::Cubic;
use super::{Vector, cross};
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::Profile;

/// Breakpoints closer than this are one: rounding of the same joint.
const SAME_BREAK: f64 = 1e-11;

/// Fewest pieces of a pair: two neighbours never meet at both ends.
const FEWEST_PIECES: usize = 4;

/// The loft of two profiles, piece by piece.
#[derive(Clone, Debug)]
pub struct OraclePair {
    /// The common joints: one more than pieces.
    pub breaks: Vec<f64>,
    /// Whether either profile has a corner at the joint; one a joint.
    pub corners: Vec<bool>,
    /// The pieces of the first profile.
    pub first: Vec<Cubic>,
    /// The pieces of the second profile.
    pub second: Vec<Cubic>,
    /// Whether the profiles are closed.
    pub closed: bool,
    /// The larger side of the two bounding boxes of the joints, in grid steps.
    pub size: f64,
}

/// A divided difference of both curves with its derivatives by u and by w.
#[derive(Clone, Copy, Debug)]
pub struct Difference {
    /// Of the first curve: value, by u, by w.
    pub first: [Vector; 3],
    /// Of the second curve: value, by u, by w.
    pub second: [Vector; 3],
}

impl Difference {
    /// The difference of section `v`: value, by u, by w.
    pub fn at(&self, v: f64) -> [Vector; 3] {
        std::array::from_fn(|i| self.first[i] * (1.0 - v) + self.second[i] * v)
    }

    /// The cross and the dot product of the two values: a section between
    /// meets itself here exactly when cross is 0 and dot is not positive.
    pub fn turn(&self) -> (f64, f64) {
        (
            cross(self.first[0], self.second[0]),
            self.first[0].dot(&self.second[0]),
        )
    }

    /// The fraction across at which two antiparallel values cancel.
    pub fn balance(&self) -> f64 {
        let (a, b) = (self.first[0].norm(), self.second[0].norm());
        if 0.0 < a + b { a / (a + b) } else { 0.5 }
    }
}

impl OraclePair {
    /// The loft of two valid profiles.
    pub fn new(first: &Profile, second: &Profile, pacing: Pacing) -> Self {
        let curves = [first, second].map(|profile| OracleCurve::new(profile, pacing));
        Self::of_curves(&curves[0], &curves[1])
    }

    /// The loft of two curves, both open or both closed.
    pub fn of_curves(a: &OracleCurve, b: &OracleCurve) -> Self {
        let breaks = common_breaks(&[a, b]);
        let cuts = |curve: &OracleCurve| -> Vec<Cubic> {
            breaks
                .windows(2)
                .map(|ends| curve.cut(ends[0], ends[1]))
                .collect()
        };
        let (first, second) = (cuts(a), cuts(b));
        let corners = common_corners(&[a, b], &breaks);
        let size = extent(&first).max(extent(&second));
        Self {
            closed: a.closed,
            corners,
            breaks,
            first,
            second,
            size,
        }
    }

    /// One curve lofted to itself, given by its pieces over `breaks`.
    pub fn of_one_curve(
        breaks: Vec<f64>,
        corners: Vec<bool>,
        pieces: Vec<Cubic>,
        closed: bool,
    ) -> Self {
        Self {
            size: extent(&pieces),
            second: pieces.clone(),
            first: pieces,
            breaks,
            corners,
            closed,
        }
    }

    /// One profile lofted to itself: every section is the profile.
    pub fn alone(profile: &Profile, pacing: Pacing) -> Self {
        Self::new(profile, profile, pacing)
    }

    /// How many pieces there are.
    pub fn piece_count(&self) -> usize {
        self.first.len()
    }

    /// The piece that holds `u` and the fraction along it.
    pub fn locate(&self, u: f64) -> (usize, f64) {
        let index = self
            .breaks
            .partition_point(|&at| at <= u)
            .clamp(1, self.piece_count())
            - 1;
        (index, (u - self.breaks[index]) / self.width(index))
    }

    /// The length of piece `index` in u.
    pub fn width(&self, index: usize) -> f64 {
        self.breaks[index + 1] - self.breaks[index]
    }

    /// The parameter at fraction `t` of piece `index`.
    pub fn along(&self, index: usize, t: f64) -> f64 {
        self.breaks[index] + self.width(index) * t
    }

    /// The parameter brought back into \[0, 1\]: round the ring, or to the end.
    pub fn wrapped(&self, u: f64) -> f64 {
        if self.closed {
            u.rem_euclid(1.0)
        } else {
            u.clamp(0.0, 1.0)
        }
    }

    /// The way from `w` to `u`, the short way round when closed.
    pub fn way(&self, w: f64, u: f64) -> f64 {
        let way = u - w;
        if self.closed { way - way.round() } else { way }
    }

    /// The point of section `v` at `u`, in grid steps.
    pub fn point(&self, u: f64, v: f64) -> Vector {
        let (index, t) = self.locate(u);
        value(&self.first[index], t) * (1.0 - v) + value(&self.second[index], t) * v
    }

    /// The derivatives by u of both curves at fraction `t` of piece `index`.
    pub fn slopes(&self, index: usize, t: f64) -> (Vector, Vector) {
        let width = self.width(index);
        (
            slope(&self.first[index], t) / width,
            slope(&self.second[index], t) / width,
        )
    }

    /// The divided difference between `u` and `w`.
    pub fn difference(&self, u: f64, w: f64) -> Difference {
        let ((i, t), (j, s)) = (self.locate(u), self.locate(w));
        let of = |pieces: &[Cubic]| {
            if i == j {
                inside(&pieces[i], t, s, self.width(i))
            } else if j == self.next(i) && self.joins(i) {
                let [g, by_w, by_u] =
                    across(&pieces[i], &pieces[j], t, s, (self.width(i), self.width(j)));
                [g, by_u, by_w]
            } else if i == self.next(j) && self.joins(j) {
                across(&pieces[j], &pieces[i], s, t, (self.width(j), self.width(i)))
            } else {
                let way = self.way(w, u);
                let gap = (value(&pieces[i], t) - value(&pieces[j], s)) / way;
                let by_u = (slope(&pieces[i], t) / self.width(i) - gap) / way;
                let by_w = (gap - slope(&pieces[j], s) / self.width(j)) / way;
                [gap, by_u, by_w]
            }
        };
        Difference {
            first: of(&self.first),
            second: of(&self.second),
        }
    }

    fn next(&self, index: usize) -> usize {
        (index + 1) % self.piece_count()
    }

    fn joins(&self, index: usize) -> bool {
        self.closed || index + 1 < self.piece_count()
    }
}

/// The joints of all curves, each once, and so many more that two neighbouring
/// pieces never meet at both ends.
pub fn common_breaks(curves: &[&OracleCurve]) -> Vec<f64> {
    let mut all: Vec<f64> = curves
        .iter()
        .flat_map(|curve| curve.breaks.iter().copied())
        .collect();
    all.sort_by(f64::total_cmp);
    let mut breaks = vec![0.0];
    for at in all {
        if SAME_BREAK < at - breaks[breaks.len() - 1] && SAME_BREAK < 1.0 - at {
            breaks.push(at);
        }
    }
    breaks.push(1.0);
    while breaks.len() <= FEWEST_PIECES {
        breaks = halved(&breaks);
    }
    breaks
}

/// Whether any of the curves has a corner at each of `breaks`.
pub fn common_corners(curves: &[&OracleCurve], breaks: &[f64]) -> Vec<bool> {
    let near = |at: f64| move |corner: &f64| (corner - at).abs() <= SAME_BREAK;
    let any = |at: f64| curves.iter().flat_map(|curve| &curve.corners).any(near(at));
    breaks.iter().map(|&at| any(at)).collect()
}

fn halved(breaks: &[f64]) -> Vec<f64> {
    let mut finer = vec![breaks[0]];
    for ends in breaks.windows(2) {
        finer.extend([0.5 * (ends[0] + ends[1]), ends[1]]);
    }
    finer
}

fn extent(pieces: &[Cubic]) -> f64 {
    let joints = || {
        pieces
            .iter()
            .flat_map(|piece| [value(piece, 0.0), value(piece, 0.5), value(piece, 1.0)])
    };
    let low = joints().reduce(|a, b| a.inf(&b)).unwrap_or_default();
    let high = joints().reduce(|a, b| a.sup(&b)).unwrap_or_default();
    (high - low).max()
}

/// Both places in one piece: `b + c (t + s) + d (t^2 + t s + s^2)`.
fn inside(&[_, b, c, d]: &Cubic, t: f64, s: f64, width: f64) -> [Vector; 3] {
    let gap = b + c * (t + s) + d * (t * t + t * s + s * s);
    let by = |x: f64, y: f64| c + d * (2.0 * x + y);
    [
        gap / width,
        by(t, s) / (width * width),
        by(s, t) / (width * width),
    ]
}

/// One place at `t` of a piece, the other at `s` of the next: both are taken
/// from the joint, so that nothing cancels. Value, by the later, by the earlier.
fn across(
    before: &Cubic,
    after: &Cubic,
    t: f64,
    s: f64,
    (width, next_width): (f64, f64),
) -> [Vector; 3] {
    let &[_, b, c, d] = before;
    let r = 1.0 - t;
    let to_joint = (b + c * (2.0 - r) + d * (3.0 - 3.0 * r + r * r)) * r;
    let &[_, e, f, g] = after;
    let from_joint = (e + (f + g * s) * s) * s;
    let way = r * width + s * next_width;
    let gap = (to_joint + from_joint) / way;
    let by_later = (slope(after, s) / next_width - gap) / way;
    let by_earlier = (gap - slope(before, t) / width) / way;
    [gap, by_later, by_earlier]
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::Node;

    fn pair(closed: bool) -> OraclePair {
        let points = [(0, 0), (300, -80), (520, 210), (330, 500), (-40, 390)];
        let nodes = |scale: i32| {
            points
                .iter()
                .map(|&(x, y)| Node::smooth(x * scale, y + x / scale))
                .collect()
        };
        let profile = |scale| {
            if closed {
                Profile::closed(nodes(scale))
            } else {
                Profile::open(nodes(scale))
            }
        };
        OraclePair::new(&profile(1), &profile(3), Pacing::Parameter)
    }

    #[test]
    fn differences_agree_with_their_definition() {
        for closed in [false, true] {
            let pair = pair(closed);
            for i in 0..60 {
                for j in 0..60 {
                    let (u, w) = (f64::from(i) / 60.0 + 1e-3, f64::from(j) / 60.0 + 3e-3);
                    let way = pair.way(w, u);
                    // Half-way round the ring the shorter way changes sides.
                    if 0.499 < way.abs() && closed {
                        continue;
                    }
                    let difference = pair.difference(u, w);
                    let plain = (pair.point(u, 0.3) - pair.point(w, 0.3)) / way;
                    assert!((difference.at(0.3)[0] - plain).norm() < 1e-8 * pair.size);
                    let step = 1e-6;
                    let by_u = (pair.difference(u + step, w).at(0.3)[0]
                        - pair.difference(u - step, w).at(0.3)[0])
                        / (2.0 * step);
                    let by_w = (pair.difference(u, w + step).at(0.3)[0]
                        - pair.difference(u, w - step).at(0.3)[0])
                        / (2.0 * step);
                    assert!(
                        (difference.at(0.3)[1] - by_u).norm() < 1e-3 * pair.size,
                        "{u} {w}"
                    );
                    assert!(
                        (difference.at(0.3)[2] - by_w).norm() < 1e-3 * pair.size,
                        "{u} {w}"
                    );
                }
            }
        }
    }
}
