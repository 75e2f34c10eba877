//! The search: subdivision in (u, w) until every box is excluded, a witness
//! stands, or the allowed work is used up.
//!
//! The boxes are those of [`super::boxes`]. There is no subdivision in v and no
//! sampling.
//!
//! First over the prepared dyadic trees alone; what they leave open is opened
//! into pieces, and pieces that stay open become patches, which are cut in two
//! as polynomials (see [`super::patch`] and [`super::exclude`]).

use super::bounds;
use super::boxes::Task;
use super::cone::Cone;
use super::exclude::{corner_is_free, free_by};
use super::own_crossing::{crossing_of_chords, own_crossing};
use super::patch::{self, Chart, Ends, Patch};
use super::piece::Piece;
use super::prepared::Ready;
use super::recorder::Recorder;
use super::spread::{Between, separation};
use super::stretch::{Opened, Stretch, Stretches, Tree};
use super::telling;
use super::trace::{Cut, Trace};
use super::witness;
use crate::grid::STEPS_PER_MM;
use crate::verdict::{Doubt, Fault};

/// Memory of the search, kept from pair to pair.
#[derive(Default)]
pub struct Memory {
    opened: Opened,
    tasks: Vec<Task>,
    pending: Vec<Task>,
    patches: Vec<Patch>,
}

/// How a search ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outcome {
    /// Every box is excluded.
    Free,
    /// A zero is certain.
    Found(Fault),
    /// Some box could neither be excluded nor shown to hold a zero.
    Open(Doubt),
}

/// A box of a survey that could not be excluded.
#[derive(Clone, Copy, Debug)]
pub struct ZeroBox {
    /// What is left there.
    pub patch: Patch,
    /// What it compares.
    pub chart: Chart,
    /// Its pieces.
    pub ends: Ends,
}

/// Collects every box of the pair that is no larger than `resolution` (as a
/// fraction along, either way) and cannot be excluded; false when `budget`
/// boxes did not suffice to see them all.
pub fn survey(
    pair: [&Ready; 2],
    memory: &mut Memory,
    resolution: f64,
    budget: u32,
) -> (Vec<ZeroBox>, bool) {
    let Memory {
        opened,
        tasks,
        pending,
        patches,
    } = memory;
    let mut zeros = Vec::new();
    let mut search = Search::new(pair, opened, patches, ());
    search.collecting = Some(Collecting {
        zeros: &mut zeros,
        resolution,
        budget,
        complete: true,
    });
    pending.clear();
    search.over_trees(tasks, pending);
    search.over_pieces(pending);
    let complete = search.collecting.is_some_and(|survey| survey.complete);
    (zeros, complete)
}

/// Searches the pair; the same curve twice for a profile by itself.
pub fn search(pair: [&Ready; 2], memory: &mut Memory) -> (Outcome, u32) {
    let Memory {
        opened,
        tasks,
        pending,
        patches,
    } = memory;
    let mut search = Search::new(pair, opened, patches, ());
    let outcome = search.run(tasks, pending);
    (outcome, search.boxes)
}

/// Whether [`search`] would exclude every box of the pair. It ends at the first box
/// that stays open, after which nothing can make the pair free.
pub fn finds_nothing(pair: [&Ready; 2], memory: &mut Memory) -> bool {
    let Memory {
        opened,
        tasks,
        pending,
        patches,
    } = memory;
    let mut search = Search::new(pair, opened, patches, ());
    search.boxes_after_doubt = 0;
    search.run(tasks, pending) == Outcome::Free
}

/// The trace of the same search, one tree for each box of [`Task::begin`]; none
/// unless every box is excluded.
pub fn traced(pair: [&Ready; 2]) -> Option<Vec<Cut>> {
    let mut memory = Memory::default();
    let Memory {
        opened,
        tasks,
        pending,
        patches,
    } = &mut memory;
    let mut search = Search::new(pair, opened, patches, Trace::default());
    let is_free = search.run(tasks, pending) == Outcome::Free;
    is_free.then(|| search.recorder.trees(is_closed(pair), &mut search.tree))
}

