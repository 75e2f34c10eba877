//! The curve of a drawn profile as the oracle sees it: cubics over breakpoints.
//!
//! Made from nodes or handles alone, without the kernel's curve. Zero handles
//! are taken as they are drawn.

use super::spline::{Cubic, natural, periodic};
use super::{Vector, cross};
use loftkin_kernel::family::Pacing;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};

/// Cubic pieces over ascending parameters from 0 to 1.
#[derive(Clone, Debug)]
pub struct OracleCurve {
    /// The joints: one more than pieces.
    pub breaks: Vec<f64>,
    /// The cubics, each in its own parameter of \[0, 1\].
    pub pieces: Vec<Cubic>,
    /// The parameters of the corners; those of an exact path are not told.
    pub corners: Vec<f64>,
    /// Whether the last piece ends where the first begins.
    pub closed: bool,
}

impl OracleCurve {
    /// The curve of a valid `profile`, paced by `pacing`.
    pub fn new(profile: &Profile, pacing: Pacing) -> Self {
        let (pieces, lengths) = match &profile.outline {
            Outline::Nodes(nodes) => through_nodes(nodes, profile.closed),
            Outline::Path { start, spans } => along_path(*start, spans),
        };
        let count = lengths.len();
        let total: f64 = lengths.iter().sum();
        let mut breaks = vec![0.0];
        let mut run = 0.0;
        for (index, length) in lengths.iter().enumerate() {
            run += length;
            breaks.push(match pacing {
                Pacing::Parameter => run / total,
                Pacing::Node => (index + 1) as f64 / count as f64,
            });
        }
        breaks[count] = 1.0;
        let corners = match &profile.outline {
            Outline::Nodes(nodes) => (0..=count)
                .filter(|joint| nodes[joint % nodes.len()].corner)
                .map(|joint| breaks[joint])
                .collect(),
            Outline::Path { .. } => Vec::new(),
        };
        Self {
            corners,
            breaks,
            pieces,
            closed: profile.closed,
        }
    }

    /// The piece over `from` to `to`, which lie within one piece of this curve.
    pub fn cut(&self, from: f64, to: f64) -> Cubic {
        let middle = 0.5 * (from + to);
        let index = self
            .breaks
            .partition_point(|&at| at <= middle)
            .clamp(1, self.pieces.len())
            - 1;
        let (low, high) = (self.breaks[index], self.breaks[index + 1]);
        let width = high - low;
        let (start, step) = ((from - low) / width, (to - from) / width);
        let [a, b, c, d] = self.pieces[index];
        [
            a + (b + (c + d * start) * start) * start,
            (b + (c * 2.0 + d * (3.0 * start)) * start) * step,
            (c + d * (3.0 * start)) * (step * step),
            d * (step * step * step),
        ]
    }
}

fn vector(point: GridPoint) -> Vector {
    Vector::new(f64::from(point.x), f64::from(point.y))
}

/// Runs of nodes between corners are splines of their own.
fn through_nodes(nodes: &[Node], closed: bool) -> (Vec<Cubic>, Vec<f64>) {
    let points: Vec<Vector> = nodes.iter().map(|node| vector(node.at)).collect();
    let count = points.len();
    let spans = if closed { count } else { count - 1 };
    let chords: Vec<f64> = (0..spans)
        .map(|i| (points[(i + 1) % count] - points[i]).norm())
        .collect();
    let first_corner = nodes.iter().position(|node| node.corner);
    let Some(first) = first_corner.filter(|_| closed).or((!closed).then_some(0)) else {
        return (periodic(&points, &chords), chords);
    };
    let mut pieces = Vec::with_capacity(spans);
    let mut run = vec![points[first]];
    for step in 1..=spans {
        let node = (first + step) % count;
        run.push(points[node]);
        if nodes[node].corner || step == spans {
            let from = step + 1 - run.len();
            let row: Vec<f64> = (from..step).map(|i| chords[(first + i) % spans]).collect();
            pieces.extend(natural(&run, &row));
            run = vec![points[node]];
        }
    }
    pieces.rotate_right(first);
    (pieces, chords)
}

fn along_path(start: GridPoint, spans: &[PathSpan]) -> (Vec<Cubic>, Vec<f64>) {
    let mut from = vector(start);
    let mut pieces = Vec::new();
    let mut lengths = Vec::new();
    for span in spans {
        let to = vector(span.to());
        let (first, second) = match *span {
            PathSpan::Line { .. } => (from + (to - from) / 3.0, to - (to - from) / 3.0),
            PathSpan::Cubic { first, second, .. } => (vector(first), vector(second)),
        };
        pieces.push([
            from,
            (first - from) * 3.0,
            (from - first * 2.0 + second) * 3.0,
            to - from + (first - second) * 3.0,
        ]);
        let chord = (to - from).norm();
        lengths.push(if 0.0 < chord {
            chord
        } else {
            (first - from).norm() + (second - first).norm() + (to - second).norm()
        });
        from = to;
    }
    (pieces, lengths)
}

/// Value of a cubic at t.
pub fn value([a, b, c, d]: &Cubic, t: f64) -> Vector {
    a + (b + (c + d * t) * t) * t
}

/// Derivative of a cubic by t.
pub fn slope([_, b, c, d]: &Cubic, t: f64) -> Vector {
    b + (c * 2.0 + d * (3.0 * t)) * t
}

/// The signed area under the cubic, half the integral of its cross product
/// with its slope: exact by Gauss-Legendre of three points (degree 5).
pub fn area(piece: &Cubic) -> f64 {
    let offset = 0.5 * (0.6f64).sqrt();
    [
        (0.5 - offset, 5.0 / 18.0),
        (0.5, 8.0 / 18.0),
        (0.5 + offset, 5.0 / 18.0),
    ]
    .iter()
    .map(|&(t, weight)| 0.5 * weight * cross(value(piece, t), slope(piece, t)))
    .sum()
}
