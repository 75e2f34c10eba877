//! The work on one request: profiles that meet themselves are freed first, then
//! the rounds mend what is left; for any blend once for each way round.

use crate::freedom::Freedom;
use crate::outcome::{moved, not_found, not_tried};
use crate::request::{Hindrance, Outcome, Progress, Request};
use crate::rounds::{Ended, Teller, run};
use crate::scope::{InPlay, Open, Scope};
use crate::survey::{Proved, Survey, Task, angles_together};
use crate::together::cuts;
use loftkin_kernel::table::Table;
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
        let mut start = beginning.map_or_else(nothing, |at| self.freedom.setting_of(at));
        let mut done = 0;
        if !self.meeting.is_empty() {
            let ended = self.freed(start, progress);
            if ended.cancelled {
                return Outcome::Cancelled;
            }
            done = ended.rounds;
            let Some(freed) = ended.best else {
                return self.not_freed(&ended);
            };
            start = freed.setting;
        }
        self.mended(start, done, progress)
    }

    /// Draws out the profiles that meet themselves, each by itself.
    fn freed(&self, start: Vec<f64>, progress: &mut Teller) -> Ended {
        let alone = |&index: &usize| InPlay {
            pair: (index, index),
            is_target: true,
        };
        let task = Task {
            in_play: self.meeting.iter().map(alone).collect(),
            active: self.meeting.clone(),
            together: None,
            may_meet: true,
        };
        self.rounds(start, task, true, 0, progress)
    }

    fn not_freed(&self, ended: &Ended) -> Outcome {
        let reached = Table::new(self.freedom.family(&ended.nearest)).ok();
        let meets = |index: &&usize| {
            let table = reached.as_ref();
            table.is_none_or(|table| !table.cell(**index, **index).is_simple())
        };
        let profile = self.meeting.iter().find(meets).or(self.meeting.first());
        let hindrance = profile.map_or(Hindrance::RoundsUsedUp, |&profile| {
            Hindrance::ProfileMeetsItself { profile }
        });
        not_found(
            &self.freedom,
            self.scope,
            hindrance,
            &ended.nearest,
            ended.rounds,
        )
    }

    /// The cheapest mend from `start`, over the ways round if there are several.
    fn mended(&self, start: Vec<f64>, mut done: usize, progress: &mut Teller) -> Outcome {
        let mut best: Option<Proved> = None;
        let mut nearest = None;
        for together in self.ways_round(&start) {
            let task = Task {
                in_play: self.in_play.clone(),
                active: self.active.clone(),
                together,
                may_meet: false,
            };
            let ended = self.rounds(start.clone(), task, false, done, progress);
            if ended.cancelled {
                return Outcome::Cancelled;
            }
            done += ended.rounds;
            nearest.get_or_insert(ended.nearest);
            let is_cheaper =
                |proved: &Proved| best.as_ref().is_none_or(|best| proved.cost < best.cost);
            if ended.best.as_ref().is_some_and(is_cheaper) {
                best = ended.best;
            }
        }
        match best {
            Some(best) => moved(
                &self.freedom,
                self.scope,
                self.open,
                &self.active,
                best,
                done,
            ),
            None => not_found(
                &self.freedom,
                self.scope,
                Hindrance::RoundsUsedUp,
                &nearest.unwrap_or(start),
                done,
            ),
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
        once: bool,
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
        run(&self.freedom, &mut survey, start, once, &mut counted)
    }
}
