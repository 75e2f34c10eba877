//! A part of the skin by its Bézier net, from which bounds on curvature, facing and
//! place follow that hold all over it, between samples too.
//!
//! Over a cell the section is a polynomial, and so are S_u, S_v, their derivatives
//! and N = S_u × S_v, in the turning frame of a ring as well (radial, round, up).
//! Scalar products do not depend on the frame. Every polynomial lies in the hull of
//! its Bernstein coefficients, which nears its values with the square of the size of
//! a part when that is cut. Coefficients are wrong by some roundings of their size:
//! [`ROUNDING`] is far more than these.

pub mod curvature;
pub mod facing;
pub mod poly;

use crate::body::cells::{Cell, breaks_within, strips};
use crate::piece::Piece;
use crate::solid::net::{band, chain};
use curvature::Bends;
use facing::Normals;
use loftkin_kernel::bezier;
use nalgebra::{Vector2, Vector3};
use poly::Poly;
use std::cell::OnceCell;

/// What bounds are widened by, relative to the sizes that they come from.
pub const ROUNDING: f64 = 1e-10;

/// A part of the skin.
#[derive(Debug)]
pub struct Part {
    /// Where it lies.
    pub cell: Cell,
    /// The section's control points, by row across.
    rows: Vec<[Vector2<f64>; 4]>,
    /// The height in mm, or the angle in radians, as many.
    places: Vec<f64>,
    is_ring: bool,
    outward: f64,
    /// Worked out when first asked for: several checks ask.
    bends: OnceCell<Bends>,
    normals: OnceCell<Option<Normals>>,
}

/// Vector polynomials over a part, in its frame.
pub struct Fields {
    /// S_u.
    pub along: [Poly; 3],
    /// S_v.
    pub across: [Poly; 3],
    /// N, outward.
    pub cross: [Poly; 3],
}

/// The whole skin in parts: one a cell.
pub fn parts(piece: &Piece) -> Vec<Part> {
    let stations = piece.layout().stations();
    let mut parts = Vec::new();
    for across in strips(piece) {
        let breaks = breaks_within(piece, across);
        let middle = piece.layout().across(f64::midpoint(across.0, across.1));
        let weighs = |station: usize| {
            let mut weights = middle.weights().iter();
            weights.any(|weight| weight.station == station)
        };
        let chains: Vec<_> = (0..stations.count())
            .map(|station| match weighs(station) {
                true => chain(piece.placed(station), &breaks),
                false => Vec::new(),
            })
            .collect();
        let band = band(piece, &chains, across.0, across.1);
        for (span, along) in breaks.windows(2).enumerate() {
            let rows = band
                .rows
                .iter()
                .map(|row| [0, 1, 2, 3].map(|k| row[3 * span + k].coords));
            parts.push(Part {
                cell: Cell {
                    along: (along[0], along[1]),
                    across,
                },
                rows: rows.collect(),
                places: band.places.clone(),
                is_ring: stations.is_ring(),
                outward: piece.outward(),
                bends: OnceCell::new(),
                normals: OnceCell::new(),
            });
        }
    }
    parts
}

impl Part {
    /// The same with nothing worked out.
    fn anew(&self) -> Self {
        Self {
            rows: self.rows.clone(),
            places: self.places.clone(),
            bends: OnceCell::new(),
            normals: OnceCell::new(),
            ..*self
        }
    }

    /// Its halves, cut where it is longer.
    pub fn halves(&self) -> [Self; 2] {
        let (length, width) = self.lengths();
        if length < width {
            self.halves_across()
        } else {
            self.halves_along()
        }
    }

    /// How long it is along and across at most, mm.
    pub fn lengths(&self) -> (f64, f64) {
        let along = self.rows.iter().map(|row| {
            let steps = row.windows(2).map(|ends| (ends[1] - ends[0]).norm());
            steps.sum::<f64>()
        });
        let across = (0..4).map(|k| {
            let steps = self.rows.windows(2).zip(self.places.windows(2));
            let step = |(rows, places): (&[[Vector2<f64>; 4]], &[f64])| {
                let rise = (places[1] - places[0]).abs();
                let aside = if self.is_ring {
                    rise * rows[0][k].x.abs().max(rows[1][k].x.abs())
                } else {
                    rise
                };
                libm::hypot((rows[1][k] - rows[0][k]).norm(), aside)
            };
            steps.map(step).sum::<f64>()
        });
        (along.fold(0.0, f64::max), across.fold(0.0, f64::max))
    }

