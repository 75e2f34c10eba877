//! The structure of the report for programs: serde types, nothing else.
//!
//! `check-report.schema.json` describes the same and says what each field means.

use super::nodes::NodesReport;
use super::place::PlaceReport;
use crate::change::ChangeReport;
use serde::Serialize;

/// Everything that one run has to say.
#[derive(Serialize)]
pub struct Report {
    pub format: &'static str,
    pub version: u32,
    pub families: Vec<FamilyReport>,
    pub problems: Vec<ProblemReport>,
}

#[derive(Serialize)]
pub struct ProblemReport {
    pub source: String,
    pub sentence: String,
}

/// One family with all its cells.
#[derive(Serialize)]
pub struct FamilyReport {
    pub source: String,
    pub name: String,
    pub verdict: &'static str,
    pub pacing: &'static str,
    pub placement: &'static str,
    pub twist_limit: f64,
    pub crease_limit: f64,
    pub pairs: PairCounts,
    pub profiles: Vec<ProfileReport>,
    pub cells: Vec<CellReport>,
    pub any_blend: AnyBlendReport,
    pub agreement: AgreementReport,
    pub tolerance: Option<ToleranceReport>,
    pub notes: Vec<NoteReport>,
}

/// Whether any blend of all profiles is free of folds and crossings.
#[derive(Serialize)]
pub struct AnyBlendReport {
    pub answer: &'static str,
    pub blend: Vec<WeightReport>,
    pub along: Option<[f64; 2]>,
    pub sentence: String,
}

#[derive(Serialize)]
pub struct WeightReport {
    pub profile: usize,
    pub weight: f64,
}

#[derive(Serialize)]
pub struct AgreementReport {
    pub by_pairs: Vec<Vec<usize>>,
    pub complete: bool,
    pub any_blend: Vec<usize>,
    pub largest: bool,
    pub leave_out: Vec<LeaveOutReport>,
    pub sentences: Vec<String>,
}

#[derive(Serialize)]
pub struct LeaveOutReport {
    pub profile: usize,
    pub any_blend: bool,
}

#[derive(Serialize)]
pub struct ToleranceReport {
    pub first: usize,
    pub second: usize,
    pub mm: f64,
    pub place: PlaceReport,
}

#[derive(Serialize)]
pub struct PairCounts {
    pub clear: usize,
    pub faulty: usize,
    pub unproven: usize,
}

#[derive(Serialize)]
pub struct ProfileReport {
    pub number: usize,
    pub name: String,
    pub closed: bool,
    pub nodes: usize,
}

#[derive(Serialize)]
pub struct NoteReport {
    pub profile: Option<usize>,
    pub sentence: String,
}

/// A pair, or a profile with itself when both numbers are the same.
#[derive(Serialize)]
pub struct CellReport {
    pub first: usize,
    pub second: usize,
    pub verdict: &'static str,
    pub faults: Vec<FaultReport>,
    pub doubt: Option<DoubtReport>,
    pub boxes: u32,
    pub finding: Option<FindingReport>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nodes: Option<NodesReport>,
}

#[derive(Serialize)]
pub struct FaultReport {
    pub kind: &'static str,
    pub place: PlaceReport,
    pub angle: f64,
    pub sentence: String,
}

#[derive(Serialize)]
pub struct DoubtReport {
    pub kind: &'static str,
    pub place: Option<PlaceReport>,
    pub gap: Option<f64>,
    pub profile: Option<usize>,
    pub sentence: String,
}

#[derive(Serialize)]
pub struct FindingReport {
    pub regions: Vec<RegionReport>,
    pub complete: bool,
    pub margin: Option<MarginReport>,
    pub shortfall: Option<f64>,
    pub twist: TwistReport,
    pub remedies: Vec<RemedyReport>,
}

#[derive(Serialize)]
pub struct RegionReport {
    pub kind: &'static str,
    pub along: [f64; 2],
    pub across: [f64; 2],
    pub place: PlaceReport,
    pub angle: f64,
    pub curves: Vec<Vec<PlaceReport>>,
}

#[derive(Serialize)]
pub struct MarginReport {
    pub mm: f64,
    pub place: PlaceReport,
}

#[derive(Serialize)]
pub struct TwistReport {
    pub angle: f64,
    pub along: f64,
}

#[derive(Serialize)]
pub struct RemedyReport {
    #[serde(flatten)]
    pub change: ChangeReport,
    pub mends: usize,
    pub breaks: usize,
    pub sentence: String,
}
