//! Families to measure, made by formula: the same on every machine, of any size and number of spans.
//!
//! They are not demo families: nobody would press them. What matters is that their verdicts are known.

use libm::{cos, sin};
use loftkin_kernel::family::Family;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Profile};
use std::f64::consts::TAU;

/// The radius that the profiles vary around, in mm.
const RADIUS: f64 = 60.0;

/// Which curves a family is made of.
#[derive(Clone, Copy, Debug)]
pub enum Shape {
    /// Closed, around a common centre.
    Closed,
    /// Open hooks that turn through 300 degrees around a common centre.
    Hook,
}

/// `count` profiles of `spans` spans, wavy but star-shaped, all run through at the same angles. A blend of two is
/// star-shaped again, so every pair is free of folds and crossings; the waves are low enough for the twist limit.
pub fn clear(shape: Shape, count: usize, spans: usize) -> Family {
    family((0..count).map(|index| wavy(shape, index, spans, 0.0)))
}

/// `first` + `second` closed profiles. Within each part all pairs are clear; every pair across is faulty, for the
/// second part has its seams turned by 150 degrees, and a pair of near-limaçons z + a z^2 with a = .45 and this turn
/// folds (the closed form stands with the outside checks in tests).
pub fn two_parts(first: usize, second: usize, spans: usize) -> Family {
    let part = |count: usize, turn: f64| (0..count).map(move |index| limacon(index, spans, turn));
    family(part(first, 0.0).chain(part(second, 150.0 / 360.0)))
}

/// `profile` with its node number `index` moved right and up by `shift` grid steps.
pub fn with_node_moved(profile: &Profile, index: usize, shift: i32) -> Profile {
    let mut moved = profile.clone();
    if let loftkin_kernel::profile::Outline::Nodes(nodes) = &mut moved.outline {
        nodes[index].at.x += shift;
        nodes[index].at.y += shift;
    }
    moved
}

fn family(profiles: impl Iterator<Item = Profile>) -> Family {
    Family {
        profiles: profiles.collect(),
        ..Family::default()
    }
}

fn wavy(shape: Shape, index: usize, spans: usize, turn: f64) -> Profile {
    let (arc, nodes) = match shape {
        Shape::Closed => (1.0, spans),
        Shape::Hook => (300.0 / 360.0, spans + 1),
    };
    let size = RADIUS * (1.0 + 0.3 * spread(index, 0));
    let nodes = (0..nodes).map(|node| {
        let angle = TAU * (turn + arc * node as f64 / spans as f64);
        let waves: f64 = (2..5)
            .map(|wave| {
                let phase = TAU * spread(index, 2 * wave);
                spread(index, 2 * wave + 1) * cos(wave as f64 * angle + phase) / wave as f64
            })
            .sum();
        let radius = size * (1.0 + 0.2 * waves);
        at(radius * cos(angle), radius * sin(angle))
    });
    match shape {
        Shape::Closed => Profile::closed(nodes.collect()),
        Shape::Hook => Profile::open(nodes.collect()),
    }
}

fn limacon(index: usize, spans: usize, turn: f64) -> Profile {
    let size = RADIUS * (1.0 + 0.02 * spread(index, 0));
    let second = 0.45 + 0.02 * spread(index, 1);
    let nodes = (0..spans).map(|node| {
        let angle = TAU * (turn + node as f64 / spans as f64);
        at(
            size * (cos(angle) + second * cos(2.0 * angle)),
            size * (sin(angle) + second * sin(2.0 * angle)),
        )
    });
    Profile::closed(nodes.collect())
}

/// A number from -1 to 1 for each pair of arguments, evenly spread: multiples of irrational numbers modulo 1.
fn spread(index: usize, feature: usize) -> f64 {
    let place =
        (index + 1) as f64 * 0.618_033_988_749_894_9 + feature as f64 * 0.754_877_666_246_692_8;
    2.0 * (place - place.floor()) - 1.0
}

/// A smooth node at the grid point nearest to `x`, `y` in mm.
fn at(x: f64, y: f64) -> Node {
    let at = GridPoint::from_mm(x, y).expect("the families stay within a metre of the origin");
    Node { at, corner: false }
}
