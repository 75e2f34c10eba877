//! Profiles that the tests of the edits share.

use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};

/// An open profile of four nodes.
pub fn arch() -> Profile {
    Profile::open(vec![
        Node::smooth(0, 0),
        Node::smooth(1000, 2000),
        Node::smooth(3000, 2000),
        Node::smooth(4000, 0),
    ])
}

/// A closed path of one line and two cubics.
pub fn leaf() -> Profile {
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
