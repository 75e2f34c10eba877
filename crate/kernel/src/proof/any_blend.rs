//! The proof for all convex blends of many curves at once.
//!
//! A blend of F_1, ..., F_N with weights that are not negative and sum to one
//! vanishes somewhere exactly when 0 lies in the hull of all F_i at some (u, w).
//! A box is excluded by a direction that serves all N curves (see
//! [`super::sheaf`]), or three that surround 0 refute it (see
//! [`super::surround`]). Bad blends of three or more fill open regions, so a
//! place in the middle of a box is tried before the box is cut.

use super::bounds;
use super::boxes::Task;
use super::bundle::{Bundle, Woven};
use super::cone::Cone;
use super::net::{Extent, Net};
use super::patch::{self, Bare, BareNet, Chart};
use super::prepared::Ready;
use super::recorder::Recorder;
use super::sheaf::Sheaf;
use super::stretch::{Stretch, Stretches};
use super::surround::{Surround, at_samples, surrounding};
use super::trace::{Cut, Trace};
use nalgebra::Vector2;

/// How the proof ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Answer {
    /// No blend of any members vanishes anywhere.
    Proved,
    /// The blend of three does.
    Refuted(Surround),
    /// Neither, near this pair of places.
    Open {
        /// The lower fraction along.
        along: f64,
        /// The higher one.
        other_along: f64,
    },
}

/// Settles all blends of `members`; the number of boxes beside the answer.
pub fn any_blend(members: &[&Ready]) -> (Answer, u32) {
    if members.is_empty() {
        return (Answer::Proved, 0);
    }
    let mut search = Search::new(members, ());
    let answer = search.run();
    (answer, search.boxes)
}

/// The trace of the same search, one tree for each box of [`Task::begin`]; none
/// unless every box is excluded. There must be a member.
pub fn traced(members: &[&Ready]) -> Option<Vec<Cut>> {
    let mut search = Search::new(members, Trace::default());
    let is_proved = search.run() == Answer::Proved;
    let Search {
        recorder,
        mut bundle,
        closed,
        ..
    } = search;
    is_proved.then(|| recorder.trees(closed, &mut bundle))
}

struct Search<'a, R> {
    bundle: Bundle<'a>,
    closed: bool,
    needed: Vec<f64>,
    boxes: u32,
    /// The first box that stayed open, by its places.
    open: Option<(f64, f64)>,
    recorder: R,
}

