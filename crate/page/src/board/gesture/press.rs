//! What a press takes hold of, hand by hand.

use super::drag::{Held, Tap};
use super::{Contact, Gesture, Pointer, Press, pan};
use crate::board::{Board, BoardError, Reference};
use loftkin_editor::grip::{Bounds, Grip};
use loftkin_editor::hit::{self, Hit};
use nalgebra::Point2;
use std::collections::BTreeSet;

impl Board {
    /// What lies under the pointer.
    pub(super) fn under(&self, pointer: &Pointer) -> Option<Hit> {
        hit::at(
            &self.document,
            &self.view,
            (self.active, &self.chosen),
            pointer.at,
            pointer.reach(),
        )
    }

    /// What lies under the pointer that scales: a grip, the inside of its box,
    /// or another profile.
    pub(super) fn under_to_scale(&self, pointer: &Pointer) -> Option<Hit> {
        if let (Some(profile), Some(bounds)) = (self.active, self.scale_bounds()) {
            if let Some(grip) = bounds.grip_at(&self.view, pointer.at, pointer.reach()) {
                return Some(Hit::Grip { profile, grip });
            }
            if bounds.holds(&self.view, pointer.at) {
                return Some(Hit::Inside { profile });
            }
        }
        self.under(pointer)
    }

    /// The box around the nodes of the active profile that its grips stand at.
    pub fn scale_bounds(&self) -> Option<Bounds> {
        Bounds::of_nodes(self.document.profile(self.active?)?)
    }

    pub(super) fn press_to_move(&mut self, pointer: Pointer) -> Result<(), BoardError> {
        let double = self.is_double(&pointer);
        let under = self.under(&pointer);
        match under {
            Some(Hit::Curve { profile, span, t }) if double => {
                self.activate(profile);
                self.last_press = None;
                return self.insert(span, t);
            }
            Some(Hit::Node { profile, node }) if Some(profile) == self.active => {
                self.let_go();
                let tap = if pointer.beside || !self.chosen.contains(&node) {
                    self.choose(node, pointer.beside);
                    Tap::Nothing
                } else {
                    Tap::Only(node)
                };
                let which = self.chosen.clone();
                self.gesture = self.drag(&pointer, profile, which, Held::Node(node), tap);
            }
            Some(Hit::Handle { profile, handle }) => {
                self.let_go();
                let which = self.chosen.clone();
                self.gesture =
                    self.drag(&pointer, profile, which, Held::Handle(handle), Tap::Nothing);
            }
            Some(Hit::Curve { profile, .. })
                if Some(profile) == self.active && pointer.contact == Contact::Fine =>
            {
                self.let_go();
                self.hold_all(&pointer, profile, Tap::None);
            }
            Some(Hit::Seam { profile }) => {
                self.let_go();
                // Dragging it gives the nodes other numbers.
                self.choose_none();
                let seam = BTreeSet::from([0]);
                self.gesture = self.drag(&pointer, profile, seam, Held::Seam, Tap::Nothing);
            }
            _ if pointer.beside && pointer.contact == Contact::Fine => {
                self.gesture = frame(&pointer, under);
            }
            _ => self.hold_other_or_pan(&pointer, under),
        }
        Ok(())
    }

    pub(super) fn is_double(&mut self, pointer: &Pointer) -> bool {
        let press = Press {
            at: pointer.at,
            time: pointer.time,
        };
        let before = self.last_press.replace(press);
        before.is_some_and(|before| pointer.doubles(&before))
    }

    /// In the hand that places nodes: the next node of the sketch. Where none
    /// is in hand yet, a node of the active profile can be dragged: whoever
    /// has just drawn it wants to mend it.
    pub(super) fn press_to_place(&mut self, pointer: Pointer) -> Result<(), BoardError> {
        match self.under_to_place(&pointer) {
            Some(Hit::Node { profile, node }) => {
                self.let_go();
                let one = BTreeSet::from([node]);
                self.gesture = self.drag(&pointer, profile, one, Held::Node(node), Tap::Place);
                Ok(())
            }
            _ => self.place_node(&pointer),
        }
    }

