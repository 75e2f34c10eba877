//! Which profiles may stand at a station, and which beside each other, by proof.
//!
//! Ruled and eased blends join two stations at a time, so a piece is proved when
//! every two neighbours are. The table's verdicts hold whatever the scale and
//! shift (see [`crate::stations`]); curves turned against each other, or by other
//! than quarter turns, are judged anew by the control points that they have
//! there. In a ring the axis is asked of every placed curve.
//!
//! A B-spline blends degree + 1 neighbours. In the plane a point of a hull lies
//! in a triangle of its points (Carathéodory, 1907), so it is enough that the
//! whole set is proved for any blend, or else that every three among any
//! degree + 1 neighbours are. Twist and crease stay limits on neighbours: the
//! proof of any blend covers folds and crossings.

use super::grammar::Grammar;
use super::rules::Rules;
use super::walks::TooLarge;
use crate::blend::Layout;
use crate::stations::{Stations, cosine_and_sine};
use loftkin_kernel::curve::Stand;
use loftkin_kernel::family::{Placement, Settings};
use loftkin_kernel::placed::Judge;
use loftkin_kernel::proof::Prepared;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::Verdict;
use std::collections::BTreeSet;
use std::sync::Arc;

/// The most sets of three that are proved for one series.
const MOST_THREES: usize = 50_000;

/// How the blend of more than two stations is proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grounds {
    /// Two stations at a time: by pairs alone.
    Pairs,
    /// All profiles as they stand are proved for any blend together.
    WholeSet,
    /// Every three among neighbouring stations are proved for any blend.
    Threes,
}

/// Verdicts of all pairs: row the profile of the lower station.
type Verdicts = Arc<Vec<Verdict>>;
/// How the two stations of a joint turn their profiles, by number.
type Turns = (usize, usize);

/// What is proved of profiles at stations.
#[derive(Clone, Debug)]
pub struct Standing {
    size: usize,
    stands: Vec<Vec<Verdict>>,
    beside: Vec<Verdicts>,
    grounds: Grounds,
    grammar: Grammar,
}

impl Standing {
    /// Judges what the verdicts of `table` do not cover.
    ///
    /// # Errors
    /// [`TooLarge`] when a B-spline would need too many proofs.
    pub fn new(table: &Table, layout: &Layout, rules: &Rules) -> Result<Self, TooLarge> {
        Examiner::new(table, layout.stations()).examine(layout, rules)
    }

    /// Whether `profile` may stand at `station` (both from 0): simple, and off
    /// the axis of a ring, after scale, turn and shift.
    pub fn alone(&self, station: usize, profile: usize) -> Verdict {
        self.stands[station][profile]
    }

    /// Whether `first` at the lower and `second` at the higher station of
    /// `joint` may be joined; all from 0. Folds, crossings, twist and crease.
    pub fn beside(&self, joint: usize, first: usize, second: usize) -> Verdict {
        self.beside[joint][first * self.size + second]
    }

    /// How the blend of more than two stations is proved.
    pub fn grounds(&self) -> Grounds {
        self.grounds
    }

    /// Which profile may follow which, by proof and by the rules.
    pub fn grammar(&self) -> &Grammar {
        &self.grammar
    }
}

/// Work under way: curves as they turn at stations.
struct Examiner<'a> {
    table: &'a Table,
    stations: &'a Stations,
    flat: Judge,
    /// The distinct turns in degrees, and which of them each station has.
    turns: Vec<f64>,
    turn_of: Vec<usize>,
    /// Each profile at each turn; none when it cannot be judged.
    turned: Vec<Vec<Option<Prepared>>>,
    simple: Vec<Vec<Verdict>>,
}

