//! How thick a voltage makes the film: a calibration of the person's own bath.

use std::ops::RangeInclusive;
use thiserror::Error;

/// What sources say of the growth, nm a volt.
pub const SOURCES: RangeInclusive<f64> = 2.0..=2.8;

/// The most that a measure may be unsure by, percent: beyond it says nothing.
const MOST_UNSURE: f64 = 50.0;

/// The film grows with the highest voltage it has seen, so many nm a volt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Calibration {
    /// nm per volt, as measured on a trial strip.
    pub nm_per_volt: f64,
    /// The lowest and the highest that it may be.
    pub range: (f64, f64),
    /// The film before any voltage, nm.
    pub start: f64,
}

impl Default for Calibration {
    /// Not calibrated: the middle of what sources say, 2.0 to 2.8 nm per volt.
    fn default() -> Self {
        Self {
            nm_per_volt: 2.4,
            range: (*SOURCES.start(), *SOURCES.end()),
            start: 0.0,
        }
    }
}

/// Why a calibration cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum CalibrationError {
    /// Not a growth, or out of its own range.
    #[error(
        "{rate} nm per volt lies outside {low} to {high}: give a measured growth above 0 within its range (sources say 2.0 to 2.8)"
    )]
    Rate {
        /// nm per volt.
        rate: f64,
        /// The low end of the range.
        low: f64,
        /// The high end.
        high: f64,
    },
    /// A film that is no thickness.
    #[error("a film of {nm} nm before any voltage: give 0 to 50 nm")]
    Start {
        /// In nm.
        nm: f64,
    },
    /// A measure that says nothing.
    #[error("a measure unsure by {percent} percent: give 0 to 50")]
    Unsure {
        /// What was given.
        percent: f64,
    },
    /// A patch that tells nothing.
    #[error("a patch of {film} nm at {volts} V: give a film and a voltage above 0")]
    Patch {
        /// nm.
        film: f64,
        /// V.
        volts: f64,
    },
}

impl Calibration {
    /// As measured, unsure by so many percent either way.
    ///
    /// # Errors
    /// [`CalibrationError`].
    pub fn measured(nm_per_volt: f64, percent: f64) -> Result<Self, CalibrationError> {
        if !(0.0..=MOST_UNSURE).contains(&percent) {
            return Err(CalibrationError::Unsure { percent });
        }
        let share = percent / 100.0;
        let calibration = Self {
            nm_per_volt,
            range: (nm_per_volt * (1.0 - share), nm_per_volt * (1.0 + share)),
            start: 0.0,
        };
        calibration.validate()?;
        Ok(calibration)
    }

    /// From one patch of a trial strip: the film that its colour shows at `volts`,
    /// unsure by so many percent either way.
    ///
    /// # Errors
    /// [`CalibrationError`].
    pub fn from_patch(film: f64, volts: f64, percent: f64) -> Result<Self, CalibrationError> {
        let rate = film / volts;
        if !(0.0 < film && 0.0 < volts && 0.0 < rate && rate.is_finite()) {
            return Err(CalibrationError::Patch { film, volts });
        }
        Self::measured(rate, percent)
    }

    /// Whether nothing is measured: the growth is the one that sources tell.
    pub fn is_of_sources(&self) -> bool {
        let told = Self::default();
        (self.nm_per_volt, self.range) == (told.nm_per_volt, told.range)
    }

    /// How much thinner and how much thicker a film may be, at most: shares of it.
    pub fn doubt(&self) -> (f64, f64) {
        let (low, high) = self.range;
        (1.0 - low / self.nm_per_volt, high / self.nm_per_volt - 1.0)
    }

    /// Checks the ranges.
    ///
    /// # Errors
    /// [`CalibrationError`].
    pub fn validate(&self) -> Result<(), CalibrationError> {
        let (rate, (low, high)) = (self.nm_per_volt, self.range);
        let is_growth = 0.0 < low && low <= rate && rate <= high && high.is_finite();
        if !is_growth {
            return Err(CalibrationError::Rate { rate, low, high });
        }
        if !(0.0..=50.0).contains(&self.start) {
            return Err(CalibrationError::Start { nm: self.start });
        }
        Ok(())
    }

    /// The film at `volts`, nm.
    pub fn film(&self, volts: f64) -> f64 {
        self.start + self.nm_per_volt * volts
    }

    /// The thinnest and the thickest that it may be, nm.
    pub fn film_range(&self, volts: f64) -> (f64, f64) {
        let (low, high) = self.range;
        (self.start + low * volts, self.start + high * volts)
    }

    /// The voltage for a film of `film` nm; none when the start is thicker.
    pub fn volts(&self, film: f64) -> Option<f64> {
        let volts = (film - self.start) / self.nm_per_volt;
        (0.0 <= volts).then_some(volts)
    }
}
