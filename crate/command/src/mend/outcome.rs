//! A mend as it is told and written: the solver's outcome, the family after it,
//! and what was proved of that family anew.

use loftkin_exchange::family_words;
use loftkin_exchange::words::{self, mending};
use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::table::{Table, Tolerance};
use loftkin_kernel::verdict::{AnyBlend, Hint, Verdict};
use loftkin_mend::{DefaultMargin, Outcome, Request, Target};
use std::path::PathBuf;

/// What there is to say about one run.
pub struct Answer {
    /// The family before any node moved.
    pub before: Family,
    /// The changes that cost nothing which came before that.
    pub remedies: Vec<Hint>,
    /// What was asked.
    pub request: Request,
    /// What the solver said.
    pub outcome: Outcome,
    /// The family after it; none when it was stopped.
    pub after: Option<Family>,
    /// What holds of that family, where all that was asked for does.
    pub proved: Option<Proved>,
    /// The margin that was asked for, where the person named none.
    pub margin: Option<DefaultMargin>,
    /// Where it was written.
    pub written: Option<PathBuf>,
}

/// The claims that were proved for the mended family.
pub struct Proved {
    /// The least margin of the pairs asked for, in mm; none where a margin could
    /// not be shown (and none was asked for).
    pub margin_mm: Option<f64>,
    /// The pair that sets the margin of the whole family, where that was asked.
    tolerance: Option<Tolerance>,
}

impl Answer {
    /// Judges what `outcome` makes of `before`.
    ///
    /// # Errors
    /// Whatever makes the family after it no family at all.
    pub fn new(before: Family, request: Request, outcome: Outcome) -> Result<Self, FamilyError> {
        let after = match &outcome {
            Outcome::AlreadyClear => Some(before.clone()),
            Outcome::Remedy(hint) => hint.remedy.made_in(&before).ok(),
            Outcome::Moved(mended) => Some(mended.family.clone()),
            Outcome::NotFound(approach) => Some(approach.family.clone()),
            Outcome::Cancelled => None,
        };
        let proved = match (&after, &outcome) {
            (Some(family), Outcome::AlreadyClear | Outcome::Remedy(_) | Outcome::Moved(_)) => {
                proved(Table::new(family.clone())?, &request, &outcome)
            }
            _ => None,
        };
        Ok(Self {
            before,
            remedies: Vec::new(),
            request,
            outcome,
            after,
            proved,
            margin: None,
            written: None,
        })
    }

    /// Whether all that was asked for is proved of the family after it.
    pub fn is_proved(&self) -> bool {
        self.proved.is_some()
    }

    /// Whether changes that cost nothing were needed, and enough.
    pub fn are_remedies_enough(&self) -> bool {
        !self.remedies.is_empty() && self.outcome == Outcome::AlreadyClear
    }

    /// All there is to say, a sentence an entry.
    pub fn sentences(&self) -> Vec<String> {
        let outcome = mending::outcome(&self.before, self.request.margin_mm, &self.outcome);
        let mut lines: Vec<String> = self
            .remedies
            .iter()
            .map(|remedy| words::hint(&self.before, remedy))
            .collect();
        if self.are_remedies_enough() {
            lines.push("No node has to move: that is enough.".to_owned());
        } else {
            if !lines.is_empty() {
                lines.push("Nodes are counted from here on as they then stand.".to_owned());
            }
            lines.extend(outcome);
        }
        if let (Some(margin), Outcome::Moved(_)) = (self.margin, &self.outcome) {
            lines.push(mending::default_margin(margin));
        }
        if let Some(proved) = &self.proved {
            lines.push(self.proof(proved));
            if self.request.target == Target::AnyBlend {
                let saying =
                    family_words::any_blend(after_or(self), &AnyBlend::Proved, Verdict::Clear);
                lines.push(saying.text());
            }
        }
        lines.push(match (&self.written, self.is_proved()) {
            (Some(path), true) => {
                format!("Written to {}.", words::shown(&path.display().to_string()))
            }
            (Some(path), false) => format!(
                "The nearest approach is written to {}; it is not proved.",
                words::shown(&path.display().to_string())
            ),
            (None, _) => "Nothing was written.".to_owned(),
        });
        lines
    }

