//! The axis of a ring: every section keeps off it exactly when both profiles do.
//!
//! The distance x of a section point is (1-v) times that of one profile plus v
//! times that of the other, so it is positive everywhere in between when it is
//! on both. The question belongs to one profile alone and is settled once.

use super::bounds;
use crate::bezier;
use crate::curve::Curve;

/// Bisections of one span; 2^-40 of a span is far below the grid.
const DEEPEST: u32 = 40;

/// Whether a profile keeps off the axis of its ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AxisState {
    /// Proved: x is positive everywhere.
    Free,
    /// At this parameter x is zero or less: checked.
    Reached {
        /// The fraction along.
        along: f64,
    },
    /// Closer than rounding can tell.
    Open {
        /// The fraction along.
        along: f64,
    },
}

/// Settles whether `curve` keeps off the axis x = 0 of the drawing.
pub fn keeps_off(curve: &Curve) -> AxisState {
    let shift = curve.centre().x;
    let size = curve
        .controls()
        .iter()
        .fold(0.0, |most: f64, point| most.max((point.x + shift).abs()));
    // Nodes are exact, so a node on the axis is on it without a doubt.
    for (index, &along) in curve.breaks().iter().enumerate() {
        if curve.controls()[3 * index].x + shift <= 0.0 {
            return AxisState::Reached { along };
        }
    }
    let error = bounds::ABSCISSA * size;
    let mut open = None;
    for span in 0..curve.span_count() {
        let x = curve.span(span).map(|point| point.x + shift);
        let at = |t: f64| {
            let (from, to) = (curve.breaks()[span], curve.breaks()[span + 1]);
            from + (to - from) * t
        };
        match span_keeps_off(x, 0.0, 1.0, error, 0) {
            AxisState::Free => {}
            AxisState::Reached { along } => return AxisState::Reached { along: at(along) },
            AxisState::Open { along } => open = open.or(Some(at(along))),
        }
    }
    open.map_or(AxisState::Free, |along| AxisState::Open { along })
}

fn span_keeps_off(x: [f64; 4], from: f64, to: f64, error: f64, depth: u32) -> AxisState {
    if x.iter().all(|&x| error < x) {
        return AxisState::Free;
    }
    for (value, along) in [(x[0], from), (x[3], to)] {
        if value < -error {
            return AxisState::Reached { along };
        }
    }
    if DEEPEST <= depth {
        return AxisState::Open { along: from };
    }
    let (left, right) = bezier::parts(x, f64::midpoint);
    let middle = f64::midpoint(from, to);
    let first = span_keeps_off(left, from, middle, error, depth + 1);
    if matches!(first, AxisState::Reached { .. }) {
        return first;
    }
    // An open half ends the search for a proof; the other may still hold a witness.
    let second_depth = if first == AxisState::Free {
        depth + 1
    } else {
        DEEPEST
    };
    match span_keeps_off(right, middle, to, error, second_depth) {
        AxisState::Free => first,
        second => second,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Pacing;
    use crate::profile::{Node, Profile};

    fn state(xs: [i32; 3]) -> AxisState {
        let nodes = vec![
            Node::smooth(xs[0], 0),
            Node::smooth(xs[1], 1000),
            Node::smooth(xs[2], 2000),
        ];
        keeps_off(&Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap())
    }

    #[test]
    fn a_profile_on_the_right_keeps_off() {
        assert_eq!(state([100, 1, 100]), AxisState::Free);
    }

    #[test]
    fn a_node_on_the_axis_reaches_it() {
        assert_eq!(state([100, 400, 0]), AxisState::Reached { along: 1.0 });
    }

    #[test]
    fn a_bulge_between_nodes_reaches_it() {
        let nodes = [(900, 0), (20, 1000), (20, 2000), (900, 3000)]
            .map(|(x, y)| Node::smooth(x, y))
            .to_vec();
        let curve = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
        let AxisState::Reached { along } = keeps_off(&curve) else {
            panic!("the bulge crosses the axis")
        };
        assert!((curve.point(along) + curve.centre()).x < 0.0);
    }
}
