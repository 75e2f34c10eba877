//! What is not of the document: a mend on trial, and the blend of the family
//! that meets itself.

use super::{Ink, Item, Scene, Shape};
use crate::board::Shift;
use nalgebra::Vector2;

/// Chords of the blend.
const BLEND_STEPS: usize = 400;
/// At most so many distances are written beside their nodes, the longest ones.
const MOST_DISTANCES: usize = 12;
/// Nodes that stay within so many pixels have no arrow.
const SHORTEST_ARROW: f64 = 4.0;

impl Scene<'_> {
    /// Under the curves: a halo around each profile that a mend changes, and
    /// the profile as it was.
    pub(super) fn halos(&mut self) {
        let Some(ghost) = self.board.ghost() else {
            return;
        };
        for (index, was) in &ghost.drawn {
            if let Some(curve) = self.board.document().curve(*index) {
                let points = self.polyline(curve);
                self.items.push(Item::Line {
                    ink: Ink::Mend,
                    width: 11.0,
                    dashed: false,
                    strength: 0.22,
                    points,
                });
            }
            if let Some(curve) = was {
                let points = self.polyline(curve);
                self.line(Ink::Sibling, 1.5, points);
            }
        }
    }

    /// Whether a profile is shown as a mend would have it.
    pub(super) fn is_mended(&self, index: usize) -> bool {
        let ghost = self.board.ghost();
        ghost.is_some_and(|ghost| ghost.drawn.iter().any(|(changed, _)| *changed == index))
    }

    /// Over the curves: an arrow for each node that moves, with its distance.
    pub(super) fn shifts(&mut self) {
        let Some(ghost) = self.board.ghost() else {
            return;
        };
        let mut shifts: Vec<&Shift> = ghost.shifts.iter().collect();
        let length = |shift: &Shift| (shift.to - shift.from).norm();
        shifts.sort_by(|one, other| length(other).total_cmp(&length(one)));
        for (rank, shift) in shifts.into_iter().enumerate() {
            let (from, to) = (self.screen(shift.from), self.screen(shift.to));
            let way = to - from;
            if SHORTEST_ARROW < way.norm() {
                let forward = way.normalize();
                let sideways = Vector2::new(-forward.y, forward.x);
                let back = to - forward * 7.0;
                self.line(Ink::Mend, 2.0, vec![from, to]);
                let head = vec![back + sideways * 4.0, to, back - sideways * 4.0];
                self.line(Ink::Mend, 2.0, head);
            }
            self.items.push(Item::Mark {
                ink: Ink::Mend,
                fill: Ink::Ground,
                shape: Shape::Round,
                radius: 4.0,
                at: to,
            });
            if rank < MOST_DISTANCES {
                let text = format!("{:.2} mm", length(shift));
                self.label(Ink::Mend, to + Vector2::new(9.0, 14.0), text);
            }
        }
    }

    /// The blend that meets itself, with its parts in per cent.
    pub(super) fn worst_blend(&mut self) {
        let Some(blend) = self.board.worst_blend() else {
            return;
        };
        let Some(points) = self.board.blended(BLEND_STEPS) else {
            return;
        };
        let points = points.into_iter().map(|p| self.screen(p)).collect();
        self.items.push(Item::Line {
            ink: Ink::Blend,
            width: 2.25,
            dashed: true,
            strength: 1.0,
            points,
        });
        let at = self.screen(blend.point);
        self.items.push(Item::Mark {
            ink: Ink::Blend,
            fill: Ink::Ground,
            shape: Shape::Diamond,
            radius: 8.0,
            at,
        });
        let parts = blend.parts.iter();
        let parts: Vec<String> = parts
            .map(|(profile, weight)| format!("{:.0} % of {}", 100.0 * weight, profile + 1))
            .collect();
        self.label(Ink::Blend, at + Vector2::new(13.0, 4.0), parts.join(" + "));
    }

    /// The sign of a pinned node: the hatched ground of a fixed support, as
    /// statics draws it.
    pub(super) fn pin(&mut self, at: nalgebra::Point2<f64>) {
        let foot = at + Vector2::new(0.0, 10.0);
        let along = |x: f64, y: f64| foot + Vector2::new(x, y);
        self.line(Ink::Chosen, 2.0, vec![along(-8.0, 0.0), along(8.0, 0.0)]);
        for x in [-6.0, 0.0, 6.0] {
            self.line(
                Ink::Chosen,
                1.25,
                vec![along(x + 2.0, 0.0), along(x - 2.0, 5.0)],
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Ink, Item, scene};
    use crate::board::{Board, Offer};
    use loftkin_kernel::family::Family;
    use loftkin_kernel::profile::{Node, Profile};
    use loftkin_mend::{Request, Target};
    use loftkin_work::BlendMessage;

    fn arch(rise: i32) -> Profile {
        let nodes = [(0, 0), (2000, rise), (4000, 0)];
        Profile::open(nodes.map(|(x, y)| Node::smooth(x, y)).to_vec())
    }

    fn family(second: i32) -> Family {
        Family {
            profiles: vec![arch(1500), arch(second)],
            ..Family::default()
        }
    }

    /// How many lines, marks and labels have this ink.
    fn inked(board: &Board, wanted: Ink) -> [usize; 3] {
        let mut counts = [0; 3];
        for item in scene(board) {
            match item {
                Item::Line { ink, .. } if ink == wanted => counts[0] += 1,
                Item::Mark { ink, .. } if ink == wanted => counts[1] += 1,
                Item::Label { ink, .. } if ink == wanted => counts[2] += 1,
                _ => {}
            }
        }
        counts
    }

    #[test]
    fn a_mend_on_trial_has_a_halo_an_arrow_and_its_distance() {
        let mut board = Board::new(family(2500)).unwrap();
        board.resize(600.0, 400.0);
        board.fit();
        assert_eq!(inked(&board, Ink::Mend), [0, 0, 0]);
        let offer = Offer {
            asked: family(2500),
            mended: family(3200),
            request: Request::new(Target::All),
            claims_proved: true,
            step: "Mend all pairs".to_owned(),
        };
        board.try_offer(offer).unwrap();
        // The halo, the arrow and its head; the node's new place; the distance.
        assert_eq!(inked(&board, Ink::Mend), [3, 1, 1]);
        let said = scene(&board).into_iter().any(
            |item| matches!(item, Item::Label { ink: Ink::Mend, text, .. } if text == "7.00 mm"),
        );
        assert!(said);
        board.drop_trial();
        assert_eq!(inked(&board, Ink::Mend), [0, 0, 0]);
    }

    #[test]
    fn a_bad_blend_is_a_line_a_mark_and_its_parts() {
        let mut board = Board::new(family(2500)).unwrap();
        board.show_blend(Some(&BlendMessage {
            profiles: vec![0, 1],
            weights: vec![0.25, 0.75],
            x: 20.0,
            y: 22.5,
        }));
        assert_eq!(inked(&board, Ink::Blend), [1, 1, 1]);
        board.show_blend(None);
        assert_eq!(inked(&board, Ink::Blend), [0, 0, 0]);
    }

    #[test]
    fn a_pinned_node_stands_on_hatched_ground() {
        let mut board = Board::new(family(2500)).unwrap();
        board.choose(1, false);
        let before = inked(&board, Ink::Chosen)[0];
        board.toggle_pins().unwrap();
        assert_eq!(inked(&board, Ink::Chosen)[0], before + 4);
    }
}
