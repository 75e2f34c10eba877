//! The common form of every piece: Bézier nets of its sections, band by band.
//!
//! A *band* lies between two neighbouring stations. Its section at fraction t
//! is a chain of cubic Bézier spans whose control points are polynomials in t in
//! Bernstein form, and so is the height or angle at which the section stands.
//! Skins, meshes and bounds are all made from this; nothing is sampled here. The
//! coefficients are those of the piece but for rounding (a few units in the last
//! place for each cut and each weight).

use crate::piece::Piece;
use crate::stations::Setting;
use loftkin_kernel::curve::Curve;
use nalgebra::{Point2, Point3, Vector3};

/// The surface between two neighbouring stations.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// The Bernstein coefficients of the section by the fraction across, each a
    /// chain of `3 * spans + 1` control points, mm. Degree + 1 of them.
    pub rows: Vec<Vec<Point2<f64>>>,
    /// The Bernstein coefficients of the height (mm) or the angle (radians), as
    /// many as there are rows.
    pub places: Vec<f64>,
}

/// All bands of a piece, from its first station to its last.
#[derive(Clone, Debug, PartialEq)]
pub struct Net {
    /// How the sections stand in space.
    pub setting: Setting,
    /// The parameters of the joints along, from 0 to 1: one more than spans.
    pub breaks: Vec<f64>,
    /// Whether the sections may break their direction, speed or curvature at a
    /// joint; as many as `breaks`. The ends of an open outline count as broken.
    pub broken: Vec<bool>,
    /// Whether every section returns to its start.
    pub closed_along: bool,
    /// +1 where S_u × S_v points out of the material of a closed outline, else -1.
    pub outward: f64,
    /// The fractions across at which bands begin and end: one more than bands.
    pub across: Vec<f64>,
    /// The bands in order.
    pub bands: Vec<Band>,
}

impl Band {
    /// The degree across.
    pub fn degree(&self) -> usize {
        self.rows.len() - 1
    }
}

impl Net {
    /// The nets of `piece`.
    pub fn new(piece: &Piece) -> Self {
        let stations = piece.layout().stations();
        let placed: Vec<&Curve> = (0..stations.count())
            .map(|index| piece.placed(index))
            .collect();
        let mut breaks = piece.breaks_along().to_vec();
        // A closed outline is shown in two stretches at least, see `solid::body`.
        if piece.is_closed_along() && breaks.len() == 2 {
            breaks.insert(1, 0.5);
        }
        let chains: Vec<_> = placed.iter().map(|curve| chain(curve, &breaks)).collect();
        let across = piece.breaks_across();
        Self {
            setting: stations.setting(),
            broken: breaks
                .iter()
                .map(|&at| placed.iter().any(|curve| breaks_at(curve, at)))
                .collect(),
            breaks,
            closed_along: piece.is_closed_along(),
            outward: piece.outward(),
            bands: across
                .windows(2)
                .map(|ends| band(piece, &chains, ends[0], ends[1]))
                .collect(),
            across,
        }
    }

    /// How many cubic spans every section has.
    pub fn spans(&self) -> usize {
        self.breaks.len() - 1
    }

    /// Whether the piece bounds a volume once its ends are capped.
    pub fn is_solid(&self) -> bool {
        self.closed_along
    }

    /// Whether the last band ends where the first begins.
    pub fn closed_across(&self) -> bool {
        self.setting == Setting::Ring { all_round: true }
    }

    /// Whether the sections stand round the z axis.
    pub fn is_ring(&self) -> bool {
        self.setting != Setting::Stack
    }

    /// The point of the plane section at span `span`, fraction `s` along it and
    /// fraction `t` across band `band`, and the height or angle there.
    pub fn section_point(&self, band: usize, span: usize, s: f64, t: f64) -> (Point2<f64>, f64) {
        let Band { rows, places } = &self.bands[band];
        let along: Vec<Point2<f64>> = rows
            .iter()
            .map(|row| cubic(&row[3 * span..3 * span + 4], s))
            .collect();
        (bernstein_point(&along, t), bernstein(places, t))
    }