    /// The node under the pointer that can be dragged before a sketch is begun.
    pub(super) fn under_to_place(&self, pointer: &Pointer) -> Option<Hit> {
        let active = self.active.filter(|_| self.sketch.is_none())?;
        let own = |hit: &Hit| matches!(hit, Hit::Node { profile, .. } if *profile == active);
        self.under(pointer).filter(own)
    }

    /// Sets the next node of the sketch under the pointer.
    pub(super) fn place_node(&mut self, pointer: &Pointer) -> Result<(), BoardError> {
        let at = self.snapped(self.view.to_mm(pointer.at))?;
        self.sketch_node(at, pointer.reach() / self.view.scale)
    }

    /// In the hand that frames: a node is added or left out, or drags all that are chosen.
    pub(super) fn press_to_choose(&mut self, pointer: Pointer) {
        match self.under(&pointer) {
            Some(Hit::Node { profile, node }) if Some(profile) == self.active => {
                self.let_go();
                let tap = if self.chosen.contains(&node) {
                    Tap::Leave(node)
                } else {
                    self.choose(node, true);
                    Tap::Nothing
                };
                let which = self.chosen.clone();
                self.gesture = self.drag(&pointer, profile, which, Held::Node(node), tap);
            }
            under => self.gesture = frame(&pointer, under),
        }
    }

    /// In the hand that scales: a grip, the whole profile, or another profile.
    pub(super) fn press_to_scale(&mut self, pointer: Pointer) {
        match self.under_to_scale(&pointer) {
            Some(Hit::Grip { profile, grip }) => {
                self.let_go();
                let Some(bounds) = self.scale_bounds() else {
                    return;
                };
                let held = Held::Grip { grip, bounds };
                let all = self.all_nodes(profile);
                self.gesture = self.drag(&pointer, profile, all, held, Tap::Nothing);
            }
            Some(Hit::Inside { profile }) => {
                self.let_go();
                self.hold_all(&pointer, profile, Tap::Under);
            }
            under => self.hold_other_or_pan(&pointer, under),
        }
    }

    /// In the hand for the reference picture: it, or one of its grips.
    pub(super) fn press_on_picture(&mut self, pointer: Pointer) {
        let Some(before) = self.reference().copied() else {
            self.gesture = pan(&pointer, None);
            return;
        };
        let bounds = before.bounds();
        let grip = bounds.grip_at(&self.view, pointer.at, pointer.reach());
        self.gesture = if grip.is_some() || bounds.holds(&self.view, pointer.at) {
            Gesture::Picture {
                pointer: pointer.id,
                from: pointer.at,
                before,
                grip,
            }
        } else {
            pan(&pointer, None)
        };
    }

    /// Moves or pulls the picture that was `before` when the pointer was pressed.
    pub(super) fn steer_picture(
        &mut self,
        before: Reference,
        grip: Option<Grip>,
        (from, to): (Point2<f64>, Point2<f64>),
    ) {
        let moved = self.view.to_mm(to) - self.view.to_mm(from);
        let after = match grip {
            Some(grip) => before.pulled(grip, before.bounds().place(grip) + moved),
            None => Reference {
                low: before.low + moved,
                ..before
            },
        };
        self.put_reference(Some(after));
    }

    fn all_nodes(&self, profile: usize) -> BTreeSet<usize> {
        (0..self.family().profiles[profile].node_count()).collect()
    }

    /// A mouse or pen takes another profile with it, as a whole, for its nodes
    /// are not shown yet; a finger, which seldom finds a place between curves,
    /// chooses it by a tap and moves what is seen otherwise.
    fn hold_other_or_pan(&mut self, pointer: &Pointer, under: Option<Hit>) {
        match under {
            Some(hit) if Some(hit.profile()) != self.active && pointer.contact == Contact::Fine => {
                self.let_go();
                self.activate(hit.profile());
                self.hold_all(pointer, hit.profile(), Tap::Nothing);
            }
            under => self.gesture = pan(pointer, under),
        }
    }

    fn hold_all(&mut self, pointer: &Pointer, profile: usize, tap: Tap) {
        let all = self.all_nodes(profile);
        self.gesture = self.drag(pointer, profile, all, Held::All, tap);
    }
}

fn frame(pointer: &Pointer, under: Option<Hit>) -> Gesture {
    Gesture::Frame {
        pointer: pointer.id,
        from: pointer.at,
        to: pointer.at,
        beside: pointer.beside,
        under,
    }
}
