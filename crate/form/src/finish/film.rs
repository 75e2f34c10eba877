//! How thick a voltage makes the film: a calibration of the person's own bath.

use thiserror::Error;

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
            range: (2.0, 2.8),
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
}

impl Calibration {
    /// From one patch of a trial strip: the film that its colour shows at `volts`.
    pub fn from_patch(film: f64, volts: f64, share: f64) -> Self {
        let rate = film / volts;
        Self {
            nm_per_volt: rate,
            range: (rate * (1.0 - share), rate * (1.0 + share)),
            start: 0.0,
        }
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
