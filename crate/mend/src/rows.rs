//! Which places of a pair become rows of the program, and the rows.
//!
//! A place becomes a row when it is not as clear as wished, or when it is the
//! least clear of its neighbourhood and might not stay so during one step.

use crate::clearance::{Clearance, angle, short_of};
use crate::field::Field;
use crate::wishes::Row;
use nalgebra::Vector2;
use std::ops::Range;

/// The most places of one pair that become rows because they fall short.
const MOST_SHORT: usize = 60;
/// The most places of one pair that become rows at all: the least clear.
const MOST_ROWS: usize = 120;
/// Fractions across at which a crease is looked at.
const ACROSS: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// What is wished for a pair; lengths in grid steps, angles in radians.
#[derive(Clone, Copy, Debug)]
pub struct Wish {
    /// The least clearance.
    pub clearance: f64,
    /// How much more than that may be lost in one step.
    pub band: f64,
    /// The twist allowed.
    pub twist: f64,
    /// The crease allowed.
    pub crease: f64,
    /// How far below a limit of angle to stay, as a length of F over its rate.
    pub angle_slack: f64,
}

/// The rows of one pair and how far it falls short of the wish.
pub struct PairRows {
    /// The rows.
    pub rows: Vec<Row>,
    /// The largest shortfall of any place, grid steps; 0 when there is none.
    pub shortfall: f64,
    /// The places looked at, by their parameters, to be looked at again.
    pub noted: Vec<(f64, f64)>,
}

/// The rows of `field`, whose curves have their knobs at `ranges`; the places
/// nearest to `noted` are looked at whatever their neighbours do.
pub fn rows_of(
    field: &Field,
    ranges: [Range<usize>; 2],
    wish: &Wish,
    noted: &[(f64, f64)],
) -> PairRows {
    let mut builder = Builder {
        field,
        ranges,
        result: PairRows {
            rows: Vec::new(),
            shortfall: 0.0,
            noted: Vec::new(),
        },
    };
    builder.contact(wish, noted);
    builder.twist(wish);
    builder.crease(wish);
    builder.result
}

struct Builder<'a> {
    field: &'a Field<'a>,
    ranges: [Range<usize>; 2],
    result: PairRows,
}

impl Builder<'_> {
    fn contact(&mut self, wish: &Wish, noted: &[(f64, f64)]) {
        let (field, size) = (self.field, self.field.size());
        let mut values = vec![f64::INFINITY; size * size];
        for i in 0..size {
            for j in i..size {
                values[i * size + j] = field.clearance_value(i, j) - wish.clearance;
            }
        }
        let mut chosen: Vec<(usize, usize)> = noted
            .iter()
            .map(|&(u, w)| (field.nearest(u), field.nearest(w)))
            .map(|(i, j)| (i.min(j), i.max(j)))
            .filter(|&(i, j)| values[i * size + j] < wish.band)
            .collect();
        let mut short = Vec::new();
        for i in 0..size {
            for j in i..size {
                let value = values[i * size + j];
                if wish.band <= value {
                    continue;
                }
                if is_least(&values, size, i, j) {
                    chosen.push((i, j));
                } else if value < 0.0 {
                    short.push((i, j));
                }
                self.result.shortfall = self.result.shortfall.max(-value);
            }
        }
        let stride = short.len().div_ceil(MOST_SHORT).max(1);
        chosen.extend(short.into_iter().step_by(stride));
        chosen.sort_unstable();
        chosen.dedup();
        if MOST_ROWS < chosen.len() {
            let value = |&(i, j): &(usize, usize)| values[i * size + j];
            chosen.sort_by(|one, other| value(one).total_cmp(&value(other)));
            chosen.truncate(MOST_ROWS);
        }
        for (i, j) in chosen {
            let mut clearance = field.clearance(i, j);
            clearance.value -= wish.clearance;
            self.push((i, j), &clearance);
            self.result.noted.push((field.along[i].u, field.along[j].u));
        }
    }

    fn twist(&mut self, wish: &Wish) {
        for at in 0..self.field.size() {
            let [a, b] = self.field.chords(at, at);
            let delta = angle(a, b, self.field.sheet(at, at));
            let mut short = short_of(a, b, delta, wish.twist);
            short.value -= wish.angle_slack;
            if wish.band <= short.value {
                continue;
            }
            self.result.shortfall = self.result.shortfall.max(-short.value);
            self.push((at, at), &short);
        }
    }

    /// Along a blend at v the tangent before a joint is a, after it b.
    fn crease(&mut self, wish: &Wish) {
        let kinks = self.field.kinks.iter().filter(|kink| !kink.corner);
        for kink in kinks {
            let before = self.field.chords(kink.before, kink.before);
            let after = self.field.chords(kink.after, kink.after);
            // Leans are in steps of the spans; a crease is seen in one unit.
            let scale = self.field.units(kink.before, kink.after);
            for v in ACROSS {
                let weights = [1.0 - v, v];
                let blend = |ends: [Vector2<f64>; 2], scale: [f64; 2]| {
                    ends[0] * (weights[0] * scale[0]) + ends[1] * (weights[1] * scale[1])
                };
                let (a, b) = (blend(before, scale[0]), blend(after, scale[1]));
                let mut short = short_of(a, b, angle(a, b, 0), wish.crease);
                short.value -= wish
                    .angle_slack
                    .min(wish.crease * 0.2 * a.norm().min(b.norm()));
                if wish.band <= short.value {
                    continue;
                }
                self.result.shortfall = self.result.shortfall.max(-short.value);
                let mut row = self.row();
                for (place, by, scale) in [
                    (kink.before, short.by[0], scale[0]),
                    (kink.after, short.by[1], scale[1]),
                ] {
                    let by = [0, 1].map(|side: usize| by * (weights[side] * scale[side]));
                    self.add(&mut row, (place, place), by);
                }
                self.finish(row, short.value);
            }
        }
    }

    fn push(&mut self, place: (usize, usize), clearance: &Clearance) {
        let mut row = self.row();
        self.add(&mut row, place, clearance.by);
        self.finish(row, clearance.value);
    }

    fn row(&self) -> [Vec<f64>; 2] {
        self.ranges.clone().map(|range| vec![0.0; range.len()])
    }

    fn add(&self, row: &mut [Vec<f64>; 2], (i, j): (usize, usize), by: [Vector2<f64>; 2]) {
        let slopes = self.field.slopes(i, j, by);
        for (sum, slopes) in row.iter_mut().zip(slopes) {
            for (sum, slope) in sum.iter_mut().zip(slopes) {
                *sum += slope;
            }
        }
    }

    fn finish(&mut self, row: [Vec<f64>; 2], value: f64) {
        let slopes: Vec<(usize, f64)> = self
            .ranges
            .iter()
            .zip(row)
            .flat_map(|(range, row)| range.clone().zip(row))
            .filter(|(_, by)| 1e-9 < by.abs())
            .collect();
        if !slopes.is_empty() {
            self.result.rows.push(Row {
                value,
                slopes,
                tie: false,
            });
        }
    }
}

/// Whether no neighbour of (i, j) in the lattice is lower.
pub fn is_least(values: &[f64], size: usize, i: usize, j: usize) -> bool {
    let here = values[i * size + j];
    for p in i.saturating_sub(1)..=(i + 1).min(size - 1) {
        for q in j.saturating_sub(1)..=(j + 1).min(size - 1) {
            if p <= q && values[p * size + q] < here {
                return false;
            }
        }
    }
    true
}
