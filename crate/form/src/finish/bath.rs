//! The bath: what grows the film, what the film looks like, what the supply can do.

use super::film::{Calibration, CalibrationError};
use super::interference::{Coating, CoatingError};
use super::supply::{Supply, SupplyError};
use std::ops::RangeInclusive;
use thiserror::Error;

/// From how far aslant a colour may be asked for, degrees from straight on.
const ASLANT: RangeInclusive<f64> = 0.0..=80.0;

/// What grows the film, and what it looks like.
#[derive(Clone, Debug, PartialEq)]
pub struct Bath {
    /// How thick a voltage makes the film.
    pub calibration: Calibration,
    /// Film and metal.
    pub coating: Coating,
    /// What bath and supply can do.
    pub supply: Supply,
    /// The angle from straight on for the colour seen aslant, degrees.
    pub aslant: f64,
}

/// Why a bath is none.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum BathError {
    /// The calibration.
    #[error(transparent)]
    Calibration(#[from] CalibrationError),
    /// The film.
    #[error(transparent)]
    Coating(#[from] CoatingError),
    /// The limits of bath and supply.
    #[error(transparent)]
    Supply(#[from] SupplyError),
    /// A direction from which nothing is seen.
    #[error("a look from {degrees} degrees aslant: give 0 (straight on) to 80")]
    Aslant {
        /// What was given.
        degrees: f64,
    },
}

impl Default for Bath {
    /// Not calibrated, on titanium, without known limits; seen aslant at 60 degrees.
    fn default() -> Self {
        Self {
            calibration: Calibration::default(),
            coating: Coating::default(),
            supply: Supply::default(),
            aslant: 60.0,
        }
    }
}

impl Bath {
    /// Checks its parts.
    ///
    /// # Errors
    /// The first [`BathError`] found.
    pub fn validate(&self) -> Result<(), BathError> {
        self.calibration.validate()?;
        self.coating.validate()?;
        self.supply.validate()?;
        let degrees = self.aslant;
        if !ASLANT.contains(&degrees) {
            return Err(BathError::Aslant { degrees });
        }
        Ok(())
    }
}
