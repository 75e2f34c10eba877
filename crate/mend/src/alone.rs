//! The way the chords of one curve would go if it did not meet itself.
//!
//! Either as the chords of a sibling that does not, or by smoothing its own.
//! Over the triangle of places (u, w) the chord of a simple curve never
//! vanishes, so its angle is continuous. Where a curve meets itself the chord
//! vanishes, and round that place the angle makes a whole turn. The smooth angle
//! whose steps come nearest to those of the chords, in the sense of least
//! squares, has no such place; it turns away from the chords most between the
//! meeting and the border of the triangle that is nearest, which is where a loop
//! must be drawn out. (Least-squares phase unwrapping; Ghiglia and Romero,
//! Journal of the Optical Society of America A 11, 1994, 107-117.)
//! Estimates: nothing that is proved rests on them.

use loftkin_kernel::curve::Curve;
use nalgebra::Vector2;
use std::f64::consts::PI;

/// Sweeps over the lattice.
const SWEEPS: usize = 300;
/// Places at which slopes are compared.
const STEPS: usize = 64;
/// How little a sweep may change to be the last, radians.
const SETTLED: f64 = 1e-3;

/// Unit directions, row by row, from the chords at the places `i` <= `j` below
/// `size`.
pub fn smoothed(size: usize, chord: impl Fn(usize, usize) -> Vector2<f64>) -> Vec<Vector2<f64>> {
    let mut lattice = Lattice::new(size, &chord);
    lattice.relax();
    let direction = |angle: &f64| Vector2::new(libm::cos(*angle), libm::sin(*angle));
    let directions = lattice.angles.iter().map(direction).collect();
    turned(size, &chord, directions)
}

/// Unit directions, row by row: those of the chords of another curve, one that
/// does not meet itself.
pub fn guided(
    size: usize,
    chord: impl Fn(usize, usize) -> Vector2<f64>,
    guide: impl Fn(usize, usize) -> Vector2<f64>,
) -> Vec<Vector2<f64>> {
    let mut directions = vec![Vector2::x(); size * size];
    for i in 0..size {
        for j in i..size {
            let unit = guide(i, j).try_normalize(0.0);
            directions[i * size + j] = unit.unwrap_or_else(Vector2::x);
        }
    }
    turned(size, &chord, directions)
}

/// All directions turned by one angle, so that on the whole they go the chords'
/// way.
fn turned(
    size: usize,
    chord: &dyn Fn(usize, usize) -> Vector2<f64>,
    mut directions: Vec<Vector2<f64>>,
) -> Vec<Vector2<f64>> {
    let mut sum = Vector2::zeros();
    for i in 0..size {
        for j in i..size {
            let (chord, towards) = (chord(i, j), directions[i * size + j]);
            sum += Vector2::new(towards.dot(&chord), towards.perp(&chord));
        }
    }
    let by = sum.try_normalize(0.0).unwrap_or_else(Vector2::x);
    for towards in &mut directions {
        *towards = Vector2::new(
            towards.x * by.x - towards.y * by.y,
            towards.x * by.y + towards.y * by.x,
        );
    }
    directions
}

/// How alike two curves run, from 0 to 1: the mean of the turning from the one's
/// slope to the other's, whatever constant turn there is between them.
pub fn likeness(one: &Curve, other: &Curve) -> f64 {
    let sum = (0..STEPS).fold(Vector2::zeros(), |sum, k| {
        let u = (k as f64 + 0.5) / STEPS as f64;
        let [a, b] = [one, other].map(|curve| curve.slope(u));
        let turning = Vector2::new(a.dot(&b), a.perp(&b));
        sum + turning.try_normalize(0.0).unwrap_or_else(Vector2::zeros)
    });
    sum.norm() / STEPS as f64
}

struct Lattice {
    size: usize,
    /// The angle sought.
    angles: Vec<f64>,
    /// The step of the chords' angle to the next i, and to the next j.
    steps: Vec<[f64; 2]>,
}

