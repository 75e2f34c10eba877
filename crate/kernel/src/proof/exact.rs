//! Contacts that whole numbers decide.
//!
//! Nodes and drawn handles are whole or half grid steps (see [`crate::curve`]), so
//! chords between nodes and directions at nodes are known without rounding. Where
//! two of one curve belong to the same parameters as two of the other, whether they
//! oppose is a question about integers: a section with two nodes on one point, or
//! without a direction at a node or along a straight span, is certain even where it
//! is no more than a touch and no sign changes beside it. The same goes for a node of
//! one profile that lies on another node of it, or on a straight span.

use super::telling::{crossing_alone, crossing_at, fold_at};
use crate::curve::Curve;
use crate::verdict::Fault;
use nalgebra::Point2;

/// Handles this near to the thirds of a chord, in grid steps, make a straight span:
/// others are a sixth of a step off at least, and rounding is below 1e-7.
const STRAIGHT: f64 = 1e-6;

/// Coordinates beyond this, in half grid steps, are left alone: what is drawn stays
/// below 2e8.
const FURTHEST: f64 = 1e12;

/// A vector in half grid steps.
type Exact = [i64; 2];

/// A fold or a crossing that is certain by whole numbers alone, when there is one.
pub fn exact_contact(curves: [&Curve; 2]) -> Option<Fault> {
    fold_at_joints(curves)
        .or_else(|| fold_of_straight_spans(curves))
        .or_else(|| joints_that_meet(curves))
}

/// Two joints of one curve on the very same point.
pub fn joint_on_joint(curve: &Curve) -> Option<Fault> {
    let joints = curve.span_count() + usize::from(!curve.is_closed());
    let at = |joint: usize| curve.controls()[3 * joint];
    (1..joints).find_map(|later| {
        (0..later)
            .find(|&earlier| at(earlier) == at(later))
            .map(|earlier| crossing_alone(curve, curve.breaks()[earlier], curve.breaks()[later]))
    })
}

/// A joint of one curve on a straight span that it does not belong to.
pub fn joint_on_span(curve: &Curve) -> Option<Fault> {
    let last = curve.span_count();
    let is_beside = |joint: usize, span: usize| {
        let same = |one: usize| one == joint || (curve.is_closed() && one % last == joint % last);
        same(span) || same(span + 1)
    };
    (0..last).find_map(|span| {
        let chord = straight(curve, span)?;
        let from = joint(curve, span)?;
        (0..=last)
            .filter(|&at| !is_beside(at, span))
            .find_map(|at| {
                let share = share_along(chord, between(from, joint(curve, at)?))?;
                let (start, end) = (curve.breaks()[span], curve.breaks()[span + 1]);
                let other = start + (end - start) * share;
                let along = curve.breaks()[at];
                Some(crossing_alone(curve, along.min(other), along.max(other)))
            })
    })
}

/// The share of `chord` at which `way` ends, when it ends on it.
fn share_along(chord: Exact, way: Exact) -> Option<f64> {
    let ([x, y], [p, q]) = (chord.map(i128::from), way.map(i128::from));
    let (reach, square) = (x * p + y * q, x * x + y * y);
    (x * q == y * p && 0 <= reach && reach <= square).then(|| reach as f64 / square as f64)
}

/// Whether some blend of two vectors vanishes, and neither is zero.
fn oppose(a: Exact, b: Exact) -> bool {
    let ([ax, ay], [bx, by]) = (a.map(i128::from), b.map(i128::from));
    ax * by == ay * bx && ax * bx + ay * by < 0
}

fn between(from: Exact, to: Exact) -> Exact {
    [to[0] - from[0], to[1] - from[1]]
}

/// A section with two joints on one point.
fn joints_that_meet(curves: [&Curve; 2]) -> Option<Fault> {
    let joints: Vec<(f64, [Exact; 2])> = shared_joints(curves)
        .filter_map(|(along, [one, other])| {
            let places = [joint(curves[0], one)?, joint(curves[1], other)?];
            Some((along, places))
        })
        .collect();
    let pairs = joints.iter().enumerate();
    pairs
        .flat_map(|(index, later)| joints[..index].iter().map(move |one| (one, later)))
        .find(|((_, from), (_, to))| oppose(between(from[0], to[0]), between(from[1], to[1])))
        .map(|((u, _), (w, _))| crossing_at(curves, *u, *w))
}

