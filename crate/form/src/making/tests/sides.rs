//! The side of the mould and of the sheet: each decides which curvature counts.

use super::*;
use crate::body::wall::Side;
use crate::making::check::Report;
use crate::making::radius::ToolSide;
use crate::making::worst::{DEGREES, TOLERANCE};

fn report(workshop: Workshop, piece: &Piece, kind: Kind) -> Report {
    let reports = workshop.examine(piece, &workshop.edges(piece), false);
    reports.into_iter().find(|(one, _)| *one == kind).unwrap().1
}

/// The worst value found; that which is told is on its safe side, and near.
fn found(report: Report) -> f64 {
    assert!(!report.limit.is_worse(report.found, report.worst));
    close(
        report.worst,
        report.found,
        TOLERANCE * report.found.abs() + DEGREES,
    );
    report.found
}

/// A cylinder of 80 mm radius is hollow seen from inside only. A sheet of 2 mm on it
/// is bent to 80 less what of it lies inside.
#[test]
fn a_cylinder_by_the_side_of_mould_and_sheet() {
    let tube = stack(
        vec![of_radius(0.0, 80.0), of_radius(90.0, 80.0)],
        Blend::Ruled,
    );
    let male = Workshop {
        gauge: 2.0,
        ..Workshop::default()
    };
    let female = Workshop {
        tool_side: ToolSide::Inside,
        ..male
    };
    assert_eq!(report(male, &tube, Kind::Cutter).worst, f64::INFINITY);
    // Nodes on the grid move the curvature of the circle by a thousandth.
    close(found(report(female, &tube, Kind::Cutter)), 80.0, 0.1);
    let too_wide = Workshop {
        cutter: 81.0,
        ..female
    };
    assert!(!report(too_wide, &tube, Kind::Cutter).passes);
    for (sheet_side, bent, room) in [
        (Side::Middle, 79.0, 1.0 / 80.0),
        (Side::Inside, 78.0, 2.0 / 80.0),
        (Side::Outside, 80.0, 0.0),
    ] {
        let shop = Workshop { sheet_side, ..male };
        close(found(report(shop, &tube, Kind::Bend)), bent, 0.1);
        close(found(report(shop, &tube, Kind::Offset)), room, 5e-5);
    }
}

/// A cone that narrows upward by atan(40 / 200) comes off a male mould when it is
/// drawn up, and out of a female one only when it is drawn down.
#[test]
fn a_cone_leaves_a_female_mould_the_other_way() {
    let cone = stack(
        vec![of_radius(0.0, 100.0), of_radius(200.0, 60.0)],
        Blend::Ruled,
    );
    let lean = libm::atan2(40.0, 200.0).to_degrees();
    for (tool_side, direction, draft) in [
        (ToolSide::Outside, up(), lean),
        (ToolSide::Inside, up(), -lean),
        (ToolSide::Inside, -up(), lean),
        (ToolSide::Outside, -up(), -lean),
    ] {
        let workshop = Workshop {
            tool_side,
            direction,
            ..Workshop::default()
        };
        let drawn = report(workshop, &cone, Kind::Draft);
        close(found(drawn), draft, 1e-3);
        assert_eq!(drawn.passes, 2.0 <= draft);
        let (confirmed, _) = workshop.confirmed(&cone, drawn);
        assert_eq!(confirmed.basis == Basis::Proved, 2.0 <= draft);
    }
}

/// An edge of a box is a ridge for a male mould and a valley for a female one, and
/// hollow on its inner side: a sheet that lies outside has room there.
#[test]
fn a_ridge_is_a_valley_from_inside() {
    let corners = [(5000, 5000), (-5000, 5000), (-5000, -5000), (5000, -5000)];
    let nodes = corners.map(|(x, y)| Node::corner(x, y)).to_vec();
    let square = Curve::new(&Profile::closed(nodes), Pacing::Parameter).unwrap();
    let stations = Stations::stack(vec![Station::at(0.0), Station::at(60.0)]).unwrap();
    let upright = piece(&square, stations, Blend::Ruled);
    let edges = Workshop::default().edges(&upright);
    assert_eq!(edges.all.len(), 4);
    for edge in &edges.all {
        assert!(edge.is_valley_from(ToolSide::Inside) && !edge.is_valley_from(ToolSide::Outside));
    }
    let room = |sheet_side| {
        let shop = Workshop {
            sheet_side,
            ..Workshop::default()
        };
        report(shop, &upright, Kind::Offset).passes
    };
    assert!(room(Side::Outside) && !room(Side::Inside) && !room(Side::Middle));
}
