//! Pointers on the board: press, move, release, for mouse, pen and touch alike.
//!
//! One pointer drags, pans or sketches; two pinch. A gesture that changes the
//! family is one step of the history, recorded when it ends.

mod drag;
mod pointer;

pub(super) use drag::Drag;
use drag::Held;
pub(super) use pointer::Press;
pub use pointer::{Contact, Pointer};

use super::{Board, BoardError, Changes, Hand};
use crate::hit::{self, Hit};
use nalgebra::{Point2, Vector2};

/// How far a pointer must go before a press becomes a drag, in pixels.
const STILL: f64 = 4.0;

/// What the pointers are doing.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) enum Gesture {
    #[default]
    None,
    /// Pressed on something that may be dragged, or let go at once.
    Drag(Drag),
    /// Moves the window; a press without movement chooses `under`.
    Pan {
        pointer: i32,
        from: Point2<f64>,
        last: Point2<f64>,
        under: Option<Hit>,
    },
    /// Two pointers: pan and zoom.
    Pinch([(i32, Point2<f64>); 2]),
    /// A freehand stroke.
    Stroke { pointer: i32 },
}

impl Board {
    /// A pointer is pressed.
    ///
    /// # Errors
    /// What kept a sketch from ending.
    pub fn press(&mut self, pointer: Pointer) -> Result<(), BoardError> {
        if let Some(first) = self.other_pointer(pointer.id) {
            self.abandon();
            self.gesture = Gesture::Pinch([first, (pointer.id, pointer.at)]);
            return Ok(());
        }
        if pointer.panning {
            self.gesture = pan(&pointer, None);
            return Ok(());
        }
        match self.hand {
            Hand::Place => {
                let at = self.snapped(self.view.to_mm(pointer.at))?;
                self.sketch_node(at, pointer.reach() / self.view.scale)
            }
            Hand::Stroke => {
                let start = self.view.to_mm(pointer.at);
                self.sketch.get_or_insert_default().stroke = vec![start];
                self.gesture = Gesture::Stroke {
                    pointer: pointer.id,
                };
                Ok(())
            }
            Hand::Move => self.press_to_move(pointer),
        }
    }

    /// A pointer moves, pressed or not.
    ///
    /// # Errors
    /// A node that would leave the drawing.
    pub fn steer(&mut self, pointer: Pointer) -> Result<(), BoardError> {
        match &mut self.gesture {
            Gesture::None => self.hover_at(pointer),
            Gesture::Drag(drag) if drag.pointer == pointer.id => {
                drag.moving |= STILL < (pointer.at - drag.from).norm();
                return self.drag_to(pointer.at);
            }
            Gesture::Pan {
                pointer: id, last, ..
            } if *id == pointer.id => {
                let moved = pointer.at - *last;
                *last = pointer.at;
                self.pan(moved.x, moved.y);
            }
            Gesture::Pinch(pointers) => {
                let before = *pointers;
                for (id, at) in pointers.iter_mut() {
                    if *id == pointer.id {
                        *at = pointer.at;
                    }
                }
                let after = *pointers;
                self.pinch(before, after);
            }
            Gesture::Stroke { pointer: id } if *id == pointer.id => {
                let at = self.view.to_mm(pointer.at);
                if let Some(sketch) = &mut self.sketch {
                    sketch.stroke.push(at);
                }
                self.changed(Changes::VIEW);
            }
            _ => {}
        }
        Ok(())
    }

    /// A pointer is released. A freehand stroke says what became of it.
    ///
    /// # Errors
    /// What kept a stroke from becoming a profile.
    pub fn release(&mut self, pointer: Pointer) -> Result<Option<String>, BoardError> {
        match std::mem::take(&mut self.gesture) {
            Gesture::Drag(drag) if drag.pointer == pointer.id => {
                self.end_drag(&drag);
                Ok(None)
            }
            Gesture::Pan {
                pointer: id,
                from,
                under,
                ..
            } if id == pointer.id => {
                if (pointer.at - from).norm() <= STILL {
                    self.press_on(under);
                }
                Ok(None)
            }
            Gesture::Pinch(pointers) => {
                // The finger that stays goes on panning.
                if let Some(&(id, at)) = pointers.iter().find(|(id, _)| *id != pointer.id) {
                    self.gesture = Gesture::Pan {
                        pointer: id,
                        from: Point2::new(f64::INFINITY, 0.0),
                        last: at,
                        under: None,
                    };
                }
                Ok(None)
            }
            Gesture::Stroke { pointer: id } if id == pointer.id => {
                let (count, deviation) = self.end_stroke()?;
                Ok(Some(format!(
                    "{count} nodes keep within {deviation:.2} mm of the stroke."
                )))
            }
            other => {
                self.gesture = other;
                Ok(None)
            }
        }
    }

