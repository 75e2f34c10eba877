//! Blends of the whole family: any blend, and the sets of profiles that agree.
//!
//! A family can pass every pair and still fail a blend of three, so the two
//! questions are answered separately. Sets that agree by pairs are the cliques
//! of the table; the largest set proved for any blend is found from them by
//! leaving out one profile of each bad blend in turn.

use crate::family::Pacing;
use crate::proof::Ready;
use crate::proof::any_blend::{Answer, any_blend};
use crate::table::Table;
use crate::verdict::{AnyBlend, BadBlend, Fault, FaultKind};
use nalgebra::Point2;

/// The most sets listed: a table can hold exponentially many.
pub const MOST_SETS: usize = 64;
/// The most any-blend proofs tried while the largest set is looked for.
const MOST_TRIALS: usize = 400;

/// The sets of profiles that agree.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Agreement {
    /// The maximal sets in which every pair is clear, largest first, at most
    /// [`MOST_SETS`]; indices from 0, ascending.
    pub by_pairs: Vec<Vec<usize>>,
    /// Whether `by_pairs` lists all of them.
    pub complete: bool,
    /// The largest set found that is proved for any blend.
    pub any_blend: Vec<usize>,
    /// Whether `any_blend` is known to be a largest one.
    pub largest: bool,
    /// The profiles any one of which need only be left out, ascending; empty
    /// for fewer than three profiles and where all agree already.
    pub leave_out: Vec<LeaveOut>,
}

/// A profile without which the rest of the family agrees.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeaveOut {
    /// Its index, from 0.
    pub profile: usize,
    /// Whether the rest is proved for any blend; else every pair of it is clear.
    pub any_blend: bool,
}

impl Table {
    /// Whether every blend of the profiles `members` (indices from 0) is free
    /// of folds and crossings.
    pub fn any_blend_of(&self, members: &[usize]) -> AnyBlend {
        let mut ready: Vec<&Ready> = Vec::with_capacity(members.len());
        for &profile in members {
            match self.prepared(profile).ready() {
                Ok(one) if self.cell(profile, profile).is_simple() => ready.push(one),
                _ => return AnyBlend::ProfileFirst { profile },
            }
        }
        let spans = |ready: &Ready| ready.curve.span_count();
        let differ = ready.windows(2).any(|two| spans(two[0]) != spans(two[1]));
        if differ && self.family().settings.pacing == Pacing::Node {
            return AnyBlend::CountsDiffer;
        }
        if let Some(bad) = self.bad_pair(members) {
            return AnyBlend::Refuted(bad);
        }
        match any_blend(&ready).0 {
            Answer::Proved => AnyBlend::Proved,
            Answer::Open { along, other_along } => AnyBlend::Unproven { along, other_along },
            Answer::Refuted(surround) => {
                let mut parts: [(usize, f64); 3] =
                    std::array::from_fn(|i| (surround.members[i], surround.weights[i]));
                parts.sort_unstable_by_key(|&(member, _)| members[member]);
                let point = parts
                    .iter()
                    .fold(Point2::origin(), |sum, &(member, weight)| {
                        sum + ready[member].curve.point_mm(surround.along).coords * weight
                    });
                AnyBlend::Refuted(BadBlend {
                    profiles: parts.iter().map(|&(member, _)| members[member]).collect(),
                    weights: parts.iter().map(|&(_, weight)| weight).collect(),
                    along: surround.along,
                    other_along: surround.other_along,
                    point,
                })
            }
        }
    }

    /// Whether every blend of the whole family is free of folds and crossings.
    pub fn any_blend(&self) -> AnyBlend {
        let all: Vec<usize> = (0..self.size()).collect();
        self.any_blend_of(&all)
    }

    /// A pair among `members` that folds or crosses, as a blend of two.
    fn bad_pair(&self, members: &[usize]) -> Option<BadBlend> {
        let is_contact =
            |fault: &&Fault| matches!(fault.kind, FaultKind::Fold | FaultKind::Crossing);
        members.iter().enumerate().find_map(|(index, &second)| {
            members[..index].iter().find_map(|&first| {
                let fault = self.cell(first, second).faults().find(is_contact)?;
                let place = fault.place;
                Some(BadBlend {
                    profiles: vec![first.min(second), first.max(second)],
                    weights: vec![1.0 - place.across, place.across],
                    along: place.along,
                    other_along: place.other_along,
                    point: place.point,
                })
            })
        })
    }

