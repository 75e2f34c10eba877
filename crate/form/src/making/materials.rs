//! Materials with what the checks need of them, each value with its source. A
//! table to start from: every value is the person's to change, and the supplier's
//! data sheet wins.

use super::check::Provenance;
use super::temperature::{SUPERPLASTIC, TITANIUM_HOT, TITANIUM_SCALES, Temperature};

/// A value with its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Sourced {
    /// The value.
    pub value: f64,
    /// Where it comes from; empty once a person has changed it.
    pub source: String,
    /// How it is known.
    pub provenance: Provenance,
}

/// Forming it hot.
#[derive(Clone, Debug, PartialEq)]
pub struct HotForming {
    /// From.
    pub lowest: Temperature,
    /// To.
    pub highest: Temperature,
    /// Flow stress there, MPa, where it is known here.
    pub flow_stress: Option<Sourced>,
    /// Where the temperatures come from.
    pub source: String,
}

/// A sheet material.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    /// What the trade calls it.
    pub name: String,
    /// g/cm³.
    pub density: Sourced,
    /// The least inner bend radius in gauges, for sheet up to about 1.8 mm.
    pub bend: Sourced,
    /// The same for thicker sheet, up to about 4.75 mm.
    pub bend_thick: Sourced,
    /// Forming it hot, where that is known here.
    pub hot: Option<HotForming>,
    /// Whether anodic colours of titanium hold for it.
    pub is_titanium: bool,
    /// What to mind with this material, a sentence or two an entry.
    pub cautions: Vec<&'static str>,
}

/// The gauge in mm above which [`Material::bend_thick`] holds.
pub const THICK: f64 = 1.8;

impl Material {
    /// The least inner bend radius in gauges for a sheet of `gauge` mm.
    pub fn bend_gauges(&self, gauge: f64) -> f64 {
        if gauge < THICK {
            self.bend.value
        } else {
            self.bend_thick.value
        }
    }
}

const B265: &str = "bend test of ASTM B265, from a supplier's data sheet: an acceptance value, not a design radius";
const ALUMINIUM_BEND: &str =
    "a design table of least radii for 90 degree cold bends (1/16 in and 1/8 in sheet)";
const HANDBOOK: &str = "from memory of material handbooks: confirm on the data sheet";
const THERMOFORMER: &str = "one thermoformer's guide: mould radius at least the gauge of the sheet";
const PRACTICE: &str = "common practice";

fn published(value: f64, source: &str) -> Sourced {
    sourced(value, source, Provenance::Published)
}

fn remembered(value: f64) -> Sourced {
    sourced(value, HANDBOOK, Provenance::Memory)
}

fn practised(value: f64) -> Sourced {
    sourced(value, PRACTICE, Provenance::CommonPractice)
}

fn sourced(value: f64, source: &str, provenance: Provenance) -> Sourced {
    Sourced {
        value,
        source: source.to_owned(),
        provenance,
    }
}

fn cold(name: &str, density: f64, bend: [Sourced; 2], caution: &'static str) -> Material {
    let [bend, bend_thick] = bend;
    Material {
        name: name.to_owned(),
        density: remembered(density),
        bend,
        bend_thick,
        hot: None,
        is_titanium: false,
        cautions: vec![caution],
    }
}

const TITANIUM: &str = "Titanium chips and dust burn: keep them wet or collected and have a class D extinguisher. It springs back a lot and galls on tools.";
const PLASTIC: &str = "Hot sheet and ovens burn, and overheated plastic gives off fumes: gloves, extraction, the supplier's temperatures. Draw no deeper than wide.";
const METAL: &str =
    "Sheared edges cut: gloves and deburring. Mind the rolling direction and the temper.";

/// Formed hot over a mould: its least radius is that of the mould.
fn plastic(
    name: &str,
    density: f64,
    (lowest, highest): (Temperature, Temperature),
    source: &str,
) -> Material {
    let bend = || published(1.0, THERMOFORMER);
    Material {
        hot: Some(HotForming {
            lowest,
            highest,
            flow_stress: None,
            source: source.to_owned(),
        }),
        ..cold(name, density, [bend(), bend()], PLASTIC)
    }
}

/// The table to start from.
pub fn table() -> Vec<Material> {
    let titanium = |name: &str, density: f64, thin: f64, thick: f64| {
        let bend = [published(thin, B265), published(thick, B265)];
        Material {
            is_titanium: true,
            cautions: vec![TITANIUM, TITANIUM_HOT],
            ..cold(name, density, bend, TITANIUM)
        }
    };
    let mut alloyed = titanium("titanium grade 5 (Ti-6Al-4V)", 4.43, 4.5, 5.0);
    alloyed.cautions.push(TITANIUM_SCALES);
    alloyed.hot = Some(HotForming {
        lowest: SUPERPLASTIC.0,
        highest: SUPERPLASTIC.1,
        flow_stress: Some(sourced(
            8.0,
            "from memory: 5 to 15 MPa for fine-grained sheet at 1e-4 to 1e-3 per second; depends strongly on rate and grain, so calibrate",
            Provenance::Memory,
        )),
        source: "abstracts of ASM AeroMat 2005 and 2012".to_owned(),
    });
    vec![
        titanium("titanium grade 1", 4.51, 1.5, 2.0),
        titanium("titanium grade 2", 4.51, 2.0, 2.5),
        titanium("titanium grade 9 (Ti-3Al-2.5V)", 4.48, 2.5, 3.0),
        alloyed,
        cold(
            "aluminium 5052-H32",
            2.68,
            [
                published(1.0, ALUMINIUM_BEND),
                published(1.5, ALUMINIUM_BEND),
            ],
            METAL,
        ),
        cold(
            "stainless steel 304, annealed",
            8.0,
            [practised(1.0), practised(1.0)],
            METAL,
        ),
        cold("mild steel", 7.85, [practised(1.0), practised(1.0)], METAL),
        cold(
            "copper, soft",
            8.94,
            [practised(1.0), practised(1.0)],
            METAL,
        ),
        plastic(
            "polycarbonate sheet",
            1.20,
            (
                Temperature::fahrenheit(370.0),
                Temperature::fahrenheit(415.0),
            ),
            "a guide to forming polycarbonate sheet: 370 to 415 °F for deep draws; dry the sheet first",
        ),
        plastic(
            "acrylic sheet, cast",
            1.19,
            (Temperature::celsius(150.0), Temperature::celsius(190.0)),
            HANDBOOK,
        ),
    ]
}
