//! How far nodes may move, in words.

use super::figures::{capital, fraction, millimetres, room};
use super::{fault_kind, mending, profile};
use loftkin_kernel::family::{Family, Pacing};
use loftkin_mend::{Broken, ByNode, Move, NodeMargin, Swap};

/// The swaps of corners that are told one by one.
const SWAPS_TOLD: usize = 3;

/// What was found of the nodes of two profiles of `family`, a sentence an entry.
pub fn margin_of_nodes(family: &Family, pair: (usize, usize), found: &NodeMargin) -> Vec<String> {
    let mut lines = vec![format!(
        "The surface as it is: every control point may move by {} at a kept pace; proved. {}",
        room(found.surface_mm),
        super::MARGIN_COVERS
    )];
    lines.push(match (found.proved_mm, family.settings.pacing) {
        (Some(mm), _) => format!(
            "Nodes drawn elsewhere: while each of them moves by up to {} no fold or crossing can come; proved, for by node pace they change no parameter.",
            room(mm)
        ),
        (None, Pacing::Parameter) => {
            "Nodes drawn elsewhere: by parameter pace nothing is proved of them, for they change the pace.".to_owned()
        }
        (None, Pacing::Node) => {
            "Nodes drawn elsewhere: nothing could be proved of them here.".to_owned()
        }
    });
    match &found.broken {
        Some(broken) => lines.extend(broken_by(family, pair, found, broken)),
        None => lines.push(
            "A search found no movement of nodes that breaks the pair; that is no proof."
                .to_owned(),
        ),
    }
    let told = found.swaps.iter().take(SWAPS_TOLD);
    lines.extend(told.map(|swap| swapped(family, pair, swap)));
    if let (false, Some(by_node)) = (found.swaps.is_empty(), &found.by_node) {
        lines.push(paced_by_node(by_node));
    }
    lines
}

fn broken_by(
    family: &Family,
    pair: (usize, usize),
    found: &NodeMargin,
    broken: &Broken,
) -> Vec<String> {
    let of = [pair.0, pair.1];
    let what = match broken.alone {
        Some(which) => format!("{} meets itself", profile(family, of[which])),
        None => format!(
            "a {} stands at {} along",
            fault_kind(broken.fault.kind),
            fraction(broken.fault.place.along)
        ),
    };
    let less = if broken.mm < found.surface_mm {
        "; that is less than the margin of the surface"
    } else {
        ""
    };
    let moves: Vec<Move> = broken
        .moves
        .iter()
        .map(|moved| Move {
            profile: of[moved.profile],
            ..*moved
        })
        .collect();
    let mut lines = vec![format!(
        "The least movement of nodes that a search found to break the pair is {}: {what}; checked{less}. A smaller one is not ruled out.",
        millimetres(broken.mm)
    )];
    lines.extend(
        mending::moves(family, &moves)
            .into_iter()
            .map(|line| format!("It moves {}", mending::uncapital(&line))),
    );
    lines
}

fn swapped(family: &Family, pair: (usize, usize), swap: &Swap) -> String {
    let corner = |index: usize, side: usize| {
        format!(
            "the corner at node {} of {} ({} along)",
            swap.corners[side] + 1,
            profile(family, index),
            fraction(swap.along[side])
        )
    };
    let end = if swap.breaks {
        "and the pair then breaks"
    } else {
        "which broke nothing where it was tried"
    };
    format!(
        "{} and {} lie close along: nodes that move by about {} swap them, {end}.",
        capital(&corner(pair.0, 0)),
        corner(pair.1, 1),
        millimetres(swap.mm)
    )
}

fn paced_by_node(by_node: &ByNode) -> String {
    match (by_node.surface_mm, by_node.proved_mm) {
        (Some(_), Some(mm)) => format!(
            "Paced by node, corners stay with corners: this pair is then free of folds and crossings, proved for nodes that move by up to {}.",
            room(mm)
        ),
        (Some(_), None) => {
            "Paced by node, corners stay with corners, and this pair is proved free of folds and crossings.".to_owned()
        }
        (None, _) => {
            "Paced by node, corners would stay with corners, but this pair is not proved free of folds and crossings then."
                .to_owned()
        }
    }
}