    fn halves_along(&self) -> [Self; 2] {
        let middle = self.cell.at(0.5, 0.5).0;
        let mut halves = [self.anew(), self.anew()];
        let [low, high] = &mut halves;
        (low.cell.along.1, high.cell.along.0) = (middle, middle);
        for ((low, high), row) in low.rows.iter_mut().zip(&mut high.rows).zip(&self.rows) {
            (*low, *high) = bezier::parts(*row, mean);
        }
        halves
    }

    fn halves_across(&self) -> [Self; 2] {
        let middle = self.cell.at(0.5, 0.5).1;
        let mut halves = [self.anew(), self.anew()];
        let [low, high] = &mut halves;
        (low.cell.across.1, high.cell.across.0) = (middle, middle);
        for point in 0..4 {
            let mut upper: Vec<_> = self.rows.iter().map(|row| row[point]).collect();
            let mut lower = upper.clone();
            bezier::cut(&mut upper, &mut lower, mean);
            for (k, (lower, upper)) in lower.into_iter().zip(upper).enumerate() {
                (low.rows[k][point], high.rows[k][point]) = (lower, upper);
            }
        }
        bezier::cut(&mut high.places, &mut low.places, mean);
        halves
    }

    /// One coordinate of the section.
    fn section(&self, axis: usize) -> Grid {
        Grid {
            rows: 4,
            columns: self.rows.len(),
            values: (0..4)
                .flat_map(|k| self.rows.iter().map(move |row| row[k][axis]))
                .collect(),
        }
    }

    fn place(&self) -> Grid {
        Grid {
            rows: 1,
            columns: self.places.len(),
            values: self.places.clone(),
        }
        .lowered()
    }

    /// S_u, S_v and N.
    pub fn fields(&self) -> Fields {
        let ([x, y], place) = ([self.section(0), self.section(1)], self.place());
        let zero = || Poly::constant(0.0);
        let (along, across) = if self.is_ring {
            let turn = place.across().poly();
            (
                [x.along().poly(), zero(), y.along().poly()],
                [x.across().poly(), x.poly().times(&turn), y.across().poly()],
            )
        } else {
            (
                [x.along().poly(), y.along().poly(), zero()],
                [x.across().poly(), y.across().poly(), place.across().poly()],
            )
        };
        let cross = cross(&along, &across).map(|part| part.scaled(self.outward));
        Fields {
            along,
            across,
            cross,
        }
    }

    /// S_uu, S_uv and S_vv.
    pub fn second(&self) -> [[Poly; 3]; 3] {
        let ([x, y], place) = ([self.section(0), self.section(1)], self.place());
        let zero = || Poly::constant(0.0);
        let twice = |grid: &Grid| grid.along().along().poly();
        let mixed = |grid: &Grid| grid.along().across().poly();
        let bent = |grid: &Grid| grid.across().across().poly();
        if !self.is_ring {
            return [
                [twice(&x), twice(&y), zero()],
                [mixed(&x), mixed(&y), zero()],
                [bent(&x), bent(&y), bent(&place)],
            ];
        }
        let (turn, turning) = (place.across().poly(), bent(&place));
        let inward = x.poly().times(&turn).times(&turn);
        let aside = x.across().poly().times(&turn).scaled(2.0);
        [
            [twice(&x), zero(), twice(&y)],
            [mixed(&x), x.along().poly().times(&turn), mixed(&y)],
            [
                bent(&x).plus(&inward, -1.0),
                aside.plus(&x.poly().times(&turning), 1.0),
                bent(&y),
            ],
        ]
    }

