//! How the corners and cells of a skin's mesh are numbered, level by level, and
//! where its corners stand.

use super::lattice::Lattice;
use super::net::{Net, bernstein_weights, cubic, standing};
use super::steps::Steps;
use nalgebra::{Point2, Point3};

/// The grid of a skin: corners in columns (along) and levels (across).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Grid {
    /// Cells along; one less than columns, or as many where outlines are closed.
    pub cells_along: usize,
    /// Cells across; likewise of levels.
    pub cells_across: usize,
    /// Whether the last column is joined to the first.
    pub closed_along: bool,
    /// Whether the last level is joined to the first.
    pub closed_across: bool,
}

impl Grid {
    /// The grid of `net` cut by `steps`.
    pub fn new(net: &Net, steps: &Steps) -> Self {
        Self {
            cells_along: steps.along.iter().sum(),
            cells_across: steps.across.iter().sum(),
            closed_along: net.closed_along,
            closed_across: net.closed_across(),
        }
    }

    /// How many corners a level has.
    pub fn columns(&self) -> usize {
        self.cells_along + usize::from(!self.closed_along)
    }

    /// How many levels there are.
    pub fn levels(&self) -> usize {
        self.cells_across + usize::from(!self.closed_across)
    }

    /// The number of a corner; counting goes on beyond a closing joint.
    pub fn corner(&self, column: usize, level: usize) -> u32 {
        let (columns, levels) = (self.columns(), self.levels());
        // Divisions cost more than all the rest of this.
        let within = |index: usize, count: usize| {
            if index < count { index } else { index % count }
        };
        // The most triangles of a mesh keep it far below the range.
        (within(level, levels) * columns + within(column, columns)) as u32
    }

    /// The corners of `net` in order, on `lattice`, mm.
    pub fn points(&self, net: &Net, steps: &Steps, lattice: Lattice) -> Vec<Point3<f64>> {
        let mut points = Vec::with_capacity(self.columns() * self.levels());
        let last = net.bands.len() - 1;
        for (index, (band, &count)) in net.bands.iter().zip(&steps.across).enumerate() {
            let rows: Vec<_> = (band.rows.iter())
                .map(|row| along_chain(row, &steps.along, self.closed_along))
                .collect();
            let with_end = index == last && !self.closed_across;
            for step in 0..count + usize::from(with_end) {
                let weights = bernstein_weights(band.degree(), step as f64 / count as f64);
                let weights = &weights[..rows.len()];
                let place = weights.iter().zip(&band.places).map(|(w, p)| w * p).sum();
                let stand = standing(net.setting, place);
                points.extend((0..self.columns()).map(|column| {
                    let pairs = weights.iter().zip(&rows);
                    let section = pairs.fold(Point2::origin(), |sum, (weight, row)| {
                        sum + row[column].coords * *weight
                    });
                    lattice.nearest(stand(section))
                }));
            }
        }
        points
    }
}

/// The points of a chain of spans, each cut into its number of even steps; the
/// last point is left out of a closed chain.
fn along_chain(chain: &[Point2<f64>], steps: &[usize], closed: bool) -> Vec<Point2<f64>> {
    let mut points = Vec::with_capacity(steps.iter().sum::<usize>() + 1);
    for (span, &count) in steps.iter().enumerate() {
        let controls = &chain[3 * span..3 * span + 4];
        points.extend((0..count).map(|step| cubic(controls, step as f64 / count as f64)));
    }
    if !closed {
        points.push(chain[chain.len() - 1]);
    }
    points
}
