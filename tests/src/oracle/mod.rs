//! The oracle: dense sections of a loft, tested for self-intersection.
//!
//! It samples, so it proves nothing. What it reports has been refined on the
//! true curves: a contact stands for two parameters at which the section of
//! its own spline meets itself within 1e-9 of the curve's length.

pub mod spline;

pub mod curve;

pub mod pair;

pub mod blend;

pub mod station;

pub mod section;

pub mod search;

pub mod confirm;

pub mod fold;

pub mod twist;

use nalgebra::Vector2;

/// A point or direction of the plane, in grid steps.
pub type Vector = Vector2<f64>;

/// The cross product: positive when `b` lies to the left of `a`.
pub fn cross(a: Vector, b: Vector) -> f64 {
    a.x * b.y - a.y * b.x
}