    /// Directions, in the frame of the part, whose hull holds `direction` wherever
    /// the frame stands: a ring's turns on an arc, which lies in the triangle of its
    /// ends and the crossing of their tangents.
    pub fn directions(&self, direction: &Vector3<f64>) -> Vec<Vector3<f64>> {
        if !self.is_ring || (direction.x == 0.0 && direction.y == 0.0) {
            return vec![*direction];
        }
        let ends = [self.places[0], self.places[self.places.len() - 1]];
        let seen_from = |angle: f64, stretch: f64| {
            let (sine, cosine) = libm::sincos(angle);
            Vector3::new(
                stretch * (cosine * direction.x + sine * direction.y),
                stretch * (cosine * direction.y - sine * direction.x),
                direction.z,
            )
        };
        let half = libm::cos((ends[1] - ends[0]) / 2.0);
        vec![
            seen_from(ends[0], 1.0),
            seen_from(ends[1], 1.0),
            seen_from(f64::midpoint(ends[0], ends[1]), 1.0 / half),
        ]
    }

    /// The control points in the frame of the part; in a stack with their heights.
    pub fn points(&self) -> Vec<Vector3<f64>> {
        let rows = self.rows.iter().zip(&self.places);
        rows.flat_map(|(row, &place)| {
            row.map(|point| {
                if self.is_ring {
                    Vector3::new(point.x, 0.0, point.y)
                } else {
                    Vector3::new(point.x, point.y, place)
                }
            })
        })
        .collect()
    }
}

fn mean<T>(one: T, other: T) -> T
where
    T: std::ops::Add<Output = T> + std::ops::Mul<f64, Output = T>,
{
    (one + other) * 0.5
}

/// The cross product of vector polynomials.
fn cross(one: &[Poly; 3], other: &[Poly; 3]) -> [Poly; 3] {
    [(1, 2), (2, 0), (0, 1)].map(|(j, k)| {
        let forward = one[j].times(&other[k]);
        forward.plus(&one[k].times(&other[j]), -1.0)
    })
}

/// The scalar product of vector polynomials.
pub fn dot(one: &[Poly; 3], other: &[Poly; 3]) -> Poly {
    let products = one.iter().zip(other).map(|(one, other)| one.times(other));
    products.fold(Poly::constant(0.0), |sum, product| sum.plus(&product, 1.0))
}

/// The Bernstein coefficients of a vector polynomial.
fn coefficients(field: &[Poly; 3]) -> Vec<Vector3<f64>> {
    let size = field.iter().fold((1, 1), |size, poly| {
        (size.0.max(poly.size().0), size.1.max(poly.size().1))
    });
    let [x, y, z] = field
        .each_ref()
        .map(|poly| poly.raised(size).coefficients());
    (0..x.len())
        .map(|k| Vector3::new(x[k], y[k], z[k]))
        .collect()
}

/// Bernstein coefficients, rows along.
#[derive(Clone)]
struct Grid {
    rows: usize,
    columns: usize,
    values: Vec<f64>,
}

impl Grid {
    fn poly(&self) -> Poly {
        Poly::new(self.rows, self.columns, |row, column| {
            self.values[row * self.columns + column]
        })
    }

    /// The derivative along.
    fn along(&self) -> Self {
        if self.rows < 2 {
            return Self::zero();
        }
        let degree = (self.rows - 1) as f64;
        let ends = self.values.iter().zip(&self.values[self.columns..]);
        Self {
            rows: self.rows - 1,
            columns: self.columns,
            values: ends.map(|(from, to)| degree * (to - from)).collect(),
        }
    }

    /// The derivative across.
    fn across(&self) -> Self {
        if self.columns < 2 {
            return Self::zero();
        }
        let degree = (self.columns - 1) as f64;
        let lines = self.values.chunks(self.columns);
        Self {
            rows: self.rows,
            columns: self.columns - 1,
            values: lines
                .flat_map(|line| line.windows(2).map(|ends| degree * (ends[1] - ends[0])))
                .collect(),
        }
    }

    fn zero() -> Self {
        Self {
            rows: 1,
            columns: 1,
            values: vec![0.0],
        }
    }

    /// A line across as a line of degree 1, if it is one but for rounding.
    fn lowered(self) -> Self {
        let last = self.columns - 1;
        let (from, to) = (self.values[0], self.values[last]);
        let even = |k: usize| from + (to - from) * k as f64 / last as f64;
        let size = from.abs().max(to.abs());
        let is_even = |k: usize| (self.values[k] - even(k)).abs() <= 1e-14 * size;
        if last < 2 || !(1..last).all(is_even) {
            return self;
        }
        Self {
            rows: 1,
            columns: 2,
            values: vec![from, to],
        }
    }
}
