//! The work on one request: profiles that meet themselves are freed first, then
//! the rounds mend what is left; for any blend once for each way round.

use crate::beginnings::{after_models, strewn};
use crate::freedom::Freedom;
use crate::guides::{all_relaxed, curves, siblings};
use crate::outcome::{moved, not_found, not_tried};
use crate::request::{Hindrance, Outcome, Progress, Request};
use crate::rounds::{Ended, Enough, Teller, run};
use crate::scope::{InPlay, Open, Scope};
use crate::survey::{Proved, Survey, Task, angles_together};
use crate::tighten::tightened;
use crate::together::cuts;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::table::Table;
use std::collections::BTreeMap;
use std::ops::ControlFlow;

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
        let drawn = &self.freedom.drawn;
        let relaxed = all_relaxed(drawn, &self.meeting);
        let mut starts: Vec<Vec<f64>> = relaxed
            .iter()
            .map(|family| self.freedom.setting_of(family))
            .collect();
        let (mut done, mut nearest) = (0, start.clone());
        for guides in [
            siblings(drawn, &self.scope.profiles, &self.meeting),
            relaxed.map_or_else(BTreeMap::new, |family| curves(&family, &self.meeting)),
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
        for beginning in starts.first().map_or(Vec::new(), |start| {
            strewn(&self.freedom, self.request, &self.in_play, start)
        }) {
            if is_settled
                && search
                    .tries(beginning, together.clone(), progress)
                    .is_break()
            {
                return Outcome::Cancelled;
            }
        }
        if search.best.is_none() && self.strews && !self.scope.any_blend {
            for beginning in after_models(&self.freedom, &self.active, &self.in_play, &self.meeting)
            {
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
