//! Whether the skin's offset by its gauge keeps clear of itself nearby: it does while
//! the gauge is below the radius of every hollow on that side (do Carmo, Differential
//! Geometry of Curves and Surfaces, 1976, exercise 3-5). At a distance see
//! [`super::room`]; along a sharp valley, where it always meets itself, [`super::fillet`].

use super::check::{Check, Formula, Limit, Provenance, Spot, Unit};
use super::hull::Part;

/// How far the sheet reaches, over the radius of the sharpest hollow that it fills.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OffsetBend {
    /// How far it reaches outward from the drawn skin, mm.
    pub outward: f64,
    /// How far inward, mm.
    pub inward: f64,
}

impl OffsetBend {
    fn taken(&self, hollow: f64, bulge: f64) -> f64 {
        let (outside, inside) = (share(self.outward, hollow), share(self.inward, bulge));
        // Not f64::max, which would hide a place that is not a number.
        if outside < inside { inside } else { outside }
    }
}

/// Of a reach (mm) and a bend (1/mm): nothing where there is no sheet, however sharp
/// the bend.
fn share(reach: f64, bend: f64) -> f64 {
    if reach == 0.0 { 0.0 } else { reach * bend }
}

impl Check for OffsetBend {
    /// Below 1 both faces of the sheet are smooth there.
    fn value(&self, spot: &Spot) -> f64 {
        let (larger, smaller) = spot.hollows();
        self.taken(larger, -smaller)
    }

    fn bound(&self, part: &Part) -> Option<f64> {
        let bends = part.bends();
        Some(self.taken(bends.most, -bends.least))
    }

    fn limit(&self) -> Limit {
        Limit::at_most(1.0)
    }

    fn unit(&self) -> Unit {
        Unit::Ratio
    }

    fn formula(&self) -> Formula {
        Formula {
            text: "in a hollow: reach × κ on that side; between parts of the skin that face one another: both reaches together over the distance between them, of which shares below 0.8 are not told; from 1 on a face of the sheet folds back on itself or meets the other",
            source: "parallel surfaces (do Carmo, Differential Geometry of Curves and Surfaces, 1976, 3-5)",
            provenance: Provenance::Published,
            caution: "A sharp edge has no radius: on its hollow side the offset always meets itself, unless a fillet is assumed there.",
        }
    }
}
