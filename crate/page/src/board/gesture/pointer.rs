//! One pointer event: mouse, pen or finger, and how near it must come to hit.

use nalgebra::Point2;

/// How near a mouse or pen must come to hit, in pixels: a target of 24 pixels
/// (Web Content Accessibility Guidelines 2.2, success criterion 2.5.8).
const FINE_REACH: f64 = 12.0;
/// How near a finger must come to hit, in pixels: a target of 44 (criterion 2.5.5).
const FINGER_REACH: f64 = 22.0;
/// Two presses within this time, in milliseconds, are a double press.
const DOUBLE_PRESS: f64 = 400.0;

/// How a pointer touches the board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Contact {
    /// Mouse or pen.
    #[default]
    Fine,
    /// A finger.
    Finger,
}

/// One pointer event.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pointer {
    /// Which pointer.
    pub id: i32,
    /// Where, in pixels of the board.
    pub at: Point2<f64>,
    /// How it touches.
    pub contact: Contact,
    /// Whether it adds to what is chosen (Shift).
    pub beside: bool,
    /// Whether it pans whatever it hits (middle button, space bar).
    pub panning: bool,
    /// When, in milliseconds.
    pub time: f64,
}

impl Pointer {
    pub(super) fn reach(&self) -> f64 {
        match self.contact {
            Contact::Fine => FINE_REACH,
            Contact::Finger => FINGER_REACH,
        }
    }

    /// Whether this press, after `before`, makes a double press.
    pub(super) fn doubles(&self, before: &Press) -> bool {
        self.time - before.time <= DOUBLE_PRESS && (self.at - before.at).norm() <= self.reach()
    }
}

/// The last press, to know a double press.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::board) struct Press {
    pub(super) at: Point2<f64>,
    pub(super) time: f64,
}