impl<'a, R: Recorder> Search<'a, R> {
    fn new(members: &'a [&'a Ready], recorder: R) -> Self {
        Self {
            bundle: Bundle::new(members),
            closed: members.iter().all(|member| member.curve.is_closed()),
            needed: members
                .iter()
                .map(|member| bounds::SEPARATION * member.size)
                .collect(),
            boxes: 0,
            open: None,
            recorder,
        }
    }

    fn run(&mut self) -> Answer {
        let mut tasks = Vec::new();
        let mut pending = Vec::new();
        Task::begin(self.closed, &mut tasks);
        while let Some(task) = tasks.pop() {
            self.boxes += 1;
            if !self.is_excluded(task)
                && !task.halve(|stretch| self.bundle.halves(stretch), &mut tasks)
            {
                pending.push(task);
            }
        }
        if pending.is_empty() {
            return Answer::Proved;
        }
        let found = at_samples(self.bundle.members()).or_else(|| self.over_pieces(pending));
        match (found, self.open) {
            (Some(surround), _) => Answer::Refuted(surround),
            (None, Some((along, other_along))) => Answer::Open { along, other_along },
            (None, None) => Answer::Proved,
        }
    }

    fn is_excluded(&mut self, task: Task) -> bool {
        match task {
            Task::Itself(stretch) => self.is_narrow(task, self.bundle.cone(stretch)),
            Task::Joint(one, other) => {
                let cone = self.bundle.cone(one).joined(self.bundle.cone(other));
                self.is_narrow(task, cone)
            }
            Task::Apart(one, other) => {
                let between = self.bundle.separation(one, other, &self.needed);
                if let Some(between) = between {
                    self.recorder.excluded(task, || between.towards());
                }
                between.is_some()
            }
        }
    }

    fn is_narrow(&mut self, task: Task, cone: Cone) -> bool {
        let is_narrow = cone.is_narrow();
        if is_narrow {
            self.recorder.excluded(task, || cone.middle());
        }
        is_narrow
    }

    fn over_pieces(&mut self, mut tasks: Vec<Task>) -> Option<Surround> {
        while let Some(task) = tasks.pop() {
            if self.open.is_some() {
                return None;
            }
            self.boxes += 1;
            let task = task.map(|stretch| self.bundle.open(stretch));
            let parted = self.is_excluded(task)
                || task.halve(|stretch| self.bundle.halves(stretch), &mut tasks);
            if !parted && let Some(surround) = self.over_sheaves(task) {
                return Some(surround);
            }
        }
        None
    }

    fn over_sheaves(&mut self, task: Task) -> Option<Surround> {
        self.recorder.opens(task);
        let sizes = |bundle: &Bundle| -> Vec<f64> {
            let members = bundle.members().iter();
            members.map(|member| bounds::PATCH * member.size).collect()
        };
        let (one, other) = match task {
            Task::Itself(one) => (one, one),
            Task::Joint(one, other) | Task::Apart(one, other) => (one, other),
        };
        let (Stretch::Piece(one), Stretch::Piece(other)) = (one, other) else {
            unreachable!("only pieces cannot be halved, and leaves are opened first")
        };
        let (first, second) = (self.bundle.piece(one), self.bundle.piece(other));
        let ends = [(first.from, first.to), (second.from, second.to)];
        let pairs = || first.parts.iter().zip(&second.parts);
        let (charts, errors): (Vec<(Chart, Vec<BareNet>)>, Vec<f64>) = match task {
            Task::Apart(..) => {
                let nets = pairs().map(|(one, other)| (patch::apart_net(one, other), [false; 2]));
                (vec![(Chart::Apart, nets.collect())], sizes(&self.bundle))
            }
            Task::Itself(_) => {
                let parts = first.parts.iter();
                let nets = parts.map(|part| (patch::own_net(part), patch::own_bare(part)));
                (vec![(Chart::Itself, nets.collect())], reaches(first, first))
            }
            Task::Joint(..) => {
                let nets: Vec<[BareNet; 2]> = pairs()
                    .map(|(before, after)| patch::blown_up(before, after))
                    .collect();
                let chart = |k: usize| nets.iter().map(|nets| nets[k]).collect();
                let charts = vec![
                    (Chart::JointBefore, chart(0)),
                    (Chart::JointAfter, chart(1)),
                ];
                (charts, reaches(first, second))
            }
        };
        charts
            .into_iter()
            .find_map(|(chart, nets)| self.over_sheaf(nets, chart, &errors, &ends))
    }

    fn over_sheaf(
        &mut self,
        nets: Vec<BareNet>,
        chart: Chart,
        errors: &[f64],
        ends: &patch::Ends,
    ) -> Option<Surround> {
        let (nets, bare): (Vec<Net>, Vec<Bare>) = nets.into_iter().unzip();
        let finest: Vec<f64> = nets
            .iter()
            .map(|net| {
                let most = (0..16).fold(0.0, |most: f64, k| most.max(net.at(k).amax()));
                bounds::TOLERANCE * most
            })
            .collect();
        let mut sheaves = vec![Sheaf {
            nets,
            extent: Extent::WHOLE,
            splits: 0,
            bare,
        }];
        while let Some(sheaf) = sheaves.pop() {
            self.boxes += 1;
            if let Some(reason) = sheaf.free_by(errors) {
                self.recorder.free(|| reason);
                continue;
            }
            // The first coefficient is the value at a corner of the box, which
            // lies within the box that was cut, off its middle.
            let corner: Vec<Vector2<f64>> = sheaf.nets.iter().map(|net| net.at(0)).collect();
            let (x, y) = (sheaf.extent.x.0, sheaf.extent.y.0);
            let (u, w) = match patch::joint_at(chart, x, ends) {
                Some(joint) => (joint, joint),
                None => patch::places(chart, x, y, ends),
            };
            if let Some((members, weights)) = surrounding(&corner, errors) {
                return Some(Surround {
                    members,
                    weights,
                    along: u,
                    other_along: w,
                });
            }
            let fine = sheaf
                .nets
                .iter()
                .zip(&finest)
                .all(|(net, finest)| net.spread() < *finest);
            let spent = bounds::MOST_SPLITS <= sheaf.splits || bounds::MOST_BOXES < self.boxes;
            if fine || spent {
                self.open = Some((u, w));
                return None;
            }
            let along_x = sheaf.varies_along_x();
            self.recorder.cut(along_x);
            sheaves.extend(sheaf.halves(along_x));
        }
        None
    }
}

fn reaches(one: &Woven, other: &Woven) -> Vec<f64> {
    let pairs = one.parts.iter().zip(&other.parts);
    pairs
        .map(|(one, other)| bounds::PATCH * one.reach.max(other.reach))
        .collect()
}
