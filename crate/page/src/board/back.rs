//! Back and forth: undo, redo, any step of the history, and what becomes of
//! what is unfinished: a drag, a remedy on trial, a sketch in hand.

use super::{Board, Changes, Gesture};

impl Board {
    /// Goes one step back and gives its name. What is unfinished goes first: a
    /// node of the sketch, a remedy on trial, a drag; and a sketch that was
    /// given up comes back.
    pub fn undo(&mut self) -> Option<String> {
        if self.take_back_unfinished() {
            return None;
        }
        if let Some(sketch) = self.given_up.take() {
            self.sketch = Some(sketch);
            self.hand = super::Hand::Place;
            self.changed(Changes::SELECTION);
            return None;
        }
        let step = self.document.undo()?;
        self.settle();
        Some(step)
    }

    /// The name of what undo would take back, were it asked now.
    pub fn undo_step(&self) -> Option<&str> {
        if self.sketch_has_nodes() {
            Some("Set a node")
        } else if self.given_up.is_some() {
            Some("Give a sketch up")
        } else {
            self.document.undo_step()
        }
    }

    /// Takes an undone step again and gives its name.
    pub fn redo(&mut self) -> Option<String> {
        self.let_go();
        self.drop_sketch();
        let step = self.document.redo()?;
        self.settle();
        Some(step)
    }

    /// Goes to where `done` steps of the history are done. What is unfinished is dropped.
    pub fn go_to_step(&mut self, done: usize) {
        self.let_go();
        self.drop_sketch();
        if self.document.go_to_step(done) {
            self.settle();
        }
    }

    /// Gives the sketch up; undo brings it back until something else is done.
    pub fn drop_sketch(&mut self) {
        if let Some(sketch) = self.sketch.take() {
            self.given_up = Some(sketch).filter(|sketch| !sketch.nodes.is_empty());
            self.changed(Changes::SELECTION);
        }
    }

    /// Makes the sketch in hand a profile where it can be one, else gives it
    /// up: nothing that was drawn is lost by turning to something else.
    pub(super) fn keep_sketch(&mut self) {
        if self.sketch.is_some() && self.end_sketch().is_err() {
            self.drop_sketch();
        }
    }

    /// Drops whatever is unfinished: a drag, a preview.
    pub(super) fn let_go(&mut self) {
        self.gesture = Gesture::None;
        if self.preview.take().is_some() || self.document.is_live() {
            self.document.revert();
            self.settle();
        }
    }

    fn take_back_unfinished(&mut self) -> bool {
        if self.sketch_has_nodes() {
            self.sketch_back();
            return true;
        }
        let unfinished = self.preview.is_some() || self.document.is_live();
        self.let_go();
        unfinished
    }

    fn sketch_has_nodes(&self) -> bool {
        self.sketch.as_ref().is_some_and(|s| !s.nodes.is_empty())
    }
}
