//! Undercut regions and parting lines: where the draft is below 0, and the lines
//! along which it is 0, by marching through a grid of samples (Lorensen and
//! Cline, Marching cubes, SIGGRAPH 1987, in the plane). Sampled: what is smaller
//! than the grid may be missed. How much is undercut is bounded by [`area`]; what is
//! proved of undercuts, cell by cell, tells [`super::draft_proof::survey`].

pub mod area;
pub(super) mod grid;

use super::check::Place;
use crate::piece::Piece;
use grid::Grid;
use nalgebra::{Point3, UnitVector3};

/// A connected part of the skin that faces away from the direction of draw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Undercut {
    /// The fractions along between which it lies (all of them when it passes the
    /// seam).
    pub along: (f64, f64),
    /// The fractions across between which it lies.
    pub across: (f64, f64),
    /// Its area in mm², an estimate.
    pub area: f64,
    /// The most negative draft in it, degrees.
    pub worst: f64,
    /// Where.
    pub place: Place,
}

/// A line along which the skin runs in the direction of draw: where two halves
/// of a mould part.
#[derive(Clone, Debug, PartialEq)]
pub struct PartingLine {
    /// Its places, in order.
    pub places: Vec<Place>,
    /// Whether it returns to its start.
    pub closed: bool,
    /// How far it departs from a plane square to the direction, mm from lowest
    /// to highest: 0 for a flat parting.
    pub height: f64,
}

impl PartingLine {
    /// From place to place, closed if the line is.
    pub fn chords(&self) -> impl Iterator<Item = [Point3<f64>; 2]> + '_ {
        let places = &self.places;
        let closing = self.closed.then(|| (places.last(), places.first()));
        let steps = places.windows(2).map(|ends| (ends.first(), ends.last()));
        let chords = steps.chain(closing);
        chords.filter_map(|(from, to)| Some([from?.point, to?.point]))
    }

    /// How long it is as it is drawn, mm.
    pub fn length(&self) -> f64 {
        self.chords().map(|[from, to]| (to - from).norm()).sum()
    }
}

/// Undercut regions and parting lines of one piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Undercuts {
    /// As [`undercuts`] gives them.
    pub regions: Vec<Undercut>,
    /// As [`parting_lines`] gives them.
    pub lines: Vec<PartingLine>,
}

/// Both at once, for half the work.
pub fn survey(piece: &Piece, direction: UnitVector3<f64>) -> Undercuts {
    let grid = Grid::new(piece, direction);
    Undercuts {
        regions: regions_of(&grid),
        lines: lines_of(&grid),
    }
}

/// The undercut regions of `piece` to a mould in one part, the largest first.
pub fn undercuts(piece: &Piece, direction: UnitVector3<f64>) -> Vec<Undercut> {
    regions_of(&Grid::new(piece, direction))
}

/// The parting lines of `piece` to `direction`, the longest first.
pub fn parting_lines(piece: &Piece, direction: UnitVector3<f64>) -> Vec<PartingLine> {
    lines_of(&Grid::new(piece, direction))
}

fn regions_of(grid: &Grid) -> Vec<Undercut> {
    let piece = grid.piece;
    let (columns, rows) = grid.size();
    let is_under = |column: usize, row: usize| {
        let corners = [(0, 0), (1, 0), (0, 1), (1, 1)];
        let sum: f64 = corners
            .map(|(x, y)| grid.at(column + x, row + y))
            .iter()
            .sum();
        sum < 0.0
    };
    let mut seen = vec![false; columns * rows];
    let mut found = Vec::new();
    for start in 0..columns * rows {
        if seen[start] || !is_under(start % columns, start / columns) {
            continue;
        }
        let mut open = vec![start];
        seen[start] = true;
        let mut members = Vec::new();
        while let Some(cell) = open.pop() {
            members.push((cell % columns, cell / columns));
            for next in neighbours(piece, cell, (columns, rows)) {
                if !seen[next] && is_under(next % columns, next / columns) {
                    seen[next] = true;
                    open.push(next);
                }
            }
        }
        found.push(region(grid, &members));
    }
    found.sort_by(|one, other| other.area.total_cmp(&one.area));
    found
}

/// The cells that share a side, round closed directions.
fn neighbours(
    piece: &Piece,
    cell: usize,
    (columns, rows): (usize, usize),
) -> impl Iterator<Item = usize> {
    let (column, row) = (cell % columns, cell / columns);
    let step = |at: usize, count: usize, forward: bool, round: bool| match (forward, at) {
        (true, at) if at + 1 < count => Some(at + 1),
        (false, at) if 0 < at => Some(at - 1),
        (true, _) if round => Some(0),
        (false, _) if round => Some(count - 1),
        _ => None,
    };
    let (round_along, round_across) = (piece.is_closed_along(), piece.is_closed_across());
    [true, false].into_iter().flat_map(move |forward| {
        let aside = step(column, columns, forward, round_along);
        let above = step(row, rows, forward, round_across);
        [
            aside.map(|column| row * columns + column),
            above.map(|row| row * columns + column),
        ]
        .into_iter()
        .flatten()
    })
}

