//! The foot of a place on the parting line: where the steepest way down the draft
//! reaches 0, by Newton's steps on the skin.

use crate::making::check::Place;
use crate::piece::{Patch, Piece};
use nalgebra::{Matrix2, UnitVector3, Vector2, Vector3};

/// Steps at most; a smooth band takes three or four.
const STEPS: usize = 12;
/// The draft counts as 0 below this sine.
const SHARP: f64 = 1e-10;

/// Where a place of the band meets the parting line.
pub struct Foot {
    /// From the place to it, mm.
    pub straight: f64,
    /// The same on the arc that leaves the skin at neither end: by the turn of the
    /// normal, exact where the skin bends evenly.
    pub along_skin: f64,
}

impl Foot {
    /// The foot of `place` to `direction`; none where the steps do not lead to one, or
    /// where there is nothing to step down: on a wall along the direction.
    pub fn new(piece: &Piece, direction: UnitVector3<f64>, place: &Place) -> Option<Self> {
        let start = piece.patch(place.along, place.across);
        let (mut at, mut patch) = (Vector2::new(place.along, place.across), start);
        for round in 0..STEPS {
            let (sine, step) = step_down(&patch, &direction)?;
            if sine.abs() < SHARP {
                if round == 0 {
                    return None;
                }
                let (straight, turn) = (
                    (patch.point - start.point).norm(),
                    patch.cross().angle(&start.cross()) / 2.0,
                );
                let longer = if 1e-6 < turn {
                    turn / libm::sin(turn)
                } else {
                    1.0
                };
                return Some(Self {
                    straight,
                    along_skin: straight * longer,
                });
            }
            at += step;
            let reached = [
                within(at.x, piece.is_closed_along())?,
                within(at.y, piece.is_closed_across())?,
            ];
            at = Vector2::from(reached);
            patch = piece.patch(at.x, at.y);
        }
        None
    }
}

/// A fraction on the skin; none beyond an edge of it.
fn within(fraction: f64, is_closed: bool) -> Option<f64> {
    if is_closed {
        Some(fraction - libm::floor(fraction))
    } else {
        (0.0..=1.0).contains(&fraction).then_some(fraction)
    }
}

/// The sine of the draft at a place, and the step in (u, v) straight down its slope
/// to where its tangent is 0; none where it has no slope.
fn step_down(patch: &Patch, direction: &Vector3<f64>) -> Option<(f64, Vector2<f64>)> {
    let (along, across) = (patch.along, patch.across);
    let cross = patch.cross();
    let length = cross.norm();
    let normal = cross / length;
    let sine = normal.dot(direction);
    // The part of N' square to the normal is what turns it.
    let aside = direction - normal * sine;
    let by_u = patch.along_along.cross(&across) + along.cross(&patch.along_across);
    let by_v = patch.along_across.cross(&across) + along.cross(&patch.across_across);
    let slope = Vector2::new(by_u.dot(&aside), by_v.dot(&aside)) / length;
    let (e, f, g) = (
        along.norm_squared(),
        along.dot(&across),
        across.norm_squared(),
    );
    let up = Matrix2::new(e, f, f, g).try_inverse()? * slope;
    let steepness = slope.dot(&up);
    let step = up * (-sine / steepness);
    (step.x.is_finite() && step.y.is_finite()).then_some((sine, step))
}
