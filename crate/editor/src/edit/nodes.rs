//! Adding and deleting nodes, and whether they are corners.

use super::path::{delete_joint, split, split_span};
use super::{EditError, grid, occupied_check};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{FEWEST_CLOSED, FEWEST_OPEN, MOST_NODES, Node, Outline, Profile};
use std::collections::BTreeSet;

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

#[cfg(test)]
mod tests {
    use super::super::joints;
    use super::super::samples::{arch, leaf};
    use super::*;
    use nalgebra::Point2;

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
    fn corners_are_for_nodes() {
        let which = BTreeSet::from([1, 2]);
        let corners = set_corner(&arch(), &which, true).unwrap();
        let flags: Vec<_> = joints(&corners).iter().map(|node| node.corner).collect();
        assert_eq!(flags, [false, true, true, false]);
        assert_eq!(set_corner(&leaf(), &which, true), Err(EditError::ExactPath));
    }
}
