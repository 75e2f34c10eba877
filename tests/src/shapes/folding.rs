//! Two simple curves whose loft folds, in closed form.
//!
//! A(t) = e^{it} + a e^{2it} is simple exactly when a <= 1/2 (it is a limacon:
//! the ratio of its two radii decides). B is A with the seam moved by theta.
//! The section at v is alpha e^{it} + a beta e^{2it} with
//! alpha = 1 - v + v e^{i theta}, beta = 1 - v + v e^{2 i theta}, hence
//! |alpha|^2 = 1 - 4w sin^2(theta/2), |beta|^2 = 1 - 4w sin^2(theta), w = v(1-v):
//! simple exactly when 4 a^2 |beta|^2 <= |alpha|^2. Derived here from the formula.
//!
//! The curves are drawn as Hermite paths of 120 spans at a radius of 50 m (the
//! grid is then 2e-7 of it): within 4e-7 of the true curve in place, 4e-5 in
//! slope. Measured against that, v is held to 1e-5 and the turn to .01 degree.

use super::trochoid;
use loftkin_kernel::profile::Profile;

/// The share a of the second radius.
const SHARE: f64 = 0.45;
const RADIUS: f64 = 5.0e6;
const SPANS: usize = 120;

/// The curve, and itself with the seam moved by `turn` degrees.
pub fn pair(turn: f64) -> [Profile; 2] {
    [0.0, turn].map(|turn| trochoid(RADIUS, SHARE, turn, SPANS))
}

/// The v from which the sections at `turn` degrees are faulty (up to 1 less
/// that): 4 a^2 |beta|^2 = |alpha|^2 is linear in w = v(1-v).
pub fn faulty_from(turn: f64) -> f64 {
    let turn = turn.to_radians();
    let square = 4.0 * SHARE * SHARE;
    let w = (1.0 - square) / (4.0 * ((turn / 2.0).sin().powi(2) - square * turn.sin().powi(2)));
    0.5 * (1.0 - (1.0 - 4.0 * w).sqrt())
}

/// The turn in degrees at which the middle section is just simple: 2 a |cos theta| = cos(theta/2).
pub fn critical_turn() -> f64 {
    let excess = |turn: f64| 2.0 * SHARE * turn.cos().abs() - (turn / 2.0).cos();
    let (mut low, mut high) = (2.0f64, 2.5f64);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if excess(middle) < 0.0 {
            low = middle
        } else {
            high = middle
        }
    }
    low.to_degrees()
}