    /// The same point in space, mm.
    pub fn point(&self, band: usize, span: usize, s: f64, t: f64) -> Point3<f64> {
        let (section, place) = self.section_point(band, span, s, t);
        in_space(self.setting, section, place)
    }

    /// The direction square to the first section or to the last, as it rises or
    /// goes round.
    pub fn rising(&self, first: bool) -> Vector3<f64> {
        let place = self.end_sections()[usize::from(!first)].1;
        if self.is_ring() {
            let (sine, cosine) = libm::sincos(place);
            Vector3::new(-sine, cosine, 0.0)
        } else {
            Vector3::z()
        }
    }

    /// The first and the last section as chains of control points, with their
    /// height or angle.
    pub fn end_sections(&self) -> [(&[Point2<f64>], f64); 2] {
        let first = &self.bands[0];
        let last = &self.bands[self.bands.len() - 1];
        [
            (&first.rows[0], first.places[0]),
            (&last.rows[last.degree()], last.places[last.degree()]),
        ]
    }
}

/// Whether `curve` may break its direction, speed or curvature at parameter `at`.
fn breaks_at(curve: &Curve, at: f64) -> bool {
    let is_end = at == 0.0 || at == 1.0;
    let joint = curve.breaks().iter().position(|&own| own == at);
    joint.is_some_and(|joint| {
        curve.is_corner(joint) || !curve.has_even_speed() || (is_end && !curve.is_closed())
    })
}

/// The Bézier points of `curve` cut at `breaks`, which hold all its own, in mm.
pub(crate) fn chain(curve: &Curve, breaks: &[f64]) -> Vec<Point2<f64>> {
    let mut chain = Vec::with_capacity(3 * breaks.len() - 2);
    chain.push(curve.span_mm(0)[0]);
    let mut cut = 0;
    for (index, own) in curve.breaks().windows(2).enumerate() {
        let span = curve.span_mm(index);
        let local = |at: f64| (at - own[0]) / (own[1] - own[0]);
        while cut + 1 < breaks.len() && breaks[cut + 1] <= own[1] {
            let (from, to) = (local(breaks[cut]), local(breaks[cut + 1]));
            chain.extend([
                blossom(&span, [from, from, to]),
                blossom(&span, [from, to, to]),
                blossom(&span, [to, to, to]),
            ]);
            cut += 1;
        }
    }
    chain
}

/// The weights of station `index` on the Bernstein coefficients of the sections
/// between fractions `from` and `to`, where they are polynomials of one degree: by the
/// weight's values and slopes at both ends.
pub fn weights_on(piece: &Piece, index: usize, (from, to): (f64, f64)) -> Vec<f64> {
    let ends = [from, to].map(|v| {
        let across = piece.layout().across(v);
        let of_station = across.weights().iter();
        of_station
            .filter(|weight| weight.station == index)
            .fold([0.0; 2], |sum, weight| {
                [sum[0] + weight.value, sum[1] + weight.slope]
            })
    });
    let degree = piece.layout().blend().degree();
    (0..=degree)
        .map(|j| coefficient(j, degree, to - from, ends))
        .collect()
}

/// Coefficient `j` of a polynomial of `degree` on an interval of length `width`, from
/// its value and slope at both ends.
fn coefficient(j: usize, degree: usize, width: f64, [start, end]: [[f64; 2]; 2]) -> f64 {
    let step = width / degree as f64;
    match j {
        0 => start[0],
        _ if j == degree => end[0],
        1 => start[0] + step * start[1],
        _ => end[0] - step * end[1],
    }
}

/// The band between fractions `from` and `to`, where all weights are polynomials
/// of one degree. The chain of a station without weight there may be empty.
pub(crate) fn band(piece: &Piece, chains: &[Vec<Point2<f64>>], from: f64, to: f64) -> Band {
    let degree = piece.layout().blend().degree();
    let length = chains.iter().map(Vec::len).max().unwrap_or_default();
    let mut rows = vec![vec![Point2::origin(); length]; degree + 1];
    for (station, chain) in chains.iter().enumerate() {
        let weights = weights_on(piece, station, (from, to));
        for (row, weight) in rows.iter_mut().zip(weights) {
            if weight == 0.0 {
                continue;
            }
            for (sum, point) in row.iter_mut().zip(chain) {
                sum.coords += point.coords * weight;
            }
        }
    }
    let places = [from, to].map(|v| {
        let place = piece.layout().across(v).place;
        [place[0], place[1]]
    });
    let unit = match piece.layout().stations().setting() {
        Setting::Stack => 1.0,
        Setting::Ring { .. } => std::f64::consts::PI / 180.0,
    };
    let places = (0..=degree)
        .map(|j| unit * coefficient(j, degree, to - from, places))
        .collect();
    Band { rows, places }
}

