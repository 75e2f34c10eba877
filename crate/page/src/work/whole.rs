//! What is to be said of the family as a whole: any blend of it, the sets that
//! agree, and how true it must be made.

use crate::message::SayingMessage;
use loftkin_exchange::{family_words, words};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{AnyBlend, BadBlend};
use serde::{Deserialize, Serialize};

/// What is said of the family as a whole.
#[derive(Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct WholeMessage {
    /// Whether any two agree: "clear", "faulty" or "unproven".
    pub any_two_verdict: &'static str,
    /// The same in words.
    pub any_two: String,
    /// Whether any blend is free: "clear", "faulty" or "unproven".
    pub verdict: &'static str,
    /// The same in words, with its place and what would be right.
    pub any_blend: SayingMessage,
    /// The blend that is not free, to be drawn.
    pub blend: Option<BlendMessage>,
    /// The proved tolerance in mm.
    pub tolerance_mm: Option<f64>,
    /// How true the family must be made, and the place that sets it.
    pub tolerance: String,
    /// Which sets agree.
    pub sets: Vec<String>,
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

/// What is to be said of the family of `table`; nothing of fewer than two
/// profiles. It can take longer than a frame.
pub fn whole(table: &Table) -> Option<WholeMessage> {
    if table.size() < 2 {
        return None;
    }
    let (family, answer) = (table.family(), table.any_blend());
    let saying = family_words::any_blend(family, &answer);
    let verdict = match &answer {
        AnyBlend::Proved => "clear",
        AnyBlend::Refuted(_) => "faulty",
        AnyBlend::Unproven { .. } | AnyBlend::ProfileFirst { .. } | AnyBlend::CountsDiffer => {
            "unproven"
        }
    };
    let tolerance = table.tolerance();
    let (any_two_verdict, any_two) = any_two(table);
    Some(WholeMessage {
        any_two_verdict,
        any_two,
        verdict,
        any_blend: SayingMessage {
            what: saying.what,
            place: saying.place,
            right: saying.right,
        },
        blend: match answer {
            AnyBlend::Refuted(bad) => Some(bad.into()),
            _ => None,
        },
        tolerance_mm: tolerance.as_ref().map(|found| found.margin.mm),
        tolerance: tolerance.map_or_else(
            || "There is none until every pair is proved free of folds and crossings.".to_owned(),
            |found| family_words::tolerance(family, &found),
        ),
        sets: family_words::agreement(family, &table.agreement()),
    })
}

/// How many pairs are clear.
fn any_two(table: &Table) -> (&'static str, String) {
    let totals = table.totals();
    let all = totals.clear + totals.faulty + totals.unproven;
    let verdict = match (totals.faulty, totals.unproven) {
        (0, 0) => "clear",
        (0, _) => "unproven",
        _ => "faulty",
    };
    let text = format!(
        "Proved clear: {} of {}.",
        totals.clear,
        words::counted(all, "pair", "pairs")
    );
    (verdict, text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Family;
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
        let message = whole(&faulty).unwrap();
        assert_eq!(
            (message.verdict, message.any_two_verdict),
            ("faulty", "faulty")
        );
        assert_eq!(message.any_two, "Proved clear: 1 of 3 pairs.");
        assert!(!message.sets.is_empty() && message.tolerance_mm.is_none());
        let blend = message.blend.unwrap();
        assert!((blend.weights.iter().sum::<f64>() - 1.0).abs() < 1e-12);

        let clear = whole(&table(vec![arch(1500), arch(2500)])).unwrap();
        assert_eq!((clear.verdict, clear.blend), ("clear", None));
        assert!(clear.tolerance.contains(" mm ") && 0.0 < clear.tolerance_mm.unwrap());
        assert_eq!(whole(&table(vec![arch(1500)])), None);
    }
}
