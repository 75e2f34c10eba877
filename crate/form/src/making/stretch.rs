//! Stretch of the sheet from flat, and how thin it gets.
//!
//! Forming keeps the volume of the material, so where the area grows the gauge
//! shrinks. The flat blank is taken as the skin seen along the direction of
//! forming: a skin of area A that covers A₀ there is stretched by A / A₀ - 1 and
//! has mean gauge t₀ A₀ / A. Locally the same gives t₀ |n·d|, the sine law.

use super::check::{Check, Formula, Limit, Provenance, Spot, Unit};
use crate::body::cells::{Sampler, cells};
use crate::body::quadrature::{SIX, over};
use crate::piece::Piece;
use nalgebra::UnitVector3;

/// The local gauge after forming.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thinning {
    /// The gauge of the flat sheet, mm.
    pub gauge: f64,
    /// The direction of forming.
    pub direction: UnitVector3<f64>,
    /// The least gauge wanted, mm.
    pub least: f64,
}

impl Check for Thinning {
    fn value(&self, spot: &Spot) -> f64 {
        self.gauge * spot.normal.dot(&self.direction).abs()
    }

    fn limit(&self) -> Limit {
        Limit::at_least(self.least)
    }

    fn unit(&self) -> Unit {
        Unit::Millimetre
    }

    fn formula(&self) -> Formula {
        Formula {
            text: "t = t₀ |n·d| = t₀ sin(wall's angle to the direction), by volume constancy with every point moved along d",
            source: "sine law of shear spinning (Marciniak, Duncan and Hu, Mechanics of Sheet Metal Forming, 2002)",
            provenance: Provenance::Published,
            caution: "Upright walls come out as 0: a real sheet is drawn in or shares its stretch, so take steep walls as a warning, not as a gauge. A design estimate.",
        }
    }
}

/// The stretch of one skin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SkinStretch {
    /// Fractions across between which the skin lies.
    pub across: (f64, f64),
    /// Its area, mm².
    pub area: f64,
    /// The area that it covers along the direction of forming, mm².
    pub flat: f64,
}

impl SkinStretch {
    /// How much larger it is than flat: 0.1 is ten percent; infinite for an
    /// upright skin.
    pub fn stretch(&self) -> f64 {
        self.area / self.flat - 1.0
    }

    /// The mean gauge after forming from a sheet of `gauge`, by volume constancy.
    pub fn mean_gauge(&self, gauge: f64) -> f64 {
        gauge * self.flat / self.area
    }
}

/// The stretch of each skin of `piece`, from knot to knot of its blend (station to
/// station for ruled and eased), formed along `direction`.
pub fn skins(piece: &Piece, direction: UnitVector3<f64>) -> Vec<SkinStretch> {
    let knots = piece.breaks_across();
    let mut skins: Vec<SkinStretch> = knots
        .windows(2)
        .map(|ends| SkinStretch {
            across: (ends[0], ends[1]),
            area: 0.0,
            flat: 0.0,
        })
        .collect();
    let mut sampler = Sampler::new(piece);
    for cell in cells(piece) {
        let middle = f64::midpoint(cell.across.0, cell.across.1);
        let Some(skin) = skins.iter_mut().find(|skin| middle < skin.across.1) else {
            continue;
        };
        sampler.visit(over(&SIX, cell.along), over(&SIX, cell.across), |sample| {
            let cross = sample.patch.cross();
            skin.area += sample.weight * cross.norm();
            skin.flat += sample.weight * cross.dot(&direction).abs();
        });
    }
    skins
}

/// A free dome or trough of a sheet, by closed formulas.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blown {
    /// Its radius, mm.
    pub radius: f64,
    /// The mean gauge over the flat one.
    pub mean: f64,
    /// The gauge at the thinnest place over the flat one; a trough is even.
    pub thinnest: f64,
}

/// A round sheet of radius `a` blown to a spherical cap of height `h` (mm): radius
/// (a² + h²) / 2h, mean gauge t₀ / (1 + (h/a)²) (Marciniak, Duncan and Hu, 2002,
/// 9.1), at the pole t₀ / (1 + (h/a)²)² (from memory: Jovane 1968).
pub fn dome(a: f64, h: f64) -> Blown {
    let grown = 1.0 + (h / a) * (h / a);
    Blown {
        radius: (a * a + h * h) / (2.0 * h),
        mean: 1.0 / grown,
        thinnest: 1.0 / (grown * grown),
    }
}

/// A long sheet of half-width `a` blown to an arc of height `h` (mm): gauge
/// t₀ sin α / α with tan(α/2) = h/a (derived: chord over arc).
pub fn trough(a: f64, h: f64) -> Blown {
    let angle = 2.0 * libm::atan2(h, a);
    let mean = libm::sin(angle) / angle;
    Blown {
        radius: (a * a + h * h) / (2.0 * h),
        mean,
        thinnest: mean,
    }
}
