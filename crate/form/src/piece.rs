//! A piece: one arrangement of profiles over the stations, as a surface in space.
//!
//! S(u, v) is the section at fraction across v, the blend of the placed profiles,
//! set into space: at its height in a stack, in its half-plane in a ring. All
//! values here are estimates rounded as usual; what is proved of a piece stands
//! in [`crate::series`].

use crate::area::area_beside_axis;
pub use crate::area::signed_area;
use crate::blend::{Across, Layout, LayoutError};
pub use crate::patch::{Jet, Patch, curve_jet};
use crate::patch::{ringed, stacked};
use crate::stations::{Setting, StationError, cosine_and_sine};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::table::Table;
use nalgebra::{Point2, Point3, Vector2};
use thiserror::Error;

/// Which profile stands at each station: indices in the family, from 0.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Arrangement(pub Vec<usize>);

/// Why an arrangement gives no piece. Positions count from 1.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum PieceError {
    /// Not one profile a station.
    #[error("{profiles} profiles for {stations} stations: name one profile a station")]
    Length {
        /// How many profiles are named.
        profiles: usize,
        /// How many stations there are.
        stations: usize,
    },
    /// A profile that the family does not have.
    #[error("station {station} asks for profile {profile}, but the family has {count}")]
    NoSuchProfile {
        /// Which station.
        station: usize,
        /// The profile asked for.
        profile: usize,
        /// How many there are.
        count: usize,
    },
    /// Open and closed profiles in one piece.
    #[error("the profiles at stations 1 and {station} are not both open or both closed")]
    OpenAndClosed {
        /// The station whose profile differs from the first.
        station: usize,
    },
    /// Stations that do not suit the profiles.
    #[error(transparent)]
    Layout(#[from] LayoutError),
}

/// A surface: placed profiles, joined.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    layout: Layout,
    arrangement: Arrangement,
    placed: Vec<Curve>,
    breaks: Vec<f64>,
}

/// The point `section` (mm) of the plane at `place` (mm or degrees) of a stack or
/// a ring, in space.
pub fn set_into_space(setting: Setting, section: Point2<f64>, place: f64) -> Point3<f64> {
    match setting {
        Setting::Stack => Point3::new(section.x, section.y, place),
        Setting::Ring { .. } => {
            let (cosine, sine) = cosine_and_sine(place);
            Point3::new(section.x * cosine, section.x * sine, section.y)
        }
    }
}

/// The curves of the judged profiles, one a profile; one without a curve stands in
/// no piece of a series, and another is in its place here. None when no profile
/// has one.
pub fn judged_curves(table: &Table) -> Vec<&Curve> {
    let curve = |index: usize| table.prepared(index).curve().ok();
    let any = (0..table.size()).find_map(curve);
    (0..table.size())
        .filter_map(|index| curve(index).or(any))
        .collect()
}

impl Piece {
    /// The piece of `arrangement` over `layout`, from the judged `curves` of the
    /// family.
    ///
    /// # Errors
    /// The first [`PieceError`] found.
    pub fn new(
        curves: &[&Curve],
        layout: &Layout,
        arrangement: Arrangement,
    ) -> Result<Self, PieceError> {
        let stations = layout.stations();
        let profiles = &arrangement.0;
        if profiles.len() != stations.count() {
            return Err(PieceError::Length {
                profiles: profiles.len(),
                stations: stations.count(),
            });
        }
        let mut placed: Vec<Curve> = Vec::with_capacity(profiles.len());
        for (index, &profile) in profiles.iter().enumerate() {
            let curve = curves.get(profile).ok_or(PieceError::NoSuchProfile {
                station: index + 1,
                profile: profile.saturating_add(1),
                count: curves.len(),
            })?;
            if placed
                .first()
                .is_some_and(|first| first.is_closed() != curve.is_closed())
            {
                return Err(PieceError::OpenAndClosed { station: index + 1 });
            }
            placed.push(curve.placed(&stations.stand(index)));
        }
        stations
            .suit(placed[0].is_closed())
            .map_err(|error: StationError| LayoutError::from(error))?;
        let mut breaks: Vec<f64> = placed
            .iter()
            .flat_map(|curve| curve.breaks().iter().copied())
            .collect();
        breaks.sort_by(f64::total_cmp);
        breaks.dedup();
        Ok(Self {
            layout: layout.clone(),
            arrangement,
            placed,
            breaks,
        })
    }

