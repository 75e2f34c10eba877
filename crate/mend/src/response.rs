//! How a curve answers to its knobs: derivatives of places and slopes by
//! central differences of whole curves.
//!
//! A knob changes the chords, and with them the spline and the breakpoints, so
//! rebuilding the curve is simpler than the chain rule and includes all of it.
//! Derivatives are estimates: nothing that is proved rests on them.

use crate::freedom::Freedom;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::ProfileError;
use nalgebra::{Point2, Vector2};

/// A place of a curve that stays with its span.
#[derive(Clone, Copy, Debug)]
pub struct Spot {
    /// Which span.
    pub span: usize,
    /// The fraction along it.
    pub t: f64,
}

/// A curve and its neighbours, one each way for every knob.
pub struct Response {
    /// The curve itself.
    pub curve: Curve,
    neighbours: Vec<Option<[Curve; 2]>>,
    /// Grid steps from the curve to each neighbour.
    reach: f64,
}

/// Neighbours stand this share of the size away: the error of a central
/// difference is about its square.
const REACH_SHARE: f64 = 1e-3;

impl Response {
    /// The response of profile `index` at `setting`.
    ///
    /// # Errors
    /// When the profile is not valid there.
    pub fn new(
        freedom: &Freedom,
        index: usize,
        setting: &[f64],
        pacing: Pacing,
    ) -> Result<Self, ProfileError> {
        let curve = Curve::new(&freedom.profile(index, setting), pacing)?;
        let size = curve.size();
        let reach = libm::round(size * REACH_SHARE).clamp(1.0, 100.0);
        let neighbours = freedom.ranges[index]
            .clone()
            .map(|knob| {
                let beside = |steps: f64| {
                    Curve::new(&freedom.turned(index, setting, knob, steps), pacing).ok()
                };
                Some([beside(-reach)?, beside(reach)?])
            })
            .collect();
        Ok(Self {
            curve,
            neighbours,
            reach,
        })
    }

    /// How many knobs the curve has.
    pub fn knobs(&self) -> usize {
        self.neighbours.len()
    }

    /// The derivative by knob `knob` of `value` taken of the curve.
    pub fn of<V>(&self, knob: usize, value: impl Fn(&Curve) -> V) -> V
    where
        V: std::ops::Sub<V, Output = V> + std::ops::Div<f64, Output = V> + Default,
    {
        match &self.neighbours[knob] {
            Some([below, above]) => (value(above) - value(below)) / (2.0 * self.reach),
            None => V::default(),
        }
    }
}

/// The parameter of a spot.
pub fn parameter(curve: &Curve, spot: Spot) -> f64 {
    let (from, to) = ends(curve, spot.span);
    from + (to - from) * spot.t
}

/// The point of a spot of the drawing, grid steps.
pub fn point(curve: &Curve, spot: Spot) -> Point2<f64> {
    let [a, b, c, d] = curve.span(spot.span).map(|point| point.coords);
    let (t, s) = (spot.t, 1.0 - spot.t);
    let about = a * (s * s * s) + b * (3.0 * s * s * t) + c * (3.0 * s * t * t) + d * (t * t * t);
    Point2::from(about + curve.centre())
}

/// The derivative by the parameter at a spot.
pub fn slope(curve: &Curve, spot: Spot) -> Vector2<f64> {
    let [a, b, c, d] = curve.span(spot.span);
    let (t, s) = (spot.t, 1.0 - spot.t);
    let by_t = (b - a) * (s * s) + (c - b) * (2.0 * s * t) + (d - c) * (t * t);
    by_t * (3.0 / length(curve, spot.span))
}

/// The second derivative by the parameter at a spot.
pub fn bend(curve: &Curve, spot: Spot) -> Vector2<f64> {
    let [a, b, c, d] = curve.span(spot.span);
    let (p, q, r) = (b - a, c - b, d - c);
    let by_t = (q - p) * (1.0 - spot.t) + (r - q) * spot.t;
    let length = length(curve, spot.span);
    by_t * (6.0 / (length * length))
}

/// The length of a span in the parameter.
pub fn length(curve: &Curve, span: usize) -> f64 {
    let (from, to) = ends(curve, span);
    to - from
}

fn ends(curve: &Curve, span: usize) -> (f64, f64) {
    (curve.breaks()[span], curve.breaks()[span + 1])
}
