//! Sharp edges, the fillet that is assumed on them, and the sides of mould and sheet,
//! in words.

use super::{capital, fraction, no_less, point};
use loftkin_form::body::wall::Side;
use loftkin_form::making::edges::{Edge, Line};
use loftkin_form::making::fillet::{Edges, Misfit};
use loftkin_form::making::radius::ToolSide;
use loftkin_form::making::workshop::Workshop;
use loftkin_form::piece::Piece;

/// Fractions across so near to a station are at it.
const AT_STATION: f64 = 1e-12;

/// The mould by the side from which it is cut.
pub fn mould(side: ToolSide) -> &'static str {
    match side {
        ToolSide::Outside => "male",
        ToolSide::Inside => "female",
    }
}

/// Where the sheet lies.
pub fn sheet(side: Side) -> &'static str {
    match side {
        Side::Middle => "middle",
        Side::Inside => "inside",
        Side::Outside => "outside",
    }
}

/// Which sides mould and sheet have, and what is cut.
pub fn sides(shop: &Workshop) -> String {
    let (mould, seen) = match shop.tool_side {
        ToolSide::Outside => (
            "male, inside the piece and cut from outside",
            "from outside",
        ),
        ToolSide::Inside => (
            "female, around the piece and cut from inside",
            "from inside",
        ),
    };
    let sheet = match shop.sheet_side {
        Side::Middle => "half to each side of the drawn skin",
        Side::Inside => "inside the drawn skin",
        Side::Outside => "outside the drawn skin",
    };
    format!(
        "The mould is {mould}; valleys and ridges are as seen {seen}. The sheet lies {sheet}. The cutter is held against the drawn skin itself, without an offset by the gauge."
    )
}

/// What is assumed of sharp edges.
pub fn fillet(shop: &Workshop) -> String {
    if shop.fillet == 0.0 {
        return "No fillet is assumed: over a sharp edge bend and pressure are not kept, nor is the room on its hollow side, nor the cutter in a valley beyond what it may leave.".to_owned();
    }
    format!(
        "A fillet of {} mm radius is assumed on every sharp edge, measured on the drawn skin. It is assumed only: the files have the sharp edge, so the fillet must be made in the mould.",
        shop.fillet
    )
}

/// What an edge is, seen from the tool.
pub fn kind(side: ToolSide, edge: &Edge) -> &'static str {
    if edge.is_valley_from(side) {
        "valley"
    } else {
        "ridge"
    }
}

/// Which line an edge runs on, stations from 1.
pub fn line(piece: &Piece, line: Line) -> String {
    match line {
        Line::AtAlong(u) => format!("across at {} along", fraction(u)),
        Line::AtAcross(v) => {
            let layout = piece.layout();
            let is_there = |index: &usize| (layout.fraction_of(*index) - v).abs() < AT_STATION;
            match (0..layout.stations().count()).find(is_there) {
                Some(index) => format!("at station {}", index + 1),
                None => format!("along the profile at {} across", fraction(v)),
            }
        }
    }
}

/// An edge with its turns, its length, what the cutter leaves on it, and where it is
/// sharpest.
fn told(piece: &Piece, shop: &Workshop, edge: &Edge) -> String {
    let mut told = format!(
        "{} {}: turns by {:.2} to {:.2} degrees, {} long",
        capital(kind(shop.tool_side, edge)),
        line(piece, edge.line),
        (edge.least * 100.0).floor() / 100.0,
        (edge.most * 100.0).ceil() / 100.0,
        no_less(edge.length)
    );
    if edge.is_valley_from(shop.tool_side) {
        let left = shop.left_on(edge);
        told += &match (left.is_finite(), shop.fillet) {
            (false, _) => "; no ball reaches into it".to_owned(),
            (true, 0.0) => format!(
                "; a cutter of {} mm radius leaves {} at its bottom",
                shop.cutter,
                no_less(left)
            ),
            (true, fillet) => format!(
                "; beyond a fillet of {fillet} mm a cutter of {} mm radius leaves {}",
                shop.cutter,
                no_less(left)
            ),
        };
    }
    format!("{told}; sharpest at {}.", point(&edge.place.point))
}

/// The sharpest edges, `most` of them, a sentence each, after where the fillet has no
/// room.
pub fn list(piece: &Piece, shop: &Workshop, edges: &Edges, most: usize) -> Vec<String> {
    let misfit = edges.misfit.iter();
    let mut list: Vec<String> = misfit.map(|one| misfit_told(piece, shop, one)).collect();
    let shown = edges.all.iter().take(most);
    list.extend(shown.map(|edge| told(piece, shop, edge)));
    let more = edges.all.len().saturating_sub(most);
    if 0 < more {
        list.push(format!("{more} more, less sharp."));
    }
    list
}

/// Where the fillet has no room.
fn misfit_told(piece: &Piece, shop: &Workshop, misfit: &Misfit) -> String {
    format!(
        "The fillet of {} mm does not fit {}: with that of the next edge it takes {} of the skin, and there are {:.2} mm to that edge or rim.",
        shop.fillet,
        line(piece, misfit.edge.line),
        if misfit.needed.is_finite() {
            no_less(misfit.needed)
        } else {
            "all".to_owned()
        },
        misfit.there
    )
}
