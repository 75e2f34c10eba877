//! The place of the loft that is pointed at elsewhere: its ruling, from profile to profile.

use super::{Ink, Item, Scene, Shape};

impl Scene<'_> {
    pub(super) fn pointed_ruling(&mut self) {
        let (Some((along, across)), Some(loft)) = (self.board.pointed_place(), self.board.loft())
        else {
            return;
        };
        let [from, at, to] = [0.0, across, 1.0].map(|v| self.screen(loft.point(along, v)));
        self.line(Ink::Section, 1.5, vec![from, to]);
        self.items.push(Item::Mark {
            ink: Ink::Section,
            fill: Ink::Ground,
            shape: Shape::Round,
            radius: 4.0,
            at,
        });
    }
}
