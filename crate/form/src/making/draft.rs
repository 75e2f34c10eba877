//! Draft: the angle between the skin and the direction in which a mould is drawn
//! off it, and the direction that makes it best.

use super::check::{Check, Formula, Limit, Provenance, Spot, Unit};
use super::hull::Part;
use crate::body::cells::{Sampler, cells};
use crate::piece::Piece;
use nalgebra::{Unit as UnitLength, UnitVector3, Vector3};

/// How the mould is parted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Halves {
    /// One mould touches the whole skin and is drawn one way.
    #[default]
    One,
    /// Two halves, parted where the skin runs along the direction, are drawn
    /// opposite ways.
    Two,
}

/// Draft to a direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Draft {
    /// The direction in which a mould outside the skin is drawn off; a mould
    /// inside it is drawn the other way.
    pub direction: UnitVector3<f64>,
    /// How the mould is parted.
    pub halves: Halves,
    /// The least draft, degrees.
    pub least: f64,
}

impl Check for Draft {
    /// In degrees: 0 where the skin runs along the direction, negative in an
    /// undercut.
    fn value(&self, spot: &Spot) -> f64 {
        let sine = spot.normal.dot(&self.direction).clamp(-1.0, 1.0);
        let draft = libm::asin(sine).to_degrees();
        match self.halves {
            Halves::One => draft,
            Halves::Two => draft.abs(),
        }
    }

    fn bound(&self, part: &Part) -> Option<f64> {
        let Some(normals) = part.normals() else {
            return Some(match self.halves {
                Halves::One => -90.0,
                Halves::Two => 0.0,
            });
        };
        let least = |direction: &Vector3<f64>| {
            let sine = normals.least_facing(&part.directions(direction));
            libm::asin(sine).to_degrees()
        };
        let with = least(&self.direction);
        Some(match self.halves {
            Halves::One => with,
            Halves::Two => with.max(least(&-self.direction.into_inner())).max(0.0),
        })
    }

    fn limit(&self) -> Limit {
        Limit::at_least(self.least)
    }

    fn unit(&self) -> Unit {
        Unit::Degree
    }

    fn formula(&self) -> Formula {
        let text = match self.halves {
            Halves::One => {
                "draft = arcsin(n·d), n the normal that points away from the mould (outward from a male one, inward from a female one), d the direction in which the piece is drawn off; below 0 is an undercut"
            }
            Halves::Two => {
                "draft = the size of arcsin(n·d), n the normal, d the direction of draw; it is 0 at the parting line of a smooth skin, and below the limit in a band beside it: R times the limit in radians wide on either half, R the radius at which the skin bends there. The shop accepts that band, or gives it a flat along the line, a parting land (common practice)"
            }
        };
        Formula {
            text,
            source: "geometry; usual limits of 2 degrees (female) and 3 (male) for plastic sheet from one thermoformer's guide, others common practice",
            provenance: Provenance::Derived,
            caution: "A design estimate: the draft that a mould needs depends on material, finish and shrinkage. Ask whoever makes and runs the mould.",
        }
    }
}

/// A direction of draw with the least draft that it gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BestDirection {
    /// The direction.
    pub direction: UnitVector3<f64>,
    /// The least draft over all samples, degrees; negative when every direction
    /// leaves an undercut.
    pub least: f64,
    /// No direction gives the samples more than this, degrees; none when found by
    /// trial, because every direction leaves an undercut.
    pub bound: Option<f64>,
}

/// Rounds of the search; each costs one pass over the samples.
const ROUNDS: usize = 4000;
/// The gap, in sines, at which the search ends: a thousandth of a degree.
const GAP: f64 = 1.7e-5;
/// The sine of draft below which no direction counts as free of undercut.
const NO_DRAFT: f64 = 1e-4;
/// Directions tried when every one leaves an undercut.
const TRIALS: usize = 600;
/// Moves from the best of them.
const MOST_MOVES: usize = 400;

