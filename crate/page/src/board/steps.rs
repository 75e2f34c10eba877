//! The steps a person can take and undo: each edits the family and is named.

use super::{Board, BoardError, Changes, Hand};
use loftkin_editor::edit;
use loftkin_editor::fit;
use loftkin_editor::hit::span_point;
use loftkin_editor::identity::Rearrangement;
use loftkin_kernel::family::{Family, Settings};
use loftkin_kernel::profile::{Outline, Profile};
use std::collections::BTreeSet;

/// How far a path may lie from the nodes that replace it, in mm.
const NODES_TOLERANCE: f64 = 0.05;
/// Points a span of a path is followed with when nodes replace it.
const POINTS_PER_SPAN: usize = 24;

impl Board {
    /// Puts another family on the board, as the step `step`.
    ///
    /// # Errors
    /// Whatever [`Family::validate`] finds, except emptiness; nothing is changed then.
    pub fn open(&mut self, family: Family, step: &str) -> Result<(), BoardError> {
        self.let_go();
        self.keep_sketch();
        let count = family.profiles.len();
        let by = Rearrangement::Replaced { count };
        self.document.rearrange(family, by)?;
        self.document.record(step);
        self.active = self.family().profiles.len().checked_sub(1).map(|_| 0);
        self.chosen.clear();
        self.pair = None;
        self.hand = if self.active.is_some() {
            Hand::Move
        } else {
            Hand::Place
        };
        self.settle();
        self.fit();
        Ok(())
    }

    /// Adds `profile` at the end and makes it active.
    ///
    /// # Errors
    /// Whatever [`Family::validate`] finds; nothing is changed then.
    pub fn add_profile(&mut self, profile: Profile, verb: &str) -> Result<(), BoardError> {
        self.let_go();
        let mut family = self.family().clone();
        let at = family.profiles.len();
        let number = at + 1;
        family.profiles.push(profile);
        self.document
            .rearrange(family, Rearrangement::Added { at, count: 1 })?;
        self.document.record(&format!("{verb} profile {number}"));
        self.active = Some(number - 1);
        self.chosen.clear();
        if 1 < number {
            self.pair = Some((number - 2, number - 1));
        }
        self.settle();
        Ok(())
    }

    /// Adds a copy of the active profile right after it.
    ///
    /// # Errors
    /// [`BoardError::NoProfile`], or a family that is full.
    pub fn copy_profile(&mut self) -> Result<(), BoardError> {
        let (index, profile) = self.active_profile()?;
        let (at, count) = (index + 1, 1);
        self.rearrange(
            &format!("Copy profile {}", index + 1),
            Some(Rearrangement::Added { at, count }),
            |family| family.profiles.insert(at, profile),
        )?;
        self.activate(index + 1);
        Ok(())
    }

    /// Deletes the active profile.
    ///
    /// # Errors
    /// [`BoardError::NoProfile`].
    pub fn delete_profile(&mut self) -> Result<(), BoardError> {
        let (index, _) = self.active_profile()?;
        self.chosen.clear();
        self.rearrange(
            &format!("Delete profile {}", index + 1),
            Some(Rearrangement::Removed { at: index }),
            |family| {
                family.profiles.remove(index);
            },
        )
    }

    /// Moves the active profile one place earlier or later in the family.
    ///
    /// # Errors
    /// [`BoardError::NoProfile`].
    pub fn reorder(&mut self, later: bool) -> Result<(), BoardError> {
        let (index, _) = self.active_profile()?;
        let to = if later {
            index + 1
        } else {
            index.wrapping_sub(1)
        };
        if self.family().profiles.len() <= to {
            return Ok(());
        }
        self.rearrange(
            &format!("Move profile {} to place {}", index + 1, to + 1),
            Some(Rearrangement::Swapped(index, to)),
            |family| family.profiles.swap(index, to),
        )?;
        self.activate(to);
        Ok(())
    }

    /// Changes the settings.
    ///
    /// # Errors
    /// A limit outside its range; nothing is changed then.
    pub fn set_settings(&mut self, settings: Settings) -> Result<(), BoardError> {
        self.rearrange("Change settings", None, |family| family.settings = settings)
    }

