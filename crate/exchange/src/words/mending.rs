//! What a mend moved and what it came to, or why none was found.
//!
//! Families are passed as they were before the mend, so that names and numbers
//! are those that the person knows.

use super::figures::{capital, counted, fixed, millimetres};
use super::{hint, profile, profile_error, remedy};
use crate::family_words;
use loftkin_kernel::family::Family;
use loftkin_kernel::verdict::{AnyBlend, Hint, Verdict};
use loftkin_mend::{
    Approach, DefaultMargin, Hindrance, Mended, Move, MovedPoint, Outcome, Progress, WORKSHOP_MM,
};

/// How many pairs a sentence names; the rest is counted.
const PAIRS_NAMED: usize = 8;

/// How a mend ended, a sentence an entry. `margin_mm` is what was asked for.
pub fn outcome(family: &Family, margin_mm: f64, outcome: &Outcome) -> Vec<String> {
    match outcome {
        Outcome::AlreadyClear => vec![format!(
            "Nothing has to change: all that was asked for is already {}.",
            clear_by(margin_mm)
        )],
        Outcome::Remedy(found) => vec![
            "No node has to move: a change that costs nothing is enough.".to_owned(),
            remedied(family, found),
        ],
        Outcome::Moved(found) => mended(family, found),
        Outcome::NotFound(nearest) => not_found(family, margin_mm, nearest),
        Outcome::Cancelled => vec!["Stopped before a mend was found.".to_owned()],
    }
}

/// A remedy for a blend of three mends no pair, for all of them are clear.
fn remedied(family: &Family, found: &Hint) -> String {
    if 0 < found.mends {
        return hint(family, found);
    }
    format!(
        "{}: any blend of all profiles is then proved free of folds and crossings.",
        remedy(family, &found.remedy)
    )
}

fn mended(family: &Family, found: &Mended) -> Vec<String> {
    let mut lines = vec![summary(&found.moves)];
    if let Some(blamed) = blamed(family, found) {
        lines.push(format!(
            "{blamed}: every pair that was not as asked has a part of what moves."
        ));
    }
    if !found.profiles_mended.is_empty() {
        lines.push(format!(
            "No longer meeting itself: {}.",
            profiles(family, &found.profiles_mended)
        ));
    }
    if !found.pairs_mended.is_empty() {
        lines.push(format!("Now as asked: {}.", pairs(&found.pairs_mended)));
    }
    if !found.pairs_broken.is_empty() {
        lines.push(format!(
            "No longer clear, since no way was found that keeps them: {}.",
            pairs(&found.pairs_broken)
        ));
    }
    lines
}

fn not_found(family: &Family, margin_mm: f64, nearest: &Approach) -> Vec<String> {
    let mut lines = vec![hindrance(family, nearest)];
    if !nearest.open_profiles.is_empty() {
        lines.push(format!(
            "Not clear by itself: {}.",
            profiles(family, &nearest.open_profiles)
        ));
    }
    if !nearest.open_pairs.is_empty() {
        lines.push(format!(
            "Not {}: {}.",
            clear_by(margin_mm),
            pairs(&nearest.open_pairs)
        ));
    }
    if let (true, Some(bad)) = (nearest.open_pairs.is_empty(), &nearest.bad_blend) {
        let refuted = AnyBlend::Refuted(bad.clone());
        lines.push(family_words::any_blend(family, &refuted, Verdict::Faulty).text());
    }
    if !nearest.moves.is_empty() {
        lines.push(format!(
            "The nearest approach, which is not proved: {}",
            uncapital(&summary(&nearest.moves))
        ));
    }
    lines
}

