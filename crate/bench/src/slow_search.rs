//! How the movement of a mend compares with the least that a slow search finds.
//!
//! The slow search begins at many places by chance, mends from each, and then presses the best with a pattern search
//! that asks nothing but the table: it shares no row and no direction with the mend it is compared with.

use crate::chance::Chance;
use crate::faulty;
use crate::mending::{is_clear, mended, movement};
use loftkin_kernel::family::Family;
use loftkin_kernel::profile::{Node, Outline};

/// How far nodes are strewn to begin at, in mm, taken in turn.
const SPREADS: [f64; 4] = [0.3, 1.0, 3.0, 8.0];

/// How often a node or a profile is drawn back by chance.
const PRESSES: usize = 4000;

/// Movements of one family, as roots of sums of squares in mm.
#[derive(Clone, Copy, Debug)]
pub struct Compared {
    /// Of the mend.
    pub mended: f64,
    /// Of the best mend from any beginning.
    pub restarted: f64,
    /// The least found at all.
    pub least: f64,
}

/// What the slow search, begun `starts` times, found for the family of `seed`; none when the family is not mended.
pub fn compared(seed: u64, starts: usize) -> Option<Compared> {
    let family = faulty::family(seed);
    let mut best = mended(&family, None)?.family;
    let first = movement(&family, &best);
    let mut least = first;
    let mut chance = Chance::new(seed ^ 0x5eed);
    for start in 0..starts {
        let begin = strewn(&family, SPREADS[start % SPREADS.len()], &mut chance);
        if let Some(found) = mended(&family, Some(begin)) {
            let movement = movement(&family, &found.family);
            if movement < least {
                (least, best) = (movement, found.family);
            }
        }
    }
    let pressed = pressed(&family, best, &mut chance);
    Some(Compared {
        mended: first,
        restarted: least,
        least: movement(&family, &pressed),
    })
}

/// The family with every node moved by up to `spread` mm each way.
fn strewn(family: &Family, spread: f64, chance: &mut Chance) -> Family {
    let mut family = family.clone();
    for profile in &mut family.profiles {
        if let Outline::Nodes(nodes) = &mut profile.outline {
            for node in nodes {
                shift(node, [0, 1].map(|_| chance.between(-spread, spread)));
            }
        }
    }
    family
}

/// Draws single nodes about and whole profiles back towards where they were, by chance, as long as that is less movement
/// and the family stays clear.
fn pressed(drawn: &Family, mut mended: Family, chance: &mut Chance) -> Family {
    let mut least = movement(drawn, &mended);
    for _ in 0..PRESSES {
        let tried = drawn_back(drawn, &mended, least * 0.1, chance);
        let movement = movement(drawn, &tried);
        if movement < least && is_clear(&tried) {
            (least, mended) = (movement, tried);
        }
    }
    mended
}

/// One profile of `mended`, or a single node of it, nearer to `drawn` by a share of up to .3; the single node is also
/// swung about by up to `swing` mm.
fn drawn_back(drawn: &Family, mended: &Family, swing: f64, chance: &mut Chance) -> Family {
    let mut tried = mended.clone();
    let which = chance.below(tried.profiles.len());
    let back = chance.between(0.0, 0.3);
    let is_single = chance.below(2) == 0;
    if let (Outline::Nodes(from), Outline::Nodes(nodes)) = (
        &drawn.profiles[which].outline,
        &mut tried.profiles[which].outline,
    ) {
        let only = chance.below(nodes.len());
        for (index, (node, from)) in nodes.iter_mut().zip(from).enumerate() {
            if is_single && index != only {
                continue;
            }
            let mut by = [from.at.x - node.at.x, from.at.y - node.at.y]
                .map(|way| f64::from(way) / 100.0 * back);
            if is_single {
                by = by.map(|by| by + chance.between(-swing, swing));
            }
            shift(node, by);
        }
    }
    tried
}

/// Moves a node right and up by millimetres.
fn shift(node: &mut Node, [right, up]: [f64; 2]) {
    node.at.x += (right * 100.0).round() as i32;
    node.at.y += (up * 100.0).round() as i32;
}
