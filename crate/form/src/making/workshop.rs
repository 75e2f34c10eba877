//! What a workshop has and wants, and all its checks on a piece in one go.

use super::band::{Band, band};
use super::check::{Check, Report, examine};
use super::draft::{Draft, Halves};
use super::draft_proof;
use super::fillet::Edges;
use super::gas::GasPressure;
use super::offset::{Meeting, OffsetBend, meeting};
use super::radius::{BendRadius, CutterRadius, ToolSide};
use super::scallop::Scallop;
use super::stretch::Thinning;
use crate::body::wall::Side;
use crate::piece::Piece;
use nalgebra::{UnitVector3, Vector3};

/// The settings of all checks; every one is the person's to change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Workshop {
    /// The direction in which the piece is drawn off its mould.
    pub direction: UnitVector3<f64>,
    /// How the mould is parted.
    pub halves: Halves,
    /// The least draft, degrees.
    pub least_draft: f64,
    /// The widest band beside the parting line of two halves in which less draft is
    /// accepted, mm; 0 for none.
    pub most_band: f64,
    /// The radius of the ball-nose cutter, mm.
    pub cutter: f64,
    /// From which side the mould's skin is cut: outside for a male mould, on which the
    /// piece sits, inside for a female one, in which it lies.
    pub tool_side: ToolSide,
    /// What the cutter may leave in a sharp valley, mm; 0 for nothing.
    pub most_left: f64,
    /// The radius of the fillet that is assumed on every sharp edge, mm; 0 for none.
    pub fillet: f64,
    /// From pass to pass, mm.
    pub step_over: f64,
    /// The direction in which passes step over.
    pub sideways: UnitVector3<f64>,
    /// The largest scallop, mm.
    pub most_scallop: f64,
    /// The gauge of the sheet, mm.
    pub gauge: f64,
    /// Where the sheet lies against the drawn skin.
    pub sheet_side: Side,
    /// The least inner bend radius in gauges.
    pub bend_gauges: f64,
    /// The least gauge after forming, mm.
    pub least_gauge: f64,
    /// The flow stress at forming, MPa.
    pub flow_stress: f64,
    /// The most gas pressure of the rig, MPa.
    pub most_pressure: f64,
}

impl Default for Workshop {
    /// To start from: 2 degrees of draft (one thermoformer's guide, female moulds),
    /// titanium grade 2 of 1 mm bent to 2 gauges, .7 MPa of gas (one published
    /// trial); cutter, scallop, least gauge, and passes by levels, as upright walls are
    /// cut, by common practice.
    fn default() -> Self {
        Self {
            direction: Vector3::z_axis(),
            halves: Halves::One,
            least_draft: 2.0,
            most_band: 0.0,
            cutter: 3.0,
            tool_side: ToolSide::Outside,
            most_left: 0.0,
            fillet: 0.0,
            step_over: 0.5,
            sideways: Vector3::z_axis(),
            most_scallop: 0.02,
            gauge: 1.0,
            sheet_side: Side::Middle,
            bend_gauges: 2.0,
            least_gauge: 0.5,
            flow_stress: 8.0,
            most_pressure: 0.7,
        }
    }
}

/// The checks, in the order in which a piece is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Drawing off the mould.
    Draft,
    /// Milling the mould: radius.
    Cutter,
    /// Milling the mould: scallops.
    Scallop,
    /// Bending the sheet.
    Bend,
    /// Forming the sheet: gauge left.
    Thinning,
    /// Forming the sheet: gas.
    Pressure,
    /// The room for the sheet in hollows.
    Offset,
}

impl Kind {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Draft,
        Self::Cutter,
        Self::Scallop,
        Self::Bend,
        Self::Thinning,
        Self::Pressure,
        Self::Offset,
    ];

    /// What it is called.
    pub fn title(self) -> &'static str {
        match self {
            Self::Draft => "draft to the direction of draw",
            Self::Cutter => "least concave radius against the cutter",
            Self::Scallop => "scallop height at the step-over",
            Self::Bend => "bend radius against the sheet",
            Self::Thinning => "gauge left after forming",
            Self::Pressure => "gas pressure to form",
            Self::Offset => "share of the room in hollows that the sheet takes",
        }
    }
}

