//! A piece as faces, edges and corners that exchange formats can hold: B-spline
//! skins, and flat caps where closed outlines end.
//!
//! Between two stations and two breaks of the outline stands one face with four
//! edges, so that faces are smooth inside and no face meets itself along a seam:
//! a closed outline without corners is shown in two stretches. Neighbours share
//! their edges, so a closed body is closed by its structure.
//!
//! In a stack the faces are the piece itself but for rounding; in a ring they
//! stand within [`Body::deviation`] of it (see `solid::around` for why).

use super::around::Round;
use super::knots::StretchKnots;
use super::net::{Net, in_space};
use super::spline::{Knot, SplineCurve, SplineSurface};
use nalgebra::{Point2, Point3, UnitVector3, Vector3};

/// Single knots are used where they keep within this of the spans, in mm.
const SMOOTH_ENOUGH: f64 = 1e-9;

/// A curve on the boundary of faces.
#[derive(Clone, Debug, PartialEq)]
pub struct Edge {
    /// The corner where it starts.
    pub from: usize,
    /// The corner where it ends.
    pub to: usize,
    /// The curve between them.
    pub curve: SplineCurve,
}

/// An edge as a face uses it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Side {
    /// Which edge.
    pub edge: usize,
    /// Whether it is run from its start to its end.
    pub forward: bool,
}

/// What a face lies on.
#[derive(Clone, Debug, PartialEq)]
pub enum Surface {
    /// A skin.
    Spline(SplineSurface),
    /// A cap: the plane through a point, square to the normal.
    Plane {
        /// A point of the plane, mm.
        origin: Point3<f64>,
        /// The normal; the face looks along it.
        normal: UnitVector3<f64>,
        /// A direction in the plane.
        along: UnitVector3<f64>,
    },
}

/// A face with one boundary.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// What it lies on.
    pub surface: Surface,
    /// Whether the face looks along the surface's normal (S_u × S_v of a skin).
    pub same_sense: bool,
    /// Its boundary, counterclockwise for one who looks against the face.
    pub sides: Vec<Side>,
}

/// A piece by its boundary.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// The corners, mm.
    pub corners: Vec<Point3<f64>>,
    /// The edges.
    pub edges: Vec<Edge>,
    /// The faces; those of a solid look outward.
    pub faces: Vec<Face>,
    /// Whether the faces close a solid, or form an open surface.
    pub solid: bool,
    /// Whether the skins are fitted to the piece (a ring) or the piece itself but
    /// for rounding (a stack).
    pub fitted: bool,
    /// A proved bound on the distance between faces and piece, mm, without the
    /// rounding of single operations.
    pub deviation: f64,
}

impl Body {
    /// The body of `net`; in a ring, faces keep within `tolerance` mm of it.
    pub fn new(net: &Net, tolerance: f64) -> Self {
        let builder = Builder {
            net,
            tolerance,
            stretches: stretches(net),
            levels: net.bands.len() + usize::from(!net.closed_across()),
        };
        builder.build()
    }
}

/// Consecutive spans of one face.
struct Stretch {
    first: usize,
    last: usize,
    knots: StretchKnots,
}

impl Stretch {
    fn of<'a>(&self, row: &'a [Point2<f64>]) -> &'a [Point2<f64>] {
        &row[3 * self.first..=3 * self.last]
    }
}

fn stretches(net: &Net) -> Vec<Stretch> {
    let last = net.spans();
    let mut ends: Vec<usize> = (1..last).filter(|&joint| net.broken[joint]).collect();
    ends.insert(0, 0);
    ends.push(last);
    if net.closed_along && ends.len() == 2 {
        ends.insert(1, last / 2);
    }
    let pairs = ends.windows(2);
    pairs.map(|pair| stretch(net, pair[0], pair[1])).collect()
}

fn stretch(net: &Net, first: usize, last: usize) -> Stretch {
    let breaks = &net.breaks[first..=last];
    let chosen = |single| Stretch {
        first,
        last,
        knots: StretchKnots::new(breaks, single),
    };
    let smooth = chosen(true);
    if roughness(net, &smooth) <= SMOOTH_ENOUGH {
        smooth
    } else {
        chosen(false)
    }
}

fn roughness(net: &Net, stretch: &Stretch) -> f64 {
    let rows = net.bands.iter().flat_map(|band| &band.rows);
    rows.fold(0.0, |most: f64, row| {
        most.max(stretch.knots.roughness(stretch.of(row)))
    })
}

