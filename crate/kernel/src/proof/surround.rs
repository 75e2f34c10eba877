//! Three vectors that surround zero: the witness that some blend of many
//! vanishes.
//!
//! In the plane a point of a hull lies in a triangle of its points (Carathéodory,
//! Über den Variabilitätsbereich der Koeffizienten von Potenzreihen, 1907), so
//! three curves are enough to refute any blend. Three that strictly surround
//! zero are a witness at their very place, without any search along paths.

use super::bounds;
use super::prepared::{Ready, SAMPLES, sample_parameter};
use super::witness::error_of_product;
use nalgebra::Vector2;
use std::f64::consts::PI;

/// Three members that surround zero, at one pair of places.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surround {
    /// The members, by their position in the bundle.
    pub members: [usize; 3],
    /// Their weights: positive, of sum one.
    pub weights: [f64; 3],
    /// The lower fraction along.
    pub along: f64,
    /// The higher one; the same for a fold.
    pub other_along: f64,
}

/// Three vectors that strictly surround zero beyond their errors, and the
/// weights of the blend that vanishes.
pub fn surrounding(vectors: &[Vector2<f64>], errors: &[f64]) -> Option<([usize; 3], [f64; 3])> {
    // Inserted in order: a sort of the library is 6 kB of code, and the vectors are few.
    let mut order: Vec<(f64, usize)> = Vec::with_capacity(vectors.len());
    for (index, vector) in vectors.iter().enumerate() {
        let angle = libm::atan2(vector.y, vector.x);
        let place = order.partition_point(|before| before.0.total_cmp(&angle).is_le());
        order.insert(place, (angle, index));
    }
    let count = order.len();
    let mut best: Option<([usize; 3], [f64; 3], f64)> = None;
    for first in 0..count {
        // The neighbours of the direction opposite to this one.
        let opposite = order[first].0 + PI;
        let after = order.partition_point(|(angle, _)| {
            let limit = if PI < opposite {
                opposite - 2.0 * PI
            } else {
                opposite
            };
            *angle < limit
        });
        let members = [
            order[first].1,
            order[(after + count - 1) % count].1,
            order[after % count].1,
        ];
        let Some((weights, strength)) = weights_of(members, vectors, errors) else {
            continue;
        };
        if best.is_none_or(|(_, _, strongest)| strongest < strength) {
            best = Some((members, weights, strength));
        }
    }
    best.map(|(members, weights, _)| (members, weights))
}

/// The weights of three vectors that surround zero counter-clockwise, and the
/// least sine between two of them.
fn weights_of(
    members: [usize; 3],
    vectors: &[Vector2<f64>],
    errors: &[f64],
) -> Option<([f64; 3], f64)> {
    let mut crosses = [0.0; 3];
    let mut strength: f64 = 1.0;
    for k in 0..3 {
        let (i, j) = (members[(k + 1) % 3], members[(k + 2) % 3]);
        let (a, b) = (vectors[i], vectors[j]);
        let cross = a.perp(&b);
        if cross <= error_of_product(a, b, [errors[i], errors[j]]) {
            return None;
        }
        crosses[k] = cross;
        strength = strength.min(cross / (a.norm() * b.norm()));
    }
    let total: f64 = crosses.iter().sum();
    Some((crosses.map(|cross| cross / total), strength))
}

/// The strongest witness among the places of the samples: chords between two,
/// and slopes at one.
pub fn at_samples(members: &[&Ready]) -> Option<Surround> {
    let mut best: Option<(Surround, f64)> = None;
    let chord_errors: Vec<f64> = members
        .iter()
        .map(|member| bounds::PATCH * member.size)
        .collect();
    let slope_errors: Vec<f64> = members
        .iter()
        .map(|member| bounds::PATCH * member.steepest)
        .collect();
    let mut vectors = vec![Vector2::zeros(); members.len()];
    for j in 0..SAMPLES {
        for i in 0..=j {
            for (vector, member) in vectors.iter_mut().zip(members) {
                *vector = if i == j {
                    member.slopes[i]
                } else {
                    member.points[j] - member.points[i]
                };
            }
            let errors = if i == j { &slope_errors } else { &chord_errors };
            if widest_pair(&vectors).is_some() {
                continue;
            }
            let Some((triple, weights)) = surrounding(&vectors, errors) else {
                continue;
            };
            let strength =
                weights_of(triple, &vectors, errors).map_or(0.0, |(_, strength)| strength);
            if best.is_none_or(|(_, strongest)| strongest < strength) {
                let surround = Surround {
                    members: triple,
                    weights,
                    along: sample_parameter(i),
                    other_along: sample_parameter(j),
                };
                best = Some((surround, strength));
            }
        }
    }
    best.map(|(surround, _)| surround)
}

/// The two ends of the arc of directions, if it is less than a half turn.
pub fn widest_pair(directions: &[Vector2<f64>]) -> Option<(Vector2<f64>, Vector2<f64>)> {
    let (mut from, mut to) = (*directions.first()?, *directions.first()?);
    for &direction in directions {
        if from.perp(&direction) < 0.0 {
            if direction.perp(&to) < 0.0 {
                return None;
            }
            from = direction;
        } else if direction.perp(&to) < 0.0 {
            to = direction;
        }
    }
    (0.0 <= from.perp(&to)).then_some((from, to))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ray(degrees: f64, length: f64) -> Vector2<f64> {
        let angle = degrees.to_radians();
        Vector2::new(libm::cos(angle), libm::sin(angle)) * length
    }

    #[test]
    fn three_of_many_surround_zero_with_their_weights() {
        let vectors = [
            ray(10.0, 1.0),
            ray(130.0, 2.0),
            ray(40.0, 1.0),
            ray(-100.0, 3.0),
        ];
        let (members, weights) = surrounding(&vectors, &[1e-12; 4]).unwrap();
        let blend = (0..3).fold(Vector2::zeros(), |sum: Vector2<f64>, k| {
            sum + vectors[members[k]] * weights[k]
        });
        assert!(blend.norm() < 1e-12);
        assert!(weights.iter().all(|&weight| 0.0 < weight));
    }

    #[test]
    fn vectors_in_a_half_plane_surround_nothing() {
        let vectors = [ray(10.0, 1.0), ray(130.0, 2.0), ray(185.0, 1.0)];
        assert_eq!(surrounding(&vectors, &[1e-12; 3]), None);
        assert!(widest_pair(&vectors).is_some());
    }
}
