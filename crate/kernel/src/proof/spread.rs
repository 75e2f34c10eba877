//! Where a stretch lies: its extent along eight fixed directions.
//!
//! Two stretches are apart when one direction separates them in both curves at
//! once; then it separates every blend of them.

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
                spread.low[k] = spread.low[k].min(at);
                spread.high[k] = spread.high[k].max(at);
            }
        }
        spread
    }

    /// The extent of both.
    pub fn joined(&self, other: &Self) -> Self {
        let mut spread = *self;
        for k in 0..DIRECTIONS {
            spread.low[k] = spread.low[k].min(other.low[k]);
            spread.high[k] = spread.high[k].max(other.high[k]);
        }
        spread
    }
}

/// Whether one direction separates `one[c]` from `other[c]` by more than
/// `needed[c]`, the same way for both curves c.
pub fn separated(one: [&Spread; 2], other: [&Spread; 2], needed: [f64; 2]) -> bool {
    (0..DIRECTIONS).any(|k| {
        let ahead = needed[0] < one[0].low[k] - other[0].high[k]
            && needed[1] < one[1].low[k] - other[1].high[k];
        let behind = needed[0] < other[0].low[k] - one[0].high[k]
            && needed[1] < other[1].low[k] - one[1].high[k];
        ahead || behind
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_curves_must_be_separated_the_same_way() {
        let left = Spread::of(&[Point2::new(0.0, 0.0), Point2::new(1.0, 1.0)]);
        let right = Spread::of(&[Point2::new(2.0, 0.0), Point2::new(3.0, 1.0)]);
        assert!(separated([&left, &left], [&right, &right], [0.5; 2]));
        assert!(separated([&right, &right], [&left, &left], [0.5; 2]));
        assert!(!separated([&left, &right], [&right, &left], [0.5; 2]));
        assert!(!separated([&left, &left], [&right, &right], [1.5; 2]));
    }
}