impl<'a> Examiner<'a> {
    fn new(table: &'a Table, stations: &'a Stations) -> Self {
        let mut turns: Vec<f64> = Vec::new();
        let turn_of = stations.all().iter().map(|station| {
            let known = turns.iter().position(|&turn| turn == station.turn);
            known.unwrap_or_else(|| {
                turns.push(station.turn);
                turns.len() - 1
            })
        });
        let turn_of = turn_of.collect();
        let mut flat = Judge::new(Settings {
            placement: Placement::Stack,
            ..table.family().settings
        });
        let turned: Vec<Vec<Option<Prepared>>> = turns
            .iter()
            .map(|&turn| turned_profiles(table, &flat, turn))
            .collect();
        let simple = turns
            .iter()
            .zip(&turned)
            .map(|(&turn, profiles)| {
                let judge = |(index, one): (usize, &Option<Prepared>)| match one {
                    Some(_) if is_exact(turn) => simple_verdict(table, index),
                    Some(one) => flat.alone(one).verdict,
                    None => Verdict::Unproven,
                };
                profiles.iter().enumerate().map(judge).collect()
            })
            .collect();
        Self {
            table,
            stations,
            flat,
            turns,
            turn_of,
            turned,
            simple,
        }
    }

    fn examine(mut self, layout: &Layout, rules: &Rules) -> Result<Standing, TooLarge> {
        let (count, size) = (self.stations.count(), self.table.size());
        let stands: Vec<Vec<Verdict>> = (0..count).map(|station| self.stand(station)).collect();
        let beside = self.joints();
        let may = |station: usize, profile: usize| {
            rules.allows(station, profile) && stands[station][profile] == Verdict::Clear
        };
        let palette: Vec<usize> = (0..size)
            .filter(|&profile| (0..count).any(|station| may(station, profile)))
            .collect();
        let allowed: Vec<Vec<bool>> = (0..count)
            .map(|station| {
                palette
                    .iter()
                    .map(|&profile| may(station, profile))
                    .collect()
            })
            .collect();
        let admitted = |verdicts: &Verdicts| {
            let cell = |first: usize, second: usize| {
                verdicts[first * size + second] == Verdict::Clear
                    && !(rules.no_equal_neighbours && first == second)
            };
            let rows = palette.iter();
            let cells = rows.flat_map(|&first| palette.iter().map(move |&second| (first, second)));
            Arc::new(cells.map(|(first, second)| cell(first, second)).collect())
        };
        let mut grammar = Grammar {
            allowed,
            beside: beside.iter().map(admitted).collect(),
            all_round: self.stations.is_all_round(),
            reach: 2,
            turns: self.turn_of.clone(),
            threes: BTreeSet::new(),
            palette,
        };
        let grounds = self.blended(layout.blend().reach(), &mut grammar)?;
        Ok(Standing {
            size,
            stands,
            beside,
            grounds,
            grammar,
        })
    }

    fn stand(&self, station: usize) -> Vec<Verdict> {
        let simple = &self.simple[self.turn_of[station]];
        if !self.stations.is_ring() {
            return simple.clone();
        }
        let mut judge = Judge::new(Settings {
            placement: Placement::Ring,
            ..self.table.family().settings
        });
        let stand = self.stations.stand(station);
        let verdict = |profile: usize| match self.table.prepared(profile).curve() {
            Ok(curve) if simple[profile] == Verdict::Clear => {
                let placed = judge.prepare(curve.placed(&stand));
                judge.alone(&placed).verdict
            }
            _ => simple[profile],
        };
        (0..self.table.size()).map(verdict).collect()
    }

    /// The verdicts of all pairs at each joint; joints with the same two turns
    /// share theirs.
    fn joints(&mut self) -> Vec<Verdicts> {
        let mut known: Vec<(Turns, Verdicts)> = Vec::new();
        (0..self.stations.joint_count())
            .map(|joint| {
                let (low, high) = self.stations.beside(joint);
                let turns = (self.turn_of[low], self.turn_of[high]);
                if let Some((_, verdicts)) = known.iter().find(|(key, _)| *key == turns) {
                    return verdicts.clone();
                }
                let verdicts = Arc::new(self.pairs(turns));
                known.push((turns, verdicts.clone()));
                verdicts
            })
            .collect()
    }

    fn pairs(&mut self, (low, high): Turns) -> Vec<Verdict> {
        let size = self.table.size();
        let drawn = low == high && is_exact(self.turns[low]);
        let mut verdicts = vec![Verdict::Unproven; size * size];
        for first in 0..size {
            for second in 0..size {
                // At one turn the two orders are one question.
                verdicts[first * size + second] = if low == high && second < first {
                    verdicts[second * size + first]
                } else {
                    self.pair((low, first), (high, second), drawn)
                };
            }
        }
        verdicts
    }

