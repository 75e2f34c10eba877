//! What the value and the limit of a making check rest on, in words: told wherever
//! they are.

use loftkin_form::body::wall::Side;
use loftkin_form::making::draft::Halves;
use loftkin_form::making::radius::ToolSide;
use loftkin_form::making::workshop::{Kind, Workshop};
use nalgebra::UnitVector3;

/// The inputs of the check `kind` but for its limit: "gauge 1 mm, flow stress 8 MPa".
pub fn inputs(shop: &Workshop, kind: Kind) -> String {
    let gauge = format!("gauge {} mm", shop.gauge);
    let cutter = format!("ball-nose cutter of radius {} mm", shop.cutter);
    let edges = match shop.fillet {
        0.0 => "no fillet assumed on sharp edges".to_owned(),
        fillet => format!("a fillet of {fillet} mm assumed on sharp edges, in no file"),
    };
    match kind {
        Kind::Draft => format!(
            "drawn along {}{}, {}",
            direction(shop.direction),
            match shop.tool_side {
                ToolSide::Outside => "",
                ToolSide::Inside => " out of a female mould",
            },
            match shop.halves {
                Halves::One => "a mould in one part".to_owned(),
                Halves::Two => format!(
                    "a mould in two halves, a band of {} mm beside their parting line accepted",
                    shop.most_band
                ),
            }
        ),
        Kind::Cutter => format!(
            "{cutter}, working from {}, {edges}, {} mm left in a sharp valley accepted",
            match shop.tool_side {
                ToolSide::Outside => "outside",
                ToolSide::Inside => "inside",
            },
            shop.most_left
        ),
        Kind::Scallop => format!(
            "{cutter}, passes {} mm apart along {}",
            shop.step_over,
            direction(shop.sideways)
        ),
        Kind::Thinning => gauge,
        Kind::Pressure => format!("{gauge}, flow stress {} MPa, {edges}", shop.flow_stress),
        Kind::Bend | Kind::Offset => format!("{gauge}, {}, {edges}", lying(shop.sheet_side)),
    }
}

fn lying(side: Side) -> &'static str {
    match side {
        Side::Middle => "the drawn skin in the middle of the sheet",
        Side::Inside => "the sheet inside the drawn skin",
        Side::Outside => "the sheet outside the drawn skin",
    }
}

/// "(0, 0, 1)", each part of a direction with three decimals at most.
fn direction(way: UnitVector3<f64>) -> String {
    let parts: Vec<String> = way
        .iter()
        // Minus nought is no direction of its own.
        .map(|part| (part * 1000.0).round() / 1000.0 + 0.0)
        .map(|part| part.to_string())
        .collect();
    format!("({})", parts.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Vector3;

    #[test]
    fn every_check_tells_what_it_rests_on() {
        let shop = Workshop {
            direction: UnitVector3::new_normalize(Vector3::new(-1.0, 0.0, 1.0)),
            halves: Halves::Two,
            most_band: 2.5,
            cutter: 25.0,
            gauge: 0.8,
            fillet: 4.0,
            ..Workshop::default()
        };
        let told = Kind::ALL.map(|kind| inputs(&shop, kind)).join("; ");
        for part in [
            "along (-0.707, 0, 0.707)",
            "a band of 2.5 mm",
            "radius 25 mm, working from outside",
            "passes 0.5 mm apart along (0, 0, 1)",
            "gauge 0.8 mm, flow stress 8 MPa",
            "the middle of the sheet, a fillet of 4 mm assumed on sharp edges, in no file",
            "0 mm left in a sharp valley accepted",
        ] {
            assert!(told.contains(part), "{part} is missing in {told}");
        }
    }
}