fn is_closed(pair: [&Ready; 2]) -> bool {
    pair.iter().all(|ready| ready.curve.is_closed())
}

struct Search<'a, R> {
    tree: Tree<'a>,
    pair: [&'a Ready; 2],
    alone: bool,
    needed: [f64; 2],
    boxes: u32,
    /// The first box left open and how many had been looked at by then.
    first_doubt: Option<(Doubt, u32)>,
    /// How many more are looked at after it, in search of a witness.
    boxes_after_doubt: u32,
    patches: &'a mut Vec<Patch>,
    /// Set for a survey: no witness is sought and nothing is left open.
    collecting: Option<Collecting<'a>>,
    recorder: R,
}

struct Collecting<'a> {
    zeros: &'a mut Vec<ZeroBox>,
    resolution: f64,
    budget: u32,
    complete: bool,
}

impl Collecting<'_> {
    /// Keeps `patch` when it is small enough, or varies by no more than its errors, so
    /// that its parts would be left as well; else it must be cut. Beside a corner of
    /// straight spans nets vary along y alone: thousands of slivers would be left.
    fn keeps(&mut self, patch: &Patch, errors: [f64; 2], chart: Chart, ends: &Ends) -> bool {
        let is_even = (0..2).all(|side| patch.nets[side].spread() <= errors[side]);
        let small = is_even
            || patch.splits == bounds::MOST_SPLITS
            || extent(patch, chart, ends) <= self.resolution;
        if small {
            self.zeros.push(ZeroBox {
                patch: *patch,
                chart,
                ends: *ends,
            });
        }
        small
    }
}

/// The larger of the two lengths along that a patch covers.
fn extent(patch: &Patch, chart: Chart, ends: &Ends) -> f64 {
    let [one, other] = ends.map(|(from, to)| to - from);
    let (x, y) = (patch.x.1 - patch.x.0, patch.y.1 - patch.y.0);
    match chart {
        Chart::Apart => (x * one).max(y * other),
        Chart::Itself => x.max(y) * one,
        Chart::JointBefore => (x * one).max((x + y * patch.x.1) * other),
        Chart::JointAfter => (x * other).max((x + y * patch.x.1) * one),
    }
}

impl<'a, R> Search<'a, R> {
    fn new(
        pair: [&'a Ready; 2],
        opened: &'a mut Opened,
        patches: &'a mut Vec<Patch>,
        recorder: R,
    ) -> Self {
        Self {
            tree: Tree::new(pair, opened),
            pair,
            alone: std::ptr::eq(pair[0], pair[1]),
            needed: [0, 1].map(|side| bounds::SEPARATION * pair[side].size),
            boxes: 0,
            first_doubt: None,
            boxes_after_doubt: bounds::BOXES_AFTER_DOUBT,
            patches,
            collecting: None,
            recorder,
        }
    }
}

impl<R: Recorder> Search<'_, R> {
    fn run(&mut self, tasks: &mut Vec<Task>, pending: &mut Vec<Task>) -> Outcome {
        pending.clear();
        self.over_trees(tasks, pending);
        if pending.is_empty() {
            return Outcome::Free;
        }
        if !self.alone
            && let Some(fault) = witness::crossing(self.pair)
        {
            return Outcome::Found(fault);
        }
        let found = self.over_pieces(pending);
        match (found, self.first_doubt) {
            (Some(fault), _) => Outcome::Found(fault),
            (None, Some((doubt, _))) => Outcome::Open(doubt),
            (None, None) => Outcome::Free,
        }
    }

    /// Excludes what the prepared trees can; the rest goes to `pending`.
    fn over_trees(&mut self, tasks: &mut Vec<Task>, pending: &mut Vec<Task>) {
        tasks.clear();
        Task::begin(is_closed(self.pair), tasks);
        while let Some(task) = tasks.pop() {
            self.boxes += 1;
            if !self.is_excluded(task) && !self.halve(task, tasks) {
                pending.push(task);
            }
        }
    }

