//! Area, volume and centres of a piece.
//!
//! The volume comes in two ways that share no formula. By sections: the integral
//! of the section's area over the height (for ruled stacks by Simpson's rule,
//! which is exact, the area being quadratic between stations: the prismoidal
//! formula), in a ring of its first moment over the angle (Pappus). By the
//! divergence theorem: a third of the integral of S·n over skin and caps; its
//! integrand is a polynomial on every cell, so it is exact too but for rounding.

use super::cells::{Cell, Sampler, cells, strips};
use super::quadrature::{FOUR, Node, SIX, over};
use super::sections::{Moments, moments, section};
use crate::blend::Blend;
use crate::piece::Piece;
use crate::stations::{Setting, cosine_and_sine};
use nalgebra::{Point3, Vector3};
use std::collections::VecDeque;

/// The most cells that the area may use.
const MOST_CELLS: usize = 20_000;

/// A value with an estimate of how far it may be off.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Estimate {
    /// The value.
    pub value: f64,
    /// Estimated, not proved: the difference to a coarser rule.
    pub error: f64,
}

/// What a piece encloses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Enclosure {
    /// Closed profiles, the first and the last section closed by flat caps.
    Capped,
    /// Closed profiles all round: no caps.
    Round,
    /// Open profiles all round: what lies between the skin and the axis, with
    /// level ends; every section rises on the whole, or every one falls.
    ToAxis,
    /// Open profiles otherwise: a skin that encloses nothing.
    Nothing,
}

/// A volume in mm³, worked out twice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Volume {
    /// By sections.
    pub by_sections: f64,
    /// By the divergence theorem; none to the axis, where both are one formula.
    pub by_divergence: Option<f64>,
}

impl Volume {
    /// How far the two ways differ, relative to the volume.
    pub fn disagreement(&self) -> Option<f64> {
        self.by_divergence
            .map(|other| (other - self.by_sections).abs() / self.by_sections)
    }
}

/// Measures of a piece; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measures {
    /// What it encloses.
    pub enclosure: Enclosure,
    /// The area of the skin, mm².
    pub skin_area: Estimate,
    /// The areas of the first and the last cap, mm².
    pub cap_areas: Option<[f64; 2]>,
    /// The centre of the skin as a thin sheet of even gauge, without caps.
    pub skin_centre: Point3<f64>,
    /// The volume enclosed.
    pub volume: Option<Volume>,
    /// The centre of the solid.
    pub solid_centre: Option<Point3<f64>>,
    /// The integral of the mean curvature over the skin, mm: positive where the
    /// skin bulges outward.
    pub mean_curvature: f64,
    /// The integral of the Gauss curvature over the skin, a number.
    pub gauss_curvature: f64,
    /// The centres of the caps.
    pub cap_centres: Option<[Point3<f64>; 2]>,
}

/// Measures `piece`; the area to about `tolerance`, relative (1e-6 is usual).
pub fn measure(piece: &Piece, tolerance: f64) -> Measures {
    let mut enclosure = match (piece.is_closed_along(), piece.is_closed_across()) {
        (true, true) => Enclosure::Round,
        (true, false) => Enclosure::Capped,
        (false, true) => Enclosure::ToAxis,
        (false, false) => Enclosure::Nothing,
    };
    let skin = Skin::of(piece, tolerance);
    let mut solid = (enclosure != Enclosure::Nothing).then(|| Solid::of(piece));
    if enclosure == Enclosure::ToAxis && solid.is_none_or(|solid| !solid.is_one_sided()) {
        (enclosure, solid) = (Enclosure::Nothing, None);
    }
    let caps = (enclosure == Enclosure::Capped).then(|| [0.0, 1.0].map(|v| cap(piece, v)));
    let flux = caps.map_or(0.0, |[first, last]| cap_flux(piece, first.0, last.0));
    let volume = solid.map(|solid| Volume {
        by_sections: solid.volume.abs(),
        by_divergence: (enclosure != Enclosure::ToAxis)
            .then(|| (skin.sums.flux * piece.outward() + flux) / 3.0),
    });
    Measures {
        enclosure,
        skin_area: Estimate {
            value: skin.sums.area,
            error: skin.error,
        },
        cap_areas: caps.map(|caps| caps.map(|(area, _)| area)),
        cap_centres: caps.map(|caps| caps.map(|(_, centre)| centre)),
        skin_centre: (skin.sums.moment / skin.sums.area).into(),
        solid_centre: solid.map(|solid| (solid.moment / solid.volume).into()),
        volume,
        mean_curvature: skin.sums.mean * piece.outward(),
        gauss_curvature: skin.sums.gauss,
    }
}

