//! Edits of one profile: each takes a profile and gives the edited one.
//!
//! An edit keeps whole grid steps and never changes what it was not asked to.
//! Nothing here knows of selection, screen or undo.

use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::grid::{GridError, GridPoint, REACH};
use loftkin_kernel::profile::{
    FEWEST_CLOSED, FEWEST_OPEN, MOST_NODES, Node, Outline, PathSpan, Profile, ProfileError,
};
use nalgebra::Point2;
use std::collections::BTreeSet;
use thiserror::Error;

/// Why an edit was not made.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum EditError {
    /// The profile would have too few nodes left.
    #[error("this profile needs at least {0} nodes: delete the whole profile instead")]
    TooFewLeft(usize),
    /// The profile would have too many nodes.
    #[error("this profile has {MOST_NODES} nodes already, the most there may be")]
    TooMany,
    /// Two neighbouring nodes would stand on the same point.
    #[error("another node stands there already: choose a place beside it")]
    Occupied,
    /// Corner and smooth cannot be chosen on an exact path.
    #[error("an exact path has its corners from its handles: turn it into nodes first")]
    ExactPath,
    /// No such handle.
    #[error("there is no handle: only the curved spans of an exact path have any")]
    NoHandle,
    /// It goes through nodes already.
    #[error("this profile goes through nodes already")]
    NodesAlready,
    /// The coordinate has no place on the grid.
    #[error(transparent)]
    Grid(#[from] GridError),
    /// The profile cannot be drawn as it stands.
    #[error(transparent)]
    Profile(#[from] ProfileError),
}

/// The nodes of `profile`, or the joints of its exact path, and whether each
/// is a corner.
pub fn joints(profile: &Profile) -> Vec<Node> {
    match &profile.outline {
        Outline::Nodes(nodes) => nodes.clone(),
        Outline::Path { start, spans } => {
            let mut ends = vec![*start];
            ends.extend(spans.iter().map(|span| span.to()));
            ends.truncate(profile.node_count());
            let curve = Curve::new(profile, Pacing::Node);
            let corner = |index| curve.as_ref().is_ok_and(|curve| curve.is_corner(index));
            ends.iter()
                .enumerate()
                .map(|(index, &at)| Node {
                    at,
                    corner: corner(index),
                })
                .collect()
        }
    }
}

/// Moves the nodes `which` by `dx`, `dy` grid steps; the handles of an exact
/// path go with their joints.
///
/// # Errors
/// [`EditError::Grid`] when one would leave the drawing.
pub fn shift(
    profile: &Profile,
    which: &BTreeSet<usize>,
    dx: i32,
    dy: i32,
) -> Result<Profile, EditError> {
    let count = profile.node_count();
    let mut moved = profile.clone();
    let chosen = |index: usize| which.contains(&(index % count.max(1)));
    match &mut moved.outline {
        Outline::Nodes(nodes) => {
            for (index, node) in nodes.iter_mut().enumerate() {
                if chosen(index) {
                    node.at = shifted(node.at, dx, dy)?;
                }
            }
        }
        Outline::Path { start, spans } => {
            if chosen(0) {
                *start = shifted(*start, dx, dy)?;
            }
            for (index, span) in spans.iter_mut().enumerate() {
                shift_span(span, chosen(index), chosen(index + 1), dx, dy)?;
            }
        }
    }
    Ok(moved)
}

/// Puts node `index` at `x`, `y` mm.
///
/// # Errors
/// [`EditError::Grid`] when that is no place on the grid, or there is no such node.
pub fn place(profile: &Profile, index: usize, x: f64, y: f64) -> Result<Profile, EditError> {
    let to = GridPoint::from_mm(x, y)?;
    let all = joints(profile);
    let from = all
        .get(index)
        .ok_or(ProfileError::NoSuchNode {
            node: index + 1,
            count: all.len(),
        })?
        .at;
    shift(
        profile,
        &BTreeSet::from([index]),
        to.x - from.x,
        to.y - from.y,
    )
}

/// A handle of an exact path: the first or the second of a cubic span.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Handle {
    /// The span.
    pub span: usize,
    /// Whether it is the second handle, that of the span's end.
    pub second: bool,
}