/// A section that has no direction where it leaves a joint or arrives there.
fn fold_at_joints(curves: [&Curve; 2]) -> Option<Fault> {
    let opposes = |spans: [Option<usize>; 2], direction: fn(&Curve, usize) -> Option<Exact>| {
        let [Some(one), Some(other)] = spans else {
            return false;
        };
        let directions = (direction(curves[0], one), direction(curves[1], other));
        matches!(directions, (Some(a), Some(b)) if oppose(a, b))
    };
    shared_joints(curves)
        .find(|&(_, joints)| {
            let after = [0, 1]
                .map(|side| Some(joints[side]).filter(|&span| span < curves[side].span_count()));
            let before = joints.map(|joint| joint.checked_sub(1));
            opposes(after, leaving) || opposes(before, arriving)
        })
        .map(|(along, _)| fold_at(curves, along))
}

/// Straight spans that run opposite ways over a common stretch: there the section
/// shrinks to a point.
fn fold_of_straight_spans(curves: [&Curve; 2]) -> Option<Fault> {
    let [first, second] = curves.map(Curve::breaks);
    let (mut one, mut other) = (0, 0);
    while one + 1 < first.len() && other + 1 < second.len() {
        let from = first[one].max(second[other]);
        let to = first[one + 1].min(second[other + 1]);
        let chords = (straight(curves[0], one), straight(curves[1], other));
        if matches!(chords, (Some(a), Some(b)) if from < to && oppose(a, b)) {
            return Some(fold_at(curves, f64::midpoint(from, to)));
        }
        if first[one + 1] <= to {
            one += 1;
        }
        if second[other + 1] <= to {
            other += 1;
        }
    }
    None
}

/// The parameters at which both curves have a joint, with the number of the joint
/// on each. The end of a closed curve is a joint of its own here.
fn shared_joints<'a>(curves: [&'a Curve; 2]) -> impl Iterator<Item = (f64, [usize; 2])> + 'a {
    let [first, second] = curves.map(Curve::breaks);
    first.iter().enumerate().filter_map(|(index, &along)| {
        let partner = second.binary_search_by(|at| at.total_cmp(&along)).ok()?;
        Some((along, [index, partner]))
    })
}

fn joint(curve: &Curve, index: usize) -> Option<Exact> {
    in_half_steps(curve.controls()[3 * index])
}

/// The direction in which span `index` starts.
fn leaving(curve: &Curve, index: usize) -> Option<Exact> {
    straight(curve, index).or_else(|| {
        let [from, handle, ..] = curve.span(index).map(in_half_steps);
        Some(between(from?, handle?))
    })
}

/// The direction in which span `index` ends.
fn arriving(curve: &Curve, index: usize) -> Option<Exact> {
    straight(curve, index).or_else(|| {
        let [.., handle, to] = curve.span(index).map(in_half_steps);
        Some(between(handle?, to?))
    })
}

/// The chord of span `index` when the span is straight as drawn. Handles of a
/// spline come near to thirds far from its bends, so both ends have to be cuts.
fn straight(curve: &Curve, index: usize) -> Option<Exact> {
    let is_cut = |joint: usize| {
        let is_end = joint == 0 || joint == curve.span_count();
        curve.is_corner(joint) || (is_end && !curve.is_closed())
    };
    let [from, first, second, to] = curve.span(index);
    let third = (to - from) / 3.0;
    let off = (first - from - third)
        .amax()
        .max((to - second - third).amax());
    if !is_cut(index) || !is_cut(index + 1) || STRAIGHT < off {
        return None;
    }
    Some(between(in_half_steps(from)?, in_half_steps(to)?))
}

