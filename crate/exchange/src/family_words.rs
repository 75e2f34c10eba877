//! The words for what is said of a whole family: any blend, the sets that
//! agree, the tolerance. Words for one cell are in [`crate::words`].

use crate::words::{self, Saying};
use loftkin_kernel::blend::Agreement;
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Tolerance;
use loftkin_kernel::verdict::{AnyBlend, BadBlend, FaultKind, Verdict};

/// How many sets a summary names; the rest is counted.
const SETS_NAMED: usize = 3;

/// The one word for the answer: proved, refuted or unproven.
pub fn any_blend_word(answer: &AnyBlend) -> &'static str {
    match answer {
        AnyBlend::Proved => "proved",
        AnyBlend::Refuted(_) => "refuted",
        AnyBlend::Unproven { .. } | AnyBlend::ProfileFirst { .. } | AnyBlend::CountsDiffer => {
            "unproven"
        }
    }
}

/// Whether any blend of the family is free of folds and crossings, and what
/// would be right where not. Where a pair is not clear (`pairs` is the verdict
/// of all) a proof says what it leaves out.
pub fn any_blend(family: &Family, answer: &AnyBlend, pairs: Verdict) -> Saying {
    let rest = match pairs {
        Verdict::Clear => "",
        // A proof for any blend holds for every pair, so only what it does not judge can be left.
        Verdict::Faulty | Verdict::Unproven => {
            " What is not clear in a pair is its twist, a crease or the axis, for which pairs are judged and blends are not."
        }
    };
    match answer {
        AnyBlend::Proved => saying(
            &format!(
                "Any blend of any profiles, in any order and over any number of stations, is proved free of folds and crossings.{rest}"
            ),
            String::new(),
            "",
        ),
        AnyBlend::Refuted(bad) => refuted(family, bad),
        AnyBlend::Unproven { along, other_along } => saying(
            "Not every blend could be proved free of folds and crossings, and none was found that is not.",
            alongs(*along, *other_along),
            "Leave more room there.",
        ),
        AnyBlend::ProfileFirst { profile } => saying(
            &format!(
                "Any blend is not judged, since {} is not itself proved simple.",
                words::profile(family, *profile)
            ),
            String::new(),
            "Mend that profile first.",
        ),
        AnyBlend::CountsDiffer => saying(
            "Any blend is not judged: paced by node, the profiles have different numbers of spans.",
            String::new(),
            "Give all the same number of nodes, or pace the family by parameter.",
        ),
    }
}

/// A saying that no heading shortens.
fn saying(what: &str, place: String, right: &str) -> Saying {
    Saying {
        what: what.to_owned(),
        short: what.to_owned(),
        place,
        right: right.to_owned(),
    }
}

fn refuted(family: &Family, bad: &BadBlend) -> Saying {
    let parts: Vec<String> = bad
        .profiles
        .iter()
        .zip(&bad.weights)
        .map(|(&profile, weight)| {
            format!(
                "{:.0} % of {}",
                100.0 * weight,
                words::profile(family, profile)
            )
        })
        .collect();
    let does = match bad.kind() {
        FaultKind::Fold => "folds",
        _ => "crosses itself",
    };
    let right = if bad.profiles.len() == 2 {
        "Mend that pair first."
    } else {
        "Any two of them agree; keep the three out of one piece, or bring them closer to each other there."
    };
    let place = format!(
        "{}, at {}, {}",
        alongs(bad.along, bad.other_along),
        words::millimetres(bad.point.x),
        words::millimetres(bad.point.y)
    );
    saying(
        &format!("A blend of {} {does}.", listed(&parts)),
        place,
        right,
    )
}

fn alongs(along: f64, other_along: f64) -> String {
    if along == other_along {
        format!("{along:.3} along")
    } else {
        format!("{along:.3} and {other_along:.3} along")
    }
}

/// Which sets of profiles agree: one sentence a matter; empty for a family that
/// agrees altogether. `whole` is the answer for any blend of all profiles:
/// where that is proved, no set has to be named for it.
pub fn agreement(family: &Family, agreement: &Agreement, whole: &AnyBlend) -> Vec<String> {
    let size = family.profiles.len();
    let mut lines = leave_out(family, agreement);
    let by_pairs = &agreement.by_pairs;
    if by_pairs.first().is_none_or(|set| set.len() < size) {
        lines.push(match by_pairs.as_slice() {
            [] => "No profile is clear by itself.".to_owned(),
            sets => {
                let named: Vec<String> = sets
                    .iter()
                    .take(SETS_NAMED)
                    .map(|set| numbers(set))
                    .collect();
                let more = sets.len() - named.len();
                let rest = match (more, agreement.complete) {
                    (0, true) => String::new(),
                    (_, true) => format!("; {more} more"),
                    (_, false) => format!("; {more} more, and others not listed"),
                };
                format!(
                    "Largest sets in which every pair is clear: {}{rest}.",
                    named.join("; ")
                )
            }
        });
    }
    let blend = &agreement.any_blend;
    if *whole != AnyBlend::Proved && blend.len() < size && 1 < blend.len() {
        let largest = if agreement.largest {
            "Largest set"
        } else {
            "Largest set found"
        };
        lines.push(format!(
            "{largest} that is proved for any blend: {}.",
            numbers(blend)
        ));
    }
    lines
}

