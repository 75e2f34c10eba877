//! The least movement that makes a small family clear, sought slowly by asking the table alone.
//!
//! It shares no row, no slope and no program with the mends that it is compared with. It goes out from the drawing along
//! many ways by chance until the family is clear, and then walks along the border of what is clear, always nearer to the
//! drawing: an attack on the decision (Brendel, Rauber and Bethge, Decision-Based Adversarial Attacks,
//! arXiv:1712.04248, 2018). What it finds is an upper bound of the least.

use crate::chance::Chance;
use crate::mending::{helped, is_clear};
use crate::other_kinds;
use loftkin_kernel::family::Family;
use loftkin_kernel::grid::{GridPoint, STEPS_PER_MM};
use loftkin_kernel::profile::{Outline, PathSpan};
use loftkin_kernel::table::Table;
use loftkin_mend::{Request, Target, free_remedies};

/// How far the ways by chance go out, as shares of the largest coordinate.
const OUT: [f64; 7] = [0.01, 0.03, 0.08, 0.2, 0.4, 0.7, 1.0];
/// How many places on the border are walked from.
const WALKED: usize = 8;
/// The first step along the border, as a share of the movement, and the least.
const FIRST_STEP: f64 = 0.3;
const LEAST_STEP: f64 = 2e-4;
/// How the step grows where a try is nearer, and shrinks where it is not.
const GROWN: f64 = 1.6;
const SHRUNK: f64 = 0.96;

/// One small case: movements in mm, roots of the sums of squares over nodes, joints and handles beside their joints.
#[derive(Clone, Copy, Debug)]
pub struct Case {
    /// The seed of the family of which it is a pair.
    pub seed: u64,
    /// The movement of the mend; infinite when none was found.
    pub mended: f64,
    /// The least movement found.
    pub least: f64,
}

/// A pair of the family of `seed` of another kind that no change mends which costs nothing; none when there is no such
/// pair.
pub fn small_case(seed: u64) -> Option<Family> {
    let family = other_kinds::family(seed);
    let count = family.profiles.len();
    let mut pairs = (0..count).flat_map(|high| (0..high).map(move |low| [low, high]));
    pairs.find_map(|pair| {
        let pair = Family {
            profiles: pair.map(|index| family.profiles[index].clone()).to_vec(),
            ..family.clone()
        };
        let (freed, _) = free_remedies(pair, &Request::new(Target::All)).ok()?;
        let table = Table::new(freed.clone()).ok()?;
        let is_simple = (0..2).all(|index| table.cell(index, index).is_clear());
        (is_simple && !table.cell(0, 1).is_clear()).then_some(freed)
    })
}

/// The first `count` small cases, mended and sought by `tries` questions each.
pub fn cases(count: usize, tries: usize) -> impl Iterator<Item = Case> {
    let families = (0..).filter_map(|seed| small_case(seed).map(|family| (seed, family)));
    families
        .take(count)
        .map(move |(seed, family)| case(seed, &family, tries))
}

/// The small case `family` of `seed`, mended and sought by `tries` questions.
pub fn case(seed: u64, family: &Family, tries: usize) -> Case {
    let mended = helped(family);
    let moved = |mended: &Family| movement(family, mended);
    Case {
        seed,
        mended: mended.as_ref().map_or(f64::INFINITY, moved),
        least: least(family, mended.as_ref(), tries, &mut Chance::new(seed)),
    }
}

/// The root of the sum of squares that nodes, joints, and handles beside their joints moved, in mm.
pub fn movement(from: &Family, to: &Family) -> f64 {
    let moved = numbers(to).into_iter().zip(numbers(from));
    let moved: Vec<f64> = moved.map(|(to, from)| to - from).collect();
    length(&moved) / STEPS_PER_MM
}

/// The least movement in mm after which `drawn` is found clear; `known` is a family that is clear.
fn least(drawn: &Family, known: Option<&Family>, tries: usize, chance: &mut Chance) -> f64 {
    let mut search = Search {
        from: numbers(drawn),
        drawn,
        left: tries,
    };
    let mut border: Vec<Vec<f64>> = Vec::new();
    while tries / 2 < search.left {
        border.extend(search.outwards(chance));
    }
    border.sort_by(|one, other| length(one).total_cmp(&length(other)));
    border.truncate(WALKED);
    border.extend(known.map(|known| {
        let numbers = numbers(known).into_iter().zip(&search.from);
        numbers.map(|(to, from)| to - from).collect()
    }));
    let share = search.left / (2 * border.len().max(1));
    let walked = border
        .into_iter()
        .map(|at| search.walked(at, share, chance));
    let best = walked.min_by(|one, other| length(one).total_cmp(&length(other)));
    best.map_or(f64::INFINITY, |best| {
        let left = search.left;
        length(&search.walked(best, left, chance)) / STEPS_PER_MM
    })
}

struct Search<'a> {
    drawn: &'a Family,
    from: Vec<f64>,
    left: usize,
}

