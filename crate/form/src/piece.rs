//! A piece: one arrangement of profiles over the stations, as a surface in space.
//!
//! S(u, v) is the section at fraction across v, the blend of the placed profiles,
//! set into space: at its height in a stack, in its half-plane in a ring. All
//! values here are estimates rounded as usual; what is proved of a piece stands
//! in [`crate::series`].

use crate::blend::{Across, Layout, LayoutError};
use crate::stations::{Setting, StationError, cosine_and_sine};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::grid::STEPS_PER_MM;
use nalgebra::{Point2, Point3, Vector2, Vector3};
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
    /// Open and closed profiles, or another pacing, in one piece.
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

/// A value with its derivatives by u: value, first, second.
pub type Jet = [Vector2<f64>; 3];

/// A point of the surface with its derivatives, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// The point.
    pub point: Point3<f64>,
    /// By u.
    pub along: Vector3<f64>,
    /// By v.
    pub across: Vector3<f64>,
    /// Twice by u.
    pub along_along: Vector3<f64>,
    /// By u and v.
    pub along_across: Vector3<f64>,
    /// Twice by v.
    pub across_across: Vector3<f64>,
}

impl Patch {
    /// S_u × S_v: its length is the area element; [`Piece::outward`] tells which
    /// way it points.
    pub fn cross(&self) -> Vector3<f64> {
        self.along.cross(&self.across)
    }

    /// The mean and the Gauss curvature, in 1/mm and 1/mm²: the mean is positive
    /// where the surface bends toward S_u × S_v (Kühnel, Differential Geometry,
    /// 2015, 3.13). Not a number where S_u × S_v vanishes.
    pub fn curvatures(&self) -> (f64, f64) {
        let cross = self.cross();
        let squared = cross.norm_squared();
        let length = libm::sqrt(squared);
        let (e, f, g) = (
            self.along.norm_squared(),
            self.along.dot(&self.across),
            self.across.norm_squared(),
        );
        let [l, m, n] = [self.along_along, self.along_across, self.across_across]
            .map(|second| second.dot(&cross) / length);
        let mean = (l * g - 2.0 * m * f + n * e) / (2.0 * squared);
        (mean, (l * n - m * m) / squared)
    }

