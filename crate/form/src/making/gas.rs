//! Gas pressure that forms a skin, by the membrane formula.

use super::check::{Check, Formula, Limit, Provenance, Spot, Unit};
use super::hull::Part;

/// The pressure that holds or forms the skin at each place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GasPressure {
    /// The flow stress at forming temperature and rate, MPa.
    pub flow_stress: f64,
    /// The gauge there, mm.
    pub gauge: f64,
    /// The most that the rig may hold, MPa.
    pub most: f64,
}

impl Check for GasPressure {
    /// MPa.
    fn value(&self, spot: &Spot) -> f64 {
        let (one, other) = spot.hollows();
        self.flow_stress * self.gauge * (one + other).abs()
    }

    fn bound(&self, part: &Part) -> Option<f64> {
        Some(self.flow_stress * self.gauge * part.most_mean_bend())
    }

    fn limit(&self) -> Limit {
        Limit::at_most(self.most)
    }

    fn unit(&self) -> Unit {
        Unit::Megapascal
    }

    fn formula(&self) -> Formula {
        Formula {
            text: "p = σ t |κ₁ + κ₂|, both stresses at the flow stress σ; for a sphere 2 σ t / R, for a trough σ t / R",
            source: "membrane equation (Marciniak, Duncan and Hu, Mechanics of Sheet Metal Forming, 2002, 7.2 and 9.1)",
            provenance: Provenance::Published,
            caution: "A design estimate. Gas alone does not form a saddle, where the two curvatures are opposite: there the figure says nothing. A hot vessel under gas pressure can burst: it needs a rated rig, a relief valve and licensed practice under the local pressure code. Argon is heavier than air and asphyxiates in pits and closed vessels: measure oxygen, ventilate, never work alone.",
        }
    }
}