    /// The sets of profiles that agree by pairs, and the largest set that is
    /// proved for any blend.
    pub fn agreement(&self) -> Agreement {
        let size = self.size();
        let agrees: Vec<Vec<bool>> = (0..size)
            .map(|one| {
                (0..size)
                    .map(|other| self.cell(one, other).is_clear())
                    .collect()
            })
            .collect();
        let alone: Vec<usize> = (0..size)
            .filter(|&profile| agrees[profile][profile])
            .collect();
        let mut cliques = Cliques {
            agrees: &agrees,
            found: Vec::new(),
            complete: true,
        };
        cliques.extend(&mut Vec::new(), alone, Vec::new());
        let Cliques {
            found: mut by_pairs,
            complete,
            ..
        } = cliques;
        by_pairs.sort_unstable_by(|one, other| other.len().cmp(&one.len()).then(one.cmp(other)));
        let (any_blend, settled) = self.largest_any_blend(&by_pairs);
        Agreement {
            by_pairs,
            complete,
            any_blend,
            largest: complete && settled,
            leave_out: self.leave_out(),
        }
    }

    /// The single profiles to leave out.
    fn leave_out(&self) -> Vec<LeaveOut> {
        let size = self.size();
        if size < 3 {
            return Vec::new();
        }
        let bad: Vec<(usize, usize)> = (0..size)
            .flat_map(|second| (0..=second).map(move |first| (first, second)))
            .filter(|&(first, second)| !self.cell(first, second).is_clear())
            .collect();
        // What is wrong must be in what is left out: a cell that is not clear
        // has two profiles at most, a bad blend three.
        let suspects = match (bad.first(), bad.is_empty().then(|| self.any_blend())) {
            (Some(&(first, second)), _) if first == second => vec![first],
            (Some(&(first, second)), _) => vec![first, second],
            (None, Some(AnyBlend::Refuted(blend))) => blend.profiles,
            (None, Some(AnyBlend::Unproven { .. })) => (0..size).collect(),
            (None, _) => Vec::new(),
        };
        let has_part = |profile: usize| {
            move |&(first, second): &(usize, usize)| first == profile || second == profile
        };
        suspects
            .into_iter()
            .filter(|&profile| bad.iter().all(has_part(profile)))
            .map(|profile| {
                let rest: Vec<usize> = (0..size).filter(|&other| other != profile).collect();
                LeaveOut {
                    profile,
                    any_blend: self.any_blend_of(&rest) == AnyBlend::Proved,
                }
            })
            .filter(|found| found.any_blend || !bad.is_empty())
            .collect()
    }

    /// From each set leaves out one profile of every bad blend in turn, larger
    /// sets first, so the first set proved is a largest one.
    fn largest_any_blend(&self, sets: &[Vec<usize>]) -> (Vec<usize>, bool) {
        let mut queue: Vec<Vec<usize>> = sets.to_vec();
        let mut settled = true;
        let mut trials = 0;
        while let Some(set) = take_largest(&mut queue) {
            if MOST_TRIALS <= trials {
                return (Vec::new(), false);
            }
            trials += 1;
            match self.any_blend_of(&set) {
                AnyBlend::Proved => return (set, settled),
                AnyBlend::Refuted(bad) => {
                    for left_out in bad.profiles {
                        let rest: Vec<usize> =
                            set.iter().copied().filter(|&one| one != left_out).collect();
                        if !rest.is_empty() && !queue.contains(&rest) {
                            queue.push(rest);
                        }
                    }
                }
                // Neither proved nor refuted: a larger set may have been missed.
                _ => settled = false,
            }
        }
        (Vec::new(), settled)
    }
}

fn take_largest(queue: &mut Vec<Vec<usize>>) -> Option<Vec<usize>> {
    let largest = (0..queue.len()).max_by_key(|&index| queue[index].len())?;
    Some(queue.swap_remove(largest))
}

/// Bron and Kerbosch, Algorithm 457: finding all cliques of an undirected
/// graph, CACM 16, 1973, 575-577, with pivoting.
struct Cliques<'a> {
    agrees: &'a [Vec<bool>],
    found: Vec<Vec<usize>>,
    complete: bool,
}

