//! The table: the verdict of every pair and of every profile with itself, kept
//! while one profile changes.
//!
//! It holds verdicts only; what else there is to say about one pair is worked
//! out on demand by [`Table::finding`].

use crate::family::{Family, FamilyError, Settings};
use crate::finding::{self, Below, Sheet, Trials, cell_index};
use crate::profile::{Profile, ProfileError};
use crate::proof::{Memory, Prepared, judge_pair, judge_profile};
use crate::verdict::{Doubt, Finding, Hint, Judgement, Margin, Verdict};

/// A family with the verdicts of all its pairs.
pub struct Table {
    family: Family,
    prepared: Vec<Prepared>,
    // Row by row below and on the diagonal: (1,1), (2,1), (2,2), (3,1), ...
    cells: Vec<Judgement>,
    trials: Trials,
    memory: Memory,
}

/// How many pairs (the diagonal left out) stand at each verdict.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Totals {
    /// Proved clear.
    pub clear: usize,
    /// Faulty with a witness.
    pub faulty: usize,
    /// Unproven.
    pub unproven: usize,
}

/// The least margin of a family.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    /// The lower index of the pair that sets it.
    pub first: usize,
    /// The higher index.
    pub second: usize,
    /// Its margin: a proved lower bound.
    pub margin: Margin,
}

impl Table {
    /// Judges all pairs of `family`.
    ///
    /// # Errors
    /// Whatever [`Family::validate`] finds. A profile that is wrong in itself
    /// is no error: its cells are unproven and say why.
    pub fn new(family: Family) -> Result<Self, FamilyError> {
        family.validate()?;
        let prepared = family
            .profiles
            .iter()
            .map(|profile| Prepared::new(profile, &family.settings))
            .collect();
        let mut table = Self {
            family,
            prepared,
            cells: Vec::new(),
            trials: Trials::default(),
            memory: Memory::default(),
        };
        table.judge_all();
        Ok(table)
    }

    /// The family as judged.
    pub fn family(&self) -> &Family {
        &self.family
    }

    /// How many profiles there are.
    pub fn size(&self) -> usize {
        self.family.profiles.len()
    }

    /// The prepared profile `index` (from 0).
    pub fn prepared(&self, index: usize) -> &Prepared {
        &self.prepared[index]
    }

    /// The judgement of the pair of profiles `first` and `second` (from 0, in
    /// either order; its places run from the lower index to the higher), or of
    /// one profile with itself.
    pub fn cell(&self, first: usize, second: usize) -> &Judgement {
        &self.cells[cell_index(first, second)]
    }

    /// The verdicts of all pairs, counted without the diagonal.
    pub fn totals(&self) -> Totals {
        let mut totals = Totals::default();
        for second in 0..self.size() {
            for first in 0..second {
                match self.cell(first, second).verdict {
                    Verdict::Clear => totals.clear += 1,
                    Verdict::Faulty => totals.faulty += 1,
                    Verdict::Unproven => totals.unproven += 1,
                }
            }
        }
        totals
    }

    /// The verdict of the family: clear when every pair and every profile is,
    /// faulty when any is, else unproven.
    pub fn verdict(&self) -> Verdict {
        let any = |verdict| self.cells.iter().any(|cell| cell.verdict == verdict);
        if any(Verdict::Faulty) {
            Verdict::Faulty
        } else if any(Verdict::Unproven) {
            Verdict::Unproven
        } else {
            Verdict::Clear
        }
    }

    /// Puts `profile` in place of number `index` (from 0) and judges its pairs
    /// anew; all other verdicts stay.
    ///
    /// # Errors
    /// [`FamilyError::OpenAndClosed`] when it does not fit the others; the
    /// table is then as before.
    pub fn replace_profile(&mut self, index: usize, profile: Profile) -> Result<(), FamilyError> {
        let before = std::mem::replace(&mut self.family.profiles[index], profile);
        if let Err(error) = self.family.validate() {
            self.family.profiles[index] = before;
            return Err(error);
        }
        self.prepared[index] = Prepared::new(&self.family.profiles[index], &self.family.settings);
        self.trials.forget(index);
        self.judge_row(index);
        Ok(())
    }

    /// Everything to say about one pair: all regions, margin, hints.
    pub fn finding(&mut self, first: usize, second: usize) -> Finding {
        let mut memory = std::mem::take(&mut self.memory);
        let finding = self.finding_with(first, second, &mut memory);
        self.memory = memory;
        finding
    }

    /// The same without the table's memory, so that several threads may ask at
    /// once.
    pub fn finding_apart(&self, first: usize, second: usize) -> Finding {
        self.finding_with(first, second, &mut Memory::default())
    }

