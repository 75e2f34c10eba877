//! What a printed report says of every pair: one record a cell of the table.
//!
//! Sentences come from the exchange crate's words. Margins are worked out
//! here, so a report takes longer than a table.

use crate::board::Board;
use loftkin_exchange::words::{self, Cell};
use loftkin_kernel::verdict::Verdict;
use loftkin_work::SayingMessage;
use serde::Serialize;

/// One cell of the table in words.
#[derive(Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct CellReport {
    /// Which profiles, from 0; the same twice on the diagonal.
    pub first: usize,
    /// Which profiles, from 0; the same twice on the diagonal.
    pub second: usize,
    /// Their names.
    pub label: String,
    /// The verdict's word.
    pub verdict: &'static str,
    /// The margin of a clear cell, in mm.
    pub margin: Option<f64>,
    /// What is the matter with any other cell, the worst first.
    pub sayings: Vec<SayingMessage>,
}

/// All cells, a row of the table after the other.
pub fn cells(board: &Board) -> Vec<CellReport> {
    let Some(table) = board.document().table() else {
        return Vec::new();
    };
    let pairs = (0..table.size()).flat_map(|second| (0..=second).map(move |first| (first, second)));
    let report = |(first, second)| {
        let cell = Cell::new(board.family(), first, second);
        let judgement = table.cell(first, second);
        let is_clear = judgement.verdict == Verdict::Clear;
        let sayings = match is_clear {
            true => Vec::new(),
            false => words::judgement(cell, judgement),
        };
        CellReport {
            first,
            second,
            label: cell.heading(),
            verdict: words::verdict(judgement.verdict),
            margin: is_clear.then(|| board.margin(first, second)).flatten(),
            sayings: sayings.into_iter().map(Into::into).collect(),
        }
    };
    pairs.map(report).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Family;
    use loftkin_kernel::profile::{Node, Profile};

    #[test]
    fn every_cell_is_told_and_what_is_not_clear_is_explained() {
        let arch = |rise| {
            Profile::open(vec![
                Node::smooth(0, 0),
                Node::smooth(2000, rise),
                Node::smooth(4000, 0),
            ])
        };
        let family = Family {
            profiles: vec![arch(1500), arch(2500), arch(2500).reversed()],
            ..Family::default()
        };
        let cells = cells(&Board::new(family).unwrap());
        assert_eq!(cells.len(), 6);
        let clear = cells.iter().find(|cell| cell.verdict == "clear").unwrap();
        assert!(clear.margin.is_some_and(|margin| 0.0 < margin));
        assert!(clear.sayings.is_empty());
        let faulty = cells
            .iter()
            .find(|cell| (cell.first, cell.second) == (0, 2))
            .unwrap();
        assert_eq!((faulty.verdict, faulty.margin), ("faulty", None));
        assert!(!faulty.sayings.is_empty());
    }
}