/// The handles of an exact path on both sides of the joints `which`, with
/// their joints.
pub fn handles(profile: &Profile, which: &BTreeSet<usize>) -> Vec<(Handle, GridPoint, GridPoint)> {
    let Outline::Path { start, spans } = &profile.outline else {
        return Vec::new();
    };
    let count = profile.node_count();
    let mut found = Vec::new();
    let mut from = *start;
    for (span, piece) in spans.iter().enumerate() {
        if let PathSpan::Cubic { first, second, to } = *piece {
            let ends = [(false, span, first, from), (true, span + 1, second, to)];
            for (is_second, joint, at, joint_at) in ends {
                if which.contains(&(joint % count.max(1))) {
                    let handle = Handle {
                        span,
                        second: is_second,
                    };
                    found.push((handle, at, joint_at));
                }
            }
        }
        from = piece.to();
    }
    found
}

/// Moves one handle of an exact path by `dx`, `dy` grid steps.
///
/// # Errors
/// [`EditError::Grid`] when it would leave the drawing, [`EditError::NoHandle`]
/// when there is none.
pub fn shift_handle(
    profile: &Profile,
    handle: Handle,
    dx: i32,
    dy: i32,
) -> Result<Profile, EditError> {
    let mut moved = profile.clone();
    let Outline::Path { spans, .. } = &mut moved.outline else {
        return Err(EditError::NoHandle);
    };
    match spans.get_mut(handle.span) {
        Some(PathSpan::Cubic { first, second, .. }) => {
            let at = if handle.second { second } else { first };
            *at = shifted(*at, dx, dy)?;
            Ok(moved)
        }
        _ => Err(EditError::NoHandle),
    }
}

/// Makes all of the nodes `which` corners, or all of them smooth.
///
/// # Errors
/// [`EditError::ExactPath`].
pub fn set_corner(
    profile: &Profile,
    which: &BTreeSet<usize>,
    corner: bool,
) -> Result<Profile, EditError> {
    let mut changed = profile.clone();
    let Outline::Nodes(nodes) = &mut changed.outline else {
        return Err(EditError::ExactPath);
    };
    for &index in which {
        if let Some(node) = nodes.get_mut(index) {
            node.corner = corner;
        }
    }
    Ok(changed)
}

/// Adds a node on span `span` at fraction `t` along it, and gives its index.
/// An exact path keeps its shape (its handles round to the grid); a profile
/// through nodes goes through one more.
///
/// # Errors
/// [`EditError::TooMany`], [`EditError::Occupied`], or what is wrong with the
/// profile.
pub fn insert(profile: &Profile, span: usize, t: f64) -> Result<(Profile, usize), EditError> {
    if MOST_NODES <= profile.node_count() {
        return Err(EditError::TooMany);
    }
    let curve = Curve::new(profile, Pacing::Parameter)?;
    let halves = split(curve.span_mm(span), t);
    let at = grid(halves[1][0])?;
    let mut changed = profile.clone();
    match &mut changed.outline {
        Outline::Nodes(nodes) => nodes.insert(span + 1, Node { at, corner: false }),
        Outline::Path { spans, .. } => {
            let two = split_span(spans[span], &halves)?;
            spans.splice(span..=span, two);
        }
    }
    occupied_check(&changed)?;
    Ok((changed, span + 1))
}

/// Deletes the nodes `which`. Of an exact path, the spans on both sides of a
/// deleted joint become one that keeps their outer handles.
///
/// # Errors
/// [`EditError::TooFewLeft`], or [`EditError::Occupied`] when two nodes on the
/// same point would become neighbours.
pub fn delete(profile: &Profile, which: &BTreeSet<usize>) -> Result<Profile, EditError> {
    let fewest = if profile.closed {
        FEWEST_CLOSED
    } else {
        FEWEST_OPEN
    };
    let left = profile.node_count().saturating_sub(which.len());
    if left < fewest {
        return Err(EditError::TooFewLeft(fewest));
    }
    let mut changed = profile.clone();
    match &mut changed.outline {
        Outline::Nodes(nodes) => {
            let mut index = 0;
            nodes.retain(|_| {
                index += 1;
                !which.contains(&(index - 1))
            });
        }
        Outline::Path { start, spans } => {
            for &joint in which.iter().rev() {
                delete_joint(start, spans, joint, profile.closed);
            }
        }
    }
    occupied_check(&changed)?;
    Ok(changed)
}

/// Mirrors the profile left to right about the middle of its nodes.
///
/// # Errors
/// [`EditError::Grid`] when a handle would leave the drawing.
pub fn mirror(profile: &Profile) -> Result<Profile, EditError> {
    let xs = || joints(profile).into_iter().map(|node| node.at.x);
    let twice = xs().min().unwrap_or(0) + xs().max().unwrap_or(0);
    let flip = |at: GridPoint| checked(twice - at.x, at.y);
    let mut changed = profile.clone();
    match &mut changed.outline {
        Outline::Nodes(nodes) => {
            for node in nodes {
                node.at = flip(node.at)?;
            }
        }
        Outline::Path { start, spans } => {
            *start = flip(*start)?;
            for span in spans {
                *span = match *span {
                    PathSpan::Line { to } => PathSpan::Line { to: flip(to)? },
                    PathSpan::Cubic { first, second, to } => PathSpan::Cubic {
                        first: flip(first)?,
                        second: flip(second)?,
                        to: flip(to)?,
                    },
                };
            }
        }
    }
    Ok(changed)
}

