//! Undo and redo without limit: every state of the document with the name of
//! the step that led to it.
//!
//! Profiles that a step left alone are shared between states, so a long
//! history costs about one profile a step.

use crate::identity::Identity;
use loftkin_kernel::family::{Family, Settings};
use loftkin_kernel::profile::Profile;
use std::ops::Range;
use std::rc::Rc;

/// One state of the document.
#[derive(Clone, Debug)]
struct State {
    step: String,
    name: String,
    settings: Settings,
    profiles: Vec<Rc<Profile>>,
    identity: Identity,
}

/// All states, and which of them is in force.
#[derive(Clone, Debug)]
pub struct History {
    states: Vec<State>,
    now: usize,
}

impl History {
    /// A history that begins at `family`.
    pub fn new(family: &Family, identity: &Identity) -> Self {
        Self {
            states: vec![state(String::new(), (family, identity), None)],
            now: 0,
        }
    }

    /// A history of states of one work that were kept: the step that led to each
    /// and its family. `numbers` has the numbers of all their profiles, one state
    /// after the other, and the state `now` is in force. None when these do not fit.
    pub fn resume(kept: Vec<(String, Family)>, numbers: &[u32], now: usize) -> Option<Self> {
        if kept.len() <= now {
            return None;
        }
        let next = 1 + numbers.iter().fold(0, |most, &number| most.max(number));
        let mut states: Vec<State> = Vec::with_capacity(kept.len());
        let mut rest = numbers;
        for (step, family) in kept {
            let (profiles, more) = rest.split_at_checked(family.profiles.len())?;
            let identity = Identity::resume(profiles, next);
            rest = more;
            states.push(state(step, (&family, &identity), states.last()));
        }
        Some(Self { states, now })
    }

    /// The states of the work in force that can be kept, those before the first
    /// `from` steps left out; always with the one in force.
    pub fn of_work(&self, from: usize) -> Range<usize> {
        let work = self.identity().work();
        let is_same = |at: usize| self.states[at].identity.work() == work;
        let (mut begin, mut end) = (self.now, self.now + 1);
        while from < begin && is_same(begin - 1) {
            begin -= 1;
        }
        while end < self.states.len() && is_same(end) {
            end += 1;
        }
        begin..end
    }

    /// The step that led to state `at`, its family, and the numbers of its profiles.
    pub fn kept(&self, at: usize) -> (&str, Family, &[u32]) {
        let state = &self.states[at];
        (&state.step, self.family_of(at), state.identity.profiles())
    }

    /// Records `family` as the outcome of `step`; undone steps are dropped.
    /// A step that changes nothing is not recorded.
    pub fn record(&mut self, step: &str, family: &Family, identity: &Identity) {
        if self.is_current(family) {
            // Two profiles that are alike may have changed places.
            self.states[self.now].identity = identity.clone();
            return;
        }
        self.states.truncate(self.now + 1);
        let now = (family, identity);
        let next = state(step.to_owned(), now, Some(&self.states[self.now]));
        self.states.push(next);
        self.now += 1;
    }

    /// Records `family` as one more part of the last step, when that step has
    /// the same name; else as a step of its own.
    pub fn extend(&mut self, step: &str, family: &Family, identity: &Identity) {
        let last = self.now + 1 == self.states.len();
        if last && 0 < self.now && self.states[self.now].step == step {
            let now = (family, identity);
            self.states[self.now] = state(step.to_owned(), now, Some(&self.states[self.now]));
        } else {
            self.record(step, family, identity);
        }
    }

    /// Goes one step back: the family before it.
    pub fn undo(&mut self) -> Option<Family> {
        self.now = self.now.checked_sub(1)?;
        Some(self.current())
    }

    /// Goes one undone step forward again.
    pub fn redo(&mut self) -> Option<Family> {
        if self.now + 1 == self.states.len() {
            return None;
        }
        self.now += 1;
        Some(self.current())
    }

    /// The family in force.
    pub fn current(&self) -> Family {
        self.family_of(self.now)
    }

    fn family_of(&self, at: usize) -> Family {
        let state = &self.states[at];
        Family {
            name: state.name.clone(),
            settings: state.settings,
            profiles: state.profiles.iter().map(|p| (**p).clone()).collect(),
        }
    }

    /// Which profile is which in the family in force.
    pub fn identity(&self) -> &Identity {
        &self.states[self.now].identity
    }

    /// The name of the step that undo would take back.
    pub fn undo_step(&self) -> Option<&str> {
        (0 < self.now).then(|| self.states[self.now].step.as_str())
    }

    /// The name of the step that redo would take again.
    pub fn redo_step(&self) -> Option<&str> {
        self.states.get(self.now + 1).map(|s| s.step.as_str())
    }

    /// The names of all steps, done and undone, the oldest first.
    pub fn steps(&self) -> impl Iterator<Item = &str> {
        self.states.iter().skip(1).map(|state| state.step.as_str())
    }

    /// How many of the steps are done.
    pub fn done(&self) -> usize {
        self.now
    }

    /// Goes to where `done` steps are done: the family there.
    pub fn go_to(&mut self, done: usize) -> Option<Family> {
        if self.states.len() <= done {
            return None;
        }
        self.now = done;
        Some(self.current())
    }

    fn is_current(&self, family: &Family) -> bool {
        let state = &self.states[self.now];
        state.name == family.name
            && state.settings == family.settings
            && state.profiles.len() == family.profiles.len()
            && state
                .profiles
                .iter()
                .zip(&family.profiles)
                .all(|(kept, new)| **kept == *new)
    }
}

