//! Blends: how stations are joined, as weights of the stations at any fraction
//! across.
//!
//! A section of a piece is the blend of its placed profiles with the weights
//! given here. They are never negative and sum to one, so what the kernel
//! proves of pairs covers ruled and eased blends (two stations at a time), and
//! what it proves of any blend covers B-splines (degree + 1 stations at a time).
//!
//! Fraction across, v, runs from 0 at the first station to 1 at the last (at the
//! first again, all round). The place (height in mm or angle in degrees) is the
//! same blend of the places of the stations, so it rises with v; it is linear in
//! v for ruled and eased blends.

use crate::stations::{StationError, Stations};
use thiserror::Error;

/// How stations are joined.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Blend {
    /// Straight from station to station.
    #[default]
    Ruled,
    /// Through every station with weight t²(3-2t) in between, so that the skin
    /// runs on smoothly and stands upright at every station.
    Eased,
    /// A B-spline with the placed profiles as its control sections; it passes
    /// through the first and the last only, and all round through none.
    BSpline(Degree),
}

/// The degree of a B-spline blend.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Degree {
    /// Tangents run on (C1).
    Two,
    /// Curvature runs on as well (C2).
    Three,
}

impl Blend {
    /// The degree in v of the weights between two knots.
    pub fn degree(self) -> usize {
        match self {
            Self::Ruled => 1,
            Self::BSpline(Degree::Two) => 2,
            Self::Eased | Self::BSpline(Degree::Three) => 3,
        }
    }

    /// How many neighbouring stations weigh on one section.
    pub fn reach(self) -> usize {
        match self {
            Self::Ruled | Self::Eased => 2,
            Self::BSpline(_) => self.degree() + 1,
        }
    }
}

/// Why stations cannot be joined in this way.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum LayoutError {
    /// Stations that do not suit open profiles, or are wrong in themselves.
    #[error(transparent)]
    Stations(#[from] StationError),
    /// Too few stations for the degree.
    #[error("a B-spline of degree {degree} needs at least {needed} stations, not {count}")]
    TooFew {
        /// Of the B-spline.
        degree: usize,
        /// The fewest stations.
        needed: usize,
        /// How many there are.
        count: usize,
    },
}

/// Stations and how they are joined.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    stations: Stations,
    blend: Blend,
    knots: Knots,
}

/// A weight of one station, with its derivatives by v.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Weight {
    /// Which station, from 0.
    pub station: usize,
    /// Its share: at least 0.
    pub value: f64,
    /// The first derivative by v.
    pub slope: f64,
    /// The second derivative by v.
    pub bend: f64,
}

/// What holds at one fraction across.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Across {
    weights: [Weight; 4],
    count: usize,
    /// The place, height in mm or angle in degrees, and its first and second
    /// derivatives by v.
    pub place: [f64; 3],
}

impl Across {
    /// The weights, at most four stations; none is negative, their sum is one.
    pub fn weights(&self) -> &[Weight] {
        &self.weights[..self.count]
    }
}

impl Layout {
    /// Joins `stations` by `blend`.
    ///
    /// # Errors
    /// [`LayoutError::TooFew`] for a B-spline of too few stations.
    pub fn new(stations: Stations, blend: Blend) -> Result<Self, LayoutError> {
        let (count, needed) = (stations.count(), blend.reach());
        if count < needed {
            return Err(LayoutError::TooFew {
                degree: blend.degree(),
                needed,
                count,
            });
        }
        let knots = Knots::new(&stations, blend);
        Ok(Self {
            stations,
            blend,
            knots,
        })
    }

    /// The stations.
    pub fn stations(&self) -> &Stations {
        &self.stations
    }

    /// How they are joined.
    pub fn blend(&self) -> Blend {
        self.blend
    }

    /// The fractions across between which weights are polynomials, from 0 to 1.
    pub fn breaks(&self) -> Vec<f64> {
        let inner = self.knots.at.iter().copied();
        let mut breaks = vec![0.0];
        breaks.extend(inner.filter(|&knot| 0.0 < knot && knot < 1.0));
        breaks.push(1.0);
        breaks.dedup();
        breaks
    }