impl Lattice {
    fn new(size: usize, chord: &dyn Fn(usize, usize) -> Vector2<f64>) -> Self {
        let mut drawn = vec![0.0; size * size];
        for i in 0..size {
            for j in i..size {
                let chord = chord(i, j);
                drawn[i * size + j] = libm::atan2(chord.y, chord.x);
            }
        }
        let mut steps = vec![[0.0; 2]; size * size];
        for i in 0..size {
            for j in i..size {
                let at = i * size + j;
                if i < j {
                    steps[at][0] = wrapped(drawn[at + size] - drawn[at]);
                }
                if j + 1 < size {
                    steps[at][1] = wrapped(drawn[at + 1] - drawn[at]);
                }
            }
        }
        // To begin with: along the diagonal, then away from it.
        let mut angles = vec![0.0; size * size];
        angles[0] = drawn[0];
        for i in 0..size {
            for j in i..size {
                let at = i * size + j;
                if i < j {
                    angles[at] = angles[at - 1] + steps[at - 1][1];
                } else if 0 < i {
                    angles[at] = angles[at - size] + steps[at - size][0];
                }
            }
        }
        Self {
            size,
            angles,
            steps,
        }
    }

    /// Successive over-relaxation of the normal equations (Young, 1954).
    fn relax(&mut self) {
        let over = 2.0 / (1.0 + libm::sin(PI / self.size as f64));
        for _ in 0..SWEEPS {
            let mut most: f64 = 0.0;
            for i in 0..self.size {
                for j in i..self.size {
                    let change = over * (self.wanted(i, j) - self.angles[i * self.size + j]);
                    self.angles[i * self.size + j] += change;
                    most = most.max(change.abs());
                }
            }
            if most < SETTLED {
                break;
            }
        }
    }

    /// The mean of what the neighbours of (i, j) want there.
    fn wanted(&self, i: usize, j: usize) -> f64 {
        let (size, at) = (self.size, i * self.size + j);
        let wants = [
            (i < j).then(|| (at + size, -self.steps[at][0])),
            (j + 1 < size).then(|| (at + 1, -self.steps[at][1])),
            (0 < i).then(|| (at - size, self.steps[at - size][0])),
            (i < j).then(|| (at - 1, self.steps[at - 1][1])),
        ];
        let (sum, count) = wants
            .into_iter()
            .flatten()
            .fold((0.0, 0.0), |(sum, count), (from, step)| {
                (sum + self.angles[from] + step, count + 1.0)
            });
        if 0.0 < count {
            sum / count
        } else {
            self.angles[at]
        }
    }
}

fn wrapped(angle: f64) -> f64 {
    libm::remainder(angle, 2.0 * PI)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Chords that turn evenly, far more than once round: they are kept as they
    /// are.
    #[test]
    fn chords_that_vanish_nowhere_keep_their_directions() {
        let chord = |i: usize, j: usize| {
            let angle = 0.3 * i as f64 + 0.2 * j as f64;
            Vector2::new(libm::cos(angle), libm::sin(angle)) * (1.0 + i as f64)
        };
        let size = 30;
        let directions = smoothed(size, chord);
        for i in 0..size {
            for j in i..size {
                let found = directions[i * size + j];
                assert!((found - chord(i, j).normalize()).norm() < 1e-9);
            }
        }
    }

    /// The chords of the loop x = t^3 - t, y = t^2 with t from -4 to 4, which
    /// meets itself at t = -1 and t = 1 by its formula: away from the loop the
    /// directions stay near the chords', on its inside they go against them.
    #[test]
    fn a_loop_is_crossed_by_directions_against_its_chords() {
        let size = 41;
        let place = |k: usize| -4.0 + 8.0 * k as f64 / (size - 1) as f64;
        // Divided differences of the formula.
        let chord = |i: usize, j: usize| {
            let (s, t) = (place(i), place(j));
            Vector2::new(s * s + s * t + t * t - 1.0, s + t)
        };
        let directions = smoothed(size, chord);
        let along = |s: usize, t: usize| chord(s, t).normalize().dot(&directions[s * size + t]);
        assert!(0.8 < along(0, size - 1));
        assert!(0.0 < along(0, 0) && 0.0 < along(size - 1, size - 1));
        assert!(along(20, 20) < -0.8);
    }
}
