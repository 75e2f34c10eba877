//! The one object that the page calls.
//!
//! Every method is a plain call with plain values; errors arrive in the page
//! as `Error` with a whole sentence. Nothing is decided here. Each concern has
//! a file of its own with its part of the object.

mod documents;
mod drawing;
mod history;
mod links;
mod loft;
mod painting;
mod pairs;
mod pointers;
mod reference;
mod report;
mod reshape;
mod sheet;
mod sketch;
mod steps;
mod trials;
mod view;
mod why;

pub use loft::SurfaceMessage;
pub use pointers::PointerMessage;

use crate::board::Board;
use crate::scene::Ink;
use loftkin_kernel::family::Family;
use serde::Serialize;
use wasm_bindgen::prelude::*;

/// The drawing board with its colours.
#[wasm_bindgen(js_name = Board)]
pub struct Bridge {
    board: Board,
    colours: Vec<String>,
}

fn as_value(message: &impl Serialize) -> JsValue {
    // Messages are plain records of numbers and strings, which always convert.
    serde_wasm_bindgen::to_value(message).unwrap_or(JsValue::NULL)
}

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// An empty board.
    #[wasm_bindgen(constructor)]
    pub fn new() -> Result<Self, JsError> {
        Ok(Self {
            board: Board::new(Family::default())?,
            colours: vec![String::from("gray"); Ink::COUNT],
        })
    }
}
