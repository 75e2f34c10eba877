//! What is wrong with a profile as drawn, in words that say what would be right.

use super::{
    FEWEST_CLOSED, FEWEST_OPEN, LONGEST_NAME, MOST_NODES, Node, Outline, PathSpan, Profile,
};
use crate::grid::GridPoint;
use thiserror::Error;

/// Why a profile cannot be judged as drawn. Positions count from 1, as shown
/// to a person.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum ProfileError {
    /// Too few nodes.
    #[error("only {count} nodes: an open profile needs at least 2, a closed one 3")]
    TooFewNodes {
        /// How many there are.
        count: usize,
    },
    /// More than [`MOST_NODES`].
    #[error("{count} nodes: keep to 200 at most, for instance by fitting a smoother curve")]
    TooManyNodes {
        /// How many there are.
        count: usize,
    },
    /// Two neighbouring nodes stand on the same point.
    #[error("nodes {first} and {second} stand on the same point: move or delete one of them")]
    RepeatedNode {
        /// The first of the two.
        first: usize,
        /// The second of the two.
        second: usize,
    },
    /// A span whose points all coincide.
    #[error("span {span} has no length: delete it")]
    EmptySpan {
        /// Which span.
        span: usize,
    },
    /// A node or handle beyond the reach of the grid.
    #[error("node {node} lies outside the drawing: keep within 100 000 mm of the origin")]
    OutOfReach {
        /// Which node, or the span that the handle belongs to.
        node: usize,
    },
    /// A closed exact path whose last span does not end at its start.
    #[error("the closed path does not return to its start: end its last span at the first point")]
    PathNotClosed,
    /// A name longer than [`LONGEST_NAME`].
    #[error("the name has {count} characters: keep to 80 at most")]
    NameTooLong {
        /// How many characters it has.
        count: usize,
    },
    /// A seam or node that does not exist.
    #[error("there is no node {node}: this profile has {count}")]
    NoSuchNode {
        /// The node asked for.
        node: usize,
        /// How many there are.
        count: usize,
    },
}

/// The first thing wrong with `profile`.
pub(super) fn profile(profile: &Profile) -> Result<(), ProfileError> {
    let count = profile.name.chars().count();
    if LONGEST_NAME < count {
        return Err(ProfileError::NameTooLong { count });
    }
    match &profile.outline {
        Outline::Nodes(nodes) => nodes_are_valid(nodes, profile.closed),
        Outline::Path { start, spans } => path_is_valid(*start, spans, profile.closed),
    }
}

fn nodes_are_valid(nodes: &[Node], closed: bool) -> Result<(), ProfileError> {
    let count = nodes.len();
    let fewest = if closed { FEWEST_CLOSED } else { FEWEST_OPEN };
    if count < fewest {
        return Err(ProfileError::TooFewNodes { count });
    }
    if MOST_NODES < count {
        return Err(ProfileError::TooManyNodes { count });
    }
    if let Some(index) = nodes.iter().position(|node| !node.at.in_reach()) {
        return Err(ProfileError::OutOfReach { node: index + 1 });
    }
    let neighbours = if closed { count } else { count - 1 };
    for first in 0..neighbours {
        let second = (first + 1) % count;
        if nodes[first].at == nodes[second].at {
            return Err(ProfileError::RepeatedNode {
                first: first + 1,
                second: second + 1,
            });
        }
    }
    Ok(())
}

fn path_is_valid(start: GridPoint, spans: &[PathSpan], closed: bool) -> Result<(), ProfileError> {
    let count = spans.len();
    if count == 0 {
        return Err(ProfileError::TooFewNodes { count: 1 });
    }
    if MOST_NODES < count + usize::from(!closed) {
        return Err(ProfileError::TooManyNodes { count });
    }
    if !start.in_reach() {
        return Err(ProfileError::OutOfReach { node: 1 });
    }
    let mut from = start;
    for (index, span) in spans.iter().enumerate() {
        let (points, empty) = match *span {
            PathSpan::Line { to } => ([to, to, to], to == from),
            PathSpan::Cubic { first, second, to } => (
                [first, second, to],
                first == from && second == from && to == from,
            ),
        };
        if !points.iter().all(|point| point.in_reach()) {
            return Err(ProfileError::OutOfReach { node: index + 1 });
        }
        if empty {
            return Err(ProfileError::EmptySpan { span: index + 1 });
        }
        from = span.to();
    }
    if closed && from != start {
        return Err(ProfileError::PathNotClosed);
    }
    Ok(())
}
