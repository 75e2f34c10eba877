//! The family: the ordered profiles and the settings that a verdict depends on.
//!
//! Everything a verdict depends on is in here, so that a shared family is
//! judged alike everywhere. It holds no derived curve.

use crate::profile::Profile;
use thiserror::Error;

/// The most profiles of one family.
pub const MOST_PROFILES: usize = 256;

/// The rule that says which point of one profile meets which of another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Pacing {
    /// By the parameter itself: chord length scaled to \[0, 1\].
    #[default]
    Parameter,
    /// By node: node i of one meets node i of the other (equal counts).
    Node,
}

impl Pacing {
    /// The other rule.
    pub fn swapped(self) -> Self {
        match self {
            Self::Parameter => Self::Node,
            Self::Node => Self::Parameter,
        }
    }
}

/// How the profiles stand in space.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Placement {
    /// In parallel planes.
    #[default]
    Stack,
    /// In half-planes around one axis: x is the distance from it.
    Ring,
}

/// An angle as a whole number of tenths of a degree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TenthsOfDegree(pub u16);

impl TenthsOfDegree {
    /// The angle in degrees.
    pub fn degrees(self) -> f64 {
        f64::from(self.0) / 10.0
    }
}

/// What a verdict depends on besides the profiles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Settings {
    /// Which point meets which.
    pub pacing: Pacing,
    /// Stack or ring; a ring adds the fault *axis*.
    pub placement: Placement,
    /// The largest twist allowed, above 0 and below 180 degrees.
    pub twist_limit: TenthsOfDegree,
    /// The largest crease allowed at a smooth joint, above 0, at most 90 degrees.
    pub crease_limit: TenthsOfDegree,
}

impl Default for Settings {
    /// Paced by parameter, stacked, twist up to 90 and creases up to 5 degrees.
    fn default() -> Self {
        Self {
            pacing: Pacing::Parameter,
            placement: Placement::Stack,
            twist_limit: TenthsOfDegree(900),
            crease_limit: TenthsOfDegree(50),
        }
    }
}

/// An ordered set of profiles with one unit (mm) and one grid.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Family {
    /// What the person calls it; may be empty.
    pub name: String,
    /// What verdicts depend on besides the profiles.
    pub settings: Settings,
    /// The profiles, all open or all closed.
    pub profiles: Vec<Profile>,
}

/// Why a family as a whole cannot be judged. A profile that is wrong in itself
/// is no error of the family: its cells say so. Positions count from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum FamilyError {
    /// No profile at all.
    #[error("the family is empty: draw at least one profile")]
    Empty,
    /// More than [`MOST_PROFILES`].
    #[error("{count} profiles: keep to 256 at most")]
    TooManyProfiles {
        /// How many there are.
        count: usize,
    },
    /// Open and closed profiles side by side.
    #[error(
        "profile {open} is open and profile {closed} is closed: a family is all one or all the other"
    )]
    OpenAndClosed {
        /// The first open profile.
        open: usize,
        /// The first closed profile.
        closed: usize,
    },
    /// A twist limit outside its range.
    #[error("a twist limit of {degrees} degrees: choose above 0 and below 180")]
    TwistLimit {
        /// The limit in whole degrees.
        degrees: u16,
    },
    /// A crease limit outside its range.
    #[error("a crease limit of {degrees} degrees: choose above 0 and at most 90")]
    CreaseLimit {
        /// The limit in whole degrees.
        degrees: u16,
    },
}

impl Family {
    /// Checks what the table relies on, but not each profile in itself.
    ///
    /// # Errors
    /// The first [`FamilyError`] found.
    pub fn validate(&self) -> Result<(), FamilyError> {
        let count = self.profiles.len();
        if count == 0 {
            return Err(FamilyError::Empty);
        }
        if MOST_PROFILES < count {
            return Err(FamilyError::TooManyProfiles { count });
        }
        let open = self.profiles.iter().position(|profile| !profile.closed);
        let closed = self.profiles.iter().position(|profile| profile.closed);
        if let (Some(open), Some(closed)) = (open, closed) {
            return Err(FamilyError::OpenAndClosed {
                open: open + 1,
                closed: closed + 1,
            });
        }
        self.settings.validate()
    }
}

impl Settings {
    /// Checks the ranges of the limits.
    ///
    /// # Errors
    /// [`FamilyError::TwistLimit`] or [`FamilyError::CreaseLimit`].
    pub fn validate(&self) -> Result<(), FamilyError> {
        if !(1..1800).contains(&self.twist_limit.0) {
            return Err(FamilyError::TwistLimit {
                degrees: self.twist_limit.0 / 10,
            });
        }
        if !(1..=900).contains(&self.crease_limit.0) {
            return Err(FamilyError::CreaseLimit {
                degrees: self.crease_limit.0 / 10,
            });
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::profile::Node;

    fn line() -> Profile {
        Profile::open(vec![Node::smooth(0, 0), Node::smooth(100, 0)])
    }

    #[test]
    fn mixtures_and_extremes_are_refused() {
        let mut family = Family::default();
        assert_eq!(family.validate(), Err(FamilyError::Empty));
        family.profiles = vec![line(); 257];
        assert_eq!(
            family.validate(),
            Err(FamilyError::TooManyProfiles { count: 257 })
        );
        family.profiles.truncate(2);
        assert_eq!(family.validate(), Ok(()));
        family.profiles[1].closed = true;
        assert_eq!(
            family.validate(),
            Err(FamilyError::OpenAndClosed { open: 1, closed: 2 })
        );
        let settings = Settings {
            twist_limit: TenthsOfDegree(1800),
            ..Settings::default()
        };
        assert!(settings.validate().is_err());
    }
}