/// Sums over a part of the skin.
#[derive(Clone, Copy, Debug, Default)]
struct Sums {
    area: f64,
    moment: Vector3<f64>,
    /// Of S·(S_u × S_v).
    flux: f64,
    /// Of the mean curvature against S_u × S_v: positive where the skin bends
    /// away from it.
    mean: f64,
    gauss: f64,
}

impl Sums {
    fn over(sampler: &mut Sampler, cell: &Cell, rule: &[Node]) -> Self {
        let mut sums = Self::default();
        let (along, across) = (over(rule, cell.along), over(rule, cell.across));
        sampler.visit(along, across, |sample| {
            let patch = &sample.patch;
            let (point, weight) = (patch.point.coords, sample.weight);
            let cross = patch.cross();
            let length = cross.norm();
            sums.area += weight * length;
            sums.moment += point * (weight * length);
            sums.flux += weight * point.dot(&cross);
            if 0.0 < length {
                let (mean, gauss) = patch.curvatures();
                sums.mean -= weight * mean * length;
                sums.gauss += weight * gauss * length;
            }
        });
        sums
    }

    fn add(&mut self, other: &Self) {
        self.area += other.area;
        self.moment += other.moment;
        self.flux += other.flux;
        self.mean += other.mean;
        self.gauss += other.gauss;
    }
}

struct Skin {
    sums: Sums,
    error: f64,
}

impl Skin {
    /// Rules of six and four nodes on every cell; cells where they differ by
    /// more than their share of the tolerance are cut in two, breadth first.
    fn of(piece: &Piece, tolerance: f64) -> Self {
        let mut sampler = Sampler::new(piece);
        let mut open: VecDeque<Judged> = cells(piece)
            .into_iter()
            .map(|cell| Judged::new(&mut sampler, cell))
            .collect();
        let mut skin = Self {
            sums: Sums::default(),
            error: 0.0,
        };
        let total: f64 = open.iter().map(|judged| judged.sums.area).sum();
        let mut used = open.len();
        while let Some(judged) = open.pop_front() {
            // By area, the shares of all cells sum to the tolerance.
            let share = tolerance * judged.sums.area.max(total / MOST_CELLS as f64);
            if judged.error <= share || MOST_CELLS <= used {
                skin.sums.add(&judged.sums);
                skin.error += judged.error;
            } else {
                used += 1;
                let halves = judged.halves(&mut sampler);
                open.extend(halves.map(|cell| Judged::new(&mut sampler, cell)));
            }
        }
        skin
    }
}

/// A cell with its sums and how far a coarser rule is from its area.
struct Judged {
    cell: Cell,
    sums: Sums,
    error: f64,
}

impl Judged {
    fn new(sampler: &mut Sampler, cell: Cell) -> Self {
        let sums = Sums::over(sampler, &cell, &SIX);
        let error = (sums.area - area(sampler, &cell, &FOUR, &FOUR)).abs();
        Self { cell, sums, error }
    }

    /// The halves in the direction in which the coarser rule does worse.
    fn halves(&self, sampler: &mut Sampler) -> [Cell; 2] {
        let along = area(sampler, &self.cell, &FOUR, &SIX) - self.sums.area;
        let across = area(sampler, &self.cell, &SIX, &FOUR) - self.sums.area;
        let cell = self.cell;
        let halve = |(from, to): (f64, f64)| {
            let middle = f64::midpoint(from, to);
            [(from, middle), (middle, to)]
        };
        if across.abs() < along.abs() {
            halve(cell.along).map(|along| Cell { along, ..cell })
        } else {
            halve(cell.across).map(|across| Cell { across, ..cell })
        }
    }
}

