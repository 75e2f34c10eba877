//! Dragging what the pointer holds of a profile, judged at every move.

use super::{Gesture, Pointer};
use crate::board::{Board, BoardError, Changes};
use loftkin_editor::edit::{self, About, Handle, Reshape};
use loftkin_editor::grip::{Bounds, Grip};
use loftkin_editor::hit::pixel;
use loftkin_kernel::grid::STEPS_PER_MM;
use loftkin_kernel::profile::Profile;
use nalgebra::{Point2, Vector2};
use std::collections::BTreeSet;

/// What the pointer holds of a profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Held {
    /// The chosen nodes by this one, which keeps to the visible grid.
    Node(usize),
    /// One handle of an exact path.
    Handle(Handle),
    /// The mark of the seam, which goes to the node nearest to the pointer.
    Seam,
    /// A grip of the box around the profile, as the box was.
    Grip { grip: Grip, bounds: Bounds },
    /// The whole profile.
    All,
}

/// What a press does that is let go without a move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tap {
    /// No more than it did.
    Nothing,
    /// Chooses this node alone.
    Only(usize),
    /// Leaves this node out of the choice.
    Leave(usize),
    /// Chooses no node.
    None,
    /// Makes the profile active that lies under it.
    Under,
    /// Sets the first node of a new profile.
    Place,
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
    tap: Tap,
    pub(super) moving: bool,
}

impl Board {
    /// Whether a gesture is changing the family at this moment.
    pub fn is_dragging(&self) -> bool {
        matches!(&self.gesture, Gesture::Drag(drag) if drag.moving)
    }

    /// Whether the seam is being dragged.
    pub fn is_dragging_seam(&self) -> bool {
        matches!(&self.gesture, Gesture::Drag(drag) if drag.moving && drag.held == Held::Seam)
    }

    pub(super) fn drag(
        &self,
        pointer: &Pointer,
        profile: usize,
        which: BTreeSet<usize>,
        held: Held,
        tap: Tap,
    ) -> Gesture {
        Gesture::Drag(Drag {
            pointer: pointer.id,
            from: pointer.at,
            profile,
            before: self.family().profiles[profile].clone(),
            which,
            held,
            tap,
            moving: false,
        })
    }

    pub(super) fn drag_to(&mut self, pointer: Pointer) -> Result<(), BoardError> {
        let Gesture::Drag(drag) = &self.gesture else {
            return Ok(());
        };
        if !drag.moving {
            return Ok(());
        }
        let moved = self.view.to_mm(pointer.at) - self.view.to_mm(drag.from);
        let profile = drag.profile;
        let changed = match drag.held {
            Held::Handle(handle) => {
                let (dx, dy) = steps(moved);
                edit::shift_handle(&drag.before, handle, dx, dy)?
            }
            Held::All => {
                let (dx, dy) = steps(self.whole_grid_steps(moved));
                edit::shift(&drag.before, &drag.which, dx, dy)?
            }
            Held::Node(node) => {
                let joints = edit::joints(&drag.before);
                let at = joints.get(node).map(|joint| joint.at).unwrap_or_default();
                let (x, y) = at.to_mm();
                let to = self.snapped(Point2::new(x, y) + moved)?;
                edit::shift(&drag.before, &drag.which, to.x - at.x, to.y - at.y)?
            }
            Held::Seam => {
                let seam = self.nearest_node(&drag.before, pointer.at);
                let turned = drag.before.with_seam(seam);
                turned.map_err(edit::EditError::from)?
            }
            Held::Grip { grip, bounds } => {
                let to = bounds.place(grip) + moved;
                let to = if self.snapping { self.on_grid(to) } else { to };
                let stretch = bounds.stretch(grip, to, self.about_middle, pointer.beside);
                let change = Reshape {
                    about: About::Place(stretch.about),
                    scale: stretch.scale,
                    ..Reshape::NONE
                };
                edit::reshape(&drag.before, &change)?
            }
        };
        self.document.replace(profile, changed)?;
        self.drawn();
        Ok(())
    }

    pub(super) fn end_drag(&mut self, drag: &Drag, pointer: &Pointer) -> Result<(), BoardError> {
        if !drag.moving {
            return self.tap(drag.tap, pointer);
        }
        self.document.record(&step(drag));
        self.changed(Changes(
            Changes::HISTORY.0 | Changes::DRAWING.0 | Changes::PAIR.0 | Changes::SELECTION.0,
        ));
        self.show_new_fault();
        Ok(())
    }

    fn tap(&mut self, tap: Tap, pointer: &Pointer) -> Result<(), BoardError> {
        match tap {
            Tap::Nothing => {}
            Tap::Only(node) => self.choose(node, false),
            Tap::Leave(node) => self.choose(node, true),
            Tap::None => self.choose_none(),
            Tap::Under => {
                if let Some(hit) = self.under(pointer) {
                    self.activate(hit.profile());
                }
            }
            Tap::Place => return self.place_node(pointer),
        }
        Ok(())
    }

    /// A movement in mm, in whole steps of the visible grid if nodes keep to it.
    fn whole_grid_steps(&self, moved: Vector2<f64>) -> Vector2<f64> {
        if self.snapping {
            self.on_grid(Point2::from(moved)).coords
        } else {
            moved
        }
    }

    fn nearest_node(&self, profile: &Profile, screen: Point2<f64>) -> usize {
        let joints = edit::joints(profile);
        let distance = |index: &usize| (pixel(&self.view, joints[*index].at) - screen).norm();
        (0..joints.len())
            .min_by(|a, b| distance(a).total_cmp(&distance(b)))
            .unwrap_or(0)
    }
}

/// A movement in mm as whole steps of 0.01 mm.
fn steps(moved: Vector2<f64>) -> (i32, i32) {
    let steps = moved * STEPS_PER_MM;
    (steps.x.round() as i32, steps.y.round() as i32)
}

fn step(drag: &Drag) -> String {
    let number = drag.profile + 1;
    let all = drag.which.len() == drag.before.node_count();
    match (drag.held, drag.which.iter().next()) {
        (Held::Handle(_), _) => format!("Move a handle of profile {number}"),
        (Held::Seam, _) => format!("Move the seam of profile {number}"),
        (Held::Grip { .. }, _) => format!("Scale profile {number}"),
        _ if all => format!("Move profile {number}"),
        (_, Some(node)) if drag.which.len() == 1 => {
            format!("Move node {} of profile {number}", node + 1)
        }
        _ => format!("Move {} nodes of profile {number}", drag.which.len()),
    }
}