/// Whether two neighbouring nodes stand on one point.
fn occupied_check(profile: &Profile) -> Result<(), EditError> {
    match profile.validate() {
        Err(ProfileError::RepeatedNode { .. } | ProfileError::EmptySpan { .. }) => {
            Err(EditError::Occupied)
        }
        _ => Ok(()),
    }
}

fn checked(x: i32, y: i32) -> Result<GridPoint, EditError> {
    let point = GridPoint::new(x, y);
    if point.in_reach() {
        return Ok(point);
    }
    let mm = f64::from(if REACH < x.abs() { x } else { y }) / 100.0;
    Err(GridError::OutOfReach { mm }.into())
}

fn shifted(at: GridPoint, dx: i32, dy: i32) -> Result<GridPoint, EditError> {
    checked(at.x.saturating_add(dx), at.y.saturating_add(dy))
}

fn grid(mm: Point2<f64>) -> Result<GridPoint, EditError> {
    Ok(GridPoint::from_mm(mm.x, mm.y)?)
}

fn shift_span(
    span: &mut PathSpan,
    from_moves: bool,
    to_moves: bool,
    dx: i32,
    dy: i32,
) -> Result<(), EditError> {
    match span {
        PathSpan::Line { to } if to_moves => *to = shifted(*to, dx, dy)?,
        PathSpan::Line { .. } => {}
        PathSpan::Cubic { first, second, to } => {
            if from_moves {
                *first = shifted(*first, dx, dy)?;
            }
            if to_moves {
                *second = shifted(*second, dx, dy)?;
                *to = shifted(*to, dx, dy)?;
            }
        }
    }
    Ok(())
}

/// De Casteljau: the two halves of a cubic span cut at `t`.
fn split([a, b, c, d]: [Point2<f64>; 4], t: f64) -> [[Point2<f64>; 4]; 2] {
    let between = |p: Point2<f64>, q: Point2<f64>| p + (q - p) * t;
    let (ab, bc, cd) = (between(a, b), between(b, c), between(c, d));
    let (abc, bcd) = (between(ab, bc), between(bc, cd));
    let middle = between(abc, bcd);
    [[a, ab, abc, middle], [middle, bcd, cd, d]]
}

