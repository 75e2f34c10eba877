//! Curves as they stand at stations, and the weights of stations in a section:
//! from the definitions, without the kernel's curve and without the blends of
//! the crate that is tested.

use super::Vector;
use super::curve::{OracleCurve, value};

/// Grid steps in a mm.
const STEPS_PER_MM: f64 = 100.0;

/// How a curve stands: scaled and turned (degrees, anticlockwise) about a pivot,
/// then shifted; both in mm.
#[derive(Clone, Copy, Debug)]
pub struct Placing {
    /// Above 0.
    pub scale: f64,
    /// In degrees.
    pub turn: f64,
    /// What stays in place under scale and turn.
    pub pivot: Vector,
    /// After scale and turn.
    pub shift: Vector,
}

/// The curve placed: its cubics mapped, coefficient by coefficient.
pub fn placed(curve: &OracleCurve, placing: &Placing) -> OracleCurve {
    let (sine, cosine) = placing.turn.to_radians().sin_cos();
    let turned = |v: Vector| {
        Vector::new(cosine * v.x - sine * v.y, sine * v.x + cosine * v.y) * placing.scale
    };
    let (pivot, shift) = (placing.pivot * STEPS_PER_MM, placing.shift * STEPS_PER_MM);
    let pieces = curve.pieces.iter();
    let pieces = pieces.map(|[a, b, c, d]| {
        [
            turned(a - pivot) + pivot + shift,
            turned(*b),
            turned(*c),
            turned(*d),
        ]
    });
    OracleCurve {
        pieces: pieces.collect(),
        ..curve.clone()
    }
}

/// The least x of the curve in grid steps: at ends of pieces and where the
/// derivative, a quadratic, vanishes.
pub fn least_x(curve: &OracleCurve) -> f64 {
    let mut least = f64::INFINITY;
    for piece in &curve.pieces {
        let [_, b, c, d] = piece.map(|part| part.x);
        let (half, product) = (-c, 3.0 * d * b);
        let spread = (half * half - product).max(0.0).sqrt();
        let roots = [(half + spread) / (3.0 * d), (half - spread) / (3.0 * d)];
        let inner = [roots[0], roots[1], -b / (2.0 * c)];
        let inside = inner.into_iter().filter(|t| (0.0..=1.0).contains(t));
        for t in inside.chain([0.0, 1.0]) {
            least = least.min(value(piece, t).x);
        }
    }
    least
}

/// How neighbouring stations are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joining {
    /// Straight.
    Ruled,
    /// By t²(3 - 2t).
    Eased,
    /// By B-splines of this degree.
    BSpline(usize),
}

/// The weights of stations at fractions across: `at` are their places in mm or
/// degrees, joined round through 360 degrees when `all_round`.
#[derive(Clone, Debug)]
pub struct Weighing {
    joining: Joining,
    count: usize,
    /// One B-spline a control section, its knots all its own; sections of a
    /// ring stand several times, a round apart.
    splines: Vec<(usize, Vec<f64>)>,
}

impl Weighing {
    /// For stations at `at`, ascending.
    pub fn new(at: &[f64], all_round: bool, joining: Joining) -> Self {
        let count = at.len();
        let extent = if all_round {
            360.0
        } else {
            at[count - 1] - at[0]
        };
        let place = |index: isize| {
            let round = index.div_euclid(count as isize);
            let station = index.rem_euclid(count as isize) as usize;
            (at[station] - at[0]) / extent + round as f64
        };
        let degree = match joining {
            Joining::Ruled | Joining::Eased => 1,
            Joining::BSpline(degree) => degree,
        };
        let last = count as isize - 1;
        let splines = if all_round {
            // Knots are stations, or half way between two for an even degree; each
            // spline stands evenly about its own station.
            let knot = |j: isize| {
                if degree % 2 == 1 {
                    place(j)
                } else {
                    0.5 * (place(j - 1) + place(j))
                }
            };
            let half = (degree as isize + 1) / 2;
            (-2 * (last + 1)..3 * (last + 1))
                .map(|i| {
                    let knots = (i - half..=i - half + degree as isize + 1).map(knot);
                    (i.rem_euclid(last + 1) as usize, knots.collect())
                })
                .collect()
        } else {
            // Clamped; inner knots are means of `degree` neighbouring places.
            let knot = |j: usize| match j {
                j if j <= degree => 0.0,
                j if count <= j => 1.0,
                j => {
                    let from = j - degree;
                    let places = (from..j).map(|index| place(index as isize));
                    places.sum::<f64>() / degree as f64
                }
            };
            (0..count)
                .map(|i| (i, (i..=i + degree + 1).map(knot).collect()))
                .collect()
        };
        Self {
            joining,
            count,
            splines,
        }
    }

    /// One weight a station at `v`, inside \[0, 1\].
    pub fn at(&self, v: f64) -> Vec<f64> {
        let mut weights = vec![0.0; self.count];
        for (station, knots) in &self.splines {
            let share = basis(knots, v);
            weights[*station] += match self.joining {
                Joining::Eased => share * share * (3.0 - 2.0 * share),
                Joining::Ruled | Joining::BSpline(_) => share,
            };
        }
        weights
    }
}

/// The B-spline over `knots`, by its definition (Cox 1972, de Boor 1972).
fn basis(knots: &[f64], v: f64) -> f64 {
    let [first, .., last] = knots else {
        return 0.0;
    };
    let Some(degree) = knots.len().checked_sub(2) else {
        return 0.0;
    };
    if degree == 0 {
        return f64::from(u8::from(*first <= v && v < *last));
    }
    let share = |from: f64, to: f64| {
        if from < to {
            (v - from) / (to - from)
        } else {
            0.0
        }
    };
    let falling = |from: f64, to: f64| {
        if from < to {
            (to - v) / (to - from)
        } else {
            0.0
        }
    };
    share(knots[0], knots[degree]) * basis(&knots[..=degree], v)
        + falling(knots[1], knots[degree + 1]) * basis(&knots[1..], v)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_are_shares_of_one() {
        let at = [0.0, 10.0, 70.0, 80.0, 200.0];
        for joining in [
            Joining::Ruled,
            Joining::Eased,
            Joining::BSpline(2),
            Joining::BSpline(3),
        ] {
            for all_round in [false, true] {
                let weighing = Weighing::new(&at, all_round, joining);
                for k in 0..500 {
                    let weights = weighing.at((f64::from(k) + 0.5) / 500.0);
                    assert!(weights.iter().all(|&weight| 0.0 <= weight));
                    assert!((weights.iter().sum::<f64>() - 1.0).abs() < 1e-12);
                }
            }
        }
    }

    /// Even cubic B-splines weigh 1/6, 4/6, 1/6 at a knot (de Boor 1978).
    #[test]
    fn even_cubic_splines_weigh_sixths_at_knots() {
        let at = [0.0, 90.0, 180.0, 270.0];
        let weights = Weighing::new(&at, true, Joining::BSpline(3)).at(0.25);
        for (weight, exact) in weights.iter().zip([1.0 / 6.0, 4.0 / 6.0, 1.0 / 6.0, 0.0]) {
            assert!((weight - exact).abs() < 1e-12);
        }
    }
}
