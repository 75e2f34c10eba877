//! Stations, blend and rules as the page sends them, and the same as the
//! document that exchange keeps.

use loftkin_exchange::series::{PlannedStation, SeriesPlan};
use loftkin_form::blend::{Blend, Degree};
use loftkin_form::stations::{Setting, Station};
use num_bigint::BigUint;
use serde::{Deserialize, Serialize};

/// How the stations are joined, by the words of [`loftkin_exchange::series::BLENDS`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum BlendWish {
    /// Straight from station to station.
    #[serde(rename = "ruled")]
    Ruled,
    /// Through every station, running on smoothly.
    #[serde(rename = "eased")]
    Eased,
    /// A B-spline of degree 2.
    #[serde(rename = "b-spline-2")]
    Square,
    /// A B-spline of degree 3.
    #[serde(rename = "b-spline-3")]
    Cubic,
}

impl From<BlendWish> for Blend {
    fn from(wish: BlendWish) -> Self {
        match wish {
            BlendWish::Ruled => Self::Ruled,
            BlendWish::Eased => Self::Eased,
            BlendWish::Square => Self::BSpline(Degree::Two),
            BlendWish::Cubic => Self::BSpline(Degree::Three),
        }
    }
}

impl From<Blend> for BlendWish {
    fn from(blend: Blend) -> Self {
        match blend {
            Blend::Ruled => Self::Ruled,
            Blend::Eased => Self::Eased,
            Blend::BSpline(Degree::Two) => Self::Square,
            Blend::BSpline(Degree::Three) => Self::Cubic,
        }
    }
}

/// One station.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StationWish {
    /// Height in mm, or angle in degrees.
    pub at: f64,
    /// Above 0; 1 as drawn.
    pub scale: f64,
    /// To the right in the drawing, mm.
    pub right: f64,
    /// Up in the drawing, mm.
    pub up: f64,
    /// Degrees, anticlockwise; closed profiles only.
    pub turn: f64,
    /// The profiles that may stand here, from 0; none for any, one to fix it.
    pub allowed: Option<Vec<usize>>,
}

impl StationWish {
    fn planned(&self) -> PlannedStation {
        PlannedStation {
            place: Station::at(self.at)
                .scaled(self.scale)
                .turned(self.turn)
                .shifted(self.right, self.up),
            profiles: self.allowed.clone(),
        }
    }

    fn of(planned: &PlannedStation) -> Self {
        let PlannedStation { place, profiles } = planned;
        Self {
            at: place.at,
            scale: place.scale,
            right: place.shift.x,
            up: place.shift.y,
            turn: place.turn,
            allowed: profiles.clone(),
        }
    }
}

/// A series to be counted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct SeriesWish {
    /// Whether stations stand round an axis, and not above each other.
    pub ring: bool,
    /// Whether the last station of a ring is joined to the first.
    pub all_round: bool,
    /// In order.
    pub stations: Vec<StationWish>,
    /// How they are joined.
    pub blend: BlendWish,
    /// Whether a profile may not stand beside itself.
    pub no_equal_neighbours: bool,
}

impl SeriesWish {
    /// The document of it, with the piece that is shown.
    pub fn plan(&self, piece: Option<BigUint>) -> SeriesPlan {
        SeriesPlan {
            setting: if self.ring {
                Setting::Ring {
                    all_round: self.all_round,
                }
            } else {
                Setting::Stack
            },
            blend: self.blend.into(),
            no_equal_neighbours: self.no_equal_neighbours,
            stations: self.stations.iter().map(StationWish::planned).collect(),
            piece,
        }
    }

    /// What the document `plan` wishes, its piece aside.
    pub fn of(plan: &SeriesPlan) -> Self {
        Self {
            ring: plan.setting != Setting::Stack,
            all_round: plan.setting == Setting::Ring { all_round: true },
            stations: plan.stations.iter().map(StationWish::of).collect(),
            blend: plan.blend.into(),
            no_equal_neighbours: plan.no_equal_neighbours,
        }
    }
}