/// The coordinates in half grid steps, when they are whole numbers of them: those of
/// a spline's handles and of a curve that was scaled or turned for its station are
/// not.
fn in_half_steps(point: Point2<f64>) -> Option<Exact> {
    let whole = |value: f64| {
        let halves = 2.0 * value;
        (halves.abs() < FURTHEST && halves.fract() == 0.0).then_some(halves as i64)
    };
    Some([whole(point.x)?, whole(point.y)?])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Pacing;
    use crate::grid::GridPoint;
    use crate::profile::{Node, Outline, PathSpan, Profile};
    use crate::verdict::FaultKind;

    fn zigzag(nodes: &[(i32, i32)], pacing: Pacing) -> Curve {
        let nodes = nodes.iter().map(|&(x, y)| Node::corner(x, y)).collect();
        Curve::new(&Profile::open(nodes), pacing).unwrap()
    }

    /// The chords from the second node to the fourth are (300, 700) and
    /// (-600, -1400 + `gap`).
    fn two_nodes_meet(gap: i32) -> [Curve; 2] {
        let first = [(0, 0), (1000, 0), (1500, 200), (1300, 700)];
        let second = [(0, 0), (1000, 0), (900, -1000), (400, gap - 1400)];
        [&first[..], &second[..]].map(|nodes| zigzag(nodes, Pacing::Node))
    }

    #[test]
    fn two_nodes_on_one_point_of_a_section_are_certain() {
        let [first, second] = two_nodes_meet(0);
        let fault = exact_contact([&first, &second]).unwrap();
        assert_eq!(fault.kind, FaultKind::Crossing);
        assert_eq!(
            (fault.place.along, fault.place.other_along),
            (first.breaks()[1], 1.0)
        );
        assert!((fault.place.across - 1.0 / 3.0).abs() < 1e-15);
    }

    #[test]
    fn a_step_of_the_grid_beside_it_is_no_contact() {
        let [first, second] = two_nodes_meet(1);
        assert!(exact_contact([&first, &second]).is_none());
    }

    #[test]
    fn straight_spans_that_run_opposite_ways_fold_at_any_pace() {
        let first = zigzag(&[(0, 0), (1000, 0), (1100, 900)], Pacing::Parameter);
        let second = zigzag(&[(0, 0), (300, 500), (-900, 500)], Pacing::Parameter);
        let fault = exact_contact([&first, &second]).unwrap();
        assert_eq!(fault.kind, FaultKind::Fold);
        let along = fault.place.along;
        assert!(second.breaks()[1] < along && along < first.breaks()[1]);
        let [a, b] = [&first, &second].map(|curve| curve.slope(along));
        let left = a + (b - a) * fault.place.across;
        assert!(left.norm() < 1e-12 * a.norm(), "{left}");
    }

    #[test]
    fn drawn_handles_that_oppose_at_a_joint_fold_there() {
        let path = |first: (i32, i32)| {
            let point = |(x, y): (i32, i32)| GridPoint::new(x, y);
            let profile = Profile {
                name: String::new(),
                closed: false,
                outline: Outline::Path {
                    start: point((0, 0)),
                    spans: vec![
                        PathSpan::Line {
                            to: point((500, 0)),
                        },
                        PathSpan::Cubic {
                            first: point(first),
                            second: point((900, 300)),
                            to: point((1500, 200)),
                        },
                    ],
                },
            };
            Curve::new(&profile, Pacing::Node).unwrap()
        };
        let [up, down, aside] = [(510, 70), (470, -210), (471, -210)].map(path);
        let fault = exact_contact([&up, &down]).unwrap();
        assert_eq!((fault.kind, fault.place.along), (FaultKind::Fold, 0.5));
        assert!((fault.place.across - 0.25).abs() < 1e-12);
        assert!(exact_contact([&up, &aside]).is_none());
    }

    #[test]
    fn a_node_on_a_side_of_its_own_outline_touches_it() {
        let outline = |x: i32| {
            let nodes = [(0, 0), (1000, 500), (1000, 1000), (x, 250), (0, 900)];
            let nodes = nodes.map(|(x, y)| Node::corner(x, y)).to_vec();
            Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap()
        };
        let fault = joint_on_span(&outline(500)).unwrap();
        let curve = outline(500);
        assert_eq!(fault.place.other_along, curve.breaks()[3]);
        assert!((fault.place.along - 0.5 * curve.breaks()[1]).abs() < 1e-12);
        assert!(joint_on_span(&outline(499)).is_none());
        assert!(joint_on_span(&outline(501)).is_none());
    }

    #[test]
    fn a_spike_lies_on_its_own_side() {
        let spike = zigzag(&[(0, 0), (900, 0), (600, 0), (600, 400)], Pacing::Node);
        assert!(joint_on_span(&spike).is_some());
        let plain = zigzag(&[(0, 0), (900, 0), (600, 100), (600, 400)], Pacing::Node);
        assert!(joint_on_span(&plain).is_none());
    }

    #[test]
    fn a_curve_off_the_grid_is_left_alone() {
        assert_eq!(in_half_steps(Point2::new(1.5, -3.0)), Some([3, -6]));
        assert_eq!(in_half_steps(Point2::new(1.25, 0.0)), None);
        assert_eq!(in_half_steps(Point2::new(1e13, 0.0)), None);
    }
}