/// The direction with the largest least draft over samples of the skin.
///
/// It is the direction of the point of the normals' hull nearest to the origin,
/// whose distance is the sine of the draft; found by Gilbert's iteration (An
/// iterative procedure for computing the minimum of a quadratic form on a convex
/// set, SIAM J. Control 4, 1966), which also bounds what is possible.
pub fn best_direction(piece: &Piece) -> Option<BestDirection> {
    let normals = normals(piece);
    let mut nearest = *normals.first()?;
    for _ in 0..ROUNDS {
        let (least, worst) = least_along(&normals, nearest);
        let length = nearest.norm();
        if length < NO_DRAFT {
            return Some(by_trial(&normals));
        }
        if length - least / length <= GAP {
            break;
        }
        let step = worst - nearest;
        let share = -nearest.dot(&step) / step.norm_squared();
        nearest += step * share.clamp(0.0, 1.0);
    }
    let direction = UnitLength::new_normalize(nearest);
    let (least, _) = least_along(&normals, direction.into_inner());
    if least <= 0.0 {
        return Some(by_trial(&normals));
    }
    Some(BestDirection {
        direction,
        least: libm::asin(least).to_degrees(),
        bound: Some(libm::asin(nearest.norm().min(1.0)).to_degrees()),
    })
}

fn normals(piece: &Piece) -> Vec<Vector3<f64>> {
    const STEPS: usize = 5;
    let outward = piece.outward();
    let mut sampler = Sampler::new(piece);
    let mut normals = Vec::new();
    let even = |(from, to): (f64, f64)| {
        (0..STEPS).map(move |k| (from + (to - from) * (k as f64 + 0.001) / 4.002, 0.0))
    };
    for cell in cells(piece) {
        sampler.visit(even(cell.along), even(cell.across), |sample| {
            let normal = Spot::new(sample.patch, outward).normal;
            if normal.x.is_finite() {
                normals.push(normal);
            }
        });
    }
    normals
}

/// The least of n·d over all normals, and the normal that has it.
fn least_along(normals: &[Vector3<f64>], along: Vector3<f64>) -> (f64, Vector3<f64>) {
    let mut least = (f64::INFINITY, along);
    for normal in normals {
        let share = normal.dot(&along);
        if share < least.0 {
            least = (share, *normal);
        }
    }
    least
}

/// The best direction seen so far.
struct Trial<'a> {
    normals: &'a [Vector3<f64>],
    least: f64,
    direction: Vector3<f64>,
}

impl Trial<'_> {
    fn see(&mut self, direction: Vector3<f64>) -> bool {
        let (least, _) = least_along(self.normals, direction);
        let is_better = self.least < least;
        if is_better {
            (self.least, self.direction) = (least, direction);
        }
        is_better
    }
}

/// The best of many directions spread evenly (a spherical spiral by the golden
/// angle), sharpened.
fn by_trial(normals: &[Vector3<f64>]) -> BestDirection {
    let golden = std::f64::consts::PI * (3.0 - libm::sqrt(5.0));
    let mut trial = Trial {
        normals,
        least: f64::NEG_INFINITY,
        direction: Vector3::z(),
    };
    for axis in [Vector3::x(), Vector3::y(), Vector3::z()] {
        trial.see(axis);
        trial.see(-axis);
    }
    for k in 0..TRIALS {
        let z = 1.0 - (2.0 * k as f64 + 1.0) / TRIALS as f64;
        let (radius, angle) = (libm::sqrt(1.0 - z * z), golden * k as f64);
        trial.see(Vector3::new(
            radius * libm::cos(angle),
            radius * libm::sin(angle),
            z,
        ));
    }
    let (mut step, mut moves) = (0.1, 0);
    while 1e-5 < step && moves < MOST_MOVES {
        moves += 1;
        let (one, other) = beside(trial.direction);
        let at = trial.direction;
        let moves = [one, -one, other, -other].map(|way| (at + way * step).normalize());
        if !moves.into_iter().any(|direction| trial.see(direction)) {
            step *= 0.5;
        }
    }
    BestDirection {
        direction: UnitLength::new_normalize(trial.direction),
        least: libm::asin(trial.least.clamp(-1.0, 1.0)).to_degrees(),
        bound: None,
    }
}

fn beside(direction: Vector3<f64>) -> (Vector3<f64>, Vector3<f64>) {
    let level = if direction.x.abs() < 0.9 {
        Vector3::x()
    } else {
        Vector3::y()
    };
    let one = direction.cross(&level).normalize();
    (one, direction.cross(&one))
}
