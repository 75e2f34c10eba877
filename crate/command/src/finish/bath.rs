//! The programme of one piece: how it hangs in the bath, which voltage stands
//! when which height leaves it, and what colour that gives.
//!
//! What leaves the bath first has the lowest voltage; so the piece hangs with the
//! end uppermost whose voltage is lower.

use crate::arguments::finish::BathOptions;
use loftkin_form::body::extent;
use loftkin_form::finish::colour::Srgb;
use loftkin_form::finish::film::{Calibration, CalibrationError};
use loftkin_form::finish::interference::Coating;
use loftkin_form::finish::programme::{Programme, ProgrammeError, Row, Stop};
use loftkin_form::piece::Piece;
use std::fmt::Write;
use thiserror::Error;

/// How far a stop may lie beyond the piece by rounding, mm.
const BESIDE: f64 = 0.01;

/// What sources say of the growth, nm a volt.
const SOURCES: std::ops::RangeInclusive<f64> = 2.0..=2.8;

/// Why there is no programme.
#[derive(Debug, Error)]
pub enum BathError {
    /// A stop where the piece is not.
    #[error(
        "there is no height of {height} mm on this piece: it reaches from {low:.2} to {high:.2} mm"
    )]
    Beyond {
        /// The height of the stop.
        height: f64,
        /// The lowest of the piece.
        low: f64,
        /// The highest.
        high: f64,
    },
    /// Two voltages for one height.
    #[error("the height of {height} mm has two voltages: give one")]
    Twice {
        /// The height.
        height: f64,
    },
    /// A lift that is none.
    #[error("a lift of {speed} mm a minute: give a speed above 0")]
    Lift {
        /// What was asked for.
        speed: f64,
    },
    /// A measure that says nothing.
    #[error("a measure within {share} per cent: give 0 to 50")]
    Within {
        /// What was asked for.
        share: f64,
    },
    #[error("{0}")]
    Calibration(#[from] CalibrationError),
    #[error("{0}")]
    Programme(#[from] ProgrammeError),
}

/// A programme with all that its table needs.
pub struct Bath {
    programme: Programme,
    calibration: Calibration,
    is_measured: bool,
    coating: Coating,
    /// Whether the piece hangs with its lowest end uppermost.
    turned: bool,
    /// The lowest and the highest of the piece, mm.
    reach: (f64, f64),
    lift: f64,
    /// From the end that leaves the bath first; heights as the piece is drawn.
    pub rows: Vec<Row>,
}

impl Bath {
    /// The programme of `piece` through `stops`, heights (mm) with voltages, in
    /// any order; beyond the outer stops their voltage is kept.
    ///
    /// # Errors
    /// The first [`BathError`] found.
    pub fn new(
        piece: &Piece,
        stops: &[(f64, f64)],
        options: &BathOptions,
    ) -> Result<Self, BathError> {
        let calibration = calibration(options)?;
        calibration.validate()?;
        if !(options.lift.is_finite() && 0.0 < options.lift) {
            return Err(BathError::Lift {
                speed: options.lift,
            });
        }
        let (lowest, highest) = extent(piece);
        let reach = (lowest.z, highest.z);
        let stops = covering(stops, reach)?;
        // From the top down; turned over when voltages fall that way.
        let turned = stops[stops.len() - 1].volts < stops[0].volts;
        let mut bath = Self {
            is_measured: options.nm_per_volt.is_some(),
            coating: Coating::default(),
            lift: options.lift,
            programme: hung(stops, turned, reach)?,
            rows: Vec::new(),
            calibration,
            turned,
            reach,
        };
        let rows = usize::from(options.rows);
        let table = bath
            .programme
            .table(&bath.calibration, &bath.coating, bath.lift, rows)?;
        bath.rows = table
            .into_iter()
            .map(|row| Row {
                height: bath.over(row.height),
                ..row
            })
            .collect();
        Ok(bath)
    }

    /// From a height of the piece as drawn to one as it hangs, and back.
    fn over(&self, height: f64) -> f64 {
        over(height, self.turned, self.reach)
    }

    /// The colours at a height of the piece: of the thinnest film that the
    /// calibration allows, of the one expected, of the thickest.
    pub fn colours(&self, height: f64) -> [Srgb; 3] {
        let finish = self
            .programme
            .finish(&self.calibration, &self.coating, self.over(height));
        let (thinnest, thickest) = finish.colour_range;
        [thinnest, finish.colour, thickest]
    }

    /// The voltage at which a height of the piece leaves the bath.
    pub fn volts(&self, height: f64) -> f64 {
        self.programme.volts(self.over(height))
    }

    /// The lowest and the highest of the piece, mm.
    pub fn reach(&self) -> (f64, f64) {
        self.reach
    }

    /// How far the piece is lifted at `row`, mm.
    pub fn lifted(&self, row: &Row) -> f64 {
        row.seconds * self.lift / 60.0
    }

    /// How the piece hangs and how long the lift takes.
    pub fn hanging(&self) -> String {
        let (low, high) = self.reach;
        let (how, first) = if self.turned {
            ("turned over", low)
        } else {
            ("as it is drawn", high)
        };
        format!(
            "Hang the piece {how}, so that its height of {first:.1} mm leaves the bath first, and lift it at {} mm a minute: {} for {:.1} mm. The voltage rises all the while; what is out keeps its colour.",
            self.lift,
            clock((high - low) / self.lift * 60.0),
            high - low
        )
    }

    /// What the film is worked out from, and how sure that is.
    pub fn calibration(&self) -> String {
        let Calibration {
            nm_per_volt: rate,
            range: (low, high),
            ..
        } = self.calibration;
        if self.is_measured {
            let doubt = if SOURCES.contains(&rate) {
                ""
            } else {
                " Sources say 2.0 to 2.8: measure again before you rely on it."
            };
            format!(
                "The film grows by {rate} nm a volt as measured, by {low:.2} to {high:.2} within the accuracy given: colours may be those of the thinnest or of the thickest film.{doubt}"
            )
        } else {
            format!(
                "Not calibrated: sources say that the film grows by {low} to {high} nm a volt, and {rate} is their middle. Colours may be anything from the thinnest to the thickest film: grow a patch on a trial strip in the same bath, and give its --nm-per-volt."
            )
        }
    }

    /// The table for the bath, as CSV.
    pub fn csv(&self) -> String {
        let mut text = "height_mm,lifted_mm,seconds,volts,film_nm,film_least_nm,film_most_nm,colour,colour_least,colour_most\n".to_owned();
        for row in &self.rows {
            let finish = &row.finish;
            let _ = writeln!(
                text,
                "{:.2},{:.2},{:.1},{:.2},{:.1},{:.1},{:.1},{},{},{}",
                row.height,
                self.lifted(row),
                row.seconds,
                row.volts,
                finish.film,
                finish.film_range.0,
                finish.film_range.1,
                code(finish.colour),
                code(finish.colour_range.0),
                code(finish.colour_range.1)
            );
        }
        text
    }
}

/// A colour as pages and drawings name it: "#7d5a2b".
pub fn code(colour: Srgb) -> String {
    let Srgb { red, green, blue } = colour;
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// "4 min 20 s".
pub fn clock(seconds: f64) -> String {
    let whole = seconds.round() as u64;
    match (whole / 60, whole % 60) {
        (0, seconds) => format!("{seconds} s"),
        (minutes, seconds) => format!("{minutes} min {seconds:02} s"),
    }
}

fn calibration(options: &BathOptions) -> Result<Calibration, BathError> {
    let Some(rate) = options.nm_per_volt else {
        return Ok(Calibration::default());
    };
    let share = options.within;
    if !(0.0..=50.0).contains(&share) {
        return Err(BathError::Within { share });
    }
    Ok(Calibration {
        nm_per_volt: rate,
        range: (rate * (1.0 - share / 100.0), rate * (1.0 + share / 100.0)),
        start: 0.0,
    })
}

/// The stops from the top down, with one more at each end that has none.
fn covering(stops: &[(f64, f64)], (low, high): (f64, f64)) -> Result<Vec<Stop>, BathError> {
    let mut sorted = stops.to_vec();
    sorted.sort_by(|one, other| other.0.total_cmp(&one.0));
    for pair in sorted.windows(2) {
        if pair[0].0 == pair[1].0 {
            return Err(BathError::Twice { height: pair[0].0 });
        }
    }
    for &(height, _) in &sorted {
        if !(low - BESIDE..=high + BESIDE).contains(&height) {
            return Err(BathError::Beyond { height, low, high });
        }
    }
    let mut covering: Vec<Stop> = sorted
        .iter()
        .map(|&(height, volts)| Stop {
            height: height.clamp(low, high),
            volts,
        })
        .collect();
    if let Some(&Stop { height, volts }) = covering.first()
        && height < high
    {
        let height = high;
        covering.insert(0, Stop { height, volts });
    }
    if let Some(&Stop { height, volts }) = covering.last()
        && low < height
    {
        let height = low;
        covering.push(Stop { height, volts });
    }
    Ok(covering)
}

fn over(height: f64, turned: bool, (low, high): (f64, f64)) -> f64 {
    if turned { low + high - height } else { height }
}

fn hung(
    mut stops: Vec<Stop>,
    turned: bool,
    reach: (f64, f64),
) -> Result<Programme, ProgrammeError> {
    if turned {
        stops.reverse();
        for stop in &mut stops {
            stop.height = over(stop.height, turned, reach);
        }
    }
    Programme::new(stops)
}
