//! Between millimetres and the grid: rounding with a count of what it changed,
//! and exact decimal text.

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
            format!(
                "{numbers} rounded to the grid of 0.01 mm, the first is {} at {place}.",
                short(value)
            ),
        ))
    }
}

/// `value` with six decimals at most, so that a long fraction reads well.
pub(crate) fn short(value: f64) -> String {
    let text = format!("{value:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Whole steps of 0.01 mm as the shortest decimal number of millimetres.
pub(crate) fn decimal(steps: i32) -> String {
    let sign = if steps < 0 { "-" } else { "" };
    let (whole, part) = (steps.unsigned_abs() / 100, steps.unsigned_abs() % 100);
    if part == 0 {
        format!("{sign}{whole}")
    } else if part % 10 == 0 {
        format!("{sign}{whole}.{}", part / 10)
    } else {
        format!("{sign}{whole}.{part:02}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_read_back_as_the_same_steps() {
        for (steps, text) in [
            (0, "0"),
            (-7, "-0.07"),
            (1250, "12.5"),
            (-30_001, "-300.01"),
        ] {
            assert_eq!(decimal(steps), text);
        }
        for steps in -20_000..20_000 {
            let mm: f64 = decimal(steps).parse().unwrap();
            assert_eq!(GridPoint::from_mm(mm, 0.0), Ok(GridPoint::new(steps, 0)));
            let mut rounding = Rounding::default();
            rounding.point([mm, 0.0], "").unwrap();
            assert_eq!(rounding.note(0), None);
        }
    }
}
