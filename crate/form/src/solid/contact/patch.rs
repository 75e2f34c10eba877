//! What is known of a rectangle of cells before its triangles are compared: how
//! far it reaches along 13 directions, and along which of them all of it faces.

use super::exact::Corners;
use crate::solid::grid::Grid;
use nalgebra::Vector3;
use std::ops::Range;

/// How many directions are looked along: to faces, edges and corners of a cube.
/// From any vector one of them, or its opposite, is at most 28 degrees away.
pub const DIRECTIONS: usize = 13;

/// The parts of `vector` along the directions, each as long as its direction.
pub fn parts(vector: Vector3<f64>) -> [f64; DIRECTIONS] {
    let [x, y, z] = vector.into();
    let (sum, difference) = (x + y, x - y);
    [
        x,
        y,
        z,
        sum,
        difference,
        x + z,
        x - z,
        y + z,
        y - z,
        sum + z,
        sum - z,
        difference + z,
        difference - z,
    ]
}

/// The part of `vector` along a direction that is square to one of those.
pub fn square_to(direction: usize, vector: &Vector3<f64>) -> f64 {
    match direction {
        0 | 5 | 6 => vector.y,
        1 | 2 | 7 | 8 => vector.x,
        3 | 9 | 10 => vector.x - vector.y,
        _ => vector.x + vector.y,
    }
}

/// The reach and the facing of some cells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facts {
    low: [f64; DIRECTIONS],
    high: [f64; DIRECTIONS],
    /// Bit d: all normals have a positive part along direction d; bit 13 + d: all
    /// have a negative one.
    pub facing: u32,
}

impl Facts {
    /// Of no cell.
    pub const NONE: Self = Self {
        low: [f64::INFINITY; DIRECTIONS],
        high: [f64::NEG_INFINITY; DIRECTIONS],
        facing: u32::MAX,
    };

    /// Also of other cells.
    pub fn join(&mut self, other: &Self) {
        self.reach(&other.low);
        self.reach(&other.high);
        self.facing &= other.facing;
    }

    /// Also of a point, as [`parts`].
    pub fn reach(&mut self, parts: &[f64; DIRECTIONS]) {
        let ends = self.low.iter_mut().zip(&mut self.high);
        for ((low, high), &part) in ends.zip(parts) {
            *low = least(*low, part);
            *high = most(*high, part);
        }
    }

    /// Whether a plane square to one of the directions is between the two.
    pub fn are_apart(&self, other: &Self) -> bool {
        (0..DIRECTIONS).any(|d| self.high[d] < other.low[d] || other.high[d] < self.low[d])
    }
}

// The methods of std mind values that are not numbers; there are none here.
fn least(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}

fn most(a: f64, b: f64) -> f64 {
    if a < b { b } else { a }
}

/// The skin of a mesh: its grid, with two triangles a cell in the order of cells.
#[derive(Clone, Copy, Debug)]
pub struct Skin<'a> {
    /// How cells and corners are numbered.
    pub grid: Grid,
    /// Where corners are.
    pub corners: Corners<'a>,
    /// Two a cell, level by level.
    pub triangles: &'a [[u32; 3]],
}

impl Skin<'_> {
    /// The triangles of a cell.
    pub fn cell(&self, column: usize, level: usize) -> [[u32; 3]; 2] {
        let first = 2 * (level * self.grid.cells_along + column);
        [self.triangles[first], self.triangles[first + 1]]
    }

    /// The facts of the cells in these columns and levels.
    pub fn facts(&self, columns: Range<usize>, levels: Range<usize>) -> Facts {
        let mut normals = Facts::NONE;
        for level in levels.clone() {
            let first = 2 * level * self.grid.cells_along;
            let row = first + 2 * columns.start..first + 2 * columns.end;
            for &triangle in &self.triangles[row] {
                normals.reach(&parts(self.corners.normal(triangle)));
            }
        }
        let mut facts = Facts::NONE;
        for level in levels.start..=levels.end {
            for column in columns.start..=columns.end {
                let corner = self.grid.corner(column, level);
                facts.reach(&parts(self.corners.at(corner).coords));
            }
        }
        let facing = (0..DIRECTIONS).fold(0, |bits, d| {
            let ahead = u32::from(0.0 < normals.low[d]) << d;
            let back = u32::from(normals.high[d] < 0.0) << (DIRECTIONS + d);
            bits | ahead | back
        });
        Facts { facing, ..facts }
    }
}

/// The facts of squares of 4 by 4 cells, of 8 by 8, and so on up to all.
#[derive(Clone, Debug)]
pub struct Pyramid {
    /// From [`FLOOR`] up.
    floors: Vec<Floor>,
}

#[derive(Clone, Debug)]
struct Floor {
    along: usize,
    across: usize,
    facts: Vec<Facts>,
}

/// Squares of 2^2 cells a side are kept; smaller ones are soon worked out again.
pub const FLOOR: u32 = 2;

impl Pyramid {
    /// Of `skin`.
    pub fn new(skin: &Skin) -> Self {
        let Grid {
            cells_along,
            cells_across,
            ..
        } = skin.grid;
        let side = 1 << FLOOR;
        let mut floor = Floor {
            along: cells_along.div_ceil(side),
            across: cells_across.div_ceil(side),
            facts: Vec::new(),
        };
        for j in 0..floor.across {
            for i in 0..floor.along {
                let columns = i * side..cells_along.min((i + 1) * side);
                let levels = j * side..cells_across.min((j + 1) * side);
                floor.facts.push(skin.facts(columns, levels));
            }
        }
        let mut floors = vec![floor];
        while let Some(above) = floors[floors.len() - 1].above() {
            floors.push(above);
        }
        Self { floors }
    }

    /// The level of squares of which one holds all.
    pub fn top(&self) -> u32 {
        FLOOR + self.floors.len() as u32 - 1
    }

    /// The facts of square (i, j) of a level from [`FLOOR`] up.
    pub fn facts(&self, level: u32, i: usize, j: usize) -> &Facts {
        let floor = &self.floors[(level - FLOOR) as usize];
        &floor.facts[j * floor.along + i]
    }
}

impl Floor {
    fn above(&self) -> Option<Self> {
        if self.facts.len() == 1 {
            return None;
        }
        let (along, across) = (self.along.div_ceil(2), self.across.div_ceil(2));
        let mut facts = vec![Facts::NONE; along * across];
        for j in 0..self.across {
            for i in 0..self.along {
                facts[j / 2 * along + i / 2].join(&self.facts[j * self.along + i]);
            }
        }
        Some(Self {
            along,
            across,
            facts,
        })
    }
}
