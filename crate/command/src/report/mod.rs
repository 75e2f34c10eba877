//! The report for programs: JSON whose structure `check-report.schema.json`
//! fixes.
//!
//! Profiles and nodes are counted from 1; lengths in mm, angles in degrees,
//! fractions along and across in 0 to 1. Sentences are for people and may
//! change; all else stays within version 1.

mod form;
mod nodes;
mod place;

pub use form::{FamilyReport, Report};

use crate::judged::Judged;
use form::{
    AgreementReport, AnyBlendReport, CellReport, DoubtReport, FaultReport, FindingReport,
    LeaveOutReport, MarginReport, NoteReport, PairCounts, ProblemReport, ProfileReport,
    RegionReport, RemedyReport, ToleranceReport, TwistReport, WeightReport,
};
use loftkin_exchange::family_words;
use loftkin_exchange::words::{self, Cell};
use loftkin_kernel::blend::LeaveOut;
use loftkin_kernel::verdict::{AnyBlend, Contact, Doubt, Fault, Finding, Hint, Region};
use nodes::NodesReport;
use place::{PlaceReport, place};

/// The version of the structure.
const VERSION: u32 = 1;

impl Default for Report {
    fn default() -> Self {
        Self {
            format: "loftkin-check",
            version: VERSION,
            families: Vec::new(),
            problems: Vec::new(),
        }
    }
}

impl Report {
    pub fn add_family(&mut self, family: FamilyReport) {
        self.families.push(family);
    }

    pub fn add_problem(&mut self, source: &str, sentence: &str) {
        self.problems.push(ProblemReport {
            source: source.to_owned(),
            sentence: sentence.to_owned(),
        });
    }

    /// The report as text.
    pub fn text(&self) -> String {
        // Strings, numbers and lists only: nothing that serialising refuses.
        serde_json::to_string_pretty(self).unwrap_or_default() + "\n"
    }
}

impl FamilyReport {
    /// The report on `judged`.
    pub fn new(judged: &Judged) -> Self {
        let table = &judged.table;
        let family = table.family();
        let totals = table.totals();
        let profile =
            |(index, profile): (usize, &loftkin_kernel::profile::Profile)| ProfileReport {
                number: index + 1,
                name: profile.name.clone(),
                closed: profile.closed,
                nodes: profile.node_count(),
            };
        Self {
            source: judged.source.clone(),
            name: family.name.clone(),
            verdict: words::verdict(table.verdict()),
            pacing: words::pacing(family.settings.pacing),
            placement: words::placement(family.settings.placement),
            twist_limit: family.settings.twist_limit.degrees(),
            crease_limit: family.settings.crease_limit.degrees(),
            pairs: PairCounts {
                clear: totals.clear,
                faulty: totals.faulty,
                unproven: totals.unproven,
            },
            profiles: family.profiles.iter().enumerate().map(profile).collect(),
            cells: judged
                .cells()
                .map(|(first, second)| cell(judged, first, second))
                .collect(),
            any_blend: any_blend(judged),
            agreement: agreement(judged),
            tolerance: judged
                .whole
                .tolerance
                .as_ref()
                .map(|tolerance| ToleranceReport {
                    first: tolerance.first + 1,
                    second: tolerance.second + 1,
                    mm: tolerance.margin.mm,
                    place: place(&tolerance.margin.place),
                }),
            notes: judged
                .notes
                .iter()
                .map(|note| NoteReport {
                    profile: note.profile.map(|index| index + 1),
                    sentence: note.to_string(),
                })
                .collect(),
        }
    }
}

fn any_blend(judged: &Judged) -> AnyBlendReport {
    let answer = &judged.whole.any_blend;
    let (blend, along) = match answer {
        AnyBlend::Refuted(bad) => (
            bad.profiles
                .iter()
                .zip(&bad.weights)
                .map(|(profile, &weight)| WeightReport {
                    profile: profile + 1,
                    weight,
                })
                .collect(),
            Some([bad.along, bad.other_along]),
        ),
        AnyBlend::Unproven { along, other_along } => (Vec::new(), Some([*along, *other_along])),
        _ => (Vec::new(), None),
    };
    AnyBlendReport {
        answer: family_words::any_blend_word(answer),
        blend,
        along,
        sentence: family_words::any_blend(judged.table.family(), answer, judged.table.verdict())
            .text(),
    }
}

