//! The history: a step back, a step again, and their names.

use super::Bridge;
use crate::board::history;
use wasm_bindgen::prelude::*;

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// The name of what undo would take back, were it asked now.
    #[wasm_bindgen(js_name = undoStep)]
    pub fn undo_step(&self) -> Option<String> {
        self.board.undo_step().map(str::to_owned)
    }

    /// The name of the step that redo would take again.
    #[wasm_bindgen(js_name = redoStep)]
    pub fn redo_step(&self) -> Option<String> {
        self.board.document().redo_step().map(str::to_owned)
    }

    /// Goes one step back and gives its name.
    pub fn undo(&mut self) -> Option<String> {
        self.board.undo()
    }

    /// Takes an undone step again and gives its name.
    pub fn redo(&mut self) -> Option<String> {
        self.board.redo()
    }

    /// The states of this work after the first `from` steps of all, for
    /// [`Self::resume_steps`]: of each a line with its family as a share code and
    /// one with the step that led to it.
    #[wasm_bindgen(js_name = keptSteps)]
    pub fn kept_steps(&self, from: usize) -> String {
        history::lines(self.board.document().history(), from)
    }

    /// Which of these states is in force, and after it the numbers of the profiles
    /// of all of them.
    #[wasm_bindgen(js_name = keptNumbers)]
    pub fn kept_numbers(&self, from: usize) -> Vec<u32> {
        history::numbers(self.board.document().history(), from)
    }

    /// Takes up the states that led to the family on the board, and says whether
    /// they did.
    #[wasm_bindgen(js_name = resumeSteps)]
    pub fn resume_steps(&mut self, lines: &str, numbers: &[u32]) -> bool {
        self.board.resume(lines, numbers)
    }

    /// The names of all steps, done and undone, the oldest first.
    pub fn steps(&self) -> Vec<String> {
        self.board.document().steps().map(str::to_owned).collect()
    }

    /// How many of the steps are done.
    #[wasm_bindgen(js_name = stepsDone)]
    pub fn steps_done(&self) -> usize {
        self.board.document().steps_done()
    }

    /// Goes to where so many steps are done.
    #[wasm_bindgen(js_name = goToStep)]
    pub fn go_to_step(&mut self, done: usize) {
        self.board.go_to_step(done);
    }
}
