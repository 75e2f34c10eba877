//! The cells of a piece, on each of which its surface is one polynomial (in a
//! ring, in the turning half-plane), and samples of the surface over a cell.

use super::quadrature::Node;
use crate::piece::{Jet, Patch, Piece};
use nalgebra::Vector2;

/// The widest angle of one cell of a ring, in degrees: rules of six nodes then
/// integrate its sines to about 1e-13.
const WIDEST_ANGLE: f64 = 30.0;

/// A rectangle of (u, v).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Fractions along, from and to.
    pub along: (f64, f64),
    /// Fractions across, from and to.
    pub across: (f64, f64),
}

impl Cell {
    /// The place at fractions (x, y) of the cell.
    pub fn at(&self, x: f64, y: f64) -> (f64, f64) {
        let between = |(from, to): (f64, f64), t: f64| from + (to - from) * t;
        (between(self.along, x), between(self.across, y))
    }
}

/// The cells of `piece`, strip by strip of v: no joint of a profile that weighs
/// there and no knot of the blend lies inside one.
pub fn cells(piece: &Piece) -> Vec<Cell> {
    let mut cells = Vec::new();
    for across in strips(piece) {
        let breaks = breaks_within(piece, across);
        let along = breaks.windows(2).map(|pair| (pair[0], pair[1]));
        cells.extend(along.map(|along| Cell { along, across }));
    }
    cells
}

/// The intervals of v between knots, in a ring of at most 30 degrees each.
pub fn strips(piece: &Piece) -> Vec<(f64, f64)> {
    let breaks = piece.breaks_across();
    let layout = piece.layout();
    let knots = breaks.windows(2).map(|pair| (pair[0], pair[1]));
    knots
        .flat_map(|(from, to)| {
            let turn = layout.across(to).place[0] - layout.across(from).place[0];
            let parts = if layout.stations().is_ring() {
                libm::ceil(turn / WIDEST_ANGLE).max(1.0) as usize
            } else {
                1
            };
            let at = move |k: usize| from + (to - from) * k as f64 / parts as f64;
            (0..parts).map(move |k| (at(k), if k + 1 == parts { to } else { at(k + 1) }))
        })
        .collect()
}

/// The joints of the profiles that weigh on the strip `across`, from 0 to 1.
pub fn breaks_within(piece: &Piece, across: (f64, f64)) -> Vec<f64> {
    let middle = piece.layout().across(f64::midpoint(across.0, across.1));
    let mut breaks: Vec<f64> = middle
        .weights()
        .iter()
        .flat_map(|weight| piece.placed(weight.station).breaks().iter().copied())
        .collect();
    breaks.sort_by(f64::total_cmp);
    breaks.dedup();
    breaks
}

/// Samples the surface of one piece, cell by cell.
pub struct Sampler<'a> {
    piece: &'a Piece,
    jets: Vec<Jet>,
}

/// A sample of the surface.
#[derive(Clone, Copy, Debug)]
pub struct Sample {
    /// Fraction along.
    pub along: f64,
    /// Fraction across.
    pub across: f64,
    /// Its share of the integral over (u, v).
    pub weight: f64,
    /// The surface there.
    pub patch: Patch,
}

impl<'a> Sampler<'a> {
    /// A sampler of `piece`.
    pub fn new(piece: &'a Piece) -> Self {
        let jets = vec![[Vector2::zeros(); 3]; piece.layout().stations().count()];
        Self { piece, jets }
    }

    /// Calls `visit` at the nodes `along` × `across`, which lie in one cell.
    pub fn visit(
        &mut self,
        along: impl Iterator<Item = Node>,
        across: impl Iterator<Item = Node>,
        mut visit: impl FnMut(Sample),
    ) {
        let layout = self.piece.layout();
        let across: Vec<_> = across
            .map(|(v, weight)| (v, weight, layout.across(v)))
            .collect();
        let Some((_, _, first)) = across.first() else {
            return;
        };
        for (u, weight_along) in along {
            for weight in first.weights() {
                self.jets[weight.station] = self.piece.jet(weight.station, u);
            }
            for &(v, weight_across, ref here) in &across {
                visit(Sample {
                    along: u,
                    across: v,
                    weight: weight_along * weight_across,
                    patch: self.piece.patch_of(&self.jets, here),
                });
            }
        }
    }
}
