//! A piece lifted out of the bath, hung either way: which height leaves when, at
//! which voltage, and the finish that it keeps.
//!
//! Heights are of the piece as it is drawn, in mm, whichever end is uppermost.

use super::bath::{Bath, BathError};
use super::programme::{Finish, Programme, ProgrammeError, Stop, finish_at};
use super::supply::Supply;
use std::ops::RangeInclusive;
use thiserror::Error;

/// How many lines a table may have.
pub const LINES: RangeInclusive<usize> = 2..=2000;

/// A stop so near to an end of the piece, mm, lies at it: ends are told to the
/// hundredth.
const BESIDE: f64 = 0.01;

/// The longest lift, minutes: a day.
const LONGEST: f64 = 1440.0;

/// Which end of the piece is uppermost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hanging {
    /// The top of the piece as it is drawn.
    AsDrawn,
    /// Its foot.
    TurnedOver,
}

/// How fast the piece is lifted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pace {
    /// mm a minute.
    Speed(f64),
    /// Minutes from the first height that leaves the bath to the last.
    Minutes(f64),
}

/// Why a piece cannot be lifted out so.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum LiftError {
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
    /// A piece that leaves the bath all at once.
    #[error(
        "this piece has no height: all of it leaves the bath at once, so it takes one colour only"
    )]
    Flat,
    /// A speed that is none, or too slow.
    #[error(
        "a lift of {speed} mm a minute: give a speed above 0 at which the piece is out within a day"
    )]
    Speed {
        /// mm a minute.
        speed: f64,
    },
    /// A time that is none, or too long.
    #[error("a lift-out of {minutes} minutes: give above 0 to 1440")]
    Minutes {
        /// What was given.
        minutes: f64,
    },
    /// A table that none can be worked by.
    #[error("a table of {lines} lines: give 2 to 2000")]
    Lines {
        /// What was given.
        lines: usize,
    },
    /// A voltage at which the bath breaks down.
    #[error(
        "the piece would see {volts} V, but this bath breaks down at {breakdown} V: sparks, heat and a rough film of another colour; stay below it"
    )]
    Breakdown {
        /// The highest voltage of the lift.
        volts: f64,
        /// The breakdown voltage that was given.
        breakdown: f64,
    },
    /// A rise that the supply does not give.
    #[error(
        "the lift asks for {asked:.2} V a second, but the supply rises by {most} V a second at most: take at least {minutes:.1} minutes, or set the stops farther apart"
    )]
    Rise {
        /// The steepest rise, V a second.
        asked: f64,
        /// What the supply gives.
        most: f64,
        /// How long the lift must take for that, minutes.
        minutes: f64,
    },
    /// The voltages.
    #[error(transparent)]
    Programme(#[from] ProgrammeError),
    /// The bath.
    #[error(transparent)]
    Bath(#[from] BathError),
}

/// A line of the table for the bath.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// The height at the surface of the bath, mm.
    pub height: f64,
    /// How far the piece is lifted then, mm.
    pub lifted: f64,
    /// Seconds since the first height left the bath.
    pub seconds: f64,
    /// The voltage to stand then.
    pub volts: f64,
    /// What that height keeps.
    pub finish: Finish,
}

/// A piece on its way out of the bath.
#[derive(Clone, Debug, PartialEq)]
pub struct LiftOut {
    bath: Bath,
    hanging: Hanging,
    /// In heights as the piece hangs, see [`Hanging::hung`].
    programme: Programme,
    reach: (f64, f64),
    minutes: f64,
}

impl Hanging {
    /// From a height of the piece as it is drawn to one that rises with the lift, and
    /// back.
    fn hung(self, height: f64) -> f64 {
        match self {
            Self::AsDrawn => height,
            // Never a negative zero.
            Self::TurnedOver => 0.0 - height,
        }
    }

    /// The order in which `stops` leave the bath, and how the piece, which reaches from the
    /// one to the other of `reach`, hangs for that: the end with the lower voltage
    /// uppermost.
    ///
    /// # Errors
    /// [`LiftError::Twice`] and [`LiftError::Beyond`].
    pub fn of_stops(
        mut stops: Vec<Stop>,
        (low, high): (f64, f64),
    ) -> Result<(Self, Vec<Stop>), LiftError> {
        stops.sort_by(|one, other| other.height.total_cmp(&one.height));
        for pair in stops.windows(2) {
            if pair[0].height == pair[1].height {
                let height = pair[0].height;
                return Err(LiftError::Twice { height });
            }
        }
        for &Stop { height, .. } in &stops {
            if !(low - BESIDE..=high + BESIDE).contains(&height) {
                return Err(LiftError::Beyond { height, low, high });
            }
        }
        let falls = |ends: (&Stop, &Stop)| ends.1.volts < ends.0.volts;
        if stops.first().zip(stops.last()).is_some_and(falls) {
            stops.reverse();
            return Ok((Self::TurnedOver, stops));
        }
        Ok((Self::AsDrawn, stops))
    }
}

