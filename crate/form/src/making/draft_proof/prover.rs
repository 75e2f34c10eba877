//! What is proved of the skin over one cell: which way it faces, whether it has the
//! least draft or is below it all over, and how long and wide it is at most. See the
//! head of [`super`] for how.

use super::net::{Net, place, to_bernstein};
use super::{DEGREE_ALONG, SLACK};
use crate::body::cells::Cell;
use crate::making::draft::Draft;
use crate::piece::{Patch, Piece};
use crate::stations::cosine_and_sine;
use loftkin_kernel::grid::STEPS_PER_MM;
use nalgebra::{DMatrix, Vector3};

/// Which way the skin faces to the direction of draw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Along it.
    With,
    /// Against it.
    Against,
}

/// What is proved of cells of one piece for one draft.
pub struct Prover<'a> {
    piece: &'a Piece,
    draft: &'a Draft,
    sine: f64,
    along: DMatrix<f64>,
    across: DMatrix<f64>,
}

impl<'a> Prover<'a> {
    /// Ready to look at `piece`.
    pub fn new(piece: &'a Piece, draft: &'a Draft) -> Self {
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
            // Beyond the right angle no skin keeps a limit.
            sine: libm::sin(draft.least.min(90.0).to_radians()),
            along: to_bernstein(DEGREE_ALONG),
            across: to_bernstein(degree_across),
        }
    }

    /// Which way the whole cell is proved to face, from its N; none when it is not.
    pub fn way(&self, net: &Net, cell: &Cell) -> Option<Way> {
        let directions = self.directions(cell);
        let faces = |sign: f64| {
            net.coefficients().all(|b| {
                let forward = |direction: &Vector3<f64>| 4.0 * net.error < sign * b.dot(direction);
                directions.iter().all(forward)
            })
        };
        match (faces(1.0), faces(-1.0)) {
            (true, _) => Some(Way::With),
            (_, true) => Some(Way::Against),
            _ => None,
        }
    }

    /// Whether the whole cell is proved to have the least draft to a mould that is
    /// drawn off `way`: every coefficient leaves room, see [`super`].
    pub fn is_drafted(&self, net: &Net, cell: &Cell, way: Way) -> bool {
        let coefficients = || net.coefficients();
        let sum = coefficients().fold(Vector3::zeros(), |sum, b| sum + b);
        let Some(middle) = sum.try_normalize(0.0) else {
            return false;
        };
        let mut least = f64::INFINITY;
        let (mut forward, mut aside) = (f64::INFINITY, 0.0_f64);
        // A limit below 0 asks for no undercut at all, which is more.
        let sine = self.sine.max(0.0);
        let mut directions = self.directions(cell);
        if way == Way::Against {
            directions.iter_mut().for_each(Vector3::neg_mut);
        }
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

    /// Whether the whole cell is proved to have less than the least draft to either
    /// half of a mould: |N·d| is at most that of a coefficient, |N| at least the
    /// least part of a coefficient along the mean.
    pub fn is_short(&self, net: &Net, cell: &Cell) -> bool {
        let sum = net.coefficients().fold(Vector3::zeros(), |sum, b| sum + b);
        let Some(middle) = sum.try_normalize(0.0) else {
            return false;
        };
        let directions = self.directions(cell);
        let (mut forward, mut most) = (f64::INFINITY, 0.0_f64);
        for b in net.coefficients() {
            forward = forward.min(b.dot(&middle));
            for direction in &directions {
                most = most.max(b.dot(direction).abs());
            }
        }
        most + 4.0 * net.error < self.sine * (forward - 4.0 * net.error)
    }

    /// By how much N·d changes along and across the cell; in a ring the direction
    /// turns across it.
    pub fn changes(&self, net: &Net, cell: &Cell) -> (f64, f64) {
        let [x, y, z] = &net.parts;
        let along_direction = |d: &Vector3<f64>| x * d.x + y * d.y + z * d.z;
        let directions = self.directions(cell);
        let values: Vec<DMatrix<f64>> = directions.iter().take(2).map(along_direction).collect();
        let along = values[0].column_iter().map(|line| line.max() - line.min());
        let across = (0..x.nrows()).map(|row| {
            let lines = || values.iter().map(|values| values.row(row));
            let most = lines()
                .map(|line| line.max())
                .fold(f64::NEG_INFINITY, f64::max);
            let least = lines().map(|line| line.min()).fold(f64::INFINITY, f64::min);
            most - least
        });
        (along.fold(0.0, f64::max), across.fold(0.0, f64::max))
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
    pub fn net(&self, cell: &Cell) -> Net {
        let outward = self.piece.outward();
        let ([mut net], (along, across)) = self.nets(cell, |patch| [patch.cross() * outward]);
        net.error *= along * across;
        net
    }

    /// N, S_u and S_v over the cell.
    pub fn nets_of_skin(&self, cell: &Cell) -> [Net; 3] {
        let outward = self.piece.outward();
        let fields = |patch: &Patch| [patch.cross() * outward, patch.along, patch.across];
        let (mut nets, (along, across)) = self.nets(cell, fields);
        for (net, size) in nets.iter_mut().zip([along * across, along, across]) {
            net.error *= size;
        }
        nets
    }

    /// Fields over the cell, in the frame of the plane, with [`SLACK`] as their error
    /// and the sizes of S_u and S_v to multiply it by.
    fn nets<const COUNT: usize>(
        &self,
        cell: &Cell,
        fields: impl Fn(&Patch) -> [Vector3<f64>; COUNT],
    ) -> ([Net; COUNT], (f64, f64)) {
        let (rows, columns) = (self.along.nrows(), self.across.nrows());
        let mut values = [(); COUNT].map(|()| [0, 1, 2].map(|_| DMatrix::zeros(rows, columns)));
        let mut sizes = (0.0_f64, 0.0_f64);
        for column in 0..columns {
            let (_, v) = cell.at(0.0, place(column, columns));
            let rounded = self.rounded(cell, v);
            for row in 0..rows {
                let (u, _) = cell.at(place(row, rows), 0.0);
                let patch = self.piece.patch(u, v);
                for (values, field) in values.iter_mut().zip(fields(&patch)) {
                    let field = self.in_frame(field, v);
                    for (part, values) in values.iter_mut().enumerate() {
                        values[(row, column)] = field[part];
                    }
                }
                sizes.0 = sizes.0.max(patch.along.norm() + rounded.0);
                sizes.1 = sizes.1.max(patch.across.norm() + rounded.1);
            }
        }
        let net = |values: [DMatrix<f64>; 3]| Net {
            parts: values.map(|values| &self.along * values * self.across.transpose()),
            error: SLACK,
        };
        (values.map(net), sizes)
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
