//! One place along a pair: its parameter, where that is on both curves, and the joint it moves with.

use crate::response::Spot;
use loftkin_kernel::curve::Curve;

/// A place along, on both curves.
#[derive(Clone, Copy, Debug)]
pub struct Along {
    /// The parameter.
    pub u: f64,
    /// Where that is on each curve.
    pub spots: [Spot; 2],
    /// Set beside a kink: it moves with this joint of this curve.
    pub anchor: Option<Anchor>,
}

/// The joint that a place beside a kink moves with.
#[derive(Clone, Copy, Debug)]
pub struct Anchor {
    /// The curve whose joint it is.
    pub side: usize,
    /// Whether each curve has a joint of its own there.
    pub own: [bool; 2],
}

impl Along {
    /// The place at parameter `u`, beside no kink.
    pub fn plain(curves: [&Curve; 2], u: f64) -> Self {
        Self {
            u,
            spots: located(curves, u),
            anchor: None,
        }
    }
}

/// The spots of both curves at parameter `u`.
pub fn located(curves: [&Curve; 2], u: f64) -> [Spot; 2] {
    curves.map(|curve| {
        let (span, t) = curve.locate(u);
        Spot { span, t }
    })
}
