//! From millimetres to the grid, keeping count of what had to be rounded.

use crate::import::Note;
use crate::words;
use loftkin_kernel::grid::{GridError, GridPoint};

/// How many coordinates of one profile lay between grid points, and the first.
#[derive(Default)]
pub(crate) struct Rounding {
    count: usize,
    first: Option<(String, f64)>,
}

impl Rounding {
    /// The grid point nearest to `at` (mm); counts what it had to round.
    pub(crate) fn point(&mut self, at: [f64; 2], place: &str) -> Result<GridPoint, GridError> {
        let point = GridPoint::from_mm(at[0], at[1])?;
        let (x, y) = point.to_mm();
        for (given, kept) in [(at[0], x), (at[1], y)] {
            // Both sides are the nearest f64 to a decimal number (the reader is
            // exact for up to 15 digits), so only true differences are counted.
            if given != kept {
                self.count += 1;
                self.first.get_or_insert_with(|| (place.to_owned(), given));
            }
        }
        Ok(point)
    }

    /// The note on profile `index`, if anything was rounded.
    pub(crate) fn note(self, index: usize) -> Option<Note> {
        let (place, value) = self.first?;
        let numbers = words::counted(self.count, "coordinate was", "coordinates were");
        Some(Note::on_profile(
            index,
            format!("{numbers} rounded to the grid of 0.01 mm, the first is {value} at {place}."),
        ))
    }
}
