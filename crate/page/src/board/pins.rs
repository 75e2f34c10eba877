//! Pins: nodes that a mend leaves where they are.
//!
//! They belong to the hand, not to the document. A pin follows its node through
//! edits, and goes when its node goes.

use super::{Board, BoardError, Changes};
use loftkin_editor::edit::joints;
use loftkin_kernel::family::Family;
use loftkin_kernel::profile::Profile;
use std::collections::BTreeSet;

/// All pins, by profile, each with the profile as it was last seen.
#[derive(Clone, Debug, Default)]
pub struct Pins(Vec<Pinned>);

#[derive(Clone, Debug)]
struct Pinned {
    profile: usize,
    seen: Profile,
    nodes: BTreeSet<usize>,
}

impl Pins {
    /// Whether a node is pinned.
    pub fn has(&self, profile: usize, node: usize) -> bool {
        let of_profile = |pinned: &&Pinned| pinned.profile == profile;
        let found = self.0.iter().find(of_profile);
        found.is_some_and(|pinned| pinned.nodes.contains(&node))
    }

    /// All pinned nodes, as profile and node.
    pub fn all(&self) -> impl Iterator<Item = (usize, usize)> {
        let pairs = |pinned: &Pinned| {
            let profile = pinned.profile;
            let nodes: Vec<usize> = pinned.nodes.iter().copied().collect();
            nodes.into_iter().map(move |node| (profile, node))
        };
        self.0.iter().flat_map(pairs)
    }

    fn add(&mut self, profile: usize, seen: &Profile, nodes: &BTreeSet<usize>) {
        match self.0.iter_mut().find(|pinned| pinned.profile == profile) {
            Some(pinned) => pinned.nodes.extend(nodes),
            None => self.0.push(Pinned {
                profile,
                seen: seen.clone(),
                nodes: nodes.clone(),
            }),
        }
    }

    fn release(&mut self, profile: usize, nodes: &BTreeSet<usize>) {
        for pinned in &mut self.0 {
            if pinned.profile == profile {
                pinned.nodes.retain(|node| !nodes.contains(node));
            }
        }
        self.0.retain(|pinned| !pinned.nodes.is_empty());
    }

    /// Follows the nodes to where they are in `family`.
    fn follow(&mut self, family: &Family) {
        let all = &family.profiles;
        self.0.retain_mut(|pinned| {
            let alike = |profile: &Profile| profile.outline == pinned.seen.outline;
            if all.get(pinned.profile).is_none_or(|here| !alike(here))
                && let Some(elsewhere) = all.iter().position(alike)
            {
                pinned.profile = elsewhere;
            }
            let Some(now) = all.get(pinned.profile) else {
                return false;
            };
            if !alike(now) {
                pinned.nodes = followed(&pinned.nodes, &pinned.seen, now);
                pinned.seen = now.clone();
            }
            !pinned.nodes.is_empty()
        });
    }
}

/// The nodes of `now` that `nodes` of `before` have become: those in the same
/// place; where the count is the same, else those of the same number.
fn followed(nodes: &BTreeSet<usize>, before: &Profile, now: &Profile) -> BTreeSet<usize> {
    let (old, new) = (joints(before), joints(now));
    let follow = |&node: &usize| {
        let at = old.get(node)?.at;
        if new.get(node).is_some_and(|same| same.at == at) {
            return Some(node);
        }
        let moved = || (old.len() == new.len()).then_some(node);
        new.iter().position(|other| other.at == at).or_else(moved)
    };
    nodes.iter().filter_map(follow).collect()
}

impl Board {
    /// The pins.
    pub fn pins(&self) -> &Pins {
        &self.pins
    }

    /// Pins the chosen nodes, or releases them if all of them are pinned.
    ///
    /// # Errors
    /// [`BoardError::NoNode`] when none is chosen.
    pub fn toggle_pins(&mut self) -> Result<(), BoardError> {
        let index = self.active.ok_or(BoardError::NoProfile)?;
        if self.chosen.is_empty() {
            return Err(BoardError::NoNode);
        }
        if self.chosen.iter().all(|&node| self.pins.has(index, node)) {
            self.pins.release(index, &self.chosen);
        } else {
            let seen = &self.document.family().profiles[index];
            self.pins.add(index, seen, &self.chosen);
        }
        self.changed(Changes::SELECTION);
        Ok(())
    }

    /// Releases every pinned node.
    pub fn release_pins(&mut self) {
        self.pins = Pins::default();
        self.changed(Changes::SELECTION);
    }

    /// After any change of curves.
    pub(super) fn follow_pins(&mut self) {
        self.pins.follow(self.document.family());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::Node;

    fn arch(rise: i32) -> Profile {
        let nodes = [(0, 0), (1000, rise), (3000, rise), (4000, 0)];
        Profile::open(nodes.map(|(x, y)| Node::smooth(x, y)).to_vec())
    }

    fn board() -> Board {
        let family = Family {
            profiles: vec![arch(1500), arch(2500), arch(3500)],
            ..Family::default()
        };
        Board::new(family).unwrap()
    }

    fn pins(board: &Board) -> Vec<(usize, usize)> {
        board.pins().all().collect()
    }

    #[test]
    fn chosen_nodes_are_pinned_and_released() {
        let mut board = board();
        assert_eq!(board.toggle_pins(), Err(BoardError::NoNode));
        board.choose(1, false);
        board.toggle_pins().unwrap();
        board.choose(2, true);
        board.toggle_pins().unwrap();
        assert_eq!(pins(&board), [(0, 1), (0, 2)]);
        board.toggle_pins().unwrap();
        assert_eq!(pins(&board), []);
    }

    #[test]
    fn a_pin_follows_its_node_and_goes_with_it() {
        let mut board = board();
        board.activate(1);
        board.choose(2, false);
        board.toggle_pins().unwrap();
        board.put_node(2, 31.0, 24.0).unwrap();
        assert_eq!(pins(&board), [(1, 2)]);
        board.choose(0, false);
        board.insert_after().unwrap();
        assert_eq!(pins(&board), [(1, 3)]);
        board.reverse().unwrap();
        assert_eq!(pins(&board), [(1, 1)]);
        board.reorder(true).unwrap();
        assert_eq!(pins(&board), [(2, 1)]);
        board.choose(1, false);
        board.delete_nodes().unwrap();
        assert_eq!(pins(&board), []);
    }
}
