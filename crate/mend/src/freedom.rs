//! What may move: the knobs of a family, and the profiles at a setting of them.
//!
//! A node has two knobs, right and up. A joint of an exact path has two that
//! carry its handles along, and each handle two of its own. Settings are real
//! numbers of grid steps; profiles always stand on the grid.

use crate::request::{Move, MovedPoint, Request};
use loftkin_kernel::family::Family;
use loftkin_kernel::grid::{GridPoint, REACH, STEPS_PER_MM};
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};

/// One number that may change.
#[derive(Clone, Debug)]
pub struct Knob {
    /// The points it carries, as places in [`points_of`].
    points: Vec<usize>,
    /// 0 to the right, 1 up.
    axis: usize,
    /// What it costs: weight times the square of its setting.
    pub weight: f64,
}

/// All knobs of a family, those of one profile side by side.
pub struct Freedom {
    /// The knobs.
    pub knobs: Vec<Knob>,
    /// Where the knobs of each profile begin and end.
    pub ranges: Vec<std::ops::Range<usize>>,
    /// The family that settings are counted from.
    pub drawn: Family,
}

impl Freedom {
    /// The knobs that `request` leaves to the profiles of `active`.
    pub fn new(family: &Family, request: &Request, active: &[usize]) -> Self {
        let mut knobs = Vec::new();
        let mut ranges = Vec::new();
        for (index, profile) in family.profiles.iter().enumerate() {
            let from = knobs.len();
            if active.contains(&index) {
                let weight = request.weights.get(index).copied().unwrap_or(1.0);
                knobs.extend(knobs_of(profile, index, weight, request));
            }
            ranges.push(from..knobs.len());
        }
        Self {
            knobs,
            ranges,
            drawn: family.clone(),
        }
    }

    /// Every point of `family` with knobs of its own, right and up, handles too;
    /// what lies on a joint for good goes with it.
    pub fn of_points(family: &Family) -> Self {
        let mut knobs = Vec::new();
        let mut ranges = Vec::new();
        for profile in &family.profiles {
            let from = knobs.len();
            for points in points_apart(profile) {
                knobs.extend([0, 1].map(|axis| Knob {
                    points: points.clone(),
                    axis,
                    weight: 1.0,
                }));
            }
            ranges.push(from..knobs.len());
        }
        Self {
            knobs,
            ranges,
            drawn: family.clone(),
        }
    }

    /// Profile `index` with its knobs at `setting`, on the grid.
    pub fn profile(&self, index: usize, setting: &[f64]) -> Profile {
        let drawn = &self.drawn.profiles[index];
        let mut shifts = vec![[0.0; 2]; points_of(&drawn.outline).len()];
        for at in self.ranges[index].clone() {
            let knob = &self.knobs[at];
            for &point in &knob.points {
                shifts[point][knob.axis] += setting[at];
            }
        }
        shifted(drawn, &shifts)
    }

    /// Profile `index` at `setting`, with one of its knobs turned by `steps`.
    pub fn turned(&self, index: usize, setting: &[f64], knob: usize, steps: f64) -> Profile {
        let profile = self.profile(index, setting);
        let mut shifts = vec![[0.0; 2]; points_of(&profile.outline).len()];
        for &point in &self.knobs[knob].points {
            shifts[point][self.knobs[knob].axis] = steps;
        }
        shifted(&profile, &shifts)
    }

    /// The whole family at `setting`.
    pub fn family(&self, setting: &[f64]) -> Family {
        let profiles = (0..self.drawn.profiles.len())
            .map(|index| self.profile(index, setting))
            .collect();
        Family {
            profiles,
            ..self.drawn.clone()
        }
    }

