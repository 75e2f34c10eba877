//! The limits of a run as its description holds them.

use loftkin_form::body::wall::Side;
use loftkin_form::making::draft::Halves;
use loftkin_form::making::radius::ToolSide;
use loftkin_form::making::workshop::Workshop;
use nalgebra::{UnitVector3, Vector3};
use serde::{Deserialize, Serialize};

/// What is checked, and all that decides the values.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Limits {
    /// The checks asked for, in their order.
    pub asked: Vec<String>,
    draw: [f64; 3],
    halves: Parted,
    least_draft: f64,
    most_band: f64,
    mould: Mould,
    cutter: f64,
    most_left: f64,
    /// Assumed on every sharp edge; in no file.
    fillet_assumed: f64,
    step_over: f64,
    most_scallop: f64,
    gauge: f64,
    sheet: Lying,
    bend_gauges: f64,
    least_gauge: f64,
    flow_stress: f64,
    most_pressure: f64,
}

/// How a mould is parted, as the description calls it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Parted {
    One,
    Two,
}

/// Which mould, as the description calls it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Mould {
    Male,
    Female,
}

/// Where a sheet lies against the drawn skin, as the description calls it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Lying {
    Inside,
    Outside,
    Middle,
}

impl From<Side> for Lying {
    fn from(side: Side) -> Self {
        match side {
            Side::Inside => Self::Inside,
            Side::Outside => Self::Outside,
            Side::Middle => Self::Middle,
        }
    }
}

impl Limits {
    /// The limits of `shop` for the checks that are asked for.
    pub fn new(asked: Vec<String>, shop: &Workshop) -> Self {
        Self {
            asked,
            draw: shop.direction.into_inner().into(),
            halves: match shop.halves {
                Halves::One => Parted::One,
                Halves::Two => Parted::Two,
            },
            least_draft: shop.least_draft,
            most_band: shop.most_band,
            mould: match shop.tool_side {
                ToolSide::Outside => Mould::Male,
                ToolSide::Inside => Mould::Female,
            },
            cutter: shop.cutter,
            most_left: shop.most_left,
            fillet_assumed: shop.fillet,
            step_over: shop.step_over,
            most_scallop: shop.most_scallop,
            gauge: shop.gauge,
            sheet: shop.sheet_side.into(),
            bend_gauges: shop.bend_gauges,
            least_gauge: shop.least_gauge,
            flow_stress: shop.flow_stress,
            most_pressure: shop.most_pressure,
        }
    }

    /// The workshop that they were written from.
    pub fn workshop(&self) -> Workshop {
        let usual = Workshop::default();
        Workshop {
            direction: UnitVector3::try_new(Vector3::from(self.draw), 1e-12)
                .unwrap_or(usual.direction),
            halves: match self.halves {
                Parted::One => Halves::One,
                Parted::Two => Halves::Two,
            },
            least_draft: self.least_draft,
            most_band: self.most_band,
            tool_side: match self.mould {
                Mould::Male => ToolSide::Outside,
                Mould::Female => ToolSide::Inside,
            },
            cutter: self.cutter,
            most_left: self.most_left,
            fillet: self.fillet_assumed,
            step_over: self.step_over,
            most_scallop: self.most_scallop,
            gauge: self.gauge,
            sheet_side: match self.sheet {
                Lying::Inside => Side::Inside,
                Lying::Outside => Side::Outside,
                Lying::Middle => Side::Middle,
            },
            bend_gauges: self.bend_gauges,
            least_gauge: self.least_gauge,
            flow_stress: self.flow_stress,
            most_pressure: self.most_pressure,
            ..usual
        }
    }
}
