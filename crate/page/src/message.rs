//! What crosses the bridge to the page, as plain values.
//!
//! Sentences come from the exchange crate's words; here they are only put in
//! order. Cells go as two bytes each, for they cross at every step of a drag.

use crate::board::Board;
use loftkin_editor::edit::joints;
use loftkin_exchange::words::{self, Cell};
use loftkin_kernel::family::{Pacing, Placement, Settings, TenthsOfDegree};
use loftkin_kernel::profile::Outline;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Doubt, FaultKind, Judgement, Verdict};
use loftkin_work::SayingMessage;
use serde::{Deserialize, Serialize};

/// One profile as the list shows it.
#[derive(Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct ProfileMessage {
    /// Its name; may be empty.
    pub name: String,
    /// Whether it is closed.
    pub closed: bool,
    /// Whether it is an exact path.
    pub exact: bool,
    /// How many nodes or joints it has.
    pub nodes: usize,
}

/// The family without its points.
#[derive(Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FamilyMessage {
    /// Its name; may be empty.
    pub name: String,
    /// Its profiles.
    pub profiles: Vec<ProfileMessage>,
    /// Its settings.
    pub settings: SettingsMessage,
    /// Whether new profiles are closed.
    pub closing: bool,
}

/// The settings, in words and degrees.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct SettingsMessage {
    /// "parameter" or "node".
    pub pacing: String,
    /// "stack" or "ring".
    pub placement: String,
    /// In degrees.
    pub twist_limit: f64,
    /// In degrees.
    pub crease_limit: f64,
}

/// One faulty region.
#[derive(Debug, PartialEq, Serialize)]
pub struct RegionMessage {
    /// Whether it is a fold, a crossing or the axis, and not a passed limit.
    pub contact: bool,
    /// A sentence.
    pub text: String,
    /// The fraction across of its worst place, to show that section.
    pub across: f64,
    /// The faulty fractions across.
    pub from: f64,
    /// The faulty fractions across.
    pub to: f64,
}

/// One remedy.
#[derive(Debug, PartialEq, Serialize)]
pub struct HintMessage {
    /// What to do, for a button.
    pub order: String,
    /// What it does to all pairs.
    pub effect: String,
}

/// Everything to say about the chosen pair.
#[derive(Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FindingMessage {
    /// Which profiles, from 0.
    pub first: usize,
    /// Which profiles, from 0.
    pub second: usize,
    /// Their names, to stand above the rest.
    pub label: String,
    /// The verdict's word.
    pub verdict: &'static str,
    /// Faults and doubts, the worst first.
    pub sayings: Vec<SayingMessage>,
    /// Faulty regions, the worst first.
    pub regions: Vec<RegionMessage>,
    /// Further sentences: margin, shortfall, twist.
    pub notes: Vec<String>,
    /// Remedies.
    pub hints: Vec<HintMessage>,
    /// The worst places in the drawing: x and y in mm, and the fraction across.
    pub places: Vec<[f64; 3]>,
}

impl From<&Settings> for SettingsMessage {
    fn from(settings: &Settings) -> Self {
        Self {
            pacing: words::pacing(settings.pacing).to_owned(),
            placement: words::placement(settings.placement).to_owned(),
            twist_limit: settings.twist_limit.degrees(),
            crease_limit: settings.crease_limit.degrees(),
        }
    }
}

impl SettingsMessage {
    /// The settings of the kernel; an unknown word keeps the first of the two.
    pub fn settings(&self) -> Settings {
        // Saturates: what is out of range is refused by the kernel with a sentence.
        let tenths = |degrees: f64| TenthsOfDegree((degrees * 10.0).round() as u16);
        Settings {
            pacing: match self.pacing.as_str() {
                "node" => Pacing::Node,
                _ => Pacing::Parameter,
            },
            placement: match self.placement.as_str() {
                "ring" => Placement::Ring,
                _ => Placement::Stack,
            },
            twist_limit: tenths(self.twist_limit),
            crease_limit: tenths(self.crease_limit),
        }
    }
}

/// The family on the board.
pub fn family(board: &Board) -> FamilyMessage {
    let family = board.family();
    let profiles = family.profiles.iter().map(|profile| ProfileMessage {
        name: profile.name.clone(),
        closed: profile.closed,
        exact: matches!(profile.outline, Outline::Path { .. }),
        nodes: profile.node_count(),
    });
    FamilyMessage {
        name: family.name.clone(),
        profiles: profiles.collect(),
        settings: (&family.settings).into(),
        closing: board.closing(),
    }
}

/// The nodes of the active profile: x and y in mm, and 1 for a corner, each.
pub fn nodes(board: &Board) -> Vec<f64> {
    let profile = board
        .active()
        .and_then(|index| board.document().profile(index));
    let nodes = profile.map(joints).unwrap_or_default();
    nodes
        .iter()
        .flat_map(|node| {
            let (x, y) = node.at.to_mm();
            [x, y, f64::from(u8::from(node.corner))]
        })
        .collect()
}

