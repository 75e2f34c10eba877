//! A mesh that meets itself is made finer where it does, not everywhere: in the
//! spans and bands of the triangles that meet, until they keep apart or are so near
//! to the piece that it must be the piece itself that meets.

use super::contact::Meeting;
use super::deviation::{Curving, curvings};
use super::grid::Grid;
use super::net::Net;
use super::steps::Steps;
use std::collections::BTreeSet;

/// The finest chordal tolerance, in mm.
pub const FINEST: f64 = 0.001;

/// A cell of the grid: its column and its level.
pub type Cell = (usize, usize);

/// Steps that grow where they must.
pub struct Refining<'a> {
    net: &'a Net,
    curvings: Vec<Vec<Curving>>,
    steps: Steps,
    finest: f64,
}

impl<'a> Refining<'a> {
    /// Begins with the steps of a whole mesh.
    pub fn new(net: &'a Net, steps: Steps) -> Self {
        Self {
            net,
            curvings: curvings(net),
            steps,
            finest: f64::INFINITY,
        }
    }

    /// The steps as they are now.
    pub fn steps(&self) -> &Steps {
        &self.steps
    }

    /// The smallest bound of the spans that were last to be refined, mm.
    pub fn finest(&self) -> f64 {
        self.finest
    }

    /// More steps in the spans and bands of `cells`; says whether any of them could
    /// still be refined.
    pub fn at(&mut self, cells: &[Cell]) -> bool {
        let places: BTreeSet<(usize, usize)> = cells
            .iter()
            .map(|&(column, level)| {
                let band = which(&self.steps.across, level);
                (band, which(&self.steps.along, column))
            })
            .collect();
        let before = self.steps.clone();
        self.finest = f64::INFINITY;
        for (band, span) in places {
            let curving = &self.curvings[band][span];
            let bound = before.bound_at(self.net, curving, (band, span));
            self.finest = self.finest.min(bound);
            if 0.5 * FINEST < bound {
                let (along, across) = before.refined(curving, (band, span));
                self.steps.along[span] = self.steps.along[span].max(along);
                self.steps.across[band] = self.steps.across[band].max(across);
            }
        }
        self.steps != before
    }
}

/// The cells of the triangles of `meetings`.
pub fn cells(grid: &Grid, meetings: &[Meeting]) -> Vec<Cell> {
    let triangles = meetings.iter().flatten();
    triangles
        .flat_map(|triangle| cells_of(grid, triangle))
        .collect()
}

/// The cell of a triangle of the skin; of one of a cap the cells at its corners.
fn cells_of(grid: &Grid, triangle: &[u32; 3]) -> Vec<Cell> {
    let place = |&corner: &u32| {
        let corner = corner as usize;
        (corner % grid.columns(), corner / grid.columns())
    };
    let places: Vec<Cell> = triangle.iter().map(place).collect();
    let level = side(places.iter().map(|place| place.1), grid.cells_across);
    let is_cap = places.iter().all(|place| place.1 == places[0].1);
    if !is_cap {
        let column = side(places.iter().map(|place| place.0), grid.cells_along);
        return vec![(column, level)];
    }
    let level = level.min(grid.cells_across - 1);
    let columns = places.iter().flat_map(|&(column, _)| {
        let before = match column {
            0 if grid.closed_along => grid.cells_along - 1,
            _ => column.saturating_sub(1),
        };
        [before, column.min(grid.cells_along - 1)]
    });
    columns.map(|column| (column, level)).collect()
}

/// The cell between neighbouring rows of corners; the last one closes on the first.
fn side(rows: impl Iterator<Item = usize> + Clone, cells: usize) -> usize {
    let low = rows.clone().min().unwrap_or(0);
    let high = rows.max().unwrap_or(0);
    if low + 1 < high { cells - 1 } else { low }
}

/// Which of the parts with so many steps each holds step `index`.
fn which(steps: &[usize], mut index: usize) -> usize {
    steps
        .iter()
        .position(|&count| {
            let holds = index < count;
            index = index.saturating_sub(count);
            holds
        })
        .unwrap_or(steps.len() - 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn triangles_are_found_in_their_cells() {
        let grid = Grid {
            cells_along: 4,
            cells_across: 3,
            closed_along: true,
            closed_across: false,
        };
        let at = |column, level| grid.corner(column, level);
        let cell = |corners| cells_of(&grid, &corners);
        assert_eq!(cell([at(1, 1), at(2, 1), at(2, 2)]), [(1, 1)]);
        assert_eq!(cell([at(3, 2), at(4, 2), at(3, 3)]), [(3, 2)]);
        // Of a cap at the last level.
        let cap = cell([at(0, 3), at(1, 3), at(3, 3)]);
        assert_eq!(cap, [(3, 2), (0, 2), (0, 2), (1, 2), (2, 2), (3, 2)]);
        assert_eq!(
            [0, 1, 2, 5].map(|index| which(&[2, 1, 3], index)),
            [0, 0, 1, 2]
        );
    }
}
