//! Where a stretch lies: its extent along eight fixed directions.
//!
//! Two stretches are apart when one direction separates them in both curves at
//! once; then it separates every blend of them.

use super::extremes::{greater, lesser};
use nalgebra::{Point2, Vector2};

/// How many directions; each serves both ways.
pub const DIRECTIONS: usize = 8;

const COSINE: [f64; 3] = [
    0.923_879_532_511_286_7,
    std::f64::consts::FRAC_1_SQRT_2,
    0.382_683_432_365_089_8,
];

/// Directions 22.5 degrees apart. That they are rounded does no harm: any
/// vector no longer than 1 (to one rounding) serves.
const TOWARDS: [Vector2<f64>; DIRECTIONS] = [
    Vector2::new(1.0, 0.0),
    Vector2::new(COSINE[0], COSINE[2]),
    Vector2::new(COSINE[1], COSINE[1]),
    Vector2::new(COSINE[2], COSINE[0]),
    Vector2::new(0.0, 1.0),
    Vector2::new(-COSINE[2], COSINE[0]),
    Vector2::new(-COSINE[1], COSINE[1]),
    Vector2::new(-COSINE[0], COSINE[2]),
];

/// The extent of a set of points along each direction, in grid steps.
#[derive(Clone, Copy, Debug)]
pub struct Spread {
    low: [f64; DIRECTIONS],
    high: [f64; DIRECTIONS],
}

impl Spread {
    /// The extent of the hull of `points`.
    pub fn of(points: &[Point2<f64>]) -> Self {
        let mut spread = Self {
            low: [f64::INFINITY; DIRECTIONS],
            high: [f64::NEG_INFINITY; DIRECTIONS],
        };
        for point in points {
            for (k, towards) in TOWARDS.iter().enumerate() {
                let at = towards.dot(&point.coords);
                spread.low[k] = lesser(at, spread.low[k]);
                spread.high[k] = greater(at, spread.high[k]);
            }
        }
        spread
    }

    /// The extent of both.
    pub fn joined(&self, other: &Self) -> Self {
        let mut spread = *self;
        for k in 0..DIRECTIONS {
            spread.low[k] = lesser(other.low[k], spread.low[k]);
            spread.high[k] = greater(other.high[k], spread.high[k]);
        }
        spread
    }

    /// The gaps from `self` to `other` along all directions, first one way,
    /// then the other, less `needed`.
    pub fn gaps(&self, other: &Self, needed: f64) -> [f64; 2 * DIRECTIONS] {
        std::array::from_fn(|k| {
            if k < DIRECTIONS {
                self.low[k] - other.high[k] - needed
            } else {
                other.low[k - DIRECTIONS] - self.high[k - DIRECTIONS] - needed
            }
        })
    }
}

/// A direction among the fixed ones, both ways, or between two neighbours.
#[derive(Clone, Copy, Debug)]
pub struct Between {
    index: usize,
    weights: (f64, f64),
}

impl Between {
    /// Direction number `index` of both ways.
    pub fn at(index: usize) -> Self {
        Self::mixed(index, 1.0, 0.0)
    }

    /// `x` times that direction plus `y` times the next; only x : y counts.
    pub fn mixed(index: usize, x: f64, y: f64) -> Self {
        Self {
            index,
            weights: (x / (x + y), y / (x + y)),
        }
    }

    /// As a vector no longer than 1.
    pub fn towards(self) -> Vector2<f64> {
        let at = |k: usize| match k % (2 * DIRECTIONS) {
            k if k < DIRECTIONS => TOWARDS[k],
            k => -TOWARDS[k - DIRECTIONS],
        };
        let (x, y) = self.weights;
        if y == 0.0 {
            return at(self.index);
        }
        at(self.index) * x + at(self.index + 1) * y
    }
}

/// A direction that separates `one[c]` from `other[c]` by more than `needed[c]`,
/// the same way for both curves c.
///
/// Beside the eight directions, both ways, it tries every direction between
/// two neighbours d and e: a support along p d + q e is at most p times that
/// along d plus q times that along e, so the gaps combine alike.
pub fn separation(one: [&Spread; 2], other: [&Spread; 2], needed: [f64; 2]) -> Option<Between> {
    let gaps = [0, 1].map(|c| one[c].gaps(other[c], needed[c]));
    if let Some(k) = (0..2 * DIRECTIONS).find(|&k| 0.0 < gaps[0][k] && 0.0 < gaps[1][k]) {
        return Some(Between::at(k));
    }
    (0..2 * DIRECTIONS).find_map(|k| {
        let next = (k + 1) % (2 * DIRECTIONS);
        let (p, q) = (gaps[0][k], gaps[0][next]);
        let (r, s) = (gaps[1][k], gaps[1][next]);
        // Any x : y strictly between -q : p and s : -r serves, so the mediant.
        if combine(p, q, r, s) {
            Some(Between::mixed(k, s - q, p - r))
        } else if combine(q, p, s, r) {
            Some(Between::mixed(k, q - s, r - p))
        } else {
            None
        }
    })
}

/// Whether x p + y q and x r + y s are positive for some x, y > 0, where p and
/// s are positive and the other two are not.
fn combine(p: f64, q: f64, r: f64, s: f64) -> bool {
    // Far more than the rounding of the two products.
    const SAFETY: f64 = 1.0 - 1e-12;
    0.0 < p && 0.0 < s && q * r < SAFETY * (p * s)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn separates(one: [&Spread; 2], other: [&Spread; 2], needed: [f64; 2]) -> bool {
        separation(one, other, needed).is_some()
    }

    #[test]
    fn two_curves_must_be_separated_the_same_way() {
        let left = Spread::of(&[Point2::new(0.0, 0.0), Point2::new(1.0, 1.0)]);
        let right = Spread::of(&[Point2::new(2.0, 0.0), Point2::new(3.0, 1.0)]);
        assert!(separates([&left, &left], [&right, &right], [0.5; 2]));
        assert!(separates([&right, &right], [&left, &left], [0.5; 2]));
        assert!(!separates([&left, &right], [&right, &left], [0.5; 2]));
        assert!(!separates([&left, &left], [&right, &right], [1.5; 2]));
    }

    #[test]
    fn a_direction_between_two_is_found() {
        // Seen from the origin, one lies towards 0 degrees and one towards 170:
        // only directions between 80 and 90 degrees serve both.
        let origin = Spread::of(&[Point2::origin()]);
        let towards = |degrees: f64| {
            let angle = degrees.to_radians();
            Spread::of(&[Point2::new(libm::cos(angle), libm::sin(angle))])
        };
        let (one, other) = (towards(5.0), towards(170.0));
        assert!(separates([&one, &other], [&origin, &origin], [1e-9; 2]));
        let opposite = towards(185.0);
        assert!(!separates([&one, &opposite], [&origin, &origin], [1e-9; 2]));
    }
}