impl Workshop {
    /// One check with these settings.
    pub fn check(&self, kind: Kind) -> Box<dyn Check> {
        match kind {
            Kind::Draft => Box::new(self.draft()),
            Kind::Cutter => Box::new(CutterRadius {
                cutter: self.cutter,
                side: self.tool_side,
            }),
            Kind::Scallop => Box::new(Scallop {
                cutter: self.cutter,
                step_over: self.step_over,
                sideways: self.sideways,
                most: self.most_scallop,
            }),
            Kind::Bend => Box::new(BendRadius {
                gauge: self.gauge,
                side: self.sheet_side,
                gauges: self.bend_gauges,
            }),
            Kind::Thinning => Box::new(Thinning {
                gauge: self.gauge,
                least: self.least_gauge,
            }),
            Kind::Pressure => Box::new(GasPressure {
                flow_stress: self.flow_stress,
                gauge: self.gauge,
                most: self.most_pressure,
            }),
            Kind::Offset => {
                let (outward, inward) = self.reach();
                Box::new(OffsetBend { outward, inward })
            }
        }
    }

    /// Draft with these settings. A piece that is drawn out of a female mould is left
    /// by that mould, which is outside of it, the other way.
    pub fn draft(&self) -> Draft {
        let direction = match self.tool_side {
            ToolSide::Outside => self.direction,
            ToolSide::Inside => -self.direction,
        };
        Draft {
            direction,
            halves: self.halves,
            least: self.least_draft,
        }
    }

    /// The report on draft with its basis raised to proved where that succeeds; of
    /// two halves by the band beside their parting line, which comes with it.
    pub fn confirmed(&self, piece: &Piece, report: Report) -> (Report, Option<Band>) {
        let draft = self.draft();
        match self.halves {
            Halves::One => (draft_proof::confirmed(piece, &draft, report), None),
            Halves::Two => {
                let band = band(piece, &draft);
                (band.confirmed(report, self.most_band), Some(band))
            }
        }
    }

    /// How far the sheet reaches from the drawn skin, outward and inward, mm.
    pub fn reach(&self) -> (f64, f64) {
        let gauge = self.gauge;
        match self.sheet_side {
            Side::Middle => (gauge / 2.0, gauge / 2.0),
            Side::Inside => (0.0, gauge),
            Side::Outside => (gauge, 0.0),
        }
    }

    /// Where a face of the sheet meets itself at a distance, the deepest found on
    /// either side; none found is no proof.
    pub fn meeting(&self, piece: &Piece) -> Option<Meeting> {
        let (outward, inward) = self.reach();
        let sides = [(outward, ToolSide::Outside), (inward, ToolSide::Inside)];
        let found = sides
            .into_iter()
            .filter(|(reach, _)| 0.0 < *reach)
            .filter_map(|(reach, side)| Some((meeting(piece, reach, side)?, reach)));
        // Deepest by what share of the reach is left.
        let left = |(meeting, reach): &(Meeting, f64)| meeting.distance / reach;
        let deepest = found.min_by(|one, other| left(one).total_cmp(&left(other)));
        deepest.map(|(meeting, _)| meeting)
    }

    /// All checks on `piece`, whose sharp edges are `edges`, in one pass over its skin;
    /// `proving` tries to prove the draft too, which may take longer than all the rest.
    pub fn examine(&self, piece: &Piece, edges: &Edges, proving: bool) -> Vec<(Kind, Report)> {
        let checks = Kind::ALL.map(|kind| self.check(kind));
        let borrowed: Vec<&dyn Check> = checks.iter().map(|check| &**check).collect();
        let reports = examine(piece, &borrowed);
        let kinds = Kind::ALL.into_iter().zip(reports);
        kinds
            .map(|(kind, report)| match kind {
                Kind::Draft if proving => (kind, self.confirmed(piece, report).0),
                _ => (kind, self.over_edges(kind, report, edges)),
            })
            .collect()
    }
}
