//! A sheet of some gauge on the skin: its volume, mass and centre.
//!
//! The volume between the skin and its offset by t is t A + t² H + t³ K / 3 with A
//! the area and H, K the integrals of mean and Gauss curvature, H taken positive
//! where the offset spreads (Steiner's formula; Gray, Tubes, 2004, section 10.1).
//! It holds while the offset keeps clear of itself, and leaves out creases, each
//! of which adds half t² times its angle (radians) and length.

use super::measures::Measures;
use nalgebra::Point3;

/// On which side of the drawn skin the sheet lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Side {
    /// The drawn skin is the middle of the sheet.
    #[default]
    Middle,
    /// The drawn skin is the outer face: the sheet lies inside it.
    Inside,
    /// The drawn skin is the inner face.
    Outside,
}

/// A sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Its thickness in mm.
    pub gauge: f64,
    /// In g/cm³.
    pub density: f64,
    /// Where it lies.
    pub side: Side,
    /// Whether the caps are sheet as well.
    pub with_caps: bool,
}

/// The wall that a sheet makes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// In mm³.
    pub volume: f64,
    /// In kg, with a gauge that is the same everywhere.
    pub mass: f64,
    /// The centre of gravity, taken at the drawn skin (and caps).
    pub centre: Point3<f64>,
    /// The volume that is left inside, mm³; none when nothing is enclosed.
    pub capacity: Option<f64>,
}

/// kg in a mm³ of a material of 1 g/cm³.
pub const KG_PER_MM3: f64 = 1e-6;

impl Sheet {
    /// The wall that this sheet makes of a piece with `measures`.
    ///
    /// The capacity counts caps as sheet of no thickness.
    pub fn wall(&self, measures: &Measures) -> Wall {
        let t = self.gauge;
        let (area, mean, gauss) = (
            measures.skin_area.value,
            measures.mean_curvature,
            measures.gauss_curvature,
        );
        let beside = |t: f64| t * area + t * t * mean + t * t * t * gauss / 3.0;
        let (inner, outer) = match self.side {
            Side::Middle => (-beside(-t / 2.0), beside(t / 2.0)),
            Side::Inside => (-beside(-t), 0.0),
            Side::Outside => (0.0, beside(t)),
        };
        let skin = inner + outer;
        let mut volume = skin;
        let mut moment = measures.skin_centre.coords * skin;
        let caps = measures.cap_areas.zip(measures.cap_centres);
        if let (true, Some((areas, centres))) = (self.with_caps, caps) {
            for (area, centre) in areas.into_iter().zip(centres) {
                volume += area * t;
                moment += centre.coords * (area * t);
            }
        }
        Wall {
            volume,
            mass: volume * self.density * KG_PER_MM3,
            centre: (moment / volume).into(),
            capacity: measures.volume.map(|whole| whole.by_sections - inner),
        }
    }
}
