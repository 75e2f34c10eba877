//! Moving nodes, joints and handles of a profile.

use super::{EditError, joints, shifted};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Outline, PathSpan, Profile, ProfileError};
use std::collections::BTreeSet;

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

#[cfg(test)]
mod tests {
    use super::super::samples::{arch, leaf};
    use super::*;

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
}
