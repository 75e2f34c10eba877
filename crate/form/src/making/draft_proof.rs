//! The proof that a skin has draft: on every cell N = S_u × S_v is a polynomial,
//! in the turning frame of a ring too, so it lies in the hull of its Bernstein
//! coefficients b. With m the direction of their mean, |N| is at most N·m plus
//! p² / 2q, where p is the largest part of a b square to m and q the least b·m. So
//! the draft exceeds the limit all over the cell where every
//! b·d - sin(limit) b·m > sin(limit) p² / 2q; else the cell is cut in four.
//!
//! In a ring the direction turns against the frame: over a cell it runs on an arc
//! that lies in the triangle of its ends and the crossing of their tangents, so
//! three directions stand for it.
//!
//! Coefficients come from values at the Chebyshev places of the cell (inside it,
//! so that no joint is touched). With M the largest coordinate, a component of S_u
//! is wrong by at most 16 UNIT · 3 M over the width of its span, and of S_v by 16
//! UNIT · M times the slopes of the weights; so N is wrong by at most 128 UNIT of
//! the product of both sizes, these terms included. Solving for the coefficients
//! multiplies that by less than [`AMPLIFIED`] (a test measures it), and halving
//! adds a rounding a level. [`SLACK`] is more than all of it together.

use super::check::{Basis, Report};
use super::draft::{Draft, Halves};
use crate::body::cells::{Cell, cells};
use crate::piece::Piece;
use crate::stations::cosine_and_sine;
use loftkin_kernel::grid::STEPS_PER_MM;
use nalgebra::{DMatrix, Vector3};

/// By how much solving for coefficients multiplies errors, along and across
/// together, at most.
const AMPLIFIED: f64 = 10_000.0;
/// The error of a coefficient over the product of the sizes of S_u and S_v.
const SLACK: f64 = 128.0 * (f64::EPSILON / 2.0) * AMPLIFIED;
/// Cuts of a cell: beyond it the limit is met nearly.
const DEEPEST: u32 = 7;
/// Cuts of a cell in a survey, which need not decide everything.
const SURVEYED: u32 = 3;
/// All cuts of one proof.
const MOST_CUTS: usize = 20_000;
/// Degree of N in u: two from S_u, three from S_v.
const DEGREE_ALONG: usize = 5;

/// What is proved of the draft over a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Proof {
    /// Everywhere more than the least draft.
    Drafted,
    /// Everywhere below 0: all of it is undercut.
    Undercut,
    /// Neither, at this size.
    Open,
}

/// Whether every place of the skin is proved to have more than the least draft
/// of `draft`, for a mould in one part.
pub fn proves(piece: &Piece, draft: &Draft) -> bool {
    if draft.halves == Halves::Two || 90.0 <= draft.least {
        return false;
    }
    let mut prover = Prover::new(piece, draft, DEEPEST);
    cells(piece).iter().all(|cell| {
        let net = prover.net(cell);
        prover.visit(&net, cell, 0, &mut |_, proof| proof == Proof::Drafted)
    })
}

/// The whole skin in cells with what is proved of each: they show how far the
/// proof reaches, and which parts are undercut without a doubt.
pub fn survey(piece: &Piece, draft: &Draft) -> Vec<(Cell, Proof)> {
    let mut prover = Prover::new(piece, draft, SURVEYED);
    let mut found = Vec::new();
    for cell in cells(piece) {
        let net = prover.net(&cell);
        prover.visit(&net, &cell, 0, &mut |cell, proof| {
            found.push((*cell, proof));
            true
        });
    }
    found
}

/// The report on draft with its basis raised to proved where that succeeds.
pub fn confirmed(piece: &Piece, draft: &Draft, report: Report) -> Report {
    if report.passes && proves(piece, draft) {
        let basis = Basis::Proved;
        Report { basis, ..report }
    } else {
        report
    }
}

struct Prover<'a> {
    piece: &'a Piece,
    draft: &'a Draft,
    sine: f64,
    deepest: u32,
    along: DMatrix<f64>,
    across: DMatrix<f64>,
    cuts: usize,
}

/// Coefficients of a vector polynomial: one matrix a component, rows by u; and
/// the error of each.
#[derive(Clone)]
struct Net {
    parts: [DMatrix<f64>; 3],
    error: f64,
}

impl<'a> Prover<'a> {
    fn new(piece: &'a Piece, draft: &'a Draft, deepest: u32) -> Self {
        let blend = piece.layout().blend();
        let degree = blend.degree();
        // S_u and S_v hold 2k - 1; the distance from the axis and the turning
        // rate of a ring add k + k - 1 at most.
        let is_ring = piece.layout().stations().is_ring();
        let degree_across = if is_ring {
            3 * degree - 1
        } else {
            2 * degree - 1
        };
        Self {
            piece,
            draft,
            sine: libm::sin(draft.least.to_radians()),
            deepest,
            along: to_bernstein(DEGREE_ALONG),
            across: to_bernstein(degree_across),
            cuts: 0,
        }
    }

