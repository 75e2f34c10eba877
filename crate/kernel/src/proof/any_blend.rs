//! The proof for all convex blends of many curves at once.
//!
//! A blend of F_1, ..., F_N with weights that are not negative and sum to one
//! vanishes somewhere exactly when 0 lies in the hull of all F_i at some (u, w).
//! A box is excluded when all N sets of coefficients lie in one open half-plane
//! (or in a pencil: one direction d_i a curve with d_i.F_j + d_j.F_i > 0 for all
//! i ≤ j). In the plane a point of a hull lies in a triangle of its points
//! (Carathéodory, Über den Variabilitätsbereich der Koeffizienten von
//! Potenzreihen, 1907), so a refutation names three curves at most: three that
//! strictly surround 0 are a witness at their very place, without any search
//! along paths. Bad blends of three or more fill open regions, so a place in the
//! middle of a box is tried before the box is cut.

use super::bounds;
use super::boxes::Task;
use super::bundle::{Bundle, Woven};
use super::patch::{self, Chart, Extent, Net};
use super::prepared::{Ready, SAMPLES, sample_parameter};
use super::stretch::Stretch;
use nalgebra::Vector2;
use std::f64::consts::PI;

/// Three members that surround zero, at one pair of places.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surround {
    /// The members, by their position in the bundle.
    pub members: [usize; 3],
    /// Their weights: positive, of sum one.
    pub weights: [f64; 3],
    /// The lower fraction along.
    pub along: f64,
    /// The higher one; the same for a fold.
    pub other_along: f64,
}

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
    let mut search = Search {
        bundle: Bundle::new(members),
        needed: members
            .iter()
            .map(|member| bounds::SEPARATION * member.size)
            .collect(),
        boxes: 0,
        open: None,
    };
    if members.is_empty() {
        return (Answer::Proved, 0);
    }
    let closed = members.iter().all(|member| member.curve.is_closed());
    let mut tasks = Vec::new();
    let mut pending = Vec::new();
    Task::begin(closed, &mut tasks);
    while let Some(task) = tasks.pop() {
        search.boxes += 1;
        if !search.is_excluded(task)
            && !task.halve(|stretch| search.bundle.halves(stretch), &mut tasks)
        {
            pending.push(task);
        }
    }
    if pending.is_empty() {
        return (Answer::Proved, search.boxes);
    }
    let found = at_samples(members).or_else(|| search.over_pieces(pending));
    let answer = match (found, search.open) {
        (Some(surround), _) => Answer::Refuted(surround),
        (None, Some((along, other_along))) => Answer::Open { along, other_along },
        (None, None) => Answer::Proved,
    };
    (answer, search.boxes)
}

/// A patch of all members.
struct Sheaf {
    nets: Vec<Net>,
    extent: Extent,
    splits: u8,
}

struct Search<'a> {
    bundle: Bundle<'a>,
    needed: Vec<f64>,
    boxes: u32,
    /// The first box that stayed open, by its places.
    open: Option<(f64, f64)>,
}