    fn finding_with(&self, first: usize, second: usize, memory: &mut Memory) -> Finding {
        let subject = finding::Subject {
            judgement: *self.cell(first, second),
            first: first.min(second),
            second: first.max(second),
        };
        finding::work_out(&self.sheet(), &subject, memory)
    }

    /// Changes that cost nothing and were proved to make a pair clear, those
    /// that mend most first.
    pub fn hints(&mut self, first: usize, second: usize) -> Vec<Hint> {
        let mut memory = std::mem::take(&mut self.memory);
        let pair = (first.min(second), first.max(second));
        let hints = finding::hints(&self.sheet(), pair, &mut memory);
        self.memory = memory;
        hints
    }

    fn sheet(&self) -> Sheet<'_> {
        Sheet {
            family: &self.family,
            prepared: &self.prepared,
            cells: &self.cells,
            trials: &self.trials,
        }
    }

    /// The margin of a pair (or of one profile with itself) that is proved free
    /// of folds and crossings; none for any other.
    pub fn margin(&self, first: usize, second: usize) -> Option<Margin> {
        let free = self.cell(first, second).is_free();
        let (first, second) = (first.min(second), first.max(second));
        match (self.prepared[first].ready(), self.prepared[second].ready()) {
            (Ok(one), Ok(other)) if free => finding::margin([one, other]),
            _ => None,
        }
    }

    /// As [`Self::margin`] in mm, but no more than `ceiling`, which most pairs of a
    /// family reach at once.
    pub fn margin_up_to(&self, first: usize, second: usize, ceiling: f64) -> Option<f64> {
        if !self.cell(first, second).is_free() {
            return None;
        }
        let (first, second) = (first.min(second), first.max(second));
        let pair = [
            self.prepared[first].ready().ok()?,
            self.prepared[second].ready().ok()?,
        ];
        match finding::margin_below(pair, ceiling) {
            Below::Margin(margin) => Some(margin.mm),
            Below::Reached => Some(ceiling),
            Below::Unproved => None,
        }
    }

    /// How true the whole family must be made: the least margin of all its
    /// pairs (of the profile itself, for a family of one), and the pair that
    /// sets it. None unless every pair is free of folds and crossings and has a
    /// proved margin.
    pub fn tolerance(&self) -> Option<Tolerance> {
        let mut least: Option<Tolerance> = None;
        for second in 0..self.size() {
            for first in 0..=second {
                // A pair's margin is never above that of either profile alone.
                let is_alone = first == second && 1 < self.size();
                if is_alone {
                    continue;
                }
                if !self.cell(first, second).is_free() {
                    return None;
                }
                let pair = [
                    self.prepared[first].ready().ok()?,
                    self.prepared[second].ready().ok()?,
                ];
                let ceiling = least.map_or(f64::INFINITY, |least| least.margin.mm);
                match finding::margin_below(pair, ceiling) {
                    Below::Reached => {}
                    Below::Unproved => return None,
                    Below::Margin(margin) => {
                        least = Some(Tolerance {
                            first,
                            second,
                            margin,
                        });
                    }
                }
            }
        }
        least
    }

    fn judge_all(&mut self) {
        let size = self.size();
        self.cells = Vec::with_capacity(size * (size + 1) / 2);
        let mut diagonal = Vec::with_capacity(size);
        for second in 0..size {
            diagonal.push(judge_alone(
                &self.prepared[second],
                second,
                &mut self.memory,
            ));
            for first in 0..second {
                let cell = judge_cell(
                    &self.prepared,
                    (first, second),
                    (&diagonal[first], &diagonal[second]),
                    &self.family.settings,
                    &mut self.memory,
                );
                self.cells.push(cell);
            }
            self.cells.push(diagonal[second]);
        }
    }

    fn judge_row(&mut self, index: usize) {
        let settings = self.family.settings;
        self.cells[cell_index(index, index)] =
            judge_alone(&self.prepared[index], index, &mut self.memory);
        for other in (0..self.size()).filter(|&other| other != index) {
            let (first, second) = (index.min(other), index.max(other));
            self.cells[cell_index(first, second)] = judge_cell(
                &self.prepared,
                (first, second),
                (
                    &self.cells[cell_index(first, first)],
                    &self.cells[cell_index(second, second)],
                ),
                &settings,
                &mut self.memory,
            );
        }
    }
}

/// A pair is judged only when both profiles are proved simple: a profile that
/// crosses itself is charged to the diagonal, not to all its pairs.
fn judge_cell(
    prepared: &[Prepared],
    (first, second): (usize, usize),
    (first_alone, second_alone): (&Judgement, &Judgement),
    settings: &Settings,
    memory: &mut Memory,
) -> Judgement {
    for (profile, alone) in [(first, first_alone), (second, second_alone)] {
        let is_invalid = matches!(alone.doubt, Some(Doubt::ProfileInvalid { .. }));
        if !is_invalid && !alone.is_simple() {
            return Judgement::doubtful(Doubt::ProfileNotSimple { profile });
        }
    }
    match (prepared[first].ready(), prepared[second].ready()) {
        (Ok(one), Ok(other)) => judge_pair(one, other, settings, memory),
        (Err(error), _) => invalid(first, error),
        (_, Err(error)) => invalid(second, error),
    }
}

