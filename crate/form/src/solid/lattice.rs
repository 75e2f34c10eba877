//! The lattice on which the corners of a mesh stand: whole multiples of a power of
//! two, in mm.
//!
//! A coordinate is a whole number of at most 23 bits times the step. So 32-bit
//! numbers hold it exactly, its decimal text ends, and every reader of every
//! format finds the very corners that were checked (`solid::contact`). Differences
//! and the determinants of two of them fit the 53 bits of a double without
//! rounding: the predicates need no expansions.

use super::net::Net;
use nalgebra::Point3;

/// The finest and the coarsest step, as negative powers of two: 7.6e-6 and 1 mm.
const FINEST: u32 = 17;
/// Tolerances of 0.1 mm and more have this step, 0.00098 mm.
const USUAL: u32 = 10;
/// The step is at most this share of the tolerance, where 23 bits allow it.
const SHARE: f64 = 0.01;
/// Never more than this, for rounding would use up the tolerance.
const LARGEST_SHARE: f64 = 0.125;
/// Whole numbers below this are held.
const MOST: f64 = 8_388_608.0;

/// A lattice, by its step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lattice {
    exponent: u32,
}

impl Lattice {
    /// The lattice for coordinates up to `reach` mm and meshes within `tolerance`
    /// mm; none where 32-bit numbers are too coarse.
    pub fn new(reach: f64, tolerance: f64) -> Option<Self> {
        let step = |exponent: u32| 1.0 / f64::from(1u32 << exponent);
        let wanted = (USUAL..FINEST).find(|&exponent| step(exponent) <= SHARE * tolerance);
        // Rounding may go up by half a step.
        let held = |exponent: &u32| reach / step(*exponent) < MOST - 1.0;
        let exponent = (0..=wanted.unwrap_or(FINEST)).rev().find(held)?;
        (step(exponent) <= LARGEST_SHARE * tolerance).then_some(Self { exponent })
    }

    /// How many halvings of 1 mm the step is.
    pub fn exponent(&self) -> u32 {
        self.exponent
    }

    /// The step, mm.
    pub fn step(&self) -> f64 {
        1.0 / f64::from(1u32 << self.exponent)
    }

    /// How far rounding moves a point at most, mm: half the diagonal of a cell.
    pub fn rounding(&self) -> f64 {
        0.5 * self.step() * libm::sqrt(3.0)
    }

    /// The nearest point of the lattice. A sum with 1.5 x 2^52 steps has no bits
    /// left below the step.
    pub fn nearest(&self, point: Point3<f64>) -> Point3<f64> {
        let rounder = 1.5 * 4_503_599_627_370_496.0 * self.step();
        point.map(|value| (value + rounder) - rounder)
    }
}

/// The largest coordinate of `net`, mm: of its control points, which hull it.
pub fn reach(net: &Net) -> f64 {
    let bands = net.bands.iter();
    let points = bands.clone().flat_map(|band| band.rows.iter().flatten());
    let sections = points.fold(0.0, |most: f64, point| {
        most.max(point.x.abs()).max(point.y.abs())
    });
    if net.is_ring() {
        return sections;
    }
    let heights = bands.flat_map(|band| &band.places);
    heights.fold(sections, |most, height| most.max(height.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_suit_tolerance_and_reach() {
        let step = |reach, tolerance| Lattice::new(reach, tolerance).map(|found| found.exponent());
        assert_eq!(step(300.0, 100.0), Some(10));
        assert_eq!(step(300.0, 0.05), Some(11));
        assert_eq!(step(60.0, 0.001), Some(17));
        // 2^23 steps reach 256 mm at 2^-15 mm.
        assert_eq!(step(300.0, 0.001), Some(14));
        assert_eq!(step(3000.0, 0.001), None);
        assert_eq!(step(1e7, 100.0), None);
    }

    #[test]
    fn coordinates_are_held_by_32_bits() {
        for (reach, tolerance) in [(63.0, 0.001), (400.0, 0.05), (5000.0, 1.0)] {
            let lattice = Lattice::new(reach, tolerance).unwrap();
            for k in 0..1000 {
                let wanted = reach * libm::sin(f64::from(k));
                let found = lattice.nearest(Point3::new(wanted, -wanted, 0.0));
                assert!((found.x - wanted).abs() <= lattice.step() / 2.0);
                assert_eq!(f64::from(found.x as f32), found.x);
                assert_eq!(
                    found.x / lattice.step(),
                    libm::round(wanted / lattice.step())
                );
                assert_eq!(found.y, -found.x);
            }
        }
    }
}
