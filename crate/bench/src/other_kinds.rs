//! Faulty families of kinds that are not on the workshop's own board: turned and reversed copies of one outline, polygons
//! of few nodes, hairpins, exact paths with corners, rings near their axis. Each has four profiles that are simple, and
//! at least one faulty pair.

use crate::chance::Chance;
use libm::{cos, sin};
use loftkin_kernel::family::{Family, Placement, TenthsOfDegree};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::Verdict;
use std::f64::consts::TAU;

/// How many kinds there are; seeds take turns.
pub const KINDS: u64 = 5;
/// How many profiles a family has.
const PROFILES: usize = 4;

/// What the families of a seed are made of.
pub fn kind(seed: u64) -> &'static str {
    [
        "turned and reversed copies",
        "polygons of few nodes",
        "hairpins",
        "exact paths with corners",
        "rings",
    ][(seed % KINDS) as usize]
}

/// A family with at least one faulty pair, none unproven, every profile simple. Half of them may twist by up to 179
/// degrees, the others by 90.
pub fn family(seed: u64) -> Family {
    let mut chance = Chance::new(seed ^ 0x07e5);
    loop {
        let family = drawn(seed, &mut chance);
        if is_wanted(&family) {
            return family;
        }
    }
}

fn is_wanted(family: &Family) -> bool {
    let Ok(table) = Table::new(family.clone()) else {
        return false;
    };
    let simple = (0..table.size()).all(|index| table.cell(index, index).is_simple());
    let totals = table.totals();
    let axis = (0..table.size()).any(|index| table.cell(index, index).verdict == Verdict::Faulty);
    simple && totals.unproven == 0 && (0 < totals.faulty || axis)
}

fn drawn(seed: u64, chance: &mut Chance) -> Family {
    let shape = outline(chance);
    let mut family = Family {
        profiles: (0..PROFILES)
            .map(|_| match seed % KINDS {
                0 => copy(&shape, chance),
                1 => polygon(chance),
                2 => hairpin(chance),
                3 => path(chance),
                _ => ring(chance),
            })
            .collect(),
        ..Family::default()
    };
    if seed % KINDS == 4 {
        family.settings.placement = Placement::Ring;
    }
    if seed % (2 * KINDS) < KINDS {
        family.settings.twist_limit = TenthsOfDegree(1790);
    }
    family
}

/// Radii of a wavy closed outline at even angles.
fn outline(chance: &mut Chance) -> Vec<f64> {
    let count = 5 + chance.below(6);
    (0..count).map(|_| chance.between(35.0, 75.0)).collect()
}

/// The outline turned about, a little larger or smaller, one in four times drawn the other way.
fn copy(radii: &[f64], chance: &mut Chance) -> Profile {
    let turn = chance.between(-100.0, 100.0).to_radians();
    let scale = chance.between(0.8, 1.2);
    let count = radii.len() as f64;
    let nodes = radii.iter().enumerate().map(|(node, radius)| {
        let angle = turn + TAU * node as f64 / count;
        let radius = radius * scale + chance.between(-2.0, 2.0);
        node_at(radius * cos(angle), radius * sin(angle), false)
    });
    let profile = Profile::closed(nodes.collect());
    if chance.below(4) == 0 {
        profile.reversed()
    } else {
        profile
    }
}

fn polygon(chance: &mut Chance) -> Profile {
    let count = 3 + chance.below(3);
    let turn = chance.between(-40.0, 40.0).to_radians();
    let nodes = (0..count).map(|node| {
        let angle = turn + TAU * (node as f64 + chance.between(-0.3, 0.3)) / count as f64;
        let radius = chance.between(30.0, 90.0);
        node_at(radius * cos(angle), radius * sin(angle), true)
    });
    Profile::closed(nodes.collect())
}

/// There and back, close by, aslant.
fn hairpin(chance: &mut Chance) -> Profile {
    let long = chance.between(50.0, 110.0);
    let wide = chance.between(4.0, 14.0);
    let lean = chance.between(-50.0, 50.0).to_radians();
    let corner = chance.below(3) == 0;
    let at = |x: f64, y: f64, corner: bool| {
        node_at(
            x * cos(lean) - y * sin(lean),
            x * sin(lean) + y * cos(lean),
            corner,
        )
    };
    let bend = chance.between(-10.0, 10.0);
    Profile::open(vec![
        at(0.0, 0.0, false),
        at(long * chance.between(0.4, 0.6), bend, false),
        at(long, 0.2 * wide, corner),
        at(long, wide, corner),
        at(long * chance.between(0.4, 0.6), bend + wide, false),
        at(0.0, wide * 1.4, false),
    ])
}

/// Lines and cubics by turns, with corners, as from a drawing.
fn path(chance: &mut Chance) -> Profile {
    let count = 4 + chance.below(3);
    let turn = chance.between(-50.0, 50.0).to_radians();
    let at = |angle: f64, radius: f64| grid(radius * cos(angle), radius * sin(angle));
    let angles: Vec<f64> = (0..count)
        .map(|joint| turn + TAU * (joint as f64 + chance.between(-0.25, 0.25)) / count as f64)
        .collect();
    let radii: Vec<f64> = (0..count).map(|_| chance.between(35.0, 80.0)).collect();
    let start = at(angles[0], radii[0]);
    let spans = (0..count).map(|span| {
        let next = (span + 1) % count;
        let to = if next == 0 {
            start
        } else {
            at(angles[next], radii[next])
        };
        if span % 2 == 0 {
            return PathSpan::Line { to };
        }
        let sweep = (angles[next] - angles[span]).rem_euclid(TAU);
        let handle = |share: f64| {
            let radius = radii[span] + (radii[next] - radii[span]) * share;
            (angles[span] + sweep * share, radius)
        };
        let [(a, p), (b, q)] = [0.33, 0.67].map(handle);
        PathSpan::Cubic {
            first: at(a, p * chance.between(0.9, 1.5)),
            second: at(b, q * chance.between(0.9, 1.5)),
            to,
        }
    });
    Profile {
        name: String::new(),
        closed: true,
        outline: Outline::Path {
            start,
            spans: spans.collect(),
        },
    }
}

/// A closed outline to the right of the axis, near it, with one node pushed about.
fn ring(chance: &mut Chance) -> Profile {
    let count = 7 + chance.below(4);
    let size = chance.between(25.0, 45.0);
    let off = size * chance.between(1.1, 1.5);
    let pushed = chance.below(count);
    let push = [0, 1].map(|_| chance.between(-35.0, 35.0));
    let nodes = (0..count).map(|node| {
        let angle = TAU * node as f64 / count as f64;
        let radius = size * chance.between(0.85, 1.15);
        let by = if node == pushed { push } else { [0.0; 2] };
        node_at(
            off + radius * cos(angle) + by[0],
            radius * sin(angle) + by[1],
            false,
        )
    });
    Profile::closed(nodes.collect())
}

fn node_at(x: f64, y: f64, corner: bool) -> Node {
    Node {
        at: grid(x, y),
        corner,
    }
}

fn grid(x: f64, y: f64) -> GridPoint {
    GridPoint::from_mm(x, y).expect("the families stay within a metre of the origin")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_is_faulty_and_the_same_each_time() {
        for seed in 0..2 * KINDS {
            let family = family(seed);
            assert!(is_wanted(&family), "{}", kind(seed));
            assert_eq!(family, super::family(seed));
        }
    }
}
