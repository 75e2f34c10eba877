//! Patches: the difference of two places of a section as a Bernstein net.
//!
//! A patch holds, for both curves of a pair, one vector polynomial F(x, y) of
//! degree (3, 3) over a box. Its zeros in a blend (1-v) F_A + v F_B are exactly
//! the places where the section at v meets itself (or its tangent vanishes),
//! with no trivial zero left. Three kinds, one for each way that two places of
//! a curve can lie to each other:
//!
//! * *apart*: C(x) - C(y) on two pieces without a common end;
//! * *self*: (C(x) - C(y)) / (x - y) on one piece, which is
//!   d(x,x) + d(x,y) + d(y,y) with d the blossom of the hodograph, of degree
//!   (2, 2), raised;
//! * *joint*: two pieces with a common end, s before it and t after it. There
//!   C(t) - C(s) = s G(s) + t H(t), and both charts (s, t) = (x, x y) and
//!   (x y, x) divide by x: K = G(x) + y H(x y) and K = H(x) + y G(x y), of
//!   degree (2, 3), raised. K(0, y) decides a fold at a corner.

use super::bounds;
use super::net::{Extent, Net, raised};
use super::piece::{Part, Piece};
use nalgebra::Vector2;

/// Which curve places a patch compares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Chart {
    /// x along the first piece, y along the second.
    Apart,
    /// Both along one piece.
    Itself,
    /// x back from the joint on the piece before, x y forward after it.
    JointBefore,
    /// x forward from the joint on the piece after, x y back before it.
    JointAfter,
}

/// One patch, or a part of it.
#[derive(Clone, Copy, Debug)]
pub struct Patch {
    /// One net a curve.
    pub nets: [Net; 2],
    /// The part of \[0, 1\] that x covers.
    pub x: (f64, f64),
    /// The part of \[0, 1\] that y covers.
    pub y: (f64, f64),
    /// How often it was cut.
    pub splits: u8,
    /// Where each net vanishes for want of a handle.
    pub bare: [Bare; 2],
    /// Whether one net was divided by x once more than the other (see
    /// [`blown_up`]): right at x = 0 they have no fraction across in common.
    pub uneven: bool,
}

/// Whether the first and the last coefficient of a net are exactly zero because
/// a curve has no handle there: x = y = 0 or 1 of a piece with itself, or the
/// corner x = y = 0 of a joint's chart. At such a corner both places of the curve
/// are one, so that its own vanishing there is no contact.
pub type Bare = [bool; 2];

/// A net with where it vanishes so.
pub type BareNet = (Net, Bare);

impl Patch {
    fn whole(nets: [Net; 2], bare: [Bare; 2]) -> Self {
        Self {
            nets,
            x: (0.0, 1.0),
            y: (0.0, 1.0),
            splits: 0,
            bare,
            uneven: false,
        }
    }

    /// Whether it is to be cut across x, the direction in which it varies more, for
    /// its length: over its
    /// own variation a net that hardly varies but one way would have it cut that
    /// way for ever.
    pub fn varies_along_x(&self) -> bool {
        let (ax, ay) = self.nets[0].variation();
        let (bx, by) = self.nets[1].variation();
        let [a, b] = [0, 1].map(|side| self.nets[side].length());
        ay * b + by * a <= ax * b + bx * a
    }

    /// The two parts of a cut along x or along y.
    pub fn halves(&self, along_x: bool) -> (Self, Self) {
        let [(a_low, a_high), (b_low, b_high)] = self.nets.map(|net| net.halves(along_x));
        let (low, high) = self.extent().halves(along_x);
        let part = |extent: Extent, nets, bare| Self {
            nets,
            x: extent.x,
            y: extent.y,
            splits: self.splits + 1,
            bare,
            uneven: self.uneven,
        };
        // Either part keeps one corner of the two.
        let bare_low = self.bare.map(|[first, _]| [first, false]);
        let bare_high = self.bare.map(|[_, last]| [false, last]);
        (
            part(low, [a_low, b_low], bare_low),
            part(high, [a_high, b_high], bare_high),
        )
    }

    fn extent(&self) -> Extent {
        Extent {
            x: self.x,
            y: self.y,
        }
    }
}

/// The net of two parts of one curve without a common end.
pub fn apart_net(one: &Part, other: &Part) -> Net {
    Net::from_fn(|i, j| one.points[i] - other.points[j])
}

/// The net of one part with itself.
pub fn own_net(part: &Part) -> Net {
    let q = &part.steps;
    let (low, high) = ((q[0] + q[1]) * 0.5, (q[1] + q[2]) * 0.5);
    let middle = (low + high) * 0.5;
    let mixed = [[q[0], low, q[1]], [low, middle, high], [q[1], high, q[2]]];
    let rows: [[Vector2<f64>; 4]; 3] =
        std::array::from_fn(|i| raised(std::array::from_fn(|j| q[i] + q[j] + mixed[i][j])));
    Net::from_fn(|i, j| raised([rows[0][j], rows[1][j], rows[2][j]])[i])
}

