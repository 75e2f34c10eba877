//! The drawing board: document, selection, view, and what the hand is doing.
//!
//! One plain object that the page calls; natively tested up to the paint
//! call. It knows no DOM, keeps no closure, and says by [`Changes`] what the
//! page has to show anew.

mod back;
mod blend;
mod choice;
mod cursor;
mod gesture;
pub mod history;
mod import;
mod looks;
mod pairs;
mod pins;
mod reference;
mod reshape;
mod showing;
mod sketch;
mod snap;
mod steps;
#[cfg(test)]
mod tests;
mod trial;
mod window;

pub use blend::WorstBlend;
pub use gesture::{Contact, Pointer};
pub use import::Added;
pub use looks::Looks;
pub use pins::Pins;
pub use reference::Reference;
pub use reshape::Copies;
pub use sketch::Sketch;
pub use trial::{Ghost, Offer, Preview, Shift, Tried};

use gesture::{Gesture, Press};
use loftkin_editor::document::Document;
use loftkin_editor::edit::EditError;
use loftkin_editor::hit::Hit;
use loftkin_editor::view::View;
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::remedy::RemedyError;
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
    /// Chooses the nodes within a frame; a touch on a node adds it or leaves it out.
    Frame,
    /// Scales the active profile by the grips round it.
    Scale,
    /// Moves and scales the reference picture.
    Picture,
}

impl Hand {
    /// All hands, in the order of their numbers.
    pub const ALL: [Self; 6] = [
        Self::Move,
        Self::Place,
        Self::Stroke,
        Self::Frame,
        Self::Scale,
        Self::Picture,
    ];
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
    /// A step of the grid out of its range.
    #[error(
        "a grid step of {0} mm: give 0.01 to 1 000, or leave the field empty to follow the zoom"
    )]
    GridStep(f64),
    /// A tolerance out of its range.
    #[error("a tolerance of {0} mm: give 0.01 to 100, or leave the field empty to follow the zoom")]
    Tolerance(f64),
    /// A number of copies out of its range.
    #[error("{0} copies: give 1 to 100")]
    Copies(u32),
    /// No profile of what was read goes into this family.
    #[error("nothing was added: {0}")]
    NothingAdded(String),
    /// A reference picture without a size, or out of the drawing.
    #[error("the picture needs a width of 0.1 to 100 000 mm, and a place on the sheet in mm")]
    Picture,
    /// A mend of a drawing that is no longer on the board.
    #[error("the family has changed since the mend was asked for: look for it again")]
    Outdated,
    /// A mend that is not what it was said to be.
    #[error(
        "what was found is not proved when judged anew, so it is not offered; this is an error of Loftkin"
    )]
    NotProved,
    /// The edit itself.
    #[error(transparent)]
    Edit(#[from] EditError),
    /// A change that costs nothing and does not fit the family.
    #[error(transparent)]
    Remedy(#[from] RemedyError),
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
    chosen_grid: Option<f64>,
    tolerance: Option<f64>,
    about_middle: bool,
    looks: Looks,
    cursor: Option<Point2<f64>>,
    reference: Option<Reference>,
    closing: bool,
    gesture: Gesture,
    last_press: Option<Press>,
    sketch: Option<Sketch>,
    given_up: Option<Sketch>,
    pair: Option<(usize, usize)>,
    across: f64,
    finding: Option<Finding>,
    faulty: BTreeSet<(usize, usize)>,
    preview: Option<Preview>,
    pins: Pins,
    worst_blend: Option<WorstBlend>,
    showing: showing::Showing,
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
        let mut board = Self {
            document: Document::new(family)?,
            view: View::default(),
            hand,
            active,
            chosen: BTreeSet::new(),
            hover: None,
            snapping: false,
            chosen_grid: None,
            tolerance: None,
            about_middle: false,
            looks: Looks::default(),
            cursor: None,
            reference: None,
            closing,
            gesture: Gesture::None,
            last_press: None,
            sketch: None,
            given_up: None,
            pair,
            across: 0.5,
            finding: None,
            faulty: BTreeSet::new(),
            preview: None,
            pins: Pins::default(),
            worst_blend: None,
            showing: showing::Showing::default(),
            changes: Changes::ALL,
        };
        board.note_faulty();
        Ok(board)
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

    /// Chooses what the pointer does; a sketch in hand becomes a profile if it
    /// has nodes enough.
    pub fn set_hand(&mut self, hand: Hand) {
        self.let_go();
        self.keep_sketch();
        self.cursor = None;
        if matches!(hand, Hand::Place | Hand::Stroke) {
            // A new profile begins: keys no longer mean nodes of an old one.
            self.chosen.clear();
        }
        self.hand = hand;
        self.hover = None;
        self.changed(Changes(Changes::SELECTION.0 | Changes::VIEW.0));
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
        self.given_up = None;
        if self.pair.is_some_and(|(_, second)| count <= second) {
            self.pair = None;
        }
        if self.pair.is_none() && 1 < count {
            self.pair = Some((0, 1));
        }
        self.finding = None;
        self.worst_blend = None;
        self.note_faulty();
        self.follow_pins();
        self.changed(Changes(Changes::ALL.0 & !Changes::VIEW.0));
    }
}
