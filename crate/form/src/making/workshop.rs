//! What a workshop has and wants, and all its checks on a piece in one go.

use super::band::{Band, band};
use super::check::{Basis, Check, Report};
use super::draft::{Draft, Halves};
use super::edges::{Edge, sharp_edges};
use super::fillet::{Edges, PLACES, left_by, worst_misfit};
use super::gas::GasPressure;
use super::offset::OffsetBend;
use super::radius::{BendRadius, CutterRadius, ToolSide};
use super::room::{Meeting, Reach, tightest};
use super::scallop::Scallop;
use super::stretch::Thinning;
use super::worst::examine;
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
            Self::Offset => "share of the room for it that the sheet takes",
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

    /// The report on draft as it stands for a mould in one part; of two halves as the
    /// band beside their parting line has it, which comes with it.
    pub fn confirmed(&self, piece: &Piece, report: Report) -> (Report, Option<Band>) {
        let draft = self.draft();
        match self.halves {
            Halves::One => (report, None),
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

    /// The report on the room in hollows with what parts of the skin leave that face
    /// one another; and the two places that leave least, where such were found. The
    /// former is bounded, the latter only looked for.
    pub fn with_walls(&self, piece: &Piece, report: Report) -> (Report, Option<Meeting>) {
        let (outward, inward) = self.reach();
        let found = tightest(piece, Reach { outward, inward });
        let share = found.map_or(report.worst, |meeting| report.worst.max(meeting.share));
        let is_wall = report.worst < share;
        let passes = report.limit.admits(share);
        let basis = if passes {
            Basis::Sampled { places: 0 }
        } else if is_wall {
            Basis::Checked
        } else {
            report.basis
        };
        let wall = found.filter(|_| is_wall).map(|meeting| meeting.place);
        let report = Report {
            worst: share,
            found: if is_wall { share } else { report.found },
            place: wall.or(report.place),
            passes,
            basis,
            ..report
        };
        (report, found)
    }

    /// All checks on `piece`, whose sharp edges are `edges`; `thorough` looks for the band
    /// beside the parting line of two halves and for parts of the skin that face one
    /// another too, which may take longer than all the rest.
    pub fn examine(&self, piece: &Piece, edges: &Edges, thorough: bool) -> Vec<(Kind, Report)> {
        let checks = Kind::ALL.map(|kind| self.check(kind));
        let borrowed: Vec<&dyn Check> = checks.iter().map(|check| &**check).collect();
        let reports = examine(piece, &borrowed);
        let kinds = Kind::ALL.into_iter().zip(reports);
        kinds
            .map(|(kind, report)| match kind {
                Kind::Draft if thorough => (kind, self.confirmed(piece, report).0),
                Kind::Offset if thorough => {
                    let (report, _) = self.with_walls(piece, report);
                    (kind, self.over_edges(kind, report, edges))
                }
                _ => (kind, self.over_edges(kind, report, edges)),
            })
            .collect()
    }

    /// The sharp edges of `piece`, and whether the fillet fits on them.
    pub fn edges(&self, piece: &Piece) -> Edges {
        let all = sharp_edges(piece);
        let misfit = if 0.0 < self.fillet {
            worst_misfit(piece, &all, self.fillet)
        } else {
            None
        };
        Edges { all, misfit }
    }

    /// What the cutter leaves on `edge`, mm; 0 on a ridge seen from the cutter.
    pub fn left_on(&self, edge: &Edge) -> f64 {
        if edge.is_valley_from(self.tool_side) {
            left_by(self.cutter, self.fillet, edge.most)
        } else {
            0.0
        }
    }

    /// The report of `kind` on the smooth parts of a skin, with its sharp edges.
    pub fn over_edges(&self, kind: Kind, report: Report, edges: &Edges) -> Report {
        let (outward, inward) = self.reach();
        let on_hollow_side = |edge: &Edge| if edge.is_ridge { inward } else { outward };
        let valued = |edge: &Edge| -> Option<f64> {
            let curved = if 0.0 < self.fillet {
                1.0 / self.fillet
            } else {
                f64::INFINITY
            };
            match kind {
                Kind::Cutter if !edge.is_valley_from(self.tool_side) => None,
                Kind::Cutter if self.left_on(edge) <= self.most_left => {
                    (self.cutter <= self.fillet).then_some(self.fillet)
                }
                Kind::Cutter => Some(self.fillet),
                Kind::Bend => Some(self.fillet - on_hollow_side(edge)),
                // Where edges meet a fillet is a part of a sphere.
                Kind::Pressure => Some(2.0 * self.flow_stress * self.gauge * curved),
                Kind::Offset if 0.0 < on_hollow_side(edge) => Some(on_hollow_side(edge) * curved),
                Kind::Draft | Kind::Scallop | Kind::Thinning | Kind::Offset => None,
            }
        };
        let mut report = report;
        let mut concerned: Option<&Edge> = None;
        for edge in &edges.all {
            let Some(value) = valued(edge) else {
                continue;
            };
            concerned = concerned.or(Some(edge));
            // A value that is none stays so, and does not pass.
            if report.limit.is_worse(value, report.worst) {
                report.worst = value;
                if 0.0 < edge.seen {
                    report.found = value;
                }
                report.place = Some(edge.place);
                if !report.limit.admits(value) {
                    report.passes = false;
                    report.basis = basis(edge);
                }
            }
        }
        // A fillet that has no room stands for nothing.
        if let (Some(_), Some(misfit)) = (concerned, &edges.misfit) {
            report.passes = false;
            report.place = Some(misfit.edge.place);
            report.basis = Basis::Checked;
        } else if concerned.is_some() && report.passes {
            // Whether the fillet fits was looked at in places only.
            report.basis = Basis::Sampled { places: PLACES };
        }
        report
    }
}

/// An edge that was seen is there; one that is only not excluded was looked at.
fn basis(edge: &Edge) -> Basis {
    if 0.0 < edge.seen {
        Basis::Checked
    } else {
        Basis::Sampled { places: 1 }
    }
}