/// The nets of both charts of a joint, [`Chart::JointBefore`] first.
fn joint_nets(before: &Part, after: &Part) -> [Net; 2] {
    let [p, q, r] = before.steps;
    let (back, forth) = (from_joint([r, q, p]), from_joint(after.steps));
    [chart(back, forth), chart(forth, back)]
}

/// The nets of both charts of a joint, and where they vanish for want of a
/// handle.
///
/// Without a handle on one side, G(0) or H(0) is zero, and so is K at the corner
/// x = y = 0 of one chart. Without both, all of K(0, y) is zero: then G(s) = s G'(s)
/// and H(t) = t H'(t), and K divided by x once more is G'(x) + y^2 H'(x y).
pub fn blown_up(before: &Part, after: &Part) -> [BareNet; 2] {
    let bare = [before.is_bare(1), after.is_bare(0)];
    if bare == [true; 2] {
        let [p, q, r] = before.steps;
        let ([_, g, h], [_, i, j]) = (from_joint([r, q, p]), from_joint(after.steps));
        let (back, forth) = ([g * 2.0, h], [i * 2.0, j]);
        return [flat_chart(back, forth), flat_chart(forth, back)].map(|net| (net, [false; 2]));
    }
    let [one, other] = joint_nets(before, after);
    [(one, [bare[0], false]), (other, [bare[1], false])]
}

/// `G(x) + y^2 H(x y)` for linear G and H as a net of degree (3, 3).
fn flat_chart(g: [Vector2<f64>; 2], h: [Vector2<f64>; 2]) -> Net {
    Net::from_fn(|i, j| {
        let at = |x: f64| {
            let cube = (h[1] - h[0]) * (x * CUBE[j]);
            g[0] + (g[1] - g[0]) * x + h[0] * SQUARE[j] + cube
        };
        at(LINE[i])
    })
}

/// Where the net of a piece with itself vanishes for want of a handle.
pub fn own_bare(part: &Part) -> Bare {
    [0, 1].map(|end| part.is_bare(end))
}

/// The patch of two pieces without a common end, and the error of each net.
pub fn apart(one: &Piece, other: &Piece, sizes: [f64; 2]) -> (Patch, [f64; 2]) {
    let nets = [0, 1].map(|side| apart_net(&one.parts[side], &other.parts[side]));
    let patch = Patch::whole(nets, [[false; 2]; 2]);
    (patch, sizes.map(|size| bounds::PATCH * size))
}

/// The patch of one piece with itself, and the error of each net.
pub fn itself(piece: &Piece) -> (Patch, [f64; 2]) {
    let parts = &piece.parts;
    let nets = [0, 1].map(|side| own_net(&parts[side]));
    let errors = [0, 1].map(|side| bounds::PATCH * parts[side].reach);
    let bare = [0, 1].map(|side| own_bare(&parts[side]));
    (Patch::whole(nets, bare), errors)
}

/// The two charts of a joint, `before` and `after` it, and the error of each net.
pub fn joint(before: &Piece, after: &Piece) -> ([(Chart, Patch); 2], [f64; 2]) {
    let [a, b] = [0, 1].map(|side| blown_up(&before.parts[side], &after.parts[side]));
    let divided = [0, 1].map(|side| before.parts[side].is_bare(1) && after.parts[side].is_bare(0));
    let patch = |k: usize| Patch {
        uneven: divided[0] != divided[1],
        ..Patch::whole([a[k].0, b[k].0], [a[k].1, b[k].1])
    };
    let errors =
        [0, 1].map(|side| bounds::PATCH * before.parts[side].reach.max(after.parts[side].reach));
    let charts = [
        (Chart::JointBefore, patch(0)),
        (Chart::JointAfter, patch(1)),
    ];
    (charts, errors)
}

/// (C(t) - C(0)) / t of a piece with differences `q`, counted from the joint.
fn from_joint(q: [Vector2<f64>; 3]) -> [Vector2<f64>; 3] {
    [q[0] * 3.0, (q[0] + q[1]) * 1.5, q[0] + q[1] + q[2]]
}

/// t, t^2 and t^3 as cubics in Bernstein form.
const LINE: [f64; 4] = [0.0, 1.0 / 3.0, 2.0 / 3.0, 1.0];
const SQUARE: [f64; 4] = [0.0, 0.0, 1.0 / 3.0, 1.0];
const CUBE: [f64; 4] = [0.0, 0.0, 0.0, 1.0];

