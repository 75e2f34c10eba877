//! Stations: the places where profiles stand, in a stack or in a ring.
//!
//! Why a scale or a shift needs no new proof: the surface is free exactly when
//! no blend of the divided differences F_i of its profiles vanishes. A shift
//! drops out of a difference, and the F of a curve scaled by s > 0 is s F, a
//! positive multiple. Whether 0 is a combination of vectors with weights that
//! are not negative (and not all 0) does not depend on positive multiples of
//! the vectors: a weight w on s F is a weight s w on F. Angles between tangents,
//! so twist and crease, stay as well. A turn changes the direction of F, so
//! turned stations are judged anew; only the turn of one against the other
//! counts. In a ring the distance from the axis changes with scale and shift
//! and is judged anew.

use loftkin_kernel::curve::Stand;
use loftkin_kernel::quote::quoted;
use nalgebra::{Point2, Vector2};
use thiserror::Error;

/// The fewest stations.
pub const FEWEST_STATIONS: usize = 2;
/// The most stations.
pub const MOST_STATIONS: usize = 24;
/// Heights and shifts keep within this of the origin, in mm.
pub const REACH_MM: f64 = 100_000.0;
/// The least and the largest scale.
pub const SCALES: (f64, f64) = (0.001, 1000.0);
/// The least step from one station to the next, in mm or degrees.
pub const LEAST_STEP: f64 = 0.01;

/// A place where a profile stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// The height in mm (stack), or the angle in degrees round the axis (ring).
    pub at: f64,
    /// Above 0; 1 as drawn.
    pub scale: f64,
    /// In the plane of the drawing, in mm, after scale and turn.
    pub shift: Vector2<f64>,
    /// In degrees, anticlockwise; for closed profiles only.
    pub turn: f64,
}

impl Station {
    /// A station at `at` (mm or degrees) where a profile stands as drawn.
    pub const fn at(at: f64) -> Self {
        Self {
            at,
            scale: 1.0,
            shift: Vector2::new(0.0, 0.0),
            turn: 0.0,
        }
    }

    /// The same station with its profile scaled by `scale`.
    pub fn scaled(self, scale: f64) -> Self {
        Self { scale, ..self }
    }

    /// The same station with its profile shifted by `x`, `y` mm.
    pub fn shifted(self, x: f64, y: f64) -> Self {
        let shift = Vector2::new(x, y);
        Self { shift, ..self }
    }

    /// The same station with its profile turned by `degrees`.
    pub fn turned(self, degrees: f64) -> Self {
        Self {
            turn: degrees,
            ..self
        }
    }

    /// Whether scale, shift and turn are those of `other`.
    pub fn stands_like(&self, other: &Self) -> bool {
        Self {
            at: other.at,
            ..*self
        } == *other
    }
}

/// How the planes of the stations lie in space.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Setting {
    /// Parallel planes: x and y of the drawing are x and y in space, the
    /// height is z.
    Stack,
    /// Half-planes round the z axis: x of the drawing is the distance from the
    /// axis, y is z.
    Ring {
        /// Whether the last station is joined to the first.
        all_round: bool,
    },
}

impl Setting {
    const fn places(self) -> &'static str {
        match self {
            Self::Stack => "heights",
            Self::Ring { .. } => "angles",
        }
    }

    const fn unit(self) -> &'static str {
        match self {
            Self::Stack => "mm",
            Self::Ring { .. } => "degrees",
        }
    }
}

/// The stations of a series: 2 to 24, strictly rising.
#[derive(Clone, Debug, PartialEq)]
pub struct Stations {
    setting: Setting,
    stations: Vec<Station>,
    pivot: Point2<f64>,
}

/// A figure of a file, which may have hundreds of digits.
fn figure(value: f64) -> String {
    quoted(&value.to_string())
}

