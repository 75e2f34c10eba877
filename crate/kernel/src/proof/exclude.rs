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
//!
//! A coefficient that is exactly zero because a curve has no handle there (see
//! [`super::patch::Bare`]) is passed over. At every other place the net is a sum
//! of the remaining ones with weights that are not negative and not all zero, so
//! all three conclusions stand; and right at that corner the curve alone
//! vanishes, which is no contact, while its partner keeps its own coefficient,
//! which is asked like all others. What mixes both nets passes a place over only
//! where it is zero itself.

use super::bounds;
use super::extremes::{greater, lesser};
use super::net::Net;
use super::patch::Bare;
use super::recorder::{Reason, Recorder};
use nalgebra::Vector2;

/// The test that proves it, with its directions.
pub enum Test {
    /// *Half-plane*.
    HalfPlane(Vector2<f64>),
    /// *Pencil*.
    Pencil([Vector2<f64>; 2]),
    /// *Correlated*.
    Product(Vector2<f64>),
}

impl From<Test> for Reason {
    fn from(test: Test) -> Self {
        match test {
            Test::HalfPlane(towards) => Self::HalfPlane(towards),
            Test::Pencil(towards) => Self::Pencil(towards.to_vec()),
            Test::Product(towards) => Self::Product(towards),
        }
    }
}

/// A test that proves that no blend of `nets` vanishes, but for those of `bare`;
/// `errors` bound each net's coefficients per component.
pub fn free_by(nets: &[Net; 2], errors: [f64; 2], bare: [Bare; 2]) -> Option<Test> {
    let (a, b) = (mean_direction(&nets[0])?, mean_direction(&nets[1])?);
    if let Some(towards) = unit(a + b).filter(|&towards| in_half_plane(nets, errors, bare, towards))
    {
        return Some(Test::HalfPlane(towards));
    }
    if in_pencil(nets, errors, bare, [a, b]) {
        return Some(Test::Pencil([a, b]));
    }
    in_product(nets, errors, bare).map(Test::Product)
}

/// Halvings of a corner's directions.
const DEEPEST_CORNER: u32 = 12;

/// Whether no blend of `nets` vanishes near the corner x = y = 0, where both do
/// for want of a handle: the corner blown up once more. Its parts, halved in the
/// middle of s below, go to `recorder`.
///
/// A net without a constant term is x a + y b and terms x^i y^j of a higher
/// degree, none above x + y on the unit square. So over x + y it is
/// s a + (1-s) b, s = x / (x + y), but for the sum of their coefficients, which
/// shrinks with the patch and is counted as an error. A coefficient in powers is
/// at most 27 · 27 times as far off as one in Bernstein form, all together: the
/// sum of C(3,i) 2^i is 27 each way. The few roundings here are far below that.
pub fn corner_is_free(nets: &[Net; 2], errors: [f64; 2], recorder: &mut impl Recorder) -> bool {
    let corners = [0, 1].map(|side| at_corner(&nets[side]));
    let lines = corners.map(|([a, b], _)| Net::from_fn(|i, _| b + (a - b) * (i as f64 / 3.0)));
    let errors = [0, 1].map(|side| corners[side].1 + 729.0 * errors[side]);
    let mut open = vec![(lines, 0)];
    while let Some((lines, depth)) = open.pop() {
        if let Some(test) = free_by(&lines, errors, [[false; 2]; 2]) {
            recorder.free(|| test.into());
            continue;
        }
        if depth == DEEPEST_CORNER {
            return false;
        }
        let [(low, high), (other_low, other_high)] = lines.map(|net| net.middle_halves(true));
        recorder.cut(true);
        open.push(([high, other_high], depth + 1));
        open.push(([low, other_low], depth + 1));
    }
    true
}

/// The linear terms of a net in powers of x and of y, and the sum of all
/// coefficients of higher ones, the larger of the two components.
fn at_corner(net: &Net) -> ([Vector2<f64>; 2], f64) {
    // Differences along y, then along x: entry 4 i + j becomes that of x^i y^j.
    let mut powers: [Vector2<f64>; 16] = std::array::from_fn(|k| net.at(k));
    for order in 1..4 {
        for k in (0..16).rev() {
            if order <= k % 4 {
                powers[k] -= powers[k - 1];
            }
        }
        for k in (4 * order..16).rev() {
            powers[k] -= powers[k - 4];
        }
    }
    let term = |k: usize| powers[k] * (BINOMIAL_3[k / 4] * BINOMIAL_3[k % 4]);
    let higher = (0..16).filter(|k| 2 <= k / 4 + k % 4);
    let rest = higher.fold(Vector2::zeros(), |sum: Vector2<f64>, k| sum + term(k).abs());
    ([term(4), term(1)], rest.amax())
}

