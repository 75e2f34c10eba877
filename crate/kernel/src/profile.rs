//! A profile as it is drawn: nodes or an exact path on the grid.
//!
//! This is the document, nothing derived: the cubic path that a profile stands
//! for is made in [`crate::curve`]. Every edit here keeps whole grid steps.

use crate::grid::GridPoint;

mod check;

pub use check::ProfileError;

/// The fewest nodes of an open profile.
pub const FEWEST_OPEN: usize = 2;
/// The fewest nodes of a closed profile drawn by nodes.
pub const FEWEST_CLOSED: usize = 3;
/// The most nodes (or joints of an exact path) of any profile.
pub const MOST_NODES: usize = 200;
/// The longest name, in characters.
pub const LONGEST_NAME: usize = 80;

/// A point that the profile passes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Node {
    /// Where it stands.
    pub at: GridPoint,
    /// Whether the curve may turn sharply here.
    pub corner: bool,
}

impl Node {
    /// A node that the curve runs through smoothly.
    pub const fn smooth(x: i32, y: i32) -> Self {
        Self {
            at: GridPoint::new(x, y),
            corner: false,
        }
    }

    /// A node at which the curve may turn sharply.
    pub const fn corner(x: i32, y: i32) -> Self {
        Self {
            at: GridPoint::new(x, y),
            corner: true,
        }
    }
}

/// One span of an exact path, from the end of the span before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PathSpan {
    /// A straight line.
    Line {
        /// Its end.
        to: GridPoint,
    },
    /// A cubic Bézier span.
    Cubic {
        /// The handle of its start.
        first: GridPoint,
        /// The handle of its end.
        second: GridPoint,
        /// Its end.
        to: GridPoint,
    },
}

impl PathSpan {
    /// Where the span ends.
    pub fn to(self) -> GridPoint {
        match self {
            Self::Line { to } | Self::Cubic { to, .. } => to,
        }
    }
}

/// How the curve of a profile is given.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Outline {
    /// Nodes, joined by the C2 cubic spline and cut at corners.
    Nodes(Vec<Node>),
    /// Cubic spans with their handles, kept as imported. A closed path ends
    /// where it starts.
    Path {
        /// The first point.
        start: GridPoint,
        /// The spans in order.
        spans: Vec<PathSpan>,
    },
}

/// One planar curve of the family.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Profile {
    /// What the person calls it; may be empty.
    pub name: String,
    /// Whether the curve returns to its seam.
    pub closed: bool,
    /// The curve.
    pub outline: Outline,
}

impl Profile {
    /// An open profile through `nodes`, without a name.
    pub fn open(nodes: Vec<Node>) -> Self {
        Self::through(nodes, false)
    }

    /// A closed profile through `nodes`, without a name; the first is the seam.
    pub fn closed(nodes: Vec<Node>) -> Self {
        Self::through(nodes, true)
    }

    fn through(nodes: Vec<Node>, closed: bool) -> Self {
        Self {
            name: String::new(),
            closed,
            outline: Outline::Nodes(nodes),
        }
    }

    /// The same profile under another name.
    pub fn named(mut self, name: &str) -> Self {
        self.name = name.to_owned();
        self
    }

    /// How many nodes it has; an exact path counts its distinct joints.
    pub fn node_count(&self) -> usize {
        match &self.outline {
            Outline::Nodes(nodes) => nodes.len(),
            Outline::Path { spans, .. } => spans.len() + usize::from(!self.closed),
        }
    }

    /// How many spans its curve has.
    pub fn span_count(&self) -> usize {
        match &self.outline {
            Outline::Nodes(nodes) if self.closed => nodes.len(),
            Outline::Nodes(nodes) => nodes.len().saturating_sub(1),
            Outline::Path { spans, .. } => spans.len(),
        }
    }

    /// Checks everything that the curve relies on.
    ///
    /// # Errors
    /// The first [`ProfileError`] found: count, reach, repeated nodes, empty
    /// spans, an unclosed path, the name.
    pub fn validate(&self) -> Result<(), ProfileError> {
        check::profile(self)
    }