/// Why no mend was found, and what would help.
fn hindrance(family: &Family, nearest: &Approach) -> String {
    match nearest.hindrance {
        Hindrance::RoundsUsedUp => format!(
            "No mend was found in {}. Ask for a smaller margin, let more profiles and nodes move, or mend a part of the pairs first.",
            counted(nearest.rounds, "round", "rounds")
        ),
        Hindrance::NothingMayMove => {
            "No mend was found, since nothing that may move has any part in the fault. Let more profiles or nodes move.".to_owned()
        }
        Hindrance::OutOfReach { pair: (one, other) } if one == other => format!(
            "No mend of all that was asked for was found, since {} is not clear and may not move. Let it move, or ask for pairs without it.",
            profile(family, one)
        ),
        Hindrance::OutOfReach { pair: (one, other) } => format!(
            "No mend of all that was asked for was found, since profiles {} and {} are not as asked and neither may move. Let one of them move, or ask for other pairs.",
            one + 1,
            other + 1
        ),
        Hindrance::ProfileMeetsItself { profile: index } => format!(
            "No mend was found, since {} meets itself and may not move, or no way was found to draw it out. Draw that profile so that it does not, or let it move.",
            profile(family, index)
        ),
        Hindrance::ProfileInvalid {
            profile: index,
            error,
        } => format!(
            "Moving nodes is no answer, since {} cannot be judged as drawn: {}. Mend that profile first.",
            profile(family, index),
            profile_error(&error)
        ),
        Hindrance::CountsDiffer { pair } => format!(
            "Moving nodes is no answer: paced by node, profiles {} and {} have different numbers of spans. \
             Give both the same number of nodes, or pace the family by parameter.",
            pair.0 + 1,
            pair.1 + 1
        ),
    }
}

/// "Only profile 2 moves", where the movement was left to what is to blame.
pub fn blamed(family: &Family, found: &Mended) -> Option<String> {
    match found.blamed.as_slice() {
        [] => None,
        [one] => Some(format!("Only {} moves", profile(family, *one))),
        some => Some(format!("Only {} move", profiles(family, some))),
    }
}

/// Why a mend has the margin that it has, where none was named.
pub fn default_margin(margin: DefaultMargin) -> String {
    let DefaultMargin { mm, aimed_mm } = margin;
    if 0.0 < mm && mm < WORKSHOP_MM {
        format!(
            "The margin asked for is {}: as much as the clear pairs of the family have, less than the {} that a workshop can commonly hold.",
            millimetres(mm),
            millimetres(WORKSHOP_MM)
        )
    } else if 0.0 < mm {
        format!(
            "The margin asked for is {}, which a workshop can commonly hold.",
            millimetres(mm)
        )
    } else if 0.0 < aimed_mm {
        format!(
            "No mend was found with a margin of {}, which a workshop can commonly hold; this one is clear and no more, so that small errors of the tools may undo it.",
            millimetres(aimed_mm)
        )
    } else {
        "Clear pairs of the family have hardly a margin, so that no more than clear was asked for; small errors of the tools may undo it.".to_owned()
    }
}

/// The heads of the columns of [`rows`].
pub const COLUMNS: [&str; 5] = ["Profile", "Point", "From x, y", "To x, y", "Distance"];

/// What moved as a table: profile, point, where it was and is, how far it went.
pub fn rows(family: &Family, moves: &[Move]) -> Vec<[String; 5]> {
    let at = |x: f64, y: f64| format!("{}, {}", fixed(x, 2), fixed(y, 2));
    moves
        .iter()
        .map(|moved| {
            let (x, y) = moved.from_mm;
            [
                capital(&profile(family, moved.profile)),
                point(moved.point),
                at(x, y),
                at(x + moved.right_mm, y + moved.up_mm),
                millimetres(distance_mm(moved)),
            ]
        })
        .collect()
}

/// What moved, one sentence a profile: its points with their distances.
pub fn moves(family: &Family, moves: &[Move]) -> Vec<String> {
    moves
        .chunk_by(|one, other| one.profile == other.profile)
        .map(|of_one| {
            let points: Vec<String> = of_one.iter().map(moved).collect();
            format!(
                "{}: {}.",
                capital(&profile(family, of_one[0].profile)),
                points.join("; ")
            )
        })
        .collect()
}

