//! Triangle meshes of pieces, within a stated distance of the piece.
//!
//! Corners are shared by number, so a capped piece is closed by its structure: all
//! spans of a band share its steps across, all bands share the steps along.
//! Triangles of a solid turn counterclockwise for one who looks from outside.

use super::cap;
use super::net::{Net, cubic, in_space};
use super::steps::Steps;
use nalgebra::{Point2, Point3};
use thiserror::Error;

/// The finest chordal tolerance, in mm.
pub const FINEST: f64 = 0.001;
/// The coarsest chordal tolerance, in mm.
pub const COARSEST: f64 = 100.0;
/// The most triangles of one skin: 50 bytes each in an STL file.
pub const MOST_TRIANGLES: usize = 8_000_000;

/// Triangles on shared corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Mesh {
    /// The corners, mm.
    pub points: Vec<Point3<f64>>,
    /// Three corners each.
    pub triangles: Vec<[u32; 3]>,
    /// Whether the triangles close a solid, or form an open surface.
    pub solid: bool,
    /// Every point of a triangle lies this close to the piece, mm: proved, see
    /// `solid::steps`. At most the tolerance that was asked for.
    pub chord: f64,
}

/// Why a piece gets no mesh.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum MeshError {
    /// A tolerance outside [`FINEST`] to [`COARSEST`].
    #[error("a chordal tolerance of {tolerance} mm: choose from 0.001 to 100 mm")]
    Tolerance {
        /// What was asked for, mm.
        tolerance: f64,
    },
    /// More than [`MOST_TRIANGLES`].
    #[error(
        "within {tolerance} mm this piece takes more than 8 000 000 triangles: choose a coarser chordal tolerance"
    )]
    TooFine {
        /// What was asked for, mm.
        tolerance: f64,
    },
    /// An outline whose chords meet each other.
    #[error(
        "the outline of the {end} end meets itself at a chordal tolerance of {tolerance} mm, so it cannot be capped: choose a finer one, or mend the profile"
    )]
    CapMeetsItself {
        /// Lower or upper in a stack, first or last in a ring.
        end: &'static str,
        /// What was asked for, mm.
        tolerance: f64,
    },
}

impl Mesh {
    /// The mesh of `net` within `tolerance` mm, its ends capped where outlines
    /// are closed.
    ///
    /// # Errors
    /// [`MeshError`].
    pub fn new(net: &Net, tolerance: f64) -> Result<Self, MeshError> {
        if !(FINEST..=COARSEST).contains(&tolerance) {
            return Err(MeshError::Tolerance { tolerance });
        }
        let steps = Steps::within(net, tolerance);
        if MOST_TRIANGLES < steps.triangles() {
            return Err(MeshError::TooFine { tolerance });
        }
        let grid = Grid::new(net, &steps);
        let mut mesh = Self {
            triangles: Vec::with_capacity(steps.triangles() + 2 * grid.columns),
            points: grid.points(net, &steps),
            solid: net.is_solid(),
            chord: steps.bound(net),
        };
        mesh.push_skin(&grid, net.is_solid() && net.outward < 0.0);
        if mesh.solid && !net.closed_across() {
            mesh.push_caps(&grid, net, &steps, tolerance)?;
        }
        Ok(mesh)
    }

    fn push_skin(&mut self, grid: &Grid, flipped: bool) {
        for level in 0..grid.cells_across {
            for column in 0..grid.cells_along {
                let [a, b, c, d] = [(0, 0), (1, 0), (1, 1), (0, 1)]
                    .map(|(i, j)| grid.corner(column + i, level + j));
                let at = |corner: u32| self.points[corner as usize];
                // Either diagonal keeps the bound; the shorter one makes the better triangles.
                let halves = if (at(c) - at(a)).norm_squared() <= (at(d) - at(b)).norm_squared() {
                    [[a, b, c], [a, c, d]]
                } else {
                    [[a, b, d], [b, c, d]]
                };
                for [a, b, c] in halves {
                    self.triangles
                        .push(if flipped { [a, c, b] } else { [a, b, c] });
                }
            }
        }
    }

