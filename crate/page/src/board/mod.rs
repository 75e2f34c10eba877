//! The drawing board: document, selection, view, and what the hand is doing.
//!
//! One plain object that the page calls; natively tested up to the paint
//! call. It knows no DOM, keeps no closure, and says by [`Changes`] what the
//! page has to show anew.

mod gesture;
mod pairs;
mod sketch;
mod snap;
mod steps;
#[cfg(test)]
mod tests;

pub use gesture::{Contact, Pointer};
pub use pairs::Preview;
pub use sketch::Sketch;
pub(crate) use snap::FINEST_GRID;

use crate::document::Document;
use crate::edit::EditError;
use crate::hit::Hit;
use crate::view::View;
use gesture::{Gesture, Press};
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::verdict::Finding;
use nalgebra::Point2;
use std::collections::BTreeSet;
use thiserror::Error;

/// What a pointer does on the board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// Chooses and moves nodes and profiles.
    #[default]
    Move,
    /// Sets the nodes of a new profile one by one.
    Place,
    /// Draws a new profile in one stroke.
    Stroke,
}

/// What has to be shown anew, as bits.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Changes(pub u32);

impl Changes {
    /// Curves or verdicts.
    pub const DRAWING: Self = Self(1);
    /// The number or order of profiles or nodes, names, corners, settings.
    pub const SHAPE: Self = Self(2);
    /// The active profile, the chosen nodes, the hand, the sketch.
    pub const SELECTION: Self = Self(4);
    /// The chosen pair or section, or a preview.
    pub const PAIR: Self = Self(8);
    /// Pan and zoom, or only the look of the board.
    pub const VIEW: Self = Self(16);
    /// The history: what can be undone, and what is to be kept.
    pub const HISTORY: Self = Self(32);
    /// Everything.
    pub const ALL: Self = Self(63);

    fn add(&mut self, more: Self) {
        self.0 |= more.0;
    }
}