impl Cliques<'_> {
    fn extend(&mut self, chosen: &mut Vec<usize>, mut open: Vec<usize>, mut done: Vec<usize>) {
        if open.is_empty() {
            if done.is_empty() && !chosen.is_empty() {
                let mut clique = chosen.clone();
                clique.sort_unstable();
                self.found.push(clique);
            }
            return;
        }
        let degree = |one: usize| {
            open.iter()
                .filter(|&&other| self.agrees[one][other])
                .count()
        };
        let pivot = open
            .iter()
            .chain(&done)
            .copied()
            .max_by_key(|&one| degree(one));
        let tried: Vec<usize> = open
            .iter()
            .copied()
            .filter(|&one| pivot.is_none_or(|pivot| one == pivot || !self.agrees[pivot][one]))
            .collect();
        for one in tried {
            if MOST_SETS <= self.found.len() {
                self.complete = false;
                return;
            }
            let near = |set: &[usize]| -> Vec<usize> {
                let others = set.iter().copied();
                others
                    .filter(|&other| other != one && self.agrees[one][other])
                    .collect()
            };
            let (still_open, still_done) = (near(&open), near(&done));
            chosen.push(one);
            self.extend(chosen, still_open, still_done);
            chosen.pop();
            open.retain(|&other| other != one);
            done.push(one);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::{Family, Settings, TenthsOfDegree};
    use crate::profile::{Node, Profile};
    use crate::verdict::Verdict;
    use proptest::prelude::*;

    fn round(turn: f64) -> Profile {
        let nodes = (0..12)
            .map(|k| {
                let angle = (turn + 30.0 * f64::from(k)).to_radians();
                let at = |value: f64| libm::round(10_000.0 * value) as i32;
                Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
            })
            .collect();
        Profile::closed(nodes)
    }

    fn table(turns: &[f64]) -> Table {
        Table::new(Family {
            name: String::new(),
            settings: Settings {
                twist_limit: TenthsOfDegree(1799),
                ..Settings::default()
            },
            profiles: turns.iter().map(|&turn| round(turn)).collect(),
        })
        .unwrap()
    }

    #[test]
    fn circles_turned_by_thirds_agree_by_pairs_but_not_by_three() {
        let table = table(&[0.0, 120.0, 240.0]);
        assert_eq!(table.verdict(), Verdict::Clear);
        let AnyBlend::Refuted(bad) = table.any_blend() else {
            panic!("a third of each is a single point")
        };
        assert_eq!(bad.profiles.len(), 3);
        for weight in &bad.weights {
            assert!((weight - 1.0 / 3.0).abs() < 1e-3, "{bad:?}");
        }
        let agreement = table.agreement();
        assert_eq!(agreement.by_pairs, [[0, 1, 2]]);
        assert_eq!(agreement.any_blend.len(), 2);
        assert!(agreement.largest);
    }

    #[test]
    fn circles_turned_within_a_half_turn_blend_in_any_way() {
        let table = table(&[0.0, 50.0, 100.0, 140.0]);
        assert_eq!(table.any_blend(), AnyBlend::Proved);
        assert_eq!(table.agreement().any_blend, [0, 1, 2, 3]);
    }

    #[test]
    fn a_bad_pair_refutes_any_blend_as_a_blend_of_two() {
        let table = table(&[0.0, 180.0, 30.0]);
        let AnyBlend::Refuted(bad) = table.any_blend() else {
            panic!("a circle against its half turn shrinks to a point")
        };
        assert_eq!((bad.profiles, bad.weights), (vec![0, 1], vec![0.5, 0.5]));
        let agreement = table.agreement();
        assert_eq!(agreement.by_pairs, [[0, 2], [1, 2]]);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]
        /// Against the definition: no blend of a family proved for any blend
        /// has a chord or a slope near zero, at 200 random places and weights.
        #[test]
        fn what_is_proved_has_no_bad_blend(
            turns in prop::collection::vec(0.0..170.0f64, 3..6),
            picks in prop::collection::vec((0.0..1.0f64, 0.0..1.0f64, prop::collection::vec(0.0..1.0f64, 6)), 200),
        ) {
            let table = table(&turns);
            prop_assume!(table.any_blend() == AnyBlend::Proved);
            for (u, w, weights) in picks {
                let mut chord = nalgebra::Vector2::zeros();
                for (profile, weight) in weights.iter().enumerate().take(turns.len()) {
                    let curve = table.prepared(profile).curve().unwrap();
                    let slope = if u == w { curve.slope(u) } else { (curve.point(u) - curve.point(w)) / (u - w) };
                    chord += slope * *weight;
                }
                let apart = (u - w).abs().min(1.0 - (u - w).abs());
                prop_assert!(apart < 1e-6 || 1e-6 < chord.norm());
            }
        }
    }
}
