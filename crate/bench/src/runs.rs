//! What a run of pieces does with each of them, in pieces a minute on one core: from its number to its arrangement,
//! measures, checks, files.
//!
//! A run of the command does all of it on every core and writes to a disk besides. Pieces differ, so a handful of them,
//! spread over the series, is made in turn and the time shared out.

use crate::clock::microseconds;
use crate::families::{self, Shape};
use loftkin_exchange::shop::files::{Format, write};
use loftkin_exchange::shop::{Label, Standing};
use loftkin_form::blend::{Blend, Layout};
use loftkin_form::body::measure;
use loftkin_form::making::workshop::Workshop;
use loftkin_form::piece::Piece;
use loftkin_form::series::Series;
use loftkin_form::series::rules::Rules;
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::table::Table;
use num_bigint::BigUint;
use std::hint::black_box;

/// Pieces made in turn.
const PIECES: usize = 8;
/// The seed of their choice.
const SEED: u64 = 7;
/// How near the area is measured, relative: as in a run of the command.
const AREA_TOLERANCE: f64 = 1e-5;
/// How far meshes may be from the piece, mm: as the command has it unless told otherwise.
const TOLERANCE: f64 = 0.1;

/// One thing done with each piece.
pub struct Run {
    /// What a person calls it.
    pub name: &'static str,
    /// Pieces a minute that one core should do in native code: half of what two cores should.
    pub goal: Option<f64>,
    /// Does it with all pieces.
    pub work: fn(&Shop),
}

/// All of them, in the order of a run.
pub const RUNS: &[Run] = &[
    Run {
        name: "number to arrangement and back",
        goal: None,
        work: Shop::number,
    },
    Run {
        name: "measured",
        goal: None,
        work: Shop::measure,
    },
    Run {
        name: "checked, draft proved",
        goal: None,
        work: Shop::check,
    },
    Run {
        name: "measured and checked",
        // 50,000 in a minute on two cores.
        goal: Some(25_000.0),
        work: |shop| {
            shop.measure();
            shop.check();
        },
    },
    Run {
        name: "mesh and STL",
        goal: None,
        work: |shop| shop.files(&[Format::Stl]),
    },
    Run {
        name: "STEP",
        goal: None,
        work: |shop| shop.files(&[Format::Step]),
    },
    Run {
        name: "STL and STEP",
        // 2,000 in a minute on two cores.
        goal: Some(1_000.0),
        work: |shop| shop.files(&[Format::Stl, Format::Step]),
    },
];

/// A series to make pieces of: eight profiles of 12 spans over six stations.
pub struct Shop {
    table: Table,
    series: Series,
    numbers: Vec<BigUint>,
    pieces: Vec<Piece>,
    workshop: Workshop,
}

impl Default for Shop {
    fn default() -> Self {
        let table = Table::new(families::clear(Shape::Closed, 8, 12)).expect("well formed");
        // Narrowing upward, so that some pieces have draft and some have not.
        let places = (0..6).map(|index| {
            let up = f64::from(index);
            Station::at(60.0 * up).scaled(1.0 - 0.12 * up)
        });
        let stations = Stations::stack(places.collect()).expect("rising");
        let layout = Layout::new(stations, Blend::Ruled).expect("enough stations");
        let series = Series::new(&table, layout, &Rules::default()).expect("any rules");
        let numbers = series.choose(SEED, PIECES);
        let curves: Vec<&Curve> = (0..table.size())
            .map(|index| table.prepared(index).curve().expect("sound profiles"))
            .collect();
        let formed = |number: &BigUint| {
            let arrangement = series.arrangement(number).expect("a piece of the series");
            Piece::new(&curves, series.layout(), arrangement).expect("one profile a station")
        };
        Self {
            pieces: numbers.iter().map(formed).collect(),
            workshop: Workshop::default(),
            numbers,
            series,
            table,
        }
    }
}

impl Shop {
    fn number(&self) {
        for number in &self.numbers {
            let arrangement = self.series.arrangement(black_box(number));
            let arrangement = arrangement.expect("a piece of the series");
            let back = self.series.number(&arrangement);
            assert_eq!(back.as_ref(), Ok(number), "numbers go both ways");
        }
    }

    fn measure(&self) {
        for piece in &self.pieces {
            black_box(measure(black_box(piece), AREA_TOLERANCE));
        }
    }

    fn check(&self) {
        for piece in &self.pieces {
            let edges = self.workshop.edges(black_box(piece));
            black_box(self.workshop.examine(black_box(piece), &edges, true));
        }
    }

    fn files(&self, formats: &[Format]) {
        let label = Label::default();
        for piece in &self.pieces {
            for file in write(piece, formats, TOLERANCE, &label, Standing::Unproven) {
                black_box(file.expect("a file"));
            }
        }
    }

    /// How long counting the series takes, in microseconds, its pairs judged before.
    pub fn counting(&self, now: &dyn Fn() -> f64) -> f64 {
        let layout = self.series.layout();
        let mut work = || {
            let series = Series::new(&self.table, layout.clone(), &Rules::default());
            black_box(series.expect("any rules"));
        };
        microseconds([&mut work], now)[0]
    }

    /// How many pieces a minute `run` does, by a clock that counts milliseconds.
    pub fn pieces_a_minute(&self, run: &Run, now: &dyn Fn() -> f64) -> f64 {
        let time = microseconds([&mut || (run.work)(self)], now)[0];
        60e6 * PIECES as f64 / time
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every pair is clear, so each of six stations takes any of eight profiles.
    #[test]
    fn the_series_is_counted_right() {
        assert_eq!(*Shop::default().series.count(), BigUint::from(8_u32).pow(6));
    }

    /// Volumes come by two formulas that share nothing; a binary STL has 84 bytes and 50 a triangle; a STEP file begins
    /// as ISO 10303-21 has it.
    #[test]
    fn what_is_measured_is_right() {
        let shop = Shop::default();
        let label = Label::default();
        for piece in &shop.pieces {
            let volume = measure(piece, AREA_TOLERANCE).volume.unwrap();
            assert!(volume.disagreement().unwrap() < 1e-9);
            let edges = shop.workshop.edges(piece);
            assert_eq!(shop.workshop.examine(piece, &edges, true).len(), 7);
            let formats = [Format::Stl, Format::Step];
            let files = write(piece, &formats, TOLERANCE, &label, Standing::Unproven);
            let [stl, step] = files.try_into().unwrap();
            let stl = stl.unwrap();
            let triangles = u32::from_le_bytes(stl[80..84].try_into().unwrap());
            assert_eq!(stl.len(), 84 + 50 * triangles as usize);
            assert!(step.unwrap().starts_with(b"ISO-10303-21;"));
        }
        for run in RUNS {
            (run.work)(&shop);
        }
    }
}
