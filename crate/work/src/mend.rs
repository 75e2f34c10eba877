//! A mend, from what the page asks to what it is told.
//!
//! What comes back is an offer, not a verdict: the board judges the family
//! anew, by [`is_as_asked`], before it shows it as a mend.

use loftkin_exchange::share;
use loftkin_exchange::words::{self, mending};
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{AnyBlend, Hint, Verdict};
use loftkin_mend::{
    DefaultMargin, Outcome, Progress, Request, RequestError, Target, mend_for_workshop,
};
use serde::{Deserialize, Serialize};
use std::ops::ControlFlow;

/// What the page asks for. Positions count from 0, lengths are mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct MendWish {
    /// The pair to mend; none for the whole family.
    pub pair: Option<(usize, usize)>,
    /// Whether any blend of the whole family is to be free, and not only every
    /// pair.
    pub any_blend: bool,
    /// The margin to be proved; none for one that a workshop can hold.
    pub margin: Option<f64>,
    /// The profiles that may move; none for all.
    pub movable: Option<Vec<usize>>,
    /// Nodes that stay, as profile and node.
    pub pinned: Vec<(usize, usize)>,
    /// Whether the ends of open profiles stay.
    pub keep_ends: bool,
    /// Whether open profiles keep the directions of their ends.
    pub keep_end_tangents: bool,
    /// Whether every profile keeps its height.
    pub keep_height: bool,
    /// Whether every profile keeps its width.
    pub keep_width: bool,
    /// Whether a change that costs nothing is looked for first.
    pub remedies_first: bool,
    /// Whether a profile that has a part in every fault moves alone, where that is
    /// enough.
    pub blame_first: bool,
}

impl MendWish {
    /// The same as the solver takes it.
    pub fn request(&self) -> Request {
        let target = match self.pair {
            Some((one, other)) => Target::Pair(one, other),
            None if self.any_blend => Target::AnyBlend,
            None => Target::All,
        };
        Request {
            margin_mm: self.margin.unwrap_or(0.0),
            blame_first: self.blame_first,
            movable: self.movable.clone(),
            pinned: self.pinned.clone(),
            keep_ends: self.keep_ends,
            keep_end_tangents: self.keep_end_tangents,
            keep_height: self.keep_height,
            keep_width: self.keep_width,
            remedies_first: self.remedies_first,
            ..Request::new(target)
        }
    }

    /// What is to be mended, as an order: "Mend profiles 1 and 2".
    fn order(&self) -> String {
        match self.pair {
            Some((one, other)) => format!("Mend profiles {} and {}", one + 1, other + 1),
            None if self.any_blend => "Mend for any blend".to_owned(),
            None => "Mend all pairs".to_owned(),
        }
    }
}

/// How a mend ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub enum Ending {
    /// Nothing has to change.
    AlreadyClear,
    /// A family that is as asked.
    Mended,
    /// A family that comes nearest, and is not as asked.
    Nearest,
    /// Nothing to offer.
    Nothing,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct AnswerMessage {
    /// How it ended.
    pub ending: Ending,
    /// The same in words, a sentence an entry.
    pub sentences: Vec<String>,
    /// What moved: profile, point, where it was and is, how far it went.
    #[serde(skip_deserializing)]
    pub moves: Vec<[String; 5]>,
    /// "Only profile 2 moves", where others might have moved too.
    #[serde(skip_deserializing)]
    pub blamed: Option<String>,
    /// The margin that was asked for.
    #[serde(skip_deserializing)]
    pub margin: f64,
    /// The share code of the family that is offered.
    pub family: Option<String>,
    /// What the step of the history would be called.
    pub step: String,
}

/// How far the work has come.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct ProgressMessage {
    /// The round about to begin, from 1.
    pub round: usize,
    /// The most rounds there will be.
    pub most_rounds: usize,
    /// The same with all else, in words.
    pub text: String,
}