    /// Names the family (`None`) or a profile.
    pub fn rename(&mut self, index: Option<usize>, name: &str) {
        self.let_go();
        let name: String = name
            .chars()
            .take(loftkin_kernel::profile::LONGEST_NAME)
            .collect();
        self.document.rename(index, &name);
        self.document.extend("Rename");
        self.changed(Changes(Changes::SHAPE.0 | Changes::HISTORY.0));
    }

    /// Runs through the active profile the other way.
    ///
    /// # Errors
    /// [`BoardError::NoProfile`].
    pub fn reverse(&mut self) -> Result<(), BoardError> {
        self.chosen.clear();
        self.edit("Reverse", |profile, _| Ok(profile.reversed()))
    }

    /// Mirrors the active profile about its middle.
    ///
    /// # Errors
    /// [`BoardError::NoProfile`], or a handle that would leave the drawing.
    pub fn mirror(&mut self, way: edit::Mirror) -> Result<(), BoardError> {
        let step = match way {
            edit::Mirror::Sideways => "Mirror",
            edit::Mirror::Upright => "Mirror top to bottom:",
        };
        self.edit(step, |profile, _| edit::mirror(profile, way))
    }

    /// Makes the chosen node the seam of the active closed profile.
    ///
    /// # Errors
    /// [`BoardError::NoNode`] or [`BoardError::NoSeam`].
    pub fn move_seam(&mut self) -> Result<(), BoardError> {
        let (_, profile) = self.active_profile()?;
        if !profile.closed {
            return Err(BoardError::NoSeam);
        }
        let seam = *self.chosen.iter().next().ok_or(BoardError::NoNode)?;
        self.edit(
            "Move the seam of",
            |profile, _| Ok(profile.with_seam(seam)?),
        )?;
        self.choose(0, false);
        Ok(())
    }

    /// Makes the chosen nodes corners if any of them is smooth, else smooth.
    ///
    /// # Errors
    /// [`BoardError::NoNode`], or an exact path.
    pub fn toggle_corner(&mut self) -> Result<(), BoardError> {
        self.some_node()?;
        self.edit("Corner or smooth in", |profile, chosen| {
            let nodes = edit::joints(profile);
            let corner = chosen
                .iter()
                .any(|&i| nodes.get(i).is_some_and(|n| !n.corner));
            edit::set_corner(profile, chosen, corner)
        })
    }

    /// Makes node `node` of the active profile a corner or smooth.
    ///
    /// # Errors
    /// [`BoardError::NoProfile`], or an exact path.
    pub fn set_corner(&mut self, node: usize, corner: bool) -> Result<(), BoardError> {
        let which = BTreeSet::from([node]);
        self.edit("Corner or smooth in", |profile, _| {
            edit::set_corner(profile, &which, corner)
        })
    }

    /// Puts node `node` of the active profile at `x`, `y` mm.
    ///
    /// # Errors
    /// [`BoardError::NoProfile`], or coordinates without a place on the grid.
    pub fn put_node(&mut self, node: usize, x: f64, y: f64) -> Result<(), BoardError> {
        self.edit(&format!("Put node {} of", node + 1), |profile, _| {
            edit::place(profile, node, x, y)
        })
    }

    /// Moves the chosen nodes by `dx`, `dy` steps of 0.01 mm; several in a row
    /// are one step of the history.
    ///
    /// # Errors
    /// [`BoardError::NoNode`], or a node that would leave the drawing.
    pub fn nudge(&mut self, dx: i32, dy: i32) -> Result<(), BoardError> {
        self.some_node()?;
        let (index, profile) = self.active_profile()?;
        self.let_go();
        let moved = edit::shift(&profile, &self.chosen, dx, dy)?;
        self.document.replace(index, moved)?;
        self.document
            .extend(&format!("Nudge nodes of profile {}", index + 1));
        self.drawn();
        self.changed(Changes::HISTORY);
        self.show_new_fault();
        Ok(())
    }

