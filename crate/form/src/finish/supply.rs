//! What a bath and its supply can do: how far growth was found to be linear, where the
//! film breaks down, how fast the voltage rises, how much current there is.
//!
//! All of it is the person's to measure or to read from a data sheet; nothing is assumed.

use thiserror::Error;

/// The highest voltage of a programme.
pub const MOST_VOLTS: f64 = 140.0;

/// Limits of a bath and its supply; what is not given is not known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Supply {
    /// Up to which voltage the film was found to grow linearly, V.
    pub linear_to: Option<f64>,
    /// The voltage at which this bath breaks down, V: sparks, and a film of another kind.
    pub breakdown: Option<f64>,
    /// The fastest rise of the voltage, V a second.
    pub rise: Option<f64>,
    /// The most current, A.
    pub current: Option<f64>,
}

/// Why limits cannot be those of a bath and its supply.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum SupplyError {
    /// A voltage that the programme never sees, or none.
    #[error("{what} of {volts} V: give above 0 to {MOST_VOLTS} V")]
    Volts {
        /// Which limit.
        what: &'static str,
        /// What was given.
        volts: f64,
    },
    /// Growth that is linear beyond the breakdown.
    #[error(
        "linear growth up to {linear_to} V, but a breakdown at {breakdown} V: growth is linear below the breakdown only"
    )]
    Crossed {
        /// Up to which voltage growth is said to be linear.
        linear_to: f64,
        /// The breakdown.
        breakdown: f64,
    },
    /// A rise or a current that is none.
    #[error("{what} of {value} {unit}: give a value above 0")]
    NotAbove {
        /// Which limit.
        what: &'static str,
        /// What was given.
        value: f64,
        /// Its unit.
        unit: &'static str,
    },
}

impl Supply {
    /// Checks the ranges.
    ///
    /// # Errors
    /// The first [`SupplyError`] found.
    pub fn validate(&self) -> Result<(), SupplyError> {
        let voltages = [
            ("a range of linear growth", self.linear_to),
            ("a breakdown voltage", self.breakdown),
        ];
        for (what, volts) in voltages {
            if let Some(volts) = volts.filter(|&volts| !(0.0 < volts && volts <= MOST_VOLTS)) {
                return Err(SupplyError::Volts { what, volts });
            }
        }
        if let (Some(linear_to), Some(breakdown)) = (self.linear_to, self.breakdown)
            && breakdown < linear_to
        {
            return Err(SupplyError::Crossed {
                linear_to,
                breakdown,
            });
        }
        let rates = [
            ("a rise of the voltage", self.rise, "V a second"),
            ("a supply", self.current, "A"),
        ];
        for (what, value, unit) in rates {
            if let Some(value) = value.filter(|&value| !(0.0 < value && value.is_finite())) {
                return Err(SupplyError::NotAbove { what, value, unit });
            }
        }
        Ok(())
    }
}