/// Which single profile need only be left out: at most one sentence for any
/// blend and one for the pairs.
fn leave_out(family: &Family, agreement: &Agreement) -> Vec<String> {
    let named = |any_blend: bool| -> Vec<String> {
        let found = agreement.leave_out.iter();
        found
            .filter(|one| one.any_blend == any_blend)
            .map(|one| words::profile(family, one.profile))
            .collect()
    };
    let with_blend = named(true);
    let mut lines = Vec::new();
    if !with_blend.is_empty() {
        lines.push(format!(
            "Leave out {} and all is clear: every pair, and any blend.",
            with_blend.join(" or ")
        ));
    }
    let pairs_only = named(false);
    if !pairs_only.is_empty() {
        lines.push(format!(
            "Leave out {} and every pair is clear, though not any blend is proved.",
            pairs_only.join(" or ")
        ));
    }
    lines
}

/// "1 to 4, 6 and 8": rising indices from 0 as numbers from 1.
fn numbers(set: &[usize]) -> String {
    let runs = set.chunk_by(|one, other| one + 1 == *other);
    let words: Vec<String> = runs
        .flat_map(|run| match run {
            [first, _, .., last] => vec![format!("{} to {}", first + 1, last + 1)],
            few => few.iter().map(|index| (index + 1).to_string()).collect(),
        })
        .collect();
    listed(&words)
}

/// "a, b and c".
fn listed(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// How true the family must be made; `pairs` is the verdict of all pairs, for a
/// tolerance is proved against folds and crossings alone.
pub fn tolerance(family: &Family, tolerance: &Tolerance, pairs: Verdict) -> String {
    let kept = match pairs {
        Verdict::Clear => "with all pairs still proved",
        Verdict::Faulty | Verdict::Unproven => "with no fold or crossing in any pair",
    };
    let what = if tolerance.first == tolerance.second {
        words::profile(family, tolerance.first)
    } else {
        format!(
            "{} with {}",
            words::profile(family, tolerance.first),
            words::profile(family, tolerance.second)
        )
    };
    format!(
        "Every control point of every profile may move by {} at a kept pace {kept}; {what} sets it, {}. {}",
        words::room(tolerance.margin.mm),
        alongs(
            tolerance.margin.place.along,
            tolerance.margin.place.other_along
        ),
        words::MARGIN_COVERS
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::blend::LeaveOut;
    use loftkin_kernel::profile::{Node, Profile};
    use loftkin_kernel::verdict::{Margin, Place};
    use nalgebra::Point2;

    fn family() -> Family {
        let line = Profile::open(vec![Node::smooth(0, 0), Node::smooth(100, 0)]);
        Family {
            profiles: vec![line.clone().named("Brim"), line.clone(), line.clone(), line],
            ..Family::default()
        }
    }

    #[test]
    fn a_bad_blend_names_its_parts() {
        let bad = BadBlend {
            profiles: vec![0, 1, 3],
            weights: vec![0.5, 0.3, 0.2],
            along: 0.25,
            other_along: 0.5,
            point: Point2::new(1.0, 2.0),
        };
        let text = any_blend(&family(), &AnyBlend::Refuted(bad), Verdict::Faulty).text();
        assert!(text.starts_with(
            "A blend of 50 % of profile 1 “Brim”, 30 % of profile 2 and 20 % of profile 4 crosses itself."
        ));
        assert!(text.contains("0.250 and 0.500 along"));
    }

    #[test]
    fn sets_are_named_by_their_members() {
        let agreement = Agreement {
            by_pairs: vec![vec![0, 1, 3], vec![2, 3]],
            complete: true,
            any_blend: vec![0, 3],
            largest: true,
            leave_out: vec![LeaveOut {
                profile: 2,
                any_blend: false,
            }],
        };
        let lines = super::agreement(&family(), &agreement, &AnyBlend::CountsDiffer);
        assert_eq!(
            lines,
            [
                "Leave out profile 3 and every pair is clear, though not any blend is proved.",
                "Largest sets in which every pair is clear: 1, 2 and 4; 3 and 4.",
                "Largest set that is proved for any blend: 1 and 4."
            ]
        );
        // Pairs that only twist too far leave any blend of all proved.
        let lines_of_proved = super::agreement(&family(), &agreement, &AnyBlend::Proved);
        assert_eq!(lines_of_proved, lines[..2]);
    }

    #[test]
    fn a_family_that_agrees_altogether_needs_no_words_on_sets() {
        let all = vec![0, 1, 2, 3];
        let agreement = Agreement {
            by_pairs: vec![all.clone()],
            complete: true,
            any_blend: all,
            largest: true,
            leave_out: Vec::new(),
        };
        assert!(super::agreement(&family(), &agreement, &AnyBlend::Proved).is_empty());
    }

    #[test]
    fn a_proof_says_what_it_leaves_out_where_a_pair_is_not_clear() {
        let said = |pairs| any_blend(&family(), &AnyBlend::Proved, pairs).text();
        assert!(said(Verdict::Clear).ends_with("free of folds and crossings."));
        assert!(
            said(Verdict::Faulty)
                .ends_with("is proved free of folds and crossings. What is not clear in a pair is its twist, a crease or the axis, for which pairs are judged and blends are not.")
        );
        let found = Tolerance {
            first: 0,
            second: 1,
            margin: Margin {
                mm: 0.229,
                place: Place {
                    along: 0.5,
                    other_along: 0.5,
                    across: 0.5,
                    point: Point2::origin(),
                },
            },
        };
        let told = |pairs| tolerance(&family(), &found, pairs);
        assert!(
            told(Verdict::Clear).contains("by 0.22 mm at a kept pace with all pairs still proved;")
        );
        assert!(
            told(Verdict::Faulty)
                .contains("by 0.22 mm at a kept pace with no fold or crossing in any pair;")
        );
    }

    #[test]
    fn long_sets_are_named_by_their_runs() {
        let set = [0, 1, 2, 4, 5, 7, 8, 9];
        assert_eq!(numbers(&set), "1 to 3, 5, 6 and 8 to 10");
    }
}