/// Mends `family`; `tell` hears of each round and may break off.
///
/// # Errors
/// A [`RequestError`] when the wish names what is not there.
pub fn mend(
    family: &Family,
    wish: &MendWish,
    tell: &mut dyn FnMut(ProgressMessage) -> ControlFlow<()>,
) -> Result<AnswerMessage, RequestError> {
    let mut told = |progress: Progress| {
        tell(ProgressMessage {
            round: progress.round,
            most_rounds: progress.most_rounds,
            text: mending::progress(&progress),
        })
    };
    let request = wish.request();
    let (start, free) = if wish.remedies_first {
        loftkin_mend::free_remedies(family.clone(), &request)?
    } else {
        (family.clone(), Vec::new())
    };
    let (outcome, default) = match wish.margin {
        Some(_) => (loftkin_mend::mend(&start, &request, &mut told)?, None),
        None => {
            let (outcome, margin) = mend_for_workshop(&start, &request, &mut told)?;
            (outcome, Some(margin))
        }
    };
    let margin = default.map_or(request.margin_mm, |margin| margin.mm);
    let order = wish.order();
    let nearest = format!("{order}: nearest approach");
    let (ending, after, step) = match &outcome {
        Outcome::AlreadyClear => match free.as_slice() {
            [] => (Ending::AlreadyClear, None, order),
            [one] => (
                Ending::Mended,
                Some(start),
                words::remedy(family, &one.remedy),
            ),
            _ => (Ending::Mended, Some(start), order),
        },
        Outcome::Cancelled => (Ending::Nothing, None, order),
        Outcome::Remedy(hint) if free.is_empty() => (
            Ending::Mended,
            hint.remedy.made_in(family).ok(),
            words::remedy(family, &hint.remedy),
        ),
        Outcome::Remedy(hint) => (Ending::Mended, hint.remedy.made_in(&start).ok(), order),
        Outcome::Moved(mended) => (Ending::Mended, Some(mended.family.clone()), order),
        Outcome::NotFound(approach) if approach.moves.is_empty() && free.is_empty() => {
            (Ending::Nothing, None, order)
        }
        Outcome::NotFound(approach) => (Ending::Nearest, Some(approach.family.clone()), nearest),
    };
    Ok(AnswerMessage {
        ending,
        sentences: sentences(family, (margin, default), &free, &outcome),
        moves: match &outcome {
            Outcome::Moved(mended) => mending::rows(family, &mended.moves),
            Outcome::NotFound(nearest) => mending::rows(family, &nearest.moves),
            _ => Vec::new(),
        },
        blamed: match &outcome {
            Outcome::Moved(mended) => mending::blamed(family, mended),
            _ => None,
        },
        margin,
        family: after.as_ref().map(share::encode),
        step,
    })
}

/// What came of it, the changes that cost nothing first.
fn sentences(
    family: &Family,
    (margin, default): (f64, Option<DefaultMargin>),
    free: &[Hint],
    outcome: &Outcome,
) -> Vec<String> {
    let mut told = mending::outcome(family, margin, outcome);
    if let (Some(margin), Outcome::Moved(_)) = (default, outcome) {
        told.push(mending::default_margin(margin));
    }
    let changes = free.iter().map(|hint| words::hint(family, hint));
    match (free, outcome) {
        ([], _) => told,
        (_, Outcome::AlreadyClear) => {
            let enough = "No node has to move: changes that cost nothing are enough.".to_owned();
            [enough].into_iter().chain(changes).collect()
        }
        _ => told.into_iter().chain(changes).collect(),
    }
}

/// Whether all that `request` asks of verdicts is proved in `table`: its pairs
/// with their margins, their profiles alone, and any blend where it asks for it.
pub fn is_as_asked(table: &Table, request: &Request) -> bool {
    let size = table.size();
    let is_clear = |first: usize, second: usize| {
        first.max(second) < size && table.cell(first, second).verdict == Verdict::Clear
    };
    let has_room = |first, second| {
        let margin = table.margin(first, second);
        request.margin_mm <= 0.0 || margin.is_some_and(|margin| request.margin_mm <= margin.mm)
    };
    let agrees = |first: usize, second: usize| {
        is_clear(first, first)
            && is_clear(second, second)
            && is_clear(first, second)
            && has_room(first, second)
    };
    let all_agree = || (0..size).all(|second| (0..second).all(|first| agrees(first, second)));
    match &request.target {
        Target::Pair(first, second) => agrees(*first, *second),
        Target::Pairs(pairs) => pairs.iter().all(|&(first, second)| agrees(first, second)),
        Target::All => all_agree(),
        Target::AnyBlend => all_agree() && table.any_blend() == AnyBlend::Proved,
    }
}