    /// The setting that comes nearest to `family`, which has the same points as
    /// the one drawn.
    pub fn setting_of(&self, family: &Family) -> Vec<f64> {
        let mut setting = vec![0.0; self.knobs.len()];
        for (index, range) in self.ranges.iter().enumerate() {
            let from = points_of(&self.drawn.profiles[index].outline);
            let to = points_of(&family.profiles[index].outline);
            let mut left: Vec<[f64; 2]> = from
                .iter()
                .zip(&to)
                .map(|(from, to)| [f64::from(to.x - from.x), f64::from(to.y - from.y)])
                .collect();
            // Joints come first among the knobs; what they carry is taken off.
            for knob in range.clone() {
                let Knob { points, axis, .. } = &self.knobs[knob];
                let by = left[points[0]][*axis];
                setting[knob] = by;
                points.iter().for_each(|&point| left[point][*axis] -= by);
            }
        }
        setting
    }

    /// The cost of `setting`, in steps squared.
    pub fn cost(&self, setting: &[f64]) -> f64 {
        let cost = |(knob, z): (&Knob, &f64)| knob.weight * z * z;
        self.knobs.iter().zip(setting).map(cost).sum()
    }
}

/// Whether two families have the same profiles and points, wherever they are.
pub fn alike(one: &Family, other: &Family) -> bool {
    let shape = |profile: &Profile| {
        let corners: Vec<bool> = match &profile.outline {
            Outline::Nodes(nodes) => nodes.iter().map(|node| node.corner).collect(),
            Outline::Path { spans, .. } => spans
                .iter()
                .map(|span| matches!(span, PathSpan::Line { .. }))
                .collect(),
        };
        let is_path = matches!(profile.outline, Outline::Path { .. });
        (profile.closed, is_path, corners)
    };
    one.settings == other.settings
        && one.profiles.len() == other.profiles.len()
        && one
            .profiles
            .iter()
            .zip(&other.profiles)
            .all(|(one, other)| shape(one) == shape(other))
}

/// What moved between two states of a family.
pub fn moves(before: &Family, after: &Family) -> Vec<Move> {
    let mut moves = Vec::new();
    for (profile, (old, new)) in before.profiles.iter().zip(&after.profiles).enumerate() {
        let (from, to) = (points_of(&old.outline), points_of(&new.outline));
        let names = names_of(&old.outline, old.closed);
        for ((from, to), name) in from.into_iter().zip(to).zip(names) {
            let Some(point) = name.filter(|_| from != to) else {
                continue;
            };
            moves.push(Move {
                profile,
                point,
                from_mm: from.to_mm(),
                right_mm: f64::from(to.x - from.x) / STEPS_PER_MM,
                up_mm: f64::from(to.y - from.y) / STEPS_PER_MM,
            });
        }
    }
    moves
}

/// All points of an outline in order, handles included.
pub fn points_of(outline: &Outline) -> Vec<GridPoint> {
    match outline {
        Outline::Nodes(nodes) => nodes.iter().map(|node| node.at).collect(),
        Outline::Path { start, spans } => {
            let mut points = vec![*start];
            for span in spans {
                match *span {
                    PathSpan::Line { to } => points.push(to),
                    PathSpan::Cubic { first, second, to } => points.extend([first, second, to]),
                }
            }
            points
        }
    }
}

/// What each point of [`points_of`] is; none for the end of a closed path,
/// which is its start once more.
fn names_of(outline: &Outline, closed: bool) -> Vec<Option<MovedPoint>> {
    match outline {
        Outline::Nodes(nodes) => (0..nodes.len())
            .map(|node| Some(MovedPoint::Node(node)))
            .collect(),
        Outline::Path { spans, .. } => {
            let mut names = vec![Some(MovedPoint::Node(0))];
            for (index, span) in spans.iter().enumerate() {
                if let PathSpan::Cubic { .. } = span {
                    names.push(Some(MovedPoint::FirstHandle(index)));
                    names.push(Some(MovedPoint::SecondHandle(index)));
                }
                let is_start = closed && index + 1 == spans.len();
                names.push((!is_start).then_some(MovedPoint::Node(index + 1)));
            }
            names
        }
    }
}