struct Builder<'a> {
    net: &'a Net,
    tolerance: f64,
    stretches: Vec<Stretch>,
    levels: usize,
}

/// For each Bernstein coefficient across, the B-spline's controls along.
type Controls = Vec<Vec<Point2<f64>>>;

impl Builder<'_> {
    fn build(&self) -> Body {
        let columns = self.stretches.len() + usize::from(!self.net.closed_along);
        let corners = (0..self.levels)
            .flat_map(|level| (0..columns).map(move |column| self.corner(column, level)))
            .collect();
        let mut body = Body {
            corners,
            edges: Vec::new(),
            faces: Vec::new(),
            solid: self.net.is_solid(),
            fitted: self.net.is_ring(),
            deviation: (self.stretches.iter()).fold(0.0, |most: f64, stretch| {
                most.max(roughness(self.net, stretch))
            }),
        };
        let corner =
            |column: usize, level: usize| (level % self.levels) * columns + column % columns;
        // First all edges along, level by level; then all edges across, band by band.
        for level in 0..self.levels {
            for (index, stretch) in self.stretches.iter().enumerate() {
                body.edges.push(Edge {
                    from: corner(index, level),
                    to: corner(index + 1, level),
                    curve: self.edge_along(stretch, level),
                });
            }
        }
        let across_from = body.edges.len();
        for band in 0..self.net.bands.len() {
            let parts = self.parts(band);
            for column in 0..columns {
                body.edges.push(Edge {
                    from: corner(column, band),
                    to: corner(column, band + 1),
                    curve: self.edge_across(column, band, parts),
                });
            }
            for (index, stretch) in self.stretches.iter().enumerate() {
                let along = |level: usize| (level % self.levels) * self.stretches.len() + index;
                let across = |column: usize| across_from + band * columns + column % columns;
                let (surface, distance) = self.skin(stretch, band, parts);
                body.deviation = body.deviation.max(distance);
                body.faces.push(Face {
                    surface: Surface::Spline(surface),
                    same_sense: self.looks_outward(),
                    sides: self.around(
                        along(band),
                        across(index + 1),
                        along(band + 1),
                        across(index),
                    ),
                });
            }
        }
        if self.net.is_solid() && !self.net.closed_across() {
            body.faces.push(self.cap(0));
            body.faces.push(self.cap(self.levels - 1));
        }
        body
    }

    /// An open surface looks along S_u × S_v; a solid outward.
    fn looks_outward(&self) -> bool {
        !self.net.is_solid() || 0.0 < self.net.outward
    }

    /// The boundary of a face by its four edges, counterclockwise in (u, v) where
    /// the face looks along S_u × S_v, else clockwise.
    fn around(&self, near: usize, right: usize, far: usize, left: usize) -> Vec<Side> {
        let side = |edge, forward| Side { edge, forward };
        let mut sides = vec![
            side(near, true),
            side(right, true),
            side(far, false),
            side(left, false),
        ];
        if !self.looks_outward() {
            sides.reverse();
            for side in &mut sides {
                side.forward = !side.forward;
            }
        }
        sides
    }

    /// The chain of controls of the section at a level, and its height or angle.
    fn section(&self, level: usize) -> (&[Point2<f64>], f64) {
        let bands = &self.net.bands;
        if level < bands.len() {
            (&bands[level].rows[0], bands[level].places[0])
        } else {
            let last = &bands[bands.len() - 1];
            (&last.rows[last.degree()], last.places[last.degree()])
        }
    }

    fn corner(&self, column: usize, level: usize) -> Point3<f64> {
        let (row, place) = self.section(level);
        let joint = match self.stretches.get(column) {
            Some(stretch) => stretch.first,
            None => self.net.spans(),
        };
        in_space(self.net.setting, row[3 * joint], place)
    }

    fn edge_along(&self, stretch: &Stretch, level: usize) -> SplineCurve {
        let (row, place) = self.section(level);
        let controls = stretch.knots.controls(stretch.of(row));
        SplineCurve {
            degree: 3,
            knots: stretch.knots.knots(),
            controls: (controls.into_iter())
                .map(|point| in_space(self.net.setting, point, place))
                .collect(),
        }
    }

    fn edge_across(&self, column: usize, band: usize, parts: usize) -> SplineCurve {
        let joint = match self.stretches.get(column) {
            Some(stretch) => stretch.first,
            None => self.net.spans(),
        };
        let rows = &self.net.bands[band].rows;
        let controls: Controls = rows.iter().map(|row| vec![row[3 * joint]]).collect();
        SplineCurve {
            degree: self.degree_across(band),
            knots: self.knots_across(band, parts),
            controls: self.run_across(&controls, band, 0, parts).0,
        }
    }

    fn skin(&self, stretch: &Stretch, band: usize, parts: usize) -> (SplineSurface, f64) {
        let controls = self.controls(stretch, band);
        let mut deviation: f64 = 0.0;
        let runs = (0..controls[0].len())
            .map(|index| {
                let (run, distance) = self.run_across(&controls, band, index, parts);
                deviation = deviation.max(distance);
                run
            })
            .collect();
        let surface = SplineSurface {
            degree_along: 3,
            degree_across: self.degree_across(band),
            knots_along: stretch.knots.knots(),
            knots_across: self.knots_across(band, parts),
            controls: runs,
        };
        (surface, deviation)
    }

    fn controls(&self, stretch: &Stretch, band: usize) -> Controls {
        let rows = self.net.bands[band].rows.iter();
        rows.map(|row| stretch.knots.controls(stretch.of(row)))
            .collect()
    }

    fn degree_across(&self, band: usize) -> usize {
        if self.net.is_ring() {
            5
        } else {
            self.net.bands[band].degree()
        }
    }

    fn knots_across(&self, band: usize, parts: usize) -> Vec<Knot> {
        let end = self.degree_across(band) + 1;
        (0..=parts)
            .map(|part| Knot {
                at: part as f64 / parts as f64,
                multiplicity: if part == 0 || part == parts { end } else { 3 },
            })
            .collect()
    }

    /// The controls across of control `index` along, and how far from the piece
    /// they may stand.
    fn run_across(
        &self,
        controls: &[Vec<Point2<f64>>],
        band: usize,
        index: usize,
        parts: usize,
    ) -> (Vec<Point3<f64>>, f64) {
        let places = &self.net.bands[band].places;
        if !self.net.is_ring() {
            let run = controls.iter().zip(places);
            let run = run.map(|(row, &place)| in_space(self.net.setting, row[index], place));
            return (run.collect(), 0.0);
        }
        let round = round(controls, index, places);
        (round.spline_controls(parts), round.distance(parts))
    }

    /// One number of parts for all faces of a band, so that they share knots.
    fn parts(&self, band: usize) -> usize {
        if !self.net.is_ring() {
            return 1;
        }
        let places = &self.net.bands[band].places;
        let all = self.stretches.iter().map(|stretch| {
            let controls = self.controls(stretch, band);
            (0..controls[0].len())
                .map(|index| round(&controls, index, places).parts(self.tolerance))
                .fold(1, usize::max)
        });
        all.fold(1, usize::max)
    }

    /// The flat face at the first level or the last, looking away from the body.
    fn cap(&self, level: usize) -> Face {
        let first = level == 0;
        let (row, place) = self.section(level);
        let away = if first { -1.0 } else { 1.0 };
        let (rising, along) = if self.net.is_ring() {
            let (sine, cosine) = libm::sincos(place);
            (
                Vector3::new(-sine, cosine, 0.0),
                Vector3::new(cosine, sine, 0.0),
            )
        } else {
            (Vector3::z(), Vector3::x())
        };
        let count = self.stretches.len();
        // The skin uses these edges forward at the first level and backward at the last when it looks along
        // S_u × S_v; the cap uses them the other way.
        let forward = first != self.looks_outward();
        let mut sides: Vec<Side> = (0..count)
            .map(|index| Side {
                edge: level * count + index,
                forward,
            })
            .collect();
        if !forward {
            sides.reverse();
        }
        Face {
            surface: Surface::Plane {
                origin: in_space(self.net.setting, row[0], place),
                normal: UnitVector3::new_normalize(rising * away),
                along: UnitVector3::new_normalize(along),
            },
            same_sense: true,
            sides,
        }
    }
}

fn round(controls: &[Vec<Point2<f64>>], index: usize, places: &[f64]) -> Round {
    Round {
        radius: controls.iter().map(|row| row[index].x).collect(),
        angle: places.to_vec(),
        height: controls.iter().map(|row| row[index].y).collect(),
    }
}