    fn push_caps(
        &mut self,
        grid: &Grid,
        net: &Net,
        steps: &Steps,
        tolerance: f64,
    ) -> Result<(), MeshError> {
        let names = if net.is_ring() {
            ["first", "last"]
        } else {
            ["lower", "upper"]
        };
        for (end, (chain, _)) in net.end_sections().into_iter().enumerate() {
            let polygon = along_chain(chain, &steps.along, true);
            let filled = cap::fill(&polygon).ok_or(MeshError::CapMeetsItself {
                end: names[end],
                tolerance,
            })?;
            let level = if end == 0 { 0 } else { grid.cells_across };
            // Counterclockwise in the section looks up in a stack, but back in a ring (r, z and forward are
            // left-handed); the first cap looks back, the last one on.
            let flipped = (end == 0) != net.is_ring();
            for triangle in filled {
                let [a, b, c] = triangle.map(|column| grid.corner(column as usize, level));
                self.triangles
                    .push(if flipped { [a, c, b] } else { [a, b, c] });
            }
        }
        Ok(())
    }

    /// The volume that a solid mesh bounds, mm³ (divergence theorem).
    pub fn volume(&self) -> f64 {
        let origin = self.points[0];
        let sixfold = |triangle: &[u32; 3]| {
            let [a, b, c] = triangle.map(|corner| self.points[corner as usize] - origin);
            a.dot(&b.cross(&c))
        };
        self.triangles.iter().map(sixfold).sum::<f64>() / 6.0
    }

    /// The area of all triangles, mm².
    pub fn area(&self) -> f64 {
        let twice = |triangle: &[u32; 3]| {
            let [a, b, c] = triangle.map(|corner| self.points[corner as usize]);
            (b - a).cross(&(c - a)).norm()
        };
        self.triangles.iter().map(twice).sum::<f64>() / 2.0
    }
}

/// How the corners of the skin are numbered: level by level.
struct Grid {
    columns: usize,
    levels: usize,
    cells_along: usize,
    cells_across: usize,
}

impl Grid {
    fn new(net: &Net, steps: &Steps) -> Self {
        let cells_along = steps.along.iter().sum();
        let cells_across = steps.across.iter().sum();
        Self {
            columns: cells_along + usize::from(!net.closed_along),
            levels: cells_across + usize::from(!net.closed_across()),
            cells_along,
            cells_across,
        }
    }

    fn corner(&self, column: usize, level: usize) -> u32 {
        let number = (level % self.levels) * self.columns + column % self.columns;
        // MOST_TRIANGLES keeps it far below the range.
        number as u32
    }

    fn points(&self, net: &Net, steps: &Steps) -> Vec<Point3<f64>> {
        let mut points = Vec::with_capacity(self.columns * self.levels);
        let last = net.bands.len() - 1;
        for (index, (band, &count)) in net.bands.iter().zip(&steps.across).enumerate() {
            let rows: Vec<_> = (band.rows.iter())
                .map(|row| along_chain(row, &steps.along, net.closed_along))
                .collect();
            let with_end = index == last && !net.closed_across();
            for step in 0..count + usize::from(with_end) {
                let weights = bernstein_weights(band.degree(), step as f64 / count as f64);
                let weights = &weights[..rows.len()];
                let place = weights.iter().zip(&band.places).map(|(w, p)| w * p).sum();
                points.extend((0..self.columns).map(|column| {
                    let pairs = weights.iter().zip(&rows);
                    let section = pairs.fold(Point2::origin(), |sum, (weight, row)| {
                        sum + row[column].coords * *weight
                    });
                    in_space(net.setting, section, place)
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

/// Bernstein's polynomials of degree 1 to 3 at `t`, in the first places.
fn bernstein_weights(degree: usize, t: f64) -> [f64; 4] {
    let r = 1.0 - t;
    match degree {
        1 => [r, t, 0.0, 0.0],
        2 => [r * r, 2.0 * r * t, t * t, 0.0],
        _ => super::net::cubic_weights(t),
    }
}