fn agreement(judged: &Judged) -> AgreementReport {
    let agreement = &judged.whole.agreement;
    let numbers = |set: &[usize]| set.iter().map(|index| index + 1).collect();
    AgreementReport {
        by_pairs: agreement.by_pairs.iter().map(|set| numbers(set)).collect(),
        complete: agreement.complete,
        any_blend: numbers(&agreement.any_blend),
        largest: agreement.largest,
        leave_out: agreement.leave_out.iter().map(leave_out).collect(),
        sentences: family_words::agreement(
            judged.table.family(),
            agreement,
            &judged.whole.any_blend,
        ),
    }
}

fn leave_out(found: &LeaveOut) -> LeaveOutReport {
    LeaveOutReport {
        profile: found.profile + 1,
        any_blend: found.any_blend,
    }
}

fn cell(judged: &Judged, first: usize, second: usize) -> CellReport {
    let judgement = judged.table.cell(first, second);
    let cell = Cell::new(judged.table.family(), first, second);
    CellReport {
        first: first + 1,
        second: second + 1,
        verdict: words::verdict(judgement.verdict),
        faults: judgement
            .faults()
            .map(|found| fault(cell, found, judged.finding(first, second)))
            .collect(),
        doubt: judgement.doubt.as_ref().map(|open| doubt(cell, open)),
        boxes: judgement.boxes,
        finding: judged
            .finding(first, second)
            .map(|found| finding(judged, found)),
        nodes: judged
            .nodes
            .get(&(first, second))
            .map(|found| NodesReport::new(judged.table.family(), (first, second), found)),
    }
}

/// The place is the witness's; the sentence tells a twist where it is worst, as
/// far as that was looked for.
fn fault(cell: Cell<'_>, found: &Fault, finding: Option<&Finding>) -> FaultReport {
    let told = finding.map_or(*found, |finding| words::at_worst(found, finding));
    FaultReport {
        kind: words::fault_kind(found.kind),
        place: place(&found.place),
        angle: found.angle,
        sentence: words::fault(cell, &told).text(),
    }
}

fn doubt(cell: Cell<'_>, open: &Doubt) -> DoubtReport {
    let (kind, at, gap, profile) = match open {
        Doubt::Contact { place, gap } => ("contact", Some(place), Some(*gap), None),
        Doubt::AtLimit { place, .. } => ("at-limit", Some(place), None, None),
        Doubt::Limit { place } => ("work", Some(place), None, None),
        Doubt::ProfileNotSimple { profile } => ("profile-not-simple", None, None, Some(*profile)),
        Doubt::ProfileInvalid { profile, .. } => ("profile-invalid", None, None, Some(*profile)),
        Doubt::CountsDiffer { .. } => ("counts-differ", None, None, None),
    };
    DoubtReport {
        kind,
        place: at.map(place),
        gap,
        profile: profile.map(|index| index + 1),
        sentence: words::doubt(cell, open).text(),
    }
}

fn contact(contact: &Contact) -> PlaceReport {
    PlaceReport {
        along: contact.along,
        other_along: contact.other_along,
        across: contact.across,
        x: contact.point.x,
        y: contact.point.y,
    }
}

fn finding(judged: &Judged, found: &Finding) -> FindingReport {
    FindingReport {
        regions: found.regions.iter().map(region).collect(),
        complete: found.complete,
        margin: found.margin.as_ref().map(|margin| MarginReport {
            mm: margin.mm,
            place: place(&margin.place),
        }),
        shortfall: found.shortfall,
        twist: TwistReport {
            angle: found.twist.0,
            along: found.twist.1,
        },
        remedies: found
            .hints
            .iter()
            .map(|hint| remedy(judged, hint))
            .collect(),
    }
}

fn region(region: &Region) -> RegionReport {
    RegionReport {
        kind: words::fault_kind(region.kind),
        along: [region.along.0, region.along.1],
        across: [region.across.0, region.across.1],
        place: place(&region.place),
        angle: region.angle,
        curves: region
            .curves
            .iter()
            .map(|curve| curve.iter().map(contact).collect())
            .collect(),
    }
}

fn remedy(judged: &Judged, hint: &Hint) -> RemedyReport {
    RemedyReport {
        change: hint.remedy.into(),
        mends: hint.mends,
        breaks: hint.breaks,
        sentence: words::hint(judged.table.family(), hint),
    }
}
