//! The rounds: rows at the present setting, one program, one step, one proof.
//!
//! Each round takes the rows of every pair in play at the present setting and
//! solves the program they make. A step is taken when it lowers cost and
//! shortfall together, else the reach shrinks and the program is solved again.
//! Every setting is rounded to the grid and judged by the table; the cheapest
//! that was proved is kept, and rounds go on while they make it cheaper.

use crate::field::Field;
use crate::freedom::Freedom;
use crate::holds;
use crate::program::{Program, Row};
use crate::request::{Progress, Request};
use crate::response::Response;
use crate::rows::{Wish, rows_of};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Family;
use loftkin_kernel::grid::STEPS_PER_MM;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Doubt, Judgement, Verdict};
use std::collections::BTreeMap;
use std::ops::ControlFlow;

/// The most rounds.
pub const MOST_ROUNDS: usize = 40;
/// What rounding to the grid may cost, grid steps: a node moves by at most
/// 0.71, and control points of a spline by little more.
const ROUNDING: f64 = 0.7;
/// How clear pairs are kept that are to be no more than clear, grid steps.
const JUST_CLEAR: f64 = 1.0;
/// The first reach of a knob, as a share of the largest profile.
const FIRST_REACH: f64 = 0.15;
/// The widest band, likewise: most mends move nodes by less.
const WIDEST_BAND: f64 = 0.03;
/// Rounds stop when the best mend has not become cheaper by this share.
const WORTHWHILE: f64 = 0.01;
/// A pair with no more than this shortfall, in grid steps, ought to be clear.
const ALL_BUT: f64 = 0.5;
/// How a wish is raised when a pair that ought to be clear is not, or is one
/// that the proof cannot decide: each time, and at the most.
const RAISED: f64 = 1.5;
const MOST_RAISED: f64 = 20.0;
/// Shortfall against cost in what a step must lower.
const DEARNESS: f64 = 50.0;

/// A pair and what is wished for it.
#[derive(Clone, Copy, Debug)]
pub struct InPlay {
    /// Lower and higher index.
    pub pair: (usize, usize),
    /// Whether it is a target, to have the margin asked for.
    pub is_target: bool,
}

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

/// A setting that the table proved to be as asked.
#[derive(Clone)]
pub struct Proved {
    /// The family there, on the grid.
    pub family: Family,
    /// Its cost, steps squared.
    pub cost: f64,
    /// The least margin of the target pairs in mm, when asked for.
    pub margin: Option<f64>,
}

/// The work on one request.
pub struct Rounds<'a> {
    freedom: &'a Freedom,
    request: &'a Request,
    in_play: Vec<InPlay>,
    active: Vec<usize>,
    table: Table,
    drawn: Vec<Option<Curve>>,
    idle: BTreeMap<usize, Response>,
    noted: BTreeMap<(usize, usize), Vec<(f64, f64)>>,
    /// Parameters at which the table showed a fault.
    witnesses: BTreeMap<(usize, usize), Vec<f64>>,
    /// By how much the wish of a pair is raised, where its proved margin is
    /// lower than what its places show.
    raised: BTreeMap<(usize, usize), f64>,
    unit: f64,
}

/// What there is to see at one setting.
struct Look {
    setting: Vec<f64>,
    rows: Vec<Row>,
    merit: f64,
    proved: Option<Proved>,
}

impl<'a> Rounds<'a> {
    /// Prepares the work: `active` profiles move, `in_play` are looked after.
    pub fn new(
        freedom: &'a Freedom,
        request: &'a Request,
        table: Table,
        active: Vec<usize>,
        in_play: Vec<InPlay>,
    ) -> Self {
        let pacing = freedom.drawn.settings.pacing;
        let drawn: Vec<Option<Curve>> = freedom
            .drawn
            .profiles
            .iter()
            .map(|profile| Curve::new(profile, pacing).ok())
            .collect();
        let largest = active
            .iter()
            .filter_map(|&index| drawn[index].as_ref())
            .map(Curve::size)
            .fold(1.0, f64::max);
        let mut idle = BTreeMap::new();
        let nothing = vec![0.0; freedom.knobs.len()];
        for play in &in_play {
            for index in [play.pair.0, play.pair.1] {
                if !active.contains(&index)
                    && let Ok(response) = Response::new(freedom, index, &nothing, pacing)
                {
                    idle.insert(index, response);
                }
            }
        }
        Self {
            freedom,
            request,
            in_play,
            active,
            table,
            drawn,
            idle,
            noted: BTreeMap::new(),
            witnesses: BTreeMap::new(),
            raised: BTreeMap::new(),
            unit: largest / 20.0,
        }
    }