    /// The system took the pointers away: the gesture never happened.
    pub fn abandon(&mut self) {
        let stroke = matches!(self.gesture, Gesture::Stroke { .. });
        let drag = matches!(&self.gesture, Gesture::Drag(drag) if drag.moving);
        self.gesture = Gesture::None;
        if stroke {
            self.sketch = None;
            self.changed(Changes::SELECTION);
        }
        if drag {
            self.let_go();
        }
    }

    fn press_to_move(&mut self, pointer: Pointer) -> Result<(), BoardError> {
        let double = self.is_double(&pointer);
        let under = hit::at(
            &self.document,
            &self.view,
            (self.active, &self.chosen),
            pointer.at,
            pointer.reach(),
        );
        match under {
            Some(Hit::Curve { profile, span, t }) if double => {
                self.activate(profile);
                self.last_press = None;
                return self.insert(span, t);
            }
            Some(Hit::Node { profile, node }) if Some(profile) == self.active => {
                self.let_go();
                if pointer.beside || !self.chosen.contains(&node) {
                    self.choose(node, pointer.beside);
                }
                let which = self.chosen.clone();
                self.gesture = self.drag(&pointer, profile, which, Held::Node(node));
            }
            Some(Hit::Handle { profile, handle }) => {
                self.let_go();
                let which = self.chosen.clone();
                self.gesture = self.drag(&pointer, profile, which, Held::Handle(handle));
            }
            Some(Hit::Curve { profile, .. })
                if Some(profile) == self.active && pointer.contact == Contact::Fine =>
            {
                self.let_go();
                let count = self.family().profiles[profile].node_count();
                self.gesture = self.drag(&pointer, profile, (0..count).collect(), Held::All);
            }
            _ => self.gesture = pan(&pointer, under),
        }
        Ok(())
    }

    fn is_double(&mut self, pointer: &Pointer) -> bool {
        let press = Press {
            at: pointer.at,
            time: pointer.time,
        };
        let before = self.last_press.replace(press);
        before.is_some_and(|before| pointer.doubles(&before))
    }

    /// A press that was let go at once, on another profile or on nothing.
    fn press_on(&mut self, under: Option<Hit>) {
        match under {
            Some(hit) => self.activate(hit.profile()),
            None => self.choose_none(),
        }
    }

    fn hover_at(&mut self, pointer: Pointer) {
        if let (Hand::Place, Some(sketch)) = (self.hand, &mut self.sketch) {
            sketch.pointer = Some(self.view.to_mm(pointer.at));
            self.changed(Changes::VIEW);
            return;
        }
        let hover = (self.hand == Hand::Move)
            .then(|| {
                hit::at(
                    &self.document,
                    &self.view,
                    (self.active, &self.chosen),
                    pointer.at,
                    pointer.reach(),
                )
            })
            .flatten();
        if hover != self.hover {
            self.hover = hover;
            self.changed(Changes::VIEW);
        }
    }

    fn other_pointer(&self, id: i32) -> Option<(i32, Point2<f64>)> {
        let (other, at) = match &self.gesture {
            Gesture::Drag(drag) => (drag.pointer, drag.from),
            Gesture::Pan { pointer, last, .. } => (*pointer, *last),
            Gesture::Stroke { pointer } => {
                let last = self.sketch.as_ref()?.stroke.last()?;
                (*pointer, self.view.to_screen(*last))
            }
            Gesture::None | Gesture::Pinch(_) => return None,
        };
        (other != id).then_some((other, at))
    }

    fn pinch(&mut self, before: [(i32, Point2<f64>); 2], after: [(i32, Point2<f64>); 2]) {
        let middle = |pair: [(i32, Point2<f64>); 2]| nalgebra::center(&pair[0].1, &pair[1].1);
        let spread = |pair: [(i32, Point2<f64>); 2]| (pair[1].1 - pair[0].1).norm().max(1.0);
        let moved: Vector2<f64> = middle(after) - middle(before);
        self.pan(moved.x, moved.y);
        self.zoom(Some(middle(after)), spread(after) / spread(before));
    }
}

fn pan(pointer: &Pointer, under: Option<Hit>) -> Gesture {
    Gesture::Pan {
        pointer: pointer.id,
        from: pointer.at,
        last: pointer.at,
        under,
    }
}
