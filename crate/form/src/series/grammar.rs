//! Which profile may follow which: what counting and numbering need, without the
//! proofs behind it.

use std::collections::BTreeSet;
use std::sync::Arc;

/// Which profile may follow which, as counting needs it. Profiles are numbered
/// by their place in `palette`.
#[derive(Clone, Debug)]
pub struct Grammar {
    /// The profiles that may stand at some station, ascending.
    pub palette: Vec<usize>,
    /// Which of them may stand at each station.
    pub allowed: Vec<Vec<bool>>,
    /// Which may stand beside which at each joint: row the lower station.
    pub beside: Vec<Arc<Vec<bool>>>,
    /// Whether the last station is joined to the first.
    pub all_round: bool,
    /// How many neighbours must suit each other: 2, or 3 to 4 by threes.
    pub reach: usize,
    /// How each station turns its profile: the same number, the same turn.
    pub turns: Vec<usize>,
    /// The sets of three (turn, profile) that are proved; only when `reach` is
    /// above 2.
    pub threes: BTreeSet<[(usize, usize); 3]>,
}

/// Why a profile does not suit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Misfit {
    /// It may not stand there.
    NotAllowed,
    /// Not beside the one before it.
    NotBeside,
    /// Not in one blend with the neighbours before it.
    NotBlended,
}

impl Grammar {
    /// How many profiles there are to choose from.
    pub fn size(&self) -> usize {
        self.palette.len()
    }

    /// Whether `profile` may stand at `station` after `before`, the profiles of
    /// the stations before it, nearest last, at most `reach` - 1 of them.
    ///
    /// # Errors
    /// The [`Misfit`].
    pub fn suits(&self, station: usize, before: &[usize], profile: usize) -> Result<(), Misfit> {
        if !self.allowed[station][profile] {
            return Err(Misfit::NotAllowed);
        }
        let count = self.allowed.len();
        let Some(&last) = before.last() else {
            return Ok(());
        };
        let joint = (station + count - 1) % count;
        if !self.beside[joint][last * self.size() + profile] {
            return Err(Misfit::NotBeside);
        }
        if self.reach == 2 {
            return Ok(());
        }
        let member =
            |back: usize, profile: usize| (self.turns[(station + count - back) % count], profile);
        let blended = (0..before.len()).all(|far| {
            (far + 1..before.len()).all(|near| {
                let mut three = [
                    member(before.len() - far, before[far]),
                    member(before.len() - near, before[near]),
                    member(0, profile),
                ];
                three.sort_unstable();
                self.threes.contains(&three)
            })
        });
        if blended {
            Ok(())
        } else {
            Err(Misfit::NotBlended)
        }
    }
}