    /// The profile run through the other way; a closed one keeps its seam.
    pub fn reversed(&self) -> Self {
        let outline = match &self.outline {
            Outline::Nodes(nodes) => {
                let mut turned: Vec<Node> = nodes.iter().rev().copied().collect();
                if self.closed && !turned.is_empty() {
                    turned.rotate_right(1);
                }
                Outline::Nodes(turned)
            }
            Outline::Path { start, spans } => reversed_path(*start, spans),
        };
        Self {
            outline,
            ..self.clone()
        }
    }

    /// The closed profile with its seam at node `seam` (from 0).
    ///
    /// # Errors
    /// [`ProfileError::NoSuchNode`] when there is no such node, or the profile
    /// is open and `seam` is not 0.
    pub fn with_seam(&self, seam: usize) -> Result<Self, ProfileError> {
        let count = if self.closed { self.node_count() } else { 1 };
        if count <= seam {
            return Err(ProfileError::NoSuchNode {
                node: seam + 1,
                count,
            });
        }
        let outline = match &self.outline {
            Outline::Nodes(nodes) => {
                let mut turned = nodes.clone();
                turned.rotate_left(seam);
                Outline::Nodes(turned)
            }
            Outline::Path { start, spans } => {
                let mut turned = spans.clone();
                turned.rotate_left(seam);
                let start = turned.last().map_or(*start, |span| span.to());
                Outline::Path {
                    start,
                    spans: turned,
                }
            }
        };
        Ok(Self {
            outline,
            ..self.clone()
        })
    }
}

fn reversed_path(start: GridPoint, spans: &[PathSpan]) -> Outline {
    let mut turned = Vec::with_capacity(spans.len());
    let mut from = start;
    for span in spans {
        turned.push(match *span {
            PathSpan::Line { .. } => PathSpan::Line { to: from },
            PathSpan::Cubic { first, second, .. } => PathSpan::Cubic {
                first: second,
                second: first,
                to: from,
            },
        });
        from = span.to();
    }
    turned.reverse();
    Outline::Path {
        start: from,
        spans: turned,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kite() -> Profile {
        Profile::closed(vec![
            Node::smooth(0, 0),
            Node::corner(100, -50),
            Node::smooth(200, 0),
            Node::corner(100, 80),
        ])
    }

    fn closed_path() -> Profile {
        Profile {
            name: String::new(),
            closed: true,
            outline: Outline::Path {
                start: GridPoint::new(0, 0),
                spans: vec![
                    PathSpan::Line {
                        to: GridPoint::new(100, 0),
                    },
                    PathSpan::Cubic {
                        first: GridPoint::new(120, 40),
                        second: GridPoint::new(90, 60),
                        to: GridPoint::new(50, 80),
                    },
                    PathSpan::Line {
                        to: GridPoint::new(0, 0),
                    },
                ],
            },
        }
    }

    #[test]
    fn reversing_twice_gives_the_profile_back() {
        for profile in [kite(), closed_path()] {
            assert_ne!(profile.reversed(), profile);
            assert_eq!(profile.reversed().reversed(), profile);
            assert!(profile.reversed().validate().is_ok());
        }
    }

    #[test]
    fn a_seam_moves_all_the_way_round() {
        for profile in [kite(), closed_path()] {
            let count = profile.node_count();
            for seam in 1..count {
                let moved = profile.with_seam(seam).unwrap();
                assert!(moved.validate().is_ok());
                assert_eq!(moved.with_seam(count - seam).unwrap(), profile);
            }
            assert!(profile.with_seam(count).is_err());
        }
    }

    #[test]
    fn faults_of_the_drawing_are_named() {
        let repeated = Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(5, 5),
            Node::smooth(5, 5),
        ]);
        assert_eq!(
            repeated.validate(),
            Err(ProfileError::RepeatedNode {
                first: 2,
                second: 3
            })
        );
        let few = Profile::closed(vec![Node::smooth(0, 0), Node::smooth(5, 5)]);
        assert_eq!(few.validate(), Err(ProfileError::TooFewNodes { count: 2 }));
        let many = Profile::open((0..201).map(|x| Node::smooth(x, 0)).collect());
        assert_eq!(
            many.validate(),
            Err(ProfileError::TooManyNodes { count: 201 })
        );
        let far = Profile::open(vec![Node::smooth(0, 0), Node::smooth(i32::MIN, 5)]);
        assert_eq!(far.validate(), Err(ProfileError::OutOfReach { node: 2 }));
    }
}
