//! The loft of a pair for the eye: sections and surface points.
//!
//! Pictures only. Nothing here takes part in a verdict.

use crate::curve::Curve;
use nalgebra::Point2;

/// Two curves joined by rulings at equal parameters.
#[derive(Clone, Copy)]
pub struct Loft<'a> {
    first: &'a Curve,
    second: &'a Curve,
}

impl<'a> Loft<'a> {
    /// The loft from `first` (v = 0) to `second` (v = 1).
    pub fn new(first: &'a Curve, second: &'a Curve) -> Self {
        Self { first, second }
    }

    /// The point of section `across` at fraction `along`, in mm of the drawing.
    pub fn point(&self, along: f64, across: f64) -> Point2<f64> {
        let from = self.first.point_mm(along);
        from + (self.second.point_mm(along) - from) * across
    }

    /// The section at fraction `across` as a polyline through `steps` chords,
    /// evenly spaced by parameter, with the joints of both profiles kept.
    pub fn section(&self, across: f64, steps: usize) -> Vec<Point2<f64>> {
        self.parameters(steps)
            .into_iter()
            .map(|along| self.point(along, across))
            .collect()
    }

    /// The parameters that pictures use: `steps` even ones and all joints, in
    /// ascending order.
    pub fn parameters(&self, steps: usize) -> Vec<f64> {
        let even = (0..=steps).map(|i| i as f64 / steps as f64);
        let mut all: Vec<f64> = even.collect();
        for &joint in self.first.breaks().iter().chain(self.second.breaks()) {
            let place = all.partition_point(|&before| before < joint);
            all.insert(place, joint);
        }
        all.dedup();
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Pacing;
    use crate::profile::{Node, Profile};

    #[test]
    fn the_ends_of_a_loft_are_its_profiles() {
        let curve = |rise| {
            let nodes = vec![
                Node::smooth(0, 0),
                Node::smooth(900, rise),
                Node::smooth(2000, 0),
            ];
            Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap()
        };
        let (low, high) = (curve(300), curve(1700));
        let loft = Loft::new(&low, &high);
        for along in loft.parameters(8) {
            assert!((loft.point(along, 0.0) - low.point_mm(along)).norm() < 1e-12);
            assert!((loft.point(along, 1.0) - high.point_mm(along)).norm() < 1e-12);
        }
        assert_eq!(loft.section(0.5, 8).len(), 11);
    }
}
