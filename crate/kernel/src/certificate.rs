//! Certificates: a proof written out, so that others can check it.
//!
//! A certificate is the trace of the search that finds a verdict: its division
//! of all pairs of places, with the reason for every box that it excludes. A
//! checker needs no trust in this program: it cuts the curves in exact
//! arithmetic, tests each reason, and follows the cuts, so that no box can be
//! missing. A test of the search allows for the rounding of its own numbers, so
//! each reason holds exactly.
//!
//! What each box claims, for all curves at once:
//!
//! * *itself* and *joint*, with a direction d: d.q > 0 for all hodograph vectors
//!   over the stretch or both stretches, but those that are zero for want of a
//!   handle;
//! * *apart*, with a direction d: d.p > d.q for all control points p of the first
//!   stretch and q of the second;
//! * *chart*: one of the tests of [`Reason`] over all coefficients of a part of
//!   its nets (see [`crate::proof::patch`]).
//!
//! The two former look at the curves piece by piece: cut at the joints of all
//! curves and at every multiple of 1 / [`Certificate::leaves`].

use crate::proof::{Prepared, Ready, any_blend, search};

pub use crate::proof::recorder::Reason;
pub use crate::proof::trace::Cut;

/// A proof for a set of curves: no blend of any of them meets itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Certificate {
    /// Into how many equal parts of the parameter the curves are cut, beside
    /// their joints: a power of two.
    pub leaves: u32,
    /// One tree for an open family (itself over all), six for a closed one:
    /// apart, the first and third quarter, and the second and fourth; joints at
    /// 1/2 and at the seam, each between the quarters next to it; itself over
    /// each half.
    pub roots: Vec<Cut>,
}

impl Certificate {
    /// How many boxes carry a reason.
    pub fn boxes(&self) -> usize {
        self.roots.iter().map(Cut::reasons).sum()
    }
}

/// The proof for all blends of `members` (one for a profile alone, two for a
/// pair); none when they are not proved or could not be judged.
pub fn certify(members: &[&Prepared]) -> Option<Certificate> {
    let ready: Vec<&Ready> = members
        .iter()
        .map(|member| member.ready().ok())
        .collect::<Option<_>>()?;
    let leaves = ready.iter().map(|ready| 1 << ready.depth).max()?;
    let roots = match ready[..] {
        [one] => search::traced([one, one]),
        // The search of a pair knows more tests.
        [one, other] => search::traced([one, other]).or_else(|| any_blend::traced(&ready)),
        _ => any_blend::traced(&ready),
    };
    roots.map(|roots| Certificate { leaves, roots })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Settings;
    use crate::profile::{Node, Profile};

    fn certificate(profiles: &[Profile]) -> Option<Certificate> {
        let prepared = profiles
            .iter()
            .map(|profile| Prepared::new(profile, &Settings::default()));
        let prepared: Vec<Prepared> = prepared.collect();
        certify(&prepared.iter().collect::<Vec<_>>())
    }

    fn square(half: i32, turned: bool) -> Profile {
        let corners = if turned {
            [(half, 0), (0, half), (-half, 0), (0, -half)]
        } else {
            [(half, half), (-half, half), (-half, -half), (half, -half)]
        };
        Profile::closed(corners.map(|(x, y)| Node::corner(x, y)).to_vec())
    }

    #[test]
    fn squares_need_their_corners_blown_up() {
        let two = [square(5000, false), square(6000, true)];
        let certificate = certificate(&two).unwrap();
        assert_eq!(certificate.roots.len(), 6);
        println!("{} boxes", certificate.boxes());
        assert!(certificate.boxes() < 500);
    }

    #[test]
    fn an_arch_is_one_box() {
        let nodes = [(0, 0), (1000, 600), (2500, 500)].map(|(x, y)| Node::smooth(x, y));
        let certificate = certificate(&[Profile::open(nodes.to_vec())]).unwrap();
        assert!(matches!(certificate.roots[..], [Cut::Proved(_)]));
    }

    #[test]
    fn what_crosses_has_no_certificate() {
        let loops = [(0, 0), (2000, 2000), (2000, 0), (0, 2000)].map(|(x, y)| Node::corner(x, y));
        assert_eq!(certificate(&[Profile::open(loops.to_vec())]), None);
    }
}