    /// Works until a mend is found and no longer becomes cheaper, or in vain.
    pub fn run(
        &mut self,
        start: Vec<f64>,
        progress: &mut dyn FnMut(Progress) -> ControlFlow<()>,
    ) -> Ended {
        let mut reach = 20.0 * self.unit * FIRST_REACH;
        let widest = 20.0 * self.unit * WIDEST_BAND;
        let weights: Vec<f64> = self.freedom.knobs.iter().map(|knob| knob.weight).collect();
        let mut ended = Ended {
            best: None,
            nearest: start.clone(),
            rounds: 0,
            cancelled: false,
        };
        let Some(mut here) = self.look(start, widest) else {
            return ended;
        };
        let mut idle_rounds = 0;
        for round in 1..=MOST_ROUNDS {
            let told = Progress {
                round,
                most_rounds: MOST_ROUNDS,
                open_pairs: self.open_pairs().len(),
                best_mm: ended.best.as_ref().map(|best| farthest(best, self.freedom)),
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
                unit: self.unit,
            };
            let Some(step) = program.solve() else {
                reach *= 0.5;
                continue;
            };
            let longest = step.iter().fold(0.0, |most: f64, d| most.max(d.abs()));
            let setting: Vec<f64> = here.setting.iter().zip(&step).map(|(z, d)| z + d).collect();
            let next = self.look(setting, (2.0 * longest).clamp(8.0, widest));
            let Some(next) = next else {
                reach = 0.35 * longest;
                // What went wrong is noted: the rows here must know of it.
                if let Some(again) = self.look(here.setting.clone(), widest) {
                    here = again;
                }
                continue;
            };
            if let Some(proved) = &next.proved {
                let before = ended.best.as_ref().map_or(f64::INFINITY, |best| best.cost);
                if proved.cost < before {
                    if (1.0 - WORTHWHILE) * before < proved.cost {
                        idle_rounds += 1;
                    }
                    ended.best = Some(proved.clone());
                } else {
                    idle_rounds += 1;
                }
            }
            if next.merit < here.merit || round == 1 {
                here = next;
                reach = (1.5 * longest).max(reach);
                ended.nearest.clone_from(&here.setting);
            } else {
                reach = 0.35 * longest;
            }
            if ended.best.is_some() && (idle_rounds >= 2 || longest < 1.0) {
                break;
            }
            if reach < 0.25 {
                break;
            }
        }
        ended
    }

    /// Target pairs that are not as asked at the setting looked at last.
    pub fn open_pairs(&self) -> Vec<(usize, usize)> {
        let targets = self.in_play.iter().filter(|play| play.is_target);
        targets
            .map(|play| play.pair)
            .filter(|pair| self.table.cell(pair.0, pair.1).verdict != Verdict::Clear)
            .collect()
    }

    /// Puts the profiles at `setting` and sees what that comes to; none when a
    /// profile is not fit to be judged there.
    fn look(&mut self, setting: Vec<f64>, band: f64) -> Option<Look> {
        let settings = self.freedom.drawn.settings;
        let mut responses = BTreeMap::new();
        for &index in &self.active {
            let profile = self.freedom.profile(index, &setting);
            let response = Response::new(self.freedom, index, &setting, settings.pacing).ok()?;
            if self.table.family().profiles[index] != profile {
                self.table.replace_profile(index, profile).ok()?;
            }
            if !self.table.cell(index, index).is_simple() {
                self.suspect(index);
                return None;
            }
            responses.insert(index, response);
        }
        let (mut rows, mut total) = (Vec::new(), 0.0);
        for at in 0..self.in_play.len() {
            let play = self.in_play[at];
            let (low, high) = play.pair;
            let find = |index: usize| responses.get(&index).or_else(|| self.idle.get(&index));
            let (Some(one), Some(other)) = (find(low), find(high)) else {
                continue;
            };
            let clear = self.table.cell(low, high).verdict == Verdict::Clear;
            let cell = self.table.cell(low, high);
            let is_undecided = cell.verdict == Verdict::Unproven;
            let witnesses = self.witnesses.entry(play.pair).or_default();
            witnesses.extend(places(cell));
            let field = Field::new([one, other], witnesses, !clear);
            let ranges = [low, high].map(|index| self.freedom.ranges[index].clone());
            let wish = self.wish(play, band);
            let noted = self.noted.entry(play.pair).or_default();
            let found = rows_of(&field, ranges, &wish, noted);
            if !clear && (found.shortfall < ALL_BUT || is_undecided) {
                let raised = self.raised.entry(play.pair).or_insert(1.0);
                *raised = f64::min(*raised * RAISED, MOST_RAISED);
            }
            rows.extend(found.rows);
            total += found.shortfall;
            self.noted.insert(play.pair, found.noted);
        }
        for (&index, response) in &responses {
            let drawn = self.drawn[index].as_ref()?;
            let range = self.freedom.ranges[index].clone();
            let (more, short) = holds::rows_of(
                response,
                drawn,
                range,
                self.request,
                settings.placement,
                band,
            );
            total += short;
            rows.extend(more);
        }
        let cost = self.freedom.cost(&setting);
        let proved = self.proved(&responses, cost);
        Some(Look {
            merit: self.merit(cost, if proved.is_some() { 0.0 } else { total }),
            setting,
            rows,
            proved,
        })
    }

