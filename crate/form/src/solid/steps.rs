//! How finely a piece must be cut into triangles to keep within a chordal
//! tolerance, by the bounds of [`super::deviation`].
//!
//! All spans of a band share its steps across, and all bands the steps along, so
//! that corners meet; within that, few steps are sought: for some shares of the
//! tolerance that the curving across may use, the least steps across, then the
//! least along. What is chosen so goes by an estimate of the twist; then every cell
//! is bounded, and where the bound is too large there are more steps along.
//!
//! Spans that the lattice of corners cannot hold, as those between joints of two
//! profiles that nearly coincide, are left out: the cell before one goes on to the
//! corner behind it, which moves no point of the cell by more than their length.
//!
//! Near is not enough: the sides of a long cell of a twisted skin lean against each
//! other, so its two triangles would stand on edge in turn, however short the cell
//! across (Schwarz, Sur une définition erronée de l'aire d'une surface courbe,
//! 1890). So twist always asks for some steps along, of a length in the square root
//! of the tolerance: then areas and normals come near as well.

use super::deviation::{Curving, curvings, twist};
use super::net::Net;

/// How often each span and each band is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Steps {
    /// Steps along, for each span.
    pub along: Vec<usize>,
    /// Steps across, for each band.
    pub across: Vec<usize>,
    /// How far spans that are left out, without any step, may take triangles, mm.
    pub slack: f64,
}

/// Shares of the tolerance that the curving across may use.
const SHARES: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];
/// The most of it.
const LARGEST_SHARE: f64 = 0.95;
/// How the steps across of one band are changed, and how often that of all is tried.
const CHANGES: [f64; 4] = [0.7, 0.9, 1.1, 1.4];
const PASSES: usize = 3;
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

    /// Few steps that keep the triangles within `tolerance` mm (above 0), without the
    /// spans that are not longer than `sliver` mm, alone or in a row; with more than
    /// `most` triangles they may not keep it.
    pub fn within(net: &Net, tolerance: f64, sliver: f64, most: usize) -> Self {
        let shapes = shapes(net);
        let (is_left_out, slack) = slivers(net, sliver);
        let tolerance = (tolerance - slack) * (1.0 - KEPT_BACK);
        let chosen = |across: Vec<usize>| {
            let along = (0..net.spans()).map(|span| match is_left_out[span] {
                true => 0,
                false => needed_over_bands(&shapes, &across, span, tolerance),
            });
            Self {
                along: along.collect(),
                across,
                slack,
            }
        };
        let by_share = SHARES.map(|share| chosen(across_by(&shapes, tolerance, share)));
        let fewest = by_share.into_iter().min_by_key(Self::triangles);
        let mut steps = fewest.unwrap_or_else(|| unreachable!("there are shares"));
        // Each band has a share of its own that suits it best.
        for _ in 0..PASSES {
            for band in 0..steps.across.len() {
                for change in CHANGES {
                    let mut across = steps.across.clone();
                    across[band] = ceiling(across[band] as f64 * change);
                    let is_enough = shapes[band].iter().all(|shape| {
                        let curving = Curving {
                            along: 0.0,
                            across: shape.curving.across,
                        };
                        curving.distance(1, across[band]) < LARGEST_SHARE * tolerance
                    });
                    if is_enough {
                        let other = chosen(across);
                        if other.triangles() < steps.triangles() {
                            steps = other;
                        }
                    }
                }
            }
        }
        for span in (0..net.spans()).filter(|&span| !is_left_out[span]) {
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
        while self.triangles() <= most {
            let bound = self.bound_at(net, curving, place);
            if bound <= tolerance {
                return;
            }
            let steps = &mut self.along[place.1];
            let more = (*steps as f64 * libm::sqrt(bound / tolerance).min(1.5)) as usize;
            *steps = more.max(*steps + 1);
        }
    }

    /// A bound of the distance from triangles to the piece in one span of one band,
    /// mm, without the slack.
    pub fn bound_at(&self, net: &Net, curving: &Curving, place: (usize, usize)) -> f64 {
        match (self.along[place.1], self.across[place.0]) {
            (0, _) => 0.0,
            (n, m) => curving.distance(n, m) + twist(net, place, n, m),
        }
    }

    /// The proved chordal bound of these steps, mm.
    pub fn bound(&self, net: &Net) -> f64 {
        let mut most: f64 = 0.0;
        for (band, row) in curvings(net).iter().enumerate() {
            for (span, curving) in row.iter().enumerate() {
                most = most.max(self.bound_at(net, curving, (band, span)));
            }
        }
        most + self.slack
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

fn needed_over_bands(
    shapes: &[Vec<Shape>],
    across: &[usize],
    span: usize,
    tolerance: f64,
) -> usize {
    let over_bands = shapes.iter().zip(across);
    let needed = over_bands.map(|(band, &m)| needed_along(&band[span], m, tolerance));
    ceiling(needed.fold(1.0, f64::max))
}

/// The least steps across of which the curving uses no more than a share of the
/// tolerance.
fn across_by(shapes: &[Vec<Shape>], tolerance: f64, share: f64) -> Vec<usize> {
    let needed = shapes.iter().map(|band| {
        let curving = band.iter().map(|shape| shape.curving.across);
        let most = curving.fold(0.0, f64::max);
        ceiling(libm::sqrt(most / (8.0 * share * tolerance)))
    });
    needed.collect()
}

/// Which spans are not longer than `most` mm, in all bands and in a row, and how long
/// the longest row of them is; none where they would leave too little of an outline.
fn slivers(net: &Net, most: f64) -> (Vec<bool>, f64) {
    let length = |span: usize| {
        let rows = net.bands.iter().flat_map(|band| &band.rows);
        rows.fold(0.0, |longest: f64, row| {
            let legs = row[3 * span..3 * span + 4].windows(2);
            longest.max(legs.map(|leg| (leg[1] - leg[0]).norm()).sum())
        })
    };
    let (mut in_a_row, mut longest) = (0.0, 0.0_f64);
    let left_out: Vec<bool> = (0..net.spans())
        .map(|span| {
            let with = in_a_row + length(span);
            let is_short = with <= most;
            in_a_row = if is_short { with } else { 0.0 };
            longest = longest.max(in_a_row);
            is_short
        })
        .collect();
    if left_out.iter().filter(|is_short| !**is_short).count() < 3 {
        return (vec![false; net.spans()], 0.0);
    }
    // The row at the end of a closed outline goes on at its start.
    (left_out, longest + in_a_row)
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
