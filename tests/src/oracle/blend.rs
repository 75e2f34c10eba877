//! Blends of a whole family: the curves of all profiles cut at their common
//! joints and summed with weights, to be searched like any one curve.

use super::curve::OracleCurve;
use super::pair::{OraclePair, common_breaks, common_corners};
use super::search::{Sight, search_alone};
use super::spline::Cubic;
use crate::random::Random;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::Profile;

/// A family, piece by piece.
#[derive(Clone, Debug)]
pub struct OracleFamily {
    breaks: Vec<f64>,
    corners: Vec<bool>,
    curves: Vec<Vec<Cubic>>,
    closed: bool,
}

impl OracleFamily {
    /// The curves of valid `profiles`, all open or all closed.
    pub fn new(profiles: &[Profile], pacing: Pacing) -> Self {
        let curves: Vec<OracleCurve> = profiles
            .iter()
            .map(|profile| OracleCurve::new(profile, pacing))
            .collect();
        Self::of_curves(&curves)
    }

    /// All of `curves`, which are all open or all closed.
    pub fn of_curves(curves: &[OracleCurve]) -> Self {
        let all: Vec<&OracleCurve> = curves.iter().collect();
        let breaks = common_breaks(&all);
        let corners = common_corners(&all, &breaks);
        let cuts = |curve: &OracleCurve| {
            let pieces = breaks.windows(2).map(|ends| curve.cut(ends[0], ends[1]));
            pieces.collect()
        };
        Self {
            closed: curves.iter().all(|curve| curve.closed),
            curves: curves.iter().map(cuts).collect(),
            breaks,
            corners,
        }
    }

    /// How many profiles there are.
    pub fn size(&self) -> usize {
        self.curves.len()
    }

    /// The larger side of the largest profile, in grid steps. A blend may be
    /// smaller, down to a point.
    pub fn extent(&self) -> f64 {
        let alone = |member: usize| {
            let mut weights = vec![0.0; self.size()];
            weights[member] = 1.0;
            self.blend(&weights).size
        };
        (0..self.size()).map(alone).fold(0.0, f64::max)
    }

    /// The blend with these weights, one a profile, as a curve lofted to itself.
    pub fn blend(&self, weights: &[f64]) -> OraclePair {
        let pieces = (0..self.breaks.len() - 1)
            .map(|piece| {
                let mut sum = Cubic::default();
                for (curve, &weight) in self.curves.iter().zip(weights) {
                    for (total, part) in sum.iter_mut().zip(&curve[piece]) {
                        *total += part * weight;
                    }
                }
                sum
            })
            .collect();
        OraclePair::of_one_curve(
            self.breaks.clone(),
            self.corners.clone(),
            pieces,
            self.closed,
        )
    }

    /// What a dense polyline of that blend shows.
    pub fn look(&self, weights: &[f64], chords: usize) -> Sight {
        search_alone(&self.blend(weights), chords)
    }
}

/// Weights of a random convex blend of `count` profiles: not negative, of sum
/// one. Some blends are of all profiles, some of two or three, some near one.
pub fn weights(random: &mut Random, count: usize) -> Vec<f64> {
    // The higher the power of an even number, the more one profile leads.
    let power = [1, 1, 3, 8][random.whole(0, 3) as usize];
    let mut weights: Vec<f64> = (0..count).map(|_| random.unit().powi(power)).collect();
    if random.chance(0.4) {
        let kept: Vec<i32> = (0..3).map(|_| random.whole(0, count as i32 - 1)).collect();
        for (index, weight) in weights.iter_mut().enumerate() {
            if !kept.contains(&(index as i32)) {
                *weight = 0.0;
            }
        }
    }
    let sum: f64 = weights.iter().sum();
    if sum <= 0.0 {
        return vec![1.0 / count as f64; count];
    }
    weights.iter().map(|weight| weight / sum).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shapes::{circle, trochoid};

    #[test]
    fn weights_are_convex() {
        let mut random = Random::new(1);
        for _ in 0..1000 {
            let weights = weights(&mut random, 5);
            assert!(weights.iter().all(|&weight| (0.0..=1.0).contains(&weight)));
            assert!((weights.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn a_blend_of_two_is_their_section() {
        let profiles = [circle(5000.0, 8, 0.0), trochoid(7000.0, 0.4, 20.0, 6)];
        let family = OracleFamily::new(&profiles, Pacing::Parameter);
        let pair = OraclePair::new(&profiles[0], &profiles[1], Pacing::Parameter);
        let blend = family.blend(&[0.7, 0.3]);
        for k in 0..100 {
            let u = f64::from(k) / 100.0;
            assert!((blend.point(u, 0.5) - pair.point(u, 0.3)).norm() < 1e-9 * pair.size);
        }
    }
}
