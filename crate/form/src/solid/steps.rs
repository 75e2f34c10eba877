//! How finely a piece must be cut into triangles to keep within a chordal
//! tolerance: proved from its Bézier nets, nothing is sampled.
//!
//! A triangle spans half of a rectangle with sides a (along) and b (across) of the
//! parameters, its right angle at a corner. At any point p of it the straight
//! interpolation of S errs by at most
//!
//! ```text
//! (a² M_uu + 2ab M_uv + b² M_vv) / 8
//! ```
//!
//! with M the largest lengths of the second derivatives (Filip, Magedson and
//! Markot, Surface algorithms using bounds on derivatives, Computer Aided Geometric
//! Design 3, 1986, 295-311, from memory; derived here:) with shares l0, l1, l2 of
//! the corners, Taylor's formula at p in each corner gives half the sum of
//! l_i D²S(d_i, d_i), d_i from p to the corner. The sum of l_i d_x² is
//! a² l1 (1 - l1) <= a²/4, of l_i |d_x d_y| it is ab l1 l2 (1 + 2 l0) <= ab/4.
//!
//! Near is not enough: the sides of a long cell of a twisted skin lean by a M_uv
//! against each other, so its two triangles would stand on edge in turn, however
//! short the cell across (Schwarz, Sur une définition erronée de l'aire d'une
//! surface courbe, 1890). So twist always asks for some steps along, of length a
//! in the square root of the tolerance: then areas and normals come near as well.
//!
//! The M are the largest second differences of the control points times their
//! degrees; in a ring those of r e^(ia) by the product rule. All of them bound, so
//! the true distance is smaller; the rounding of a vertex (about 1e-13 of the size)
//! is not counted.

use super::net::{Band, Net};
use nalgebra::Point2;

/// How often each span and each band is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Steps {
    /// Steps along, for each span.
    pub along: Vec<usize>,
    /// Steps across, for each band.
    pub across: Vec<usize>,
}

/// Bounds of the second derivatives over one span of one band, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Curving {
    along: f64,
    mixed: f64,
    across: f64,
}

/// Shares of the tolerance that the curving along may use, and how much finer
/// than even cells twist asks along: tried in this order, each later one only
/// for a clear gain. None of the latter is 0, see above.
const SHARES: [f64; 4] = [0.5, 0.25, 0.75, 0.1];
const TWIST_SHARES: [f64; 2] = [1.0, 0.5];
/// How much fewer triangles are a clear gain.
const GAIN: f64 = 0.9;

impl Steps {
    /// The number of triangles of the skin.
    pub fn triangles(&self) -> usize {
        let total = |steps: &[usize]| steps.iter().fold(0, |sum: usize, n| sum.saturating_add(*n));
        total(&self.along)
            .saturating_mul(total(&self.across))
            .saturating_mul(2)
    }

    /// Few steps that keep the triangles within `tolerance` mm (above 0).
    pub fn within(net: &Net, tolerance: f64) -> Self {
        let curving = curvings(net);
        let choices = TWIST_SHARES
            .iter()
            .flat_map(|&twist| SHARES.iter().map(move |&share| (share, twist)));
        let mut best: Option<Self> = None;
        for (share, twist) in choices {
            let steps = Self::chosen(&curving, tolerance, share, twist);
            let fewer = |best: &Self| (steps.triangles() as f64) < GAIN * best.triangles() as f64;
            if best.as_ref().is_none_or(fewer) {
                best = Some(steps);
            }
        }
        best.unwrap_or_else(|| unreachable!("there are choices"))
    }

    fn chosen(curving: &[Vec<Curving>], tolerance: f64, share: f64, twist: f64) -> Self {
        let spans = curving[0].len();
        let along: Vec<usize> = (0..spans)
            .map(|span| {
                let over_bands = curving.iter().map(|band| band[span]);
                let needed = over_bands.fold(1.0, |most: f64, bound| {
                    let bent = libm::sqrt(bound.along / (8.0 * share * tolerance));
                    let twisted = twist * libm::sqrt(bound.mixed / (4.0 * tolerance));
                    most.max(bent).max(twisted)
                });
                libm::ceil(needed) as usize
            })
            .collect();
        let across = curving.iter().map(|band| {
            let needed = along.iter().zip(band).fold(1.0, |most: f64, (&n, bound)| {
                most.max(needed_across(*bound, 1.0 / n as f64, tolerance))
            });
            libm::ceil(needed) as usize
        });
        Self {
            across: across.collect(),
            along,
        }
    }

