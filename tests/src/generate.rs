//! Seeded random pairs, aimed at trouble: turns near the threshold, mirrored,
//! reversed, scaled and slightly moved copies, planted touches, corners on
//! seams, slits, unequal node counts.

use crate::oracle::pair::OraclePair;
use crate::oracle::search::{Sight, search_alone};
use crate::random::Random;
use crate::shapes::{node, nodes, on_circle, snapped};
use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use nalgebra::Vector2;
use std::f64::consts::TAU;

/// What a pair is aimed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Aim {
    /// Two shapes drawn independently, unequal counts.
    Strangers,
    /// A copy turned by any angle.
    Turned,
    /// A copy turned by half a turn, exactly.
    HalfTurn,
    /// A copy turned by nearly half a turn.
    NearHalfTurn,
    /// A mirrored copy, turned.
    Mirrored,
    /// The same run backwards, turned a little or not at all.
    Reversed,
    /// A copy scaled up to twentyfold and turned.
    Scaled,
    /// A copy whose nodes are moved by one step up to a third of the size.
    Perturbed,
    /// A copy with its seam moved.
    SeamMoved,
    /// The middle section has two nodes on one point: no margin at all.
    PlantedTouch,
    /// The middle section has two nodes close together.
    NearTouch,
    /// Long thin shapes against each other.
    Slit,
    /// Exact paths of cubic spans.
    Paths,
}

const AIMS: [Aim; 13] = [
    Aim::Strangers,
    Aim::Turned,
    Aim::HalfTurn,
    Aim::NearHalfTurn,
    Aim::Mirrored,
    Aim::Reversed,
    Aim::Scaled,
    Aim::Perturbed,
    Aim::SeamMoved,
    Aim::PlantedTouch,
    Aim::NearTouch,
    Aim::Slit,
    Aim::Paths,
];

/// Two profiles to be lofted, with their pacing.
#[derive(Clone, Debug)]
pub struct Case {
    /// What it is aimed at.
    pub aim: Aim,
    /// The first profile.
    pub first: Profile,
    /// The second profile.
    pub second: Profile,
    /// How they are paced; by node only when the counts are equal.
    pub pacing: Pacing,
}

/// Drawings thrown away at most for the sake of two simple profiles.
const REDRAWINGS: usize = 12;

/// The pair that belongs to `seed`; both profiles are valid and mostly simple.
pub fn case(seed: u64) -> Case {
    let mut random = Random::new(seed);
    let aim = AIMS[random.whole(0, AIMS.len() as i32 - 1) as usize];
    let mut redrawings = 0;
    loop {
        let case = draw(&mut random, aim);
        let sound = |profile: &Profile| profile.validate().is_ok() && !has_zero_handle(profile);
        if !sound(&case.first) || !sound(&case.second) {
            continue;
        }
        let simple =
            |profile| search_alone(&OraclePair::alone(profile, case.pacing), 6) == Sight::Nothing;
        if redrawings == REDRAWINGS || (simple(&case.first) && simple(&case.second)) {
            return case;
        }
        redrawings += 1;
    }
}

/// Two handles of zero length on one span make it a line at even speed, which the
/// oracle does not follow; single ones have a test of their own.
fn has_zero_handle(profile: &Profile) -> bool {
    let Outline::Path { start, spans } = &profile.outline else {
        return false;
    };
    let mut from = *start;
    spans.iter().any(|span| {
        let zero = match *span {
            PathSpan::Line { .. } => false,
            PathSpan::Cubic { first, second, to } => first == from || second == to,
        };
        from = span.to();
        zero
    })
}