    /// The two principal curvatures in 1/mm, the larger first; positive bends
    /// toward S_u × S_v.
    pub fn principal_curvatures(&self) -> (f64, f64) {
        let (mean, gauss) = self.curvatures();
        // Rounding may leave a little below 0 at a round place.
        let spread = libm::sqrt((mean * mean - gauss).max(0.0));
        (mean + spread, mean - spread)
    }
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
        match self.layout.stations().setting() {
            Setting::Stack => Point3::new(section.x, section.y, place),
            Setting::Ring { .. } => {
                let (cosine, sine) = cosine_and_sine(place);
                Point3::new(section.x * cosine, section.x * sine, section.y)
            }
        }
    }

    /// The profile at station `index` at fraction `u`, with derivatives, in mm.
    pub fn jet(&self, index: usize, u: f64) -> Jet {
        curve_jet(&self.placed[index], u)
    }

    /// The point at (u, v) with first and second derivatives.
    pub fn patch(&self, u: f64, v: f64) -> Patch {
        let stations: Vec<Jet> = (0..self.placed.len()).map(|k| self.jet(k, u)).collect();
        self.patch_of(&stations, &self.layout.across(v))
    }

    /// As [`Self::patch`], from the jets of the stations at one u (those without
    /// weight are not read) and what holds at one v.
    pub fn patch_of(&self, stations: &[Jet], across: &Across) -> Patch {
        let mut section = [[Vector2::zeros(); 3]; 3];
        for weight in across.weights() {
            let jet = &stations[weight.station];
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

/// The point of `curve` at `u` with its derivatives, in mm of the drawing.
pub fn curve_jet(curve: &Curve, u: f64) -> Jet {
    let (index, t) = curve.locate(u);
    let length = curve.breaks()[index + 1] - curve.breaks()[index];
    let [a, b, c, d] = curve.span_mm(index).map(|point| point.coords);
    let [ab, bc, cd] = [a + (b - a) * t, b + (c - b) * t, c + (d - c) * t];
    let (abc, bcd) = (ab + (bc - ab) * t, bc + (cd - bc) * t);
    let bend = cd - bc * 2.0 + ab;
    [
        abc + (bcd - abc) * t,
        (bcd - abc) * (3.0 / length),
        bend * (6.0 / (length * length)),
    ]
}

/// The area inside a closed curve in mm², positive when it runs anticlockwise:
/// exact for its spans, rounded as usual.
pub fn signed_area(curve: &Curve) -> f64 {
    let steps: f64 = (0..curve.span_count())
        .map(|index| span_moment(&curve.span(index)))
        .sum();
    steps / (STEPS_PER_MM * STEPS_PER_MM)
}

/// The integral of x dy along the curve in mm²: between it and the y axis, when
/// open; the area inside, when closed. Positive when it runs upward (or
/// anticlockwise).
fn area_beside_axis(curve: &Curve) -> f64 {
    if curve.is_closed() {
        return signed_area(curve);
    }
    let (first, last) = (curve.point_mm(0.0), curve.point_mm(1.0));
    let turned: f64 = (0..curve.span_count())
        .map(|index| span_moment(&curve.span_mm(index)))
        .sum();
    turned + (last.x * last.y - first.x * first.y) / 2.0
}

/// Half the integral of x dy - y dx over one cubic: by its Bernstein products,
/// (6 ab + 3 ac + ad + 3 bc + 3 bd + 6 cd) / 20 with ab = cross of a and b.
fn span_moment(span: &[Point2<f64>; 4]) -> f64 {
    let [a, b, c, d] = span.map(|point| point.coords);
    (6.0 * a.perp(&b)
        + 3.0 * a.perp(&c)
        + a.perp(&d)
        + 3.0 * b.perp(&c)
        + 3.0 * b.perp(&d)
        + 6.0 * c.perp(&d))
        / 20.0
}

fn stacked(section: &[[Vector2<f64>; 3]; 3], place: [f64; 3]) -> Patch {
    let set = |by_v: usize, by_u: usize| {
        let flat = section[by_v][by_u];
        let height = if by_u == 0 { place[by_v] } else { 0.0 };
        Vector3::new(flat.x, flat.y, height)
    };
    Patch {
        point: set(0, 0).into(),
        along: set(0, 1),
        across: set(1, 0),
        along_along: set(0, 2),
        along_across: set(1, 1),
        across_across: set(2, 0),
    }
}

/// The half-plane turns with v: with radial direction e and f = de/dangle,
/// (r e)' = r' e + r a' f and (r e)'' = (r'' - r a'²) e + (2 r' a' + r a'') f.
fn ringed(section: &[[Vector2<f64>; 3]; 3], place: [f64; 3]) -> Patch {
    let (cosine, sine) = cosine_and_sine(place[0]);
    let (turn, turning) = (place[1].to_radians(), place[2].to_radians());
    let set = |radial: f64, round: f64, height: f64| {
        Vector3::new(
            radial * cosine - round * sine,
            radial * sine + round * cosine,
            height,
        )
    };
    let [here, by_v, by_vv] = section;
    Patch {
        point: set(here[0].x, 0.0, here[0].y).into(),
        along: set(here[1].x, 0.0, here[1].y),
        across: set(by_v[0].x, here[0].x * turn, by_v[0].y),
        along_along: set(here[2].x, 0.0, here[2].y),
        along_across: set(by_v[1].x, here[1].x * turn, by_v[1].y),
        across_across: set(
            by_vv[0].x - here[0].x * turn * turn,
            2.0 * by_v[0].x * turn + here[0].x * turning,
            by_vv[0].y,
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blend::{Blend, Degree};
    use crate::stations::{Station, Stations};
    use loftkin_kernel::family::Pacing;
    use loftkin_kernel::profile::{Node, Profile};

    fn round(radius: f64, middle: i32) -> Curve {
        let nodes = (0..16)
            .map(|k| {
                let angle = std::f64::consts::TAU * f64::from(k) / 16.0;
                let at = |value: f64| libm::round(100.0 * radius * value) as i32;
                Node::smooth(middle + at(libm::cos(angle)), at(libm::sin(angle)))
            })
            .collect();
        Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap()
    }

    fn layouts() -> Vec<Layout> {
        let places = || {
            vec![
                Station::at(0.0),
                Station::at(40.0).scaled(1.5).turned(20.0),
                Station::at(130.0).shifted(3.0, -2.0),
                Station::at(200.0).turned(-15.0),
            ]
        };
        let settings = [
            Stations::stack(places()),
            Stations::ring(places(), false),
            Stations::ring(places(), true),
        ];
        settings
            .into_iter()
            .flat_map(|stations| {
                let stations = stations.unwrap().about(Point2::new(80.0, 0.0)).unwrap();
                [Blend::Ruled, Blend::Eased, Blend::BSpline(Degree::Three)]
                    .map(|blend| Layout::new(stations.clone(), blend).unwrap())
            })
            .collect()
    }

    #[test]
    fn derivatives_are_those_of_the_points() {
        const STEP: f64 = 1e-5;
        let (one, other) = (round(20.0, 8000), round(31.0, 8000));
        for layout in layouts() {
            let arrangement = Arrangement(vec![0, 1, 1, 0]);
            let piece = Piece::new(&[&one, &other], &layout, arrangement).unwrap();
            for (u, v) in [(0.13, 0.11), (0.52, 0.4), (0.9, 0.83)] {
                let patch = piece.patch(u, v);
                assert!((patch.point - piece.point(u, v)).norm() < 1e-10);
                let near = |du: f64, dv: f64| piece.patch(u + du * STEP, v + dv * STEP);
                let by = |find: fn(&Patch) -> Vector3<f64>, du: f64, dv: f64| {
                    (find(&near(du, dv)) - find(&near(-du, -dv))) / (2.0 * STEP)
                };
                let close = |a: Vector3<f64>, b: Vector3<f64>| {
                    assert!((a - b).norm() < 1e-5 * (1.0 + a.norm()), "{a} {b}");
                };
                close(by(|patch| patch.point.coords, 1.0, 0.0), patch.along);
                close(by(|patch| patch.point.coords, 0.0, 1.0), patch.across);
                close(by(|patch| patch.along, 1.0, 0.0), patch.along_along);
                close(by(|patch| patch.along, 0.0, 1.0), patch.along_across);
                close(by(|patch| patch.across, 0.0, 1.0), patch.across_across);
            }
        }
    }

    #[test]
    fn outward_is_away_from_the_middle() {
        let curve = round(20.0, 8000);
        for layout in layouts() {
            let piece = Piece::new(&[&curve], &layout, Arrangement(vec![0; 4])).unwrap();
            for (u, v) in [(0.0, 0.1), (0.3, 0.5), (0.7, 0.9)] {
                let across = piece.layout().across(v);
                let middle = piece.in_space(
                    nalgebra::center(
                        &piece.section_point(u, v),
                        &piece.section_point(u + if u < 0.5 { 0.5 } else { -0.5 }, v),
                    ),
                    across.place[0],
                );
                let patch = piece.patch(u, v);
                let outward = patch.cross() * piece.outward();
                assert!(0.0 < outward.dot(&(patch.point - middle)));
            }
        }
    }

    #[test]
    fn the_area_of_a_round_is_nearly_that_of_its_circle() {
        let area = signed_area(&round(20.0, 0));
        let circle = std::f64::consts::PI * 400.0;
        assert!((area / circle - 1.0).abs() < 1e-3, "{area} {circle}");
        assert!((signed_area(&round(20.0, 5000)) - area).abs() < 1e-9 * area);
    }

    #[test]
    fn wrong_arrangements_are_named() {
        let curve = round(20.0, 8000);
        let layout = &layouts()[0];
        let piece = |profiles| Piece::new(&[&curve], layout, Arrangement(profiles));
        assert_eq!(
            piece(vec![0; 3]),
            Err(PieceError::Length {
                profiles: 3,
                stations: 4
            })
        );
        assert_eq!(
            piece(vec![0, 0, 7, 0]),
            Err(PieceError::NoSuchProfile {
                station: 3,
                profile: 8,
                count: 1
            })
        );
        let open = Profile::open(vec![Node::smooth(0, 0), Node::smooth(100, 0)]);
        let open = Curve::new(&open, Pacing::Parameter).unwrap();
        assert!(matches!(
            Piece::new(&[&open], layout, Arrangement(vec![0; 4])),
            Err(PieceError::Layout(LayoutError::Stations(
                StationError::TurnOfOpen { station: 2 }
            )))
        ));
    }
}
