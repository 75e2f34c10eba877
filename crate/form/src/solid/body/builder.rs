//! How a body is put together from the nets of a piece: its stretches along and
//! strips across, and on each the skin, its edges and corners.

use super::{Body, Edge, Face, Side, Surface};
use crate::solid::across::{self, Course, Strip, strips};
use crate::solid::knots::StretchKnots;
use crate::solid::net::{Net, in_space};
use crate::solid::spline::{SplineCurve, SplineSurface};
use nalgebra::{Point2, Point3, UnitVector3, Vector3};

/// Single knots are used where they keep within this of the spans, in mm.
const SMOOTH_ENOUGH: f64 = 1e-9;

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

/// For each Bernstein coefficient across, the B-spline's controls along.
type Controls = Vec<Vec<Point2<f64>>>;

/// What the faces of one body are made from.
pub struct Builder<'a> {
    net: &'a Net,
    stretches: Vec<Stretch>,
    strips: Vec<Strip>,
    /// Equal parts of each band, one number for all faces so that they share knots.
    parts: Vec<usize>,
    /// Rows of corners: one less than strips and one where the piece closes.
    levels: usize,
}

impl<'a> Builder<'a> {
    /// Ready to build `net`; in a ring, faces keep within `tolerance` mm of it.
    pub fn new(net: &'a Net, tolerance: f64) -> Self {
        let strips = strips(net);
        let stretches = stretches(net);
        let parts = (0..net.bands.len()).map(|band| {
            let courses = stretches.iter().flat_map(|stretch| {
                let rows = controls(net, stretch, band);
                (0..rows[0].len()).map(move |index| column(&rows, index))
            });
            courses.fold(1, |most: usize, points| {
                most.max(across::parts(net, band, &points, tolerance))
            })
        });
        Self {
            levels: strips.len() + usize::from(!net.closed_across()),
            parts: parts.collect(),
            stretches,
            strips,
            net,
        }
    }

    /// The body.
    pub fn build(&self) -> Body {
        let columns = self.stretches.len() + usize::from(!self.net.closed_along);
        let corners = (0..self.levels)
            .flat_map(|level| (0..columns).map(move |column| self.corner(column, level)))
            .collect();
        let rough = self
            .stretches
            .iter()
            .map(|stretch| roughness(self.net, stretch));
        let rough = rough.fold(0.0, f64::max);
        let mut body = Body {
            corners,
            edges: Vec::new(),
            faces: Vec::new(),
            solid: self.net.is_solid(),
            fitted: self.net.is_ring(),
            deviation: 0.0,
        };
        let corner =
            |column: usize, level: usize| (level % self.levels) * columns + column % columns;
        // First all edges along, level by level; then all edges across, strip by strip.
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
        for (number, &strip) in self.strips.iter().enumerate() {
            for column in 0..columns {
                body.edges.push(Edge {
                    from: corner(column, number),
                    to: corner(column, number + 1),
                    curve: self.edge_across(column, strip),
                });
            }
            for (index, stretch) in self.stretches.iter().enumerate() {
                let along = |level: usize| (level % self.levels) * self.stretches.len() + index;
                let across = |column: usize| across_from + number * columns + column % columns;
                let (surface, distance) = self.skin(stretch, strip);
                body.deviation = body.deviation.max(rough + distance);
                body.faces.push(Face {
                    surface: Surface::Spline(surface),
                    same_sense: self.looks_outward(),
                    sides: self.around(
                        along(number),
                        across(index + 1),
                        along(number + 1),
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
        match self.strips.get(level) {
            Some(strip) => (&bands[strip.first].rows[0], bands[strip.first].places[0]),
            None => {
                let last = &bands[bands.len() - 1];
                (&last.rows[last.degree()], last.places[last.degree()])
            }
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

    fn edge_across(&self, column: usize, strip: Strip) -> SplineCurve {
        let joint = match self.stretches.get(column) {
            Some(stretch) => stretch.first,
            None => self.net.spans(),
        };
        let bands = self.net.bands[strip.first..strip.end].iter();
        let course: Course = bands
            .map(|band| band.rows.iter().map(|row| row[3 * joint]).collect())
            .collect();
        SplineCurve {
            degree: across::degree(self.net, strip),
            knots: across::knots(self.net, strip, &self.parts),
            controls: across::run(self.net, strip, &course, &self.parts).0,
        }
    }

    fn skin(&self, stretch: &Stretch, strip: Strip) -> (SplineSurface, f64) {
        let bands: Vec<Controls> = (strip.first..strip.end)
            .map(|band| controls(self.net, stretch, band))
            .collect();
        let mut deviation: f64 = 0.0;
        let runs = (0..bands[0][0].len())
            .map(|index| {
                let course: Course = bands.iter().map(|rows| column(rows, index)).collect();
                let (run, distance) = across::run(self.net, strip, &course, &self.parts);
                deviation = deviation.max(distance);
                run
            })
            .collect();
        let surface = SplineSurface {
            degree_along: 3,
            degree_across: across::degree(self.net, strip),
            knots_along: stretch.knots.knots(),
            knots_across: across::knots(self.net, strip, &self.parts),
            controls: runs,
        };
        (surface, deviation)
    }

    /// The flat face at the first level or the last, looking away from the body.
    fn cap(&self, level: usize) -> Face {
        let first = level == 0;
        let (row, place) = self.section(level);
        let away = if first { -1.0 } else { 1.0 };
        let along = if self.net.is_ring() {
            let (sine, cosine) = libm::sincos(place);
            Vector3::new(cosine, sine, 0.0)
        } else {
            Vector3::x()
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
                normal: UnitVector3::new_normalize(self.net.rising(first) * away),
                along: UnitVector3::new_normalize(along),
            },
            same_sense: true,
            sides,
        }
    }
}

/// The B-spline's controls along of one band, by the coefficients across.
fn controls(net: &Net, stretch: &Stretch, band: usize) -> Controls {
    let rows = net.bands[band].rows.iter();
    rows.map(|row| stretch.knots.controls(stretch.of(row)))
        .collect()
}

fn column(rows: &Controls, index: usize) -> Vec<Point2<f64>> {
    rows.iter().map(|row| row[index]).collect()
}
