//! Pieces: stretches of one curve, or of two paced alike, that no joint of
//! either divides, with their control points and hodograph.

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
    /// The longest component among the span's differences, times the share of
    /// the span that the piece takes: the scale of the error of `steps`.
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
        let points = curve.span(span);
        let steps = differences(&points);
        let longest = steps
            .iter()
            .fold(0.0, |most: f64, step| most.max(step.amax()));
        Self {
            points: cut_points(&points, s, t),
            steps: cut_steps(&steps, s, t).map(|step| step * (t - s)),
            reach: longest * (t - s),
            span,
            local: (s, t),
        }
    }
}

fn differences(points: &[Point2<f64>; 4]) -> [Vector2<f64>; 3] {
    [
        points[1] - points[0],
        points[2] - points[1],
        points[3] - points[2],
    ]
}

/// The blossom of the cubic `p` at three arguments.
fn blossom(p: &[Point2<f64>; 4], arguments: [f64; 3]) -> Point2<f64> {
    let [r, s, t] = arguments;
    let (a, b, c) = (
        mixed(p[0], p[1], r),
        mixed(p[1], p[2], r),
        mixed(p[2], p[3], r),
    );
    mixed(mixed(a, b, s), mixed(b, c, s), t)
}

fn mixed(a: Point2<f64>, b: Point2<f64>, t: f64) -> Point2<f64> {
    a + (b - a) * t
}

/// Control points of the cubic `p` over `s`..`t`; whole ends stay exact.
pub fn cut_points(p: &[Point2<f64>; 4], s: f64, t: f64) -> [Point2<f64>; 4] {
    if s == 0.0 && t == 1.0 {
        return *p;
    }
    [
        if s == 0.0 {
            p[0]
        } else {
            blossom(p, [s, s, s])
        },
        blossom(p, [s, s, t]),
        blossom(p, [s, t, t]),
        if t == 1.0 {
            p[3]
        } else {
            blossom(p, [t, t, t])
        },
    ]
}

/// Coefficients of the quadratic `q` over `s`..`t`.
pub fn cut_steps(q: &[Vector2<f64>; 3], s: f64, t: f64) -> [Vector2<f64>; 3] {
    if s == 0.0 && t == 1.0 {
        return *q;
    }
    let at = |r: f64, t: f64| {
        let (a, b) = (q[0] + (q[1] - q[0]) * r, q[1] + (q[2] - q[1]) * r);
        a + (b - a) * t
    };
    [at(s, s), at(s, t), at(t, t)]
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
    let mut spans = curves.map(|curve| curve.locate(from).0);
    let mut at = from;
    while at < to {
        let ends = [0, 1].map(|side| curves[side].breaks()[spans[side] + 1]);
        let end = ends[0].min(ends[1]).min(to);
        let parts = [0, 1].map(|side| Part::cut(curves[side], spans[side], at, end));
        let piece = Piece {
            from: at,
            to: end,
            parts,
        };
        if !visit(piece) {
            return false;
        }
        for side in 0..2 {
            if ends[side] <= end {
                spans[side] += 1;
            }
        }
        at = end;
    }
    true
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
}
