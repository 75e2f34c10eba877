//! The rounds: rows at the present setting, one program, one step, one proof.
//!
//! Each round solves the program that the rows at the present setting make. A
//! step is taken when it lowers cost and shortfall together, else the reach
//! shrinks and the program is solved again. The cheapest setting that was proved
//! is kept, and rounds go on while they make it cheaper.

use crate::freedom::{Freedom, moves};
use crate::outcome::farthest_mm;
use crate::request::Progress;
use crate::survey::{Look, Proved, Survey};
use crate::wishes::Program;
use std::ops::ControlFlow;

/// The most rounds.
pub const MOST_ROUNDS: usize = 40;
/// The most rounds where a mend is known already.
const MOST_MORE: usize = 20;
/// The first reach of a knob, as a share of the largest profile.
const FIRST_REACH: f64 = 0.15;
/// The widest band, likewise: most mends move nodes by less.
const WIDEST_BAND: f64 = 0.03;
/// The narrowest band, grid steps.
const NARROWEST_BAND: f64 = 8.0;
/// How the reach grows after a step that helped, and shrinks after one that did
/// not, against the longest movement of a knob in it.
const WIDENED: f64 = 1.5;
const NARROWED: f64 = 0.35;
/// Rounds stop at a reach below this: the grid is coarser.
const LEAST_REACH: f64 = 0.25;
/// Rounds stop when the best mend has not become cheaper by this share, so
/// often.
const WORTHWHILE: f64 = 0.01;
const PATIENCE: usize = 2;
/// A mend known from elsewhere is not caught up with when it is not cheaper by
/// this share, nor the mend here becoming cheaper by that.
const WORTHWHILE_TO_KNOWN: f64 = 0.98;
const STILL_FALLING: f64 = 0.9;
/// The unit of length, as a share of the largest profile.
const UNIT: f64 = 0.05;
/// Shortfall against cost in what a step must lower.
const DEARNESS: f64 = 50.0;

/// What the rounds came to.
pub struct Ended {
    /// The cheapest proved setting.
    pub best: Option<Proved>,
    /// The setting that came nearest, if none was proved.
    pub nearest: Vec<f64>,
    /// Rounds used.
    pub rounds: usize,
    /// Whether the caller stopped it.
    pub cancelled: bool,
}

/// When a mend is enough, beyond its not becoming cheaper any more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Enough {
    /// At once: it is not yet the end.
    Any,
    /// When it is not about to become cheaper than this cost, known from
    /// elsewhere.
    NotBelow(f64),
}

impl Enough {
    fn most_rounds(self) -> usize {
        match self {
            Self::NotBelow(known) if known.is_finite() => MOST_MORE,
            _ => MOST_ROUNDS,
        }
    }

    fn is_reached(self, before: f64, cost: f64) -> bool {
        match self {
            Self::Any => true,
            Self::NotBelow(known) => {
                WORTHWHILE_TO_KNOWN * known < cost && STILL_FALLING * before < cost
            }
        }
    }
}

/// Told before each round; may break off.
pub type Teller<'a> = dyn FnMut(Progress) -> ControlFlow<()> + 'a;

/// Works from `start` until a mend is found and no longer becomes cheaper, or in
/// vain.
pub fn run(
    freedom: &Freedom,
    survey: &mut Survey,
    start: Vec<f64>,
    enough: Enough,
    progress: &mut Teller,
) -> Ended {
    let largest = survey.largest();
    let unit = UNIT * largest;
    let widest = WIDEST_BAND * largest;
    let mut reach = FIRST_REACH * largest;
    let weights: Vec<f64> = freedom.knobs.iter().map(|knob| knob.weight).collect();
    let mut ended = Ended {
        best: None,
        nearest: start.clone(),
        rounds: 0,
        cancelled: false,
    };
    let Some(mut here) = survey.look(start, widest) else {
        return ended;
    };
    ended.best.clone_from(&here.proved);
    if ended.best.is_some() && enough == Enough::Any {
        return ended;
    }
    let mut idle_rounds = 0;
    let most_rounds = enough.most_rounds();
    for round in 1..=most_rounds {
        let best = ended.best.as_ref();
        let told = Progress {
            round,
            most_rounds,
            open_pairs: survey.open_targets(),
            best_mm: best.map(|best| {
                let family = freedom.family(&best.setting);
                farthest_mm(&moves(&freedom.drawn, &family))
            }),
        };
        if progress(told).is_break() {
            ended.cancelled = true;
            return ended;
        }
        ended.rounds = round;
        let program = Program {
            weights: &weights,
            setting: &here.setting,
            reach,
            rows: &here.rows,
            unit,
        };
        let Some(step) = program.solve() else {
            reach *= 0.5;
            continue;
        };
        let longest = step.iter().fold(0.0, |most: f64, d| most.max(d.abs()));
        let setting: Vec<f64> = here.setting.iter().zip(&step).map(|(z, d)| z + d).collect();
        let band = (2.0 * longest).clamp(NARROWEST_BAND, widest.max(NARROWEST_BAND));
        let Some(next) = survey.look(setting, band) else {
            reach = NARROWED * longest;
            // What went wrong is noted: the rows here must know of it.
            if let Some(again) = survey.look(here.setting.clone(), widest) {
                here = again;
            }
            continue;
        };
        if let Some(proved) = &next.proved {
            let before = ended.best.as_ref().map_or(f64::INFINITY, |best| best.cost);
            if (1.0 - WORTHWHILE) * before < proved.cost {
                idle_rounds += 1;
            }
            if proved.cost < before {
                ended.best = Some(proved.clone());
            }
            if enough.is_reached(before, proved.cost) {
                break;
            }
        }
        if merit(&next, unit) < merit(&here, unit) || round == 1 {
            here = next;
            reach = (WIDENED * longest).max(reach);
            ended.nearest.clone_from(&here.setting);
        } else {
            reach = NARROWED * longest;
        }
        let is_settled = PATIENCE <= idle_rounds || longest < 1.0;
        if (ended.best.is_some() && is_settled) || reach < LEAST_REACH {
            break;
        }
    }
    ended
}

/// What a step must lower. What the lattice still misses of a setting that is
/// proved does not count.
fn merit(look: &Look, unit: f64) -> f64 {
    let shortfall = if look.proved.is_some() {
        0.0
    } else {
        look.shortfall
    };
    0.5 * look.cost / (unit * unit) + DEARNESS * shortfall / unit
}
