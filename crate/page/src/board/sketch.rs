//! A new profile while it is drawn: nodes one by one, or a freehand stroke.

use super::{Board, BoardError, Changes, Hand};
use loftkin_editor::edit::EditError;
use loftkin_editor::fit;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{FEWEST_CLOSED, FEWEST_OPEN, Node, Profile};
use nalgebra::Point2;

/// How far a freehand stroke may lie from its fit, in pixels of the screen, unless set in mm.
const STROKE_TOLERANCE: f64 = 2.5;
/// Tolerances that a person may set, in mm.
const TOLERANCES: std::ops::RangeInclusive<f64> = 0.01..=100.0;

/// The profile in hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sketch {
    /// The nodes set so far.
    pub nodes: Vec<GridPoint>,
    /// Where the pointer is, in mm, when it hovers.
    pub pointer: Option<Point2<f64>>,
    /// The points of a freehand stroke, in mm.
    pub stroke: Vec<Point2<f64>>,
}

impl Sketch {
    /// The curve through the nodes set so far and the pointer, for the eye.
    pub fn curve(&self) -> Option<Curve> {
        let mut nodes = self.nodes.clone();
        let pointer = self.pointer.and_then(|p| GridPoint::from_mm(p.x, p.y).ok());
        nodes.extend(pointer);
        nodes.dedup();
        Curve::new(&open(&nodes), Pacing::Parameter).ok()
    }
}

impl Board {
    /// Sets the next node of the sketch at `at` mm. Setting it on the last
    /// node again ends the sketch; on the first one, ends it closed where the
    /// family allows.
    ///
    /// # Errors
    /// [`BoardError::SketchTooShort`], or whatever adding the profile finds.
    pub fn sketch_node(&mut self, at: GridPoint, reach: f64) -> Result<(), BoardError> {
        let sketch = self.sketch.get_or_insert_default();
        let near = |node: &GridPoint| {
            let (dx, dy) = (f64::from(node.x - at.x), f64::from(node.y - at.y));
            dx.hypot(dy) / loftkin_kernel::grid::STEPS_PER_MM <= reach
        };
        let on_last = sketch.nodes.last().is_some_and(near);
        let on_first = sketch.nodes.first().is_some_and(near);
        let enough = FEWEST_CLOSED <= sketch.nodes.len();
        if on_first && enough && (self.closing() || self.family().profiles.is_empty()) {
            self.closing = true;
            return self.end_sketch();
        }
        if on_last {
            return self.end_sketch();
        }
        let sketch = self.sketch.get_or_insert_default();
        sketch.nodes.push(at);
        self.given_up = None;
        self.changed(Changes::SELECTION);
        Ok(())
    }

    /// Sets the next node of the sketch at `x`, `y` mm as typed.
    ///
    /// # Errors
    /// Coordinates without a place on the grid, and as [`Board::sketch_node`].
    pub fn sketch_at(&mut self, x: f64, y: f64) -> Result<(), BoardError> {
        let at = GridPoint::from_mm(x, y).map_err(EditError::from)?;
        self.sketch_node(at, 0.0)
    }

    /// Takes the last node of the sketch back; the first one gives it up.
    pub fn sketch_back(&mut self) {
        if let Some(sketch) = &mut self.sketch {
            sketch.nodes.pop();
            if sketch.nodes.is_empty() {
                self.sketch = None;
            }
            self.changed(Changes::SELECTION);
        }
    }

    /// Ends the sketch: its nodes become a new profile, one step of the history.
    ///
    /// # Errors
    /// [`BoardError::SketchTooShort`], or whatever adding the profile finds;
    /// the sketch stays in hand then.
    pub fn end_sketch(&mut self) -> Result<(), BoardError> {
        let Some(sketch) = &self.sketch else {
            return Ok(());
        };
        let closed = self.closing();
        let fewest = if closed { FEWEST_CLOSED } else { FEWEST_OPEN };
        if sketch.nodes.len() < fewest {
            return Err(BoardError::SketchTooShort(fewest));
        }
        let profile = Profile {
            closed,
            ..open(&sketch.nodes)
        };
        self.add_profile(profile, "Sketch")?;
        self.sketch = None;
        Ok(())
    }

    /// How far a freehand stroke may lie from its fit, in mm.
    pub fn tolerance(&self) -> f64 {
        self.tolerance.unwrap_or(STROKE_TOLERANCE / self.view.scale)
    }

    /// The tolerance that the person chose, in mm; none when it follows the zoom.
    pub fn chosen_tolerance(&self) -> Option<f64> {
        self.tolerance
    }

    /// Sets the tolerance of freehand strokes in mm, or lets it follow the zoom.
    ///
    /// # Errors
    /// [`BoardError::Tolerance`].
    pub fn choose_tolerance(&mut self, tolerance: Option<f64>) -> Result<(), BoardError> {
        if let Some(mm) = tolerance.filter(|mm| !TOLERANCES.contains(mm)) {
            return Err(BoardError::Tolerance(mm));
        }
        self.tolerance = tolerance;
        self.changed(Changes::SELECTION);
        Ok(())
    }

    /// Ends a freehand stroke: nodes are fitted to it, and it becomes a new
    /// profile. Says how many nodes, and how true they are.
    ///
    /// # Errors
    /// Whatever fitting or adding the profile finds; the stroke is dropped then.
    pub(super) fn end_stroke(&mut self) -> Result<String, BoardError> {
        let stroke = self.sketch.take().map(|s| s.stroke).unwrap_or_default();
        self.changed(Changes::SELECTION);
        let tolerance = self.tolerance();
        let fit = fit::through(&stroke, self.closing(), tolerance)?;
        let count = fit.profile.node_count();
        self.add_profile(fit.profile, "Draw")?;
        debug_assert!(self.hand == Hand::Stroke);
        let asked = if fit.deviation <= tolerance {
            format!("the tolerance is {tolerance:.2} mm")
        } else {
            format!("not within the tolerance of {tolerance:.2} mm, for there may be no more nodes")
        };
        Ok(format!(
            "{count} nodes keep within {:.2} mm of the stroke; {asked}.",
            fit.deviation
        ))
    }
}

fn open(nodes: &[GridPoint]) -> Profile {
    Profile::open(nodes.iter().map(|at| Node::smooth(at.x, at.y)).collect())
}