    /// The weights and the place at fraction `v` in \[0, 1\].
    pub fn across(&self, v: f64) -> Across {
        let basis = self.knots.basis(v);
        let mut across = Across {
            weights: [Weight::default(); 4],
            count: self.knots.degree + 1,
            place: [0.0; 3],
        };
        let count = self.stations.count() as isize;
        for (j, mut jet) in basis.jets.into_iter().enumerate().take(across.count) {
            if self.blend == Blend::Eased {
                jet = eased(jet);
            }
            let control = basis.first + j as isize;
            let (round, station) = (control.div_euclid(count), control.rem_euclid(count));
            let station = station as usize;
            across.weights[j] = Weight {
                station,
                value: jet[0],
                slope: jet[1],
                bend: jet[2],
            };
            // Places are joined evenly: an eased height would stand still at stations.
            let place = self.stations.all()[station].at + 360.0 * round as f64;
            for (sum, share) in across.place.iter_mut().zip(basis.jets[j]) {
                *sum += share * place;
            }
        }
        across
    }

    /// The fraction across that is nearest to station `index`: exactly there for
    /// ruled and eased blends.
    pub fn fraction_of(&self, index: usize) -> f64 {
        fraction(&self.stations, index as isize)
    }

    /// The fraction across at which the place is `at` (mm or degrees); the
    /// nearer end when it lies beyond.
    pub fn fraction_at(&self, at: f64) -> f64 {
        let (mut low, mut high) = (0.0, 1.0);
        // Bisections of [0, 1] down to the spacing of f64.
        for _ in 0..54 {
            let middle = f64::midpoint(low, high);
            if self.across(middle).place[0] < at {
                low = middle;
            } else {
                high = middle;
            }
        }
        if self.across(0.0).place[0] < at {
            high
        } else {
            low
        }
    }
}

/// t²(3-2t) of a ruled weight t, with derivatives; the ruled weight is linear.
/// The two weights of an interval stay of sum one, for e(1-t) = 1 - e(t).
fn eased([t, slope, _]: [f64; 3]) -> [f64; 3] {
    [
        t * t * (3.0 - 2.0 * t),
        6.0 * t * (1.0 - t) * slope,
        (6.0 - 12.0 * t) * slope * slope,
    ]
}

