//! The B-splines that weigh stations: knots, values and derivatives.

use super::Blend;
use crate::stations::Stations;

/// Where station `index`, counted on round the ring, stands between 0 and 1.
pub fn fraction(stations: &Stations, index: isize) -> f64 {
    let count = stations.count() as isize;
    let (round, station) = (index.div_euclid(count), index.rem_euclid(count) as usize);
    let all = stations.all();
    if !stations.is_all_round() && station + 1 == all.len() {
        return 1.0;
    }
    (all[station].at - all[0].at) / stations.extent() + round as f64
}

/// Knots of the B-splines that weigh the stations; degree 1 for ruled and eased.
#[derive(Clone, Debug, PartialEq)]
pub struct Knots {
    /// Ascending, from before 0 to beyond 1.
    pub at: Vec<f64>,
    /// 1 for ruled and eased.
    pub degree: usize,
    /// The number of the first B-spline that `at` holds whole: control sections
    /// are counted on round the ring.
    first: isize,
}

/// The B-splines that do not vanish at one place.
pub struct Basis {
    /// Value, first and second derivative of each.
    pub jets: [[f64; 3]; 4],
    /// The control section of the first, counted on round the ring.
    pub first: isize,
}

impl Knots {
    /// Open: clamped, inner knots are averages of station fractions (de Boor, A
    /// Practical Guide to Splines, 1978, chapter XIII). All round: knots are the
    /// stations (odd degree) or half way between them (even degree).
    pub fn new(stations: &Stations, blend: Blend) -> Self {
        let count = stations.count() as isize;
        let degree = if blend.reach() == 2 {
            1
        } else {
            blend.degree()
        };
        let k = degree as isize;
        let at = |index: isize| fraction(stations, index);
        if stations.is_all_round() {
            let middle = (k + 1) / 2;
            let knot = |j: isize| {
                if k % 2 == 1 {
                    at(j)
                } else {
                    f64::midpoint(at(j - 1), at(j))
                }
            };
            // B-spline i stands on the knots i - middle to i - middle + k + 1.
            let first = middle - k - 1;
            let last = count + middle + 1;
            return Self {
                at: (first - middle..=last - middle + k + 1).map(knot).collect(),
                degree,
                first,
            };
        }
        let mean = |j: isize| (j..j + k).map(at).sum::<f64>() / k as f64;
        let ends = |value| std::iter::repeat_n(value, degree + 1);
        let inner = (1..count - k).map(mean);
        Self {
            at: ends(0.0).chain(inner).chain(ends(1.0)).collect(),
            degree,
            first: 0,
        }
    }

    /// The degree + 1 B-splines that do not vanish at `v`, by the recurrence of
    /// Cox and de Boor (Piegl and Tiller, The NURBS Book, 1997, 2.2 and 2.3).
    pub fn basis(&self, v: f64) -> Basis {
        let k = self.degree;
        let after = self.at.partition_point(|&knot| knot <= v);
        let span = after.clamp(k + 1, self.at.len() - k - 1) - 1;
        let knot = |offset: isize| self.at[(span as isize + offset) as usize];
        let mut jets = [[0.0; 3]; 4];
        jets[0][0] = 1.0;
        for degree in 1..=k {
            let mut next = [[0.0; 3]; 4];
            for j in 0..degree {
                // B-spline j of the lower degree stands between these knots.
                let from = knot(j as isize + 1 - degree as isize);
                let to = knot(j as isize + 1);
                let width = to - from;
                let [value, slope, _] = jets[j];
                let (down, up) = ((to - v) / width, (v - from) / width);
                next[j][0] += down * value;
                next[j + 1][0] += up * value;
                let rate = degree as f64 / width;
                // N' = degree (N_lower before - N_lower after) over widths, so each order
                // needs only the order below of the lower degree.
                for (order, lower) in [(1, value), (2, slope)] {
                    next[j][order] -= rate * lower;
                    next[j + 1][order] += rate * lower;
                }
            }
            jets = next;
        }
        Basis {
            jets,
            first: span as isize - k as isize + self.first,
        }
    }
}