    /// Tells `found` of parts that make up the cell until it returns false; says
    /// whether it never did.
    fn visit(
        &mut self,
        net: &Net,
        cell: &Cell,
        depth: u32,
        found: &mut dyn FnMut(&Cell, Proof) -> bool,
    ) -> bool {
        if self.is_drafted(net, cell) {
            return found(cell, Proof::Drafted);
        }
        if self.is_undercut(net, cell) {
            return found(cell, Proof::Undercut);
        }
        self.cuts += 1;
        if self.deepest <= depth || MOST_CUTS <= self.cuts {
            return found(cell, Proof::Open);
        }
        let (low, high) = net.halves(true);
        let (near, far) = (low.halves(false), high.halves(false));
        let middle = cell.at(0.5, 0.5);
        let (alongs, acrosses) = (
            [(cell.along.0, middle.0), (middle.0, cell.along.1)],
            [(cell.across.0, middle.1), (middle.1, cell.across.1)],
        );
        let quarters = [(near.0, 0, 0), (near.1, 0, 1), (far.0, 1, 0), (far.1, 1, 1)];
        quarters.iter().all(|(net, along, across)| {
            let cell = Cell {
                along: alongs[*along],
                across: acrosses[*across],
            };
            self.visit(net, &cell, depth + 1, found)
        })
    }

    /// Whether every coefficient looks back.
    fn is_undercut(&self, net: &Net, cell: &Cell) -> bool {
        let directions = self.directions(cell);
        net.coefficients().all(|b| {
            let back = |direction: &Vector3<f64>| b.dot(direction) < -4.0 * net.error;
            directions.iter().all(back)
        })
    }

    /// Whether every coefficient leaves room: see the head of this file.
    fn is_drafted(&self, net: &Net, cell: &Cell) -> bool {
        let coefficients = || net.coefficients();
        let sum = coefficients().fold(Vector3::zeros(), |sum, b| sum + b);
        let Some(middle) = sum.try_normalize(0.0) else {
            return false;
        };
        let mut least = f64::INFINITY;
        let (mut forward, mut aside) = (f64::INFINITY, 0.0_f64);
        // A limit below 0 asks for no undercut at all, which is more.
        let sine = self.sine.max(0.0);
        let directions = self.directions(cell);
        for b in coefficients() {
            let ahead = b.dot(&middle);
            forward = forward.min(ahead);
            aside = aside.max((b - middle * ahead).norm());
            for direction in &directions {
                least = least.min(b.dot(direction) - sine * ahead);
            }
        }
        if forward <= 4.0 * net.error {
            return false;
        }
        let error = 8.0 * net.error;
        let aside = aside + error;
        let longer = aside * aside / (2.0 * (forward - error / 2.0));
        sine * longer + error < least
    }

    /// Directions whose hull holds the direction of draw in the frame of the cell.
    fn directions(&self, cell: &Cell) -> Vec<Vector3<f64>> {
        let direction = self.draft.direction.into_inner();
        let layout = self.piece.layout();
        if !layout.stations().is_ring() {
            return vec![direction];
        }
        let [from, to] = [cell.across.0, cell.across.1].map(|v| layout.across(v).place[0]);
        let seen_from = |angle: f64, stretch: f64| {
            let (cosine, sine) = cosine_and_sine(angle);
            Vector3::new(
                stretch * (cosine * direction.x + sine * direction.y),
                stretch * (cosine * direction.y - sine * direction.x),
                direction.z,
            )
        };
        let (half, _) = cosine_and_sine((to - from) / 2.0);
        vec![
            seen_from(from, 1.0),
            seen_from(to, 1.0),
            seen_from(f64::midpoint(from, to), 1.0 / half),
        ]
    }

    /// N over the cell, outward, in the frame of the plane.
    fn net(&self, cell: &Cell) -> Net {
        let outward = self.piece.outward();
        let (rows, columns) = (self.along.nrows(), self.across.nrows());
        let mut values = [0, 1, 2].map(|_| DMatrix::zeros(rows, columns));
        let mut sizes = (0.0_f64, 0.0_f64);
        for column in 0..columns {
            let (_, v) = cell.at(0.0, place(column, columns));
            let rounded = self.rounded(cell, v);
            for row in 0..rows {
                let (u, _) = cell.at(place(row, rows), 0.0);
                let patch = self.piece.patch(u, v);
                let cross = self.in_frame(patch.cross(), v) * outward;
                for (part, values) in values.iter_mut().enumerate() {
                    values[(row, column)] = cross[part];
                }
                sizes.0 = sizes.0.max(patch.along.norm() + rounded.0);
                sizes.1 = sizes.1.max(patch.across.norm() + rounded.1);
            }
        }
        Net {
            parts: values.map(|values| &self.along * values * self.across.transpose()),
            error: SLACK * sizes.0 * sizes.1,
        }
    }