    /// The proved chordal bound of these steps, mm.
    pub fn bound(&self, net: &Net) -> f64 {
        let mut most: f64 = 0.0;
        for (band, &m) in curvings(net).iter().zip(&self.across) {
            for (bound, &n) in band.iter().zip(&self.along) {
                let (a, b) = (1.0 / n as f64, 1.0 / m as f64);
                let error = a * a * bound.along + 2.0 * a * b * bound.mixed + b * b * bound.across;
                most = most.max(error / 8.0);
            }
        }
        most
    }
}

/// The steps across that use up what steps of length `a` along leave of the
/// tolerance: the larger root b of b² M_vv + 2ab M_uv = 8 rest, inverted. A
/// hair is kept back for rounding.
fn needed_across(bound: Curving, a: f64, tolerance: f64) -> f64 {
    const KEPT_BACK: f64 = 1e-9;
    let rest = 8.0 * tolerance * (1.0 - KEPT_BACK) - a * a * bound.along;
    let twist = a * bound.mixed;
    (twist + libm::sqrt(twist * twist + bound.across * rest)) / rest
}

/// Bounds for each band and each span.
fn curvings(net: &Net) -> Vec<Vec<Curving>> {
    let of_band = |band: &Band| -> Vec<Curving> {
        (0..net.spans())
            .map(|span| {
                if net.is_ring() {
                    ring_curving(band, span)
                } else {
                    stack_curving(band, span)
                }
            })
            .collect()
    };
    net.bands.iter().map(of_band).collect()
}

/// The largest absolute value and length of the differences of a span's control
/// points, `along` and `across` times, times their degrees: x, y and length.
fn largest(band: &Band, span: usize, along: usize, across: usize) -> [f64; 3] {
    let mut rows: Vec<Vec<Point2<f64>>> = band
        .rows
        .iter()
        .map(|row| row[3 * span..3 * span + 4].to_vec())
        .collect();
    let degree = band.degree();
    let mut factor = 1.0;
    for order in 0..across.min(degree + 1) {
        factor *= degree as f64 - order as f64;
        rows = (rows.windows(2))
            .map(|two| {
                (two[0].iter().zip(&two[1]))
                    .map(|(a, b)| (b - a).into())
                    .collect()
            })
            .collect();
    }
    for order in 0..along {
        factor *= 3.0 - order as f64;
        for row in &mut rows {
            *row = row.windows(2).map(|two| (two[1] - two[0]).into()).collect();
        }
    }
    let mut most = [0.0; 3];
    for point in rows.iter().flatten() {
        let sizes = [point.x.abs(), point.y.abs(), point.coords.norm()];
        for (most, size) in most.iter_mut().zip(sizes) {
            *most = f64::max(*most, factor * size);
        }
    }
    most
}

/// The largest first and second derivative of the height or angle.
fn place_rates(places: &[f64]) -> [f64; 2] {
    let degree = (places.len() - 1) as f64;
    let first: Vec<f64> = places.windows(2).map(|two| two[1] - two[0]).collect();
    let second = first.windows(2).map(|two| two[1] - two[0]);
    let most = |sizes: &mut dyn Iterator<Item = f64>| {
        sizes.fold(0.0, |most: f64, size| most.max(size.abs()))
    };
    [
        degree * most(&mut first.iter().copied()),
        degree * (degree - 1.0) * most(&mut second.into_iter()),
    ]
}

fn stack_curving(band: &Band, span: usize) -> Curving {
    let [_, height] = place_rates(&band.places);
    Curving {
        along: largest(band, span, 2, 0)[2],
        mixed: largest(band, span, 1, 1)[2],
        across: libm::hypot(largest(band, span, 0, 2)[2], height),
    }
}

/// By (r e)' = r' e + r a' f and (r e)'' = (r'' - r a'²) e + (2 r' a' + r a'') f,
/// e outward, f forward.
fn ring_curving(band: &Band, span: usize) -> Curving {
    let [turn, turning] = place_rates(&band.places);
    let [radius, ..] = largest(band, span, 0, 0);
    let [radius_along, ..] = largest(band, span, 1, 0);
    let [radius_mixed, height_mixed, _] = largest(band, span, 1, 1);
    let [radius_across, ..] = largest(band, span, 0, 1);
    let [radius_bend, height_bend, _] = largest(band, span, 0, 2);
    let length = |a: f64, b: f64, c: f64| libm::sqrt(a * a + b * b + c * c);
    Curving {
        along: largest(band, span, 2, 0)[2],
        mixed: length(radius_mixed, radius_along * turn, height_mixed),
        across: length(
            radius_bend + radius * turn * turn,
            2.0 * radius_across * turn + radius * turning,
            height_bend,
        ),
    }
}
