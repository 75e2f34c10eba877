//! Stretch of the sheet from flat, and how thin it gets when gas forms it.
//!
//! Forming keeps the volume of the material, so where the area grows the gauge
//! shrinks. The sheet is clamped about an opening, its *blank*, and covers what is
//! formed and the far opening with it (that is cut away later):
//!
//! | piece | blank | far opening |
//! |---|---|---|
//! | closed outlines, stacked | the larger end | the other end |
//! | open outlines, all round an axis | the larger edge, seen along the axis | the other edge |
//! | open outlines, else | the edge, seen where it covers most | none |
//! | closed outlines, in a ring | none: no one sheet is formed to it | |
//!
//! The mean gauge is t₀ A₀ / A, blank over formed, whatever the shape. Where in
//! between the sheet is thin is a matter of the process. Here it is taken as on a
//! free dome of the same areas: with δ the depth below the rim over the deepest,
//!
//! ```text
//! t = t₀ / (1 + c δ)²,    c such that the blank's volume is kept.
//! ```
//!
//! On a spherical dome of height h over radius a that is exact for points that
//! move square to the sheet (Hill 1950, from memory), derived here: the sheet then
//! grows alike in all directions, as the stereographic map does, by
//! (1 + x²) / (1 + x² s), x = h/a, s = (r₀/a)². With z = h (1 - s) / (1 + x² s) this
//! is 1 + z h/a², so c = x² = A/A₀ - 1, and the pole has the square of the mean.
//!
//! Why not the sine law t₀ |n·d|: it is that of spinning, where material moves along
//! the axis alone. Under gas an upright wall is not without gauge, see [`sine_law`].

use super::check::{Check, Formula, Limit, Provenance, Spot, Unit};
use super::hull::Part;
use crate::body::cells::{Sampler, cells, strips};
use crate::body::quadrature::{FOUR, over};
use crate::body::wall::KG_PER_MM3;
use crate::piece::{Piece, signed_area};
use nalgebra::{Point3, UnitVector3, Vector3};

/// Newton's steps for the constant c: from the left, on a convex function, they
/// only near it; a few suffice.
const STEPS: usize = 60;
/// What is left of the blank's area when they end, relative.
const NEAR: f64 = 1e-10;
/// An edge that covers less of a skin's area than this has no side to form it from.
const FLATTEST: f64 = 1e-6;

/// The gauge left after forming.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thinning {
    /// The gauge of the flat sheet, mm.
    pub gauge: f64,
    /// The least gauge wanted, mm.
    pub least: f64,
}

impl Check for Thinning {
    /// A place alone does not tell it: see [`Check::fitted`].
    fn value(&self, _: &Spot) -> f64 {
        f64::NAN
    }

    fn fitted(&self, piece: &Piece) -> Option<Box<dyn Check>> {
        let stretch = Stretch::new(piece)?;
        let thinning = *self;
        Some(Box::new(Formed { thinning, stretch }))
    }

    fn limit(&self) -> Limit {
        Limit::at_least(self.least)
    }

    fn unit(&self) -> Unit {
        Unit::Millimetre
    }

    fn formula(&self) -> Formula {
        Formula {
            text: "t = t₀ / (1 + c δ)², δ the depth below the rim over the deepest, c such that the volume of the blank is kept: on a dome the mean is t₀ A₀/A and the pole has t₀ (A₀/A)²",
            source: "volume constancy, shared out as on a free dome whose points move square to the sheet (pole: Jovane 1968, from memory)",
            provenance: Provenance::Derived,
            caution: "For a sheet that gas forms freely, clamped at its rim. Where it touches a mould early it stays thicker and what is reached last, corners above all, gets thinner; a sheet that is drawn in or only bent keeps more. None where one sheet cannot be formed to the piece. A design estimate: measure a first piece.",
        }
    }
}

/// The gauge left on one piece.
struct Formed {
    thinning: Thinning,
    stretch: Stretch,
}

impl Check for Formed {
    fn value(&self, spot: &Spot) -> f64 {
        self.thinning.gauge * self.stretch.share_at(spot.patch.point)
    }

    fn bound(&self, part: &Part) -> Option<f64> {
        Some(self.thinning.gauge * self.stretch.least_share(part))
    }

    fn limit(&self) -> Limit {
        self.thinning.limit()
    }

    fn unit(&self) -> Unit {
        self.thinning.unit()
    }

    fn formula(&self) -> Formula {
        self.thinning.formula()
    }
}

/// How one sheet is stretched to a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// The area of the blank, mm².
    pub blank: f64,
    /// The area that it is formed to, mm²: the skin and the far opening.
    pub formed: f64,
    /// The skins from knot to knot of the blend (station to station for ruled and
    /// eased).
    pub skins: Vec<SkinStretch>,
    rim: Rim,
    deepest: f64,
    constant: f64,
}

