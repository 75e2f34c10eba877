//! Sharp edges and the sides of mould and sheet, as the place Making is told of them.

use super::checks::CheckMessage;
use super::tests::{stack, station};
use super::*;
use loftkin_kernel::family::Family;
use loftkin_kernel::profile::{Node, Profile};

/// One square of 100 mm over stations 50 mm apart, of these scales.
fn squares(scales: &[f64]) -> SeriesSession {
    let corners = [(5000, 5000), (-5000, 5000), (-5000, -5000), (5000, -5000)];
    let square = Profile::closed(corners.map(|(x, y)| Node::corner(x, y)).to_vec());
    let family = Family {
        profiles: vec![square],
        ..Family::default()
    };
    let stations = scales
        .iter()
        .enumerate()
        .map(|(index, &scale)| StationWish {
            scale,
            ..station(50.0 * index as f64)
        });
    let wish = SeriesWish {
        stations: stations.collect(),
        ..stack(2)
    };
    SeriesSession::new(family, &wish).unwrap()
}

fn check(making: &MakingMessage, kind: &str) -> CheckMessage {
    let found = making.checks.iter().find(|check| check.kind == kind);
    found.unwrap().clone()
}

/// Walls that step in by half of 50 mm over 50 mm of height and out again meet in a
/// valley of 2 atan(1/2) = 53.13 degrees, in which a ball of 3 mm leaves
/// 3 (1 / cos 26.57° - 1) = .354 mm.
#[test]
fn a_valley_is_told_with_its_turn_and_what_the_cutter_leaves() {
    let session = squares(&[1.0, 0.5, 1.0]);
    let making = session.making("1", &ShopWish::default()).unwrap();
    assert_eq!(making.sharp, 5);
    for kind in ["cutter", "bend", "pressure", "offset"] {
        let check = check(&making, kind);
        assert!(
            !check.passes && check.side.contains("without a fillet"),
            "{check:?}"
        );
        assert_eq!(check.at.len(), 6);
    }
    assert_eq!(check(&making, "pressure").worst, "unbounded");
    // What is found between walls does not take the place of what edges decide.
    assert!(!session.room("1", &ShopWish::default()).unwrap().passes);
    let said = making.edges.join(" ");
    for part in [
        "The mould is male",
        "No fillet is assumed",
        "Valley at station 2: turns by 53.13 to 53.14 degrees, 200.0",
        "leaves 0.36 mm at its bottom",
        "Ridge across at 0.000 along",
    ] {
        assert!(said.contains(part), "{part} is missing in: {said}");
    }
    let accepted = ShopWish {
        most_left: 0.4,
        ..ShopWish::default()
    };
    assert!(check(&session.making("1", &accepted).unwrap(), "cutter").passes);
    let filleted = ShopWish {
        fillet: 25.0,
        ..ShopWish::default()
    };
    let making = session.making("1", &filleted).unwrap();
    for kind in ["cutter", "bend", "pressure", "offset"] {
        let check = check(&making, kind);
        assert!(
            check.passes && check.side.contains("with the fillet of 25 mm assumed"),
            "{check:?}"
        );
    }
    assert!(
        making.edges[1].contains("the files have the sharp edge"),
        "{}",
        making.edges[1]
    );
    let large = ShopWish {
        fillet: 120.0,
        ..ShopWish::default()
    };
    let making = session.making("1", &large).unwrap();
    assert!(
        making.edges[2].contains("does not fit"),
        "{:?}",
        making.edges
    );
    assert!(!check(&making, "bend").passes);
    let wrong = ShopWish {
        fillet: -1.0,
        ..ShopWish::default()
    };
    let told = session.making("1", &wrong).unwrap_err().to_string();
    assert!(
        told.contains("fillet") && told.contains("0 mm or more"),
        "{told}"
    );
}

/// Upright walls: what is a ridge for a male mould is a valley for a female one; and
/// what narrows upward is drawn up from the one and down out of the other.
#[test]
fn the_side_of_the_mould_decides() {
    let female = ShopWish {
        tool_side: SideWish::Inside,
        ..ShopWish::default()
    };
    let upright = squares(&[1.0, 1.0]);
    let told = |wish: &ShopWish| upright.making("1", wish).unwrap().edges.join(" ");
    assert!(
        told(&ShopWish::default()).contains("Ridge across") && !told(&female).contains("Ridge")
    );
    assert!(
        told(&female).contains("Valley across") && told(&female).contains("The mould is female")
    );
    let narrowing = squares(&[1.0, 0.5]);
    for (wish, z) in [(ShopWish::default(), 1.0), (female, -1.0)] {
        let best = narrowing.best_draw("1", &wish).unwrap();
        assert!((best.direction[2] - z).abs() < 1e-3, "{best:?}");
        let along = ShopWish {
            draw: best.direction,
            ..wish
        };
        let making = narrowing.making("1", &along).unwrap();
        assert_eq!(check(&making, "draft").worst, "26.57 degrees");
    }
}
