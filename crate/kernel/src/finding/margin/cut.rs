//! A patch of chords and the bound proved on it.

use super::super::rate::Rate;
use crate::proof::patch::{Chart, Ends, Patch};
use crate::proof::telling;
use nalgebra::Vector2;

/// A patch with all that its bound needs.
pub struct Cut {
    pub patch: Patch,
    pub chart: Chart,
    pub ends: Ends,
    pub errors: [f64; 2],
    pub rates: [Rate; 2],
    /// What was proved of a larger box that holds this one.
    pub floor: f64,
}

/// The best proved bound of a patch: towards the blend of means nearest to zero,
/// or half way between the two mean directions.
pub fn bound(cut: &Cut, rates: [f64; 2]) -> f64 {
    let means = [0, 1].map(|side| mean(&cut.patch, side) / rates[side]);
    let (share, _) = telling::nearest_blend(means);
    let nearest = means[0] + (means[1] - means[0]) * share;
    let directions = means.map(|mean| mean.try_normalize(0.0));
    let bisector = match directions {
        [Some(one), Some(other)] => (one + other).try_normalize(0.0),
        _ => None,
    };
    [nearest.try_normalize(0.0), bisector]
        .into_iter()
        .flatten()
        .map(|towards| {
            let slack = |side: usize| {
                let net = &cut.patch.nets[side];
                let least = (0..16)
                    .map(|k| towards.dot(&net.at(k)))
                    .fold(f64::INFINITY, f64::min);
                (least - 2.0 * cut.errors[side]) / rates[side]
            };
            slack(0).min(slack(1))
        })
        .fold(0.0, f64::max)
}

fn mean(patch: &Patch, side: usize) -> Vector2<f64> {
    let net = &patch.nets[side];
    (0..16).fold(Vector2::zeros(), |sum, k| sum + net.at(k)) / 16.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::proof::net::Net;

    /// Coefficients that go round zero prove nothing, though their mean, which
    /// has no direction, is zero to the last bit.
    #[test]
    fn a_net_about_zero_has_no_bound() {
        let mut around = Net {
            x: [0.0; 16],
            y: [1.0; 16],
        };
        around.y[8..].fill(-1.0);
        let ahead = Net {
            x: [1.0; 16],
            y: [0.0; 16],
        };
        let cut = Cut {
            patch: Patch {
                nets: [around, ahead],
                x: (0.0, 1.0),
                y: (0.0, 1.0),
                splits: 0,
                bare: [[false; 2]; 2],
                uneven: false,
            },
            chart: Chart::Apart,
            ends: [(0.0, 0.25), (0.5, 0.75)],
            errors: [1e-9; 2],
            rates: [Rate::Even(1.0); 2],
            floor: 0.0,
        };
        assert_eq!(bound(&cut, [1.0; 2]), 0.0);
    }
}