    /// What moved, as a table.
    pub fn rows(&self) -> Vec<[String; 5]> {
        let moves = match &self.outcome {
            Outcome::Moved(mended) => &mended.moves[..],
            Outcome::NotFound(nearest) => &nearest.moves[..],
            _ => &[],
        };
        mending::rows(&self.before, moves)
    }

    fn proof(&self, proved: &Proved) -> String {
        match (&proved.tolerance, proved.margin_mm) {
            (Some(tolerance), _) => format!(
                "Proved: every pair is clear. {}",
                family_words::tolerance(after_or(self), tolerance, Verdict::Clear)
            ),
            (None, Some(mm)) => format!(
                "Proved: the pairs asked for are clear, and stay free of folds and crossings while every control point moves by up to {} at a kept pace. {}",
                words::room(mm),
                words::MARGIN_COVERS
            ),
            (None, None) => "Proved: the pairs asked for are clear.".to_owned(),
        }
    }
}

fn after_or(answer: &Answer) -> &Family {
    answer.after.as_ref().unwrap_or(&answer.before)
}

/// What the table says of the pairs asked for; none when one of them is not as
/// asked.
fn proved(table: Table, request: &Request, outcome: &Outcome) -> Option<Proved> {
    let pairs = targets(&table, &request.target);
    let is_clear = |&(one, other): &(usize, usize)| table.cell(one, other).is_clear();
    let clear = match request.target {
        Target::All => table.verdict() == Verdict::Clear,
        Target::AnyBlend => {
            table.verdict() == Verdict::Clear && table.any_blend() == AnyBlend::Proved
        }
        Target::Pair(..) | Target::Pairs(_) => pairs.iter().all(is_clear),
    };
    if !clear {
        return None;
    }
    let mut tolerance = match request.target {
        Target::All | Target::AnyBlend => table.tolerance(),
        Target::Pair(..) | Target::Pairs(_) => None,
    };
    let known = match outcome {
        Outcome::Moved(mended) => mended.margin_mm,
        _ => None,
    };
    let quick = tolerance.as_ref().map(|tolerance| tolerance.margin.mm);
    // All are proved lower bounds, found on different ways: the largest counts.
    let mut margin_mm = [quick, known].into_iter().flatten().reduce(f64::max);
    if margin_mm.is_none_or(|mm| mm < request.margin_mm) {
        let each = least_margin(&table, &pairs);
        margin_mm = [margin_mm, each].into_iter().flatten().reduce(f64::max);
    }
    if let (Some(tolerance), Some(mm)) = (&mut tolerance, margin_mm) {
        tolerance.margin.mm = mm;
    }
    // A family of one profile has no pair that could have a margin.
    let enough = pairs.is_empty() || request.margin_mm <= margin_mm.unwrap_or(0.0);
    enough.then_some(Proved {
        margin_mm,
        tolerance,
    })
}

fn targets(table: &Table, target: &Target) -> Vec<(usize, usize)> {
    match target {
        Target::Pair(one, other) => vec![(*one, *other)],
        Target::Pairs(pairs) => pairs.clone(),
        Target::All | Target::AnyBlend => (0..table.size())
            .flat_map(|second| (0..second).map(move |first| (first, second)))
            .collect(),
    }
}

fn least_margin(table: &Table, pairs: &[(usize, usize)]) -> Option<f64> {
    let margins: Option<Vec<f64>> = pairs
        .iter()
        .map(|&(one, other)| table.margin(one, other).map(|margin| margin.mm))
        .collect();
    margins?.into_iter().reduce(f64::min)
}
