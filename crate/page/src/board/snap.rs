//! The visible grid: its step, and nodes that keep to it if asked.

use super::{Board, BoardError, Changes};
use loftkin_editor::edit;
use loftkin_kernel::grid::GridPoint;
use nalgebra::Point2;

/// Pixels between the finest visible grid lines, at least, when they follow the zoom.
const FINEST_GRID: f64 = 14.0;
/// Steps of the grid that a person may set, in mm.
const STEPS: std::ops::RangeInclusive<f64> = 0.01..=1000.0;

impl Board {
    /// The step of the grid in mm: as the person chose it, else as the zoom has it.
    pub fn grid_step(&self) -> f64 {
        self.chosen_grid
            .unwrap_or_else(|| self.view.grid_step(FINEST_GRID))
    }

    /// The step that the person chose, in mm; none when it follows the zoom.
    pub fn chosen_grid_step(&self) -> Option<f64> {
        self.chosen_grid
    }

    /// Sets the step of the grid, to the nearest 0.01 mm, or lets it follow the zoom.
    ///
    /// # Errors
    /// [`BoardError::GridStep`].
    pub fn choose_grid_step(&mut self, step: Option<f64>) -> Result<(), BoardError> {
        if let Some(step) = step.filter(|step| !STEPS.contains(step)) {
            return Err(BoardError::GridStep(step));
        }
        self.chosen_grid = step.map(|step| (step * 100.0).round() / 100.0);
        self.changed(Changes(Changes::VIEW.0 | Changes::SELECTION.0));
        Ok(())
    }

    /// Whether nodes keep to the visible grid.
    pub fn snapping(&self) -> bool {
        self.snapping
    }

    /// Makes nodes keep to the visible grid, or to 0.01 mm only.
    pub fn set_snapping(&mut self, snapping: bool) {
        self.snapping = snapping;
        self.changed(Changes::SELECTION);
    }

    /// The place for a node at `mm`: on the visible grid if asked, else the
    /// nearest 0.01 mm.
    pub(super) fn snapped(&self, mm: Point2<f64>) -> Result<GridPoint, BoardError> {
        let at = if self.snapping { self.on_grid(mm) } else { mm };
        Ok(GridPoint::from_mm(at.x, at.y).map_err(edit::EditError::from)?)
    }

    /// The crossing of grid lines nearest to `mm`.
    pub(super) fn on_grid(&self, mm: Point2<f64>) -> Point2<f64> {
        let step = self.grid_step();
        mm.map(|value| (value / step).round() * step)
    }
}
