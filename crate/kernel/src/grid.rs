//! The drawing grid: whole steps of 0.01 mm, and the way to and from millimetres.
//!
//! Nodes and handles are whole numbers of steps, so a document has exactly one
//! meaning and a shared link gives the same verdict everywhere. It does not
//! snap to any coarser, visible grid: that is the board's business.

use crate::quote::quoted;
use thiserror::Error;

/// Grid steps in one millimetre: the grid is 0.01 mm.
pub const STEPS_PER_MM: f64 = 100.0;

/// The largest coordinate, in grid steps: 100 m either way.
///
/// Squared distances between two points on the grid stay below 2^53, so chord
/// lengths are rounded once only (by the square root).
pub const REACH: i32 = 10_000_000;

/// A point on the drawing grid, in whole steps of 0.01 mm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct GridPoint {
    /// Steps to the right; the distance from the axis in a ring.
    pub x: i32,
    /// Steps upward.
    pub y: i32,
}

/// A coordinate that has no place on the grid.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum GridError {
    /// The coordinate is not a finite number.
    #[error("a coordinate is not a number; give both x and y in millimetres")]
    NotFinite,
    /// The coordinate lies beyond [`REACH`].
    #[error(
        "the coordinate {} mm lies outside the drawing; keep within 100 000 mm of the origin",
        quoted(&mm.to_string())
    )]
    OutOfReach {
        /// The offending coordinate in millimetres.
        mm: f64,
    },
}

impl GridPoint {
    /// The point `x`, `y` in grid steps.
    pub const fn new(x: i32, y: i32) -> Self {
        Self { x, y }
    }

    /// The grid point nearest to `x`, `y` in millimetres.
    ///
    /// # Errors
    /// [`GridError`] when a coordinate is not finite or beyond 100 m.
    pub fn from_mm(x: f64, y: f64) -> Result<Self, GridError> {
        Ok(Self::new(steps(x)?, steps(y)?))
    }

    /// The coordinates in millimetres.
    pub fn to_mm(self) -> (f64, f64) {
        (
            f64::from(self.x) / STEPS_PER_MM,
            f64::from(self.y) / STEPS_PER_MM,
        )
    }

    /// Whether both coordinates are within [`REACH`].
    pub fn in_reach(self) -> bool {
        self.x.unsigned_abs() <= REACH.unsigned_abs()
            && self.y.unsigned_abs() <= REACH.unsigned_abs()
    }
}

fn steps(mm: f64) -> Result<i32, GridError> {
    if !mm.is_finite() {
        return Err(GridError::NotFinite);
    }
    let steps = libm::round(mm * STEPS_PER_MM);
    if f64::from(REACH) < steps.abs() {
        return Err(GridError::OutOfReach { mm });
    }
    // Within ±10^7, so the conversion is exact.
    Ok(steps as i32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn millimetres_round_to_the_nearest_step() {
        let point = GridPoint::from_mm(1.234, -0.006).unwrap();
        assert_eq!(point, GridPoint::new(123, -1));
        assert_eq!(point.to_mm(), (1.23, -0.01));
    }

    #[test]
    fn numbers_without_a_place_are_refused() {
        assert_eq!(GridPoint::from_mm(f64::NAN, 0.0), Err(GridError::NotFinite));
        assert_eq!(
            GridPoint::from_mm(0.0, 1e9),
            Err(GridError::OutOfReach { mm: 1e9 })
        );
    }
}
