//! How far the triangles of a cell may stand off the piece: proved from its Bézier
//! nets and from the corners of every cell, nothing is sampled.
//!
//! A cell is a rectangle with sides a (along) and b (across) of the parameters, and
//! two triangles on its four corners. Between a triangle and the piece S stands the
//! bilinear surface of the four corners:
//!
//! - From S the bilinear surface errs, at equal parameters, by at most
//!   `(a² M_uu + b² M_vv) / 8`, M the largest lengths of the second derivatives:
//!   linear interpolation along, then of its ends across, each errs by at most
//!   h²/8 times the largest second derivative, and interpolating enlarges nothing.
//!   No mixed derivative enters. The M are the largest second differences of the
//!   control points times their degrees; in a ring by the product rule for r e^(ia).
//! - From a triangle with corner P and sides e, f the bilinear surface
//!   P + u e + v f + u v m leaves only by the part of the twist m that is square to
//!   the triangle: with m = α e + β f + γ n, the point of the triangle that is seen
//!   at (u + α u v, v + β u v) is |γ| u v away. Where the cell, seen along n, is
//!   convex, these places cover the triangle; there u v <= t², the t with
//!   2 t + (α + β) t² = 1, since u + v + (α + β) u v <= 1 and u v <= ((u + v) / 2)².
//!   Of a cell that is not convex so, and always, |m| / 4 is a bound as well, at
//!   equal parameters.
//!
//! So the skin of a cone, whose cells are plane trapezia, asks for no steps across.
//! (Derived here; the first is the usual remainder of linear interpolation, Davis,
//! Interpolation and Approximation, 1963, from memory.) The rounding of a corner,
//! about 1e-13 of the size, is not counted.

use super::net::{Band, Net, bernstein_weights, cubic, standing};
use nalgebra::{Point2, Point3, Vector3};

/// Bounds of the second derivatives over one span of one band, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Curving {
    /// Along.
    pub along: f64,
    /// Across.
    pub across: f64,
}

impl Curving {
    /// A bound of how far bilinear cells are from the piece, `along` by `across` of
    /// them, mm.
    pub fn distance(&self, along: usize, across: usize) -> f64 {
        let (n, m) = (along as f64, across as f64);
        (self.along / (n * n) + self.across / (m * m)) / 8.0
    }
}

/// Bounds for each band and each span.
pub fn curvings(net: &Net) -> Vec<Vec<Curving>> {
    let of_band = |band: &Band| -> Vec<Curving> {
        let spans = 0..net.spans();
        spans
            .map(|span| Curving {
                along: largest(band, span, 2, 0)[2],
                across: if net.is_ring() {
                    ring_across(band, span)
                } else {
                    libm::hypot(largest(band, span, 0, 2)[2], place_rates(&band.places)[1])
                },
            })
            .collect()
    };
    net.bands.iter().map(of_band).collect()
}