/// Whether two families are one drawing: names aside, for they change nothing.
pub fn same_drawing(one: &Family, other: &Family) -> bool {
    one.settings == other.settings
        && one.profiles.len() == other.profiles.len()
        && one
            .profiles
            .iter()
            .zip(&other.profiles)
            .all(|(one, other)| one.closed == other.closed && one.outline == other.outline)
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::{Node, Profile};

    fn arch(points: [(i32, i32); 5]) -> Profile {
        Profile::open(points.map(|(x, y)| Node::smooth(x, y)).to_vec())
    }

    /// Two arches; the second leans so far that it twists beyond the limit.
    fn faulty() -> Family {
        Family {
            profiles: vec![
                arch([(0, 0), (1500, 3000), (4000, 4200), (6500, 3000), (8000, 0)]),
                arch([(0, 0), (4500, 2500), (3000, 4500), (6800, 3200), (8000, 0)]),
            ],
            ..Family::default()
        }
    }

    fn wish() -> MendWish {
        MendWish {
            pair: Some((0, 1)),
            any_blend: false,
            margin: Some(0.1),
            movable: Some(vec![1]),
            pinned: vec![(1, 0)],
            keep_ends: true,
            keep_end_tangents: false,
            keep_height: false,
            keep_width: false,
            remedies_first: true,
            blame_first: true,
        }
    }

    #[test]
    fn an_offered_family_is_as_asked() {
        let mut rounds = 0;
        let answer = mend(&faulty(), &wish(), &mut |told| {
            rounds = told.round;
            ControlFlow::Continue(())
        })
        .unwrap();
        assert_eq!(answer.ending, Ending::Mended, "{:?}", answer.sentences);
        assert!(0 < rounds);
        let after = share::decode(&answer.family.unwrap()).unwrap();
        let request = wish().request();
        assert!(is_as_asked(&Table::new(after).unwrap(), &request));
        assert!(!is_as_asked(&Table::new(faulty()).unwrap(), &request));
        assert_eq!(answer.step, "Mend profiles 1 and 2");
    }

    #[test]
    fn what_is_broken_off_offers_nothing() {
        let answer = mend(&faulty(), &wish(), &mut |_| ControlFlow::Break(())).unwrap();
        assert_eq!((answer.ending, answer.family), (Ending::Nothing, None));
    }

    #[test]
    fn changes_that_cost_nothing_are_taken_one_after_the_other() {
        let file = include_str!("../../../demo-curves/rims-with-turned-seams.json");
        let family = loftkin_exchange::family_json::read(file).unwrap().family;
        let wish = MendWish {
            pair: None,
            movable: None,
            pinned: Vec::new(),
            margin: Some(0.0),
            ..wish()
        };
        let answer = mend(&family, &wish, &mut |_| ControlFlow::Continue(())).unwrap();
        assert_eq!(answer.ending, Ending::Mended, "{:?}", answer.sentences);
        assert!(2 < answer.sentences.len(), "{:?}", answer.sentences);
        let after = share::decode(&answer.family.unwrap()).unwrap();
        assert!(is_as_asked(&Table::new(after).unwrap(), &wish.request()));
    }

    #[test]
    fn names_do_not_make_another_drawing() {
        let mut named = faulty();
        named.name = "Hoods".to_owned();
        named.profiles[0].name = "Brim".to_owned();
        assert!(same_drawing(&faulty(), &named));
        named.profiles[0] = named.profiles[0].reversed();
        assert!(!same_drawing(&faulty(), &named));
    }
}
