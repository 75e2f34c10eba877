//! Spans of an exact path: cut in two, and joined where a joint goes.

use super::{EditError, grid};
use loftkin_kernel::bezier;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::PathSpan;
use nalgebra::Point2;

/// The two parts of a cubic span cut at `t`.
pub(super) fn split(span: [Point2<f64>; 4], t: f64) -> [[Point2<f64>; 4]; 2] {
    bezier::parts(span, |p, q| p + (q - p) * t).into()
}

pub(super) fn split_span(
    span: PathSpan,
    halves: &[[Point2<f64>; 4]; 2],
) -> Result<[PathSpan; 2], EditError> {
    let [one, two] = halves;
    Ok(match span {
        PathSpan::Line { to } => [PathSpan::Line { to: grid(one[3])? }, PathSpan::Line { to }],
        PathSpan::Cubic {
            first: _,
            second: _,
            to,
        } => [
            PathSpan::Cubic {
                first: grid(one[1])?,
                second: grid(one[2])?,
                to: grid(one[3])?,
            },
            PathSpan::Cubic {
                first: grid(two[1])?,
                second: grid(two[2])?,
                to,
            },
        ],
    })
}

pub(super) fn delete_joint(
    start: &mut GridPoint,
    spans: &mut Vec<PathSpan>,
    joint: usize,
    closed: bool,
) {
    let last = spans.len();
    if joint == 0 && !closed {
        *start = spans.remove(0).to();
    } else if joint == last {
        spans.pop();
    } else {
        // The seam of a closed path joins its last span to its first.
        let before = if joint == 0 { last - 1 } else { joint - 1 };
        let origin = if before == 0 {
            *start
        } else {
            spans[before - 1].to()
        };
        let joined = join(origin, spans[before], spans[joint]);
        spans[joint] = joined;
        spans.remove(before);
        if joint == 0 {
            // The first span began at the deleted seam: the path now starts
            // where its joined span does.
            *start = origin;
        }
    }
}

fn join(origin: GridPoint, one: PathSpan, two: PathSpan) -> PathSpan {
    if let (PathSpan::Line { .. }, PathSpan::Line { to }) = (one, two) {
        return PathSpan::Line { to };
    }
    let first = match one {
        PathSpan::Cubic { first, .. } => first,
        PathSpan::Line { .. } => origin,
    };
    let (second, to) = match two {
        PathSpan::Cubic { second, to, .. } => (second, to),
        PathSpan::Line { to } => (to, to),
    };
    PathSpan::Cubic { first, second, to }
}
