//! How the chosen pair stands in space: its points in mm, and the same about
//! the middle of the picture, at a size of about 1.
//!
//! x runs to the right and y along the stack or the axis of the ring.

use crate::board::Board;
use loftkin_kernel::family::Placement;
use nalgebra::{Point2, Vector3};

/// How the two profiles stand to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stand {
    /// In parallel planes, this many mm apart.
    Stack(f64),
    /// In half-planes around an axis, this many radians apart.
    Ring(f64),
}

impl Stand {
    /// Of the chosen pair of `board`.
    pub fn of(board: &Board) -> Self {
        match board.family().settings.placement {
            Placement::Stack => Self::Stack(board.rise()),
            Placement::Ring => Self::Ring(board.opening().to_radians()),
        }
    }

    /// The point `p` (mm) of the section at `across`, in mm.
    pub fn place(self, p: Point2<f64>, across: f64) -> Vector3<f64> {
        match self {
            Self::Stack(rise) => Vector3::new(p.x, (across - 0.5) * rise, -p.y),
            Self::Ring(opening) => {
                let (sin, cos) = ((across - 0.5) * opening).sin_cos();
                Vector3::new(p.x * sin, p.y, p.x * cos)
            }
        }
    }
}

/// How points of the loft stand in the picture, with its middle at the origin
/// and its size about 1.
pub struct Standing {
    /// How the profiles stand.
    pub stand: Stand,
    /// The middle of both profiles' box in the drawing.
    pub middle: Point2<f64>,
    /// What is 1 in the picture, in mm.
    pub size: f64,
}

impl Standing {
    /// For the chosen pair of `board`.
    pub fn of(board: &Board) -> Option<Self> {
        let (low, high) = board.pair_bounds()?;
        let extent = high - low;
        let stand = Stand::of(board);
        let reach = match stand {
            Stand::Stack(rise) => extent.x.max(extent.y).max(rise),
            Stand::Ring(_) => high.x.abs().max(low.x.abs()).max(extent.y),
        };
        Some(Self {
            stand,
            middle: nalgebra::center(&low, &high),
            size: reach.max(1e-6),
        })
    }

    /// The point `p` (mm) of the section at `across`, in the picture.
    pub fn place(&self, p: Point2<f64>, across: f64) -> [f32; 3] {
        let at = self.stand.place(p, across) - self.stand.place(self.middle, 0.5);
        let at = at / self.size;
        [at.x as f32, at.y as f32, at.z as f32]
    }
}