    /// What a step must lower. What the lattice still misses of a setting that
    /// is proved does not count.
    fn merit(&self, cost: f64, shortfall: f64) -> f64 {
        0.5 * cost / (self.unit * self.unit) + DEARNESS * shortfall / self.unit
    }

    /// Notes where profile `index` meets itself, for all its pairs in play.
    fn suspect(&mut self, index: usize) {
        let ends = places(self.table.cell(index, index));
        for play in &self.in_play {
            if play.pair.0 == index || play.pair.1 == index {
                self.witnesses.entry(play.pair).or_default().extend(&ends);
            }
        }
    }

    fn wish(&self, play: InPlay, band: f64) -> Wish {
        let settings = self.freedom.drawn.settings;
        let asked = self.request.margin_mm * STEPS_PER_MM;
        let raised = self.raised.get(&play.pair).copied().unwrap_or(1.0);
        let least = if play.is_target {
            JUST_CLEAR.max(asked + ROUNDING)
        } else {
            JUST_CLEAR
        };
        Wish {
            clearance: least * raised,
            band,
            twist: settings.twist_limit.degrees().to_radians(),
            crease: settings.crease_limit.degrees().to_radians(),
            angle_slack: ROUNDING * raised,
        }
    }

    /// The setting as a proved mend, if the table says that it is one.
    fn proved(&mut self, responses: &BTreeMap<usize, Response>, cost: f64) -> Option<Proved> {
        let table = &self.table;
        let all_clear = self
            .in_play
            .iter()
            .all(|play| table.cell(play.pair.0, play.pair.1).verdict == Verdict::Clear);
        let kept = responses.iter().all(|(&index, response)| {
            let drawn = self.drawn[index].as_ref();
            drawn.is_some_and(|drawn| holds::keeps(&response.curve, drawn, self.request))
        });
        if !all_clear || !kept {
            return None;
        }
        let margin = self.proved_margin()?;
        Some(Proved {
            family: self.table.family().clone(),
            cost,
            margin,
        })
    }

    /// The least margin of the targets, where one is asked for; none at all
    /// when it is too small.
    fn proved_margin(&mut self) -> Option<Option<f64>> {
        let asked = self.request.margin_mm;
        if asked <= 0.0 {
            return Some(None);
        }
        let mut least = f64::INFINITY;
        let mut enough = true;
        for play in self.in_play.iter().filter(|play| play.is_target) {
            let (low, high) = play.pair;
            let margin = self.table.margin(low, high).map_or(0.0, |margin| margin.mm);
            if margin < asked {
                enough = false;
                let raised = self.raised.entry(play.pair).or_insert(1.0);
                *raised *= (asked / margin.max(asked * 0.5)).clamp(1.0, 1.5);
            }
            least = least.min(margin);
        }
        enough.then_some(Some(least))
    }
}

/// The parameters at which a judgement shows or suspects a fault.
fn places(judgement: &Judgement) -> Vec<f64> {
    let doubted = match judgement.doubt {
        Some(Doubt::Contact { place, .. } | Doubt::Limit { place }) => Some(place),
        _ => None,
    };
    let places = judgement.faults().map(|fault| fault.place).chain(doubted);
    places
        .flat_map(|place| [place.along, place.other_along])
        .collect()
}

fn farthest(best: &Proved, freedom: &Freedom) -> f64 {
    crate::outcome::farthest_mm(&crate::freedom::moves(&freedom.drawn, &best.family))
}