/// Why stations cannot be used. Positions count from 1, as shown to a person.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum StationError {
    /// Fewer than [`FEWEST_STATIONS`] or more than [`MOST_STATIONS`].
    #[error("{count} stations: give 2 to 24")]
    Count {
        /// How many there are.
        count: usize,
    },
    /// A station not above the one before it.
    #[error(
        "station {station} at {} {unit} does not lie beyond the one before it at {} {unit}: give {} that rise by at least 0.01 {unit}",
        figure(*at), figure(*before), .setting.places(), unit = .setting.unit()
    )]
    NotRising {
        /// Which station.
        station: usize,
        /// Where it is, in mm or degrees.
        at: f64,
        /// Where the one before it is.
        before: f64,
        /// How they stand.
        setting: Setting,
    },
    /// A height beyond [`REACH_MM`] or not a number.
    #[error("station {station} at {}: give a height within 100 000 mm of the origin", figure(*at))]
    Height {
        /// Which station.
        station: usize,
        /// Its height in mm.
        at: f64,
    },
    /// An angle beyond 720 degrees or not a number.
    #[error("station {station} at {} degrees: give an angle from -720 to 720 degrees", figure(*at))]
    Angle {
        /// Which station.
        station: usize,
        /// Its angle in degrees.
        at: f64,
    },
    /// A ring that closes on itself or laps over.
    #[error(
        "the ring turns through {degrees} degrees: keep the last station less than 360 degrees from the first; to close the ring, join it all round instead"
    )]
    PastFullTurn {
        /// From the first station to the last.
        degrees: f64,
    },
    /// A scale outside [`SCALES`].
    #[error("station {station} has scale {}: give a scale from 0.001 to 1000", figure(*scale))]
    Scale {
        /// Which station.
        station: usize,
        /// Its scale.
        scale: f64,
    },
    /// A shift or pivot beyond [`REACH_MM`] or not a number.
    #[error("station {station} is shifted beyond the drawing: keep within 100 000 mm")]
    Shift {
        /// Which station.
        station: usize,
    },
    /// A pivot beyond [`REACH_MM`] or not a number.
    #[error(
        "the pivot of scale and turn lies outside the drawing: keep within 100 000 mm of the origin"
    )]
    Pivot,
    /// A turn beyond 360 degrees either way or not a number.
    #[error(
        "station {station} is turned by {} degrees: give a turn from -360 to 360 degrees",
        figure(*turn)
    )]
    Turn {
        /// Which station.
        station: usize,
        /// Its turn in degrees.
        turn: f64,
    },
    /// A turn of open profiles.
    #[error(
        "station {station} is turned, but the profiles are open: only closed profiles can be turned; set the turn to 0"
    )]
    TurnOfOpen {
        /// Which station.
        station: usize,
    },
}

impl Stations {
    /// A stack of planes at the heights of `stations`.
    ///
    /// # Errors
    /// The first [`StationError`] found.
    pub fn stack(stations: Vec<Station>) -> Result<Self, StationError> {
        Self::new(Setting::Stack, stations)
    }

    /// A ring of half-planes at the angles of `stations`; `all_round` joins the
    /// last to the first.
    ///
    /// # Errors
    /// The first [`StationError`] found.
    pub fn ring(stations: Vec<Station>, all_round: bool) -> Result<Self, StationError> {
        Self::new(Setting::Ring { all_round }, stations)
    }

    fn new(setting: Setting, stations: Vec<Station>) -> Result<Self, StationError> {
        let count = stations.len();
        if !(FEWEST_STATIONS..=MOST_STATIONS).contains(&count) {
            return Err(StationError::Count { count });
        }
        for (index, station) in stations.iter().enumerate() {
            station.validate(index + 1, setting)?;
        }
        for (index, pair) in stations.windows(2).enumerate() {
            if pair[1].at - pair[0].at < LEAST_STEP {
                return Err(StationError::NotRising {
                    station: index + 2,
                    at: pair[1].at,
                    before: pair[0].at,
                    setting,
                });
            }
        }
        let through = stations[count - 1].at - stations[0].at;
        if setting != Setting::Stack && 360.0 - LEAST_STEP < through {
            return Err(StationError::PastFullTurn { degrees: through });
        }
        Ok(Self {
            setting,
            stations,
            pivot: Point2::origin(),
        })
    }