    /// How the stations are joined.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// Which profile stands where.
    pub fn arrangement(&self) -> &Arrangement {
        &self.arrangement
    }

    /// The profile of station `index` as it stands there, after scale, turn and
    /// shift: its control points with its centre are those of the surface.
    pub fn placed(&self, index: usize) -> &Curve {
        &self.placed[index]
    }

    /// Whether the profiles are closed.
    pub fn is_closed_along(&self) -> bool {
        self.placed[0].is_closed()
    }

    /// Whether the last station is joined to the first.
    pub fn is_closed_across(&self) -> bool {
        self.layout.stations().is_all_round()
    }

    /// The joints of all its profiles, ascending, from 0 to 1: between two of
    /// them every section is one cubic.
    pub fn breaks_along(&self) -> &[f64] {
        &self.breaks
    }

    /// The fractions across between which weights are polynomials.
    pub fn breaks_across(&self) -> Vec<f64> {
        self.layout.breaks()
    }

    /// The section at fraction across `v` and fraction along `u`, in mm of the
    /// drawing.
    pub fn section_point(&self, u: f64, v: f64) -> Point2<f64> {
        let across = self.layout.across(v);
        let weights = across.weights().iter();
        weights.fold(Point2::origin(), |sum, weight| {
            sum + self.placed[weight.station].point_mm(u).coords * weight.value
        })
    }

    /// The point in space at fractions `u` along and `v` across, in mm.
    pub fn point(&self, u: f64, v: f64) -> Point3<f64> {
        let place = self.layout.across(v).place[0];
        self.in_space(self.section_point(u, v), place)
    }

    /// The point `section` of the plane at `place` (mm or degrees), in space.
    pub fn in_space(&self, section: Point2<f64>, place: f64) -> Point3<f64> {
        set_into_space(self.layout.stations().setting(), section, place)
    }

    /// The profile at station `index` at fraction `u`, with derivatives, in mm.
    pub fn jet(&self, index: usize, u: f64) -> Jet {
        curve_jet(&self.placed[index], u)
    }

    /// The point at (u, v) with first and second derivatives.
    pub fn patch(&self, u: f64, v: f64) -> Patch {
        self.blended(|station| self.jet(station, u), &self.layout.across(v))
    }

    /// As [`Self::patch`], from the jets of the stations at one u (those without
    /// weight are not read) and what holds at one v.
    pub fn patch_of(&self, stations: &[Jet], across: &Across) -> Patch {
        self.blended(|station| stations[station], across)
    }

    fn blended(&self, jet: impl Fn(usize) -> Jet, across: &Across) -> Patch {
        let mut section = [[Vector2::zeros(); 3]; 3];
        for weight in across.weights() {
            let jet = jet(weight.station);
            for (by_v, share) in [weight.value, weight.slope, weight.bend]
                .into_iter()
                .enumerate()
            {
                for (by_u, part) in jet.iter().enumerate() {
                    section[by_v][by_u] += part * share;
                }
            }
        }
        match self.layout.stations().setting() {
            Setting::Stack => stacked(&section, across.place),
            Setting::Ring { .. } => ringed(&section, across.place),
        }
    }

    /// The sign by which S_u × S_v points outward: out of closed profiles, away
    /// from the axis for open profiles in a ring. Open profiles in a stack have no
    /// outside: there it is 1, the side of S_u × S_v itself.
    pub fn outward(&self) -> f64 {
        let first = &self.placed[0];
        let is_ring = self.layout.stations().is_ring();
        if !is_ring && !first.is_closed() {
            return 1.0;
        }
        let run = if area_beside_axis(first) < 0.0 {
            -1.0
        } else {
            1.0
        };
        if is_ring { -run } else { run }
    }
}

#[cfg(test)]
mod tests;
