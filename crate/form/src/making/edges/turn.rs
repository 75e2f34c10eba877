//! How far the skin turns on a line where two polynomial parts of it meet, bounded.
//!
//! With c along the line, a arriving at it and b leaving it, the two parts are the
//! planes of (a, c) and (b, c). The parts of a and b square to c enclose the turn Φ:
//!
//! ```text
//! tan Φ = |c| det(a, b, c) / ((a·b)(c·c) - (a·c)(b·c))
//! ```
//!
//! All are polynomials but |c|, and that lies between two: the size of a Bézier curve
//! is at most the blend of its control points' sizes, and at least the blend of their
//! parts along a fixed direction. So the point (divisor, |c| det) lies on the segment
//! between two Bézier curves of the plane, hence in the hull of their control points,
//! and Φ between the angles of these as long as the hull keeps clear of the origin.
//! Stretches are halved where that tells more, until the bound is within [`NEAR`] of
//! a turn that was seen.

use super::SHARP;
use loftkin_kernel::bezier;
use nalgebra::{Vector2, Vector3};
use std::ops::{AddAssign, Mul};

/// A bound so near to what was seen, in degrees, is not sought nearer.
const NEAR: f64 = 0.01;
/// Halvings of one line at most.
const MOST_CUTS: usize = 96;
/// Coefficients may be wrong by this share of the largest product that they are
/// summed from: coordinates of 100 m leave a handle of 0.1 mm so many digits.
const ROUNDING: f64 = 1e-10;

/// Two parts of the skin that meet on a line, on a stretch of it.
#[derive(Clone)]
pub struct Crease {
    /// The turn is positive on a ridge.
    det: Vec<f64>,
    dot: Vec<f64>,
    /// By the parameter of the stretch as it was made.
    common: Vec<Vector3<f64>>,
    /// How much of that the stretch is.
    share: f64,
    /// By how much a point (divisor, |c| det) may be off.
    error: f64,
    /// The stretch, in fractions along or across.
    from: f64,
    to: f64,
}

/// What one line has of ridges, or of valleys.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// Degrees.
    pub least: f64,
    /// Degrees.
    pub most: f64,
    /// Degrees; 0 when it is only not excluded.
    pub seen: f64,
    /// The fraction along or across where that was seen.
    pub at: f64,
    /// mm.
    pub length: f64,
}

impl Crease {
    /// Parts that arrive as `before` and leave as `after` at a line that runs as
    /// `common`, all by their Bernstein coefficients on the stretch; `ridge` is the
    /// sign that their determinant has on a ridge.
    pub fn new(
        [before, after, common]: [&[Vector3<f64>]; 3],
        ridge: f64,
        (from, to): (f64, f64),
    ) -> Self {
        let dot = |one: &[Vector3<f64>], other: &[Vector3<f64>]| {
            product(one, other, 0.0, |a, b| a.dot(&b))
        };
        let times = |one: &[f64], other: &[f64]| product(one, other, 0.0, |a, b| a * b);
        let cross = product(after, common, Vector3::zeros(), |b, c| b.cross(&c));
        let square = dot(common, common);
        let whole = times(&dot(before, after), &square);
        let taken = times(&dot(before, common), &dot(after, common));
        let [a, b, c] = [before, after, common].map(longest);
        Self {
            det: dot(before, &cross)
                .iter()
                .map(|value| ridge * value)
                .collect(),
            dot: whole.iter().zip(&taken).map(|(a, b)| a - b).collect(),
            common: common.to_vec(),
            share: 1.0,
            error: ROUNDING * a * b * c * c,
            from,
            to,
        }
    }

    /// The turn at an end of the stretch, degrees.
    fn at_end(&self, last: bool) -> f64 {
        let end = |count: usize| if last { count - 1 } else { 0 };
        let length = self.common[end(self.common.len())].norm();
        let det = self.det[end(self.det.len())];
        libm::atan2(det * length, self.dot[end(self.dot.len())]).to_degrees()
    }

    /// Between which turns all of it lies, degrees.
    fn range(&self) -> (f64, f64) {
        const ANY: (f64, f64) = (-180.0, 180.0);
        let mean: Vector3<f64> = self.common.iter().sum();
        let Some(mean) = mean.try_normalize(0.0) else {
            return ANY;
        };
        let least: Vec<f64> = self.common.iter().map(|c| c.dot(&mean)).collect();
        let most: Vec<f64> = self.common.iter().map(Vector3::norm).collect();
        let points: Vec<Vector2<f64>> = [least, most]
            .iter()
            .flat_map(|size| product(&self.det, size, 0.0, |a, b| a * b).into_iter())
            .zip(self.dot.iter().cycle())
            .map(|(y, &x)| Vector2::new(x, y))
            .collect();
        let middle: Vector2<f64> = points.iter().sum();
        let Some(middle) = middle.try_normalize(0.0) else {
            return ANY;
        };
        let (mut low, mut high, mut nearest) = (0.0_f64, 0.0_f64, f64::INFINITY);
        for point in &points {
            let ahead = middle.dot(point);
            let angle = libm::atan2(middle.perp(point), ahead);
            (low, high, nearest) = (low.min(angle), high.max(angle), nearest.min(ahead));
        }
        if nearest <= 2.0 * self.error {
            return ANY;
        }
        let error = self.error / (nearest - self.error);
        let middle = libm::atan2(middle.y, middle.x);
        let range = (middle + low - error, middle + high + error);
        let range = (range.0.to_degrees(), range.1.to_degrees());
        if range.0 < -180.0 || 180.0 < range.1 {
            return ANY;
        }
        range
    }

