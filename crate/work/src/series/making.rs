//! All that is to be known of making a piece: its measures, the making checks on
//! it, the stretch of its skins, its sharp edges. Estimates for design; limits are
//! the person's.

use super::checks::{self, CheckMessage};
use super::figures::{self, FigureMessage};
use super::forming::{self, SkinMessage};
use super::session::{SeriesFailure, SeriesSession};
use super::shop::ShopWish;
use loftkin_exchange::words;
use loftkin_form::making::DESIGN_ESTIMATE;
use loftkin_form::making::check::Report;
use loftkin_form::making::draft::Halves;
use loftkin_form::making::fillet::Edges;
use loftkin_form::making::undercut::parting_lines;
use loftkin_form::making::workshop::{Kind, Workshop};
use loftkin_form::piece::Piece;
use serde::Serialize;

/// The most edges that are told one by one.
const MOST_EDGES: usize = 12;

/// Draft that is told as 0, degrees.
const NO_DRAFT: f64 = 0.005;

/// Whether the limit is kept, where only a band beside the parting line lacks draft.
pub(super) const AT_THE_LINE_ONLY: &str = "not at the line";

/// Said of two halves where the draft falls to 0 at their parting line.
const AT_THE_LINE: &str = "right at the parting line a smooth skin has 0 draft whatever its shape; how wide the band without the least draft is beside it is being worked out";

/// Said of open profiles in a stack, where outside is a matter of agreement.
const NO_OUTSIDE: &str = "Open profiles in a stack have no outside: here outside is the side that is lighter in the picture. Reverse all profiles to change sides.";

/// All that is to be known of making a piece.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MakingMessage {
    /// Its measures.
    pub figures: Vec<FigureMessage>,
    /// The checks, in the order in which a piece is made.
    pub checks: Vec<CheckMessage>,
    /// How far the sheet and each skin is stretched; none where no one sheet is
    /// formed to the piece.
    pub skins: Vec<SkinMessage>,
    /// How many sharp edges there are.
    pub sharp: usize,
    /// On which side mould and sheet are, what is assumed of sharp edges, and these, the
    /// sharpest first, a sentence each.
    pub edges: Vec<String>,
    /// Which side is outside, where that is not plain; may be empty.
    pub sides: String,
    /// What stands beside every making figure.
    pub cautions: Vec<String>,
}

impl SeriesSession {
    /// Measures piece `number` and checks it against the limits of `wish`.
    ///
    /// # Errors
    /// [`SeriesFailure`], also of a limit that is not above 0.
    pub fn making(&self, number: &str, wish: &ShopWish) -> Result<MakingMessage, SeriesFailure> {
        let workshop = wish.workshop()?;
        let piece = self.form(&self.number_in(number)?)?;
        let edges = workshop.edges(&piece);
        let checks = workshop.examine(&piece, &edges, false).into_iter();
        let checks = checks.map(|(kind, report)| {
            let mut told = checks::told(&piece, (&workshop, &edges), kind, &report);
            if kind == Kind::Draft && parts_smoothly(&piece, &workshop, &report) {
                told.kept = AT_THE_LINE_ONLY;
                told.side = AT_THE_LINE.to_owned();
            }
            if kind == Kind::Thinning {
                told.beside = forming::cross_checks(&piece, &workshop);
            }
            told
        });
        let has_outside = piece.is_closed_along() || piece.layout().stations().is_ring();
        Ok(MakingMessage {
            figures: figures::figures(&piece, wish),
            checks: checks.collect(),
            skins: forming::skins(&piece, workshop.gauge),
            sharp: edges.all.len(),
            edges: told(&piece, &workshop, &edges),
            sides: if has_outside { "" } else { NO_OUTSIDE }.to_owned(),
            cautions: vec![DESIGN_ESTIMATE.to_owned()],
        })
    }
}

/// Whether the least draft of two halves is missed right at a parting line, which no
/// smooth skin can help.
fn parts_smoothly(piece: &Piece, workshop: &Workshop, report: &Report) -> bool {
    workshop.halves == Halves::Two
        && !report.passes
        && report.worst < NO_DRAFT
        && !parting_lines(piece, workshop.direction).is_empty()
}

/// The sharp edges of a piece, a sentence each, after what holds for all of them.
fn told(piece: &Piece, workshop: &Workshop, edges: &Edges) -> Vec<String> {
    let mut told = vec![words::edges::sides(workshop)];
    if edges.all.is_empty() {
        return told;
    }
    told.push(words::edges::fillet(workshop));
    told.extend(words::edges::list(piece, workshop, edges, MOST_EDGES));
    told
}
