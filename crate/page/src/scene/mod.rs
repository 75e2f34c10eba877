//! What the board shows, as a list of lines, marks and labels in pixels.
//!
//! Made from the board's state alone, so it is tested natively; `paint` puts
//! it on a canvas. Pictures only: nothing here takes part in a verdict.

mod bend;
mod curves;
mod faults;
mod grid;
mod hands;
mod item;
mod nodes;
mod pointed;
mod trial;

pub use item::{Ink, Item, Shape};

use crate::board::Board;
use nalgebra::Point2;

/// Everything on the board, in painting order.
pub fn scene(board: &Board) -> Vec<Item> {
    let mut scene = Scene {
        board,
        items: Vec::new(),
    };
    scene.grid();
    scene.halos();
    scene.siblings();
    scene.section();
    scene.faulty_stretches();
    scene.bend();
    scene.active();
    scene.tangents();
    scene.double_curves();
    scene.worst_blend();
    scene.shifts();
    scene.pointed_ruling();
    scene.sketch();
    scene.hands();
    scene.least_radius();
    scene.items
}

struct Scene<'a> {
    board: &'a Board,
    items: Vec<Item>,
}

impl Scene<'_> {
    fn screen(&self, mm: Point2<f64>) -> Point2<f64> {
        self.board.view().to_screen(mm)
    }

    fn line(&mut self, ink: Ink, width: f64, points: Vec<Point2<f64>>) {
        self.items.push(Item::Line {
            ink,
            width,
            dashed: false,
            strength: 1.0,
            points,
        });
    }

    fn label(&mut self, ink: Ink, at: Point2<f64>, text: String) {
        self.items.push(Item::Label { ink, at, text });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Family;
    use loftkin_kernel::profile::{Node, Profile};

    fn board() -> Board {
        let arch = |rise| {
            Profile::open(vec![
                Node::smooth(0, 0),
                Node::corner(2000, rise),
                Node::smooth(4000, 0),
            ])
        };
        let family = Family {
            profiles: vec![arch(1500), arch(2500), arch(3500)],
            ..Family::default()
        };
        Board::new(family).unwrap()
    }

    fn marks(items: &[Item], wanted: Shape) -> usize {
        let is = |item: &&Item| matches!(item, Item::Mark { shape, .. } if *shape == wanted);
        items.iter().filter(is).count()
    }

    #[test]
    fn only_the_active_profile_shows_its_nodes() {
        let mut board = board();
        let items = scene(&board);
        assert_eq!(marks(&items, Shape::Round), 2);
        assert_eq!(marks(&items, Shape::Square), 1);
        board.choose(1, false);
        let chosen = |item: &&Item| {
            matches!(
                item,
                Item::Mark {
                    fill: Ink::Chosen,
                    ..
                }
            )
        };
        assert_eq!(scene(&board).iter().filter(chosen).count(), 1);
    }

    #[test]
    fn the_chosen_pair_and_its_section_stand_out() {
        let mut board = board();
        board.choose_pair(1, 2).unwrap();
        let items = scene(&board);
        let lines = |wanted: Ink| {
            let is = |item: &&Item| matches!(item, Item::Line { ink, .. } if *ink == wanted);
            items.iter().filter(is).count()
        };
        // The first profile is active: its curve and its arrow.
        assert_eq!((lines(Ink::First), lines(Ink::Second)), (2, 1));
        assert_eq!((lines(Ink::Section), lines(Ink::Sibling)), (1, 1));
    }
}