fn draw(random: &mut Random, aim: Aim) -> Case {
    let closed = random.chance(0.55);
    let size = power(10.0, random.between(2.7, 4.7));
    let first = match aim {
        Aim::Slit => slit(random, closed, size),
        Aim::Paths => path(random, closed, size),
        _ => shape(random, closed, size),
    };
    let second = match aim {
        Aim::Strangers => shape(random, closed, size),
        Aim::Turned | Aim::Paths => {
            let most = size * power(10.0, random.between(-2.0, -0.4));
            turned(
                &moved(random, &first, most),
                random.between(0.0, 360.0),
                1.0,
            )
        }
        Aim::HalfTurn => turned(&first, 180.0, 1.0),
        Aim::NearHalfTurn => turned(&first, 180.0 + signed_power(random, -3.0, 1.5), 1.0),
        Aim::Mirrored => turned(&mirrored(&first), random.between(0.0, 360.0), 1.0),
        Aim::Reversed => {
            let off = if random.chance(0.5) {
                0.0
            } else {
                random.between(-40.0, 40.0)
            };
            turned(&first.reversed(), off, 1.0)
        }
        Aim::Scaled => {
            let scale = power(20.0, random.between(-1.0, 1.0));
            let turn = random.between(-150.0, 150.0);
            turned(&moved(random, &first, 0.2 * size), turn, scale)
        }
        Aim::Perturbed => {
            let most = size * power(10.0, random.between(-3.5, -0.5));
            moved(random, &first, most)
        }
        Aim::SeamMoved => {
            let seam = if closed {
                random.whole(1, first.node_count() as i32 - 1)
            } else {
                0
            };
            let copy = first
                .with_seam(seam as usize)
                .unwrap_or_else(|_| first.reversed());
            moved(random, &copy, 0.05 * size)
        }
        Aim::PlantedTouch => against_touch(random, &first, size, 0.0),
        Aim::NearTouch => {
            // At least a grid step: less would be a touch.
            let gap = (size * power(10.0, random.between(-6.0, -1.0))).max(1.5);
            against_touch(random, &first, size, gap)
        }
        Aim::Slit => {
            let turn = if random.chance(0.5) {
                random.between(0.0, 360.0)
            } else {
                signed_power(random, -2.0, 2.0)
            };
            let copy = turned(&first, turn, 1.0);
            moved(random, &copy, 0.02 * size)
        }
    };
    let equal = first.span_count() == second.span_count();
    let pacing = if equal && random.chance(0.4) {
        Pacing::Node
    } else {
        Pacing::Parameter
    };
    Case {
        aim,
        first,
        second,
        pacing,
    }
}

/// Powers by `libm`, so that a seed gives the same pair on every platform.
fn power(base: f64, exponent: f64) -> f64 {
    libm::pow(base, exponent)
}

fn signed_power(random: &mut Random, low: f64, high: f64) -> f64 {
    let size = power(10.0, random.between(low, high));
    if random.chance(0.5) { size } else { -size }
}

/// Any of the plain shapes, with corners here and there.
pub fn shape(random: &mut Random, closed: bool, size: f64) -> Profile {
    let count = random.whole(if closed { 3 } else { 2 }, 14) as usize;
    let points = match (closed, random.whole(0, 2)) {
        (true, 0) => star(random, count, size),
        (true, 1) => waves(random, count.max(5), size),
        (true, _) => crescent(random, size),
        (false, 0) => ridge(random, count, size),
        (false, 1) => walk(random, count, size),
        (false, _) => spiral(random, count.max(4), size),
    };
    let corners = [0.0, 0.0, 0.2, 1.0][random.whole(0, 3) as usize];
    let mut drawn: Vec<Node> = points.into_iter().map(node).collect();
    for node in &mut drawn {
        node.corner = random.chance(corners);
    }
    // A corner on the seam, where the closing joint is judged.
    if random.chance(0.15) {
        drawn[0].corner = true;
    }
    if closed {
        Profile::closed(drawn)
    } else {
        Profile::open(drawn)
    }
}

fn star(random: &mut Random, count: usize, size: f64) -> Vec<Vector2<f64>> {
    let rough = random.between(0.0, 0.75);
    let start = random.between(0.0, TAU);
    (0..count)
        .map(|i| {
            let angle = start + TAU * (i as f64 + random.between(-0.35, 0.35)) / count as f64;
            let radius = size * (1.0 - rough * random.unit());
            on_circle(radius, angle)
        })
        .collect()
}

fn waves(random: &mut Random, count: usize, size: f64) -> Vec<Vector2<f64>> {
    let terms: Vec<(f64, f64)> = (1..4)
        .map(|k| {
            (
                random.between(0.0, 0.6) / f64::from(k),
                random.between(0.0, TAU),
            )
        })
        .collect();
    (0..count)
        .map(|i| {
            let angle = TAU * i as f64 / count as f64;
            let swing: f64 = terms
                .iter()
                .zip(1..)
                .map(|(&(share, phase), k)| share * libm::cos(f64::from(k) * angle + phase))
                .sum();
            on_circle(size * (1.0 + swing), angle)
        })
        .collect()
}

