//! The visible grid that nodes keep to if asked.

use super::{Board, BoardError};
use crate::edit;
use loftkin_kernel::grid::GridPoint;
use nalgebra::Point2;

/// Pixels between the finest visible grid lines, at least.
pub(crate) const FINEST_GRID: f64 = 14.0;

impl Board {
    /// The place for a node at `mm`: on the visible grid if asked, else the
    /// nearest 0.01 mm.
    pub(super) fn snapped(&self, mm: Point2<f64>) -> Result<GridPoint, BoardError> {
        let step = if self.snapping {
            self.view.grid_step(FINEST_GRID)
        } else {
            0.0
        };
        let snap = |value: f64| {
            if 0.0 < step {
                (value / step).round() * step
            } else {
                value
            }
        };
        Ok(GridPoint::from_mm(snap(mm.x), snap(mm.y)).map_err(edit::EditError::from)?)
    }
}
