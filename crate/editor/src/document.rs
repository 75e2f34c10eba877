//! The document on the board: the family, its verdicts and its history.
//!
//! Live changes (a node under the pointer) are judged at once and recorded
//! when the gesture ends. Selection, view and screen are not part of it.

use crate::history::History;
use crate::identity::{Identity, Rearrangement};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::profile::Profile;
use loftkin_kernel::table::Table;

/// A family with its table and its undo history.
pub struct Document {
    family: Family,
    // An empty family has no table.
    table: Option<Table>,
    identity: Identity,
    history: History,
}

impl Document {
    /// A document that begins at `family`, which may be empty.
    ///
    /// # Errors
    /// Whatever [`Family::validate`] finds, except emptiness.
    pub fn new(family: Family) -> Result<Self, FamilyError> {
        let table = judged(&family)?;
        let identity = Identity::new(family.profiles.len());
        let history = History::new(&family, &identity);
        Ok(Self {
            family,
            table,
            identity,
            history,
        })
    }

    /// Takes up the history that led to the family as it stands, of which state
    /// `now` is in force; see [`History::resume`]. Says whether it does: what is of
    /// another family, or of none that can be, is left.
    pub fn resume(&mut self, kept: Vec<(String, Family)>, numbers: &[u32], now: usize) -> bool {
        let can_be =
            |family: &Family| matches!(family.validate(), Ok(()) | Err(FamilyError::Empty));
        if !kept.iter().all(|(_, family)| can_be(family)) {
            return false;
        }
        match History::resume(kept, numbers, now) {
            Some(history) if history.current() == self.family => {
                self.identity = history.identity().clone();
                self.history = history;
                true
            }
            _ => false,
        }
    }

    /// The history, to keep it.
    pub fn history(&self) -> &History {
        &self.history
    }

    /// The family as it stands.
    pub fn family(&self) -> &Family {
        &self.family
    }

    /// Which work this is, and which profile is which.
    pub fn identity(&self) -> &Identity {
        &self.identity
    }

    /// Profile `index`, if there is one.
    pub fn profile(&self, index: usize) -> Option<&Profile> {
        self.family.profiles.get(index)
    }

    /// The verdicts; none of an empty family.
    pub fn table(&self) -> Option<&Table> {
        self.table.as_ref()
    }

    /// The verdicts, to ask for findings.
    pub fn table_mut(&mut self) -> Option<&mut Table> {
        self.table.as_mut()
    }

    /// The curve of profile `index`, unless it cannot be drawn.
    pub fn curve(&self, index: usize) -> Option<&Curve> {
        if self.family.profiles.len() <= index {
            return None;
        }
        self.table.as_ref()?.prepared(index).curve().ok()
    }

    /// Puts `profile` in place of number `index` and judges its pairs, without
    /// a step of the history.
    ///
    /// # Errors
    /// [`FamilyError::OpenAndClosed`]; nothing is changed then.
    pub fn replace(&mut self, index: usize, profile: Profile) -> Result<(), FamilyError> {
        let table = self.table.as_mut().ok_or(FamilyError::Empty)?;
        table.replace_profile(index, profile.clone())?;
        self.family.profiles[index] = profile;
        Ok(())
    }

    /// Puts `family`, whose profiles stand in another order, in place of the whole
    /// and judges it, without a step of the history. A family like the one that
    /// stands there is not another one.
    ///
    /// # Errors
    /// Whatever [`Family::validate`] finds, except emptiness; nothing is changed then.
    pub fn rearrange(&mut self, family: Family, by: Rearrangement) -> Result<(), FamilyError> {
        let alike = family == self.family && matches!(by, Rearrangement::Replaced { .. });
        self.replace_all(family)?;
        if !alike {
            self.identity.follow(by);
        }
        Ok(())
    }

    /// Puts `family`, whose profiles stand where they stood, in place of the whole
    /// and judges it, without a step of the history.
    ///
    /// # Errors
    /// Whatever [`Family::validate`] finds, except emptiness; nothing is changed then.
    pub fn replace_all(&mut self, family: Family) -> Result<(), FamilyError> {
        self.table = judged(&family)?;
        self.family = family;
        Ok(())
    }

    /// Renames profile `index`, or the family: names change no verdict.
    pub fn rename(&mut self, index: Option<usize>, name: &str) {
        match index {
            None => name.clone_into(&mut self.family.name),
            Some(index) => {
                if let Some(profile) = self.family.profiles.get_mut(index) {
                    name.clone_into(&mut profile.name);
                }
            }
        }
    }

    /// Ends a step: what stands now can be undone to what stood before.
    pub fn record(&mut self, step: &str) {
        debug_assert_eq!(self.identity.profiles().len(), self.family.profiles.len());
        self.history.record(step, &self.family, &self.identity);
    }

    /// Ends a step that joins the last one, if that has the same name.
    pub fn extend(&mut self, step: &str) {
        self.history.extend(step, &self.family, &self.identity);
    }

    /// Drops live changes that were not recorded.
    pub fn revert(&mut self) {
        let family = self.history.current();
        self.restore(family);
    }