/// The stretch of one skin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SkinStretch {
    /// Fractions across between which the skin lies.
    pub across: (f64, f64),
    /// Its area, mm².
    pub area: f64,
    /// The area of the blank that it is formed from, mm².
    pub flat: f64,
}

impl SkinStretch {
    /// How much larger it is than flat: 0.1 is ten percent.
    pub fn stretch(&self) -> f64 {
        self.area / self.flat - 1.0
    }

    /// The mean gauge after forming from a sheet of `gauge`, by volume constancy.
    pub fn mean_gauge(&self, gauge: f64) -> f64 {
        gauge * self.flat / self.area
    }
}

impl Stretch {
    /// Of `piece`; none when no one sheet is formed to it.
    pub fn new(piece: &Piece) -> Option<Self> {
        let samples = samples(piece);
        let rim = Rim::of(piece, &samples)?;
        let far_depth = rim.far_level.map_or(0.0, |level| (level - rim.level).abs());
        let deepest = samples
            .iter()
            .fold(far_depth, |most, sample| most.max(rim.depth(sample.point)));
        let share = |depth: f64| if 0.0 < deepest { depth / deepest } else { 0.0 };
        let mut parts: Vec<(f64, f64)> = samples
            .iter()
            .map(|sample| (sample.cross.norm(), share(rim.depth(sample.point))))
            .collect();
        parts.push((rim.far, share(far_depth)));
        let constant = constant(&parts, rim.area);
        let knots = piece.breaks_across();
        let mut skins: Vec<SkinStretch> = knots
            .windows(2)
            .map(|ends| SkinStretch {
                across: (ends[0], ends[1]),
                area: 0.0,
                flat: 0.0,
            })
            .collect();
        for (sample, (area, depth)) in samples.iter().zip(&parts) {
            let skin = &mut skins[sample.skin];
            skin.area += area;
            skin.flat += area * left(constant, *depth);
        }
        Some(Self {
            blank: rim.area,
            formed: parts.iter().map(|(area, _)| area).sum(),
            skins,
            rim,
            deepest,
            constant,
        })
    }

    /// How much larger the formed sheet is than its blank: 0.1 is ten percent.
    pub fn stretch(&self) -> f64 {
        self.formed / self.blank - 1.0
    }

    /// The mass in kg of the formed skin within its trim, from a sheet of `gauge` mm and
    /// `density` g/cm³: of the parts of the blank that its skins are formed from.
    pub fn mass(&self, gauge: f64, density: f64) -> f64 {
        let flat: f64 = self.skins.iter().map(|skin| skin.flat).sum();
        flat * gauge * density * KG_PER_MM3
    }

    /// The mean gauge over that of the flat sheet.
    pub fn mean(&self) -> f64 {
        self.blank / self.formed
    }

    /// The gauge at the deepest place over that of the flat sheet.
    pub fn thinnest(&self) -> f64 {
        left(self.constant, 1.0)
    }

    /// The gauge at a place of the skin over that of the flat sheet.
    pub fn share_at(&self, point: Point3<f64>) -> f64 {
        left(self.constant, self.share_of(self.rim.depth(point)))
    }
}

impl Stretch {
    /// The gauge over that of the flat sheet is nowhere on `part` less than this.
    pub fn least_share(&self, part: &Part) -> f64 {
        let (low, high) = part.reach(&self.rim.normal);
        let deepest = (self.rim.level - low).max(high - self.rim.level);
        left(self.constant, self.share_of(deepest.max(0.0)))
    }

    fn share_of(&self, depth: f64) -> f64 {
        if 0.0 < self.deepest {
            depth / self.deepest
        } else {
            0.0
        }
    }
}

/// What is left of the gauge at a depth (as a share of the deepest).
fn left(constant: f64, depth: f64) -> f64 {
    let grown = 1.0 + constant * depth;
    1.0 / (grown * grown)
}

/// The constant with which the parts, areas at depths, come from a blank of this
/// area: 0 for one that is large enough as it is.
fn constant(parts: &[(f64, f64)], blank: f64) -> f64 {
    let mut constant = 0.0;
    for _ in 0..STEPS {
        let (flat, slope) = parts
            .iter()
            .fold((0.0, 0.0), |(flat, slope), &(area, depth)| {
                let left = left(constant, depth);
                (
                    flat + area * left,
                    slope + 2.0 * area * depth * left / (1.0 + constant * depth),
                )
            });
        if flat - blank <= NEAR * blank || slope <= 0.0 {
            break;
        }
        constant += (flat - blank) / slope;
    }
    constant
}

/// A small piece of the skin.
struct Sample {
    skin: usize,
    point: Point3<f64>,
    /// Its normal, as long as its area.
    cross: Vector3<f64>,
}