fn mean_direction(net: &Net) -> Option<Vector2<f64>> {
    let sum = Vector2::new(net.x.iter().sum(), net.y.iter().sum());
    unit(sum)
}

fn unit(vector: Vector2<f64>) -> Option<Vector2<f64>> {
    let length = vector.norm();
    (0.0 < length && length.is_finite()).then(|| vector / length)
}

/// All of `count` coefficients but the bare ones.
pub fn asked(bare: Bare, count: usize) -> std::ops::Range<usize> {
    usize::from(bare[0])..count - usize::from(bare[1])
}

/// The least `towards`.c over the coefficients.
fn least_along(net: &Net, bare: Bare, towards: Vector2<f64>) -> f64 {
    let mut least = f64::INFINITY;
    for index in asked(bare, 16) {
        least = lesser(towards.x * net.x[index] + towards.y * net.y[index], least);
    }
    least
}

// For |d| ≤ 1 an error e per component moves d.c by at most √2 e; the products'
// own rounding is far below the other half of the factor 2.
fn in_half_plane(
    nets: &[Net; 2],
    errors: [f64; 2],
    bare: [Bare; 2],
    towards: Vector2<f64>,
) -> bool {
    2.0 * errors[0] < least_along(&nets[0], bare[0], towards)
        && 2.0 * errors[1] < least_along(&nets[1], bare[1], towards)
}

fn in_pencil(
    nets: &[Net; 2],
    errors: [f64; 2],
    bare: [Bare; 2],
    [a, b]: [Vector2<f64>; 2],
) -> bool {
    if least_along(&nets[0], bare[0], a) <= 2.0 * errors[0]
        || least_along(&nets[1], bare[1], b) <= 2.0 * errors[1]
    {
        return false;
    }
    let both = [0, 1].map(|corner| bare[0][corner] && bare[1][corner]);
    let mut least = f64::INFINITY;
    for index in asked(both, 16) {
        let along_a = a.x * nets[1].x[index] + a.y * nets[1].y[index];
        let along_b = b.x * nets[0].x[index] + b.y * nets[0].y[index];
        least = lesser(along_a + along_b, least);
    }
    2.0 * (errors[0] + errors[1]) < least
}

const BINOMIAL_3: [f64; 4] = [1.0, 3.0, 3.0, 1.0];
const BINOMIAL_6: [f64; 7] = [1.0, 6.0, 15.0, 20.0, 15.0, 6.0, 1.0];

fn in_product(nets: &[Net; 2], errors: [f64; 2], bare: [Bare; 2]) -> Option<Vector2<f64>> {
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
    let (upper, lower) = (unit(upper)?, unit(lower)?);
    // Its abscissa is not negative, for both angles are within a half turn of
    // the positive axis and together, as tested below, less than one.
    let towards = unit(upper + lower)?;
    if towards.x < 0.0 {
        return None;
    }
    // A product of which one factor is exactly zero is.
    let either = [0, 1].map(|corner| bare[0][corner] || bare[1][corner]);
    let mut least = f64::INFINITY;
    for index in asked(either, 49) {
        least = lesser(
            towards.x * real[index] + towards.y * imaginary[index],
            least,
        );
    }
    (error < least).then_some(towards)
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

    const WHOLE: [Bare; 2] = [[false; 2]; 2];

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

    #[test]
    fn a_net_in_powers_has_the_same_values() {
        // x^2 y + 3 x + 2 y^3, by its blossom.
        let values: Vec<f64> = (0..16)
            .flat_map(|k| {
                let (i, j) = (k / 4, k % 4);
                let (x, square) = (i as f64 / 3.0, [0.0, 0.0, 1.0 / 3.0, 1.0][i]);
                let (y, cube) = (j as f64 / 3.0, if j == 3 { 1.0 } else { 0.0 });
                [square * y + 3.0 * x + 2.0 * cube, 0.0]
            })
            .collect();
        let ([by_x, by_y], rest) = at_corner(&net(&values, 0.0, Vector2::zeros()));
        assert!((by_x.x - 3.0).abs() < 1e-12 && by_y.x.abs() < 1e-12);
        assert!((rest - 3.0).abs() < 1e-12);
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
                unit(means[0] + means[1])
                    .is_some_and(|towards| in_half_plane(&nets, [1e-12; 2], WHOLE, towards)),
                in_pencil(&nets, [1e-12; 2], WHOLE, means),
                in_product(&nets, [1e-12; 2], WHOLE).is_some(),
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
        let towards = unit(means[0] + means[1]).unwrap();
        assert!(!in_half_plane(&nets, [1e-12; 2], WHOLE, towards));
        assert!(!in_pencil(&nets, [1e-12; 2], WHOLE, means));
        assert!(in_product(&nets, [1e-12; 2], WHOLE).is_some());
    }
}
