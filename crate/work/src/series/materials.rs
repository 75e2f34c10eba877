//! The materials to start from, in words.

use loftkin_form::making::materials;
use serde::Serialize;

/// A material to start from.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct MaterialMessage {
    /// What the trade calls it.
    pub name: String,
    /// g/cm³.
    pub density: f64,
    /// The least inner bend radius of thin and of thick sheet, in gauges.
    pub bend: f64,
    /// Of sheet above the gauge `thick`.
    pub bend_thick: f64,
    /// In mm.
    pub thick: f64,
    /// At forming, MPa, where it is known here.
    pub flow_stress: Option<f64>,
    /// Whether the colours of its anodic film are known here.
    pub is_titanium: bool,
    /// Sources and cautions, a sentence an entry.
    pub notes: Vec<String>,
}

/// The materials of the table.
pub fn materials() -> Vec<MaterialMessage> {
    let told = materials::table().into_iter().map(|material| {
        let mut notes = vec![
            format!("Density: {}.", material.density.source),
            format!("Bend radius: {}.", material.bend.source),
        ];
        if let Some(hot) = &material.hot {
            notes.push(format!(
                "Formed hot at {} to {}: {}.",
                hot.lowest, hot.highest, hot.source
            ));
            if let Some(stress) = &hot.flow_stress {
                notes.push(format!("Flow stress: {}.", stress.source));
            }
        }
        notes.extend(material.cautions.iter().map(|&caution| caution.to_owned()));
        MaterialMessage {
            name: material.name,
            density: material.density.value,
            bend: material.bend.value,
            bend_thick: material.bend_thick.value,
            thick: materials::THICK,
            flow_stress: material.hot.and_then(|hot| Some(hot.flow_stress?.value)),
            is_titanium: material.is_titanium,
            notes,
        }
    });
    told.collect()
}
