//! Pointers on the board: press, move, release, for mouse, pen and touch alike.
//!
//! One pointer drags, pans or sketches; two pinch. A gesture that changes the
//! family is one step of the history, recorded when it ends.

mod drag;
mod pointer;
mod press;
mod two_fingers;

pub(super) use drag::Drag;
pub(super) use pointer::Press;
pub use pointer::{Contact, Pointer};

use super::{Board, BoardError, Changes, Hand, Reference};
use loftkin_editor::grip::Grip;
use loftkin_editor::hit::Hit;
use nalgebra::Point2;

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
    /// A frame drawn around nodes, to choose them.
    Frame {
        pointer: i32,
        from: Point2<f64>,
        to: Point2<f64>,
        beside: bool,
        under: Option<Hit>,
    },
    /// The reference picture, moved or pulled by a grip.
    Picture {
        pointer: i32,
        from: Point2<f64>,
        before: Reference,
        grip: Option<Grip>,
    },
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
            Hand::Place => self.press_to_place(pointer),
            Hand::Stroke => {
                let start = self.view.to_mm(pointer.at);
                self.sketch.get_or_insert_default().stroke = vec![start];
                self.gesture = Gesture::Stroke {
                    pointer: pointer.id,
                };
                Ok(())
            }
            Hand::Move => self.press_to_move(pointer),
            Hand::Frame => {
                self.press_to_choose(pointer);
                Ok(())
            }
            Hand::Scale => {
                self.press_to_scale(pointer);
                Ok(())
            }
            Hand::Picture => {
                self.press_on_picture(pointer);
                Ok(())
            }
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
                return self.drag_to(pointer);
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
            Gesture::Frame {
                pointer: id, to, ..
            } if *id == pointer.id => {
                *to = pointer.at;
                self.changed(Changes::VIEW);
            }
            Gesture::Picture {
                pointer: id,
                from,
                before,
                grip,
            } if *id == pointer.id => {
                let (from, before, grip) = (*from, *before, *grip);
                self.steer_picture(before, grip, (from, pointer.at));
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
                self.end_drag(&drag, &pointer)?;
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
            Gesture::Stroke { pointer: id } if id == pointer.id => self.end_stroke().map(Some),
            Gesture::Frame {
                pointer: id,
                from,
                beside,
                under,
                ..
            } if id == pointer.id => {
                if (pointer.at - from).norm() <= STILL {
                    self.press_on(under);
                } else {
                    self.choose_within(from, pointer.at, beside);
                }
                Ok(None)
            }
            Gesture::Picture { pointer: id, .. } if id == pointer.id => Ok(None),
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
        if let Gesture::Picture { before, .. } = self.gesture {
            self.put_reference(Some(before));
        }
        if matches!(self.gesture, Gesture::Frame { .. }) {
            self.changed(Changes::VIEW);
        }
        self.gesture = Gesture::None;
        if stroke {
            self.sketch = None;
            self.changed(Changes::SELECTION);
        }
        if drag {
            self.let_go();
        }
    }

    /// The frame being drawn around nodes: two opposite corners, in pixels.
    pub fn frame(&self) -> Option<[Point2<f64>; 2]> {
        match self.gesture {
            Gesture::Frame { from, to, .. } => Some([from, to]),
            _ => None,
        }
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
            self.cursor = None;
            sketch.pointer = Some(self.view.to_mm(pointer.at));
            self.changed(Changes::VIEW);
            return;
        }
        let hover = match self.hand {
            Hand::Move | Hand::Frame => self.under(&pointer),
            Hand::Scale => self.under_to_scale(&pointer),
            Hand::Place => self.under_to_place(&pointer),
            Hand::Stroke | Hand::Picture => None,
        };
        if hover != self.hover {
            self.hover = hover;
            self.changed(Changes::VIEW);
        }
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
