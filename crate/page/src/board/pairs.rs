//! The chosen pair: its finding and the section shown.

use super::{Board, BoardError, Changes};
use loftkin_kernel::loft::Loft;
use loftkin_kernel::verdict::{Finding, Hint, Verdict};
use std::collections::BTreeSet;

impl Board {
    /// The chosen pair, lower index first; both alike for one profile.
    pub fn pair(&self) -> Option<(usize, usize)> {
        self.pair
    }

    /// Chooses a cell of the table, by two profiles in either order.
    ///
    /// # Errors
    /// [`BoardError::NoPair`] when there are no such profiles.
    pub fn choose_pair(&mut self, first: usize, second: usize) -> Result<(), BoardError> {
        let pair = (first.min(second), first.max(second));
        if self.family().profiles.len() <= pair.1 {
            return Err(BoardError::NoPair);
        }
        if self.pair != Some(pair) {
            self.pair = Some(pair);
            self.finding = None;
            if self.active != Some(pair.0) && self.active != Some(pair.1) {
                self.activate(pair.0);
            }
            let place = self.finding().and_then(|finding| worst_across(&finding));
            self.across = place.unwrap_or(0.5);
            self.changed(Changes::PAIR);
        }
        Ok(())
    }

    /// After a gesture or an edit of the active profile: where that made a cell
    /// of it faulty and the pair shown is not of it, shows the worst such cell;
    /// the profile by itself before its pairs. Leaves a trial alone.
    pub(super) fn show_new_fault(&mut self) {
        let before = self.note_faulty();
        let (Some(active), None) = (self.active, &self.preview) else {
            return;
        };
        let is_of_active = |&(first, second): &(usize, usize)| [first, second].contains(&active);
        if self.pair.as_ref().is_some_and(is_of_active) {
            return;
        }
        let new = self.faulty.difference(&before).copied();
        let worst = new.filter(is_of_active).min_by_key(|&(first, second)| {
            let fault = self.document.table().map(|table| table.cell(first, second));
            (
                first != second,
                fault.and_then(|cell| cell.worst()).map(|fault| fault.kind),
            )
        });
        if let Some((first, second)) = worst {
            // Both profiles are on the board, for the table has just named them.
            let _ = self.choose_pair(first, second);
        }
    }

    /// Notes which cells are faulty now, and gives those noted before.
    pub(super) fn note_faulty(&mut self) -> BTreeSet<(usize, usize)> {
        let faulty = self.document.table().map_or_else(BTreeSet::new, |table| {
            let cells =
                (0..table.size()).flat_map(|second| (0..=second).map(move |first| (first, second)));
            cells
                .filter(|&(first, second)| table.cell(first, second).verdict == Verdict::Faulty)
                .collect()
        });
        std::mem::replace(&mut self.faulty, faulty)
    }

    /// The section shown: the fraction across.
    pub fn across(&self) -> f64 {
        self.across
    }

    /// Shows the section at fraction `across`, kept within 0 and 1.
    pub fn set_across(&mut self, across: f64) {
        if across.is_finite() {
            self.across = across.clamp(0.0, 1.0);
            self.changed(Changes::PAIR);
        }
    }

    /// Shows the section of the worst place of region `index`, and that place
    /// on the sheet.
    pub fn show_region(&mut self, index: usize) {
        let Some(finding) = self.finding() else {
            return;
        };
        if let Some(region) = finding.regions.get(index) {
            self.set_across(region.place.across);
            self.view.reveal(region.place.point);
            self.changed(Changes::VIEW);
        }
    }

    /// Everything to say about the chosen pair; kept until something changes.
    pub fn finding(&mut self) -> Option<Finding> {
        let (first, second) = self.pair?;
        if self.finding.is_none() {
            let table = self.document.table_mut()?;
            self.finding = Some(table.finding(first, second));
        }
        self.finding.clone()
    }

    /// The finding, if it has been worked out since the last change.
    pub fn known_finding(&self) -> Option<&Finding> {
        self.finding.as_ref()
    }

    /// The proved margin of a cell, in mm, if it has one.
    pub fn margin(&self, first: usize, second: usize) -> Option<f64> {
        if self.family().profiles.len() <= first.max(second) {
            return None;
        }
        let margin = self.document.table()?.margin(first, second);
        margin.map(|margin| margin.mm)
    }

    /// The loft of the chosen pair, if both profiles can be drawn.
    pub fn loft(&self) -> Option<Loft<'_>> {
        let (first, second) = self.pair?;
        Some(Loft::new(
            self.document.curve(first)?,
            self.document.curve(second)?,
        ))
    }

    /// The hint `index` of the current finding.
    pub fn hint(&mut self, index: usize) -> Option<Hint> {
        self.finding()?.hints.get(index).copied()
    }
}

fn worst_across(finding: &Finding) -> Option<f64> {
    let region = finding.regions.first().map(|region| region.place);
    let witness = || finding.judgement.worst().map(|fault| fault.place);
    let tightest = || finding.margin.map(|margin| margin.place);
    let place = region.or_else(witness).or_else(tightest);
    place.map(|place| place.across)
}
