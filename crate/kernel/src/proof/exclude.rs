//! Three sufficient tests that no blend of a patch vanishes.
//!
//! * *Half-plane*: all coefficients of both nets lie in one open half-plane.
//! * *Pencil*: one direction a curve with d_A.F_A > 0, d_B.F_B > 0 and
//!   d_A.F_B + d_B.F_A > 0 over all coefficients. A zero would make F_B a
//!   negative multiple of F_A, so both terms of the last sum negative.
//! * *Correlated*: the product z = conj(F_A) F_B, a net of degree (6, 6), lies
//!   in one open half-plane that leaves out the negative real axis; a blend
//!   vanishes exactly where z is on that axis.
//!
//! They are tried in that order, the cheap one first.

use super::bounds;
use super::extremes::{greater, lesser};
use super::net::Net;
use nalgebra::Vector2;

/// Whether a test proves that no blend of `nets` vanishes; `errors` bound each
/// net's coefficients per component.
pub fn is_free(nets: &[Net; 2], errors: [f64; 2]) -> bool {
    let [Some(a), Some(b)] = [mean_direction(&nets[0]), mean_direction(&nets[1])] else {
        return false;
    };
    in_half_plane(nets, errors, a + b)
        || in_pencil(nets, errors, [a, b])
        || in_product(nets, errors)
}

fn mean_direction(net: &Net) -> Option<Vector2<f64>> {
    let sum = Vector2::new(net.x.iter().sum(), net.y.iter().sum());
    unit(sum)
}

fn unit(vector: Vector2<f64>) -> Option<Vector2<f64>> {
    let length = vector.norm();
    (0.0 < length && length.is_finite()).then(|| vector / length)
}

/// The least `towards`.c over the coefficients.
fn least_along(net: &Net, towards: Vector2<f64>) -> f64 {
    let mut least = f64::INFINITY;
    for index in 0..16 {
        least = lesser(towards.x * net.x[index] + towards.y * net.y[index], least);
    }
    least
}

// For |d| ≤ 1 an error e per component moves d.c by at most √2 e; the products'
// own rounding is far below the other half of the factor 2.
fn in_half_plane(nets: &[Net; 2], errors: [f64; 2], towards: Vector2<f64>) -> bool {
    let Some(towards) = unit(towards) else {
        return false;
    };
    2.0 * errors[0] < least_along(&nets[0], towards)
        && 2.0 * errors[1] < least_along(&nets[1], towards)
}

fn in_pencil(nets: &[Net; 2], errors: [f64; 2], [a, b]: [Vector2<f64>; 2]) -> bool {
    if least_along(&nets[0], a) <= 2.0 * errors[0] || least_along(&nets[1], b) <= 2.0 * errors[1] {
        return false;
    }
    let mut least = f64::INFINITY;
    for index in 0..16 {
        let along_a = a.x * nets[1].x[index] + a.y * nets[1].y[index];
        let along_b = b.x * nets[0].x[index] + b.y * nets[0].y[index];
        least = lesser(along_a + along_b, least);
    }
    2.0 * (errors[0] + errors[1]) < least
}

const BINOMIAL_3: [f64; 4] = [1.0, 3.0, 3.0, 1.0];
const BINOMIAL_6: [f64; 7] = [1.0, 6.0, 15.0, 20.0, 15.0, 6.0, 1.0];

fn in_product(nets: &[Net; 2], errors: [f64; 2]) -> bool {
    let (real, imaginary) = product(nets);
    let lengths = [0, 1].map(|side| {
        let net: &Net = &nets[side];
        let most = (0..16).fold(0.0, |most: f64, k| {
            greater(net.y[k].abs(), greater(net.x[k].abs(), most))
        });
        most * std::f64::consts::SQRT_2
    });
    // |conj(a) b - conj(a') b'| with each factor off by √2 e, and the rounding
    // of the products and of the weighted sums.
    let error = 2.0 * (lengths[0] * errors[1] + lengths[1] * errors[0] + errors[0] * errors[1])
        + bounds::PRODUCT * lengths[0] * lengths[1];
    // The widest angles either way from the positive real axis.
    let (mut upper, mut lower) = (Vector2::x(), Vector2::x());
    for index in 0..49 {
        let z = Vector2::new(real[index], imaginary[index]);
        if 0.0 <= z.y {
            if upper.perp(&z) > 0.0 || (z.y == 0.0 && z.x < 0.0) {
                upper = z;
            }
        } else if z.perp(&lower) > 0.0 {
            lower = z;
        }
    }
    let [Some(upper), Some(lower)] = [unit(upper), unit(lower)] else {
        return false;
    };
    // Its abscissa is not negative, for both angles are within a half turn of
    // the positive axis and together, as tested below, less than one.
    let Some(towards) = unit(upper + lower) else {
        return false;
    };
    if towards.x < 0.0 {
        return false;
    }
    let mut least = f64::INFINITY;
    for index in 0..49 {
        least = lesser(
            towards.x * real[index] + towards.y * imaginary[index],
            least,
        );
    }
    error < least
}

