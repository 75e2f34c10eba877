//! Which way round all profiles of a family stand to each other.
//!
//! Any blend is free exactly when at every place (u, w) the directions F_k of
//! all profiles lie in one open half-plane. Each direction has a continuous
//! angle over the places; counted with the right whole turns, all angles at one
//! place must lie within 180 degrees. A pair alone counts its turns so that its
//! own mean difference is least, which for three profiles may not agree: 120
//! degrees from the first to the second, from there to the third, and from there
//! back to the first. So the mean angles are laid round the circle once and the
//! circle is cut at a gap; the pairs are then held to the differences that come
//! of it. Where it is cut decides which way the family is untwisted.

use crate::field::Field;
use crate::response::Response;
use crate::unwrap::Turns;
use std::f64::consts::TAU;

/// A cut is tried besides the best when its gap is at most this much narrower,
/// radians (30 degrees).
const NEARLY: f64 = TAU / 12.0;
/// The most cuts tried.
const MOST_CUTS: usize = 3;

/// The mean angle of each profile's directions over all places, against those
/// of the first, radians; known up to whole turns.
pub fn mean_angles(responses: &[&Response]) -> Vec<f64> {
    let Some(first) = responses.first() else {
        return Vec::new();
    };
    let mean = |response: &&Response| {
        Field::new([first, response], &[], Turns::Followed(0.0)).mean_angle()
    };
    responses.iter().map(mean).collect()
}

/// The mean angles with their whole turns, for each cut worth trying, the widest
/// gap first.
pub fn cuts(means: &[f64]) -> Vec<Vec<f64>> {
    let round: Vec<f64> = means
        .iter()
        .map(|mean| mean - TAU * libm::floor(mean / TAU))
        .collect();
    let mut order: Vec<f64> = round.clone();
    order.sort_by(f64::total_cmp);
    // Each gap by its width and the angle that ends it.
    let mut gaps: Vec<(f64, f64)> = (0..order.len())
        .map(|k| {
            let before = if k == 0 {
                order[order.len() - 1] - TAU
            } else {
                order[k - 1]
            };
            (order[k] - before, order[k])
        })
        .collect();
    gaps.sort_by(|one, other| other.0.total_cmp(&one.0));
    let widest = gaps.first().map_or(0.0, |gap| gap.0);
    let tried = gaps.iter().take(MOST_CUTS);
    tried
        .filter(|gap| widest - NEARLY <= gap.0)
        .map(|&(_, start)| {
            let unrolled = |&angle: &f64| if angle < start { angle + TAU } else { angle };
            round.iter().map(unrolled).collect()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_circle_is_cut_at_its_widest_gap() {
        let degrees = [0.0, 100.0, -40.0, 390.0].map(f64::to_radians);
        let cuts = cuts(&degrees);
        assert_eq!(cuts.len(), 1);
        let found: Vec<f64> = cuts[0].iter().map(|angle| angle.to_degrees()).collect();
        for (found, known) in found.iter().zip([360.0, 460.0, 320.0, 390.0]) {
            assert!((found - known).abs() < 1e-9, "{found} {known}");
        }
    }

    #[test]
    fn thirds_have_three_cuts() {
        let degrees = [0.0, 121.0, 240.0].map(f64::to_radians);
        assert_eq!(cuts(&degrees).len(), 3);
    }
}