/// By (r e)'' = (r'' - r a'²) e + (2 r' a' + r a'') f, e outward, f forward.
fn ring_across(band: &Band, span: usize) -> f64 {
    let [turn, turning] = place_rates(&band.places);
    let [radius, ..] = largest(band, span, 0, 0);
    let [radius_across, ..] = largest(band, span, 0, 1);
    let [radius_bend, height_bend, _] = largest(band, span, 0, 2);
    let outward = radius_bend + radius * turn * turn;
    let forward = 2.0 * radius_across * turn + radius * turning;
    libm::sqrt(outward * outward + forward * forward + height_bend * height_bend)
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

/// A bound of how far triangles are from the bilinear surfaces of their cells, mm:
/// of all cells of one span of one band, `along` by `across` of them.
pub fn twist(net: &Net, (band, span): (usize, usize), along: usize, across: usize) -> f64 {
    let Band { rows, places } = &net.bands[band];
    let courses: Vec<Vec<Point2<f64>>> = rows
        .iter()
        .map(|row| {
            let controls = &row[3 * span..3 * span + 4];
            let steps = 0..=along;
            steps
                .map(|step| cubic(controls, step as f64 / along as f64))
                .collect()
        })
        .collect();
    let level = |step: usize| -> Vec<Point3<f64>> {
        let weights = bernstein_weights(rows.len() - 1, step as f64 / across as f64);
        let place = weights.iter().zip(places).map(|(w, p)| w * p).sum();
        let stand = standing(net.setting, place);
        let sections = (0..=along).map(|column| {
            let pairs = weights.iter().zip(&courses);
            pairs.fold(Point2::origin(), |sum: Point2<f64>, (weight, course)| {
                sum + course[column].coords * *weight
            })
        });
        sections.map(stand).collect()
    };
    let mut low = level(0);
    let mut most: f64 = 0.0;
    for step in 1..=across {
        let high = level(step);
        for column in 0..along {
            let (right, next) = (low[column + 1], high[column + 1]);
            most = most.max(of_cell([low[column], right, high[column], next]));
        }
        low = high;
    }
    most
}

/// The same of one cell, whichever diagonal parts it: its corners at (0, 0), (1, 0),
/// (0, 1) and (1, 1).
fn of_cell([origin, right, up, far]: [Point3<f64>; 4]) -> f64 {
    let twist = (origin - right) + (far - up);
    let plain = 0.25 * twist.norm();
    let triangles = [
        [right - origin, up - origin, twist],
        [origin - right, far - right, -twist],
        [far - up, origin - up, -twist],
        [up - far, right - far, twist],
    ];
    let square = triangles.map(|[e, f, m]| by_normal(e, f, m).unwrap_or(plain));
    square.into_iter().fold(0.0, f64::max).min(plain)
}

/// The bound by the part of the twist that is square to a triangle; none where the
/// cell is not convex as it is seen so.
fn by_normal(e: Vector3<f64>, f: Vector3<f64>, m: Vector3<f64>) -> Option<f64> {
    let normal = e.cross(&f);
    let size = normal.norm_squared();
    let alpha = m.cross(&f).dot(&normal) / size;
    let beta = e.cross(&m).dot(&normal) / size;
    let sum = alpha + beta;
    let is_convex = -1.0 < alpha && -1.0 < beta && -1.0 < sum;
    let middle = 1.0 / (1.0 + libm::sqrt(1.0 + sum.min(0.0)));
    let away = m.dot(&normal).abs() / libm::sqrt(size);
    // Of a triangle without area nothing is convex: not a number.
    is_convex.then_some(away * middle * middle)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64, z: f64) -> Point3<f64> {
        Point3::new(x, y, z)
    }

    #[test]
    fn a_plane_trapezium_has_no_distance_and_a_saddle_that_of_its_middle() {
        let trapezium = [
            at(0.0, 0.0, 1.0),
            at(9.0, 0.0, 1.0),
            at(2.0, 5.0, 1.0),
            at(4.0, 5.0, 1.0),
        ];
        assert!(of_cell(trapezium) < 1e-14);
        // z = x y over a square: the diagonals pass the middle at heights 0 and 1/2, the saddle at 1/4.
        let saddle = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        let bound = of_cell(saddle.map(|(x, y)| at(x, y, x * y)));
        let exact = 0.25 / libm::sqrt(3.0);
        assert!(exact <= bound && bound <= 0.25, "{bound}");
        // Folded over itself: the bound at equal parameters.
        let folded = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let bound = of_cell(folded.map(|(x, y)| at(x, y, 0.0)));
        assert!((bound - 0.25 * 2.0).abs() < 1e-14, "{bound}");
    }

    /// Random cells: points of both triangles, their places on the bilinear surface
    /// found by a fine search.
    #[test]
    fn no_point_of_a_triangle_is_farther_than_the_bound() {
        let mut seed = 1_u32;
        let mut chance = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(seed >> 8) / f64::from(1 << 24)
        };
        for _ in 0..60 {
            let mut jog = || 0.7 * (chance() - 0.5);
            let base = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
            let corners = base.map(|(x, y)| at(x + jog(), y + jog(), jog()));
            let bound = of_cell(corners);
            let [a, b, c, d] = corners;
            let on = |u: f64, v: f64| a + (b - a) * u + (c - a) * v + ((a - b) + (d - c)) * (u * v);
            for [p, q, r] in [[a, b, c], [b, d, c], [a, b, d], [a, d, c]] {
                for (i, j) in [(0.33, 0.33), (0.5, 0.5), (0.5, 0.0), (0.0, 0.5), (0.2, 0.5)] {
                    let point = p + (q - p) * i + (r - p) * j;
                    let grid = 0..=200_u32;
                    let places = grid.clone().flat_map(|u| grid.clone().map(move |v| (u, v)));
                    let near = places
                        .map(|(u, v)| on(f64::from(u) / 200.0, f64::from(v) / 200.0) - point)
                        .map(|away| away.norm())
                        .fold(f64::INFINITY, f64::min);
                    // The grid is 0.005 of a side of about 1.7 at most.
                    assert!(near <= bound + 0.009, "{near} {bound}");
                }
            }
        }
    }
}
