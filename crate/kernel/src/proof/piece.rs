//! Pieces: stretches of one curve, or of many paced alike, that no joint of any
//! divides, with their control points and hodograph.

use crate::bezier;
use crate::curve::Curve;
use nalgebra::{Point2, Vector2};

/// One curve over one piece.
#[derive(Clone, Copy, Debug)]
pub struct Part {
    /// Control points of the piece, grid steps.
    pub points: [Point2<f64>; 4],
    /// Differences of consecutive control points, cut from the span's own
    /// differences so that short pieces keep their precision.
    pub steps: [Vector2<f64>; 3],
    /// The share of its span that the piece takes.
    pub share: f64,
    /// The longest component among the span's differences, times `share`: the
    /// scale of the error of `steps`.
    pub reach: f64,
    /// Which span of the curve.
    pub span: usize,
    /// From where to where along the span.
    pub local: (f64, f64),
}

impl Part {
    /// The part of span `span` of `curve` over `from`..`to` of the parameter.
    pub fn cut(curve: &Curve, span: usize, from: f64, to: f64) -> Self {
        let (start, end) = (curve.breaks()[span], curve.breaks()[span + 1]);
        let (s, t) = ((from - start) / (end - start), (to - start) / (end - start));
        // Not t - s, which keeps no digit of a short piece far along its span:
        // neighbouring pieces would then be scaled apart.
        let share = (to - from) / (end - start);
        let points = curve.span(span);
        let steps = differences(&points);
        let longest = steps
            .iter()
            .fold(0.0, |most: f64, step| most.max(step.amax()));
        Self {
            points: cut_points(&points, s, t),
            steps: cut_steps(&steps, s, t).map(|step| step * share),
            share,
            reach: longest * share,
            span,
            local: (s, t),
        }
    }

    /// Whether the curve leaves the start (`end` 0) or reaches the end (1) of this
    /// piece without a handle: its hodograph vanishes right there, exactly.
    pub fn is_bare(&self, end: usize) -> bool {
        let is_end_of_span = if end == 0 {
            self.local.0 == 0.0
        } else {
            self.local.1 == 1.0
        };
        is_end_of_span && self.steps[2 * end] == Vector2::zeros()
    }

    /// The steps without those that vanish for want of a handle. Strictly inside
    /// the piece the hodograph is a sum of these with positive weights, so one
    /// half-plane or cone that holds them holds it too, with its limits at both
    /// ends; and what moves forward but at single places moves forward.
    pub fn headings(&self) -> &[Vector2<f64>] {
        &self.steps[usize::from(self.is_bare(0))..3 - usize::from(self.is_bare(1))]
    }

    /// Coefficients of a quadratic with the direction of the hodograph, at a bare
    /// end with its limit, and the scale of their error.
    ///
    /// With q0 = 0 the hodograph is t (2 (1-t) q1 + t q2), and likewise from the
    /// other end; the linear factor is raised. Its coefficients are sums of at
    /// most two steps.
    pub fn turning(&self) -> ([Vector2<f64>; 3], f64) {
        let [p, q, r] = self.steps;
        let line = match (self.is_bare(0), self.is_bare(1)) {
            (false, false) => return (self.steps, self.reach),
            (true, false) => [q * 2.0, r],
            (false, true) => [p, q * 2.0],
            (true, true) => [q * 2.0; 2],
        };
        let raised = [line[0], (line[0] + line[1]) * 0.5, line[1]];
        (raised, 2.0 * self.reach)
    }
}

fn differences(points: &[Point2<f64>; 4]) -> [Vector2<f64>; 3] {
    [
        points[1] - points[0],
        points[2] - points[1],
        points[3] - points[2],
    ]
}

/// Control points of the cubic `p` over `s`..`t`; whole ends stay exact.
pub fn cut_points(p: &[Point2<f64>; 4], s: f64, t: f64) -> [Point2<f64>; 4] {
    if s == 0.0 && t == 1.0 {
        return *p;
    }
    let at = |arguments: [f64; 3]| bezier::blossom(*p, arguments, |a, b, t| a + (b - a) * t);
    [
        if s == 0.0 { p[0] } else { at([s, s, s]) },
        at([s, s, t]),
        at([s, t, t]),
        if t == 1.0 { p[3] } else { at([t, t, t]) },
    ]
}

/// Coefficients of the quadratic `q` over `s`..`t`; whole ends stay exact.
pub fn cut_steps(q: &[Vector2<f64>; 3], s: f64, t: f64) -> [Vector2<f64>; 3] {
    if s == 0.0 && t == 1.0 {
        return *q;
    }
    let at = |arguments: [f64; 2]| bezier::blossom(*q, arguments, |a, b, t| a + (b - a) * t);
    [
        at([s, s]),
        at([s, t]),
        if t == 1.0 { q[2] } else { at([t, t]) },
    ]
}