/// `G(x) + y H(x y)` as a net of degree (3, 3).
///
/// In powers H(t) = c0 + c1 t + c2 t^2, so y H(x y) = c0 y + c1 x y^2 +
/// c2 x^2 y^3; the monomial x^a y^b has the coefficients
/// C(i,a)/C(2,a) · C(j,b)/C(3,b) of degree (2, 3).
fn chart(g: [Vector2<f64>; 3], h: [Vector2<f64>; 3]) -> Net {
    let (c0, c1, c2) = (h[0], (h[1] - h[0]) * 2.0, h[0] - h[1] * 2.0 + h[2]);
    let at = |i: usize, j: usize| {
        let square = if i == 2 { CUBE[j] } else { 0.0 };
        g[i] + c0 * LINE[j] + c1 * (i as f64 * 0.5 * SQUARE[j]) + c2 * square
    };
    Net::from_fn(|i, j| raised([at(0, j), at(1, j), at(2, j)])[i])
}

/// From where to where along the two pieces of a patch run, in the order of
/// its chart.
pub type Ends = [(f64, f64); 2];

/// The fractions along that the point (x, y) of a patch compares, the lower
/// first.
pub fn places(chart: Chart, x: f64, y: f64, ends: &Ends) -> (f64, f64) {
    let [one, other] = *ends;
    let (one_length, other_length) = (one.1 - one.0, other.1 - other.0);
    let (u, w) = match chart {
        Chart::Apart => (one.0 + one_length * x, other.0 + other_length * y),
        Chart::Itself => (one.0 + one_length * x, one.0 + one_length * y),
        Chart::JointBefore => (one.1 - one_length * x, other.0 + other_length * x * y),
        Chart::JointAfter => (one.1 - one_length * x * y, other.0 + other_length * x),
    };
    (u.min(w), u.max(w))
}

/// The parameter of the joint itself, when x lies on it: both places are one
/// there, though a closing joint counts them 0 and 1.
pub fn joint_at(chart: Chart, x: f64, ends: &Ends) -> Option<f64> {
    let is_joint = matches!(chart, Chart::JointBefore | Chart::JointAfter);
    (is_joint && x == 0.0).then_some(ends[1].0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curve::Curve;
    use crate::family::Pacing;
    use crate::profile::{Node, Profile};
    use crate::proof::piece::visit_pieces;

    fn pieces() -> (Curve, Vec<Piece>) {
        let nodes = [(0, 0), (500, 900), (1400, 1000), (1800, -300)]
            .map(|(x, y)| Node::smooth(x, y))
            .to_vec();
        let curve = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
        let mut pieces = Vec::new();
        visit_pieces([&curve, &curve], 0.0, 1.0, |piece| {
            pieces.push(piece);
            true
        });
        (curve, pieces)
    }

    fn value(net: &Net, x: f64, y: f64) -> Vector2<f64> {
        let weights = |t: f64| {
            let s = 1.0 - t;
            [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t]
        };
        let (p, q) = (weights(x), weights(y));
        (0..16).fold(Vector2::zeros(), |sum, index| {
            sum + net.at(index) * (p[index / 4] * q[index % 4])
        })
    }

    #[test]
    fn every_chart_is_the_difference_of_its_places() {
        let (curve, pieces) = pieces();
        let check = |chart, patch: &Patch, one: &Piece, other: &Piece| {
            for (x, y) in [(0.3, 0.8), (0.9, 0.2), (0.5, 0.55)] {
                let ends = [(one.from, one.to), (other.from, other.to)];
                let (u, w) = places(chart, x, y, &ends);
                let chord = curve.point(u) - curve.point(w);
                let value = value(&patch.nets[0], x, y);
                let sine = chord.perp(&value).abs() / (chord.norm() * value.norm());
                assert!(sine < 1e-9, "{chart:?} at {x}, {y}: {sine}");
            }
        };
        let (patch, _) = apart(&pieces[0], &pieces[2], [1.0; 2]);
        check(Chart::Apart, &patch, &pieces[0], &pieces[2]);
        let (patch, _) = itself(&pieces[1]);
        check(Chart::Itself, &patch, &pieces[1], &pieces[1]);
        let (charts, _) = joint(&pieces[0], &pieces[1]);
        for (chart, patch) in charts {
            check(chart, &patch, &pieces[0], &pieces[1]);
        }
    }

    #[test]
    fn cutting_keeps_the_values() {
        let (_, pieces) = pieces();
        let (patch, _) = apart(&pieces[0], &pieces[2], [1.0; 2]);
        let (low, high) = patch.halves(patch.varies_along_x());
        let (first, second) = low.halves(low.varies_along_x());
        for part in [low, high, first, second] {
            let at = |(from, to): (f64, f64)| from + (to - from) * 0.3;
            let whole = value(&patch.nets[0], at(part.x), at(part.y));
            assert!((whole - value(&part.nets[0], 0.3, 0.3)).norm() < 1e-9);
        }
    }
}