    /// Takes back the last step and gives its name.
    pub fn undo(&mut self) -> Option<String> {
        let step = self.history.undo_step()?.to_owned();
        let family = self.history.undo()?;
        self.restore(family);
        Some(step)
    }

    /// Takes the last undone step again and gives its name.
    pub fn redo(&mut self) -> Option<String> {
        let step = self.history.redo_step()?.to_owned();
        let family = self.history.redo()?;
        self.restore(family);
        Some(step)
    }

    /// The names of all steps, done and undone, the oldest first.
    pub fn steps(&self) -> impl Iterator<Item = &str> {
        self.history.steps()
    }

    /// How many of the steps are done.
    pub fn steps_done(&self) -> usize {
        self.history.done()
    }

    /// Goes to where `done` steps are done, and says whether there is such a place.
    pub fn go_to_step(&mut self, done: usize) -> bool {
        match self.history.go_to(done) {
            Some(family) => {
                self.restore(family);
                true
            }
            None => false,
        }
    }

    /// The name of the step that undo would take back.
    pub fn undo_step(&self) -> Option<&str> {
        self.history.undo_step()
    }

    /// The name of the step that redo would take again.
    pub fn redo_step(&self) -> Option<&str> {
        self.history.redo_step()
    }

    /// Whether the family differs from the last recorded state.
    pub fn is_live(&self) -> bool {
        self.history.current() != self.family
    }

    fn restore(&mut self, family: Family) {
        self.identity.restore(self.history.identity());
        // One changed profile, the usual case, is judged alone.
        let alike = family.settings == self.family.settings
            && family.profiles.len() == self.family.profiles.len();
        let changed: Vec<usize> = if alike {
            (0..family.profiles.len())
                .filter(|&i| family.profiles[i] != self.family.profiles[i])
                .collect()
        } else {
            Vec::new()
        };
        let done = match changed.as_slice() {
            [one] => self.replace(*one, family.profiles[*one].clone()).is_ok(),
            _ => false,
        };
        if done {
            self.family = family;
        } else if self.replace_all(family).is_err() {
            debug_assert!(false, "the history holds valid families only");
        }
    }
}

fn judged(family: &Family) -> Result<Option<Table>, FamilyError> {
    if family.profiles.is_empty() {
        return family.settings.validate().map(|()| None);
    }
    Table::new(family.clone()).map(Some)
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::Node;

    fn arch(rise: i32) -> Profile {
        Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(1000, rise),
            Node::smooth(2000, 0),
        ])
    }

    fn family(rises: &[i32]) -> Family {
        Family {
            profiles: rises.iter().copied().map(arch).collect(),
            ..Family::default()
        }
    }

    #[test]
    fn live_changes_are_judged_and_can_be_dropped() {
        let mut document = Document::new(family(&[300, 500])).unwrap();
        document.replace(1, arch(900)).unwrap();
        assert!(document.is_live());
        assert_eq!(document.table().unwrap().family(), document.family());
        document.revert();
        assert_eq!(*document.family(), family(&[300, 500]));
        assert_eq!(document.undo(), None);
    }

    #[test]
    fn a_history_is_taken_up_for_its_own_family_alone() {
        let mut document = Document::new(family(&[300, 500])).unwrap();
        document.replace(1, arch(900)).unwrap();
        document.record("Drag");
        let kept: Vec<(String, Family)> = (0..2)
            .map(|at| document.history().kept(at))
            .map(|(step, family, _)| (step.to_owned(), family))
            .collect();
        let numbers = document.identity().profiles().repeat(2);
        let mut again = Document::new(family(&[300, 900])).unwrap();
        let mut mixed = kept.clone();
        mixed[0].1.profiles[0].closed = true;
        assert!(!again.resume(mixed, &numbers, 1));
        assert!(again.resume(kept.clone(), &numbers, 1));
        assert_eq!(again.undo().as_deref(), Some("Drag"));
        assert_eq!(again.table().unwrap().family(), &family(&[300, 500]));
        let mut other = Document::new(family(&[300, 901])).unwrap();
        assert!(!other.resume(kept, &numbers, 1));
        assert_eq!(other.undo(), None);
    }

    #[test]
    fn the_table_follows_undo() {
        let mut document = Document::new(Family::default()).unwrap();
        for rises in [&[300][..], &[300, 400], &[300, 700]] {
            let count = rises.len();
            let by = Rearrangement::Replaced { count };
            document.rearrange(family(rises), by).unwrap();
            document.record(&format!("{rises:?}"));
        }
        assert_eq!(document.undo().as_deref(), Some("[300, 700]"));
        assert_eq!(document.table().unwrap().family(), &family(&[300, 400]));
        assert_eq!(document.curve(1).unwrap().point_mm(0.5).y, 4.0);
        document.undo();
        document.undo();
        assert!(document.table().is_none());
        assert_eq!(document.redo().as_deref(), Some("[300]"));
        assert_eq!(document.table().unwrap().size(), 1);
    }

    #[test]
    fn a_profile_that_does_not_fit_changes_nothing() {
        let mut document = Document::new(family(&[300, 500])).unwrap();
        let mut closed = arch(1);
        closed.closed = true;
        assert!(document.replace(0, closed).is_err());
        assert_eq!(*document.family(), family(&[300, 500]));
    }
}
