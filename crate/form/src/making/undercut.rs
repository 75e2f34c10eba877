//! Undercut regions and parting lines: where the draft is below 0, and the lines
//! along which it is 0, by marching through a grid of samples (Lorensen and
//! Cline, Marching cubes, SIGGRAPH 1987, in the plane). Sampled: what is smaller
//! than the grid may be missed. What is proved of undercuts, cell by cell, tells
//! [`super::draft_proof::survey`].

use super::check::{Place, Spot};
use crate::body::cells::{breaks_within, strips};
use crate::piece::Piece;
use nalgebra::{UnitVector3, Vector3};

/// Steps of the grid in a cell, along and across.
const STEPS: usize = 6;
/// Halvings when a crossing is sharpened: far below a thousandth of a step.
const HALVINGS: u32 = 30;

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

/// A grid of n·d over (u, v).
struct Grid<'a> {
    piece: &'a Piece,
    direction: UnitVector3<f64>,
    outward: f64,
    along: Vec<f64>,
    across: Vec<f64>,
    /// By row (across), then along; the sign of n·d.
    values: Vec<f64>,
}

impl<'a> Grid<'a> {
    fn new(piece: &'a Piece, direction: UnitVector3<f64>) -> Self {
        let finer = |breaks: &[f64]| {
            let mut finer: Vec<f64> = breaks
                .windows(2)
                .flat_map(|ends| {
                    (0..STEPS).map(|k| ends[0] + (ends[1] - ends[0]) * k as f64 / STEPS as f64)
                })
                .collect();
            finer.extend(breaks.last());
            finer
        };
        let strips = strips(piece);
        let mut knots: Vec<f64> = strips.iter().map(|strip| strip.0).collect();
        knots.push(1.0);
        let mut breaks: Vec<f64> = strips
            .iter()
            .flat_map(|&strip| breaks_within(piece, strip))
            .collect();
        breaks.sort_by(f64::total_cmp);
        breaks.dedup();
        let mut grid = Self {
            piece,
            direction,
            outward: piece.outward(),
            along: finer(&breaks),
            across: finer(&knots),
            values: Vec::new(),
        };
        grid.values = grid
            .across
            .iter()
            .flat_map(|&v| grid.along.iter().map(move |&u| (u, v)))
            .map(|(u, v)| grid.value(u, v))
            .collect();
        grid
    }

    fn normal(&self, u: f64, v: f64) -> Vector3<f64> {
        Spot::new(self.piece.patch(u, v), self.outward).normal
    }

    fn value(&self, u: f64, v: f64) -> f64 {
        self.normal(u, v).dot(&self.direction)
    }

    fn at(&self, column: usize, row: usize) -> f64 {
        self.values[row * self.along.len() + column]
    }

    fn place(&self, u: f64, v: f64) -> Place {
        Place {
            along: u,
            across: v,
            point: self.piece.point(u, v),
        }
    }

    fn size(&self) -> (usize, usize) {
        (self.along.len() - 1, self.across.len() - 1)
    }
}

/// The undercut regions of `piece` to a mould in one part, the largest first.
pub fn undercuts(piece: &Piece, direction: UnitVector3<f64>) -> Vec<Undercut> {
    let grid = Grid::new(piece, direction);
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
        found.push(region(&grid, &members));
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
        let middle = (f64::midpoint(u.0, u.1), f64::midpoint(v.0, v.1));
        let cross = grid.piece.patch(middle.0, middle.1).cross();
        area += cross.norm() * (u.1 - u.0) * (v.1 - v.0);
        let corners = [(u.0, v.0), (u.1, v.0), (u.0, v.1), (u.1, v.1), middle];
        for (u, v) in corners {
            let value = grid.value(u, v);
            if value < worst {
                (worst, at) = (value, (u, v));
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

/// The parting lines of `piece` to `direction`, the longest first.
pub fn parting_lines(piece: &Piece, direction: UnitVector3<f64>) -> Vec<PartingLine> {
    let grid = Grid::new(piece, direction);
    let (columns, rows) = grid.size();
    let mut chains = Chains::default();
    for row in 0..rows {
        for column in 0..columns {
            for (from, to) in crossed_sides(&grid, column, row) {
                chains.join(canonical(&grid, from), canonical(&grid, to));
            }
        }
    }
    let mut lines: Vec<PartingLine> = chains
        .chains()
        .into_iter()
        .map(|(sides, closed)| line(&grid, &sides, closed))
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
            let at = zero_between(grid, (u, v), to);
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

fn zero_between(grid: &Grid, from: (f64, f64), to: (f64, f64)) -> (f64, f64) {
    let at = |t: f64| (from.0 + (to.0 - from.0) * t, from.1 + (to.1 - from.1) * t);
    let above = |t: f64| {
        let (u, v) = at(t);
        0.0 <= grid.value(u, v)
    };
    let start = above(0.0);
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if above(middle) == start {
            low = middle;
        } else {
            high = middle;
        }
    }
    at(f64::midpoint(low, high))
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
