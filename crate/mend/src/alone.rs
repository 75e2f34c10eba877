//! The way the chords of one curve would go if it did not meet itself.
//!
//! Over the triangle of places (u, w) the chord of a simple curve never
//! vanishes. Where a curve meets itself it does, and no direction that the chord
//! should keep to follows from the curve alone. So the directions are those of
//! another curve, one that does not meet itself: a sibling or the same curve
//! relaxed. Estimates: nothing that is proved rests on them.

use loftkin_kernel::curve::Curve;
use nalgebra::Vector2;

/// Places at which slopes are compared.
const STEPS: usize = 64;

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tests::ray;
    use loftkin_kernel::family::Pacing;
    use loftkin_kernel::profile::{Node, Profile};

    /// Chords that are a guide's, all turned by 200 degrees and of any length:
    /// every direction is the chord's own.
    #[test]
    fn a_guide_is_turned_the_chords_way() {
        let angle = |i: usize, j: usize| 7.0 * i as f64 + 4.0 * j as f64;
        let size = 20;
        let directions = guided(
            size,
            |i, j| ray(angle(i, j) + 200.0) * (1.0 + i as f64),
            |i, j| ray(angle(i, j)) * (1.0 + j as f64),
        );
        for i in 0..size {
            for j in i..size {
                let found = directions[i * size + j];
                assert!((found - ray(angle(i, j) + 200.0)).norm() < 1e-9);
            }
        }
    }

    #[test]
    fn a_turned_copy_is_alike_and_a_reversed_one_is_not() {
        let round = |turn: f64| {
            let nodes = (0..12).map(|k| {
                let at = ray(turn + 30.0 * f64::from(k)) * 5000.0;
                Node::smooth(libm::round(at.x) as i32, libm::round(at.y) as i32)
            });
            Profile::closed(nodes.collect())
        };
        let curve = |profile: &Profile| Curve::new(profile, Pacing::Parameter).unwrap();
        let one = curve(&round(0.0));
        assert!(0.999 < likeness(&one, &curve(&round(77.0))));
        assert!(likeness(&one, &curve(&round(0.0).reversed())) < 0.1);
    }
}
