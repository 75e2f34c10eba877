//! What a run tells of the sharp edges of pieces, of the fillet that is assumed on
//! them, and of the sides of mould and sheet: in columns and in sentences.

use loftkin_exchange::words;
use loftkin_exchange::words::edges::{kind, line};
use loftkin_form::making::edges::Edge;
use loftkin_form::making::fillet::Edges;
use loftkin_form::making::workshop::{Kind, Workshop};
use loftkin_form::piece::Piece;

/// The columns of the sides of mould and sheet.
pub const SIDES: [&str; 2] = ["mould", "sheet"];

/// The columns of sharp edges.
pub const COLUMNS: [&str; 10] = [
    "fillet_assumed_mm",
    "fillet_fits",
    "valleys",
    "valley_turn_deg",
    "valley_length_mm",
    "valley_left_mm",
    "ridges",
    "ridge_turn_deg",
    "ridge_length_mm",
    "sharpest_edges",
];

/// Edges told one by one in a line of the manifest.
const MOST_TOLD: usize = 4;

/// Whether sharp edges decide about `kind`.
pub fn concern(kind: Kind) -> bool {
    match kind {
        Kind::Cutter | Kind::Bend | Kind::Pressure | Kind::Offset => true,
        Kind::Draft | Kind::Scallop | Kind::Thinning => false,
    }
}

/// Those of [`SIDES`].
pub fn sides(shop: &Workshop) -> [String; 2] {
    let [mould, sheet] = [
        words::edges::mould(shop.tool_side),
        words::edges::sheet(shop.sheet_side),
    ];
    [mould.to_owned(), sheet.to_owned()]
}

/// The columns of `piece` with the sharp edges `edges`, valleys and ridges as the tool
/// sees them. Turns, lengths and what is left are no less than the truth.
pub fn columns(piece: &Piece, shop: &Workshop, edges: &Edges) -> Vec<String> {
    let fits = match (shop.fillet, &edges.misfit) {
        (0.0, _) => "",
        (_, Some(_)) => "no",
        (_, None) => "yes",
    };
    let mut columns = vec![shop.fillet.to_string(), fits.to_owned()];
    for is_valley in [true, false] {
        let of_kind = edges.all.iter();
        let of_kind = of_kind.filter(|edge| edge.is_valley_from(shop.tool_side) == is_valley);
        let (mut count, mut turn, mut length, mut left) = (0, 0.0_f64, 0.0, 0.0_f64);
        for edge in of_kind {
            count += 1;
            turn = turn.max(edge.most);
            length += edge.length;
            left = left.max(shop.left_on(edge));
        }
        columns.extend([count.to_string(), up(turn, 100.0), up(length, 10.0)]);
        if is_valley {
            columns.push(up(left, 1000.0));
        }
    }
    let told = edges.all.iter().take(MOST_TOLD);
    let mut told: Vec<String> = told.map(|edge| one(piece, shop, edge)).collect();
    let more = edges.all.len().saturating_sub(MOST_TOLD);
    if 0 < more {
        told.push(format!("{more} more"));
    }
    columns.push(told.join(" | "));
    columns
}

/// The sharpest edges of `piece` and how many more it has, a sentence each.
pub fn each_told(piece: &Piece, shop: &Workshop) -> Vec<String> {
    words::edges::list(piece, shop, &shop.edges(piece), MOST_TOLD)
}

/// An edge in a column: no commas, which end columns.
fn one(piece: &Piece, shop: &Workshop, edge: &Edge) -> String {
    let mut told = format!(
        "{} {} turns {} to {} deg over {} mm",
        kind(shop.tool_side, edge),
        line(piece, edge.line),
        down(edge.least, 100.0),
        up(edge.most, 100.0),
        up(edge.length, 10.0)
    );
    if edge.is_valley_from(shop.tool_side) {
        told += &format!(
            " R{} leaves {} mm",
            shop.cutter,
            up(shop.left_on(edge), 1000.0)
        );
    }
    told
}

/// Rounded so that it is no less.
fn up(value: f64, digits: f64) -> String {
    if value.is_finite() {
        ((value * digits).ceil() / digits).to_string()
    } else {
        String::new()
    }
}

/// Rounded so that it is no more.
fn down(value: f64, digits: f64) -> String {
    ((value * digits).floor() / digits).to_string()
}

/// The summary of the sharp edges of all pieces.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Edged {
    /// Pieces looked at.
    pieces: u64,
    /// Pieces with a sharp edge.
    edged: u64,
    /// Pieces on which the fillet does not fit.
    misfits: u64,
    /// The sharpest valley, degrees, with what is left there and its piece; then the
    /// sharpest ridge.
    sharpest: [Option<(f64, String, String)>; 2],
}

impl Edged {
    /// Counts the columns of piece `number`.
    pub fn count(&mut self, number: &str, columns: &[&str]) {
        let value = |column: usize| columns.get(column)?.parse::<f64>().ok();
        self.pieces += 1;
        let counts = [value(2), value(6)];
        self.edged += u64::from(counts.iter().flatten().any(|count| 0.0 < *count));
        self.misfits += u64::from(columns.get(1) == Some(&"no"));
        for (sharpest, column) in self.sharpest.iter_mut().zip([3, 7]) {
            let turn = value(column).unwrap_or(0.0);
            if sharpest.as_ref().map_or(0.0, |(most, ..)| *most) < turn {
                let left = columns.get(5).copied().unwrap_or_default();
                *sharpest = Some((turn, left.to_owned(), number.to_owned()));
            }
        }
    }

    /// A sentence an entry; nothing where no piece was looked at.
    pub fn told(&self, shop: &Workshop) -> Vec<String> {
        if self.pieces == 0 {
            return Vec::new();
        }
        let mut told = vec![words::edges::sides(shop)];
        if self.edged == 0 {
            told.push("No piece has a sharp edge.".to_owned());
            return told;
        }
        let mut sentence = format!(
            "Sharp edges stand on {} of {}, and no radius check of the smooth skin sees them",
            self.edged,
            words::counted(self.pieces as usize, "piece", "pieces")
        );
        let [valley, ridge] = &self.sharpest;
        if let Some((turn, left, piece)) = valley {
            sentence += &format!(
                "; the sharpest valley turns by up to {turn} degrees, on piece {piece}, where a cutter of {} mm radius leaves {left} mm",
                shop.cutter
            );
        }
        if let Some((turn, _, piece)) = ridge {
            sentence +=
                &format!("; the sharpest ridge turns by up to {turn} degrees, on piece {piece}");
        }
        told.push(sentence + ".");
        told.push(words::edges::fillet(shop));
        if 0 < self.misfits {
            told.push(format!(
                "On {} the fillet does not fit between its edges and rims, so it counts for nothing there.",
                words::counted(self.misfits as usize, "piece", "pieces")
            ));
        }
        told
    }
}