fn area(sampler: &mut Sampler, cell: &Cell, along: &[Node], across: &[Node]) -> f64 {
    let mut area = 0.0;
    let (along, across) = (over(along, cell.along), over(across, cell.across));
    sampler.visit(along, across, |sample| {
        area += sample.weight * sample.patch.cross().norm();
    });
    area
}

/// The solid by sections, signed like them.
#[derive(Clone, Copy, Debug)]
struct Solid {
    volume: f64,
    moment: Vector3<f64>,
    /// The least and the largest share of the volume of one section, signed.
    shares: (f64, f64),
}

impl Solid {
    fn of(piece: &Piece) -> Self {
        let layout = piece.layout();
        let mut solid = Self {
            volume: 0.0,
            moment: Vector3::zeros(),
            shares: (f64::INFINITY, f64::NEG_INFINITY),
        };
        for strip in strips(piece) {
            let rule = over(&SIX, strip);
            for (v, weight) in rule {
                let place = layout.across(v).place;
                let inside = moments(&section(piece, v));
                solid.add(piece, place, &inside, weight);
            }
        }
        if layout.blend() == Blend::Ruled && !layout.stations().is_ring() {
            solid.volume = prismoids(piece);
        }
        solid
    }

    fn add_share(&mut self, share: f64, weight: f64) {
        self.volume += weight * share;
        self.shares = (self.shares.0.min(share), self.shares.1.max(share));
    }

    /// Whether no section lies on the other side of the skin than the others, or
    /// is level throughout: sections of both signs would cancel.
    fn is_one_sided(&self) -> bool {
        0.0 < self.shares.0 * self.shares.1
    }

    fn add(&mut self, piece: &Piece, place: [f64; 3], inside: &Moments, weight: f64) {
        match piece.layout().stations().setting() {
            Setting::Stack => {
                let rise = weight * place[1];
                self.add_share(inside.area, rise);
                self.moment += Vector3::new(inside.x, inside.y, inside.area * place[0]) * rise;
            }
            Setting::Ring { .. } => {
                let turn = weight * place[1].to_radians();
                let (cosine, sine) = cosine_and_sine(place[0]);
                self.add_share(inside.x, turn);
                let moment = Vector3::new(inside.xx * cosine, inside.xx * sine, inside.xy);
                self.moment += moment * turn;
            }
        }
    }
}

/// Simpson's rule between every two stations of a ruled stack.
fn prismoids(piece: &Piece) -> f64 {
    let layout = piece.layout();
    let area = |v: f64| moments(&section(piece, v)).area;
    let breaks = piece.breaks_across();
    breaks
        .windows(2)
        .map(|ends| {
            let height = layout.across(ends[1]).place[0] - layout.across(ends[0]).place[0];
            let middle = f64::midpoint(ends[0], ends[1]);
            height * (area(ends[0]) + 4.0 * area(middle) + area(ends[1])) / 6.0
        })
        .sum()
}

/// The area and the centre of the cap at `v`.
fn cap(piece: &Piece, v: f64) -> (f64, Point3<f64>) {
    let inside = moments(&section(piece, v));
    let centre = nalgebra::Point2::new(inside.x / inside.area, inside.y / inside.area);
    let place = piece.layout().across(v).place[0];
    (inside.area.abs(), piece.in_space(centre, place))
}

/// The integral of S·n over both caps: half-planes of a ring hold the origin's
/// axis, so it vanishes there.
fn cap_flux(piece: &Piece, first: f64, last: f64) -> f64 {
    if piece.layout().stations().is_ring() {
        return 0.0;
    }
    let height = |v: f64| piece.layout().across(v).place[0];
    height(1.0) * last - height(0.0) * first
}
