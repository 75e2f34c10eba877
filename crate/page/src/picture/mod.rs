//! Shapes for the page to draw: the small picture of a cell, the section plot,
//! the surface with its double curves.
//!
//! Flat arrays and compact strings, for these go over the bridge while a node
//! is dragged. Pictures only: nothing here takes part in a verdict.

mod skin;
mod standing;
mod surface;

pub use skin::{Skin, Spot};
pub use standing::{Stand, Standing};
pub use surface::{Map, Surface, surface};

use crate::board::Board;
use crate::bounds::bounds;
use loftkin_editor::document::Document;
use loftkin_kernel::loft::Loft;
use nalgebra::Point2;
use std::fmt::Write;

/// The width and height of a cell's picture, in its own units.
pub const PICTURE: (f64, f64) = (56.0, 36.0);
/// The air around it.
const AIR: f64 = 3.0;
/// Chords of a section in a picture.
const PICTURE_STEPS: usize = 24;
/// The fractions across of the inner sections in a picture.
const INNER: [f64; 3] = [0.25, 0.5, 0.75];

/// The picture of one cell: two SVG path data, the two profiles and the inner
/// sections (both empty when a profile cannot be drawn).
pub fn of_cell(document: &Document, first: usize, second: usize) -> (String, String) {
    let (Some(one), Some(two)) = (document.curve(first), document.curve(second)) else {
        return (String::new(), String::new());
    };
    let loft = Loft::new(one, two);
    let mut ends = vec![loft.section(0.0, PICTURE_STEPS)];
    let mut inner = Vec::new();
    if first != second {
        ends.push(loft.section(1.0, PICTURE_STEPS));
        inner.extend(INNER.map(|across| loft.section(across, PICTURE_STEPS)));
    }
    // Sections lie between the profiles, so their box holds them.
    let (low, high) = bounds(ends.iter().flatten());
    let extent = (high - low).map(|side| side.max(1e-6));
    let scale = ((PICTURE.0 - 2.0 * AIR) / extent.x).min((PICTURE.1 - 2.0 * AIR) / extent.y);
    let middle = nalgebra::center(&low, &high);
    let place = |p: &Point2<f64>| {
        Point2::new(
            PICTURE.0 / 2.0 + (p.x - middle.x) * scale,
            PICTURE.1 / 2.0 - (p.y - middle.y) * scale,
        )
    };
    let path = |sections: &[Vec<Point2<f64>>]| {
        let mut text = String::new();
        for section in sections {
            for (index, point) in section.iter().map(place).enumerate() {
                let letter = if index == 0 { 'M' } else { 'L' };
                // Writing to a string cannot fail.
                let _ = write!(text, "{letter}{:.1} {:.1}", point.x, point.y);
            }
        }
        text
    };
    (path(&ends), path(&inner))
}

/// The section of the chosen pair at fraction `across`, in mm: x, y, x, y, ...
pub fn section(board: &Board, across: f64, steps: usize) -> Vec<f64> {
    board.loft().map_or_else(Vec::new, |loft| {
        let points = loft.section(across, steps);
        points.iter().flat_map(|p| [p.x, p.y]).collect()
    })
}

/// The axis of a ring beside the chosen pair: its two ends in space; empty for
/// a stack.
pub fn axis_in_space(board: &Board) -> Vec<f32> {
    let Some(standing) = Standing::of(board) else {
        return Vec::new();
    };
    if matches!(standing.stand, Stand::Stack(_)) {
        return Vec::new();
    }
    let half = 0.75 * standing.size;
    [-half, half]
        .into_iter()
        .flat_map(|dy| standing.place(Point2::new(0.0, standing.middle.y + dy), 0.5))
        .collect()
}

/// One polyline in space: the section at `across`.
pub fn section_in_space(board: &Board, across: f64, steps: usize) -> Vec<f32> {
    let (Some(loft), Some(standing)) = (board.loft(), Standing::of(board)) else {
        return Vec::new();
    };
    let points = loft.section(across, steps);
    points
        .iter()
        .flat_map(|&p| standing.place(p, across))
        .collect()
}

