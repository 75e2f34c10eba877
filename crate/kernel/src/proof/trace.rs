//! The trace of a search: its boxes as trees, each with the cut or the reason
//! that the search itself had.

use super::boxes::Task;
use super::recorder::{Reason, Recorder};
use super::stretch::Stretches;
use nalgebra::Vector2;
use std::collections::BTreeMap;

/// A box and what stands below it.
#[derive(Clone, Debug, PartialEq)]
pub enum Cut {
    /// The reason that excludes the box.
    Proved(Reason),
    /// A box of one stretch or two, cut.
    Stretches {
        /// Where each stretch is cut; none for one that stays whole.
        at: Vec<Option<f64>>,
        /// The parts, in the order of [`Task::halve`].
        parts: Vec<Cut>,
    },
    /// A box of pieces as its charts: two for a joint, before it and after it,
    /// else one.
    Charts(Vec<Cut>),
    /// A part of a chart, cut along x or along y.
    Halves {
        /// Whether the cut is across x.
        along_x: bool,
        /// The lower and the higher part.
        parts: Vec<Cut>,
    },
    /// A part of a chart, by its corner blown up.
    Corner(Box<Cut>),
}

impl Cut {
    /// How many reasons stand in it.
    pub fn reasons(&self) -> usize {
        match self {
            Self::Proved(_) => 1,
            Self::Corner(below) => below.reasons(),
            Self::Stretches { parts, .. } | Self::Charts(parts) | Self::Halves { parts, .. } => {
                parts.iter().map(Self::reasons).sum()
            }
        }
    }
}

/// What a search told.
#[derive(Default)]
pub struct Trace {
    excluded: BTreeMap<Task, Vector2<f64>>,
    charts: BTreeMap<Task, Vec<Step>>,
    steps: Vec<Step>,
    opened: Option<Task>,
}

/// An entry of a chart's parts in preorder.
enum Step {
    Free(Reason),
    Cut { along_x: bool },
    Corner,
}

impl Recorder for Trace {
    fn excluded(&mut self, task: Task, towards: impl FnOnce() -> Vector2<f64>) {
        self.excluded.insert(task, towards());
    }

    fn opens(&mut self, task: Task) {
        self.keep();
        self.opened = Some(task);
    }

    fn free(&mut self, reason: impl FnOnce() -> Reason) {
        self.steps.push(Step::Free(reason()));
    }

    fn cut(&mut self, along_x: bool) {
        self.steps.push(Step::Cut { along_x });
    }

    fn corner(&mut self, tell: impl FnOnce(&mut Self)) {
        self.steps.push(Step::Corner);
        tell(self);
    }
}

impl Trace {
    fn keep(&mut self) {
        if let Some(task) = self.opened.take() {
            let steps = std::mem::take(&mut self.steps);
            self.charts.insert(task, steps);
        }
    }

    /// The trees of a search that excluded every box, one for each box that it
    /// began with; `stretches` are those of that search.
    pub fn trees(mut self, closed: bool, stretches: &mut impl Stretches) -> Vec<Cut> {
        self.keep();
        let mut roots = Vec::new();
        Task::begin(closed, &mut roots);
        roots
            .into_iter()
            .map(|task| self.tree(task, stretches))
            .collect()
    }

    fn tree(&mut self, task: Task, stretches: &mut impl Stretches) -> Cut {
        if let Some(towards) = self.excluded.remove(&task) {
            return Cut::Proved(Reason::HalfPlane(towards));
        }
        let mut parts = Vec::new();
        if task.halve(|stretch| stretches.halves(stretch), &mut parts) {
            let cut = |stretch| {
                let halves = stretches.halves(stretch);
                halves.map(|[low, _]| stretches.ends(low).1)
            };
            return Cut::Stretches {
                at: task.stretches().into_iter().map(cut).collect(),
                parts: self.trees_of(parts, stretches),
            };
        }
        let opened = task.map(|stretch| stretches.open(stretch));
        if opened != task {
            return self.tree(opened, stretches);
        }
        let steps = self.charts.remove(&task).unwrap_or_default();
        let mut steps = steps.into_iter();
        let count = if matches!(task, Task::Joint(..)) {
            2
        } else {
            1
        };
        Cut::Charts((0..count).map(|_| next_part(&mut steps)).collect())
    }

    fn trees_of(&mut self, tasks: Vec<Task>, stretches: &mut impl Stretches) -> Vec<Cut> {
        tasks
            .into_iter()
            .map(|task| self.tree(task, stretches))
            .collect()
    }
}

fn next_part(steps: &mut std::vec::IntoIter<Step>) -> Cut {
    match steps.next() {
        Some(Step::Free(reason)) => Cut::Proved(reason),
        Some(Step::Cut { along_x }) => Cut::Halves {
            along_x,
            parts: vec![next_part(steps), next_part(steps)],
        },
        Some(Step::Corner) => Cut::Corner(Box::new(next_part(steps))),
        None => unreachable!("a search that excluded every box told each of them"),
    }
}