fn knobs_of(profile: &Profile, index: usize, weight: f64, request: &Request) -> Vec<Knob> {
    let count = profile.node_count();
    let is_held = |node: usize| {
        let is_end = !profile.closed && (node == 0 || node + 1 == count);
        request.pinned.contains(&(index, node)) || (request.keep_ends && is_end)
    };
    let groups: Vec<Vec<usize>> = match &profile.outline {
        Outline::Nodes(nodes) => (0..nodes.len())
            .filter(|&node| !is_held(node))
            .map(|node| vec![node])
            .collect(),
        Outline::Path { spans, .. } => path_groups(&profile.outline, spans, profile.closed)
            .into_iter()
            .filter(|(node, _)| !is_held(*node))
            .map(|(_, points)| points)
            .collect(),
    };
    let knob = |points: &Vec<usize>, axis| Knob {
        points: points.clone(),
        axis,
        weight,
    };
    groups
        .iter()
        .flat_map(|points| [knob(points, 0), knob(points, 1)])
        .collect()
}

/// The points of a profile, each by itself but for those that must stay together.
fn points_apart(profile: &Profile) -> Vec<Vec<usize>> {
    let spans = match &profile.outline {
        Outline::Nodes(nodes) => return (0..nodes.len()).map(|node| vec![node]).collect(),
        Outline::Path { spans, .. } => spans,
    };
    let mut groups: Vec<Vec<usize>> = path_groups(&profile.outline, spans, profile.closed)
        .into_iter()
        .map(|(_, points)| points)
        .collect();
    let joints = profile.node_count();
    let handles: Vec<usize> = groups[joints..].iter().flatten().copied().collect();
    for joint in &mut groups[..joints] {
        joint.retain(|point| !handles.contains(point));
    }
    groups
}

/// The groups of points that move together, each with the joint it belongs to:
/// a joint with its handles, and every handle by itself. A handle that lies on
/// its joint goes with the joint only.
fn path_groups(outline: &Outline, spans: &[PathSpan], closed: bool) -> Vec<(usize, Vec<usize>)> {
    let points = points_of(outline);
    let mut joints: Vec<Vec<usize>> = vec![vec![0]];
    let mut handles = Vec::new();
    let mut at = 0;
    for (index, span) in spans.iter().enumerate() {
        let last = closed && index + 1 == spans.len();
        let next = if last { 0 } else { index + 1 };
        if !last {
            joints.push(Vec::new());
        }
        match span {
            PathSpan::Line { .. } => {
                joints[next].push(at + 1);
                at += 1;
            }
            PathSpan::Cubic { .. } => {
                joints[index].push(at + 1);
                joints[next].extend([at + 2, at + 3]);
                if points[at + 1] != points[at] {
                    handles.push((index, vec![at + 1]));
                }
                if points[at + 2] != points[at + 3] {
                    handles.push((next, vec![at + 2]));
                }
                at += 3;
            }
        }
    }
    joints.into_iter().enumerate().chain(handles).collect()
}

/// `profile` with every point of [`points_of`] moved right and up by its shift,
/// in grid steps, and rounded to the grid.
pub fn shifted(profile: &Profile, shifts: &[[f64; 2]]) -> Profile {
    let points = points_of(&profile.outline);
    let mut moved = points.iter().zip(shifts).map(|(point, shift)| GridPoint {
        x: step(point.x, shift[0]),
        y: step(point.y, shift[1]),
    });
    let mut next = || moved.next().expect("one shift a point");
    let outline = match &profile.outline {
        Outline::Nodes(nodes) => Outline::Nodes(
            nodes
                .iter()
                .map(|node| Node {
                    at: next(),
                    ..*node
                })
                .collect(),
        ),
        Outline::Path { spans, .. } => Outline::Path {
            start: next(),
            spans: spans
                .iter()
                .map(|span| match span {
                    PathSpan::Line { .. } => PathSpan::Line { to: next() },
                    PathSpan::Cubic { .. } => PathSpan::Cubic {
                        first: next(),
                        second: next(),
                        to: next(),
                    },
                })
                .collect(),
        },
    };
    Profile {
        outline,
        ..profile.clone()
    }
}

/// `from` moved by `shift` and rounded, kept within the grid's reach.
fn step(from: i32, shift: f64) -> i32 {
    let reach = f64::from(REACH);
    libm::round(f64::from(from) + shift).clamp(-reach, reach) as i32
}