fn region(grid: &Grid, members: &[(usize, usize)]) -> Undercut {
    let mut along = (1.0_f64, 0.0_f64);
    let mut across = (1.0_f64, 0.0_f64);
    let (mut area, mut worst, mut at) = (0.0, f64::INFINITY, (0.0, 0.0));
    for &(column, row) in members {
        let (u, v) = (
            (grid.along[column], grid.along[column + 1]),
            (grid.across[row], grid.across[row + 1]),
        );
        along = (along.0.min(u.0), along.1.max(u.1));
        across = (across.0.min(v.0), across.1.max(v.1));
        area += grid.area(column, row);
        for (x, y) in [(0, 0), (1, 0), (0, 1), (1, 1)] {
            let value = grid.at(column + x, row + y);
            if value < worst {
                (worst, at) = (value, (grid.along[column + x], grid.across[row + y]));
            }
        }
    }
    Undercut {
        along,
        across,
        area,
        worst: libm::asin(worst.clamp(-1.0, 1.0)).to_degrees(),
        place: grid.place(at.0, at.1),
    }
}

/// The lines along which the grid is 0, the longest first.
pub(super) fn lines_of(grid: &Grid) -> Vec<PartingLine> {
    let (columns, rows) = grid.size();
    let mut chains = Chains::default();
    for row in 0..rows {
        for column in 0..columns {
            for (from, to) in crossed_sides(grid, column, row) {
                chains.join(canonical(grid, from), canonical(grid, to));
            }
        }
    }
    let mut lines: Vec<PartingLine> = chains
        .chains()
        .into_iter()
        .map(|(sides, closed)| line(grid, &sides, closed))
        .collect();
    lines.sort_by_key(|line| std::cmp::Reverse(line.places.len()));
    lines
}

/// A side of the grid: column, row, and whether it runs along (else across).
type GridSide = (usize, usize, bool);

/// The pairs of sides of one cell that a line of zeros joins. The middle decides
/// where two lines pass.
fn crossed_sides(grid: &Grid, column: usize, row: usize) -> Vec<(GridSide, GridSide)> {
    let above = |x: usize, y: usize| 0.0 <= grid.at(column + x, row + y);
    let sides = [
        ((column, row, true), above(0, 0) != above(1, 0)),
        ((column + 1, row, false), above(1, 0) != above(1, 1)),
        ((column, row + 1, true), above(0, 1) != above(1, 1)),
        ((column, row, false), above(0, 0) != above(0, 1)),
    ];
    let crossed: Vec<GridSide> = sides
        .iter()
        .filter(|(_, crossed)| *crossed)
        .map(|(side, _)| *side)
        .collect();
    match crossed[..] {
        [one, other] => vec![(one, other)],
        [south, east, north, west] => {
            let middle = grid.value(
                f64::midpoint(grid.along[column], grid.along[column + 1]),
                f64::midpoint(grid.across[row], grid.across[row + 1]),
            );
            if (0.0 <= middle) == above(0, 0) {
                vec![(south, east), (north, west)]
            } else {
                vec![(south, west), (north, east)]
            }
        }
        _ => Vec::new(),
    }
}

/// One name for a side on a seam, which the grid holds twice.
fn canonical(grid: &Grid, (column, row, along): GridSide) -> GridSide {
    let (columns, rows) = grid.size();
    let column = if column == columns && grid.piece.is_closed_along() {
        0
    } else {
        column
    };
    let row = if row == rows && grid.piece.is_closed_across() {
        0
    } else {
        row
    };
    (column, row, along)
}

fn line(grid: &Grid, sides: &[GridSide], closed: bool) -> PartingLine {
    let places: Vec<Place> = sides
        .iter()
        .map(|&(column, row, along)| {
            let (u, v) = (grid.along[column], grid.across[row]);
            let to = if along {
                (grid.along[column + 1], v)
            } else {
                (u, grid.across[row + 1])
            };
            let (right, above) = if along { (1, 0) } else { (0, 1) };
            let values = (grid.at(column, row), grid.at(column + right, row + above));
            let at = grid.zero_between(((u, v), to), values);
            grid.place(at.0, at.1)
        })
        .collect();
    let heights = places
        .iter()
        .map(|place| grid.direction.dot(&place.point.coords));
    let (low, high) = heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), height| {
        (low.min(height), high.max(height))
    });
    PartingLine {
        places,
        closed,
        height: high - low,
    }
}

/// Segments between sides, joined to lines.
#[derive(Default)]
struct Chains {
    links: std::collections::BTreeMap<GridSide, Vec<GridSide>>,
}

impl Chains {
    fn join(&mut self, from: GridSide, to: GridSide) {
        self.links.entry(from).or_default().push(to);
        self.links.entry(to).or_default().push(from);
    }

    /// All chains with whether they close: open ones from their ends first.
    fn chains(mut self) -> Vec<(Vec<GridSide>, bool)> {
        let mut chains = Vec::new();
        let ends: Vec<GridSide> = self
            .links
            .iter()
            .filter(|(_, links)| links.len() == 1)
            .map(|(side, _)| *side)
            .collect();
        for end in ends {
            if self.links.get(&end).is_some_and(|links| !links.is_empty()) {
                chains.push((self.follow(end), false));
            }
        }
        while let Some(start) = self.next_open() {
            let mut chain = self.follow(start);
            let closed = 2 < chain.len() && chain.first() == chain.last();
            if closed {
                chain.pop();
            }
            chains.push((chain, closed));
        }
        chains
    }

    fn next_open(&self) -> Option<GridSide> {
        let open = self.links.iter().find(|(_, links)| !links.is_empty());
        open.map(|(side, _)| *side)
    }

    fn follow(&mut self, start: GridSide) -> Vec<GridSide> {
        let mut chain = vec![start];
        let mut at = start;
        while let Some(next) = self.links.get_mut(&at).and_then(Vec::pop) {
            if let Some(back) = self.links.get_mut(&next)
                && let Some(index) = back.iter().position(|&side| side == at)
            {
                back.swap_remove(index);
            }
            chain.push(next);
            at = next;
        }
        chain
    }
}
