//! The margin of the nodes: told movements break the pair, proved ones do not.

use super::*;
use crate::chance::Chance;
use crate::freedom::{points_of, shifted};
use loftkin_kernel::profile::Node;
use loftkin_kernel::verdict::Verdict;

fn corners(at: &[(i32, i32)]) -> Profile {
    let node = |&(x, y): &(i32, i32)| Node {
        corner: true,
        ..Node::smooth(x, y)
    };
    Profile::closed(at.iter().map(node).collect())
}

/// Two triangles with corners at .662 and .663 along, and the same with nodes at
/// most .41 mm away, which fold: both drawings were found by chance and stand
/// here as they are.
fn triangles() -> Family {
    Family {
        profiles: vec![
            corners(&[(1738, 16016), (-12979, -4833), (11851, -7664)]),
            corners(&[(17078, -113), (-5473, 12851), (-6015, -13220)]),
        ],
        ..wide()
    }
}

fn wide() -> Family {
    let mut family = Family::default();
    family.settings.twist_limit = loftkin_kernel::family::TenthsOfDegree(1799);
    family
}

fn moved_triangles() -> Family {
    Family {
        profiles: vec![
            corners(&[(1710, 16033), (-12950, -4821), (11850, -7696)]),
            corners(&[(17057, -148), (-5488, 12875), (-5981, -13221)]),
        ],
        ..wide()
    }
}

fn is_free(family: &Family) -> bool {
    let table = Table::new(family.clone()).unwrap();
    table.cell(0, 1).is_free()
}

#[test]
fn corners_that_change_places_are_told_and_break_the_pair() {
    assert!(is_free(&triangles()) && !is_free(&moved_triangles()));
    let found = node_margin(&triangles(), (0, 1)).unwrap();
    assert!(14.0 < found.surface_mm && found.proved_mm.is_none());
    let broken = found.broken.unwrap();
    assert!(broken.mm <= 0.42, "{}", broken.mm);
    let after = Family {
        profiles: broken.profiles.to_vec(),
        ..wide()
    };
    assert_eq!(
        Table::new(after).unwrap().cell(0, 1).verdict,
        Verdict::Faulty
    );
    let swap = found.swaps[0];
    assert!(swap.breaks && swap.mm < 0.5, "{swap:?}");
    assert!((swap.along[0] - 0.6625).abs() < 0.001, "{swap:?}");
    assert!(found.by_node.is_some());
}

#[test]
fn straight_spans_by_node_are_proved_for_moved_nodes_too() {
    let mut family = triangles();
    family.profiles[1] = corners(&[(-500, 13000), (-15000, -6000), (13000, -6000)]);
    family.settings.pacing = Pacing::Node;
    let found = node_margin(&family, (0, 1)).unwrap();
    let proved = found.proved_mm.unwrap();
    assert!((proved / found.surface_mm - 1.0).abs() < 1e-6);
    // By hand: a triangle of base 280 and height 190 mm is flat once its apex and
    // its base have come 95 mm each; no movement that breaks the pair is known to
    // be less.
    let broken = found.broken.unwrap().mm;
    assert!(proved <= broken && broken < 97.0, "{proved} {broken}");
}

fn round(turn: f64, chance: &mut Chance) -> Profile {
    let nodes = (0..10).map(|k| {
        let angle = (36.0 * f64::from(k) + turn).to_radians();
        let radius = 6000.0 + 1200.0 * chance.either_way();
        let at = |value: f64| libm::round(radius * value) as i32;
        Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
    });
    Profile::closed(nodes.collect())
}

/// Smooth pairs by node: nodes strewn as far as is proved never break a pair,
/// and what is found to break it lies beyond.
#[test]
fn proved_movements_break_nothing() {
    let mut chance = Chance::new();
    let mut tried = 0;
    for turn in [0.0, 20.0, 45.0, 70.0] {
        let mut family = wide();
        family.settings.pacing = Pacing::Node;
        family.profiles = vec![round(0.0, &mut chance), round(turn, &mut chance)];
        let Some(found) = node_margin(&family, (0, 1)) else {
            continue;
        };
        let proved = found.proved_mm.unwrap();
        assert!(found.broken.is_none_or(|broken| proved <= broken.mm));
        for _ in 0..40 {
            let mut strewn = family.clone();
            for profile in &mut strewn.profiles {
                let shifts: Vec<[f64; 2]> = (0..points_of(&profile.outline).len())
                    .map(|_| {
                        let angle = chance.either_way() * std::f64::consts::PI;
                        let far = proved * STEPS_PER_MM - 1.0;
                        [libm::cos(angle) * far, libm::sin(angle) * far]
                    })
                    .collect();
                *profile = shifted(profile, &shifts);
            }
            assert!(is_free(&strewn));
            tried += 1;
        }
    }
    assert!(80 <= tried);
}

/// Two bent lines that stand apart: what breaks them is far from the drawing, and
/// slopes there alone lead to it.
#[test]
fn a_break_far_away_is_found() {
    let bent = |x: i32| {
        let corner = |(x, y): (i32, i32)| Node {
            corner: true,
            ..Node::smooth(x, y)
        };
        Profile::open([(0, 0), (x, 3000), (9000, 0)].map(corner).to_vec())
    };
    let mut family = Family {
        profiles: vec![bent(4000), bent(5000)],
        ..wide()
    };
    family.settings.pacing = Pacing::Node;
    let found = node_margin(&family, (0, 1)).unwrap();
    let broken = found.broken.unwrap();
    assert!(found.proved_mm.unwrap() < broken.mm && broken.mm < 34.0);
}