    fn pair(&mut self, low: (usize, usize), high: (usize, usize), drawn: bool) -> Verdict {
        if drawn {
            let cell = self.table.cell(low.1, high.1).verdict;
            let is_ring = self.table.family().settings.placement == Placement::Ring;
            // In a table of a ring the axis may speak, which is asked elsewhere.
            if cell == Verdict::Clear || !is_ring {
                return cell;
            }
        }
        let alone = [low, high].map(|(turn, profile)| self.simple[turn][profile]);
        let ready = [low, high].map(|(turn, profile)| self.turned[turn][profile].as_ref());
        match ready {
            [Some(one), Some(other)] if alone == [Verdict::Clear; 2] => {
                self.flat.pair(one, other).verdict
            }
            _ => Verdict::Unproven,
        }
    }

    fn blended(&self, reach: usize, grammar: &mut Grammar) -> Result<Grounds, TooLarge> {
        if reach == 2 {
            return Ok(Grounds::Pairs);
        }
        let mut members = BTreeSet::new();
        for (station, allowed) in grammar.allowed.iter().enumerate() {
            let here = (0..allowed.len()).filter(|&index| allowed[index]);
            members.extend(here.map(|index| (self.turn_of[station], index)));
        }
        let ready = |&(turn, index): &(usize, usize)| {
            let profile = grammar.palette[index];
            self.turned[turn][profile].as_ref()
        };
        let all: Vec<&Prepared> = members.iter().filter_map(ready).collect();
        if self.flat.proves_any_blend(&all) {
            return Ok(Grounds::WholeSet);
        }
        grammar.reach = reach;
        let asked = threes_among_neighbours(grammar)?;
        let proved = asked.into_iter().filter(|three| {
            let mut distinct = three.to_vec();
            distinct.dedup();
            let ready: Vec<&Prepared> = distinct.iter().filter_map(ready).collect();
            self.flat.proves_any_blend(&ready)
        });
        grammar.threes = proved.collect();
        Ok(Grounds::Threes)
    }
}

/// All sets of three that could stand within `reach` neighbouring stations.
fn threes_among_neighbours(grammar: &Grammar) -> Result<BTreeSet<[(usize, usize); 3]>, TooLarge> {
    let count = grammar.allowed.len();
    let at = |station: usize| {
        let allowed = &grammar.allowed[station % count];
        let turn = grammar.turns[station % count];
        let here = (0..allowed.len()).filter(|&index| allowed[index]);
        here.map(move |index| (turn, index))
    };
    let mut threes = BTreeSet::new();
    for first in 0..count {
        let end = first + grammar.reach;
        let end = if grammar.all_round {
            end
        } else {
            end.min(count)
        };
        for second in first + 1..end {
            for third in second + 1..end {
                for one in at(first) {
                    for two in at(second) {
                        for three in at(third) {
                            let mut set = [one, two, three];
                            set.sort_unstable();
                            threes.insert(set);
                        }
                    }
                }
                if MOST_THREES < threes.len() {
                    return Err(TooLarge {
                        profiles: grammar.size(),
                    });
                }
            }
        }
    }
    Ok(threes)
}

/// Whether a turn of `degrees` rounds nothing: whole quarters.
fn is_exact(degrees: f64) -> bool {
    libm::fmod(degrees, 90.0) == 0.0
}

fn simple_verdict(table: &Table, profile: usize) -> Verdict {
    let judgement = table.cell(profile, profile);
    if judgement.is_simple() {
        Verdict::Clear
    } else {
        judgement.verdict
    }
}

fn turned_profiles(table: &Table, judge: &Judge, turn: f64) -> Vec<Option<Prepared>> {
    let stand = Stand {
        turn: cosine_and_sine(turn),
        ..Stand::DRAWN
    };
    (0..table.size())
        .map(|profile| {
            let curve = table.prepared(profile).curve().ok()?;
            Some(judge.prepare(curve.placed(&stand)))
        })
        .collect()
}

#[cfg(test)]
mod tests;
