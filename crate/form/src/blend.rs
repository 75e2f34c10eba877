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
use knots::{Knots, fraction};
use thiserror::Error;

mod knots;

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

#[cfg(test)]
mod tests;