fn samples(piece: &Piece) -> Vec<Sample> {
    let knots = piece.breaks_across();
    let mut samples = Vec::new();
    let mut sampler = Sampler::new(piece);
    for cell in cells(piece) {
        let middle = f64::midpoint(cell.across.0, cell.across.1);
        let skin = knots[1..knots.len() - 1].partition_point(|&knot| knot <= middle);
        sampler.visit(
            over(&FOUR, cell.along),
            over(&FOUR, cell.across),
            |sample| {
                let point = sample.patch.point;
                let cross = sample.patch.cross() * sample.weight;
                samples.push(Sample { skin, point, cross });
            },
        );
    }
    samples
}

/// Where the sheet is held.
#[derive(Clone, Debug, PartialEq)]
struct Rim {
    /// Square to the blank.
    normal: UnitVector3<f64>,
    /// How far along the normal the rim stands (its mean), mm.
    level: f64,
    /// The area inside, mm².
    area: f64,
    /// The area of the far opening, mm², and its level.
    far: f64,
    far_level: Option<f64>,
}

impl Rim {
    fn of(piece: &Piece, samples: &[Sample]) -> Option<Self> {
        let stations = piece.layout().stations();
        match (
            piece.is_closed_along(),
            stations.is_ring(),
            stations.is_all_round(),
        ) {
            (true, true, _) => None,
            (true, false, _) => {
                let end = |index: usize| {
                    let area = signed_area(piece.placed(index)).abs();
                    (area, stations.all()[index].at)
                };
                Some(Self::between(end(0), end(stations.count() - 1)))
            }
            (false, _, true) => Some(Self::between(edge(piece, 0.0), edge(piece, 1.0))),
            (false, _, false) => Self::of_one_edge(piece, samples),
        }
    }

    /// Two openings square to the z axis, each by area and height.
    fn between(one: (f64, f64), other: (f64, f64)) -> Self {
        let (wide, narrow) = if one.0 < other.0 {
            (other, one)
        } else {
            (one, other)
        };
        Self {
            normal: Vector3::z_axis(),
            level: wide.1,
            area: wide.0,
            far: narrow.0,
            far_level: Some(narrow.1),
        }
    }

    /// The edge of an open skin covers most along the sum of its normals, and that
    /// sum is the area covered (Stokes: the same for each skin in that edge).
    fn of_one_edge(piece: &Piece, samples: &[Sample]) -> Option<Self> {
        let sum: Vector3<f64> = samples.iter().map(|sample| sample.cross).sum();
        let area: f64 = samples.iter().map(|sample| sample.cross.norm()).sum();
        if sum.norm() <= FLATTEST * area {
            return None;
        }
        let normal = UnitVector3::new_normalize(sum);
        let mut mean = (0.0, 0.0);
        let mut side = |ends: [(f64, f64); 2]| {
            let [from, to] = ends.map(|(u, v)| piece.point(u, v).coords);
            let length = (to - from).norm();
            let height = 0.5 * normal.dot(&(from + to));
            mean = (mean.0 + length * height, mean.1 + length);
        };
        for ends in piece.breaks_along().windows(2) {
            for v in [0.0, 1.0] {
                side([(ends[0], v), (ends[1], v)]);
            }
        }
        for (from, to) in strips(piece) {
            for u in [0.0, 1.0] {
                side([(u, from), (u, to)]);
            }
        }
        Some(Self {
            normal,
            level: mean.0 / mean.1,
            area: sum.norm(),
            far: 0.0,
            far_level: None,
        })
    }

    fn depth(&self, point: Point3<f64>) -> f64 {
        (self.normal.dot(&point.coords) - self.level).abs()
    }
}

/// The edge at `u` of open outlines all round the z axis: the area inside, seen
/// along the axis, and its mean height.
fn edge(piece: &Piece, u: f64) -> (f64, f64) {
    let (mut area, mut height, mut length) = (0.0, 0.0, 0.0);
    for ends in strips(piece) {
        for (v, weight) in over(&FOUR, ends) {
            let patch = piece.patch(u, v);
            let step = patch.across * weight;
            area += 0.5 * (patch.point.x * step.y - patch.point.y * step.x);
            height += patch.point.z * step.norm();
            length += step.norm();
        }
    }
    (area.abs(), height / length)
}

/// The gauge over the flat one of a cone that is spun in one pass: the sine of the
/// half angle, `angle` in degrees (sine law of shear spinning: Marciniak, Duncan and
/// Hu, Mechanics of Sheet Metal Forming, 2002). None below 15 degrees, where sheet
/// is not spun in one pass (common practice: at most three quarters of the gauge).
pub fn sine_law(angle: f64) -> Option<f64> {
    const STEEPEST: f64 = 15.0;
    (STEEPEST..=90.0)
        .contains(&angle)
        .then(|| libm::sin(angle.to_radians()))
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