/// The blossom of a cubic Bézier span at three local parameters: at (0, 0, 1) its
/// second control point, at (t, t, t) its point (Ramshaw, Blossoms are polar
/// forms, Computer Aided Geometric Design 6, 1989, 323-358).
pub fn blossom(span: &[Point2<f64>], at: [f64; 3]) -> Point2<f64> {
    let mut work = [span[0], span[1], span[2], span[3]].map(|point| point.coords);
    for (level, t) in at.into_iter().enumerate() {
        for i in 0..3 - level {
            work[i] = work[i] * (1.0 - t) + work[i + 1] * t;
        }
    }
    work[0].into()
}

/// The point in space of a section point: at a height in mm (stack: x and y stay)
/// or at an angle in radians (ring: x is the distance from the z axis, y is z).
pub fn in_space(setting: Setting, section: Point2<f64>, place: f64) -> Point3<f64> {
    standing(setting, place)(section)
}

/// How all points of the section at a height or angle are set into space, as
/// [`in_space`] does.
pub fn standing(setting: Setting, place: f64) -> impl Fn(Point2<f64>) -> Point3<f64> {
    let (sine, cosine) = match setting {
        Setting::Stack => (0.0, 1.0),
        Setting::Ring { .. } => libm::sincos(place),
    };
    move |section| match setting {
        Setting::Stack => Point3::new(section.x, section.y, place),
        Setting::Ring { .. } => Point3::new(section.x * cosine, section.x * sine, section.y),
    }
}

/// The point of a cubic Bézier span at `s`.
pub fn cubic(span: &[Point2<f64>], s: f64) -> Point2<f64> {
    let [a, b, c, d] = cubic_weights(s);
    (span[0].coords * a + span[1].coords * b + span[2].coords * c + span[3].coords * d).into()
}

/// Bernstein's polynomials of degree 3 at `s`.
pub fn cubic_weights(s: f64) -> [f64; 4] {
    let r = 1.0 - s;
    [r * r * r, 3.0 * r * r * s, 3.0 * r * s * s, s * s * s]
}

/// Bernstein's polynomials of degree 1 to 3 at `t`, in the first places.
pub fn bernstein_weights(degree: usize, t: f64) -> [f64; 4] {
    let r = 1.0 - t;
    match degree {
        1 => [r, t, 0.0, 0.0],
        2 => [r * r, 2.0 * r * t, t * t, 0.0],
        _ => cubic_weights(t),
    }
}

/// A polynomial in Bernstein form at `t`, by de Casteljau.
pub fn bernstein(coefficients: &[f64], t: f64) -> f64 {
    let mut work = coefficients.to_vec();
    for level in (1..work.len()).rev() {
        for index in 0..level {
            work[index] += (work[index + 1] - work[index]) * t;
        }
    }
    work[0]
}

fn bernstein_point(coefficients: &[Point2<f64>], t: f64) -> Point2<f64> {
    let mut work = coefficients.to_vec();
    for level in (1..work.len()).rev() {
        for index in 0..level {
            let step = work[index + 1] - work[index];
            work[index] += step * t;
        }
    }
    work[0]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ring_turns_sections_about_the_z_axis() {
        let point = in_space(
            Setting::Ring { all_round: false },
            Point2::new(2.0, 5.0),
            std::f64::consts::FRAC_PI_2,
        );
        assert!((point - Point3::new(0.0, 2.0, 5.0)).norm() < 1e-15);
        assert!((bernstein(&[1.0, 2.0, 4.0], 0.5) - 2.25).abs() < 1e-15);
    }
}