    /// What the rounding of S_u and S_v is counted in, beside their own sizes.
    fn rounded(&self, cell: &Cell, v: f64) -> (f64, f64) {
        let across = self.piece.layout().across(v);
        let mut sizes = (0.0, 0.0);
        let middle = f64::midpoint(cell.along.0, cell.along.1);
        for weight in across.weights() {
            let curve = self.piece.placed(weight.station);
            let most = (curve.size() + curve.centre().amax()) / STEPS_PER_MM;
            // The cell lies in one span, which may be far wider: joints of two
            // profiles that nearly meet leave a sliver between them.
            let (span, _) = curve.locate(middle);
            let width = curve.breaks()[span + 1] - curve.breaks()[span];
            sizes.0 += 3.0 * most * weight.value / width;
            sizes.1 += most * weight.slope.abs();
        }
        sizes
    }

    fn in_frame(&self, vector: Vector3<f64>, v: f64) -> Vector3<f64> {
        if !self.piece.layout().stations().is_ring() {
            return vector;
        }
        let (cosine, sine) = cosine_and_sine(self.piece.layout().across(v).place[0]);
        Vector3::new(
            cosine * vector.x + sine * vector.y,
            cosine * vector.y - sine * vector.x,
            vector.z,
        )
    }
}

impl Net {
    fn coefficients(&self) -> impl Iterator<Item = Vector3<f64>> + '_ {
        let [x, y, z] = &self.parts;
        (0..x.len()).map(move |k| Vector3::new(x[k], y[k], z[k]))
    }

    /// Both halves, along or across, by de Casteljau.
    fn halves(&self, along: bool) -> (Self, Self) {
        let parts = self.parts.clone().map(|part| {
            let part = if along { part } else { part.transpose() };
            let (low, high) = halved(part);
            if along {
                (low, high)
            } else {
                (low.transpose(), high.transpose())
            }
        });
        let half = |parts| Self {
            parts,
            error: self.error,
        };
        let low = parts.clone().map(|(low, _)| low);
        (half(low), half(parts.map(|(_, high)| high)))
    }
}

/// The Chebyshev place `index` of `count` on \[0, 1\].
fn place(index: usize, count: usize) -> f64 {
    let angle = std::f64::consts::PI * (index as f64 + 0.5) / count as f64;
    0.5 - 0.5 * libm::cos(angle)
}

fn halved(mut rows: DMatrix<f64>) -> (DMatrix<f64>, DMatrix<f64>) {
    let count = rows.nrows();
    let (mut low, mut high) = (rows.clone(), rows.clone());
    for level in 0..count {
        low.set_row(level, &rows.row(0));
        let last = count - 1 - level;
        high.set_row(last, &rows.row(last));
        for row in 0..last {
            let mean = (rows.row(row) + rows.row(row + 1)) * 0.5;
            rows.set_row(row, &mean);
        }
    }
    (low, high)
}

/// The matrix from values at `degree` + 1 Chebyshev places of \[0, 1\] to
/// Bernstein coefficients.
fn to_bernstein(degree: usize) -> DMatrix<f64> {
    let bernstein = DMatrix::from_fn(degree + 1, degree + 1, |row, column| {
        let t = place(row, degree + 1);
        let choose = (0..column).fold(1.0, |value, k| value * (degree - k) as f64 / (k + 1) as f64);
        let power = |base: f64, times: usize| (0..times).fold(1.0, |value, _| value * base);
        choose * power(t, column) * power(1.0 - t, degree - column)
    });
    let size = degree + 1;
    // Places are distinct, so the matrix has an inverse (Bernstein polynomials are
    // a basis).
    bernstein
        .try_inverse()
        .unwrap_or_else(|| DMatrix::identity(size, size))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conversion_multiplies_errors_by_less_than_allowed() {
        let most = |degree: usize| {
            let matrix = to_bernstein(degree);
            (0..=degree)
                .map(|row| matrix.row(row).iter().map(|x| x.abs()).sum::<f64>())
                .fold(0.0, f64::max)
        };
        for degree in 1..=8 {
            println!("{degree}: {}", most(degree));
            assert!(most(DEGREE_ALONG) * most(degree) < AMPLIFIED);
        }
    }

    #[test]
    fn halves_are_the_same_polynomial() {
        let net = DMatrix::from_column_slice(4, 1, &[1.0, -2.0, 5.0, 0.5]);
        let (low, high) = halved(net.clone());
        let value = |net: &DMatrix<f64>, t: f64| {
            let [a, b, c, d] = [0, 1, 2, 3].map(|k| net[(k, 0)]);
            let s = 1.0 - t;
            a * s * s * s + 3.0 * b * s * s * t + 3.0 * c * s * t * t + d * t * t * t
        };
        for t in [0.0, 0.3, 0.8, 1.0] {
            assert!((value(&low, t) - value(&net, t / 2.0)).abs() < 1e-14);
            assert!((value(&high, t) - value(&net, 0.5 + t / 2.0)).abs() < 1e-14);
        }
    }
}
