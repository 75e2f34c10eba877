//! Triangle meshes of pieces, within a stated distance of the piece and clear of
//! themselves.
//!
//! Corners are shared by number, so a capped piece is closed by its structure: all
//! spans of a band share its steps across, all bands share the steps along.
//! Triangles of a solid turn counterclockwise for one who looks from outside. What
//! is checked of each mesh, and how exactly, says `solid::contact`.

use super::cap;
use super::contact::{self, Cap, Corners, Meeting, Skin};
use super::grid::Grid;
use super::lattice::{self, Lattice};
use super::net::Net;
pub use super::refining::FINEST;
use super::refining::{Cell, Refining, cells};
use super::steps::Steps;
use nalgebra::{Point2, Point3};
use std::ops::Range;
use thiserror::Error;

/// The coarsest chordal tolerance, in mm.
pub const COARSEST: f64 = 100.0;
/// The most triangles of one skin: 50 bytes each in an STL file.
pub const MOST_TRIANGLES: usize = 8_000_000;
/// Corners nearer to each other than so many steps of the lattice may fall together:
/// each is moved by 0.87 of a step at most.
const SLIVER: f64 = 2.0;
/// The finest tolerance that is named as tried, mm.
const LEAST_TOLD: f64 = 0.0001;
/// How often a mesh that meets itself is made finer where it does. A span that takes
/// one cell at the coarsest tolerance takes some 300 at the finest: nine halvings for
/// each of a few places that come to light one after the other.
const ROUNDS: u32 = 100;

/// Triangles on shared corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Mesh {
    /// The corners, mm.
    pub points: Vec<Point3<f64>>,
    /// Coordinates are whole multiples of this power of two, mm; 32-bit numbers hold
    /// them exactly, see `solid::lattice`.
    pub step: f64,
    /// Three corners each.
    pub triangles: Vec<[u32; 3]>,
    /// Whether the triangles close a solid, or form an open surface.
    pub solid: bool,
    /// Every point of a triangle lies this close to the piece, mm: proved, see
    /// `solid::deviation`. At most the tolerance that was asked for.
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
    /// Too far from the origin for 32-bit numbers.
    #[error(
        "coordinates go up to {reach:.0} mm, where the 32-bit numbers of mesh files are too coarse for {tolerance} mm: choose a coarser chordal tolerance, or draw nearer to the origin"
    )]
    TooFar {
        /// What was asked for, mm.
        tolerance: f64,
        /// The largest coordinate, mm.
        reach: f64,
    },
    /// Triangles that meet where the piece does not.
    #[error(
        "the triangles meet each other near x {:.2}, y {:.2}, z {:.2} mm, even within {tolerance:.4} mm of the piece, for two walls are nearer to each other there: choose a chordal tolerance below their distance, move them apart, or take a STEP file, which has no triangles", place.x, place.y, place.z
    )]
    MeetsItself {
        /// Where, mm.
        place: Point3<f64>,
        /// The finest that was tried, mm.
        tolerance: f64,
    },
    /// An outline whose chords meet each other.
    #[error(
        "the outline of the {end} end meets itself at a chordal tolerance of {tolerance:.4} mm, so it cannot be capped: choose a finer one, or mend the profile"
    )]
    CapMeetsItself {
        /// Lower or upper in a stack, first or last in a ring.
        end: &'static str,
        /// The finest that was tried, mm.
        tolerance: f64,
    },
}