/// The ruling through a place of the chosen pair, in mm: both ends, then the
/// place.
pub fn ruling(board: &Board, along: f64, across: f64) -> Vec<f64> {
    board.loft().map_or_else(Vec::new, |loft| {
        let places = [0.0, 1.0, across].map(|v| loft.point(along, v));
        places.iter().flat_map(|p| [p.x, p.y]).collect()
    })
}

/// The same in space.
pub fn ruling_in_space(board: &Board, along: f64, across: f64) -> Vec<f32> {
    let (Some(loft), Some(standing)) = (board.loft(), Standing::of(board)) else {
        return Vec::new();
    };
    [0.0, 1.0, across]
        .into_iter()
        .flat_map(|v| standing.place(loft.point(along, v), v))
        .collect()
}

/// The double curves in space as separate chords: x, y, z of their two ends.
pub fn double_curves(board: &Board) -> Vec<f32> {
    let (Some(finding), Some(standing)) = (board.known_finding(), Standing::of(board)) else {
        return Vec::new();
    };
    let curves = finding.regions.iter().flat_map(|region| &region.curves);
    curves
        .flat_map(|curve| curve.windows(2))
        .flatten()
        .flat_map(|contact| standing.place(contact.point, contact.across))
        .collect()
}

/// The worst places in space, x, y, z each: of every region, or the witness.
pub fn worst_places(board: &Board) -> Vec<f32> {
    let (Some(finding), Some(standing)) = (board.known_finding(), Standing::of(board)) else {
        return Vec::new();
    };
    let regions = finding.regions.iter().map(|region| region.place);
    let witness = finding.judgement.worst().map(|fault| fault.place);
    let places = regions.chain(witness.filter(|_| finding.regions.is_empty()));
    places
        .flat_map(|place| standing.place(place.point, place.across))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::{Family, Placement};
    use loftkin_kernel::profile::{Node, Profile};

    fn board(placement: Placement) -> Board {
        let line = |y| Profile::open(vec![Node::smooth(1000, y), Node::smooth(3000, y)]);
        let mut family = Family {
            profiles: vec![line(0), line(1000)],
            ..Family::default()
        };
        family.settings.placement = placement;
        Board::new(family).unwrap()
    }

    #[test]
    fn a_picture_stays_in_its_frame() {
        let board = board(Placement::Stack);
        let (ends, inner) = of_cell(board.document(), 0, 1);
        assert_eq!(ends.matches('M').count(), 2);
        assert_eq!(inner.matches('M').count(), 3);
        let numbers: Vec<f64> = ends
            .split(['M', 'L', ' '])
            .filter_map(|text| text.parse().ok())
            .collect();
        for pair in numbers.chunks(2) {
            assert!(AIR <= pair[0] && pair[0] <= PICTURE.0 - AIR);
            assert!(AIR <= pair[1] && pair[1] <= PICTURE.1 - AIR);
        }
        assert_eq!(of_cell(board.document(), 1, 1).1, "");
        assert_eq!(of_cell(board.document(), 0, 7).0, "");
    }

    #[test]
    fn a_stack_rises_and_a_ring_turns_about_its_axis() {
        let stack = surface(&board(Placement::Stack), 4, 2, Map::Nothing).unwrap();
        assert_eq!(stack.points.len(), 3 * stack.along.len() * 3);
        let heights: Vec<f32> = (0..3)
            .map(|row| stack.points[3 * stack.along.len() * row + 1])
            .collect();
        assert!(heights[0] < heights[1] && heights[1] < heights[2]);

        let board = board(Placement::Ring);
        let standing = Standing::of(&board).unwrap();
        let on_axis = |across| standing.place(Point2::new(0.0, 5.0), across);
        assert_eq!(axis_in_space(&board).len(), 6);
        for value in 0..3 {
            assert!((on_axis(0.0)[value] - on_axis(1.0)[value]).abs() < 1e-6);
        }
    }

    #[test]
    fn sections_run_through_both_profiles() {
        let board = board(Placement::Stack);
        let half = section(&board, 0.5, 4);
        assert_eq!(half[..2], [10.0, 5.0]);
        assert_eq!(half[half.len() - 2..], [30.0, 5.0]);
        assert_eq!(section_in_space(&board, 0.5, 4).len(), half.len() / 2 * 3);
    }
}
