//! Charge and current that the film takes, by Faraday's law.
//!
//! Q = z F ρ d / M an area: for titanium dioxide z = 4 electrons a molecule, M = 79.87
//! g/mol. All of the charge is counted as film. In a bath a share of it makes oxygen
//! instead, so a supply must give more than is told here.

use super::lift::LiftOut;
use crate::body::cells::{Sampler, cells};
use crate::body::quadrature::{FOUR, over};
use crate::piece::Piece;

/// C/mol, exact by the definition of the ampere and the mole (SI brochure, 9th edition,
/// 2019: 1.602176634e-19 times 6.02214076e23).
const FARADAY: f64 = 96_485.332_12;

/// g/mol of titanium dioxide.
const MOLAR_MASS: f64 = 79.87;

/// Electrons for one molecule of titanium dioxide.
const ELECTRONS: f64 = 4.0;

/// g/cm³ of the film: 3.8 to 3.9, from memory; the denser, the more charge.
const DENSITY: f64 = 3.9;

/// Both faces of the sheet stand in the bath.
const FACES: f64 = 2.0;

/// Parts of a cell each way: levels of height lie close enough for a bath to be read by.
const PARTS: usize = 6;

/// The charge in C that a film of `film` nm takes on each cm².
pub fn charge(film: f64) -> f64 {
    const CM_PER_NM: f64 = 1e-7;
    ELECTRONS * FARADAY * DENSITY * film * CM_PER_NM / MOLAR_MASS
}

/// How much of a skin lies below each height; areas by quadrature, heights by its nodes.
#[derive(Clone, Debug, PartialEq)]
pub struct Wetted {
    /// Height in mm and area in mm² of parts of the skin, from the lowest.
    parts: Vec<(f64, f64)>,
}

/// What the film takes of the supply.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Demand {
    /// The area of both faces of the sheet, cm².
    pub area: f64,
    /// The charge for the first voltage, before the lift, C.
    pub first: f64,
    /// The charge for the whole finish, C.
    pub whole: f64,
    /// The current for the first voltage when it rises as fast as the supply may, A; none
    /// without such a limit.
    pub first_current: Option<f64>,
    /// The most current while the piece is lifted, A.
    pub current: f64,
    /// The height of the piece at the surface of the bath then, mm as it is drawn.
    pub at: f64,
}

impl Wetted {
    /// Of the skin of `piece`.
    pub fn of(piece: &Piece) -> Self {
        let mut parts = Vec::new();
        let mut sampler = Sampler::new(piece);
        let share = |(from, to): (f64, f64), part: usize| {
            let at = |part: usize| from + (to - from) * part as f64 / PARTS as f64;
            (at(part), at(part + 1))
        };
        for (cell, part) in cells(piece)
            .iter()
            .flat_map(|cell| (0..PARTS * PARTS).map(move |part| (cell, part)))
        {
            let along = over(&FOUR, share(cell.along, part % PARTS));
            let across = over(&FOUR, share(cell.across, part / PARTS));
            sampler.visit(along, across, |sample| {
                let area = sample.patch.along.cross(&sample.patch.across).norm();
                parts.push((sample.patch.point.z, area * sample.weight));
            });
        }
        parts.sort_by(|one, other| one.0.total_cmp(&other.0));
        Self { parts }
    }

    /// The area in mm² of what `is_in` the bath, by its height.
    fn area(&self, is_in: impl Fn(f64) -> bool) -> f64 {
        let wet = self.parts.iter().filter(|(height, _)| is_in(*height));
        wet.map(|(_, area)| area).sum()
    }
}

/// What `lift` takes of the supply for the skin `wetted`: by the fastest growth that the
/// calibration allows.
pub fn demand(lift: &LiftOut, wetted: &Wetted) -> Demand {
    const CM2_PER_MM2: f64 = 0.01;
    let area = |is_in: &dyn Fn(f64) -> bool| FACES * CM2_PER_MM2 * wetted.area(is_in);
    let calibration = &lift.bath().calibration;
    let fastest = calibration.range.1;
    let whole_area = area(&|_| true);
    let first_volts = lift.volts(lift.ends().0);
    let film_charge = |volts: f64| charge(fastest * volts);
    let whole = wetted
        .parts
        .iter()
        .map(|&(height, mm2)| FACES * CM2_PER_MM2 * mm2 * film_charge(lift.volts(height)))
        .sum();
    // Between two stops the rise is constant and ever less is in the bath: the most is at a
    // stop.
    let mut most = (0.0, lift.ends().0);
    for (height, rise) in lift.rises() {
        let current = area(&|part| !lift.leaves_before(part, height)) * charge(fastest * rise);
        if most.0 < current {
            most = (current, height);
        }
    }
    Demand {
        area: whole_area,
        first: whole_area * film_charge(first_volts),
        whole,
        first_current: lift
            .bath()
            .supply
            .rise
            .map(|rise| whole_area * charge(fastest * rise)),
        current: most.0,
        at: most.1,
    }
}
