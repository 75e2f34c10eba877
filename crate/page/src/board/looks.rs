//! What the board shows besides the curves themselves, as the person likes it.

use super::{Board, Changes};

/// What is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Looks {
    /// The profiles beside the active one and the chosen pair.
    pub siblings: bool,
    /// The tangent at each node of the active profile.
    pub tangents: bool,
    /// How sharply the active profile bends, along it.
    pub bend: bool,
}

impl Default for Looks {
    fn default() -> Self {
        Self {
            siblings: true,
            tangents: false,
            bend: false,
        }
    }
}

impl Board {
    /// What is shown besides the curves.
    pub fn looks(&self) -> Looks {
        self.looks
    }

    /// Shows more or less.
    pub fn set_looks(&mut self, looks: Looks) {
        self.looks = looks;
        self.changed(Changes(Changes::VIEW.0 | Changes::SELECTION.0));
    }
}
