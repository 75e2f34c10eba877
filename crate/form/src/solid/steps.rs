//! How finely a piece must be cut into triangles to keep within a chordal
//! tolerance, by the bounds of [`super::deviation`].
//!
//! All spans of a band share its steps across, and all bands the steps along, so
//! that corners meet; within that, few steps are sought: for some shares of the
//! tolerance that the curving across may use, the least steps across, then the
//! least along. What is chosen so goes by an estimate of the twist; then every cell
//! is bounded, and where the bound is too large there are more steps along.
//!
//! Near is not enough: the sides of a long cell of a twisted skin lean against each
//! other, so its two triangles would stand on edge in turn, however short the cell
//! across (Schwarz, Sur une définition erronée de l'aire d'une surface courbe,
//! 1890). So twist always asks for some steps along, of a length in the square root
//! of the tolerance: then areas and normals come near as well.

use super::deviation::{Curving, curvings, twist};
use super::net::Net;

/// How often each span and each band is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Steps {
    /// Steps along, for each span.
    pub along: Vec<usize>,
    /// Steps across, for each band.
    pub across: Vec<usize>,
}

/// Shares of the tolerance that the curving across may use.
const SHARES: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];
/// A hair of the tolerance is kept back for rounding.
const KEPT_BACK: f64 = 1e-9;
/// The steps of a span and a band, along and across, by which its twist is estimated.
const LOOK: (usize, usize) = (8, 4);

/// What is known of one span of one band: its curving, and its twist as the bound of
/// one cell, which falls with the number of cells.
#[derive(Clone, Copy, Debug)]
struct Shape {
    curving: Curving,
    twist: f64,
}

impl Steps {
    /// The number of triangles of the skin.
    pub fn triangles(&self) -> usize {
        let total = |steps: &[usize]| steps.iter().fold(0, |sum: usize, n| sum.saturating_add(*n));
        total(&self.along)
            .saturating_mul(total(&self.across))
            .saturating_mul(2)
    }

    /// Few steps that keep the triangles within `tolerance` mm (above 0); with more
    /// than `most` triangles they may not keep it.
    pub fn within(net: &Net, tolerance: f64, most: usize) -> Self {
        let shapes = shapes(net);
        let chosen = SHARES.map(|share| Self::chosen(&shapes, tolerance, share));
        let fewest = chosen.into_iter().min_by_key(Self::triangles);
        let mut steps = fewest.unwrap_or_else(|| unreachable!("there are shares"));
        for span in 0..net.spans() {
            for (band, shapes) in shapes.iter().enumerate() {
                steps.hold(net, (band, span), &shapes[span].curving, tolerance, most);
            }
        }
        steps
    }

    /// More steps along a span until it keeps the tolerance in a band.
    fn hold(
        &mut self,
        net: &Net,
        place: (usize, usize),
        curving: &Curving,
        tolerance: f64,
        most: usize,
    ) {
        let (band, span) = place;
        while self.triangles() <= most {
            let (n, m) = (self.along[span], self.across[band]);
            let bound = curving.distance(n, m) + twist(net, place, n, m);
            if bound <= tolerance {
                return;
            }
            let more = (n as f64 * libm::sqrt(bound / tolerance).min(1.5)) as usize;
            self.along[span] = more.max(n + 1);
        }
    }

    fn chosen(shapes: &[Vec<Shape>], tolerance: f64, share: f64) -> Self {
        let tolerance = tolerance * (1.0 - KEPT_BACK);
        let across: Vec<usize> = shapes
            .iter()
            .map(|band| {
                let curving = band.iter().map(|shape| shape.curving.across);
                let most = curving.fold(0.0, f64::max);
                ceiling(libm::sqrt(most / (8.0 * share * tolerance)))
            })
            .collect();
        let along = (0..shapes[0].len()).map(|span| {
            let over_bands = shapes.iter().zip(&across);
            let needed = over_bands.map(|(band, &m)| needed_along(&band[span], m, tolerance));
            ceiling(needed.fold(1.0, f64::max))
        });
        Self {
            along: along.collect(),
            across,
        }
    }

    /// A bound of the distance from triangles to the piece in one span of one band,
    /// mm.
    pub fn bound_at(&self, net: &Net, curving: &Curving, place: (usize, usize)) -> f64 {
        let (n, m) = (self.along[place.1], self.across[place.0]);
        curving.distance(n, m) + twist(net, place, n, m)
    }

    /// The proved chordal bound of these steps, mm.
    pub fn bound(&self, net: &Net) -> f64 {
        let mut most: f64 = 0.0;
        for (band, row) in curvings(net).iter().enumerate() {
            for (span, curving) in row.iter().enumerate() {
                most = most.max(self.bound_at(net, curving, (band, span)));
            }
        }
        most
    }

    /// Steps along and across with which cells of one span of one band are half as
    /// long, in the direction that most of their distance comes from or in both.
    pub fn refined(&self, curving: &Curving, (band, span): (usize, usize)) -> (usize, usize) {
        let (n, m) = (self.along[span], self.across[band]);
        let along = curving.along / (n * n) as f64;
        let across = curving.across / (m * m) as f64;
        let twice = |steps: usize, is_finer: bool| match is_finer {
            true => steps.saturating_mul(2),
            false => steps,
        };
        let is_across = 0.0 < across && along <= 4.0 * across;
        (twice(n, across <= 4.0 * along), twice(m, is_across))
    }
}

/// The least n with U / n² + T / n <= the rest of the tolerance that `across` steps
/// leave; beyond that as many as twist asks for.
fn needed_along(shape: &Shape, across: usize, tolerance: f64) -> f64 {
    let m = across as f64;
    let rest = tolerance - shape.curving.across / (8.0 * m * m);
    let (bent, twisted) = (shape.curving.along / 8.0, shape.twist / m);
    let root = libm::sqrt(twisted * twisted + 4.0 * rest * bent);
    let needed = (twisted + root) / (2.0 * rest);
    needed.max(libm::sqrt(shape.twist / tolerance))
}

fn ceiling(needed: f64) -> usize {
    (libm::ceil(needed) as usize).max(1)
}

fn shapes(net: &Net) -> Vec<Vec<Shape>> {
    let (n, m) = LOOK;
    let all = curvings(net).into_iter().enumerate();
    all.map(|(band, row)| {
        let row = row.into_iter().enumerate();
        row.map(|(span, curving)| Shape {
            curving,
            twist: twist(net, (band, span), n, m) * (n * m) as f64,
        })
        .collect()
    })
    .collect()
}
