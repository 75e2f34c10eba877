//! Corners of two profiles that lie close along: moved nodes change the pace and
//! may swap them, and then the sections between them run quite another way.

use super::aim::Aim;
use crate::freedom::Freedom;
use crate::response::Response;
use loftkin_kernel::curve::Curve;

/// Two corners, one of each profile, and what it takes to swap them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swap {
    /// Which joint of each profile, from 0.
    pub corners: [usize; 2],
    /// Where they are along.
    pub along: [f64; 2],
    /// About how far nodes move when they swap, in mm: an estimate.
    pub mm: f64,
    /// Whether the pair was found to break once they have.
    pub breaks: bool,
}

/// A swap with the way to bring it about.
pub struct Swapping {
    /// Which joint of each profile.
    pub corners: [usize; 2],
    /// The way nodes go.
    pub aim: Aim,
}

/// The swaps of corners between the curves, the easiest first. Seams and ends
/// stay where they are.
pub fn swaps(freedom: &Freedom, responses: [&Response; 2]) -> Vec<Swapping> {
    let curves = responses.map(|response| &response.curve);
    let corners = |curve: &Curve| -> Vec<usize> {
        (1..curve.span_count())
            .filter(|&joint| curve.is_corner(joint))
            .collect()
    };
    let mut found = Vec::new();
    for first in corners(curves[0]) {
        for second in corners(curves[1]) {
            let at = |side: usize, joint: usize| {
                let response = responses[side];
                (0..response.knobs())
                    .map(|knob| response.of(knob, |curve| curve.breaks()[joint]))
                    .collect::<Vec<f64>>()
            };
            let apart = curves[0].breaks()[first] - curves[1].breaks()[second];
            let slopes = [at(0, first), at(1, second).iter().map(|by| -by).collect()];
            // Downwards from above; two that lie together part either way.
            let ways: &[f64] = if apart == 0.0 {
                &[1.0, -1.0]
            } else if 0.0 < apart {
                &[1.0]
            } else {
                &[-1.0]
            };
            for way in ways {
                let signed = slopes
                    .each_ref()
                    .map(|side| side.iter().map(|by| by * way).collect());
                if let Some(aim) = Aim::at_nought(freedom, apart.abs(), &signed, None) {
                    found.push(Swapping {
                        corners: [first, second],
                        aim,
                    });
                }
            }
        }
    }
    found.sort_by(|one, other| one.aim.reach.total_cmp(&other.aim.reach));
    found
}