/// "node 3 by 1.20 mm (0.90 right, 0.79 down)", without a way of no length.
fn moved(moved: &Move) -> String {
    let ways = [
        (moved.right_mm, "right", "left"),
        (moved.up_mm, "up", "down"),
    ];
    let told: Vec<String> = ways
        .into_iter()
        .map(|(mm, ahead, back)| (fixed(mm.abs(), 2), if mm < 0.0 { back } else { ahead }))
        .filter(|(figure, _)| figure != "0.00")
        .map(|(figure, way)| format!("{figure} {way}"))
        .collect();
    let ways = match told.as_slice() {
        [] => String::new(),
        told => format!(" ({})", told.join(", ")),
    };
    let distance = millimetres(distance_mm(moved));
    format!("{} by {distance}{ways}", point(moved.point))
}

/// How far a point moved, in mm.
pub fn distance_mm(moved: &Move) -> f64 {
    moved.right_mm.hypot(moved.up_mm)
}

fn point(point: MovedPoint) -> String {
    match point {
        MovedPoint::Node(node) => format!("node {}", node + 1),
        MovedPoint::FirstHandle(span) => format!("first handle of span {}", span + 1),
        MovedPoint::SecondHandle(span) => format!("second handle of span {}", span + 1),
    }
}

fn summary(moves: &[Move]) -> String {
    let farthest = moves.iter().map(distance_mm).fold(0.0, f64::max);
    let profiles = moves.chunk_by(|one, other| one.profile == other.profile);
    format!(
        "{} of {} moved, the farthest by {}.",
        counted(moves.len(), "point", "points"),
        counted(profiles.count(), "profile", "profiles"),
        millimetres(farthest)
    )
}

/// How far the work has come, for a line that is written over.
pub fn progress(told: &Progress) -> String {
    let best = told.best_mm.map_or_else(String::new, |mm| {
        format!("; a mend that moves {} at most is found", millimetres(mm))
    });
    format!(
        "Round {} of {} at most: {} to go{best}",
        told.round,
        told.most_rounds,
        counted(told.open_pairs, "place in the table", "places in the table")
    )
}

/// "2 with 5, 3 with 4 and 12 more"; indices from 0 as numbers from 1.
pub fn pairs(pairs: &[(usize, usize)]) -> String {
    let named: Vec<String> = pairs
        .iter()
        .take(PAIRS_NAMED)
        .map(|(first, second)| format!("{} with {}", first + 1, second + 1))
        .collect();
    match pairs.len() - named.len() {
        0 => named.join(", "),
        more => format!("{} and {more} more", named.join(", ")),
    }
}

fn profiles(family: &Family, indices: &[usize]) -> String {
    let named: Vec<String> = indices
        .iter()
        .map(|&index| profile(family, index))
        .collect();
    named.join(", ")
}

fn clear_by(margin_mm: f64) -> String {
    if margin_mm == 0.0 {
        "clear".to_owned()
    } else {
        format!("clear by {}", millimetres(margin_mm))
    }
}

