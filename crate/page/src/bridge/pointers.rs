//! Pointers over the board.

use super::Bridge;
use crate::board::{Contact, Pointer};
use nalgebra::Point2;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// A pointer is pressed.
    pub fn press(&mut self, pointer: &PointerMessage) -> Result<(), JsError> {
        Ok(self.board.press(pointer.0)?)
    }

    /// A pointer moves.
    pub fn steer(&mut self, pointer: &PointerMessage) -> Result<(), JsError> {
        Ok(self.board.steer(pointer.0)?)
    }

    /// A pointer is released; gives a sentence to show, if any.
    pub fn release(&mut self, pointer: &PointerMessage) -> Result<Option<String>, JsError> {
        Ok(self.board.release(pointer.0)?)
    }

    /// The system took the pointers away.
    pub fn abandon(&mut self) {
        self.board.abandon();
    }
}

/// One pointer event.
#[wasm_bindgen(js_name = BoardPointer)]
pub struct PointerMessage(Pointer);

#[wasm_bindgen(js_class = BoardPointer)]
impl PointerMessage {
    /// Which pointer; where in pixels; whether a finger; whether it adds to
    /// the choice; whether it pans; when in milliseconds.
    #[wasm_bindgen(constructor)]
    pub fn new(
        id: i32,
        x: f64,
        y: f64,
        finger: bool,
        beside: bool,
        panning: bool,
        time: f64,
    ) -> Self {
        Self(Pointer {
            id,
            at: Point2::new(x, y),
            contact: if finger {
                Contact::Finger
            } else {
                Contact::Fine
            },
            beside,
            panning,
            time,
        })
    }
}