/// Why the board did not do what it was asked.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BoardError {
    /// No profile is active.
    #[error("choose a profile first")]
    NoProfile,
    /// No node is chosen.
    #[error("choose a node first")]
    NoNode,
    /// The seam of an open profile.
    #[error("only a closed profile has a seam to move")]
    NoSeam,
    /// A sketch that has too few nodes to end.
    #[error("a new profile needs {0} nodes at least: go on, or give it up with Escape")]
    SketchTooShort(usize),
    /// No pair is chosen, or no such pair.
    #[error("choose a pair in the table first")]
    NoPair,
    /// The edit itself.
    #[error(transparent)]
    Edit(#[from] EditError),
    /// The family as a whole.
    #[error(transparent)]
    Family(#[from] FamilyError),
}

/// The drawing board.
pub struct Board {
    document: Document,
    view: View,
    hand: Hand,
    active: Option<usize>,
    chosen: BTreeSet<usize>,
    hover: Option<Hit>,
    snapping: bool,
    closing: bool,
    gesture: Gesture,
    last_press: Option<Press>,
    sketch: Option<Sketch>,
    pair: Option<(usize, usize)>,
    across: f64,
    finding: Option<Finding>,
    preview: Option<Preview>,
    changes: Changes,
}

impl Board {
    /// A board with `family` on it.
    ///
    /// # Errors
    /// Whatever [`Family::validate`] finds, except emptiness.
    pub fn new(family: Family) -> Result<Self, FamilyError> {
        let closing = family.profiles.first().is_some_and(|p| p.closed);
        let active = family.profiles.len().checked_sub(1).map(|_| 0);
        let pair = (1 < family.profiles.len()).then_some((0, 1));
        let hand = if active.is_some() {
            Hand::Move
        } else {
            Hand::Place
        };
        Ok(Self {
            document: Document::new(family)?,
            view: View::default(),
            hand,
            active,
            chosen: BTreeSet::new(),
            hover: None,
            snapping: false,
            closing,
            gesture: Gesture::None,
            last_press: None,
            sketch: None,
            pair,
            across: 0.5,
            finding: None,
            preview: None,
            changes: Changes::ALL,
        })
    }

    /// The document.
    pub fn document(&self) -> &Document {
        &self.document
    }

    /// The family as shown (a preview included).
    pub fn family(&self) -> &Family {
        self.document.family()
    }

    /// The family to keep: what is on the board without a preview.
    pub fn family_to_keep(&self) -> &Family {
        self.preview.as_ref().map_or(self.family(), |p| &p.before)
    }

    /// The window on the drawing.
    pub fn view(&self) -> &View {
        &self.view
    }

    /// What the pointer does.
    pub fn hand(&self) -> Hand {
        self.hand
    }

    /// The active profile.
    pub fn active(&self) -> Option<usize> {
        self.active
    }

    /// The chosen nodes of the active profile.
    pub fn chosen(&self) -> &BTreeSet<usize> {
        &self.chosen
    }

    /// What lies under the pointer.
    pub fn hover(&self) -> Option<Hit> {
        self.hover
    }

    /// The profile being sketched.
    pub fn sketch(&self) -> Option<&Sketch> {
        self.sketch.as_ref()
    }

    /// Whether nodes keep to the visible grid.
    pub fn snapping(&self) -> bool {
        self.snapping
    }

    /// Whether new profiles are closed: as the family is, else as last asked.
    pub fn closing(&self) -> bool {
        self.family()
            .profiles
            .first()
            .map_or(self.closing, |p| p.closed)
    }

    /// Chooses whether the first profile of an empty family will be closed.
    pub fn set_closing(&mut self, closing: bool) {
        self.closing = closing;
        self.changed(Changes::SELECTION);
    }

    /// Makes nodes keep to the visible grid, or to 0.01 mm only.
    pub fn set_snapping(&mut self, snapping: bool) {
        self.snapping = snapping;
        self.changed(Changes::SELECTION);
    }

    /// Chooses what the pointer does; a sketch in hand is given up.
    pub fn set_hand(&mut self, hand: Hand) {
        self.let_go();
        self.sketch = None;
        self.hand = hand;
        self.changed(Changes::SELECTION);
    }

    /// Makes profile `index` the active one.
    pub fn activate(&mut self, index: usize) {
        if index < self.family().profiles.len() && self.active != Some(index) {
            self.active = Some(index);
            self.chosen.clear();
            self.changed(Changes::SELECTION);
        }
    }

    /// Chooses `node` of the active profile, alone or beside the others.
    pub fn choose(&mut self, node: usize, beside: bool) {
        if !beside {
            self.chosen.clear();
        }
        if !self.chosen.insert(node) && beside {
            self.chosen.remove(&node);
        }
        self.changed(Changes::SELECTION);
    }

    /// Chooses no node.
    pub fn choose_none(&mut self) {
        self.chosen.clear();
        self.changed(Changes::SELECTION);
    }

    /// Chooses the node after (or before) the chosen one, round and round.
    pub fn choose_next(&mut self, forward: bool) {
        let Some(profile) = self.active.and_then(|i| self.document.profile(i)) else {
            return;
        };
        let count = profile.node_count();
        if count == 0 {
            return;
        }
        let next = match (self.chosen.iter().next(), forward) {
            (None, true) => 0,
            (None, false) => count - 1,
            (Some(node), true) => (node + 1) % count,
            (Some(node), false) => (node + count - 1) % count,
        };
        self.choose(next, false);
    }

    /// Tells the size of the window, in pixels.
    pub fn resize(&mut self, width: f64, height: f64) {
        self.view.size = nalgebra::Vector2::new(width.max(1.0), height.max(1.0));
        self.changed(Changes::VIEW);
    }

    /// Enlarges by `factor` about `screen` (pixels), or about the middle.
    pub fn zoom(&mut self, screen: Option<Point2<f64>>, factor: f64) {
        self.view.zoom(screen.unwrap_or(self.view.middle()), factor);
        self.changed(Changes::VIEW);
    }

    /// Moves the drawing by `x`, `y` pixels.
    pub fn pan(&mut self, x: f64, y: f64) {
        self.view.pan(nalgebra::Vector2::new(x, y));
        self.changed(Changes::VIEW);
    }

    /// Shows all profiles.
    pub fn fit(&mut self) {
        let points = (0..self.family().profiles.len())
            .filter_map(|index| self.document.curve(index))
            .flat_map(|curve| (0..=64).map(|i| curve.point_mm(f64::from(i) / 64.0)));
        let boxed = points.fold(None, |bounds: Option<(Point2<f64>, Point2<f64>)>, p| {
            let (low, high) = bounds.unwrap_or((p, p));
            Some((low.inf(&p), high.sup(&p)))
        });
        match boxed {
            Some((low, high)) => self.view.fit(low, high),
            None => {
                let size = self.view.size;
                self.view = View {
                    size,
                    ..View::default()
                };
            }
        }
        self.changed(Changes::VIEW);
    }

    /// What has to be shown anew since this was last asked.
    pub fn take_changes(&mut self) -> Changes {
        std::mem::take(&mut self.changes)
    }

    fn changed(&mut self, what: Changes) {
        self.changes.add(what);
    }

    /// After any change of the family: drops what no longer exists.
    fn settle(&mut self) {
        let count = self.family().profiles.len();
        self.active = match self.active {
            Some(index) if index < count => Some(index),
            _ => count.checked_sub(1),
        };
        let nodes = self
            .active
            .map_or(0, |i| self.family().profiles[i].node_count());
        self.chosen.retain(|&node| node < nodes);
        self.hover = None;
        if self.pair.is_some_and(|(_, second)| count <= second) {
            self.pair = None;
        }
        if self.pair.is_none() && 1 < count {
            self.pair = Some((0, 1));
        }
        self.finding = None;
        self.changed(Changes(Changes::ALL.0 & !Changes::VIEW.0));
    }
}
