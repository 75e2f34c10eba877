//! The work on one request: profiles that meet themselves are freed first, then
//! the rounds mend what is left; for any blend once for each way round.

use crate::alone::likeness;
use crate::chance::Chance;
use crate::freedom::Freedom;
use crate::modelled::modelled;
use crate::outcome::{moved, not_found, not_tried};
use crate::relaxed::relaxed;
use crate::request::{Hindrance, Outcome, Progress, Request};
use crate::rounds::{Ended, Enough, Teller, run};
use crate::scope::{InPlay, Open, Scope};
use crate::survey::{Proved, Survey, Task, angles_together};
use crate::tighten::tightened;
use crate::together::cuts;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;
use std::collections::BTreeMap;
use std::ops::ControlFlow;

/// How many beginnings there are besides the drawing.
const STREWN: usize = 6;
/// How far from the drawing, each way, as shares of the largest profile taken in
/// turn.
const SPREADS: [f64; 3] = [0.045, 0.08, 0.12];
/// The most models after which the profiles are drawn.
const MOST_MODELS: usize = 4;
/// Beyond this many pairs in play the drawing is the only beginning.
const MOST_STREWN: usize = 60;

/// One request and what it is about.
pub struct Work<'a> {
    request: &'a Request,
    scope: &'a Scope,
    open: &'a Open,
    freedom: Freedom,
    active: Vec<usize>,
    in_play: Vec<InPlay>,
    /// Profiles that meet themselves.
    meeting: Vec<usize>,
    /// Whether the search begins elsewhere too where the drawing leads nowhere.
    strews: bool,
}

impl<'a> Work<'a> {
    /// The work on what is `open` in `table`.
    pub fn new(table: &Table, request: &'a Request, scope: &'a Scope, open: &'a Open) -> Self {
        let family = table.family();
        let active = scope.active(family, request, open);
        Self {
            request,
            scope,
            open,
            freedom: Freedom::new(family, request, &active),
            in_play: scope.in_play(table, open, &active),
            meeting: open.meeting(table),
            active,
            strews: true,
        }
    }

    /// The same, given up where the drawing leads to no mend.
    pub fn only_from_the_drawing(self) -> Self {
        Self {
            strews: false,
            ..self
        }
    }

    /// Does it.
    pub fn run(&self, progress: &mut Teller) -> Outcome {
        let drawn = &self.freedom.drawn;
        if self.freedom.knobs.is_empty() {
            return not_tried(drawn, Hindrance::NothingMayMove, self.open);
        }
        let stuck = |index: &&usize| self.freedom.ranges[**index].is_empty();
        if let Some(&profile) = self.meeting.iter().find(stuck) {
            return not_tried(drawn, Hindrance::ProfileMeetsItself { profile }, self.open);
        }
        let nothing = || vec![0.0; self.freedom.knobs.len()];
        let beginning = self.request.begin_at.as_ref();
        let start = beginning.map_or_else(nothing, |at| self.freedom.setting_of(at));
        self.as_far_as_reached(self.searched(start, progress))
    }

    /// A mend leaves the pairs as they are of which nothing may move: it is the
    /// nearest approach where one of them is not as asked.
    fn as_far_as_reached(&self, outcome: Outcome) -> Outcome {
        let is_still = |index: usize| self.freedom.ranges[index].is_empty();
        let alone = self.open.profiles.iter().map(|&index| (index, index));
        let mut open = alone.chain(self.open.pairs.iter().copied());
        let beyond = open.find(|&(low, high)| is_still(low) && is_still(high));
        match (outcome, beyond) {
            (Outcome::Moved(mended), Some(pair)) => not_found(
                &self.freedom,
                self.scope,
                Hindrance::OutOfReach { pair },
                &self.freedom.setting_of(&mended.family),
                mended.rounds,
            ),
            (outcome, _) => outcome,
        }
    }

    fn searched(&self, start: Vec<f64>, progress: &mut Teller) -> Outcome {
        if self.meeting.is_empty() {
            return self.mended(vec![start], 0, progress);
        }
        let relaxed = self.relaxed();
        let mut starts: Vec<Vec<f64>> = relaxed
            .iter()
            .map(|family| self.freedom.setting_of(family))
            .collect();
        let (mut done, mut nearest) = (0, start.clone());
        for guides in [
            self.siblings(),
            relaxed.map_or_else(BTreeMap::new, |family| self.curves(&family)),
        ] {
            if guides.len() < self.meeting.len() {
                continue;
            }
            let ended = self.freed(start.clone(), guides, done, progress);
            if ended.cancelled {
                return Outcome::Cancelled;
            }
            done += ended.rounds;
            nearest = ended.nearest;
            starts.extend(ended.best.map(|freed| freed.setting));
        }
        if starts.is_empty() {
            self.not_freed(&nearest, done)
        } else {
            self.mended(starts, done, progress)
        }
    }

