//! Scallops: the ridges that a ball-nose cutter leaves between parallel passes,
//! and the pattern they make.

use super::check::{Check, Formula, Limit, Provenance, Spot, Unit};
use super::hull::Part;
use nalgebra::{Point3, UnitVector3};

/// Parallel passes over the skin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scallop {
    /// The radius of the cutter, mm.
    pub cutter: f64,
    /// From pass to pass, mm, square to the planes of the passes.
    pub step_over: f64,
    /// The direction in which passes step over; they lie in planes square to it.
    pub sideways: UnitVector3<f64>,
    /// The largest scallop allowed, mm.
    pub most: f64,
}

impl Scallop {
    /// How many passes lie to the side of `point`: whole numbers are passes, so
    /// the fraction draws the pattern on the skin.
    pub fn passes_to(&self, point: Point3<f64>) -> f64 {
        self.sideways.dot(&point.coords) / self.step_over
    }
}

impl Scallop {
    /// The height of the scallop where the normal has this share sideways.
    fn facing(&self, share: f64) -> f64 {
        // The planes of two passes cut the skin this far apart.
        let spacing = self.step_over / libm::sqrt(1.0 - share * share);
        height(self.cutter, spacing)
    }
}

impl Check for Scallop {
    /// The height of the scallop, mm; infinite where the skin faces sideways and
    /// passes miss it.
    fn value(&self, spot: &Spot) -> f64 {
        self.facing(spot.normal.dot(&self.sideways))
    }

    fn bound(&self, part: &Part) -> Option<f64> {
        let directions = part.directions(&self.sideways);
        let facing = part
            .normals()
            .map(|normals| normals.most_facing(&directions));
        Some(self.facing(facing.unwrap_or(1.0)))
    }

    fn limit(&self) -> Limit {
        Limit::at_most(self.most)
    }

    fn unit(&self) -> Unit {
        Unit::Millimetre
    }

    fn formula(&self) -> Formula {
        Formula {
            text: "h = R - √(R² - s²/4), s the step-over on the skin: the set step-over divided by the cosine of the sideways slope",
            source: "machinists' handbooks; the slope by geometry",
            provenance: Provenance::Published,
            caution: "For skin flat against the cutter; hollows leave less, bulges a little more. Steep walls want passes of their own.",
        }
    }
}

/// The scallop of a cutter of radius `cutter` between passes `step` apart on a
/// flat, mm; infinite when passes do not meet.
pub fn height(cutter: f64, step: f64) -> f64 {
    let half = step / 2.0;
    if cutter < half {
        return f64::INFINITY;
    }
    // R - √(R² - q) without its cancellation.
    half * half / (cutter + libm::sqrt(cutter * cutter - half * half))
}

/// The step-over on a flat that leaves scallops of `height`, mm: 2 √(2 R h - h²).
pub fn step_for(cutter: f64, height: f64) -> f64 {
    2.0 * libm::sqrt(height * (2.0 * cutter - height))
}
