//! Seeded series: families over stations, aimed at trouble. Stations are scaled,
//! shifted and, for closed profiles, turned, some by nearly half a turn against
//! their neighbour; some rings come near their axis or reach it.

use crate::compare::table;
use crate::generate::{self, mirrored, moved, shape, turned};
use crate::oracle::Vector;
use crate::oracle::curve::OracleCurve;
use crate::oracle::station::{Joining, Placing, Weighing, least_x, placed};
use crate::random::Random;
use loftkin_form::blend::{Blend, Degree};
use loftkin_form::piece::Arrangement;
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::{Pacing, Placement, Settings, TenthsOfDegree};
use loftkin_kernel::profile::Profile;
use loftkin_kernel::table::Table;
use nalgebra::Point2;

/// Every blend, as the series and as the oracle call it.
pub const BLENDS: [(Blend, Joining); 4] = [
    (Blend::Ruled, Joining::Ruled),
    (Blend::Eased, Joining::Eased),
    (Blend::BSpline(Degree::Two), Joining::BSpline(2)),
    (Blend::BSpline(Degree::Three), Joining::BSpline(3)),
];

/// One family with stations, and the curves that the oracle makes of it.
pub struct Case {
    /// The family with its verdicts.
    pub table: Table,
    /// Where its profiles may stand.
    pub stations: Stations,
    /// Each profile as the oracle draws it.
    pub curves: Vec<OracleCurve>,
}

impl Case {
    /// The case that belongs to `seed`.
    ///
    /// # Panics
    /// Never: what it draws keeps within all ranges.
    pub fn new(seed: u64) -> Self {
        let mut random = Random::new(900 + seed);
        let closed = random.chance(0.6);
        let table = family(&mut random, closed);
        let pacing = table.family().settings.pacing;
        let profiles = table.family().profiles.iter();
        let curves: Vec<_> = profiles
            .map(|profile| OracleCurve::new(profile, pacing))
            .collect();
        let stations = stations(&mut random, closed, &curves);
        Self {
            table,
            stations,
            curves,
        }
    }

    /// What the verdicts depend on besides the profiles.
    pub fn settings(&self) -> &Settings {
        &self.table.family().settings
    }

    /// The judged curves, when every profile has one.
    pub fn judged(&self) -> Option<Vec<&Curve>> {
        let all = 0..self.table.size();
        all.map(|index| self.table.prepared(index).curve().ok())
            .collect()
    }

    /// Profile `profile` as the oracle has it at `station`.
    pub fn at(&self, station: usize, profile: usize) -> OracleCurve {
        let here = &self.stations.all()[station];
        let placing = Placing {
            scale: here.scale,
            turn: here.turn,
            pivot: self.stations.pivot().coords,
            shift: here.shift,
        };
        placed(&self.curves[profile], &placing)
    }

    /// The weights of the stations by `joining`.
    pub fn weighing(&self, joining: Joining) -> Weighing {
        let at: Vec<f64> = self.stations.all().iter().map(|one| one.at).collect();
        Weighing::new(&at, self.stations.is_all_round(), joining)
    }

    /// Any profile at any station, proved or not.
    pub fn random_word(&self, random: &mut Random) -> Arrangement {
        let most = self.table.size() as i32 - 1;
        let count = self.stations.count();
        Arrangement((0..count).map(|_| random.whole(0, most) as usize).collect())
    }
}

/// Shapes like one another, or a pair aimed at trouble and copies of it.
fn family(random: &mut Random, closed: bool) -> Table {
    let troubled = random.chance(0.4).then(|| troubled(random, closed));
    let first = match &troubled {
        Some(case) => case.first.clone(),
        None => shape(random, closed, 10_000.0),
    };
    let size = reach(&first);
    let mut profiles = vec![first.clone()];
    profiles.extend(troubled.map(|case| case.second));
    let count = random.whole(3, 6) as usize;
    while profiles.len() < count {
        let near = profiles[random.whole(0, profiles.len() as i32 - 1) as usize].clone();
        let next = match random.whole(0, 5) {
            0 => shape(random, closed, size),
            1 => {
                let turn = random.between(-180.0, 180.0);
                turned(&near, turn, random.between(0.5, 1.5))
            }
            2 => mirrored(&near),
            _ => moved(random, &near, 0.25 * size),
        };
        profiles.push(next);
    }
    let limits = if random.chance(0.5) {
        (1799, 900)
    } else {
        (900, 300)
    };
    let settings = Settings {
        pacing: if random.chance(0.3) {
            Pacing::Node
        } else {
            Pacing::Parameter
        },
        placement: if random.chance(0.3) {
            Placement::Ring
        } else {
            Placement::Stack
        },
        twist_limit: TenthsOfDegree(limits.0),
        crease_limit: TenthsOfDegree(limits.1),
    };
    table(settings, profiles)
}

/// A pair aimed at trouble, open or closed as wanted.
fn troubled(random: &mut Random, closed: bool) -> generate::Case {
    loop {
        let case = generate::case(random.bits());
        if case.first.closed == closed {
            return case;
        }
    }
}

/// About how large a profile is, in grid steps.
fn reach(profile: &Profile) -> f64 {
    let curve = OracleCurve::new(profile, Pacing::Node);
    let starts = curve.pieces.iter().map(|piece| piece[0]);
    let (low, high) = starts.fold(
        (Vector::repeat(f64::MAX), Vector::repeat(f64::MIN)),
        |ends, at| (ends.0.inf(&at), ends.1.sup(&at)),
    );
    (high - low).max().max(100.0) / 2.0
}

/// Turned stations for closed profiles, some by nearly half a turn against each
/// other; rings in which some profiles come near the axis or reach it.
fn stations(random: &mut Random, closed: bool, curves: &[OracleCurve]) -> Stations {
    let ring = random.chance(0.55);
    let all_round = random.chance(0.5);
    let count = match random.whole(0, 4) {
        0 => 2,
        1 => 24,
        _ => random.whole(3, 9),
    };
    let widest = 359.0 / f64::from(count);
    let pivot = Point2::new(random.between(-50.0, 50.0), random.between(-50.0, 50.0));
    let turns = random.chance(0.6) && closed;
    let usual = random.between(-90.0, 90.0);
    let mut at = random.between(-90.0, 90.0);
    let all = (0..count).map(|_| {
        at += random.between(0.01, widest);
        let turn = match random.whole(0, 5) {
            _ if !turns => 0.0,
            0 => 0.0,
            1 => 90.0,
            2 => usual,
            3 => usual + 179.9,
            4 => 180.0,
            _ => random.between(-180.0, 180.0),
        };
        let scale = random.between(0.3, 2.5);
        let station = Station::at(at).scaled(scale).turned(turn);
        let drawn = Placing {
            scale,
            turn,
            pivot: pivot.coords,
            shift: Vector::zeros(),
        };
        let near = curves[random.whole(0, curves.len() as i32 - 1) as usize].clone();
        let out = if ring {
            let near = least_x(&placed(&near, &drawn)) / 100.0;
            let clearance = [1e-4, 0.1, 30.0, 200.0][random.whole(0, 3) as usize];
            clearance - near
        } else {
            random.between(-50.0, 50.0)
        };
        station.shifted(out, random.between(-80.0, 80.0))
    });
    let all = all.collect();
    let stations = if ring {
        Stations::ring(all, all_round)
    } else {
        Stations::stack(all)
    };
    let stations = stations.expect("stations rise and stay in range");
    stations.about(pivot).expect("the pivot is in range")
}