    /// No less than its length, mm: the mean size of the derivative's coefficients.
    fn length(&self) -> f64 {
        let sum: f64 = self.common.iter().map(Vector3::norm).sum();
        self.share * sum / self.common.len() as f64
    }

    fn halves(self) -> [Self; 2] {
        let middle = f64::midpoint(self.from, self.to);
        let half = |values: &[f64]| halved(values, |a, b| 0.5 * (a + b));
        let (det, dot) = (half(&self.det), half(&self.dot));
        let common = halved(&self.common, |a, b| (a + b) * 0.5);
        let (share, error) = (0.5 * self.share, self.error);
        let low = Self {
            det: det.0,
            dot: dot.0,
            common: common.0,
            share,
            error,
            from: self.from,
            to: middle,
        };
        let high = Self {
            det: det.1,
            dot: dot.1,
            common: common.1,
            share,
            error,
            from: middle,
            to: self.to,
        };
        [low, high]
    }
}

/// A stretch with its bounds.
struct Leaf {
    crease: Crease,
    low: f64,
    high: f64,
}

impl Leaf {
    fn new(crease: Crease) -> Self {
        let (low, high) = crease.range();
        Self { crease, low, high }
    }

    /// Whether a sharp turn is not excluded on it.
    fn is_open(&self) -> bool {
        SHARP < self.high || self.low < -SHARP
    }
}

/// The sharpest turns seen either way, with their places: ridge, then valley.
#[derive(Clone, Copy)]
struct Seen([(f64, f64); 2]);

impl Seen {
    fn see(&mut self, crease: &Crease) {
        for (last, at) in [(false, crease.from), (true, crease.to)] {
            let turn = crease.at_end(last);
            for (best, turn) in self.0.iter_mut().zip([turn, -turn]) {
                if best.0 < turn {
                    *best = (turn, at);
                }
            }
        }
    }

    /// How much halving `leaf` might tell.
    fn worth(&self, leaf: &Leaf) -> f64 {
        let [ridge, valley] = self.0.map(|(turn, _)| turn);
        let parted = leaf.high.min(-leaf.low);
        (leaf.high - ridge).max(-leaf.low - valley).max(parted)
    }
}

/// What the creases of one line have of ridges, and of valleys.
pub fn sides(creases: &[Crease]) -> [Option<Side>; 2] {
    let mut seen = Seen([(0.0, 0.0); 2]);
    let mut leaves = Vec::new();
    for crease in creases {
        let leaf = Leaf::new(crease.clone());
        if leaf.is_open() {
            seen.see(crease);
            leaves.push(leaf);
        }
    }
    for _ in 0..MOST_CUTS {
        let worths = leaves.iter().map(|leaf| seen.worth(leaf)).enumerate();
        let best = worths.max_by(|one, other| one.1.total_cmp(&other.1));
        let Some((index, _)) = best.filter(|(_, worth)| NEAR < *worth) else {
            break;
        };
        for half in leaves.swap_remove(index).crease.halves() {
            seen.see(&half);
            leaves.extend(Some(Leaf::new(half)).filter(Leaf::is_open));
        }
    }
    let [ridge, valley] = seen.0;
    [
        side(&leaves, ridge, |leaf| (leaf.low, leaf.high)),
        side(&leaves, valley, |leaf| (-leaf.high, -leaf.low)),
    ]
}

/// What the leaves that may turn sharply one way come to.
fn side(
    leaves: &[Leaf],
    (seen, at): (f64, f64),
    range: impl Fn(&Leaf) -> (f64, f64),
) -> Option<Side> {
    let mut found: Option<Side> = None;
    for leaf in leaves {
        let (low, high) = range(leaf);
        if high <= SHARP {
            continue;
        }
        let crease = &leaf.crease;
        let side = found.get_or_insert(Side {
            least: f64::INFINITY,
            most: 0.0,
            seen,
            at: if 0.0 < seen { at } else { crease.from },
            length: 0.0,
        });
        side.least = side.least.min(low.max(0.0));
        side.most = side.most.max(high);
        side.length += crease.length();
    }
    found
}

fn longest(vectors: &[Vector3<f64>]) -> f64 {
    vectors
        .iter()
        .fold(0.0, |most: f64, one| most.max(one.norm()))
}

/// The product of two polynomials in Bernstein form: coefficient k is the sum of
/// C(m, i) C(n, j) / C(m + n, k) a_i b_j over i + j = k (Farouki and Rajan, Algorithms
/// for polynomials in Bernstein form, Computer Aided Geometric Design 5, 1988, 1-26).
pub fn product<A: Copy, T: Copy + AddAssign + Mul<f64, Output = T>>(
    one: &[A],
    other: &[A],
    zero: T,
    multiplied: impl Fn(A, A) -> T,
) -> Vec<T> {
    let (m, n) = (one.len() - 1, other.len() - 1);
    let mut product = vec![zero; m + n + 1];
    for (i, &a) in one.iter().enumerate() {
        for (j, &b) in other.iter().enumerate() {
            let share = choose(m, i) * choose(n, j) / choose(m + n, i + j);
            product[i + j] += multiplied(a, b) * share;
        }
    }
    product
}

fn choose(of: usize, some: usize) -> f64 {
    (0..some).fold(1.0, |value, k| value * (of - k) as f64 / (k + 1) as f64)
}

/// Both halves of a polynomial.
fn halved<T: Copy>(values: &[T], mean: impl Fn(T, T) -> T) -> (Vec<T>, Vec<T>) {
    let (mut low, mut high) = (values.to_vec(), values.to_vec());
    bezier::cut(&mut high, &mut low, mean);
    (low, high)
}
