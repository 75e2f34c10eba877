//! The search for the least movement of nodes that breaks a pair.
//!
//! At each place of the lattice the clearance answers to the nodes; where every
//! node goes e against its own slope, it falls by e times the sum of the slopes'
//! lengths, the most that any movement by e can do. The places that give way
//! first are pressed: nodes go that way until the table shows a fold or a
//! crossing, then as little as still shows it, and again with the slopes found
//! there. What comes of it is an upper bound, with its witness; slopes choose the
//! ways only.

use super::aim::Aim;
use super::swaps::{Swapping, swaps};
use super::{Broken, Swap};
use crate::field::Field;
use crate::freedom::{Freedom, moves};
use crate::outcome::farthest_mm;
use crate::response::Response;
use crate::rows::is_least;
use crate::unwrap::Turns;
use loftkin_kernel::family::Family;
use loftkin_kernel::grid::STEPS_PER_MM;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Fault, FaultKind};

/// Ways that are pressed from the drawing, of places and of swaps, and from each
/// break found.
const TRIED: usize = 10;
const SWAPS_TRIED: usize = 6;
const TRIED_AGAIN: usize = 3;
/// How often a break is sought again with its own slopes.
const AGAIN: usize = 3;
/// How far past the place that gives way it is looked again, where nothing broke.
const PAST: [f64; 2] = [1.05, 1.3];
/// How far nodes go, against what the slopes foretell.
const FACTORS: [f64; 8] = [0.9, 1.0, 1.1, 1.25, 1.5, 2.0, 2.7, 3.6];
/// Halvings between a movement that breaks the pair and one that does not.
const HALVINGS: usize = 7;
/// The lowest places of the lattice that are looked at, and the most with those
/// that are lower than their neighbours.
const LOWEST: usize = 160;
const MOST_LOOKED_AT: usize = 2500;

/// The search on one pair, the two profiles of a family.
pub struct Attack<'a> {
    freedom: &'a Freedom,
    /// The least that breaks it so far, with its setting.
    best: Option<(Broken, Vec<f64>)>,
}

impl<'a> Attack<'a> {
    /// On the pair of `freedom`, every point of which may move by itself.
    pub fn new(freedom: &'a Freedom) -> Self {
        Self {
            freedom,
            best: None,
        }
    }

    /// The least movement found, and the swaps of corners below `most_mm`.
    pub fn run(mut self, most_mm: f64) -> (Option<Broken>, Vec<Swap>) {
        let nothing = vec![0.0; self.freedom.knobs.len()];
        let Some(responses) = self.responses(&nothing) else {
            return (None, Vec::new());
        };
        let close = swaps(self.freedom, responses.each_ref());
        let mut told: Vec<Swap> = Vec::new();
        for swapping in close.iter().take(SWAPS_TRIED) {
            let breaks = self.press(&swapping.aim);
            let swap = told_of(swapping, &responses, breaks);
            if swap.mm < most_mm && told.iter().all(|other| other.corners != swap.corners) {
                told.push(swap);
            }
        }
        for aim in &self.aims(&responses, None) {
            if !self.press(aim) {
                self.press_past(aim);
            }
        }
        for _ in 0..AGAIN {
            let before = self.best.as_ref().map(|(best, _)| best.mm);
            let Some((_, setting)) = self.best.clone() else {
                break;
            };
            let Some(responses) = self.responses(&setting) else {
                break;
            };
            for aim in self
                .aims(&responses, Some(&setting))
                .iter()
                .take(TRIED_AGAIN)
            {
                self.press(aim);
            }
            if self.best.as_ref().map(|(best, _)| best.mm) == before {
                break;
            }
        }
        (self.best.map(|(best, _)| best), told)
    }

    /// Where the slopes at the drawing do not lead to a break: past the place that
    /// gives way, then on by the slopes found there.
    fn press_past(&mut self, aim: &Aim) {
        for past in PAST {
            let far = aim.reach * past + 2.0;
            let setting: Vec<f64> = aim.way.iter().map(|way| way * far).collect();
            if let Some(responses) = self.responses(&setting) {
                for aim in self.aims(&responses, None).iter().take(TRIED_AGAIN) {
                    self.press_from(&setting, aim);
                }
            }
        }
    }

    fn responses(&self, setting: &[f64]) -> Option<[Response; 2]> {
        let pacing = self.freedom.drawn.settings.pacing;
        let response = |index| Response::new(self.freedom, index, setting, pacing).ok();
        Some([response(0)?, response(1)?])
    }

