//! What a finding says beside the verdict, against closed forms: the faulty
//! fractions across, the twist, the remedy for a reversed or shifted curve.

use loftkin_kernel::family::Pacing;
use loftkin_kernel::profile::Profile;
use loftkin_kernel::verdict::{FaultKind, Finding, Remedy, Verdict};
use loftkin_tests::compare::table;
use loftkin_tests::shapes::{circle, folding, wide, wing_nodes};

fn finding(pacing: Pacing, profiles: [Profile; 2]) -> Finding {
    table(wide(pacing), profiles.to_vec()).finding(0, 1)
}

#[test]
fn the_faulty_fractions_across_are_those_of_the_formula() {
    for turn in [125.0, 135.0, 150.0, 165.0] {
        let finding = finding(Pacing::Node, folding::pair(turn));
        // The loops of the sections are born and die as cusps.
        assert!(
            finding
                .regions
                .iter()
                .any(|region| region.kind == FaultKind::Fold)
        );
        assert!(finding.complete, "at {turn} degrees");
        let contacts = finding
            .regions
            .iter()
            .filter(|region| matches!(region.kind, FaultKind::Fold | FaultKind::Crossing));
        let low = contacts
            .clone()
            .map(|region| region.across.0)
            .fold(1.0, f64::min);
        let high = contacts.map(|region| region.across.1).fold(0.0, f64::max);
        let from = folding::faulty_from(turn);
        println!(
            "at {turn} degrees: {low} to {high}, by formula {from} to {}",
            1.0 - from
        );
        assert!(
            (low - from).abs() < 1e-5,
            "at {turn} degrees from {low}, not {from}"
        );
        assert!(
            (high - (1.0 - from)).abs() < 1e-5,
            "at {turn} degrees to {high}, not {}",
            1.0 - from
        );
    }
}

#[test]
fn the_largest_twist_of_turned_circles_is_the_turn() {
    for turn in [20.0, 60.0, 89.0, 120.0, 160.0] {
        let finding = finding(
            Pacing::Parameter,
            [0.0, turn].map(|turn| circle(5000.0, 24, turn)),
        );
        assert!(
            (finding.twist.0.abs() - turn).abs() < 0.1,
            "{:?} for {turn}",
            finding.twist
        );
    }
}

#[test]
fn a_reversed_curve_is_named_as_such() {
    let section = |thickness| Profile::open(wing_nodes(thickness, 25_000.0, 20));
    let mut pairs: Vec<[Profile; 2]> = [4, 5, 8, 13, 24]
        .map(|count| circle(5000.0, count, 0.0))
        .map(|round| [round.clone(), round.reversed()])
        .to_vec();
    pairs.push([section(0.12), section(0.18).reversed()]);
    for pair in pairs {
        let finding = finding(Pacing::Node, pair);
        assert_eq!(finding.judgement.verdict, Verdict::Faulty);
        let reverses = |remedy| matches!(remedy, Remedy::Reverse { .. });
        assert!(
            finding.hints.iter().any(|hint| reverses(hint.remedy)),
            "{:?}",
            finding.hints
        );
    }
}

#[test]
fn a_moved_seam_is_named_as_such() {
    let section = |thickness| {
        let mut nodes = wing_nodes(thickness, 25_000.0, 20);
        let last = nodes.len() - 1;
        nodes[0].corner = true;
        nodes[last].corner = true;
        Profile::closed(nodes)
    };
    for seam in [5, 12, 20, 30] {
        let moved = section(0.18).with_seam(seam).expect("there is such a node");
        let finding = finding(Pacing::Node, [section(0.12), moved]);
        let count = section(0.18).node_count();
        // Either curve may be turned back, and only to the matching node.
        let back = finding.hints.iter().any(|hint| match hint.remedy {
            Remedy::MoveSeam { profile: 0, node } => node == seam,
            Remedy::MoveSeam { profile: 1, node } => node == count - seam,
            _ => false,
        });
        assert!(back, "seam {seam}: {:?}", finding.hints);
    }
}