impl LiftOut {
    /// The lift of a piece that reaches from the one to the other of `reach` (mm),
    /// by `stops` in the order in which they leave the bath. What they do not reach keeps
    /// the voltage of the nearest.
    ///
    /// # Errors
    /// The first [`LiftError`] found.
    pub fn new(
        bath: Bath,
        reach: (f64, f64),
        hanging: Hanging,
        stops: Vec<Stop>,
        pace: Pace,
    ) -> Result<Self, LiftError> {
        bath.validate()?;
        let way = reach.1 - reach.0;
        let has_height = 0.0 < way;
        if !has_height {
            return Err(LiftError::Flat);
        }
        let is_time = |minutes: f64| 0.0 < minutes && minutes <= LONGEST;
        let minutes = match pace {
            Pace::Speed(speed) if is_time(way / speed) => way / speed,
            Pace::Speed(speed) => return Err(LiftError::Speed { speed }),
            Pace::Minutes(minutes) if is_time(minutes) => minutes,
            Pace::Minutes(minutes) => return Err(LiftError::Minutes { minutes }),
        };
        let hung = stops.into_iter().map(|stop| Stop {
            height: hanging.hung(stop.height),
            ..stop
        });
        let lift = Self {
            programme: Programme::new(hung.collect())?,
            bath,
            hanging,
            reach,
            minutes,
        };
        lift.within_limits()?;
        Ok(lift)
    }

    /// Checks what the bath and its supply can do.
    fn within_limits(&self) -> Result<(), LiftError> {
        let Supply {
            breakdown, rise, ..
        } = self.bath.supply;
        let volts = self.most_volts();
        if let Some(breakdown) = breakdown.filter(|&breakdown| breakdown <= volts) {
            return Err(LiftError::Breakdown { volts, breakdown });
        }
        let asked = self.steepest();
        if let Some(most) = rise.filter(|&most| most < asked) {
            let minutes = self.minutes * asked / most;
            return Err(LiftError::Rise {
                asked,
                most,
                minutes,
            });
        }
        Ok(())
    }

    /// The highest voltage of the lift: what leaves last has it.
    pub fn most_volts(&self) -> f64 {
        self.volts(self.ends().1)
    }

    /// The steepest rise of the voltage while the piece is lifted, V a second.
    pub fn steepest(&self) -> f64 {
        self.rises().iter().fold(0.0, |most, rise| rise.1.max(most))
    }

    /// Where on the piece the voltage begins to rise at another pace, and at which, V a
    /// second: heights of the piece as it is drawn, from what leaves first.
    pub fn rises(&self) -> Vec<(f64, f64)> {
        let (first, last) = self.ends();
        let (top, foot) = (self.hanging.hung(first), self.hanging.hung(last));
        let mm_a_second = self.speed() / 60.0;
        let between = self.programme.stops().windows(2);
        let rise = |pair: &[Stop]| {
            let (high, low) = (pair[0], pair[1]);
            let is_met = foot < high.height && low.height < top;
            let a_mm = (low.volts - high.volts) / (high.height - low.height);
            is_met.then(|| (self.hanging.hung(high.height.min(top)), a_mm * mm_a_second))
        };
        between.filter_map(rise).collect()
    }

    /// Whether the height `part` is out of the bath before `height` leaves it.
    pub fn leaves_before(&self, part: f64, height: f64) -> bool {
        self.hanging.hung(height) < self.hanging.hung(part)
    }

    /// What grows the film.
    pub fn bath(&self) -> &Bath {
        &self.bath
    }

    /// Which end is uppermost.
    pub fn hanging(&self) -> Hanging {
        self.hanging
    }

    /// The lowest and the highest of the piece, mm.
    pub fn reach(&self) -> (f64, f64) {
        self.reach
    }

    /// The height that leaves the bath first, and the one that leaves last.
    pub fn ends(&self) -> (f64, f64) {
        match self.hanging {
            Hanging::AsDrawn => (self.reach.1, self.reach.0),
            Hanging::TurnedOver => self.reach,
        }
    }

    /// From the first height to the last, mm.
    pub fn way(&self) -> f64 {
        self.reach.1 - self.reach.0
    }

    /// How long that takes.
    pub fn minutes(&self) -> f64 {
        self.minutes
    }

    /// How fast the piece is lifted, mm a minute.
    pub fn speed(&self) -> f64 {
        self.way() / self.minutes
    }

    /// The voltage at which a height leaves the bath.
    pub fn volts(&self, height: f64) -> f64 {
        self.programme.volts(self.hanging.hung(height))
    }

    /// What a height keeps.
    pub fn finish(&self, height: f64) -> Finish {
        finish_at(&self.bath, self.volts(height))
    }

    /// How far the piece reaches beyond the first stop and beyond the last, mm; below
    /// zero where the stop lies beyond the piece, zero where it lies at its end.
    pub fn beyond_stops(&self) -> (f64, f64) {
        let stops = self.programme.stops();
        let (first, last) = self.ends();
        let beyond = [
            self.hanging.hung(first) - stops[0].height,
            stops[stops.len() - 1].height - self.hanging.hung(last),
        ];
        let [before, after] = beyond.map(|mm| if mm.abs() < BESIDE { 0.0 } else { mm });
        (before, after)
    }

    /// The table for the bath: even heights from the one that leaves first to the one
    /// that leaves last.
    ///
    /// # Errors
    /// [`LiftError::Lines`].
    pub fn table(&self, lines: usize) -> Result<Vec<Row>, LiftError> {
        if !LINES.contains(&lines) {
            return Err(LiftError::Lines { lines });
        }
        let (first, last) = self.ends();
        let row = |index: usize| {
            let share = index as f64 / (lines - 1) as f64;
            let height = first + (last - first) * share;
            Row {
                height,
                lifted: self.way() * share,
                seconds: 60.0 * self.minutes * share,
                volts: self.volts(height),
                finish: self.finish(height),
            }
        };
        Ok((0..lines).map(row).collect())
    }
}