    /// The same stations with scale and turn about `pivot` (mm of the drawing)
    /// in place of the origin.
    ///
    /// # Errors
    /// [`StationError::Pivot`].
    pub fn about(self, pivot: Point2<f64>) -> Result<Self, StationError> {
        if !within(pivot.x, REACH_MM) || !within(pivot.y, REACH_MM) {
            return Err(StationError::Pivot);
        }
        Ok(Self { pivot, ..self })
    }

    /// Checks what only closed profiles allow.
    ///
    /// # Errors
    /// [`StationError::TurnOfOpen`] when `closed` is false and a station turns.
    pub fn suit(&self, closed: bool) -> Result<(), StationError> {
        let turned = self.stations.iter().position(|station| station.turn != 0.0);
        match turned {
            Some(index) if !closed => Err(StationError::TurnOfOpen { station: index + 1 }),
            _ => Ok(()),
        }
    }

    /// Stack or ring.
    pub fn setting(&self) -> Setting {
        self.setting
    }

    /// Whether the last station is joined to the first.
    pub fn is_all_round(&self) -> bool {
        self.setting == Setting::Ring { all_round: true }
    }

    /// Whether they stand round an axis.
    pub fn is_ring(&self) -> bool {
        self.setting != Setting::Stack
    }

    /// How many there are.
    pub fn count(&self) -> usize {
        self.stations.len()
    }

    /// All of them, rising.
    pub fn all(&self) -> &[Station] {
        &self.stations
    }

    /// What stays in place under scale and turn, in mm of the drawing.
    pub fn pivot(&self) -> Point2<f64> {
        self.pivot
    }

    /// How many joints between neighbouring stations there are.
    pub fn joint_count(&self) -> usize {
        self.count() - usize::from(!self.is_all_round())
    }

    /// The stations on both sides of joint `joint`, from 0.
    pub fn beside(&self, joint: usize) -> (usize, usize) {
        (joint, (joint + 1) % self.count())
    }

    /// From the first station to the last (to the first again, all round), in
    /// mm or degrees.
    pub fn extent(&self) -> f64 {
        if self.is_all_round() {
            360.0
        } else {
            self.stations[self.count() - 1].at - self.stations[0].at
        }
    }

    /// How a profile stands at station `index` (from 0).
    pub fn stand(&self, index: usize) -> Stand {
        let station = &self.stations[index];
        Stand {
            scale: station.scale,
            turn: cosine_and_sine(station.turn),
            pivot: self.pivot,
            shift: station.shift,
        }
    }
}

impl Station {
    fn validate(&self, station: usize, setting: Setting) -> Result<(), StationError> {
        let at = self.at;
        match setting {
            Setting::Stack if !within(at, REACH_MM) => {
                return Err(StationError::Height { station, at });
            }
            Setting::Ring { .. } if !within(at, 720.0) => {
                return Err(StationError::Angle { station, at });
            }
            _ => {}
        }
        if !(SCALES.0..=SCALES.1).contains(&self.scale) {
            let scale = self.scale;
            return Err(StationError::Scale { station, scale });
        }
        if !within(self.shift.x, REACH_MM) || !within(self.shift.y, REACH_MM) {
            return Err(StationError::Shift { station });
        }
        if !within(self.turn, 360.0) {
            let turn = self.turn;
            return Err(StationError::Turn { station, turn });
        }
        Ok(())
    }
}

/// Whether `value` is a number no farther than `reach` from 0: false for NaN.
fn within(value: f64, reach: f64) -> bool {
    value.abs() <= reach
}

/// The cosine and sine of an angle in degrees; exact for whole quarter turns.
pub fn cosine_and_sine(degrees: f64) -> (f64, f64) {
    let quarters = libm::round(degrees / 90.0);
    let rest = (degrees - 90.0 * quarters).to_radians();
    let (cosine, sine) = (libm::cos(rest), libm::sin(rest));
    match libm::fmod(quarters, 4.0) as i32 {
        0 => (cosine, sine),
        1 | -3 => (-sine, cosine),
        2 | -2 => (-cosine, -sine),
        _ => (sine, -cosine),
    }
}

#[cfg(test)]
mod tests;
