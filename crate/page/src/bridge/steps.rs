//! The steps that change the family.

use super::Bridge;
use crate::message::SettingsMessage;
use loftkin_editor::edit::Mirror;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Names the family (no index) or a profile.
    pub fn rename(&mut self, index: Option<usize>, name: &str) {
        self.board.rename(index, name);
    }

    /// Changes the settings.
    #[wasm_bindgen(js_name = setSettings)]
    pub fn set_settings(&mut self, settings: JsValue) -> Result<(), JsError> {
        let message: SettingsMessage = serde_wasm_bindgen::from_value(settings)?;
        Ok(self.board.set_settings(message.settings())?)
    }

    /// Puts a node at x, y mm.
    #[wasm_bindgen(js_name = putNode)]
    pub fn put_node(&mut self, node: usize, x: f64, y: f64) -> Result<(), JsError> {
        Ok(self.board.put_node(node, x, y)?)
    }

    /// Moves the chosen nodes by steps of 0.01 mm.
    pub fn nudge(&mut self, dx: i32, dy: i32) -> Result<(), JsError> {
        Ok(self.board.nudge(dx, dy)?)
    }

    /// Makes a node a corner or smooth.
    #[wasm_bindgen(js_name = setCorner)]
    pub fn set_corner(&mut self, node: usize, corner: bool) -> Result<(), JsError> {
        Ok(self.board.set_corner(node, corner)?)
    }

    /// Makes the chosen nodes corners, or smooth.
    #[wasm_bindgen(js_name = toggleCorner)]
    pub fn toggle_corner(&mut self) -> Result<(), JsError> {
        Ok(self.board.toggle_corner()?)
    }

    /// Adds a node after the chosen one.
    #[wasm_bindgen(js_name = insertAfter)]
    pub fn insert_after(&mut self) -> Result<(), JsError> {
        Ok(self.board.insert_after()?)
    }

    /// Deletes the chosen nodes.
    #[wasm_bindgen(js_name = deleteNodes)]
    pub fn delete_nodes(&mut self) -> Result<(), JsError> {
        Ok(self.board.delete_nodes()?)
    }

    /// Reverses the active profile.
    pub fn reverse(&mut self) -> Result<(), JsError> {
        Ok(self.board.reverse()?)
    }

    /// Mirrors the active profile left to right, or top to bottom.
    pub fn mirror(&mut self, upright: bool) -> Result<(), JsError> {
        let way = if upright {
            Mirror::Upright
        } else {
            Mirror::Sideways
        };
        Ok(self.board.mirror(way)?)
    }

    /// Moves the seam to the chosen node.
    #[wasm_bindgen(js_name = moveSeam)]
    pub fn move_seam(&mut self) -> Result<(), JsError> {
        Ok(self.board.move_seam()?)
    }

    /// Copies the active profile.
    #[wasm_bindgen(js_name = copyProfile)]
    pub fn copy_profile(&mut self) -> Result<(), JsError> {
        Ok(self.board.copy_profile()?)
    }

    /// Deletes the active profile.
    #[wasm_bindgen(js_name = deleteProfile)]
    pub fn delete_profile(&mut self) -> Result<(), JsError> {
        Ok(self.board.delete_profile()?)
    }

    /// Moves the active profile one place.
    pub fn reorder(&mut self, later: bool) -> Result<(), JsError> {
        Ok(self.board.reorder(later)?)
    }

    /// Turns an exact path into nodes and says how near they keep to it.
    #[wasm_bindgen(js_name = pathToNodes)]
    pub fn path_to_nodes(&mut self) -> Result<String, JsError> {
        let (count, deviation) = self.board.path_to_nodes()?;
        Ok(format!(
            "{count} nodes keep within {deviation:.3} mm of the path."
        ))
    }
}