/// The net of conj(F_A) F_B, real and imaginary parts, index 7 k + l.
fn product(nets: &[Net; 2]) -> ([f64; 49], [f64; 49]) {
    let weighted = |c: &[f64; 16]| -> [f64; 16] {
        std::array::from_fn(|k| c[k] * BINOMIAL_3[k / 4] * BINOMIAL_3[k % 4])
    };
    let (ax, ay) = (weighted(&nets[0].x), weighted(&nets[0].y));
    let (bx, by) = (weighted(&nets[1].x), weighted(&nets[1].y));
    let (mut real, mut imaginary) = ([0.0; 49], [0.0; 49]);
    for i in 0..4 {
        for j in 0..4 {
            let (x, y) = (ax[4 * i + j], ay[4 * i + j]);
            for p in 0..4 {
                let row = 7 * (i + p) + j;
                for q in 0..4 {
                    real[row + q] += x * bx[4 * p + q] + y * by[4 * p + q];
                    imaginary[row + q] += x * by[4 * p + q] - y * bx[4 * p + q];
                }
            }
        }
    }
    for k in 0..7 {
        for l in 0..7 {
            let weight = BINOMIAL_6[k] * BINOMIAL_6[l];
            real[7 * k + l] /= weight;
            imaginary[7 * k + l] /= weight;
        }
    }
    (real, imaginary)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn net(values: &[f64], turn: f64, lift: Vector2<f64>) -> Net {
        let (cosine, sine) = (libm::cos(turn), libm::sin(turn));
        let mut net = Net {
            x: [0.0; 16],
            y: [0.0; 16],
        };
        for k in 0..16 {
            let (x, y) = (values[2 * k] + lift.x, values[2 * k + 1] + lift.y);
            net.x[k] = cosine * x - sine * y;
            net.y[k] = sine * x + cosine * y;
        }
        net
    }

    fn value(net: &Net, x: f64, y: f64) -> Vector2<f64> {
        let weights = |t: f64| {
            let s = 1.0 - t;
            [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t]
        };
        let (p, q) = (weights(x), weights(y));
        (0..16).fold(Vector2::zeros(), |sum, k| {
            sum + net.at(k) * (p[k / 4] * q[k % 4])
        })
    }

    proptest! {
        /// Against the definition: where a test says free, no blend at any of a
        /// fine lattice of places comes near zero.
        #[test]
        fn what_is_excluded_has_no_zero(
            a in prop::collection::vec(-1.0..1.0f64, 32),
            b in prop::collection::vec(-1.0..1.0f64, 32),
            turn in -3.2..3.2f64,
            lift in 0.3..3.0f64,
        ) {
            let nets = [
                net(&a, 0.0, Vector2::new(lift, 0.0)),
                net(&b, turn, Vector2::new(lift, 0.0)),
            ];
            let means = [0, 1].map(|side| mean_direction(&nets[side]).unwrap());
            let free = [
                in_half_plane(&nets, [1e-12; 2], means[0] + means[1]),
                in_pencil(&nets, [1e-12; 2], means),
                in_product(&nets, [1e-12; 2]),
            ];
            for i in 0..=20 {
                for j in 0..=20 {
                    let (x, y) = (f64::from(i) / 20.0, f64::from(j) / 20.0);
                    let (a, b) = (value(&nets[0], x, y), value(&nets[1], x, y));
                    let on_axis = a.dot(&b) < 0.0 && a.perp(&b).abs() < 1e-9 * a.norm() * b.norm();
                    prop_assert!(!on_axis || free == [false; 3]);
                    // z itself lies in the hull that the product test looked at.
                    if free[2] {
                        let z = Vector2::new(a.dot(&b), a.perp(&b));
                        prop_assert!(z.x > 0.0 || z.y != 0.0);
                    }
                }
            }
        }
    }

    #[test]
    fn circles_turned_far_are_excluded_by_the_product_alone() {
        // F_B is F_A turned by 170 degrees while F_A turns by 60 over the patch.
        let swing = |k: usize| libm::cos(0.35 * (k / 4) as f64);
        let lean = |k: usize| libm::sin(0.35 * (k / 4) as f64);
        let values: Vec<f64> = (0..16).flat_map(|k| [swing(k), lean(k)]).collect();
        let nets = [
            net(&values, 0.0, Vector2::zeros()),
            net(&values, 170f64.to_radians(), Vector2::zeros()),
        ];
        let means = [0, 1].map(|side| mean_direction(&nets[side]).unwrap());
        assert!(!in_half_plane(&nets, [1e-12; 2], means[0] + means[1]));
        assert!(!in_pencil(&nets, [1e-12; 2], means));
        assert!(in_product(&nets, [1e-12; 2]));
    }
}