fn judge_alone(prepared: &Prepared, index: usize, memory: &mut Memory) -> Judgement {
    match prepared.ready() {
        Ok(ready) => judge_profile(ready, memory),
        Err(error) => invalid(index, error),
    }
}

fn invalid(profile: usize, error: ProfileError) -> Judgement {
    Judgement::doubtful(Doubt::ProfileInvalid { profile, error })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::profile::Node;

    fn arch(rise: i32) -> Profile {
        Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(2000, rise),
            Node::smooth(5000, rise + 400),
            Node::smooth(9000, 0),
        ])
    }

    fn table(rises: &[i32]) -> Table {
        let profiles = rises.iter().map(|&rise| arch(rise)).collect();
        Table::new(Family {
            profiles,
            ..Family::default()
        })
        .unwrap()
    }

    #[test]
    fn the_tolerance_is_the_least_margin_of_all_pairs() {
        let table = table(&[3000, 4200, 900, 6000]);
        let tolerance = table.tolerance().unwrap();
        let margins = (0..4).flat_map(|second| (0..second).map(move |first| (first, second)));
        let least = margins
            .map(|(first, second)| table.margin(first, second).unwrap().mm)
            .fold(f64::INFINITY, f64::min);
        assert!((tolerance.margin.mm - least).abs() < 0.03 * least);
        let margin = table.margin(tolerance.first, tolerance.second).unwrap();
        assert!((margin.mm - least).abs() < 0.03 * least);
    }

    #[test]
    fn replacing_a_profile_gives_the_verdicts_of_a_new_table() {
        let mut edited = table(&[3000, 4200, 900]);
        let crossed = Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(5000, 5000),
            Node::smooth(5000, 0),
            Node::smooth(0, 4000),
        ]);
        edited.replace_profile(1, crossed).unwrap();
        assert_eq!(edited.cell(1, 1).verdict, Verdict::Faulty);
        assert_eq!(
            edited.cell(0, 1).doubt,
            Some(Doubt::ProfileNotSimple { profile: 1 })
        );
        edited.replace_profile(1, arch(2000)).unwrap();
        let fresh = table(&[3000, 2000, 900]);
        assert_eq!(edited.cells, fresh.cells);
    }

    /// Hints keep what they judged for the next pair: not beyond the profiles.
    #[test]
    fn hints_after_an_edit_are_those_of_a_new_table() {
        let turned = |rise: i32| arch(rise).reversed();
        let family = |middle: Profile| Family {
            profiles: vec![arch(3000), middle, arch(4200), turned(900)],
            ..Family::default()
        };
        let all = |table: &mut Table| -> Vec<Vec<Hint>> {
            let pairs = (0..4).flat_map(|second| (0..second).map(move |first| (first, second)));
            pairs
                .map(|(first, second)| table.hints(first, second))
                .collect()
        };
        let mut edited = Table::new(family(turned(2000))).unwrap();
        let before = all(&mut edited);
        let mut kept = Vec::new();
        for middle in [arch(2000), turned(5000)] {
            edited.replace_profile(1, middle.clone()).unwrap();
            let mut fresh = Table::new(family(middle)).unwrap();
            kept.push(all(&mut edited));
            assert_eq!(kept[kept.len() - 1], all(&mut fresh));
        }
        assert_ne!(before, kept[0]);
    }

    #[test]
    fn a_profile_that_does_not_fit_leaves_the_table_as_it_was() {
        let mut edited = table(&[3000, 4200]);
        let before = edited.family().clone();
        let mut closed = arch(100);
        closed.closed = true;
        assert!(edited.replace_profile(0, closed).is_err());
        assert_eq!(edited.family(), &before);
    }

    #[test]
    fn a_wrong_profile_is_named_by_its_own_cells() {
        let mut wrong = arch(3000);
        wrong.outline = crate::profile::Outline::Nodes(vec![Node::smooth(0, 0)]);
        let table = Table::new(Family {
            profiles: vec![arch(3000), wrong],
            ..Family::default()
        })
        .unwrap();
        assert_eq!(table.verdict(), Verdict::Unproven);
        let invalid =
            |doubt: Option<Doubt>| matches!(doubt, Some(Doubt::ProfileInvalid { profile: 1, .. }));
        assert!(invalid(table.cell(0, 1).doubt) && invalid(table.cell(1, 1).doubt));
        assert_eq!(table.tolerance(), None);
    }
}
