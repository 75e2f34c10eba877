//! The nodes of the active profile, their numbers, and the handles of its chosen joints.

use super::{Ink, Item, Scene, Shape};
use loftkin_editor::edit::{handles, joints};
use loftkin_editor::hit::{Hit, pixel};
use loftkin_kernel::profile::Outline;
use nalgebra::{Point2, Vector2};

/// Above this many nodes they carry no numbers.
const MOST_NUMBERED: usize = 40;

impl Scene<'_> {
    pub(super) fn nodes(&mut self, index: usize, ink: Ink) {
        let Some(profile) = self.board.document().profile(index) else {
            return;
        };
        let nodes = joints(profile);
        for (_, at, joint) in handles(profile, self.board.chosen()) {
            let (at, joint) = (
                pixel(self.board.view(), at),
                pixel(self.board.view(), joint),
            );
            self.line(Ink::Chosen, 1.0, vec![joint, at]);
            self.items.push(Item::Mark {
                ink: Ink::Chosen,
                fill: Ink::Ground,
                shape: Shape::Round,
                radius: 4.0,
                at,
            });
        }
        let exact = matches!(profile.outline, Outline::Path { .. });
        for (number, node) in nodes.iter().enumerate() {
            let (x, y) = node.at.to_mm();
            let at = self.screen(Point2::new(x, y));
            let chosen = self.board.chosen().contains(&number) || self.is_framed(at);
            let under = Hit::Node {
                profile: index,
                node: number,
            };
            let grown = if self.board.hover() == Some(under) {
                2.0
            } else {
                0.0
            };
            let start = if number == 0 { 1.5 } else { 0.0 };
            self.items.push(Item::Mark {
                ink: if chosen { Ink::Chosen } else { ink },
                fill: if chosen { Ink::Chosen } else { Ink::Ground },
                shape: if node.corner {
                    Shape::Square
                } else {
                    Shape::Round
                },
                radius: if exact { 4.0 } else { 5.0 } + grown + start,
                at,
            });
            if self.board.pins().has(index, number) {
                self.pin(at);
            }
            if nodes.len() <= MOST_NUMBERED {
                let beside = at + Vector2::new(9.0, -8.0);
                self.label(Ink::Label, beside, (number + 1).to_string());
            }
        }
    }

    /// Whether a place of the screen lies in the frame being drawn.
    fn is_framed(&self, at: Point2<f64>) -> bool {
        self.board.frame().is_some_and(|[from, to]| {
            let (low, high) = (from.inf(&to), from.sup(&to));
            low == low.inf(&at) && high == high.sup(&at)
        })
    }
}
