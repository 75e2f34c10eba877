//! Faulty families by chance: eight clear profiles, one or two of which are then spoiled until one to five pairs are
//! faulty. They stand for what a person has on the board when asking for a mend.

use crate::chance::Chance;
use libm::{cos, sin};
use loftkin_kernel::family::{Family, TenthsOfDegree};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, Profile};
use loftkin_kernel::table::{Table, Totals};
use loftkin_kernel::verdict::Verdict;
use std::f64::consts::TAU;

/// How many profiles a family has.
pub const PROFILES: usize = 8;

/// The most faulty pairs.
pub const MOST_FAULTY: usize = 5;

/// A family with one to five faulty pairs, the others clear and every profile simple. Seeds take turns through closed
/// rings, open hooks, open arches and closed outlines with corners; half of them may twist by up to 179 degrees, so that
/// their faults are folds and crossings, the others by 90.
pub fn family(seed: u64) -> Family {
    let mut chance = Chance::new(seed);
    loop {
        let mut clear = clear(seed % 4, &mut chance);
        if seed % 8 < 4 {
            clear.settings.twist_limit = TenthsOfDegree(1790);
        }
        if totals(&clear) != Some((0, 0)) {
            continue;
        }
        for _ in 0..40 {
            let mut spoiled = clear.clone();
            for _ in 0..=chance.below(2) {
                let which = chance.below(PROFILES);
                spoil(&mut spoiled.profiles[which], &mut chance);
            }
            if let Some((faulty, 0)) = totals(&spoiled)
                && (1..=MOST_FAULTY).contains(&faulty)
            {
                return spoiled;
            }
        }
    }
}

/// Faulty and unproven pairs, if every profile is simple.
fn totals(family: &Family) -> Option<(usize, usize)> {
    let table = Table::new(family.clone()).ok()?;
    let simple = (0..table.size()).all(|index| table.cell(index, index).verdict == Verdict::Clear);
    let Totals {
        faulty, unproven, ..
    } = table.totals();
    simple.then_some((faulty, unproven))
}

fn clear(kind: u64, chance: &mut Chance) -> Family {
    let nodes = 7 + chance.below(6);
    Family {
        profiles: (0..PROFILES)
            .map(|_| profile(kind, nodes, chance))
            .collect(),
        ..Family::default()
    }
}

fn profile(kind: u64, nodes: usize, chance: &mut Chance) -> Profile {
    let size = chance.between(40.0, 90.0);
    // One in three profiles has a count of its own.
    let nodes = if chance.below(3) == 0 {
        6 + chance.below(8)
    } else {
        nodes
    };
    let waves: Vec<(f64, f64)> = (2..5)
        .map(|wave| {
            (
                chance.between(-0.25, 0.25) / f64::from(wave),
                chance.between(0.0, TAU),
            )
        })
        .collect();
    let wavy = |angle: f64| {
        let waves = waves.iter().zip(2..);
        1.0 + waves
            .map(|(&(height, phase), wave)| height * cos(f64::from(wave) * angle + phase))
            .sum::<f64>()
    };
    match kind {
        0 | 3 => Profile::closed(
            (0..nodes)
                .map(|node| {
                    let angle = TAU * (node as f64 + chance.between(-0.15, 0.15)) / nodes as f64;
                    let radius = size * wavy(angle);
                    let corner = kind == 3 && chance.below(3) == 0;
                    at(radius * cos(angle), radius * sin(angle), corner)
                })
                .collect(),
        ),
        1 => Profile::open(
            (0..nodes)
                .map(|node| {
                    let angle = TAU * 0.8 * node as f64 / (nodes - 1) as f64;
                    let radius = size * wavy(angle);
                    at(radius * cos(angle), radius * sin(angle), false)
                })
                .collect(),
        ),
        _ => Profile::open(
            (0..nodes)
                .map(|node| {
                    let along = node as f64 / (nodes - 1) as f64;
                    let x = 150.0 * (along - 0.5) + chance.between(-4.0, 4.0);
                    let y = size * sin(TAU * 0.5 * along) * wavy(TAU * along);
                    at(x, y, false)
                })
                .collect(),
        ),
    }
}

/// Spoils a profile: some nodes strewn about, a stretch of nodes bunched to one side, or a bulge pushed over.
fn spoil(profile: &mut Profile, chance: &mut Chance) {
    let closed = profile.closed;
    let Outline::Nodes(nodes) = &mut profile.outline else {
        return;
    };
    let count = nodes.len();
    let first = chance.below(count);
    let run = 1 + chance.below(count / 2);
    let towards = chance.between(0.0, TAU);
    let strength = chance.between(10.0, 60.0);
    let strewn = chance.below(2) == 0;
    for step in 0..run {
        let node = first + step;
        if count <= node && !closed {
            break;
        }
        let node = node % count;
        let (turn, reach) = if strewn {
            (
                chance.between(0.0, TAU),
                strength * chance.between(0.3, 1.0),
            )
        } else {
            (
                towards,
                strength * sin(TAU * 0.5 * (step as f64 + 0.5) / run as f64),
            )
        };
        let (x, y) = nodes[node].at.to_mm();
        nodes[node] = at(
            x + reach * cos(turn),
            y + reach * sin(turn),
            nodes[node].corner,
        );
    }
}

fn at(x: f64, y: f64, corner: bool) -> Node {
    let at = GridPoint::from_mm(x, y).expect("the families stay within a metre of the origin");
    Node { at, corner }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_family_has_one_to_five_faulty_pairs() {
        for seed in 0..12 {
            let (faulty, unproven) = totals(&family(seed)).expect("simple profiles");
            assert!((1..=MOST_FAULTY).contains(&faulty) && unproven == 0);
            assert_eq!(family(seed), family(seed));
        }
    }
}
