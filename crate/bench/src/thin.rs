//! Families of very thin outlines, the slowest kinds that are known: nearly everything they do is a near contact.
//!
//! Triangles a hundred millimetres long and a few hundredths high, open hairpins there and back, spirals with many turns.
//! Each outline is turned to a direction of its own, so that pairs come near the half turn.

use crate::chance::Chance;
use libm::{cos, pow, sin};
use loftkin_kernel::family::{Family, TenthsOfDegree};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Profile};
use std::f64::consts::TAU;

/// What the outlines of a family are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Closed, three corners, heights of 0.02 to 1 mm.
    Triangles,
    /// Open, there and back, 0.1 to 4 mm apart.
    Hairpins,
    /// Open, two to three turns, 3 to 6 mm from turn to turn.
    Spirals,
}

/// `count` outlines of one kind; all may twist by up to 179 degrees, and crease by 90, so that their faults are folds and
/// crossings.
pub fn family(kind: Kind, count: usize, seed: u64) -> Family {
    let mut chance = Chance::new(seed ^ 0x7419);
    let outline = match kind {
        Kind::Triangles => triangle,
        Kind::Hairpins => hairpin,
        Kind::Spirals => spiral,
    };
    let mut family = Family {
        profiles: (0..count).map(|_| outline(&mut chance)).collect(),
        ..Family::default()
    };
    family.settings.twist_limit = TenthsOfDegree(1790);
    family.settings.crease_limit = TenthsOfDegree(900);
    family
}

fn triangle(chance: &mut Chance) -> Profile {
    let height = 0.02 * pow(50.0, chance.between(0.0, 1.0));
    let long = chance.between(90.0, 110.0);
    let third = (long * chance.between(0.2, 0.8), height);
    let turned = Turned::by(chance);
    let corners = [(0.0, 0.0), (long, 0.0), third];
    let nodes = corners.map(|(x, y)| turned.node(x - 0.5 * long, y, true));
    Profile::closed(nodes.to_vec())
}

fn hairpin(chance: &mut Chance) -> Profile {
    let wide = 0.1 * pow(40.0, chance.between(0.0, 1.0));
    let long = chance.between(60.0, 110.0);
    let bend = chance.between(-8.0, 8.0);
    let half = long * chance.between(0.4, 0.6);
    let corner = chance.below(2) == 0;
    let turned = Turned::by(chance);
    let nodes = [
        (0.0, 0.0, false),
        (half, bend, false),
        (long, 0.0, corner),
        (long, wide, corner),
        (half, bend + wide, false),
        (0.0, wide * 1.3, false),
    ];
    Profile::open(
        nodes
            .map(|(x, y, corner)| turned.node(x - half, y, corner))
            .to_vec(),
    )
}

fn spiral(chance: &mut Chance) -> Profile {
    let apart = chance.between(3.0, 6.0);
    let turns = chance.between(2.0, 3.0);
    let count = 8 + chance.below(9);
    let turned = Turned::by(chance);
    let nodes = (0..count).map(|node| {
        let turn = turns * node as f64 / (count - 1) as f64;
        let radius = 4.0 + apart * turn;
        turned.node(radius * cos(TAU * turn), radius * sin(TAU * turn), false)
    });
    Profile::open(nodes.collect())
}

/// A direction by chance.
struct Turned {
    cosine: f64,
    sine: f64,
}

impl Turned {
    fn by(chance: &mut Chance) -> Self {
        let angle = chance.between(0.0, TAU);
        Self {
            cosine: cos(angle),
            sine: sin(angle),
        }
    }

    fn node(&self, x: f64, y: f64, corner: bool) -> Node {
        let at = GridPoint::from_mm(
            x * self.cosine - y * self.sine,
            x * self.sine + y * self.cosine,
        );
        Node {
            at: at.expect("the families stay within a metre of the origin"),
            corner,
        }
    }
}
