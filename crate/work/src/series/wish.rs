//! Stations, blend and rules as the page sends them.

use loftkin_form::blend::{Blend, Degree, Layout, LayoutError};
use loftkin_form::series::rules::Rules;
use loftkin_form::stations::{Station, Stations};
use serde::Deserialize;

/// How the stations are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "camelCase")]
pub enum BlendWish {
    /// Straight from station to station.
    Ruled,
    /// Through every station, running on smoothly.
    Eased,
    /// A B-spline of degree 2.
    Square,
    /// A B-spline of degree 3.
    Cubic,
}

impl BlendWish {
    fn blend(self) -> Blend {
        match self {
            Self::Ruled => Blend::Ruled,
            Self::Eased => Blend::Eased,
            Self::Square => Blend::BSpline(Degree::Two),
            Self::Cubic => Blend::BSpline(Degree::Three),
        }
    }
}

/// One station.
#[derive(Clone, Debug, PartialEq, Deserialize)]
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

/// A series to be counted.
#[derive(Clone, Debug, PartialEq, Deserialize)]
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
    /// Where profiles stand, and how they are joined.
    ///
    /// # Errors
    /// [`LayoutError`].
    pub fn layout(&self) -> Result<Layout, LayoutError> {
        let stations = self.stations.iter().map(|station| {
            Station::at(station.at)
                .scaled(station.scale)
                .turned(station.turn)
                .shifted(station.right, station.up)
        });
        let stations = stations.collect();
        let stations = if self.ring {
            Stations::ring(stations, self.all_round)?
        } else {
            Stations::stack(stations)?
        };
        Layout::new(stations, self.blend.blend())
    }

    /// What is asked of arrangements.
    pub fn rules(&self) -> Rules {
        let allowed = self.stations.iter().map(|station| station.allowed.clone());
        Rules {
            no_equal_neighbours: self.no_equal_neighbours,
            allowed: allowed.collect(),
        }
    }
}
