//! Radii of the skin: against the cutter that mills the mould, and against the
//! sheet that is bent.

use super::check::{Check, Formula, Limit, Provenance, Spot, Unit};
use super::hull::Part;
use crate::body::wall::Side;

/// Curvature below this (1/mm) is flat: a radius of a kilometre, which only
/// rounding tells from a plane.
const FLAT: f64 = 1e-6;

/// From which side of the skin a tool works.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum ToolSide {
    /// Outside: the mould has the shape of the piece (male).
    #[default]
    Outside,
    /// Inside: the mould is the hollow around the piece (female).
    Inside,
}

/// The radius of a bend (1/mm), mm; infinite from a kilometre on.
fn radius(bend: f64) -> f64 {
    // False for a place without a normal, which then has no radius either.
    if bend <= FLAT {
        f64::INFINITY
    } else {
        1.0 / bend
    }
}

/// The least radius of the hollows that a ball-nose cutter must reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutterRadius {
    /// The radius of the cutter, mm.
    pub cutter: f64,
    /// Where it works.
    pub side: ToolSide,
}

impl Check for CutterRadius {
    /// The radius of the sharpest hollow, mm; infinite where there is none
    /// below a kilometre.
    fn value(&self, spot: &Spot) -> f64 {
        let (larger, smaller) = spot.hollows();
        let hollow = match self.side {
            ToolSide::Outside => larger,
            ToolSide::Inside => -smaller,
        };
        radius(hollow)
    }

    fn bound(&self, part: &Part) -> Option<f64> {
        let bends = part.bends();
        Some(radius(match self.side {
            ToolSide::Outside => bends.most,
            ToolSide::Inside => -bends.least,
        }))
    }

    fn limit(&self) -> Limit {
        Limit::at_least(self.cutter)
    }

    fn unit(&self) -> Unit {
        Unit::Millimetre
    }

    fn formula(&self) -> Formula {
        Formula {
            text: "radius = 1 / κ, κ the largest principal curvature toward the tool; a ball-nose cutter reaches every place only if its radius is no larger",
            source: "differential geometry (Kühnel, Differential Geometry, 2015, chapter 3); on a sharp valley it leaves R (1/cos(Φ/2) - 1), Φ the turn of the faces (derived)",
            provenance: Provenance::Derived,
            caution: "Says nothing of holder, reach or stock. Machining throws chips and can seize: guard, eye protection and the machine maker's instructions.",
        }
    }
}

/// The least inner radius of a bend against what the sheet bears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BendRadius {
    /// The gauge of the sheet, mm.
    pub gauge: f64,
    /// Where the sheet lies.
    pub side: Side,
    /// The least inner radius in gauges, by material.
    pub gauges: f64,
}

impl BendRadius {
    /// The inner radius of the sharper of both bends (1/mm).
    fn inner(&self, hollow: f64, bulge: f64) -> f64 {
        // From the drawn skin to the face that is inside the bend.
        let (to_outer, to_inner) = match self.side {
            Side::Middle => (self.gauge / 2.0, self.gauge / 2.0),
            Side::Inside => (0.0, self.gauge),
            Side::Outside => (self.gauge, 0.0),
        };
        let hollow = radius(hollow) - to_outer;
        let bulge = radius(bulge) - to_inner;
        // Not f64::min, which would hide a place that is not a number.
        if hollow < bulge { hollow } else { bulge }
    }
}

impl Check for BendRadius {
    /// The inner radius of the sharpest bend either way, mm; infinite where flat.
    fn value(&self, spot: &Spot) -> f64 {
        let (larger, smaller) = spot.hollows();
        self.inner(larger, -smaller)
    }

    fn bound(&self, part: &Part) -> Option<f64> {
        let bends = part.bends();
        Some(self.inner(bends.most, -bends.least))
    }

    fn limit(&self) -> Limit {
        Limit::at_least(self.gauge * self.gauges)
    }

    fn unit(&self) -> Unit {
        Unit::Millimetre
    }

    fn formula(&self) -> Formula {
        Formula {
            text: "inner radius = 1 / |κ| less the gauge on that side, κ the larger principal curvature; at least so many gauges, by material",
            source: "geometry; least radii by material: see the materials table",
            provenance: Provenance::Derived,
            caution: "Bend-test radii are acceptance values, not design radii: stay above them, mind the rolling direction and the supplier's data sheet. Skin bent both ways at once is stretched, not bent.",
        }
    }
}
