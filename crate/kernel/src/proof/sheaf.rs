//! A sheaf: the patches of many curves over one box, and two sufficient tests
//! that no blend of them vanishes.
//!
//! * *Half-plane*: all coefficients of all nets lie in one open half-plane.
//! * *Pencil*: one direction d_i a curve with d_i.F_j + d_j.F_i > 0 for all
//!   i ≤ j over all coefficients. A blend with weights w_i that vanished would
//!   make the sum of w_i w_j (d_i.F_j + d_j.F_i) over i ≤ j, each term counted
//!   half where i = j, both zero and positive.

use super::exclude::asked;
use super::net::{Extent, Net};
use super::patch::Bare;
use super::recorder::Reason;
use super::surround::widest_pair;
use nalgebra::Vector2;

/// A patch of all members.
pub struct Sheaf {
    /// One net a member.
    pub nets: Vec<Net>,
    /// The part of the unit square that it covers.
    pub extent: Extent,
    /// How often it was cut.
    pub splits: u8,
    /// Where each net vanishes for want of a handle: passed over as in
    /// [`super::exclude`].
    pub bare: Vec<Bare>,
}

impl Sheaf {
    /// Whether it is to be cut across x, the direction in which its nets vary more.
    pub fn varies_along_x(&self) -> bool {
        let (mut x, mut y) = (0.0, 0.0);
        for net in &self.nets {
            let (along_x, along_y) = net.variation();
            // As for a patch; a net about zero may decide alone.
            let length = net.length();
            if 0.0 < length {
                x += along_x / length;
                y += along_y / length;
            }
        }
        y <= x
    }

    /// The two parts of a cut along x or along y, the higher one first.
    pub fn halves(&self, along_x: bool) -> [Self; 2] {
        let (low, high): (Vec<Net>, Vec<Net>) =
            self.nets.iter().map(|net| net.halves(along_x)).unzip();
        let extents = self.extent.halves(along_x);
        let part = |nets, extent, kept: usize| Self {
            nets,
            extent,
            splits: self.splits + 1,
            bare: self
                .bare
                .iter()
                .map(|bare| [0, 1].map(|corner| corner == kept && bare[corner]))
                .collect(),
        };
        [part(high, extents.1, 1), part(low, extents.0, 0)]
    }

    /// A test that proves that no blend of the nets vanishes; `errors` bound each
    /// net's coefficients per component.
    pub fn free_by(&self, errors: &[f64]) -> Option<Reason> {
        let (nets, bare) = (&self.nets, &self.bare);
        let means: Option<Vec<Vector2<f64>>> = nets.iter().map(mean_direction).collect();
        let means = means?;
        if let Some(towards) = in_half_plane(nets, errors, bare, &means) {
            return Some(Reason::HalfPlane(towards));
        }
        in_pencil(nets, errors, bare, &means).then_some(Reason::Pencil(means))
    }
}

fn mean_direction(net: &Net) -> Option<Vector2<f64>> {
    Vector2::new(net.x.iter().sum(), net.y.iter().sum()).try_normalize(0.0)
}

fn least_along(net: &Net, bare: Bare, towards: Vector2<f64>) -> f64 {
    asked(bare, 16)
        .map(|k| towards.dot(&net.at(k)))
        .fold(f64::INFINITY, f64::min)
}

/// Towards the middle of the narrowest arc that holds all mean directions.
fn in_half_plane(
    nets: &[Net],
    errors: &[f64],
    bare: &[Bare],
    means: &[Vector2<f64>],
) -> Option<Vector2<f64>> {
    let (from, to) = widest_pair(means)?;
    let towards = (from + to).try_normalize(0.0)?;
    let serves = nets
        .iter()
        .zip(errors)
        .zip(bare)
        .all(|((net, error), bare)| 2.0 * error < least_along(net, *bare, towards));
    serves.then_some(towards)
}

fn in_pencil(nets: &[Net], errors: &[f64], bare: &[Bare], means: &[Vector2<f64>]) -> bool {
    (0..nets.len()).all(|i| {
        (0..=i).all(|j| {
            let both = [0, 1].map(|corner| bare[i][corner] && bare[j][corner]);
            let least = asked(both, 16)
                .map(|k| means[i].dot(&nets[j].at(k)) + means[j].dot(&nets[i].at(k)))
                .fold(f64::INFINITY, f64::min);
            2.0 * (errors[i] + errors[j]) < least
        })
    })
}