    fn is_excluded(&mut self, task: Task) -> bool {
        match task {
            Task::Itself(stretch) => self.is_narrow(task, self.cone(stretch)),
            Task::Joint(one, other) => {
                self.is_narrow(task, self.cone(one).joined(self.cone(other)))
            }
            Task::Apart(one, other) => {
                let between = self.separation(one, other);
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

    fn cone(&self, stretch: Stretch) -> Cone {
        let [a, b] = self.tree.bounds(stretch);
        a.cone.joined(b.cone)
    }

    fn separation(&self, one: Stretch, other: Stretch) -> Option<Between> {
        let ([a, b], [c, d]) = (self.tree.bounds(one), self.tree.bounds(other));
        separation([&a.spread, &b.spread], [&c.spread, &d.spread], self.needed)
    }

    fn halve(&self, task: Task, tasks: &mut Vec<Task>) -> bool {
        task.halve(|stretch| self.tree.halves(stretch), tasks)
    }

    /// Works off the boxes that the trees left open; a witness ends it.
    fn over_pieces(&mut self, tasks: &mut Vec<Task>) -> Option<Fault> {
        while let Some(task) = tasks.pop() {
            if self.is_spent() {
                return None;
            }
            self.boxes += 1;
            let task = task.map(|stretch| self.tree.open(stretch));
            if self.is_excluded(task) || self.halve(task, tasks) {
                continue;
            }
            if let Some(fault) = self.over_patches(task) {
                return Some(fault);
            }
        }
        None
    }

    fn is_spent(&mut self) -> bool {
        if let Some(survey) = &mut self.collecting {
            survey.complete = survey.complete && self.boxes <= survey.budget;
            return !survey.complete;
        }
        let Some((_, at)) = self.first_doubt else {
            return false;
        };
        at + self.boxes_after_doubt < self.boxes || bounds::MOST_BOXES < self.boxes
    }

    /// Settles pieces that the bounds could not: the task is not halved any more.
    fn over_patches(&mut self, task: Task) -> Option<Fault> {
        self.recorder.opens(task);
        match task {
            Task::Itself(Stretch::Piece(index)) => {
                let piece = *self.tree.piece(index);
                let (patch, errors) = patch::itself(&piece);
                self.over_patch(patch, Chart::Itself, errors, &ends(&piece, &piece))
            }
            Task::Apart(Stretch::Piece(one), Stretch::Piece(other)) => {
                let (one, other) = (*self.tree.piece(one), *self.tree.piece(other));
                let sizes = self.pair.map(|ready| ready.size);
                let (patch, errors) = patch::apart(&one, &other, sizes);
                self.over_patch(patch, Chart::Apart, errors, &ends(&one, &other))
            }
            Task::Joint(Stretch::Piece(before), Stretch::Piece(after)) => {
                let (before, after) = (*self.tree.piece(before), *self.tree.piece(after));
                let (charts, errors) = patch::joint(&before, &after);
                let ends = ends(&before, &after);
                charts
                    .into_iter()
                    .find_map(|(chart, patch)| self.over_patch(patch, chart, errors, &ends))
            }
            Task::Itself(_) | Task::Joint(..) | Task::Apart(..) => {
                unreachable!("only pieces cannot be halved, and leaves are opened first")
            }
        }
    }

    fn over_patch(
        &mut self,
        patch: Patch,
        chart: Chart,
        errors: [f64; 2],
        ends: &Ends,
    ) -> Option<Fault> {
        let finest = [0, 1].map(|side| {
            let net = &patch.nets[side];
            let most = (0..16).fold(0.0, |most: f64, k| most.max(net.at(k).amax()));
            bounds::TOLERANCE * most
        });
        self.patches.clear();
        self.patches.push(patch);
        while let Some(patch) = self.patches.pop() {
            self.boxes += 1;
            if let Some(test) = free_by(&patch.nets, errors, patch.bare) {
                self.recorder.free(|| test.into());
                continue;
            }
            // Costly, and the smaller the patch the surer: not at every cut.
            let at_corner = patch.bare == [[true, false]; 2] && patch.splits % 6 == 5;
            if at_corner && chart != Chart::Itself && corner_is_free(&patch.nets, errors, &mut ()) {
                self.recorder.corner(|recorder| {
                    corner_is_free(&patch.nets, errors, recorder);
                });
                continue;
            }
            if let Some(survey) = &mut self.collecting {
                if !survey.keeps(&patch, errors, chart, ends) {
                    let (low, high) = patch.halves(patch.varies_along_x());
                    self.patches.extend([high, low]);
                }
                if self.is_spent() {
                    return None;
                }
                continue;
            }
            if let Some(fault) = self.witness_in(&patch, chart, errors, ends) {
                return Some(fault);
            }
            let is_fine = (0..2).all(|side| patch.nets[side].spread() < finest[side]);
            let is_limit = bounds::MOST_SPLITS <= patch.splits || bounds::MOST_BOXES < self.boxes;
            if is_fine || is_limit {
                let is_first = self.first_doubt.is_none();
                self.leave_open(&patch, chart, ends, is_fine);
                if self.alone
                    && is_first
                    && let Some(fault) = crossing_of_chords(self.pair[0])
                {
                    return Some(fault);
                }
            } else {
                let along_x = patch.varies_along_x();
                self.recorder.cut(along_x);
                let (low, high) = patch.halves(along_x);
                self.patches.extend([high, low]);
            }
            if self.is_spent() {
                return None;
            }
        }
        None
    }

    fn witness_in(
        &self,
        patch: &Patch,
        chart: Chart,
        errors: [f64; 2],
        ends: &Ends,
    ) -> Option<Fault> {
        let curves = self.pair.map(|ready| &ready.curve);
        if self.alone {
            // A cut or two brings the start near enough for Newton's steps.
            if patch.splits % 4 != 3 {
                return None;
            }
            let (x, y) = (middle(patch.x), middle(patch.y));
            let (u, w) = patch::places(chart, x, y, ends);
            return own_crossing(self.pair[0], u, w);
        }
        let zero = witness::on_edges(patch, errors)?;
        if let Some(joint) = patch::joint_at(chart, zero.x, ends) {
            // At a corner the blend of tangents, not of slopes, vanishes. Where one
            // of the pieces is far shorter, the fraction across is rough.
            return Some(telling::fold_near(curves, joint, zero.across));
        }
        let (u, w) = patch::places(chart, zero.x, zero.y, ends);
        Some(if w <= u {
            telling::fold_at(curves, u)
        } else {
            telling::crossing_at(curves, u, w)
        })
    }

    fn leave_open(&mut self, patch: &Patch, chart: Chart, ends: &Ends, fine: bool) {
        if self.first_doubt.is_some() {
            return;
        }
        let (x, y) = (middle(patch.x), middle(patch.y));
        let (u, w) = patch::places(chart, x, y, ends);
        let curves = self.pair.map(|ready| &ready.curve);
        let chords = [0, 1].map(|side| curves[side].point(u) - curves[side].point(w));
        let (share, gap) = telling::nearest_blend(chords);
        let place = telling::place(curves, u, w, share);
        let doubt = if fine {
            Doubt::Contact {
                place,
                gap: gap / STEPS_PER_MM,
            }
        } else {
            Doubt::Limit { place }
        };
        self.first_doubt = Some((doubt, self.boxes));
    }
}

fn ends(one: &Piece, other: &Piece) -> Ends {
    [(one.from, one.to), (other.from, other.to)]
}

fn middle((from, to): (f64, f64)) -> f64 {
    f64::midpoint(from, to)
}