fn crescent(random: &mut Random, size: f64) -> Vec<Vector2<f64>> {
    let half = random.whole(3, 6) as usize;
    let opening = random.between(0.5, 5.5);
    let thick = random.between(0.05, 0.5);
    let outer = (0..half).map(|i| on_circle(size, opening * i as f64 / (half - 1) as f64));
    let inner = (0..half)
        .rev()
        .map(|i| on_circle(size * (1.0 - thick), opening * i as f64 / (half - 1) as f64));
    outer.chain(inner).collect()
}

fn ridge(random: &mut Random, count: usize, size: f64) -> Vec<Vector2<f64>> {
    let high = random.between(0.05, 1.5);
    (0..count)
        .map(|i| {
            let x = (i as f64 + random.between(-0.4, 0.4)) / count as f64;
            Vector2::new(x * size, high * size * random.between(-0.5, 0.5))
        })
        .collect()
}

fn walk(random: &mut Random, count: usize, size: f64) -> Vec<Vector2<f64>> {
    let turn = random.between(0.2, 1.6);
    let mut heading = random.between(0.0, TAU);
    let mut at = Vector2::zeros();
    (0..count)
        .map(|_| {
            heading += random.between(-turn, turn);
            at += on_circle(size / count as f64 * random.between(0.3, 1.7), heading);
            at
        })
        .collect()
}

fn spiral(random: &mut Random, count: usize, size: f64) -> Vec<Vector2<f64>> {
    let rounds = random.between(0.4, 1.8);
    let inner = random.between(0.1, 0.7);
    let start = random.between(0.0, TAU);
    (0..count)
        .map(|i| {
            let share = i as f64 / (count - 1) as f64;
            on_circle(
                size * (inner + (1.0 - inner) * share),
                start + TAU * rounds * share,
            )
        })
        .collect()
}

fn slit(random: &mut Random, closed: bool, size: f64) -> Profile {
    let half = random.whole(2, 6) as usize;
    let gap = size * power(10.0, random.between(-3.0, -0.5));
    let bow = random.between(-0.5, 0.5);
    let side = |i: usize, offset: f64| {
        let x = i as f64 / (half - 1) as f64;
        Vector2::new(size * x, size * bow * 4.0 * x * (1.0 - x) + offset)
    };
    let there = (0..half).map(|i| side(i, 0.0));
    let back = (0..half).rev().map(|i| side(i, gap));
    let mut drawn: Vec<Node> = there.chain(back).map(node).collect();
    if random.chance(0.6) {
        for index in [0, half - 1, half, 2 * half - 1] {
            drawn[index].corner = true;
        }
    }
    if closed {
        Profile::closed(drawn)
    } else {
        Profile::open(drawn)
    }
}

/// A path whose joints are partly smooth, with handles of many lengths.
fn path(random: &mut Random, closed: bool, size: f64) -> Profile {
    let base = nodes(&shape(random, closed, size));
    let count = base.len();
    let at = |i: usize| {
        Vector2::new(
            f64::from(base[i % count].at.x),
            f64::from(base[i % count].at.y),
        )
    };
    let spans = if closed { count } else { count - 1 };
    let reach: Vec<(f64, f64)> = (0..count)
        .map(|_| (random.between(0.1, 0.6), random.between(0.1, 0.6)))
        .collect();
    let slope = |i: usize| {
        let (before, after) = if closed {
            (at(i + count - 1), at(i + 1))
        } else {
            (at(i.max(1) - 1), at((i + 1).min(count - 1)))
        };
        (after - before) * 0.5
    };
    let straight = random.between(0.0, 0.3);
    let made = (0..spans)
        .map(|i| {
            let (from, to) = (at(i), at(i + 1));
            let next = (i + 1) % count;
            if random.chance(straight) {
                return PathSpan::Line { to: snapped(to) };
            }
            PathSpan::Cubic {
                first: snapped(from + slope(i) * reach[i].0),
                second: snapped(to - slope(next) * reach[next].1),
                to: snapped(to),
            }
        })
        .collect();
    Profile {
        name: String::new(),
        closed,
        outline: Outline::Path {
            start: snapped(at(0)),
            spans: made,
        },
    }
}