    /// The ways on which places give way, the shortest first: on from where the
    /// responses stand, or from the drawing when that is at `setting` from it.
    fn aims(&self, responses: &[Response; 2], setting: Option<&[f64]>) -> Vec<Aim> {
        let field = Field::new(responses.each_ref(), &[], Turns::None);
        let size = field.size();
        let mut values = vec![f64::INFINITY; size * size];
        for i in 0..size {
            for j in i..size {
                values[i * size + j] = field.clearance_value(i, j);
            }
        }
        let mut places: Vec<(usize, usize)> = (0..size)
            .flat_map(|j| (0..=j).map(move |i| (i, j)))
            .collect();
        let value = |&(i, j): &(usize, usize)| values[i * size + j];
        places.sort_by(|one, other| value(one).total_cmp(&value(other)));
        let is_looked_at = |&(rank, &(i, j)): &(usize, &(usize, usize))| {
            rank < LOWEST || (is_least(&values, size, i, j) && rank < MOST_LOOKED_AT)
        };
        let mut aims: Vec<Aim> = places
            .iter()
            .enumerate()
            .filter(is_looked_at)
            .filter_map(|(_, &(i, j))| {
                let clearance = field.clearance(i, j);
                let slopes = field.slopes(i, j, clearance.by);
                Aim::at_nought(self.freedom, clearance.value, &slopes, setting)
            })
            .collect();
        aims.sort_by(|one, other| one.reach.total_cmp(&other.reach));
        let mut unlike: Vec<Aim> = Vec::new();
        for aim in aims {
            if unlike.len() < TRIED && unlike.iter().all(|other| !aim.is_like(other)) {
                unlike.push(aim);
            }
        }
        unlike
    }

    /// Goes one way from the drawing until the pair breaks; whether it did.
    fn press(&mut self, aim: &Aim) -> bool {
        self.press_from(&vec![0.0; aim.way.len()], aim)
    }

    /// Goes one way from `base`.
    fn press_from(&mut self, base: &[f64], aim: &Aim) -> bool {
        let mut held = 0.0;
        for factor in FACTORS {
            // One step more: the grid is coarser than what is foretold.
            let far = aim.reach * factor + 1.0;
            if self.breaks(base, aim, far) {
                self.press_less(base, aim, (held, far));
                return true;
            }
            held = far;
        }
        false
    }

    fn press_less(&mut self, base: &[f64], aim: &Aim, (mut held, mut broken): (f64, f64)) {
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(held, broken);
            if self.breaks(base, aim, middle) {
                broken = middle;
            } else {
                held = middle;
            }
        }
    }

    /// Whether the pair breaks when its nodes go `far` from `base`, which is kept
    /// if it is the least so far; what is no less is not tried.
    fn breaks(&mut self, base: &[f64], aim: &Aim, far: f64) -> bool {
        let on = base.iter().zip(&aim.way);
        let setting: Vec<f64> = on.map(|(base, way)| base + way * far).collect();
        let family = self.freedom.family(&setting);
        let moves = moves(&self.freedom.drawn, &family);
        let mm = farthest_mm(&moves);
        let known = self.best.as_ref().map(|(best, _)| best.mm);
        if known.is_some_and(|known| known <= mm) {
            return false;
        }
        let Some((fault, alone)) = fault_of(&family) else {
            return false;
        };
        let broken = Broken {
            mm,
            profiles: [family.profiles[0].clone(), family.profiles[1].clone()],
            moves,
            fault,
            alone,
        };
        self.best = Some((broken, setting));
        true
    }
}

/// The fold or crossing that the table shows of two profiles, or of one alone.
fn fault_of(family: &Family) -> Option<(Fault, Option<usize>)> {
    let table = Table::new(family.clone()).ok()?;
    [(0, 1, None), (0, 0, Some(0)), (1, 1, Some(1))]
        .into_iter()
        .find_map(|(low, high, alone)| {
            let mut faults = table.cell(low, high).faults();
            let meets =
                |fault: &&Fault| matches!(fault.kind, FaultKind::Fold | FaultKind::Crossing);
            faults.find(meets).map(|fault| (*fault, alone))
        })
}

fn told_of(swapping: &Swapping, responses: &[Response; 2], breaks: bool) -> Swap {
    let corners = swapping.corners;
    Swap {
        corners,
        along: [0, 1].map(|side| responses[side].curve.breaks()[corners[side]]),
        mm: swapping.aim.reach / STEPS_PER_MM,
        breaks,
    }
}
