//! What stands on the board: profiles, nodes and what is chosen.

use super::{Bridge, as_value};
use crate::board::Hand;
use crate::message;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// Names, settings and counts of the family.
    pub fn family(&self) -> JsValue {
        as_value(&message::family(&self.board))
    }

    /// The active profile, if any.
    pub fn active(&self) -> Option<usize> {
        self.board.active()
    }

    /// x, y and corner (1 or 0) of each node of the active profile.
    pub fn nodes(&self) -> Vec<f64> {
        message::nodes(&self.board)
    }

    /// The chosen nodes of the active profile.
    #[wasm_bindgen(js_name = chosenNodes)]
    pub fn chosen_nodes(&self) -> Vec<u32> {
        self.board
            .chosen()
            .iter()
            .map(|&node| node as u32)
            .collect()
    }

    /// The hand: 0 move, 1 place, 2 stroke, 3 frame, 4 scale, 5 picture.
    pub fn hand(&self) -> u32 {
        self.board.hand() as u32
    }

    /// How many nodes the sketch in hand has.
    #[wasm_bindgen(js_name = sketchNodes)]
    pub fn sketch_nodes(&self) -> usize {
        self.board.sketch().map_or(0, |sketch| sketch.nodes.len())
    }

    /// Whether something under the pointer can be taken hold of.
    #[wasm_bindgen(js_name = isOverSomething)]
    pub fn is_over_something(&self) -> bool {
        self.board.hover().is_some()
    }

    /// Whether a drag is changing the family.
    #[wasm_bindgen(js_name = isDragging)]
    pub fn is_dragging(&self) -> bool {
        self.board.is_dragging()
    }

    /// Chooses the hand, by its number.
    #[wasm_bindgen(js_name = setHand)]
    pub fn set_hand(&mut self, hand: usize) {
        if let Some(&hand) = Hand::ALL.get(hand) {
            self.board.set_hand(hand);
        }
    }

    /// Chooses whether the first profile will be closed.
    #[wasm_bindgen(js_name = setClosing)]
    pub fn set_closing(&mut self, closing: bool) {
        self.board.set_closing(closing);
    }

    /// Makes a profile active.
    pub fn activate(&mut self, index: usize) {
        self.board.activate(index);
    }

    /// Chooses a node.
    pub fn choose(&mut self, node: usize, beside: bool) {
        self.board.choose(node, beside);
    }

    /// Chooses no node.
    #[wasm_bindgen(js_name = chooseNone)]
    pub fn choose_none(&mut self) {
        self.board.choose_none();
    }

    /// Chooses the next or the previous node, alone or beside the chosen ones.
    #[wasm_bindgen(js_name = chooseNext)]
    pub fn choose_next(&mut self, forward: bool, beside: bool) {
        self.board.choose_next(forward, beside);
    }

    /// Chooses all nodes of the active profile.
    #[wasm_bindgen(js_name = chooseAll)]
    pub fn choose_all(&mut self) {
        self.board.choose_all();
    }

    /// Makes the next or the previous profile active.
    #[wasm_bindgen(js_name = activateNext)]
    pub fn activate_next(&mut self, forward: bool) {
        self.board.activate_next(forward);
    }
}
