//! A programme for the bath: voltage against height while the piece is lifted
//! out, and the colours it leaves.
//!
//! The film keeps the highest voltage it has seen. The piece hangs in the bath and
//! is lifted: what leaves the bath first keeps the voltage of that moment, so the
//! voltage must not fall from the top of the piece to its bottom.

use super::colour::{Srgb, colour};
use super::film::{Calibration, CalibrationError};
use super::interference::Coating;
use thiserror::Error;

/// The highest voltage of a programme.
pub const MOST_VOLTS: f64 = 140.0;

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

/// Why a programme cannot be run. Stops count from 1, from the top down.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum ProgrammeError {
    /// Fewer than two stops.
    #[error("{count} stops: give at least two, the top and the bottom of the piece")]
    TooFew {
        /// How many there are.
        count: usize,
    },
    /// A stop not below the one before it.
    #[error("stop {stop} is not below the one before it: list heights from the top down")]
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
    /// The calibration.
    #[error(transparent)]
    Calibration(#[from] CalibrationError),
}

/// A line of the table for the bath.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// The height at the surface of the bath, mm.
    pub height: f64,
    /// The voltage to stand then.
    pub volts: f64,
    /// Seconds since the top left the bath.
    pub seconds: f64,
    /// The film there.
    pub finish: Finish,
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
}

impl Programme {
    /// The programme through `stops`, listed from the top down.
    ///
    /// # Errors
    /// The first [`ProgrammeError`] found.
    pub fn new(stops: Vec<Stop>) -> Result<Self, ProgrammeError> {
        let count = stops.len();
        if count < 2 {
            return Err(ProgrammeError::TooFew { count });
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

    /// The finish at `height` mm, seen straight on.
    pub fn finish(&self, calibration: &Calibration, coating: &Coating, height: f64) -> Finish {
        finish_at(calibration, coating, self.volts(height))
    }

    /// The table for the bath: `rows` even heights (at least two) from the top
    /// down, lifted at `speed` mm a minute.
    ///
    /// # Errors
    /// [`ProgrammeError::Calibration`].
    pub fn table(
        &self,
        calibration: &Calibration,
        coating: &Coating,
        speed: f64,
        rows: usize,
    ) -> Result<Vec<Row>, ProgrammeError> {
        calibration.validate()?;
        let (top, bottom) = (
            self.stops[0].height,
            self.stops[self.stops.len() - 1].height,
        );
        let last = rows.max(2) - 1;
        let row = |index: usize| {
            let height = top + (bottom - top) * index as f64 / last as f64;
            Row {
                height,
                volts: self.volts(height),
                seconds: 60.0 * (top - height) / speed,
                finish: self.finish(calibration, coating, height),
            }
        };
        Ok((0..=last).map(row).collect())
    }
}

/// The finish of a film grown at `volts`.
pub fn finish_at(calibration: &Calibration, coating: &Coating, volts: f64) -> Finish {
    let seen = |film: f64| colour(coating, film, 0.0);
    let (film, film_range) = (calibration.film(volts), calibration.film_range(volts));
    Finish {
        film,
        film_range,
        colour: seen(film),
        colour_range: (seen(film_range.0), seen(film_range.1)),
    }
}
