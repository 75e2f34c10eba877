//! A way that all nodes go at once until some value comes to nought.

use crate::freedom::Freedom;

/// Slopes below this share of the largest are none.
const NOTHING: f64 = 1e-6;
/// The cosine from which two ways count as one.
const LIKE: f64 = 0.95;

/// A way for all nodes at once.
#[derive(Clone)]
pub struct Aim {
    /// How far nodes must go, about, grid steps.
    pub reach: f64,
    /// Where each knob goes for a step of length 1.
    pub way: Vec<f64>,
}

impl Aim {
    /// The way on which `value`, with these slopes at `setting`, comes to nought.
    pub fn at_nought(
        freedom: &Freedom,
        value: f64,
        slopes: &[Vec<f64>; 2],
        setting: Option<&[f64]>,
    ) -> Option<Self> {
        let by = slopes.concat();
        debug_assert_eq!(by.len(), freedom.knobs.len());
        let mut way = vec![0.0; by.len()];
        let mut sum = 0.0;
        // Knobs come in twos, right and up, a point each.
        let long = |by: &[f64]| by[0].hypot(by[1]);
        let most = by.chunks_exact(2).map(long).fold(0.0, f64::max);
        for (way, by) in way.chunks_exact_mut(2).zip(by.chunks_exact(2)) {
            let long = long(by);
            sum += long;
            // What is but rounding has no direction.
            if NOTHING * most < long {
                way.copy_from_slice(&[-by[0] / long, -by[1] / long]);
            }
        }
        let gone: f64 = setting.map_or(0.0, |setting| {
            by.iter().zip(setting).map(|(by, z)| by * z).sum()
        });
        let reach = (value - gone) / sum;
        (0.0 < sum && 0.0 <= reach && reach.is_finite()).then_some(Self { reach, way })
    }

    /// Whether the two go nearly the same way.
    pub fn is_like(&self, other: &Self) -> bool {
        let dot = |one: &[f64], other: &[f64]| -> f64 {
            one.iter().zip(other).map(|(one, other)| one * other).sum()
        };
        let both = dot(&self.way, &self.way) * dot(&other.way, &other.way);
        LIKE * both.sqrt() < dot(&self.way, &other.way)
    }
}