fn state(step: String, (family, identity): (&Family, &Identity), before: Option<&State>) -> State {
    let shared = |profile: &Profile| {
        before
            .and_then(|state| state.profiles.iter().find(|kept| ***kept == *profile))
            .cloned()
            .unwrap_or_else(|| Rc::new(profile.clone()))
    };
    State {
        step,
        name: family.name.clone(),
        settings: family.settings,
        profiles: family.profiles.iter().map(shared).collect(),
        identity: identity.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::identity::Rearrangement;
    use loftkin_kernel::profile::Node;

    fn family(count: i32) -> Family {
        Family {
            profiles: (0..count)
                .map(|i| Profile::open(vec![Node::smooth(0, i), Node::smooth(100, i)]))
                .collect(),
            ..Family::default()
        }
    }

    fn all_of(history: &History, range: Range<usize>) -> (Vec<(String, Family)>, Vec<u32>) {
        let mut numbers = Vec::new();
        let kept = range.map(|at| {
            let (step, family, profiles) = history.kept(at);
            numbers.extend(profiles);
            (step.to_owned(), family)
        });
        (kept.collect(), numbers)
    }

    #[test]
    fn a_hundred_steps_go_back_and_forth() {
        let mut history = History::new(&family(0), &Identity::default());
        for count in 1..=100 {
            history.record(
                &format!("Step {count}"),
                &family(count),
                &Identity::default(),
            );
        }
        assert_eq!(history.undo_step(), Some("Step 100"));
        for count in (0..100).rev() {
            assert_eq!(history.undo(), Some(family(count)));
        }
        assert_eq!(history.undo(), None);
        assert_eq!(history.redo_step(), Some("Step 1"));
        for count in 1..=100 {
            assert_eq!(history.redo(), Some(family(count)));
        }
        assert_eq!(history.redo(), None);
    }

    #[test]
    fn a_new_step_drops_the_undone_ones_and_no_change_is_no_step() {
        let mut history = History::new(&family(1), &Identity::default());
        history.record("Add", &family(2), &Identity::default());
        history.record("Nothing", &family(2), &Identity::default());
        assert_eq!(history.undo_step(), Some("Add"));
        history.undo();
        history.record("Other", &family(3), &Identity::default());
        assert_eq!(history.redo(), None);
        assert_eq!(history.undo(), Some(family(1)));
    }

    #[test]
    fn equal_steps_in_a_row_can_be_one() {
        let mut history = History::new(&family(1), &Identity::default());
        history.extend("Nudge", &family(2), &Identity::default());
        history.extend("Nudge", &family(3), &Identity::default());
        history.extend("Other", &family(4), &Identity::default());
        assert_eq!(history.undo(), Some(family(3)));
        assert_eq!(history.undo(), Some(family(1)));
    }

    #[test]
    fn any_step_can_be_gone_to() {
        let mut history = History::new(&family(0), &Identity::default());
        for count in 1..=5 {
            history.record(
                &format!("Step {count}"),
                &family(count),
                &Identity::default(),
            );
        }
        assert_eq!(history.go_to(2), Some(family(2)));
        assert_eq!((history.done(), history.undo_step()), (2, Some("Step 2")));
        assert_eq!(history.steps().count(), 5);
        assert_eq!(history.go_to(6), None);
        assert_eq!(history.done(), 2);
        assert_eq!(history.go_to(5), Some(family(5)));
        assert_eq!(history.go_to(0), Some(family(0)));
        assert_eq!(history.redo_step(), Some("Step 1"));
    }

    #[test]
    fn what_is_kept_of_a_work_goes_back_and_forth_and_no_further() {
        let mut identity = Identity::new(1);
        let mut history = History::new(&family(1), &identity);
        identity.follow(Rearrangement::Replaced { count: 2 });
        history.record("Open", &family(2), &identity);
        for at in 2..=4 {
            identity.follow(Rearrangement::Added { at, count: 1 });
            history.record(&format!("Add {at}"), &family(at as i32 + 1), &identity);
        }
        history.undo();
        let range = history.of_work(0);
        assert_eq!(range, 1..5);
        let (kept, numbers) = all_of(&history, range);
        let mut again = History::resume(kept.clone(), &numbers, 2).unwrap();
        assert_eq!(again.current(), family(4));
        assert_eq!(again.identity().profiles(), history.identity().profiles());
        assert_eq!(again.redo_step(), Some("Add 4"));
        assert_eq!(again.undo(), Some(family(3)));
        assert_eq!(again.undo(), Some(family(2)));
        // The other work is not there.
        assert_eq!(again.undo(), None);
        assert_eq!(again.go_to(3), Some(family(5)));
        let mut later = again.identity().clone();
        later.follow(Rearrangement::Added { at: 5, count: 1 });
        assert!(!numbers.contains(&later.profiles()[5]));
        // Steps before a bound are left out, never the state in force.
        assert_eq!(history.of_work(3), 3..5);
        assert_eq!(history.of_work(9), 3..5);
        assert!(History::resume(kept.clone(), &numbers, 4).is_none());
        assert!(History::resume(kept, &numbers[1..], 2).is_none());
    }

    #[test]
    fn untouched_profiles_are_shared() {
        let mut history = History::new(&family(3), &Identity::default());
        history.record("Add", &family(4), &Identity::default());
        assert!(Rc::ptr_eq(
            &history.states[0].profiles[1],
            &history.states[1].profiles[1]
        ));
    }
}
