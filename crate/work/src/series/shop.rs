//! What a workshop has and wants, as the page sends it.

use super::session::SeriesFailure;
use loftkin_form::body::wall::Side;
use loftkin_form::making::draft::Halves;
use loftkin_form::making::materials;
use loftkin_form::making::radius::ToolSide;
use loftkin_form::making::workshop::Workshop;
use nalgebra::{UnitVector3, Vector3};
use serde::{Deserialize, Serialize};

/// In how many parts a mould is drawn off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub enum HalvesWish {
    /// One.
    One,
    /// Two, in opposite directions.
    Two,
}

/// A side of the skin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub enum SideWish {
    /// Half to each side; of a tool, outside.
    Middle,
    /// Inside.
    Inside,
    /// Outside.
    Outside,
}

/// The sheet and the limits that the person sets. Directions are in space as the
/// piece stands there, z up the stack or along the axis of the ring, of any length.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct ShopWish {
    /// The direction of draw.
    pub draw: [f64; 3],
    /// How the mould is parted.
    pub halves: HalvesWish,
    /// From where the cutter works: outside on a male mould, inside in a female one.
    pub tool_side: SideWish,
    /// What it may leave in a sharp valley, mm; may be 0.
    pub most_left: f64,
    /// The radius of the fillet that is assumed on sharp edges, mm; 0 for none.
    pub fillet: f64,
    /// The direction in which passes of the cutter step over.
    pub sideways: [f64; 3],
    /// Where the sheet lies against the drawn skin.
    pub sheet_side: SideWish,
    /// Of the sheet, mm.
    pub gauge: f64,
    /// Of the sheet, g/cm³.
    pub density: f64,
    /// Degrees.
    pub least_draft: f64,
    /// The band beside the parting line of two halves that is accepted, mm; may be 0.
    pub most_band: f64,
    /// The radius of the ball-nose cutter, mm.
    pub cutter: f64,
    /// From pass to pass, mm.
    pub step_over: f64,
    /// mm.
    pub most_scallop: f64,
    /// The least inner bend radius, in gauges.
    pub bend_gauges: f64,
    /// After forming, mm.
    pub least_gauge: f64,
    /// At forming, MPa.
    pub flow_stress: f64,
    /// Of the rig, MPa.
    pub most_pressure: f64,
}

impl Default for ShopWish {
    /// As [`Workshop::default`], with the first material of the table.
    fn default() -> Self {
        let usual = Workshop::default();
        Self {
            draw: usual.direction.into_inner().into(),
            halves: HalvesWish::One,
            tool_side: SideWish::Outside,
            most_left: usual.most_left,
            fillet: usual.fillet,
            sideways: usual.sideways.into_inner().into(),
            sheet_side: SideWish::Middle,
            gauge: usual.gauge,
            density: materials::table()[0].density.value,
            least_draft: usual.least_draft,
            most_band: usual.most_band,
            cutter: usual.cutter,
            step_over: usual.step_over,
            most_scallop: usual.most_scallop,
            bend_gauges: usual.bend_gauges,
            least_gauge: usual.least_gauge,
            flow_stress: usual.flow_stress,
            most_pressure: usual.most_pressure,
        }
    }
}

impl ShopWish {
    /// The workshop that is meant.
    ///
    /// # Errors
    /// [`SeriesFailure::Limit`], [`SeriesFailure::Length`] and [`SeriesFailure::Direction`].
    pub fn workshop(&self) -> Result<Workshop, SeriesFailure> {
        let limits = [
            ("gauge", self.gauge),
            ("density", self.density),
            ("least draft", self.least_draft),
            ("radius of the cutter", self.cutter),
            ("step-over", self.step_over),
            ("highest scallop", self.most_scallop),
            ("least bend radius", self.bend_gauges),
            ("least gauge after forming", self.least_gauge),
            ("flow stress", self.flow_stress),
            ("highest pressure", self.most_pressure),
        ];
        let wrong = limits
            .iter()
            .find(|(_, value)| !(value.is_finite() && 0.0 < *value));
        if let Some(&(limit, _)) = wrong {
            return Err(SeriesFailure::Limit { limit });
        }
        let lengths = [
            ("band accepted at the parting line", self.most_band),
            ("material left in a sharp valley", self.most_left),
            ("fillet assumed on sharp edges", self.fillet),
        ];
        let wrong = lengths
            .iter()
            .find(|(_, value)| !(value.is_finite() && 0.0 <= *value));
        if let Some(&(length, _)) = wrong {
            return Err(SeriesFailure::Length { length });
        }
        Ok(Workshop {
            direction: direction("direction of draw", self.draw)?,
            halves: match self.halves {
                HalvesWish::One => Halves::One,
                HalvesWish::Two => Halves::Two,
            },
            least_draft: self.least_draft,
            most_band: self.most_band,
            cutter: self.cutter,
            tool_side: match self.tool_side {
                SideWish::Inside => ToolSide::Inside,
                SideWish::Middle | SideWish::Outside => ToolSide::Outside,
            },
            most_left: self.most_left,
            fillet: self.fillet,
            step_over: self.step_over,
            sideways: direction("direction of the step-over", self.sideways)?,
            most_scallop: self.most_scallop,
            gauge: self.gauge,
            sheet_side: self.sheet(),
            bend_gauges: self.bend_gauges,
            least_gauge: self.least_gauge,
            flow_stress: self.flow_stress,
            most_pressure: self.most_pressure,
        })
    }

    /// Where the sheet lies.
    pub fn sheet(&self) -> Side {
        match self.sheet_side {
            SideWish::Middle => Side::Middle,
            SideWish::Inside => Side::Inside,
            SideWish::Outside => Side::Outside,
        }
    }
}

fn direction(what: &'static str, parts: [f64; 3]) -> Result<UnitVector3<f64>, SeriesFailure> {
    // Scaled first, so that no square overflows or vanishes.
    let vector = Vector3::from(parts);
    let most = vector.amax();
    if !(most.is_finite() && 0.0 < most) {
        return Err(SeriesFailure::Direction { direction: what });
    }
    Ok(UnitVector3::new_normalize(vector / most))
}