/// The profile with every point moved by `map`, snapped to the grid.
pub fn mapped(profile: &Profile, mut map: impl FnMut(Vector2<f64>) -> Vector2<f64>) -> Profile {
    let mut move_point = |point: loftkin_kernel::grid::GridPoint| {
        snapped(map(Vector2::new(f64::from(point.x), f64::from(point.y))))
    };
    let outline = match &profile.outline {
        Outline::Nodes(nodes) => Outline::Nodes(
            nodes
                .iter()
                .map(|node| Node {
                    at: move_point(node.at),
                    corner: node.corner,
                })
                .collect(),
        ),
        Outline::Path { start, spans } => {
            let start = move_point(*start);
            let mut spans: Vec<PathSpan> = spans
                .iter()
                .map(|span| match *span {
                    PathSpan::Line { to } => PathSpan::Line { to: move_point(to) },
                    PathSpan::Cubic { first, second, to } => PathSpan::Cubic {
                        first: move_point(first),
                        second: move_point(second),
                        to: move_point(to),
                    },
                })
                .collect();
            if let (true, Some(PathSpan::Line { to } | PathSpan::Cubic { to, .. })) =
                (profile.closed, spans.last_mut())
            {
                *to = start;
            }
            Outline::Path { start, spans }
        }
    };
    Profile {
        outline,
        ..profile.clone()
    }
}

/// The profile turned by `degrees` about the origin and scaled.
pub fn turned(profile: &Profile, degrees: f64, scale: f64) -> Profile {
    let (sin, cos) = libm::sincos(degrees.to_radians());
    mapped(profile, |at| {
        Vector2::new(cos * at.x - sin * at.y, sin * at.x + cos * at.y) * scale
    })
}

/// The profile mirrored at the y axis.
pub fn mirrored(profile: &Profile) -> Profile {
    mapped(profile, |at| Vector2::new(-at.x, at.y))
}

/// The profile with each point moved by up to `most` either way.
pub fn moved(random: &mut Random, profile: &Profile, most: f64) -> Profile {
    mapped(profile, |at| {
        at + Vector2::new(random.between(-most, most), random.between(-most, most))
    })
}

/// A partner with which the middle section has two of its nodes brought
/// together up to `gap`: twice that section less the first profile.
fn against_touch(random: &mut Random, first: &Profile, size: f64, gap: f64) -> Profile {
    let middle = nodes(&moved(random, first, 0.2 * size));
    let count = middle.len();
    let (i, j) = (
        random.whole(0, count as i32 - 1) as usize,
        random.whole(0, count as i32 - 1) as usize,
    );
    let angle = random.between(0.0, TAU);
    let touching = middle[i].at;
    let originals = nodes(first);
    let partner = middle
        .iter()
        .enumerate()
        .map(|(index, one)| {
            let at = if index == j {
                Vector2::new(f64::from(touching.x), f64::from(touching.y)) + on_circle(gap, angle)
            } else {
                Vector2::new(f64::from(one.at.x), f64::from(one.at.y))
            };
            let start = originals[index];
            let twice = at * 2.0 - Vector2::new(f64::from(start.at.x), f64::from(start.at.y));
            Node {
                at: snapped(twice),
                corner: start.corner,
            }
        })
        .collect();
    Profile {
        outline: Outline::Nodes(partner),
        ..first.clone()
    }
}

/// The partner at `share` of the way from `near` to `far`, which have equal
/// numbers of points: for closing in on a threshold.
pub fn between(near: &Profile, far: &Profile, share: f64) -> Profile {
    let targets: Vec<Vector2<f64>> = points(far);
    let mut next = targets.into_iter();
    mapped(near, |at| {
        let to = next.next().unwrap_or(at);
        at + (to - at) * share
    })
}

fn points(profile: &Profile) -> Vec<Vector2<f64>> {
    let mut all = Vec::new();
    mapped(profile, |at| {
        all.push(at);
        at
    });
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_gives_the_same_pair_again() {
        for seed in 0..200 {
            let (one, two) = (case(seed), case(seed));
            assert_eq!(one.first, two.first);
            assert_eq!(one.second, two.second);
            assert_eq!(one.first.closed, one.second.closed);
        }
    }
}