/// Where station `index`, counted on round the ring, stands between 0 and 1.
fn fraction(stations: &Stations, index: isize) -> f64 {
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
struct Knots {
    at: Vec<f64>,
    degree: usize,
    /// The number of the first B-spline that `at` holds whole: control sections
    /// are counted on round the ring.
    first: isize,
}

struct Basis {
    jets: [[f64; 3]; 4],
    first: isize,
}

impl Knots {
    /// Open: clamped, inner knots are averages of station fractions (de Boor, A
    /// Practical Guide to Splines, 1978, chapter XIII). All round: knots are the
    /// stations (odd degree) or half way between them (even degree).
    fn new(stations: &Stations, blend: Blend) -> Self {
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
    fn basis(&self, v: f64) -> Basis {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stations::Station;
    use proptest::prelude::*;

    fn places(steps: &[f64]) -> Vec<Station> {
        let mut at = 10.0;
        let mut stations = vec![Station::at(at)];
        for step in steps {
            at += step;
            stations.push(Station::at(at));
        }
        stations
    }

    const BLENDS: [Blend; 4] = [
        Blend::Ruled,
        Blend::Eased,
        Blend::BSpline(Degree::Two),
        Blend::BSpline(Degree::Three),
    ];

    fn layouts(steps: &[f64]) -> Vec<Layout> {
        let settings = [
            Stations::stack(places(steps)).unwrap(),
            Stations::ring(places(steps), false).unwrap(),
            Stations::ring(places(steps), true).unwrap(),
        ];
        settings
            .into_iter()
            .flat_map(|stations| BLENDS.map(|blend| Layout::new(stations.clone(), blend).unwrap()))
            .collect()
    }

    #[test]
    fn stations_are_met_by_ruled_and_eased_blends() {
        for layout in layouts(&[30.0, 10.0, 55.0, 42.0]) {
            if layout.blend().reach() != 2 {
                continue;
            }
            for index in 0..5 {
                let across = layout.across(layout.fraction_of(index));
                let at = layout.stations().all()[index].at;
                assert!((across.place[0] - at).abs() < 1e-12);
                let whole = across.weights().iter().find(|weight| 0.5 < weight.value);
                let whole = whole.unwrap();
                assert_eq!(whole.station, index);
                assert!((whole.value - 1.0).abs() < 1e-14);
            }
        }
    }

    #[test]
    fn too_few_stations_for_the_degree_are_refused() {
        let stations = Stations::stack(places(&[1.0, 1.0])).unwrap();
        assert_eq!(
            Layout::new(stations, Blend::BSpline(Degree::Three)),
            Err(LayoutError::TooFew {
                degree: 3,
                needed: 4,
                count: 3
            })
        );
    }

    #[test]
    fn a_closed_ring_meets_itself() {
        for layout in layouts(&[30.0, 10.0, 55.0, 42.0]) {
            if !layout.stations().is_all_round() {
                continue;
            }
            let share = |v: f64, station: usize| -> f64 {
                let across = layout.across(v);
                let weights = across.weights().iter();
                weights
                    .filter(|weight| weight.station == station)
                    .map(|weight| weight.value)
                    .sum()
            };
            for station in 0..5 {
                assert!((share(0.0, station) - share(1.0, station)).abs() < 1e-13);
            }
            let turn = layout.across(1.0).place[0] - layout.across(0.0).place[0];
            assert!((turn - 360.0).abs() < 1e-10);
        }
    }

    #[test]
    fn the_uniform_cubic_all_round_is_the_textbook_one() {
        // Weights 1/6, 4/6, 1/6 at a knot (de Boor, 1978, chapter X).
        let stations = Stations::ring(places(&[90.0, 90.0, 90.0]), true).unwrap();
        let layout = Layout::new(stations, Blend::BSpline(Degree::Three)).unwrap();
        let across = layout.across(0.25);
        for (station, expected) in [(0, 1.0 / 6.0), (1, 2.0 / 3.0), (2, 1.0 / 6.0)] {
            let weights = across.weights().iter();
            let weight = weights
                .filter(|weight| weight.station == station)
                .map(|weight| weight.value)
                .sum::<f64>();
            assert!((weight - expected).abs() < 1e-14, "{station}: {weight}");
        }
    }

    proptest! {
        #[test]
        fn weights_are_shares_and_places_rise(
            steps in prop::collection::vec(0.02..40.0f64, 3..8),
            v in 0.0..=1.0f64,
        ) {
            for layout in layouts(&steps) {
                let across = layout.across(v);
                let sum: f64 = across.weights().iter().map(|weight| weight.value).sum();
                prop_assert!((sum - 1.0).abs() < 1e-13);
                prop_assert!(across.weights().iter().all(|weight| 0.0 <= weight.value));
                prop_assert!(0.0 < across.place[1]);
                let back = layout.fraction_at(across.place[0]);
                prop_assert!((back - v).abs() < 1e-9, "{back} {v}");
            }
        }

        #[test]
        fn slopes_and_bends_are_those_of_the_weights(
            steps in prop::collection::vec(5.0..40.0f64, 4..8),
            v in 0.01..0.99f64,
        ) {
            const STEP: f64 = 1e-5;
            for layout in layouts(&steps) {
                // Differences make no sense across a knot.
                prop_assume!(layout.breaks().iter().all(|at| 2.0 * STEP < (at - v).abs()));
                let [before, here, after] = [v - STEP, v, v + STEP].map(|v| layout.across(v));
                for k in 0..here.weights().len() {
                    let [a, b, c] = [before, here, after].map(|across| across.weights()[k]);
                    let slope = (c.value - a.value) / (2.0 * STEP);
                    let bend = (c.slope - a.slope) / (2.0 * STEP);
                    prop_assert!((slope - b.slope).abs() < 1e-4 * (1.0 + slope.abs()));
                    prop_assert!((bend - b.bend).abs() < 1e-4 * (1.0 + bend.abs()));
                }
                let rise = (after.place[0] - before.place[0]) / (2.0 * STEP);
                prop_assert!((rise - here.place[1]).abs() < 1e-5 * rise);
            }
        }
    }
}