impl Mesh {
    /// The mesh of `net` within `tolerance` mm, its ends capped where outlines
    /// are closed. Where such a mesh meets itself it is made finer there.
    ///
    /// # Errors
    /// [`MeshError`].
    pub fn new(net: &Net, tolerance: f64) -> Result<Self, MeshError> {
        if !(FINEST..=COARSEST).contains(&tolerance) {
            return Err(MeshError::Tolerance { tolerance });
        }
        let reach = lattice::reach(net);
        let lattice =
            Lattice::new(reach, tolerance).ok_or(MeshError::TooFar { tolerance, reach })?;
        let kept = tolerance - lattice.rounding();
        let steps = Steps::within(net, kept, SLIVER * lattice.step(), MOST_TRIANGLES);
        if MOST_TRIANGLES < steps.triangles() {
            return Err(MeshError::TooFine { tolerance });
        }
        let mut refining = Refining::new(net, steps);
        for _ in 0..ROUNDS {
            let fault = match Unchecked::checked(net, refining.steps(), lattice) {
                Ok(mesh) => return Ok(mesh),
                Err(fault) => fault,
            };
            let is_finer = refining.at(&fault.cells);
            if !is_finer || MOST_TRIANGLES < refining.steps().triangles() {
                return Err(fault.told(refining.finest().clamp(LEAST_TOLD, tolerance)));
            }
        }
        Err(MeshError::TooFine { tolerance })
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

    /// Fills the first end or the last, as it is seen along the coordinate axis that
    /// is nearest to square to it: by the corners as they stand on the lattice.
    fn push_cap(&mut self, grid: &Grid, net: &Net, first: bool) -> Result<End, Fault> {
        let level = if first { 0 } else { grid.cells_across };
        let outward = net.rising(first) * if first { -1.0 } else { 1.0 };
        let axis = outward.iamax();
        let seen = [(axis + 1) % 3, (axis + 2) % 3];
        let polygon: Vec<Point2<f64>> = (0..grid.columns())
            .map(|column| self.points[grid.corner(column, level) as usize])
            .map(|point| Point2::new(point[seen[0]], point[seen[1]]))
            .collect();
        let Some(filled) = cap::fill(&polygon) else {
            let meeting = cap::meeting_sides(&polygon).into_iter();
            let level = level.min(grid.cells_across - 1);
            return Err(Fault {
                cells: meeting.map(|column| (column, level)).collect(),
                kind: FaultKind::Outline(match (net.is_ring(), first) {
                    (true, true) => "first",
                    (true, false) => "last",
                    (false, true) => "lower",
                    (false, false) => "upper",
                }),
            });
        };
        let from = self.triangles.len();
        for triangle in filled {
            let [a, b, c] = triangle.map(|column| grid.corner(column as usize, level));
            self.triangles.push(if outward[axis] < 0.0 {
                [a, c, b]
            } else {
                [a, b, c]
            });
        }
        Ok(End {
            level,
            axis,
            triangles: from..self.triangles.len(),
        })
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

/// A mesh before it is checked, with what the check needs to know of it.
pub(super) struct Unchecked {
    pub(super) mesh: Mesh,
    grid: Grid,
    /// How many of its triangles are the skin's.
    skin: usize,
    ends: Vec<End>,
}

/// Where a cap was filled.
struct End {
    level: usize,
    axis: usize,
    triangles: Range<usize>,
}

/// Where a mesh cannot be as it is.
pub(super) struct Fault {
    cells: Vec<Cell>,
    kind: FaultKind,
}

enum FaultKind {
    /// Triangles meet, here for one.
    Meeting(Point3<f64>),
    /// The outline of this end.
    Outline(&'static str),
}

impl Fault {
    /// The error, when it stays even within `tolerance` mm.
    fn told(self, tolerance: f64) -> MeshError {
        match self.kind {
            FaultKind::Meeting(place) => MeshError::MeetsItself { place, tolerance },
            FaultKind::Outline(end) => MeshError::CapMeetsItself { end, tolerance },
        }
    }
}

impl Unchecked {
    /// The mesh by these steps, if it is embedded.
    fn checked(net: &Net, steps: &Steps, lattice: Lattice) -> Result<Mesh, Fault> {
        let unchecked = Self::new(net, steps, lattice)?;
        let meetings = unchecked.meetings();
        let Some(&first) = meetings.first() else {
            return Ok(unchecked.mesh);
        };
        Err(Fault {
            cells: cells(&unchecked.grid, &meetings),
            kind: FaultKind::Meeting(contact::place(&unchecked.mesh.points, first)),
        })
    }

    pub(super) fn new(net: &Net, steps: &Steps, lattice: Lattice) -> Result<Self, Fault> {
        let grid = Grid::new(net, steps);
        let mut mesh = Mesh {
            triangles: Vec::with_capacity(steps.triangles() + 2 * grid.columns()),
            points: grid.points(net, steps, lattice),
            step: lattice.step(),
            solid: net.is_solid(),
            chord: steps.bound(net) + lattice.rounding(),
        };
        mesh.push_skin(&grid, net.is_solid() && net.outward < 0.0);
        let skin = mesh.triangles.len();
        let mut ends = Vec::new();
        if mesh.solid && !net.closed_across() {
            for first in [true, false] {
                ends.push(mesh.push_cap(&grid, net, first)?);
            }
        }
        Ok(Self {
            mesh,
            grid,
            skin,
            ends,
        })
    }

    /// Where it meets itself, or some of it.
    pub(super) fn meetings(&self) -> Vec<Meeting> {
        let Mesh {
            points,
            triangles,
            step,
            ..
        } = &self.mesh;
        let caps: Vec<Cap> = self
            .ends
            .iter()
            .map(|end| Cap {
                triangles: &triangles[end.triangles.clone()],
                level: end.level,
                axis: end.axis,
            })
            .collect();
        let skin = Skin {
            grid: self.grid,
            corners: Corners::new(points, *step),
            triangles: &triangles[..self.skin],
        };
        contact::meetings(skin, &caps)
    }
}