/// All cells in the order (1,1), (2,1), (2,2), (3,1), ...: the verdict (0 clear,
/// 1 faulty, 2 unproven) and the reason (see [`REASONS`]), one byte each.
pub fn cells(table: &Table) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(table.size() * (table.size() + 1));
    for second in 0..table.size() {
        for first in 0..=second {
            let cell = table.cell(first, second);
            let verdict = match cell.verdict {
                Verdict::Clear => 0,
                Verdict::Faulty => 1,
                Verdict::Unproven => 2,
            };
            bytes.extend([verdict, reason(cell)]);
        }
    }
    bytes
}

/// The words of the second byte of a cell.
pub const REASONS: [&str; 12] = [
    "clear",
    "fold",
    "crossing",
    "axis",
    "twist",
    "crease",
    "too near",
    "undecided",
    "held up",
    "invalid",
    "counts",
    "at limit",
];

fn reason(cell: &Judgement) -> u8 {
    if let Some(fault) = cell.worst() {
        return match fault.kind {
            FaultKind::Fold => 1,
            FaultKind::Crossing => 2,
            FaultKind::Axis => 3,
            FaultKind::Twist => 4,
            FaultKind::Crease => 5,
        };
    }
    match cell.doubt {
        None => 0,
        Some(Doubt::Contact { .. }) => 6,
        Some(Doubt::Limit { .. }) => 7,
        Some(Doubt::ProfileNotSimple { .. }) => 8,
        Some(Doubt::ProfileInvalid { .. }) => 9,
        Some(Doubt::CountsDiffer { .. }) => 10,
        Some(Doubt::AtLimit { .. }) => 11,
    }
}

/// Everything to say about the chosen pair.
pub fn finding(board: &mut Board) -> Option<FindingMessage> {
    let (first, second) = board.pair()?;
    let finding = board.finding()?;
    let cell = Cell::new(board.family(), first, second);
    let mut notes = Vec::new();
    if !finding.complete && !finding.regions.is_empty() {
        notes.push("There may be further regions that were not reached.".to_owned());
    }
    notes.extend(
        finding
            .margin
            .as_ref()
            .map(|margin| words::margin(cell, margin)),
    );
    notes.extend(finding.shortfall.map(words::shortfall));
    if first != second && finding.complete && words::is_judged(&finding.judgement) {
        notes.push(words::twist(finding.twist));
    }
    let regions = finding.regions.iter().map(|region| RegionMessage {
        contact: !matches!(region.kind, FaultKind::Twist | FaultKind::Crease),
        text: words::region(cell, region),
        across: region.place.across,
        from: region.across.0,
        to: region.across.1,
    });
    let hints = finding.hints.iter().map(|hint| {
        let order = words::remedy(board.family(), &hint.remedy);
        let whole = words::hint(board.family(), hint);
        // The button says the order: beside it stands the effect alone.
        let effect = whole.strip_prefix(&format!("{order}: ")).unwrap_or(&whole);
        HintMessage {
            effect: effect.to_owned(),
            order,
        }
    });
    let places = if finding.regions.is_empty() {
        finding
            .judgement
            .worst()
            .iter()
            .map(|fault| fault.place)
            .collect()
    } else {
        finding
            .regions
            .iter()
            .map(|region| region.place)
            .collect::<Vec<_>>()
    };
    let sayings = words::found(cell, &finding);
    Some(FindingMessage {
        first,
        second,
        label: cell.heading(),
        verdict: words::verdict(finding.judgement.verdict),
        sayings: sayings.into_iter().map(Into::into).collect(),
        regions: regions.collect(),
        notes,
        hints: hints.collect(),
        places: places
            .iter()
            .map(|place| [place.point.x, place.point.y, place.across])
            .collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Family;
    use loftkin_kernel::profile::{Node, Profile};

    fn board() -> Board {
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
        Board::new(family).unwrap()
    }

    #[test]
    fn cells_tell_verdict_and_reason() {
        let board = board();
        let bytes = cells(board.document().table().unwrap());
        // (1,1), (2,1), (2,2), (3,1), (3,2), (3,3)
        assert_eq!(bytes.len(), 12);
        assert_eq!(bytes[2..4], [0, 0]);
        assert_eq!(bytes[6], 1);
        assert_eq!(bytes[8], 1);
        assert!(bytes[9] != 0, "a reason stands beside a fault");
    }

    #[test]
    fn a_finding_speaks_of_the_chosen_pair() {
        let mut board = board();
        board.choose_pair(2, 1).unwrap();
        let message = finding(&mut board).unwrap();
        assert_eq!((message.first, message.second), (1, 2));
        assert_eq!(message.verdict, "faulty");
        assert!(
            message.label.to_lowercase().contains("profile 2"),
            "{}",
            message.label
        );
        assert!(!message.places.is_empty());
    }

    #[test]
    fn settings_survive_the_bridge() {
        let settings = Settings {
            pacing: Pacing::Node,
            placement: Placement::Ring,
            twist_limit: TenthsOfDegree(333),
            crease_limit: TenthsOfDegree(25),
        };
        assert_eq!(SettingsMessage::from(&settings).settings(), settings);
        let wild = SettingsMessage {
            twist_limit: f64::NAN,
            ..(&settings).into()
        };
        assert!(wild.settings().validate().is_err());
    }
}