    /// Adds a node halfway from the chosen node to the next one.
    ///
    /// # Errors
    /// [`BoardError::NoNode`], or a profile that is full.
    pub fn insert_after(&mut self) -> Result<(), BoardError> {
        self.some_node()?;
        let (_, profile) = self.active_profile()?;
        let node = self.chosen.iter().next().copied().unwrap_or(0);
        let span = node.min(profile.span_count().saturating_sub(1));
        self.insert(span, 0.5)
    }

    /// Adds a node on span `span` of the active profile at fraction `t`.
    ///
    /// # Errors
    /// A profile that is full, or a node that stands there already.
    pub fn insert(&mut self, span: usize, t: f64) -> Result<(), BoardError> {
        let mut added = 0;
        self.edit("Insert a node in", |profile, _| {
            let (changed, index) = edit::insert(profile, span, t)?;
            added = index;
            Ok(changed)
        })?;
        self.choose(added, false);
        Ok(())
    }

    /// Deletes the chosen nodes.
    ///
    /// # Errors
    /// [`BoardError::NoNode`], or too few nodes would be left.
    pub fn delete_nodes(&mut self) -> Result<(), BoardError> {
        self.some_node()?;
        let first = self.chosen.iter().next().copied().unwrap_or(0);
        self.edit("Delete nodes of", edit::delete)?;
        let (_, profile) = self.active_profile()?;
        self.choose(first.min(profile.node_count() - 1), false);
        Ok(())
    }

    /// Turns an exact path into a profile through nodes that stays within 0.05
    /// mm of it, and gives the number of nodes and the deviation in mm.
    ///
    /// # Errors
    /// A profile that goes through nodes already.
    pub fn path_to_nodes(&mut self) -> Result<(usize, f64), BoardError> {
        let (index, profile) = self.active_profile()?;
        let curve = match (&profile.outline, self.document.curve(index)) {
            (Outline::Path { .. }, Some(curve)) => curve,
            _ => return Err(edit::EditError::NodesAlready.into()),
        };
        let points: Vec<_> = (0..curve.span_count())
            .flat_map(|span| {
                (0..POINTS_PER_SPAN)
                    .map(move |i| span_point(curve, span, i as f64 / POINTS_PER_SPAN as f64))
            })
            .chain((!profile.closed).then(|| curve.point_mm(1.0)))
            .collect();
        let fit = fit::through(&points, profile.closed, NODES_TOLERANCE)?;
        let stated = (fit.profile.node_count(), fit.deviation);
        self.edit("Turn into nodes", |old, _| {
            Ok(fit.profile.clone().named(&old.name))
        })?;
        Ok(stated)
    }

    pub(super) fn active_profile(&self) -> Result<(usize, Profile), BoardError> {
        let index = self.active.ok_or(BoardError::NoProfile)?;
        let profile = self.document.profile(index).ok_or(BoardError::NoProfile)?;
        Ok((index, profile.clone()))
    }

    /// After a live change of curves.
    pub(super) fn drawn(&mut self) {
        self.finding = None;
        self.worst_blend = None;
        self.follow_pins();
        self.changed(Changes::DRAWING);
    }

    fn some_node(&self) -> Result<(), BoardError> {
        if self.chosen.is_empty() {
            return Err(BoardError::NoNode);
        }
        Ok(())
    }

    pub(super) fn edit(
        &mut self,
        step: &str,
        change: impl FnOnce(&Profile, &BTreeSet<usize>) -> Result<Profile, edit::EditError>,
    ) -> Result<(), BoardError> {
        self.let_go();
        let (index, profile) = self.active_profile()?;
        let changed = change(&profile, &self.chosen)?;
        self.document.replace(index, changed)?;
        self.document
            .record(&format!("{step} profile {}", index + 1));
        self.show_new_fault();
        self.settle();
        Ok(())
    }

    /// Changes the family as a whole; `by` says how its profiles come to stand, if elsewhere.
    pub(super) fn rearrange(
        &mut self,
        step: &str,
        by: Option<Rearrangement>,
        change: impl FnOnce(&mut Family),
    ) -> Result<(), BoardError> {
        self.let_go();
        let mut family = self.family().clone();
        change(&mut family);
        match by {
            Some(by) => self.document.rearrange(family, by)?,
            None => self.document.replace_all(family)?,
        }
        self.document.record(step);
        self.settle();
        Ok(())
    }
}