impl Search<'_> {
    fn is_excluded(&self, task: Task) -> bool {
        match task {
            Task::Itself(stretch) => self.bundle.cone(stretch).is_narrow(),
            Task::Joint(one, other) => {
                let cone = self.bundle.cone(one).joined(self.bundle.cone(other));
                cone.is_narrow()
            }
            Task::Apart(one, other) => self.bundle.separated(one, other, &self.needed),
        }
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
        let (charts, errors): (Vec<(Chart, Vec<Net>)>, Vec<f64>) = match task {
            Task::Apart(..) => {
                let nets = pairs().map(|(one, other)| patch::apart_net(one, other));
                (vec![(Chart::Apart, nets.collect())], sizes(&self.bundle))
            }
            Task::Itself(_) => {
                let nets = first.parts.iter().map(patch::own_net);
                (vec![(Chart::Itself, nets.collect())], reaches(first, first))
            }
            Task::Joint(..) => {
                let nets: Vec<[Net; 2]> = pairs()
                    .map(|(before, after)| patch::joint_nets(before, after))
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
        nets: Vec<Net>,
        chart: Chart,
        errors: &[f64],
        ends: &patch::Ends,
    ) -> Option<Surround> {
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
        }];
        while let Some(sheaf) = sheaves.pop() {
            self.boxes += 1;
            if is_free(&sheaf.nets, errors) {
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
            sheaves.extend(sheaf.halves());
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

impl Sheaf {
    fn halves(&self) -> [Self; 2] {
        let (mut x, mut y) = (0.0, 0.0);
        for net in &self.nets {
            let (along_x, along_y) = net.variation();
            let total = along_x + along_y;
            if 0.0 < total {
                x += along_x / total;
                y += along_y / total;
            }
        }
        let along_x = y <= x;
        let (low, high): (Vec<Net>, Vec<Net>) =
            self.nets.iter().map(|net| net.halves(along_x)).unzip();
        let extents = self.extent.halves(along_x);
        let part = |nets, extent| Self {
            nets,
            extent,
            splits: self.splits + 1,
        };
        [part(high, extents.1), part(low, extents.0)]
    }
}

/// Whether a test proves that no blend of the nets vanishes.
fn is_free(nets: &[Net], errors: &[f64]) -> bool {
    let means: Option<Vec<Vector2<f64>>> = nets.iter().map(mean_direction).collect();
    let Some(means) = means else {
        return false;
    };
    in_half_plane(nets, errors, &means) || in_pencil(nets, errors, &means)
}

fn mean_direction(net: &Net) -> Option<Vector2<f64>> {
    Vector2::new(net.x.iter().sum(), net.y.iter().sum()).try_normalize(0.0)
}

fn least_along(net: &Net, towards: Vector2<f64>) -> f64 {
    (0..16)
        .map(|k| towards.dot(&net.at(k)))
        .fold(f64::INFINITY, f64::min)
}

/// Towards the middle of the narrowest arc that holds all mean directions.
fn in_half_plane(nets: &[Net], errors: &[f64], means: &[Vector2<f64>]) -> bool {
    let Some((from, to)) = widest_pair(means) else {
        return false;
    };
    let Some(towards) = (from + to).try_normalize(0.0) else {
        return false;
    };
    nets.iter()
        .zip(errors)
        .all(|(net, error)| 2.0 * error < least_along(net, towards))
}

/// The two ends of the arc of directions, if it is less than a half turn.
fn widest_pair(directions: &[Vector2<f64>]) -> Option<(Vector2<f64>, Vector2<f64>)> {
    let (mut from, mut to) = (*directions.first()?, *directions.first()?);
    for &direction in directions {
        if from.perp(&direction) < 0.0 {
            if direction.perp(&to) < 0.0 {
                return None;
            }
            from = direction;
        } else if direction.perp(&to) < 0.0 {
            to = direction;
        }
    }
    (0.0 <= from.perp(&to)).then_some((from, to))
}

fn in_pencil(nets: &[Net], errors: &[f64], means: &[Vector2<f64>]) -> bool {
    (0..nets.len()).all(|i| {
        (0..=i).all(|j| {
            let least = (0..16)
                .map(|k| means[i].dot(&nets[j].at(k)) + means[j].dot(&nets[i].at(k)))
                .fold(f64::INFINITY, f64::min);
            2.0 * (errors[i] + errors[j]) < least
        })
    })
}

/// Three vectors that strictly surround zero beyond their errors, and the
/// weights of the blend that vanishes.
fn surrounding(vectors: &[Vector2<f64>], errors: &[f64]) -> Option<([usize; 3], [f64; 3])> {
    let mut order: Vec<(f64, usize)> = vectors
        .iter()
        .enumerate()
        .map(|(index, vector)| (libm::atan2(vector.y, vector.x), index))
        .collect();
    order.sort_by(|one, other| one.0.total_cmp(&other.0));
    let count = order.len();
    let mut best: Option<([usize; 3], [f64; 3], f64)> = None;
    for first in 0..count {
        // The neighbours of the direction opposite to this one.
        let opposite = order[first].0 + PI;
        let after = order.partition_point(|(angle, _)| {
            let limit = if PI < opposite {
                opposite - 2.0 * PI
            } else {
                opposite
            };
            *angle < limit
        });
        let members = [
            order[first].1,
            order[(after + count - 1) % count].1,
            order[after % count].1,
        ];
        let Some((weights, strength)) = weights_of(members, vectors, errors) else {
            continue;
        };
        if best.is_none_or(|(_, _, strongest)| strongest < strength) {
            best = Some((members, weights, strength));
        }
    }
    best.map(|(members, weights, _)| (members, weights))
}

/// The weights of three vectors that surround zero counter-clockwise, and the
/// least sine between two of them.
fn weights_of(
    members: [usize; 3],
    vectors: &[Vector2<f64>],
    errors: &[f64],
) -> Option<([f64; 3], f64)> {
    let mut crosses = [0.0; 3];
    let mut strength: f64 = 1.0;
    for k in 0..3 {
        let (i, j) = (members[(k + 1) % 3], members[(k + 2) % 3]);
        let (a, b) = (vectors[i], vectors[j]);
        let cross = a.perp(&b);
        let error = 4.0 * (a.amax() * errors[j] + b.amax() * errors[i] + errors[i] * errors[j])
            + bounds::PRODUCT * a.amax() * b.amax();
        if cross <= error {
            return None;
        }
        crosses[k] = cross;
        strength = strength.min(cross / (a.norm() * b.norm()));
    }
    let total: f64 = crosses.iter().sum();
    Some((crosses.map(|cross| cross / total), strength))
}

/// The strongest witness among the places of the samples: chords between two,
/// and slopes at one.
fn at_samples(members: &[&Ready]) -> Option<Surround> {
    let mut best: Option<(Surround, f64)> = None;
    let chord_errors: Vec<f64> = members
        .iter()
        .map(|member| bounds::PATCH * member.size)
        .collect();
    let slope_errors: Vec<f64> = members
        .iter()
        .map(|member| bounds::PATCH * member.steepest)
        .collect();
    let mut vectors = vec![Vector2::zeros(); members.len()];
    for j in 0..SAMPLES {
        for i in 0..=j {
            for (vector, member) in vectors.iter_mut().zip(members) {
                *vector = if i == j {
                    member.slopes[i]
                } else {
                    member.points[j] - member.points[i]
                };
            }
            let errors = if i == j { &slope_errors } else { &chord_errors };
            if widest_pair(&vectors).is_some() {
                continue;
            }
            let Some((triple, weights)) = surrounding(&vectors, errors) else {
                continue;
            };
            let strength =
                weights_of(triple, &vectors, errors).map_or(0.0, |(_, strength)| strength);
            if best.is_none_or(|(_, strongest)| strongest < strength) {
                let surround = Surround {
                    members: triple,
                    weights,
                    along: sample_parameter(i),
                    other_along: sample_parameter(j),
                };
                best = Some((surround, strength));
            }
        }
    }
    best.map(|(surround, _)| surround)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ray(degrees: f64, length: f64) -> Vector2<f64> {
        let angle = degrees.to_radians();
        Vector2::new(libm::cos(angle), libm::sin(angle)) * length
    }

    #[test]
    fn three_of_many_surround_zero_with_their_weights() {
        let vectors = [
            ray(10.0, 1.0),
            ray(130.0, 2.0),
            ray(40.0, 1.0),
            ray(-100.0, 3.0),
        ];
        let (members, weights) = surrounding(&vectors, &[1e-12; 4]).unwrap();
        let blend = (0..3).fold(Vector2::zeros(), |sum: Vector2<f64>, k| {
            sum + vectors[members[k]] * weights[k]
        });
        assert!(blend.norm() < 1e-12);
        assert!(weights.iter().all(|&weight| 0.0 < weight));
    }

    #[test]
    fn vectors_in_a_half_plane_surround_nothing() {
        let vectors = [ray(10.0, 1.0), ray(130.0, 2.0), ray(185.0, 1.0)];
        assert_eq!(surrounding(&vectors, &[1e-12; 3]), None);
        assert!(widest_pair(&vectors).is_some());
    }
}
