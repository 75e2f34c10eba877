//! The band beside the parting line of two halves in which the draft is below its
//! limit. Where a smooth skin passes from one half to the other its draft is 0, so
//! a limit can only be kept away from the line; what matters is how far away the
//! last place without it lies.
//!
//! On a skin that bends with the radius R square to its parting line the draft is
//! the angle turned since the line: the band is R times the limit wide, in radians,
//! on either half.
//!
//! The width is seen at sampled places, and bounded by [`proof`]: one is a figure,
//! the other holds for every place of the skin.

mod foot;
mod proof;

use super::check::{Basis, Place, Report};
use super::draft::Draft;
use super::undercut::grid::Grid;
use super::undercut::{PartingLine, lines_of};
use crate::body::cells::Cell;
use crate::piece::Piece;
use foot::Foot;
use nalgebra::Point3;
use proof::Leaf;

/// A proof tells places apart down to this share of the width that was seen.
const SHARE: f64 = 1.0 / 16.0;
/// It never goes below this, mm: no shop holds a parting line truer.
const FINEST: f64 = 0.02;
/// Nearer to its line than this, mm, a place is on it: at a parting edge.
const NO_WIDTH: f64 = 1e-6;

/// What of a skin has less than the least draft to two halves.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// The farthest from the parting line that the draft was seen below its limit,
    /// mm along the skin; 0 when it was seen nowhere below, infinite when no line was
    /// seen to part the skin.
    pub width: f64,
    /// Where; none when it was seen nowhere below.
    pub place: Option<Place>,
    /// Proved: no place below the limit is farther from the parting line, mm along
    /// the skin. None when that is not proved.
    pub bound: Option<f64>,
    /// Proved: no more of the skin is below the limit, mm².
    pub area: f64,
    /// The parting lines that were seen, the longest first.
    pub lines: Vec<PartingLine>,
    /// Where it was looked, apart from the lines themselves.
    pub places: usize,
    /// The skin in cells, each with whether it is proved to have the least draft to
    /// the one half or the other.
    pub cells: Vec<(Cell, bool)>,
}

impl Band {
    /// Whether all of the skin is proved to have the least draft.
    pub fn is_none(&self) -> bool {
        self.cells.iter().all(|(_, kept)| *kept)
    }

    /// What is known of the band being at most `most` mm wide: proved, seen, or
    /// none when it is seen to be wider.
    pub fn keeps(&self, most: f64) -> Option<bool> {
        let is_proved = self.bound.is_some_and(|bound| bound <= most);
        (self.width <= most).then_some(is_proved)
    }

    /// The `report` on draft when a band of `most` mm is accepted.
    pub fn confirmed(&self, report: Report, most: f64) -> Report {
        let kept = self.keeps(most);
        let seen = Basis::Sampled {
            places: self.places,
        };
        Report {
            // What is only seen to be no wider may be wider between samples.
            passes: kept == Some(true),
            basis: match kept {
                Some(true) => Basis::Proved,
                Some(false) => Basis::Open,
                // Where none is accepted, one place with less draft is enough; how far
                // a place is from the line is only seen.
                None if most == 0.0 => report.basis,
                None => seen,
            },
            place: self.place.or(report.place),
            ..report
        }
    }
}

/// The band of `piece` to two halves.
pub fn band(piece: &Piece, draft: &Draft) -> Band {
    let grid = Grid::new(piece, draft.direction);
    let sine = libm::sin(draft.least.min(90.0).to_radians());
    let lines = lines_of(&grid);
    let widest = widest(&grid, &lines, sine);
    let width = widest.map_or(0.0, |(width, _)| width);
    let leaves = proof::leaves(piece, draft, (width * SHARE).max(FINEST));
    let (columns, rows) = grid.size();
    Band {
        width,
        place: widest.map(|(_, place)| place),
        bound: proof::bound(piece, &leaves),
        area: proof::area(&leaves),
        lines,
        places: (columns + 1) * (rows + 1),
        cells: leaves.iter().map(Leaf::told).collect(),
    }
}

/// The farthest from the parting lines that the draft is seen below its limit:
/// looked for where it crosses the limit and at the samples below it.
fn widest(grid: &Grid, lines: &[PartingLine], sine: f64) -> Option<(f64, Place)> {
    let edges = [sine, -sine].map(|level| lines_of(&grid.less(level)));
    let edges = edges.iter().flatten().flat_map(|line| &line.places);
    let places = edges.copied().chain(grid.places_below(sine));
    let chords: Vec<[Point3<f64>; 2]> = lines.iter().flat_map(PartingLine::chords).collect();
    let widths = places.map(|place| (width(grid, &chords, &place), place));
    let widths = widths.filter(|(width, _)| NO_WIDTH < *width);
    widths.max_by(|(one, _), (other, _)| one.total_cmp(other))
}

/// How far `place` is from the parting line along the skin: to the foot of the
/// slope of the draft, or straight to the nearest chord where that foot is not the
/// nearest, as behind an edge.
fn width(grid: &Grid, chords: &[[Point3<f64>; 2]], place: &Place) -> f64 {
    let straight = chords.iter().map(|chord| distance(&place.point, chord));
    let straight = straight.fold(f64::INFINITY, f64::min);
    let foot = Foot::new(grid.piece, grid.direction, place);
    foot.filter(|foot| foot.straight <= 2.0 * straight)
        .map_or(straight, |foot| foot.along_skin)
}

/// From a point to a chord.
fn distance(point: &Point3<f64>, [from, to]: &[Point3<f64>; 2]) -> f64 {
    let (step, here) = (to - from, point - from);
    let squared = step.norm_squared();
    let share = if 0.0 < squared {
        (here.dot(&step) / squared).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (here - step * share).norm()
}