impl Search<'_> {
    fn is_clear(&mut self, by: &[f64]) -> bool {
        self.left = self.left.saturating_sub(1);
        let at: Vec<f64> = self
            .from
            .iter()
            .zip(by)
            .map(|(from, by)| from + by)
            .collect();
        is_clear(&placed(self.drawn, &at))
    }

    /// The border on a way by chance, of one point, of one profile or of all; none when nothing is clear on it.
    fn outwards(&mut self, chance: &mut Chance) -> Option<Vec<f64>> {
        let way = self.way(chance);
        let size = self
            .from
            .iter()
            .fold(0.0, |most: f64, at| most.max(at.abs()));
        let scaled = |by: f64| way.iter().map(|way| way * by * size).collect::<Vec<f64>>();
        let mut near = 0.0;
        for out in OUT {
            if !self.is_clear(&scaled(out)) {
                near = out;
                continue;
            }
            let mut far = out;
            for _ in 0..6 {
                let middle = f64::midpoint(near, far);
                if self.is_clear(&scaled(middle)) {
                    far = middle;
                } else {
                    near = middle;
                }
            }
            return Some(scaled(far));
        }
        None
    }

    /// A way of length 1 by chance.
    fn way(&self, chance: &mut Chance) -> Vec<f64> {
        let points = self.from.len() / 2;
        let (first, count) = match chance.below(3) {
            0 => (chance.below(points), 1),
            1 => (chance.below(points), 2 + chance.below(3)),
            _ => (0, points),
        };
        let mut way = vec![0.0; 2 * points];
        for point in first..first + count {
            for axis in 0..2 {
                way[2 * (point % points) + axis] = (0..3).map(|_| chance.between(-1.0, 1.0)).sum();
            }
        }
        let length = length(&way).max(1e-9);
        way.iter_mut().for_each(|way| *way /= length);
        way
    }

    /// Walks from `at`, which is clear, along the border and inwards, `tries` times.
    fn walked(&mut self, mut at: Vec<f64>, tries: usize, chance: &mut Chance) -> Vec<f64> {
        let mut step = FIRST_STEP;
        for _ in 0..tries {
            let long = length(&at);
            let way = self.way(chance);
            // Every other try goes along the border only as far as a way inwards allows.
            let inwards = 1.0 - step * chance.between(0.0, 0.6);
            let aside = step * chance.between(0.0, 1.0) * long;
            let tried: Vec<f64> = at
                .iter()
                .zip(way)
                .map(|(at, way)| inwards * at + aside * way)
                .collect();
            if length(&tried) < long && self.is_clear(&tried) {
                at = tried;
                step = (step * GROWN).min(FIRST_STEP);
            } else {
                step *= SHRUNK;
            }
            if step < LEAST_STEP {
                step = FIRST_STEP;
            }
        }
        at
    }
}

fn length(by: &[f64]) -> f64 {
    by.iter().map(|by| by * by).sum::<f64>().sqrt()
}

/// What may move, right and up by turns, in grid steps: nodes, joints, and handles as seen from their joints.
fn numbers(family: &Family) -> Vec<f64> {
    let mut numbers = Vec::new();
    let mut push = |at: GridPoint, from: GridPoint| {
        numbers.extend([at.x - from.x, at.y - from.y].map(f64::from));
    };
    let origin = GridPoint { x: 0, y: 0 };
    for profile in &family.profiles {
        match &profile.outline {
            Outline::Nodes(nodes) => nodes.iter().for_each(|node| push(node.at, origin)),
            Outline::Path { start, spans } => {
                let mut joint = *start;
                push(joint, origin);
                for (index, span) in spans.iter().enumerate() {
                    let to = end_of(span);
                    if let PathSpan::Cubic { first, second, .. } = span {
                        push(*first, joint);
                        push(*second, to);
                    }
                    // The end of a closed path is its start once more.
                    if !(profile.closed && index + 1 == spans.len()) {
                        push(to, origin);
                    }
                    joint = to;
                }
            }
        }
    }
    numbers
}

/// `drawn` with its points at `numbers`, on the grid.
fn placed(drawn: &Family, numbers: &[f64]) -> Family {
    let mut numbers = numbers.chunks_exact(2);
    let mut next = |from: GridPoint| {
        let by = numbers.next().expect("two numbers a point");
        GridPoint {
            x: from.x + by[0].round() as i32,
            y: from.y + by[1].round() as i32,
        }
    };
    let origin = GridPoint { x: 0, y: 0 };
    let mut family = drawn.clone();
    for profile in &mut family.profiles {
        match &mut profile.outline {
            Outline::Nodes(nodes) => nodes.iter_mut().for_each(|node| node.at = next(origin)),
            Outline::Path { start, spans } => {
                *start = next(origin);
                let mut joint = *start;
                let count = spans.len();
                for (index, span) in spans.iter_mut().enumerate() {
                    let is_last = profile.closed && index + 1 == count;
                    let joint_after = |next: &mut dyn FnMut(GridPoint) -> GridPoint| {
                        if is_last { *start } else { next(origin) }
                    };
                    match span {
                        PathSpan::Line { to } => *to = joint_after(&mut next),
                        PathSpan::Cubic { first, second, to } => {
                            *first = next(joint);
                            let from_end = next(origin);
                            *to = joint_after(&mut next);
                            *second = GridPoint {
                                x: to.x + from_end.x,
                                y: to.y + from_end.y,
                            };
                        }
                    }
                    joint = end_of(span);
                }
            }
        }
    }
    family
}

fn end_of(span: &PathSpan) -> GridPoint {
    match *span {
        PathSpan::Line { to } | PathSpan::Cubic { to, .. } => to,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_points_are_each_others_inverse() {
        for seed in 0..other_kinds::KINDS {
            let family = other_kinds::family(seed);
            assert_eq!(placed(&family, &numbers(&family)), family);
        }
    }
}
