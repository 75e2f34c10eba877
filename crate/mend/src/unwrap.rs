//! Unwrapping: the sheet of the angle between two directions at every place of
//! a lattice (i <= j).
//!
//! A direction of F never vanishes on a profile that is simple, so over the
//! triangle of places it has a continuous angle. The fill grows from the start
//! and always takes the step over which neither direction turns much, so that
//! it goes round places where one swings about between two places of the
//! lattice (as in quality-guided phase unwrapping; Ghiglia and Pritt,
//! Two-Dimensional Phase Unwrapping: Theory, Algorithms, and Software, 1998).
//! Estimates: nothing that is proved rests on them.

use crate::clearance::{angle, next_sheet};
use nalgebra::Vector2;
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::f64::consts::TAU;

/// The largest swing over which the way round is trusted, as [`Fill::swing`]
/// counts: a turn of 120 degrees.
const SAFE: u32 = 1_500_000;

/// How the turns of the angle between two directions are counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turns {
    /// There are none: the pair is known to be free.
    None,
    /// The same everywhere, for the pair is known to be free, so many that the
    /// mean comes nearest to these radians.
    Same(f64),
    /// Followed from place to place, the mean as near as whole turns allow to
    /// these radians.
    Followed(f64),
}

/// The sheets, row by row, with the mean angle as near to `about` (radians) as
/// whole turns allow.
pub fn unwrapped(
    size: usize,
    about: f64,
    chords: impl Fn(usize, usize) -> [Vector2<f64>; 2],
) -> Vec<i8> {
    let mut fill = Fill::new(size, &chords);
    fill.grow();
    fill.sheets(about, &chords)
}

struct Fill {
    size: usize,
    /// Unit directions of both curves.
    units: Vec<[Vector2<f64>; 2]>,
    /// How often each direction has gone round, once it is reached.
    turns: Vec<Option<[i8; 2]>>,
    /// Places that no safe step leads to: which way round is left open there.
    open: Vec<bool>,
    /// Steps to take: how much turns, to where, from where.
    steps: BinaryHeap<Reverse<(u32, usize, usize)>>,
}

impl Fill {
    fn new(size: usize, chords: &dyn Fn(usize, usize) -> [Vector2<f64>; 2]) -> Self {
        let mut units = vec![[Vector2::x(); 2]; size * size];
        for i in 0..size {
            for j in i..size {
                units[i * size + j] =
                    chords(i, j).map(|chord| chord.try_normalize(0.0).unwrap_or_else(Vector2::x));
            }
        }
        Self {
            size,
            units,
            turns: vec![None; size * size],
            open: vec![false; size * size],
            steps: BinaryHeap::new(),
        }
    }

    fn grow(&mut self) {
        self.reach(0, [0; 2]);
        while let Some(Reverse((swing, to, from))) = self.steps.pop() {
            let (None, Some(turns)) = (self.turns[to], self.turns[from]) else {
                continue;
            };
            self.open[to] = SAFE < swing;
            let next = [0, 1]
                .map(|side| next_sheet(turns[side], self.units[from][side], self.units[to][side]));
            self.reach(to, next);
        }
    }

    fn reach(&mut self, at: usize, turns: [i8; 2]) {
        self.turns[at] = Some(turns);
        let (i, j) = (at / self.size, at % self.size);
        let beside = [
            (0 < i).then(|| at - self.size),
            (i < j).then(|| at + self.size),
            (i < j).then(|| at - 1),
            (j + 1 < self.size).then(|| at + 1),
        ];
        for to in beside.into_iter().flatten() {
            if self.turns[to].is_none() {
                self.steps.push(Reverse((self.swing(at, to), to, at)));
            }
        }
    }

    /// How far the direction that turns more turns, as a whole number that
    /// grows with it.
    fn swing(&self, from: usize, to: usize) -> u32 {
        let along = [0, 1].map(|side| self.units[from][side].dot(&self.units[to][side]));
        ((1.0 - along[0].min(along[1])).max(0.0) * 1e6) as u32
    }

    /// From the chords as they are, so that where they oppose exactly the sign
    /// of their cross product is the one that others see.
    fn sheets(&self, about: f64, chords: &dyn Fn(usize, usize) -> [Vector2<f64>; 2]) -> Vec<i8> {
        let mut sheets = vec![0; self.size * self.size];
        let (mut sum, mut count) = (0.0, 0.0);
        for i in 0..self.size {
            for j in i..self.size {
                let at = i * self.size + j;
                let [a, b] = chords(i, j);
                let [turns_a, turns_b] = self.turns[at].unwrap_or_default();
                let sheet = turns_b
                    .saturating_sub(turns_a)
                    .saturating_add(wrapped(a, b));
                sheets[at] = sheet;
                if (i + j) % 5 == 0 {
                    sum += angle(a, b, sheet);
                    count += 1.0;
                }
            }
        }
        let turns = libm::round((sum / f64::max(count, 1.0) - about) / TAU) as i8;
        for i in 0..self.size {
            for j in i..self.size {
                let at = i * self.size + j;
                sheets[at] = if self.open[at] {
                    let [a, b] = chords(i, j);
                    libm::round((about - angle(a, b, 0)) / TAU) as i8
                } else {
                    sheets[at].saturating_sub(turns)
                };
            }
        }
        sheets
    }
}

/// What wrapping adds to the difference of the angles of a and b, each taken
/// in (-180, 180] degrees, to bring it there too: its whole turns, negated.
fn wrapped(a: Vector2<f64>, b: Vector2<f64>) -> i8 {
    match (a.y < 0.0, b.y < 0.0) {
        (true, false) if a.perp(&b) < 0.0 => 1,
        (false, true) if 0.0 < a.perp(&b) => -1,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tests::ray;

    /// One direction turns once round over the lattice, the other stays: the
    /// unwrapped angle is known by construction.
    #[test]
    fn a_full_turn_is_followed() {
        let size = 30;
        let turn = |i: usize, j: usize| 10.0 * j as f64 + 3.0 * i as f64 - 190.0;
        let sheets = unwrapped(size, 0.0, |i, j| [ray(-100.0), ray(turn(i, j) - 100.0)]);
        for i in 0..size {
            for j in i..size {
                let found = angle(ray(0.0), ray(turn(i, j)), sheets[i * size + j]).to_degrees();
                assert!((found - turn(i, j)).abs() < 1e-9, "{i} {j}: {found}");
            }
        }
    }
}
