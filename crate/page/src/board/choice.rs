//! What is chosen: the active profile, and nodes of it.

use super::{Board, Changes};
use loftkin_editor::edit::joints;
use loftkin_editor::hit::pixel;
use nalgebra::{Point2, Vector2};
use std::collections::BTreeSet;

impl Board {
    /// Makes profile `index` the active one.
    pub fn activate(&mut self, index: usize) {
        if index < self.family().profiles.len() && self.active != Some(index) {
            self.active = Some(index);
            self.chosen.clear();
            self.changed(Changes::SELECTION);
        }
    }

    /// Chooses `node` of the active profile, alone or beside the others.
    pub fn choose(&mut self, node: usize, beside: bool) {
        if !beside {
            self.chosen.clear();
        }
        if !self.chosen.insert(node) && beside {
            self.chosen.remove(&node);
        }
        self.changed(Changes::SELECTION);
    }

    /// Chooses no node.
    pub fn choose_none(&mut self) {
        self.chosen.clear();
        self.changed(Changes::SELECTION);
    }

    /// Makes the next or the previous profile active, round and round.
    pub fn activate_next(&mut self, forward: bool) {
        let count = self.family().profiles.len();
        if count == 0 {
            return;
        }
        let from = self.active.unwrap_or(0);
        self.activate((from + if forward { 1 } else { count - 1 }) % count);
    }

    /// Chooses every node of the active profile.
    pub fn choose_all(&mut self) {
        if let Some(profile) = self.active.and_then(|i| self.document.profile(i)) {
            self.chosen = (0..profile.node_count()).collect();
            self.changed(Changes::SELECTION);
        }
    }

    /// Chooses the node after (or before) the chosen ones, round and round,
    /// alone or beside them.
    pub fn choose_next(&mut self, forward: bool, beside: bool) {
        let Some(profile) = self.active.and_then(|i| self.document.profile(i)) else {
            return;
        };
        let count = profile.node_count();
        if count == 0 {
            return;
        }
        let next = match (self.chosen.first(), self.chosen.last(), forward) {
            (_, Some(last), true) => (last + 1) % count,
            (Some(first), _, false) => (first + count - 1) % count,
            (_, None, true) => 0,
            (None, _, false) => count - 1,
        };
        if !beside {
            self.chosen.clear();
        }
        self.chosen.insert(next);
        self.changed(Changes::SELECTION);
    }

    /// Chooses the nodes that stand between two corners of a frame on the
    /// screen, alone or beside the chosen ones. Where the active profile has
    /// none of them, the profile with the most becomes active.
    pub fn choose_within(&mut self, from: Point2<f64>, to: Point2<f64>, beside: bool) {
        let own = self.active.map(|index| self.within(index, from, to));
        if let Some(found) = own.filter(|found| beside || !found.is_empty()) {
            if !beside {
                self.chosen.clear();
            }
            self.chosen.extend(found);
        } else {
            self.chosen.clear();
            let all = 0..self.family().profiles.len();
            let most = all
                .map(|index| (index, self.within(index, from, to)))
                .max_by_key(|(index, found)| (found.len(), usize::MAX - index))
                .filter(|(_, found)| !found.is_empty());
            if let Some((index, found)) = most {
                self.activate(index);
                self.chosen = found;
            }
        }
        self.changed(Changes::SELECTION);
    }

    /// The middle of the chosen nodes, in mm, if any are chosen.
    pub fn middle_of_chosen(&self) -> Option<Point2<f64>> {
        let nodes = joints(self.document.profile(self.active?)?);
        let chosen = self.chosen.iter().filter_map(|&node| nodes.get(node));
        let count = self.chosen.len() as f64;
        (!self.chosen.is_empty()).then(|| {
            chosen.fold(Point2::origin(), |sum, node| {
                let (x, y) = node.at.to_mm();
                sum + Vector2::new(x, y) / count
            })
        })
    }

    fn within(&self, index: usize, from: Point2<f64>, to: Point2<f64>) -> BTreeSet<usize> {
        let (low, high) = (from.inf(&to), from.sup(&to));
        let nodes = self.document.profile(index).map(joints).unwrap_or_default();
        let inside = |at: Point2<f64>| low.inf(&at) == low && high.sup(&at) == high;
        let nodes = nodes.iter().enumerate();
        nodes
            .filter(|(_, node)| inside(pixel(&self.view, node.at)))
            .map(|(number, _)| number)
            .collect()
    }
}
