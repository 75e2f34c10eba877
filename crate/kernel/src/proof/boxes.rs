//! The three kinds of box in (u, w), and how each falls into parts.
//!
//! *Itself*: one stretch; excluded when the hodographs of all curves over it
//! fit one half-plane; else two of itself and a joint. *Joint*: two stretches
//! with a common end; excluded by the same cone over both; else three apart and
//! a smaller joint. *Apart*: two stretches without a common end; excluded when
//! one direction separates them in all curves; else their halves. Two stretches
//! that share both ends are never made.
//!
//! ```text
//!   w
//!   1 +-----+-----+
//!     |apart|joint/      a joint touches the diagonal in one corner,
//!     |     |   / |      itself along its side
//!     +-----+ /---+
//!     |itself/
//!     |   /
//!   0 +-/---------- u
//! ```

use super::stretch::Stretch;

/// A box of a search.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Task {
    /// One stretch with itself.
    Itself(Stretch),
    /// The stretch before and the one after their common end.
    Joint(Stretch, Stretch),
    /// Two stretches without a common end.
    Apart(Stretch, Stretch),
}

impl Task {
    /// The boxes that cover all pairs of places. A closed curve's halves share
    /// both ends, so it begins with quarters; `closed` must hold of every curve,
    /// for the ends of an open one are two places.
    pub fn begin(closed: bool, tasks: &mut Vec<Self>) {
        if !closed {
            tasks.push(Self::Itself(Stretch::Coarse(1)));
            return;
        }
        let [a, b, c, d] = [4, 5, 6, 7].map(Stretch::Coarse);
        tasks.extend([
            Self::Apart(a, c),
            Self::Apart(b, d),
            Self::Joint(b, c),
            Self::Joint(d, a),
            Self::Itself(Stretch::Coarse(2)),
            Self::Itself(Stretch::Coarse(3)),
        ]);
    }

    /// Its stretches.
    pub fn stretches(self) -> Vec<Stretch> {
        match self {
            Self::Itself(one) => vec![one],
            Self::Joint(one, other) | Self::Apart(one, other) => vec![one, other],
        }
    }

    /// The same box with its stretches replaced.
    pub fn map(self, mut replace: impl FnMut(Stretch) -> Stretch) -> Self {
        match self {
            Self::Itself(one) => Self::Itself(replace(one)),
            Self::Joint(one, other) => Self::Joint(replace(one), replace(other)),
            Self::Apart(one, other) => Self::Apart(replace(one), replace(other)),
        }
    }

    /// Pushes the parts of this box, unless nothing of it can be halved.
    pub fn halve(
        self,
        halves: impl Fn(Stretch) -> Option<[Stretch; 2]>,
        tasks: &mut Vec<Self>,
    ) -> bool {
        match self {
            Self::Itself(stretch) => {
                let Some([low, high]) = halves(stretch) else {
                    return false;
                };
                tasks.extend([
                    Self::Joint(low, high),
                    Self::Itself(low),
                    Self::Itself(high),
                ]);
            }
            Self::Joint(before, after) => match (halves(before), halves(after)) {
                (Some([a, b]), Some([c, d])) => tasks.extend([
                    Self::Apart(a, c),
                    Self::Apart(a, d),
                    Self::Apart(b, d),
                    Self::Joint(b, c),
                ]),
                (Some([a, b]), None) => {
                    tasks.extend([Self::Apart(a, after), Self::Joint(b, after)]);
                }
                (None, Some([c, d])) => {
                    tasks.extend([Self::Apart(before, d), Self::Joint(before, c)]);
                }
                (None, None) => return false,
            },
            Self::Apart(one, other) => match (halves(one), halves(other)) {
                (Some([a, b]), Some([c, d])) => tasks.extend([
                    Self::Apart(a, c),
                    Self::Apart(a, d),
                    Self::Apart(b, c),
                    Self::Apart(b, d),
                ]),
                (Some([a, b]), None) => {
                    tasks.extend([Self::Apart(a, other), Self::Apart(b, other)]);
                }
                (None, Some([c, d])) => {
                    tasks.extend([Self::Apart(one, c), Self::Apart(one, d)]);
                }
                (None, None) => return false,
            },
        }
        true
    }
}