    /// The family with the profiles that meet themselves relaxed; none when one
    /// of them would not be simple.
    fn relaxed(&self) -> Option<Family> {
        let mut family = self.freedom.drawn.clone();
        for &index in &self.meeting {
            family.profiles[index] = relaxed(&family, index)?;
        }
        Some(family)
    }

    /// The curves of the profiles that meet themselves, as they are in `family`.
    fn curves(&self, family: &Family) -> BTreeMap<usize, Curve> {
        let curve = |&index: &usize| {
            let curve = Curve::new(&family.profiles[index], family.settings.pacing).ok()?;
            Some((index, curve))
        };
        self.meeting.iter().filter_map(curve).collect()
    }

    /// Draws out the profiles that meet themselves, each by itself.
    fn freed(
        &self,
        start: Vec<f64>,
        guides: BTreeMap<usize, Curve>,
        done: usize,
        progress: &mut Teller,
    ) -> Ended {
        let alone = |&index: &usize| InPlay {
            pair: (index, index),
            is_target: true,
        };
        let task = Task {
            in_play: self.meeting.iter().map(alone).collect(),
            active: self.meeting.clone(),
            together: None,
            may_meet: true,
            guides,
        };
        self.rounds(start, task, Enough::Any, done, progress)
    }

    /// For each profile that meets itself the sibling that runs most like it.
    fn siblings(&self) -> BTreeMap<usize, Curve> {
        let pacing = self.freedom.drawn.settings.pacing;
        let curve = |index: usize| Curve::new(&self.freedom.drawn.profiles[index], pacing).ok();
        let is_sound = |index: &usize| !self.meeting.contains(index);
        let siblings: Vec<Curve> = self
            .scope
            .profiles
            .iter()
            .copied()
            .filter(is_sound)
            .filter_map(curve)
            .collect();
        let guide = |&index: &usize| {
            let own = curve(index)?;
            let likeness = |sibling: &&Curve| likeness(&own, sibling);
            let most = siblings
                .iter()
                .max_by(|one, other| likeness(one).total_cmp(&likeness(other)))?;
            Some((index, most.clone()))
        };
        self.meeting.iter().filter_map(guide).collect()
    }

    fn not_freed(&self, nearest: &[f64], done: usize) -> Outcome {
        let reached = Table::new(self.freedom.family(nearest)).ok();
        let meets = |index: &&usize| {
            let table = reached.as_ref();
            table.is_none_or(|table| !table.cell(**index, **index).is_simple())
        };
        let profile = self.meeting.iter().find(meets).or(self.meeting.first());
        let hindrance = profile.map_or(Hindrance::RoundsUsedUp, |&profile| {
            Hindrance::ProfileMeetsItself { profile }
        });
        not_found(&self.freedom, self.scope, hindrance, nearest, done)
    }

    /// The cheapest mend from the `starts`, over all ways round; from there on
    /// what is cheapest is sought from other beginnings too.
    fn mended(&self, starts: Vec<Vec<f64>>, done: usize, progress: &mut Teller) -> Outcome {
        let mut search = Search {
            work: self,
            done,
            best: None,
            nearest: None,
        };
        for start in &starts {
            for together in self.ways_round(start) {
                if search.tries(start.clone(), together, progress).is_break() {
                    return Outcome::Cancelled;
                }
            }
        }
        let together = search
            .best
            .as_ref()
            .and_then(|(_, task)| task.together.clone());
        let is_settled = search.best.is_some() || (self.strews && !self.scope.any_blend);
        for beginning in starts
            .first()
            .map_or(Vec::new(), |start| self.strewn(start))
        {
            if is_settled
                && search
                    .tries(beginning, together.clone(), progress)
                    .is_break()
            {
                return Outcome::Cancelled;
            }
        }
        if search.best.is_none() && self.strews && !self.scope.any_blend {
            for beginning in self.modelled() {
                if search.tries(beginning, None, progress).is_break() {
                    return Outcome::Cancelled;
                }
                if search.best.is_some() {
                    break;
                }
            }
        }
        match search.best {
            Some((best, task)) => {
                let best = self.tightened(best, task);
                moved(
                    &self.freedom,
                    self.scope,
                    self.open,
                    &self.active,
                    best,
                    search.done,
                )
            }
            None => {
                let nearest = search
                    .nearest
                    .or(starts.first().cloned())
                    .unwrap_or_default();
                not_found(
                    &self.freedom,
                    self.scope,
                    Hindrance::RoundsUsedUp,
                    &nearest,
                    search.done,
                )
            }
        }
    }

