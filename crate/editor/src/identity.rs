//! Which profile is which while the page is open.
//!
//! A family names profiles by their place in its order, and so do links and
//! files. Whoever keeps some of them in mind while others are added, deleted or
//! moved needs what stays: a number that a profile is given when it comes onto
//! the board, and that no other is ever given. A work has such a number too:
//! another family that is opened is another work. Both go back and forth with
//! the history. Why not compare curves: a copy is like its original, and deleting
//! either leaves the same family.

/// The numbers of the work and its profiles.
#[derive(Clone, Debug, Default)]
pub struct Identity {
    work: u32,
    profiles: Vec<u32>,
    next: u32,
}

/// How profiles come to stand in another order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rearrangement {
    /// New ones from a place on.
    Added {
        /// The place of the first.
        at: usize,
        /// How many.
        count: usize,
    },
    /// The one at a place is gone.
    Removed {
        /// Its place.
        at: usize,
    },
    /// Two have changed places.
    Swapped(usize, usize),
    /// Another family stands there.
    Replaced {
        /// How many it has.
        count: usize,
    },
}

impl Identity {
    /// Of the first work, with so many profiles.
    pub fn new(count: usize) -> Self {
        let mut identity = Self::default();
        identity.follow(Rearrangement::Replaced { count });
        identity
    }

    /// Of a state of an earlier visit, whose profiles had these numbers. `next` is
    /// beyond those of all states of that work, and is its number from now on.
    pub fn resume(profiles: &[u32], next: u32) -> Self {
        Self {
            work: next,
            profiles: profiles.to_vec(),
            next,
        }
    }

    /// The number of the work.
    pub fn work(&self) -> u32 {
        self.work
    }

    /// The numbers of the profiles, in their order.
    pub fn profiles(&self) -> &[u32] {
        &self.profiles
    }

    /// Takes a rearrangement along.
    pub fn follow(&mut self, by: Rearrangement) {
        match by {
            Rearrangement::Added { at, count } => {
                for place in at..at + count {
                    let new = self.fresh();
                    self.profiles.insert(place, new);
                }
            }
            Rearrangement::Removed { at } => {
                self.profiles.remove(at);
            }
            Rearrangement::Swapped(one, other) => self.profiles.swap(one, other),
            Rearrangement::Replaced { count } => {
                self.work = self.fresh();
                self.profiles.clear();
                self.follow(Rearrangement::Added { at: 0, count });
            }
        }
    }

    /// Takes the numbers of another time. What comes new later is still given
    /// numbers that nothing had.
    pub fn restore(&mut self, kept: &Self) {
        self.work = kept.work;
        self.profiles.clone_from(&kept.profiles);
    }

    fn fresh(&mut self) -> u32 {
        self.next += 1;
        self.next
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_follow_their_profiles_and_are_never_given_twice() {
        let mut identity = Identity::new(3);
        let [one, two, three] = identity.profiles().try_into().unwrap();
        let before = identity.clone();
        identity.follow(Rearrangement::Added { at: 1, count: 1 });
        let new = identity.profiles()[1];
        assert_eq!(identity.profiles(), [one, new, two, three]);
        identity.follow(Rearrangement::Swapped(0, 3));
        identity.follow(Rearrangement::Removed { at: 2 });
        assert_eq!(identity.profiles(), [three, new, one]);
        identity.restore(&before);
        assert_eq!(identity.profiles(), [one, two, three]);
        identity.follow(Rearrangement::Added { at: 3, count: 1 });
        assert!(![one, two, three, new].contains(&identity.profiles()[3]));
        let work = identity.work();
        identity.follow(Rearrangement::Replaced { count: 3 });
        assert!(identity.work() != work && !identity.profiles().contains(&one));
    }
}
