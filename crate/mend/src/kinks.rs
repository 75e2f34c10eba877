//! Joints at which the speed or the direction of a curve breaks.
//!
//! The lattice sees such a joint from both sides, at two places that move with
//! the joint when a knob moves it along.

use crate::along::{Along, Anchor, located};
use crate::response::{Spot, length, slope};
use loftkin_kernel::curve::Curve;

/// How far from a kink the places beside it stand, as a share of the shorter
/// span there: it is the limit from that side that matters.
const BESIDE: f64 = 1e-4;
/// Slopes that differ by this share make a joint a kink.
const KINK: f64 = 1e-3;

/// A kink by the places just before and after it.
#[derive(Clone, Copy, Debug)]
pub struct KinkAt {
    /// Before and after.
    pub beside: [Along; 2],
    /// Whether one of the curves has a corner there.
    pub corner: bool,
}

/// The kinks of both curves; one that they share counts once.
pub fn kinks(curves: [&Curve; 2]) -> Vec<KinkAt> {
    (0..2)
        .flat_map(|side| {
            let joints = 0..curves[side].span_count();
            joints.filter_map(move |joint| kink(curves, side, joint))
        })
        .collect()
}

fn kink(curves: [&Curve; 2], side: usize, joint: usize) -> Option<KinkAt> {
    let (curve, other) = (curves[side], curves[1 - side]);
    let spans = spans_at(curve, joint).filter(|spans| breaks_between(curve, *spans))?;
    let at = curve.breaks()[joint];
    let beside = BESIDE * length(curve, spans[0]).min(length(curve, spans[1]));
    let mut breaks = other.breaks().iter();
    let shared = breaks.position(|&its| (its - at).abs() < beside);
    // A kink of both is seen from the first curve.
    let seen = |its| spans_at(other, its).is_some_and(|spans| breaks_between(other, spans));
    if side == 1 && shared.is_some_and(seen) {
        return None;
    }
    let mut own = [true; 2];
    own[1 - side] = shared.is_some();
    let place = |u: f64, spot: Spot| {
        let mut spots = located(curves, u);
        spots[side] = spot;
        let anchor = Some(Anchor { side, own });
        Along { u, spots, anchor }
    };
    let before = Spot {
        span: spans[0],
        t: 1.0 - beside / length(curve, spans[0]),
    };
    let after = Spot {
        span: spans[1],
        t: beside / length(curve, spans[1]),
    };
    // Before the seam is the end of the parameter.
    let u_before = if joint == 0 { 1.0 } else { at } - beside;
    Some(KinkAt {
        beside: [place(u_before, before), place(at + beside, after)],
        corner: curve.is_corner(joint) || shared.is_some_and(|its| other.is_corner(its)),
    })
}

/// The spans before and after a joint; the seam, by either of its numbers, has
/// them too, the ends of an open curve have not.
fn spans_at(curve: &Curve, joint: usize) -> Option<[usize; 2]> {
    let count = curve.span_count();
    let is_end = joint == 0 || joint == count;
    if is_end && !curve.is_closed() {
        return None;
    }
    let before = if joint == 0 { count } else { joint } - 1;
    Some([before, joint % count])
}

fn breaks_between(curve: &Curve, [before, after]: [usize; 2]) -> bool {
    let arriving = slope(
        curve,
        Spot {
            span: before,
            t: 1.0,
        },
    );
    let leaving = slope(
        curve,
        Spot {
            span: after,
            t: 0.0,
        },
    );
    KINK * arriving.norm().max(leaving.norm()) < (leaving - arriving).norm()
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Pacing;
    use loftkin_kernel::profile::{Node, Profile};

    fn square(corners: bool) -> Curve {
        let points = [(0, 0), (4000, 0), (4000, 4000), (0, 4000)];
        let node = |(x, y)| Node {
            corner: corners,
            ..Node::smooth(x, y)
        };
        let profile = Profile::closed(points.map(node).to_vec());
        Curve::new(&profile, Pacing::Parameter).unwrap()
    }

    #[test]
    fn a_square_has_four_kinks_and_a_spline_none() {
        let (square, round) = (square(true), square(false));
        assert!(kinks([&round, &round]).is_empty());
        let shared = kinks([&square, &square]);
        assert_eq!(shared.len(), 4);
        for kink in &shared {
            assert!(kink.corner && kink.beside.iter().all(|place| place.anchor.is_some()));
            assert_eq!(kink.beside[0].anchor.unwrap().own, [true; 2]);
        }
        assert!(shared[0].beside[1].u < 1e-4 && 1.0 - 1e-4 < shared[0].beside[0].u);
        assert_eq!(kinks([&round, &square]).len(), 4);
    }
}
