//! Certificates: a proof written out, so that others can check it.
//!
//! A certificate is the subdivision of all pairs of places, with one direction
//! for every box that is not cut further. A checker needs no trust in this
//! program: it cuts the curves in exact arithmetic, tests each direction, and
//! follows the cuts, so that no box can be missing. Only half-planes are used
//! (the search also knows pencils and products), so a certificate may be larger
//! than the search that found the verdict; a hard one may be too large.
//!
//! What each box claims, for all curves at once, with its direction d:
//!
//! * *itself* and *joint*: d.q > 0 for all hodograph vectors over the stretch
//!   or both stretches, those that are zero left out, of which no piece has
//!   only such (a curve without a handle at its end begins with one);
//! * *apart*: d.p > d.q for all control points p of the first stretch and q of
//!   the second;
//! * *chart*: d.k > 0 for all coefficients of K over a part of the unit square
//!   (see [`crate::proof::patch`]), where a joint is blown up at a corner; but for
//!   a zero at x = y = 0, where both places are the joint itself.

use crate::curve::Curve;
use nalgebra::Vector2;
use thiserror::Error;

mod writer;

/// The most boxes of one certificate.
pub const MOST_BOXES: usize = 60_000;

/// A box and what stands below it.
#[derive(Clone, Debug, PartialEq)]
pub enum Cut {
    /// The direction that proves the box.
    Proved(Vector2<f64>),
    /// *Itself* over a..b: itself a..at, itself at..b, joint of both.
    Itself {
        /// Where the stretch is cut.
        at: f64,
        /// The three parts, in that order.
        parts: Vec<Cut>,
    },
    /// Two stretches a..b, c..d cut at `one` and `other`. *Apart*: all four
    /// pairs, first with first, first with second, second with first, second
    /// with second. *Joint*: the same, the third being the smaller joint.
    Both {
        /// Where the first stretch is cut.
        one: f64,
        /// Where the second stretch is cut.
        other: f64,
        /// The four parts.
        parts: Vec<Cut>,
    },
    /// A joint blown up: the chart before it, then the chart after it.
    Charts(Vec<Cut>),
    /// A part of a chart, halved along x or along y.
    Halves {
        /// Whether the cut is across x.
        along_x: bool,
        /// The lower and the higher half.
        parts: Vec<Cut>,
    },
}

/// A proof for a set of curves: no blend of any of them meets itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Certificate {
    /// One tree for an open family (itself over all), six for a closed one:
    /// itself over each half; joints at 1/2 and at the seam, each between the
    /// quarters next to it; apart, the first and third quarter, and the second
    /// and fourth.
    pub roots: Vec<Cut>,
    /// How many boxes carry a direction.
    pub boxes: usize,
}

/// Why there is no certificate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum CertificateError {
    /// The proof by half-planes takes too many boxes.
    #[error(
        "the proof needs more than 60 000 boxes to write out: it leaves too little room somewhere"
    )]
    TooLarge,
    /// Some box can not be proved by a half-plane at any size looked at.
    #[error("the curves come too close to write the proof out")]
    TooClose,
}

/// Writes out the proof for all blends of `curves` (one for a profile alone,
/// two for a pair).
///
/// # Errors
/// [`CertificateError`] when no proof by half-planes of that size is found;
/// this is no verdict.
pub fn certify(curves: &[&Curve]) -> Result<Certificate, CertificateError> {
    let (roots, boxes) = writer::write(curves)?;
    Ok(Certificate { roots, boxes })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Pacing;
    use crate::profile::{Node, Profile};

    fn curve(profile: &Profile) -> Curve {
        Curve::new(profile, Pacing::Parameter).unwrap()
    }

    fn square(half: i32, turned: bool) -> Curve {
        let corners = if turned {
            [(half, 0), (0, half), (-half, 0), (0, -half)]
        } else {
            [(half, half), (-half, half), (-half, -half), (half, -half)]
        };
        let nodes = corners.iter().map(|&(x, y)| Node::corner(x, y)).collect();
        curve(&Profile::closed(nodes))
    }

    #[test]
    fn squares_need_their_corners_blown_up() {
        let (one, other) = (square(5000, false), square(6000, true));
        let certificate = certify(&[&one, &other]).unwrap();
        assert_eq!(certificate.roots.len(), 6);
        println!("{} boxes", certificate.boxes);
        assert!(certificate.boxes < 500);
    }

    #[test]
    fn an_arch_is_one_box() {
        let arch = curve(&Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(1000, 600),
            Node::smooth(2500, 500),
        ]));
        let certificate = certify(&[&arch]).unwrap();
        assert!(matches!(certificate.roots[..], [Cut::Proved(_)]));
    }

    #[test]
    fn what_crosses_has_no_certificate() {
        let loops = curve(&Profile::open(vec![
            Node::corner(0, 0),
            Node::corner(2000, 2000),
            Node::corner(2000, 0),
            Node::corner(0, 2000),
        ]));
        assert!(certify(&[&loops]).is_err());
    }
}
