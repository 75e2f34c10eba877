//! The active profile scaled, turned and shifted by figures, and copies that vary.

use super::Bridge;
use crate::board::{BoardError, Copies};
use loftkin_editor::edit::{About, Reshape};
use nalgebra::Vector2;
use serde::Deserialize;
use wasm_bindgen::prelude::*;

/// The figures of the form.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "camelCase")]
struct ReshapeMessage {
    /// What stays in place: "middle", "foot", "start", "end", "origin" or "chosen".
    about: String,
    /// In percent.
    width: f64,
    /// In percent.
    height: f64,
    /// In degrees, anticlockwise.
    turn: f64,
    /// To the right, in mm.
    right: f64,
    /// Upward, in mm.
    up: f64,
}

impl Bridge {
    fn reshape_of(&self, message: JsValue) -> Result<Reshape, JsError> {
        let message: ReshapeMessage = serde_wasm_bindgen::from_value(message)?;
        let about = match message.about.as_str() {
            "foot" => About::Foot,
            "start" => About::Start,
            "end" => About::End,
            "origin" => About::Origin,
            "chosen" => About::Place(self.board.middle_of_chosen().ok_or(BoardError::NoNode)?),
            _ => About::Middle,
        };
        Ok(Reshape {
            about,
            scale: Vector2::new(message.width, message.height) / 100.0,
            turn: message.turn,
            shift: Vector2::new(message.right, message.up),
        })
    }
}

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Scales, turns and shifts the active profile.
    pub fn reshape(&mut self, figures: JsValue) -> Result<(), JsError> {
        let change = self.reshape_of(figures)?;
        Ok(self.board.reshape(&change)?)
    }

    /// Adds copies of the active profile, each changed once more than the one
    /// before; nodes wander by chance, by so many mm at most.
    #[wasm_bindgen(js_name = addCopies)]
    pub fn add_copies(&mut self, figures: JsValue, count: u32, wander: f64) -> Result<(), JsError> {
        let change = self.reshape_of(figures)?;
        Ok(self.board.add_copies(&Copies {
            count,
            change,
            wander,
        })?)
    }

    /// Width and height between the nodes of the active profile in mm, or nothing.
    #[wasm_bindgen(js_name = profileSize)]
    pub fn profile_size(&self) -> Vec<f64> {
        self.board.scale_bounds().map_or_else(Vec::new, |bounds| {
            let size = bounds.high - bounds.low;
            vec![size.x, size.y]
        })
    }

    /// Whether grips scale about the middle.
    #[wasm_bindgen(js_name = aboutMiddle)]
    pub fn about_middle(&self) -> bool {
        self.board.about_middle()
    }

    /// Makes grips scale about the middle, or about the opposite end.
    #[wasm_bindgen(js_name = setAboutMiddle)]
    pub fn set_about_middle(&mut self, about_middle: bool) {
        self.board.set_about_middle(about_middle);
    }
}
