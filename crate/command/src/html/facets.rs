//! The skin of a loft as facets seen aslant from above, in the order in which they are painted, and the frame that
//! places them in a picture. Drawn from samples: pictures show and prove nothing.

use nalgebra::{Point2, Point3, Vector3};

/// From where a skin is seen: degrees round the vertical and above level.
const SEEN_FROM: (f64, f64) = (-62.0, 24.0);
/// The longer side of a picture, in units of the drawing.
const WIDTH: f64 = 800.0;
/// Free room around the skin, in the same units.
const EDGE: f64 = 24.0;
/// A sheet in shade and in full light: red, green, blue.
const SHEET: [[f64; 3]; 2] = [[30.0, 45.0, 54.0], [188.0, 206.0, 214.0]];

/// A part of the skin, nearly flat.
pub struct Facet {
    /// In order around it, mm.
    pub corners: [Point3<f64>; 4],
    /// Toward the viewer, for painting in order.
    near: f64,
    /// From 0, in shade, to 1, in full light.
    pub light: f64,
}

impl Facet {
    /// The colour of a sheet in this light: red, green and blue, to 255.
    pub fn sheet(&self) -> [f64; 3] {
        let [shade, full] = SHEET;
        [0, 1, 2].map(|part| shade[part] + (full[part] - shade[part]) * self.light)
    }
}

/// Directions of the picture: right, up, toward the viewer.
pub struct View([Vector3<f64>; 3]);

impl View {
    /// The view that all pictures have.
    pub fn new() -> Self {
        let (around, above) = (SEEN_FROM.0.to_radians(), SEEN_FROM.1.to_radians());
        let (sine, cosine) = around.sin_cos();
        let toward = Vector3::new(above.cos() * cosine, above.cos() * sine, above.sin());
        let right = Vector3::new(-sine, cosine, 0.0);
        Self([right, toward.cross(&right), toward])
    }

    fn flat(&self, point: &Point3<f64>) -> Point2<f64> {
        let [right, up, _] = &self.0;
        Point2::new(point.coords.dot(right), -point.coords.dot(up))
    }

    /// The facets between neighbours of a grid of points, the farthest first.
    pub fn facets(&self, points: &[Vec<Point3<f64>>]) -> Vec<Facet> {
        let mut facets = Vec::new();
        for rows in points.windows(2) {
            for (low, high) in rows[0].windows(2).zip(rows[1].windows(2)) {
                facets.push(self.facet([low[0], low[1], high[1], high[0]]));
            }
        }
        facets.sort_by(|one, other| one.near.total_cmp(&other.near));
        facets
    }

    fn facet(&self, corners: [Point3<f64>; 4]) -> Facet {
        let [right, up, toward] = &self.0;
        let lamp = (toward + up * 0.6 - right * 0.5).normalize();
        let normal = (corners[2] - corners[0]).cross(&(corners[3] - corners[1]));
        let normal = normal.try_normalize(0.0).unwrap_or(*toward);
        // The side that is seen is the one that is lit.
        let facing = normal * normal.dot(toward).signum();
        let middle = corners
            .iter()
            .map(|corner| corner.coords)
            .sum::<Vector3<f64>>();
        Facet {
            near: middle.dot(toward),
            light: (0.15 + 0.85 * facing.dot(&lamp)).clamp(0.0, 1.0),
            corners,
        }
    }
}

/// Where points in space stand in a picture.
pub struct Frame<'a> {
    view: &'a View,
    low: Point2<f64>,
    scale: f64,
    /// The width and the height of the picture, in units of the drawing.
    pub size: (f64, f64),
}

impl<'a> Frame<'a> {
    /// The frame around `facets`; none where these have no extent.
    pub fn around(facets: &[Facet], view: &'a View) -> Option<Self> {
        let corners = facets.iter().flat_map(|facet| &facet.corners);
        let infinite = Point2::new(f64::INFINITY, f64::INFINITY);
        let (low, high) = corners.fold((infinite, -infinite), |(low, high), corner| {
            let at = view.flat(corner);
            (low.inf(&at), high.sup(&at))
        });
        let extent = high - low;
        let size = extent.max();
        if !size.is_finite() || size <= 0.0 {
            return None;
        }
        let scale = (WIDTH - 2.0 * EDGE) / size;
        let size = (extent.x * scale + 2.0 * EDGE, extent.y * scale + 2.0 * EDGE);
        Some(Self {
            view,
            low,
            scale,
            size,
        })
    }

    /// Where `point` (mm) stands in the picture.
    pub fn place(&self, point: &Point3<f64>) -> Point2<f64> {
        let at = (self.view.flat(point) - self.low) * self.scale;
        Point2::new(at.x + EDGE, at.y + EDGE)
    }

    /// The same for a list of points, as SVG writes it.
    pub fn places(&self, points: &[Point3<f64>]) -> String {
        let places = points.iter().map(|point| {
            let at = self.place(point);
            format!("{:.0},{:.0}", at.x, at.y)
        });
        places.collect::<Vec<String>>().join(" ")
    }
}