    /// Where nothing else leads to a mend: the profiles that move drawn after one of
    /// those in play, which is far from the drawing and a mend or nearly one.
    fn modelled(&self) -> Vec<Vec<f64>> {
        let is_model = |index: &usize| {
            let mut pairs = self.in_play.iter().map(|play| play.pair);
            !self.meeting.contains(index)
                && pairs.any(|(low, high)| low == *index || high == *index)
        };
        let drawn = &self.freedom.drawn;
        let models: Vec<usize> = (0..drawn.profiles.len()).filter(is_model).collect();
        modelled(drawn, &self.active, &models)
            .iter()
            .take(MOST_MODELS)
            .map(|family| self.freedom.setting_of(family))
            .collect()
    }

    /// For small families settings strewn about `start`: what is linear there
    /// need not lead to the least movement.
    fn strewn(&self, start: &[f64]) -> Vec<Vec<f64>> {
        let mut beginnings = Vec::new();
        if self.request.begin_at.is_some() || MOST_STREWN < self.in_play.len() {
            return beginnings;
        }
        let pacing = self.freedom.drawn.settings.pacing;
        let profiles = self.freedom.drawn.profiles.iter();
        let sizes =
            profiles.map(|profile| Curve::new(profile, pacing).map_or(0.0, |curve| curve.size()));
        let largest = sizes.fold(0.0, f64::max);
        let mut chance = Chance::new();
        for spread in SPREADS.into_iter().cycle().take(STREWN) {
            let spread = spread * largest;
            let strewn = start.iter().map(|z| z + spread * chance.either_way());
            beginnings.push(strewn.collect());
        }
        beginnings
    }

    fn tightened(&self, best: Proved, task: Task) -> Proved {
        match Table::new(self.freedom.family(&best.setting)) {
            Ok(table) => {
                let mut survey = Survey::new(&self.freedom, self.request, table, task);
                tightened(&mut survey, best)
            }
            Err(_) => best,
        }
    }

    /// The angles that profiles are held to, once for each way round; one way
    /// without any when only pairs are asked for.
    fn ways_round(&self, start: &[f64]) -> Vec<Option<Vec<f64>>> {
        if !self.scope.any_blend {
            return vec![None];
        }
        match angles_together(&self.freedom, start) {
            Some(means) => cuts(&means).into_iter().map(Some).collect(),
            None => Vec::new(),
        }
    }

    /// Rounds counted on from those `done`.
    fn rounds(
        &self,
        start: Vec<f64>,
        task: Task,
        enough: Enough,
        done: usize,
        progress: &mut Teller,
    ) -> Ended {
        let nowhere = |nearest| Ended {
            best: None,
            nearest,
            rounds: 0,
            cancelled: false,
        };
        let Ok(table) = Table::new(self.freedom.drawn.clone()) else {
            return nowhere(start);
        };
        let mut survey = Survey::new(&self.freedom, self.request, table, task);
        let mut counted = |told: Progress| -> ControlFlow<()> {
            progress(Progress {
                round: told.round + done,
                most_rounds: told.most_rounds + done,
                ..told
            })
        };
        run(&self.freedom, &mut survey, start, enough, &mut counted)
    }
}

/// The search from one beginning after another.
struct Search<'a> {
    work: &'a Work<'a>,
    /// Rounds used.
    done: usize,
    best: Option<(Proved, Task)>,
    /// Where the first beginning led to, if not to a mend.
    nearest: Option<Vec<f64>>,
}

impl Search<'_> {
    /// Rounds from one beginning; breaks when the caller does.
    fn tries(
        &mut self,
        beginning: Vec<f64>,
        together: Option<Vec<f64>>,
        progress: &mut Teller,
    ) -> ControlFlow<()> {
        let task = Task {
            in_play: self.work.in_play.clone(),
            active: self.work.active.clone(),
            together,
            may_meet: false,
            guides: BTreeMap::new(),
        };
        let best = self.best.as_ref();
        let least = best.map_or(f64::INFINITY, |(best, _)| best.cost);
        let (task_again, enough) = (task.clone(), Enough::NotBelow(least));
        let ended = self
            .work
            .rounds(beginning, task_again, enough, self.done, progress);
        if ended.cancelled {
            return ControlFlow::Break(());
        }
        self.done += ended.rounds;
        self.nearest.get_or_insert(ended.nearest);
        if let Some(proved) = ended.best.filter(|proved| proved.cost < least) {
            self.best = Some((proved, task));
        }
        ControlFlow::Continue(())
    }
}
