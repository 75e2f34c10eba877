//! The proof that a loft is free of faults. (Being built: nothing is proved yet.)

use crate::curve::Curve;
use crate::family::Settings;
use crate::profile::{Profile, ProfileError};
use crate::verdict::{Doubt, Judgement, Place};
use nalgebra::Point2;

/// A profile made ready for the proof.
pub struct Prepared {
    curve: Result<Curve, ProfileError>,
}

/// Memory that the proof uses again from pair to pair.
pub struct Workspace {}

impl Workspace {
    /// An empty workspace.
    pub fn new() -> Self {
        Self {}
    }
}

impl Default for Workspace {
    fn default() -> Self {
        Self::new()
    }
}

impl Prepared {
    /// Prepares `profile`; one that is wrong in itself is kept with its error.
    pub fn new(profile: &Profile, settings: &Settings) -> Self {
        Self {
            curve: Curve::new(profile, settings.pacing),
        }
    }

    /// The curve, or why there is none.
    ///
    /// # Errors
    /// What [`Profile::validate`] found.
    pub fn curve(&self) -> Result<&Curve, ProfileError> {
        self.curve.as_ref().map_err(|&error| error)
    }
}

fn open() -> Judgement {
    let place = Place {
        along: 0.0,
        other_along: 0.0,
        across: 0.0,
        point: Point2::origin(),
    };
    Judgement::new([None; 4], Some(Doubt::Limit { place }), 0)
}

/// Judges one profile by itself.
pub fn judge_profile(profile: &Prepared, _: &Settings, _: &mut Workspace) -> Judgement {
    match profile.curve() {
        Ok(_) => open(),
        Err(error) => Judgement::doubtful(Doubt::ProfileInvalid { profile: 0, error }),
    }
}

/// Judges one pair of profiles that are simple in themselves.
pub fn judge_pair(_: &Prepared, _: &Prepared, _: &Settings, _: &mut Workspace) -> Judgement {
    open()
}