/// Calls `visit` for each piece of `curves` over `from`..`to`, in order, with its
/// ends and the span of every curve there, until it returns false; says whether
/// all were visited. `spans` is room for one number a curve.
pub fn walk(
    curves: &[&Curve],
    spans: &mut [usize],
    from: f64,
    to: f64,
    mut visit: impl FnMut(f64, f64, &[usize]) -> bool,
) -> bool {
    for (curve, span) in curves.iter().zip(&mut *spans) {
        *span = curve.locate(from).0;
    }
    let mut at = from;
    while at < to {
        let ends = curves.iter().zip(&*spans);
        let end = ends.fold(to, |end, (curve, span)| end.min(curve.breaks()[span + 1]));
        if !visit(at, end, spans) {
            return false;
        }
        for (curve, span) in curves.iter().zip(&mut *spans) {
            if curve.breaks()[*span + 1] <= end {
                *span += 1;
            }
        }
        at = end;
    }
    true
}

/// The parts of one curve over `from`..`to`, in order.
pub fn parts_of(curve: &Curve, from: f64, to: f64) -> Vec<Part> {
    let mut parts = Vec::new();
    walk(&[curve], &mut [0], from, to, |from, to, spans| {
        parts.push(Part::cut(curve, spans[0], from, to));
        true
    });
    parts
}

/// Both curves of a pair over one piece.
#[derive(Clone, Copy, Debug)]
pub struct Piece {
    /// Where it starts, as a fraction along.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// The two curves.
    pub parts: [Part; 2],
}

/// Calls `visit` for each piece of the pair over `from`..`to`, in order, until
/// it returns false; says whether all were visited.
pub fn visit_pieces(
    curves: [&Curve; 2],
    from: f64,
    to: f64,
    mut visit: impl FnMut(Piece) -> bool,
) -> bool {
    walk(&curves, &mut [0; 2], from, to, |from, to, spans| {
        let parts = [0, 1].map(|side| Part::cut(curves[side], spans[side], from, to));
        visit(Piece { from, to, parts })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Pacing;
    use crate::profile::{Node, Profile};

    fn curve(nodes: &[(i32, i32)]) -> Curve {
        let nodes = nodes.iter().map(|&(x, y)| Node::smooth(x, y)).collect();
        Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap()
    }

    #[test]
    fn pieces_tile_the_stretch_and_follow_the_curves() {
        let one = curve(&[(0, 0), (500, 900), (1400, 1000)]);
        let two = curve(&[(0, 0), (200, 900), (700, 1200), (1500, 900)]);
        let mut ends = vec![0.1];
        visit_pieces([&one, &two], 0.1, 0.9, |piece| {
            assert_eq!(*ends.last().unwrap(), piece.from);
            for (side, curve) in [&one, &two].into_iter().enumerate() {
                let part = &piece.parts[side];
                assert!((part.points[0] - curve.point(piece.from)).norm() < 1e-9);
                assert!((part.points[3] - curve.point(piece.to)).norm() < 1e-9);
                for k in 0..3 {
                    let step = part.points[k + 1] - part.points[k];
                    assert!((step - part.steps[k]).norm() < 1e-9);
                }
            }
            ends.push(piece.to);
            true
        });
        assert_eq!(ends.len(), 5);
        assert_eq!(ends[4], 0.9);
    }

    /// A straight line at even speed: each third of a piece is a third of the
    /// way, however short the piece and wherever it lies.
    #[test]
    fn short_pieces_keep_their_length() {
        let corners = [(0, 0), (70_000, 0), (100_000, 0)];
        let nodes = corners.map(|(x, y)| Node::corner(x, y)).to_vec();
        let line = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
        let joint = line.breaks()[1];
        let step = 1.0 / 1_099_511_627_776.0;
        for (from, to) in [(joint - step, joint), (joint, joint + step)] {
            walk(&[&line], &mut [0], from, to, |from, to, spans| {
                let span = spans[0];
                let part = Part::cut(&line, span, from, to);
                let length = line.breaks()[span + 1] - line.breaks()[span];
                let [a, _, _, d] = line.span(span);
                let exact = (d - a).x / 3.0 * ((to - from) / length);
                for step in part.steps {
                    assert!((step.x - exact).abs() < 32.0 * f64::EPSILON * part.reach);
                }
                true
            });
        }
    }
}