pub(super) fn uncapital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_lowercase().chain(letters).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::{Node, Profile};
    use loftkin_kernel::verdict::{Hint, Remedy};

    fn family() -> Family {
        let line = Profile::open(vec![Node::smooth(0, 0), Node::smooth(900, 0)]);
        Family {
            profiles: vec![line.clone().named("Brim"), line.clone(), line],
            ..Family::default()
        }
    }

    fn shift(profile: usize, point: MovedPoint, right_mm: f64, up_mm: f64) -> Move {
        Move {
            profile,
            point,
            from_mm: (1.0, -2.0),
            right_mm,
            up_mm,
        }
    }

    fn two_moves() -> Vec<Move> {
        vec![
            shift(0, MovedPoint::Node(2), 0.3, -0.4),
            shift(1, MovedPoint::SecondHandle(0), -1.2, 0.5),
        ]
    }

    #[test]
    fn every_point_that_moved_is_named_with_its_distance() {
        let found = Mended {
            family: family(),
            moves: two_moves(),
            blamed: vec![1],
            largest_mm: 1.3,
            rms_mm: 0.5,
            pairs_mended: vec![(0, 1)],
            profiles_mended: vec![2],
            any_blend: false,
            pairs_broken: vec![(1, 2)],
            margin_mm: None,
            rounds: 3,
        };
        let lines = outcome(&family(), 0.0, &Outcome::Moved(Box::new(found)));
        assert_eq!(
            lines,
            [
                "2 points of 2 profiles moved, the farthest by 1.30 mm.",
                "Only profile 2 moves: every pair that was not as asked has a part of what moves.",
                "No longer meeting itself: profile 3.",
                "Now as asked: 1 with 2.",
                "No longer clear, since no way was found that keeps them: 2 with 3.",
            ]
        );
    }

    #[test]
    fn moves_are_a_table_and_sentences() {
        let rows = rows(&family(), &two_moves());
        assert_eq!(
            rows[0],
            [
                "Profile 1 “Brim”",
                "node 3",
                "1.00, -2.00",
                "1.30, -2.40",
                "0.50 mm"
            ]
        );
        assert_eq!(rows[1][3], "-0.20, -1.50");
        assert_eq!(
            moves(&family(), &two_moves()),
            [
                "Profile 1 “Brim”: node 3 by 0.50 mm (0.30 right, 0.40 down).",
                "Profile 2: second handle of span 1 by 1.30 mm (1.20 left, 0.50 up).",
            ]
        );
    }

    /// Each says whether a workshop can hold it.
    #[test]
    fn a_margin_that_nobody_named_is_given_with_its_reason() {
        let said = |mm, aimed_mm| default_margin(DefaultMargin { mm, aimed_mm });
        assert!(said(0.2, 0.2).contains("0.20 mm, which a workshop can"));
        assert!(said(0.05, 0.05).contains("less than the 0.20 mm"));
        assert!(said(0.0, 0.2).contains("may undo it"));
        assert!(said(0.0, 0.0).contains("hardly a margin"));
    }

    #[test]
    fn an_approach_is_never_called_a_mend() {
        let hindrances = [
            Hindrance::RoundsUsedUp,
            Hindrance::NothingMayMove,
            Hindrance::OutOfReach { pair: (0, 0) },
            Hindrance::OutOfReach { pair: (0, 1) },
            Hindrance::ProfileMeetsItself { profile: 0 },
            Hindrance::CountsDiffer { pair: (0, 1) },
        ];
        for hindrance in hindrances {
            let nearest = Approach {
                hindrance,
                family: family(),
                moves: two_moves(),
                open_pairs: vec![(0, 1)],
                open_profiles: Vec::new(),
                bad_blend: None,
                rounds: 40,
            };
            let lines = outcome(&family(), 0.2, &Outcome::NotFound(Box::new(nearest)));
            assert!(
                lines[0].ends_with('.') && (lines[0].contains("No ") || lines[0].contains(" no")),
                "{lines:?}"
            );
            assert_eq!(lines[1], "Not clear by 0.20 mm: 1 with 2.");
            assert!(
                lines[2].contains("which is not proved: 2 points"),
                "{lines:?}"
            );
        }
    }

    #[test]
    fn a_free_remedy_is_told_by_what_it_mends() {
        let found = Hint {
            remedy: Remedy::Reverse { profile: 0 },
            mends: 2,
            breaks: 0,
        };
        let lines = outcome(&family(), 0.0, &Outcome::Remedy(found));
        assert_eq!(
            lines[1],
            "Reverse profile 1 “Brim”: 2 pairs become clear, none is lost."
        );
    }

    #[test]
    fn many_pairs_are_counted() {
        let many: Vec<(usize, usize)> = (1..12).map(|second| (0, second)).collect();
        assert!(pairs(&many).ends_with("1 with 9 and 3 more"));
    }
}
