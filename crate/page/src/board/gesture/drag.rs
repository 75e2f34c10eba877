//! Dragging what the pointer holds of a profile, judged at every move.

use super::{Gesture, Pointer};
use crate::board::{Board, BoardError, Changes};
use crate::edit::{self, Handle};
use loftkin_kernel::grid::STEPS_PER_MM;
use loftkin_kernel::profile::Profile;
use nalgebra::Point2;
use std::collections::BTreeSet;

/// What the pointer holds of a profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Held {
    /// The chosen nodes by this one, which keeps to the visible grid.
    Node(usize),
    /// One handle of an exact path.
    Handle(Handle),
    /// The whole profile.
    All,
}

/// Nodes under the pointer.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::board) struct Drag {
    pub(super) pointer: i32,
    pub(super) from: Point2<f64>,
    profile: usize,
    before: Profile,
    which: BTreeSet<usize>,
    held: Held,
    pub(super) moving: bool,
}

impl Board {
    /// Whether a gesture is changing the family at this moment.
    pub fn is_dragging(&self) -> bool {
        matches!(&self.gesture, Gesture::Drag(drag) if drag.moving)
    }

    pub(super) fn drag(
        &self,
        pointer: &Pointer,
        profile: usize,
        which: BTreeSet<usize>,
        held: Held,
    ) -> Gesture {
        Gesture::Drag(Drag {
            pointer: pointer.id,
            from: pointer.at,
            profile,
            before: self.family().profiles[profile].clone(),
            which,
            held,
            moving: false,
        })
    }

    pub(super) fn drag_to(&mut self, at: Point2<f64>) -> Result<(), BoardError> {
        let Gesture::Drag(drag) = &self.gesture else {
            return Ok(());
        };
        if !drag.moving {
            return Ok(());
        }
        let moved = self.view.to_mm(at) - self.view.to_mm(drag.from);
        let steps = moved * STEPS_PER_MM;
        let by_pointer = (steps.x.round() as i32, steps.y.round() as i32);
        let profile = drag.profile;
        let changed = match drag.held {
            Held::Handle(handle) => {
                edit::shift_handle(&drag.before, handle, by_pointer.0, by_pointer.1)?
            }
            Held::All => edit::shift(&drag.before, &drag.which, by_pointer.0, by_pointer.1)?,
            Held::Node(node) => {
                let joints = edit::joints(&drag.before);
                let at = joints.get(node).map(|joint| joint.at).unwrap_or_default();
                let (x, y) = at.to_mm();
                let to = self.snapped(Point2::new(x, y) + moved)?;
                edit::shift(&drag.before, &drag.which, to.x - at.x, to.y - at.y)?
            }
        };
        self.document.replace(profile, changed)?;
        self.drawn();
        Ok(())
    }

    pub(super) fn end_drag(&mut self, drag: &Drag) {
        if !drag.moving {
            if drag.held == Held::All {
                self.choose_none();
            }
            return;
        }
        let number = drag.profile + 1;
        let all = drag.which.len() == drag.before.node_count();
        let step = match drag.which.iter().next() {
            _ if matches!(drag.held, Held::Handle(_)) => {
                format!("Move a handle of profile {number}")
            }
            _ if all => format!("Move profile {number}"),
            Some(node) if drag.which.len() == 1 => {
                format!("Move node {} of profile {number}", node + 1)
            }
            _ => format!("Move {} nodes of profile {number}", drag.which.len()),
        };
        self.document.record(&step);
        self.changed(Changes(
            Changes::HISTORY.0 | Changes::DRAWING.0 | Changes::PAIR.0,
        ));
    }
}