fn split_span(span: PathSpan, halves: &[[Point2<f64>; 4]; 2]) -> Result<[PathSpan; 2], EditError> {
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

fn delete_joint(start: &mut GridPoint, spans: &mut Vec<PathSpan>, joint: usize, closed: bool) {
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

#[cfg(test)]
mod tests {
    use super::*;

    fn arch() -> Profile {
        Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(1000, 2000),
            Node::smooth(3000, 2000),
            Node::smooth(4000, 0),
        ])
    }

    /// A closed path of one line and two cubics.
    fn leaf() -> Profile {
        Profile {
            name: String::new(),
            closed: true,
            outline: Outline::Path {
                start: GridPoint::new(0, 0),
                spans: vec![
                    PathSpan::Line {
                        to: GridPoint::new(900, 0),
                    },
                    PathSpan::Cubic {
                        first: GridPoint::new(1500, 300),
                        second: GridPoint::new(1500, 900),
                        to: GridPoint::new(900, 1200),
                    },
                    PathSpan::Cubic {
                        first: GridPoint::new(300, 1500),
                        second: GridPoint::new(-300, 600),
                        to: GridPoint::new(0, 0),
                    },
                ],
            },
        }
    }

    #[test]
    fn a_node_goes_where_it_is_put_and_the_others_stay() {
        let moved = place(&arch(), 1, 12.345, -3.0).unwrap();
        let nodes = joints(&moved);
        assert_eq!(nodes[1].at, GridPoint::new(1235, -300));
        assert_eq!(nodes[2], joints(&arch())[2]);
        assert!(matches!(
            place(&arch(), 1, f64::NAN, 0.0),
            Err(EditError::Grid(_))
        ));
        assert!(matches!(
            place(&arch(), 9, 0.0, 0.0),
            Err(EditError::Profile(_))
        ));
    }

    #[test]
    fn the_seam_of_a_closed_path_moves_at_both_ends() {
        let moved = shift(&leaf(), &BTreeSet::from([0]), 10, 20).unwrap();
        assert_eq!(moved.validate(), Ok(()));
        let Outline::Path { start, spans } = &moved.outline else {
            panic!("still a path")
        };
        assert_eq!(*start, GridPoint::new(10, 20));
        let last = PathSpan::Cubic {
            first: GridPoint::new(300, 1500),
            second: GridPoint::new(-290, 620),
            to: GridPoint::new(10, 20),
        };
        assert_eq!(spans[2], last);
    }

    #[test]
    fn a_handle_moves_alone_and_lines_have_none() {
        let around_seam = handles(&leaf(), &BTreeSet::from([0]));
        // Before the seam comes a cubic, after it a line.
        assert_eq!(around_seam.len(), 1);
        let (handle, at, joint) = around_seam[0];
        assert_eq!(
            (at, joint),
            (GridPoint::new(-300, 600), GridPoint::new(0, 0))
        );
        let moved = shift_handle(&leaf(), handle, 7, -5).unwrap();
        let after = handles(&moved, &BTreeSet::from([0]));
        assert_eq!(after[0].1, GridPoint::new(-293, 595));
        assert_eq!(joints(&moved)[0].at, joints(&leaf())[0].at);
        let none = Handle {
            span: 0,
            second: false,
        };
        assert_eq!(shift_handle(&leaf(), none, 1, 1), Err(EditError::NoHandle));
        assert!(handles(&arch(), &BTreeSet::from([0, 1])).is_empty());
    }

    #[test]
    fn an_inserted_node_lies_on_the_curve() {
        let curve = Curve::new(&arch(), Pacing::Parameter).unwrap();
        let (changed, index) = insert(&arch(), 1, 0.25).unwrap();
        assert_eq!((index, changed.node_count()), (2, 5));
        let breaks = curve.breaks();
        let on = curve.point_mm(breaks[1] + 0.25 * (breaks[2] - breaks[1]));
        let (x, y) = joints(&changed)[2].at.to_mm();
        assert!((Point2::new(x, y) - on).norm() < 0.0071 + 1e-9);
        assert_eq!(insert(&arch(), 1, 0.0), Err(EditError::Occupied));
    }

    #[test]
    fn a_split_path_keeps_its_shape_to_the_grid() {
        let before = Curve::new(&leaf(), Pacing::Parameter).unwrap();
        let (changed, _) = insert(&leaf(), 1, 0.5).unwrap();
        let after = Curve::new(&changed, Pacing::Parameter).unwrap();
        for i in 0..=8 {
            let t = f64::from(i) / 8.0;
            let (span, part) = if t < 0.5 {
                (1, 2.0 * t)
            } else {
                (2, 2.0 * t - 1.0)
            };
            let was = split(before.span_mm(1), t)[1][0];
            let is = split(after.span_mm(span), part)[1][0];
            // Each control point rounds by at most half a step in x and y.
            assert!((was - is).norm() < 0.0071 + 1e-9);
        }
    }

    #[test]
    fn deleting_stops_at_the_fewest() {
        let left = delete(&arch(), &BTreeSet::from([1, 2])).unwrap();
        assert_eq!(left.node_count(), 2);
        assert_eq!(
            delete(&left, &BTreeSet::from([0])),
            Err(EditError::TooFewLeft(2))
        );
    }

    #[test]
    fn any_joint_of_a_closed_path_can_go() {
        let (four, _) = insert(&leaf(), 1, 0.5).unwrap();
        for joint in 0..4 {
            let left = delete(&four, &BTreeSet::from([joint])).unwrap();
            assert_eq!(left.validate(), Ok(()), "joint {joint}");
            assert_eq!(left.node_count(), 3);
            let kept: Vec<_> = joints(&left).iter().map(|node| node.at).collect();
            assert!(!kept.contains(&joints(&four)[joint].at), "joint {joint}");
        }
    }

    #[test]
    fn mirroring_twice_changes_nothing() {
        for profile in [arch(), leaf()] {
            let once = mirror(&profile).unwrap();
            assert_ne!(once, profile);
            assert_eq!(mirror(&once).unwrap(), profile);
        }
    }

    #[test]
    fn corners_are_for_nodes() {
        let which = BTreeSet::from([1, 2]);
        let corners = set_corner(&arch(), &which, true).unwrap();
        let flags: Vec<_> = joints(&corners).iter().map(|node| node.corner).collect();
        assert_eq!(flags, [false, true, true, false]);
        assert_eq!(set_corner(&leaf(), &which, true), Err(EditError::ExactPath));
    }
}
