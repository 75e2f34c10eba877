//! A programme for the bath: voltage against height while something is lifted
//! out, and the finish that a voltage leaves.
//!
//! The film keeps the highest voltage it has seen. What leaves the bath first keeps
//! the voltage of that moment, so the voltage must not fall from the top to the
//! bottom. Heights rise with the lift: how a piece hangs is [`super::lift`]'s.

use super::bath::Bath;
use super::colour::{Srgb, colour};
use super::supply::MOST_VOLTS;
use thiserror::Error;

/// A height of the piece with the voltage at which it leaves the bath.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    /// In mm.
    pub height: f64,
    /// In volts.
    pub volts: f64,
}

/// Voltage against height, straight between stops.
#[derive(Clone, Debug, PartialEq)]
pub struct Programme {
    /// From the highest down.
    stops: Vec<Stop>,
}

/// Why a programme cannot be run. Stops count from 1, from what leaves the bath
/// first.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum ProgrammeError {
    /// No stop.
    #[error("there is no stop: give at least one height with its voltage")]
    Empty,
    /// A stop not below the one before it.
    #[error(
        "stop {stop} does not leave the bath after the one before it: list stops in the order in which their heights leave the bath"
    )]
    NotFalling {
        /// Which stop.
        stop: usize,
    },
    /// A voltage beyond what can be set.
    #[error("stop {stop} asks for {volts} V: give 0 to 140 V")]
    Volts {
        /// Which stop.
        stop: usize,
        /// Its voltage.
        volts: f64,
    },
    /// A voltage lower than that of the stop before.
    #[error(
        "stop {stop} has {volts} V, less than the {before} V of what leaves the bath before it: what leaves later stays in longer, so the voltage can only rise from stop to stop; turn the piece over or mask it"
    )]
    Falls {
        /// Which stop.
        stop: usize,
        /// Its voltage.
        volts: f64,
        /// The voltage of the stop before it.
        before: f64,
    },
}

/// What one place of the piece looks like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Finish {
    /// The film, nm.
    pub film: f64,
    /// The thinnest and thickest that it may be, by the calibration.
    pub film_range: (f64, f64),
    /// Its colour.
    pub colour: Srgb,
    /// The colours of the thinnest and of the thickest.
    pub colour_range: (Srgb, Srgb),
    /// The colour expected where the eye looks aslant, at [`Bath::aslant`].
    pub aslant: Srgb,
    /// Whether the voltage lies within the range in which growth was found to be linear;
    /// none when no such range is given.
    pub is_linear: Option<bool>,
}

impl Programme {
    /// The programme through `stops`, listed from the top down.
    ///
    /// # Errors
    /// The first [`ProgrammeError`] found.
    pub fn new(stops: Vec<Stop>) -> Result<Self, ProgrammeError> {
        if stops.is_empty() {
            return Err(ProgrammeError::Empty);
        }
        for (index, stop) in stops.iter().enumerate() {
            let volts = stop.volts;
            if !(0.0..=MOST_VOLTS).contains(&volts) {
                let stop = index + 1;
                return Err(ProgrammeError::Volts { stop, volts });
            }
        }
        for (index, pair) in stops.windows(2).enumerate() {
            let stop = index + 2;
            let is_below = pair[1].height < pair[0].height && pair[1].height.is_finite();
            if !is_below {
                return Err(ProgrammeError::NotFalling { stop });
            }
            if pair[1].volts < pair[0].volts {
                return Err(ProgrammeError::Falls {
                    stop,
                    volts: pair[1].volts,
                    before: pair[0].volts,
                });
            }
        }
        Ok(Self { stops })
    }

    /// The stops, from the top down.
    pub fn stops(&self) -> &[Stop] {
        &self.stops
    }

    /// The voltage at which `height` mm leaves the bath; beyond the stops that of
    /// the nearest.
    pub fn volts(&self, height: f64) -> f64 {
        let below = self.stops.partition_point(|stop| height < stop.height);
        if below == 0 {
            return self.stops[0].volts;
        }
        let Some(low) = self.stops.get(below) else {
            return self.stops[below - 1].volts;
        };
        let high = self.stops[below - 1];
        let t = (high.height - height) / (high.height - low.height);
        high.volts + (low.volts - high.volts) * t
    }
}

/// The finish of a film grown at `volts`.
pub fn finish_at(bath: &Bath, volts: f64) -> Finish {
    let seen = |film: f64| colour(&bath.coating, film, 0.0);
    let calibration = &bath.calibration;
    let (film, film_range) = (calibration.film(volts), calibration.film_range(volts));
    Finish {
        film,
        film_range,
        colour: seen(film),
        colour_range: (seen(film_range.0), seen(film_range.1)),
        aslant: colour(&bath.coating, film, bath.aslant),
        is_linear: bath.supply.linear_to.map(|linear_to| volts <= linear_to),
    }
}
