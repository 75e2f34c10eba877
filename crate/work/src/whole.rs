//! What is to be said of the family as a whole: any two and any blend of it,
//! how true it must be made, and which sets agree. Each by itself, for they
//! take very different times.

use crate::SayingMessage;
use loftkin_exchange::{family_words, words};
use loftkin_kernel::family::Placement;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{AnyBlend, BadBlend};
use serde::{Deserialize, Serialize};

/// Whether any two and any blend of the family are free.
#[derive(Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct AnyBlendMessage {
    /// Whether every pair is clear: "clear", "faulty" or "unproven".
    pub any_two_verdict: &'static str,
    /// The same in words.
    pub any_two: String,
    /// Whether any blend is free: "clear", "faulty" or "unproven".
    pub verdict: &'static str,
    /// The same in words, with its place and what would be right.
    pub any_blend: SayingMessage,
    /// The blend that is not free, to be drawn.
    pub blend: Option<BlendMessage>,
}

/// A blend of profiles with the place where it meets itself.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct BlendMessage {
    /// Its profiles, from 0.
    pub profiles: Vec<usize>,
    /// Their weights, of sum one.
    pub weights: Vec<f64>,
    /// Where it meets itself: x in mm.
    pub x: f64,
    /// Where it meets itself: y in mm.
    pub y: f64,
}

/// How true the family must be made.
#[derive(Debug, PartialEq, Serialize)]
pub struct ToleranceMessage {
    /// The proved tolerance in mm.
    pub mm: Option<f64>,
    /// The same in words, with the place that sets it.
    pub text: String,
}

impl From<BadBlend> for BlendMessage {
    fn from(bad: BadBlend) -> Self {
        Self {
            profiles: bad.profiles,
            weights: bad.weights,
            x: bad.point.x,
            y: bad.point.y,
        }
    }
}

/// Whether any two and any blend of the family are free.
pub fn any_blend(table: &Table) -> AnyBlendMessage {
    let answer = table.any_blend();
    let saying = family_words::any_blend(table.family(), &answer, table.verdict());
    let (any_two_verdict, any_two) = any_two(table);
    AnyBlendMessage {
        any_two_verdict,
        any_two,
        verdict: match &answer {
            AnyBlend::Proved => "clear",
            AnyBlend::Refuted(_) => "faulty",
            AnyBlend::Unproven { .. } | AnyBlend::ProfileFirst { .. } | AnyBlend::CountsDiffer => {
                "unproven"
            }
        },
        any_blend: SayingMessage {
            what: saying.what,
            place: saying.place,
            right: saying.right,
        },
        blend: match answer {
            AnyBlend::Refuted(bad) => Some(bad.into()),
            _ => None,
        },
    }
}

/// How many pairs are clear, and of what: a proof for any blend speaks of less.
fn any_two(table: &Table) -> (&'static str, String) {
    let totals = table.totals();
    let all = totals.clear + totals.faulty + totals.unproven;
    let verdict = match (totals.faulty, totals.unproven) {
        (0, 0) => "clear",
        (0, _) => "unproven",
        _ => "faulty",
    };
    let text = format!(
        "Proved clear: {} of {}, judged for folds, crossings, twist{} and creases.",
        totals.clear,
        words::counted(all, "pair", "pairs"),
        match table.family().settings.placement {
            Placement::Ring => ", the axis",
            Placement::Stack => "",
        }
    );
    (verdict, text)
}

/// How true the family must be made.
pub fn tolerance(table: &Table) -> ToleranceMessage {
    match table.tolerance() {
        Some(found) => ToleranceMessage {
            mm: Some(found.margin.mm),
            text: family_words::tolerance(table.family(), &found, table.verdict()),
        },
        None => ToleranceMessage {
            mm: None,
            text: "There is none until every pair is proved free of folds and crossings."
                .to_owned(),
        },
    }
}

/// Which sets of profiles agree, a sentence each; none for a family that agrees
/// altogether.
pub fn sets(table: &Table) -> Vec<String> {
    let agreement = table.agreement();
    let whole = table.any_blend();
    family_words::agreement(table.family(), &agreement, &whole)
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::{Family, TenthsOfDegree};
    use loftkin_kernel::profile::{Node, Profile};

    fn table(profiles: Vec<Profile>) -> Table {
        let family = Family {
            profiles,
            ..Family::default()
        };
        Table::new(family).unwrap()
    }

    fn arch(rise: i32) -> Profile {
        let nodes = [(0, 0), (2000, rise), (4000, 0)];
        Profile::open(nodes.map(|(x, y)| Node::smooth(x, y)).to_vec())
    }

    #[test]
    fn the_whole_family_is_judged_beside_its_pairs() {
        let faulty = table(vec![arch(1500), arch(2500), arch(2500).reversed()]);
        let message = any_blend(&faulty);
        assert_eq!(
            (message.verdict, message.any_two_verdict),
            ("faulty", "faulty")
        );
        assert_eq!(
            message.any_two,
            "Proved clear: 1 of 3 pairs, judged for folds, crossings, twist and creases."
        );
        let blend = message.blend.unwrap();
        assert!((blend.weights.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert!(!sets(&faulty).is_empty());
        assert_eq!(tolerance(&faulty).mm, None);

        // Turned by more than the limit: the pair is faulty, and any blend is free.
        let twisted = |limit: u16| {
            let mut family = Family {
                profiles: vec![arch(1500), arch(-1500)],
                ..Family::default()
            };
            family.settings.twist_limit = TenthsOfDegree(limit);
            any_blend(&Table::new(family).unwrap())
        };
        let message = twisted(300);
        assert_eq!(
            (message.any_two_verdict, message.verdict),
            ("faulty", "clear")
        );
        assert!(message.any_two.contains("twist"));
        assert!(
            message
                .any_blend
                .what
                .contains("in a pair is its twist, a crease or the axis")
        );
        assert_eq!(twisted(1750).any_two_verdict, "clear");

        let clear = table(vec![arch(1500), arch(2500)]);
        let message = any_blend(&clear);
        assert_eq!((message.verdict, message.blend), ("clear", None));
        let tolerance = tolerance(&clear);
        assert!(tolerance.text.contains(" mm ") && 0.0 < tolerance.mm.unwrap());
        assert!(sets(&clear).is_empty());
    }
}
