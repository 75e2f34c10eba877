//! Mending: the least movement of nodes after which the proof holds.
//!
//! A change that costs nothing is tried first (reverse, seam, pacing). Then
//! nodes move: the weighted sum of squares of their movements is made least
//! under rows that are linear in them (`clearance` says what a row is), in rounds of convex quadratic programs. Whatever the rounds come to
//! is rounded to the grid and judged by [`Table`]; only what it proves is
//! called a mend. The rounds themselves are estimates.
//!
//! In reading order: `request` (what is asked and answered), `freedom` (what
//! may move), `response` (how curves answer), `clearance`, `unwrap` and `field`
//! (where a pair falls short), `rows` and `holds` (wishes as linear rows), `program`
//! (one quadratic program), `rounds`, `remedies`.
//!
//! A crate of its own, because the solver brings a stop watch that reaches for
//! the web in WebAssembly, which the kernel never does.

#![forbid(unsafe_code)]

mod clearance;
mod field;
mod freedom;
mod holds;
mod outcome;
mod program;
mod remedies;
mod request;
mod response;
mod rounds;
mod rows;
mod unwrap;

pub use remedies::changed;
pub use request::{
    Approach, END_TURN_DEGREES, EXTENT_MM, Hindrance, Mended, Move, MovedPoint, Outcome, Progress,
    Request, RequestError, Target,
};

use freedom::{Freedom, moves};
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Doubt, Verdict};
use rounds::{Ended, InPlay, Rounds};
use std::ops::ControlFlow;

/// Mends `family` as `request` asks. `progress` is told before each round and
/// may break off.
///
/// # Errors
/// A [`RequestError`] when the request names what is not there or is no length.
pub fn mend(
    family: &Family,
    request: &Request,
    progress: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Result<Outcome, RequestError> {
    let mut table = Table::new(family.clone())?;
    check(family, request)?;
    let targets = targets(family, &request.target);
    let open = open_pairs(&table, &targets, request.margin_mm);
    if open.is_empty() {
        return Ok(Outcome::AlreadyClear);
    }
    if let Some(hindrance) = hindrance(&table, &open) {
        return Ok(not_found(family, hindrance, open));
    }
    if request.remedies_first
        && let Some(hint) = remedies::remedy(&mut table, &targets, &open)
    {
        return Ok(Outcome::Remedy(hint));
    }
    let active = active(family, request, &open);
    let freedom = Freedom::new(family, request, &active);
    if freedom.knobs.is_empty() {
        return Ok(not_found(family, Hindrance::NothingMayMove, open));
    }
    let in_play = in_play(&table, &targets, &active);
    let start = request
        .begin_at
        .as_ref()
        .map_or(vec![0.0; freedom.knobs.len()], |at| freedom.setting_of(at));
    let mut rounds = Rounds::new(&freedom, request, table, active.clone(), in_play);
    let ended = rounds.run(start, progress);
    Ok(finished(&freedom, request, &open, ended, &active))
}

fn finished(
    freedom: &Freedom,
    request: &Request,
    open: &[(usize, usize)],
    ended: Ended,
    active: &[usize],
) -> Outcome {
    if ended.cancelled {
        return Outcome::Cancelled;
    }
    let before = &freedom.drawn;
    let Some(best) = ended.best else {
        let family = freedom.family(&ended.nearest);
        let targets = targets(before, &request.target);
        let open_pairs = Table::new(family.clone()).map_or_else(
            |_| open.to_vec(),
            |table| open_pairs(&table, &targets, request.margin_mm),
        );
        return Outcome::NotFound(Box::new(Approach {
            hindrance: Hindrance::RoundsUsedUp,
            moves: moves(before, &family),
            family,
            open_pairs,
            rounds: ended.rounds,
        }));
    };
    let moves = moves(before, &best.family);
    let nodes = active
        .iter()
        .map(|&index| before.profiles[index].node_count())
        .sum();
    Outcome::Moved(Box::new(Mended {
        largest_mm: outcome::farthest_mm(&moves),
        rms_mm: outcome::rms_mm(&moves, nodes),
        moves,
        family: best.family,
        pairs_mended: open.to_vec(),
        pairs_broken: Vec::new(),
        margin_mm: best.margin,
        rounds: ended.rounds,
    }))
}

fn not_found(family: &Family, hindrance: Hindrance, open_pairs: Vec<(usize, usize)>) -> Outcome {
    Outcome::NotFound(Box::new(Approach {
        hindrance,
        family: family.clone(),
        moves: Vec::new(),
        open_pairs,
        rounds: 0,
    }))
}

fn check(family: &Family, request: &Request) -> Result<(), RequestError> {
    let count = family.profiles.len();
    let known = |profile: usize| {
        if profile < count {
            Ok(())
        } else {
            Err(RequestError::NoSuchProfile { profile, count })
        }
    };
    let named = match &request.target {
        Target::Pair(one, other) => vec![(*one, *other)],
        Target::Pairs(pairs) => pairs.clone(),
        Target::All => Vec::new(),
    };
    for (one, other) in named {
        known(one)?;
        known(other)?;
        if one == other {
            return Err(RequestError::SameProfile { profile: one });
        }
    }
    for &profile in request.movable.iter().flatten() {
        known(profile)?;
    }
    for &(profile, node) in &request.pinned {
        known(profile)?;
        let count = family.profiles[profile].node_count();
        if count <= node {
            return Err(RequestError::NoSuchNode {
                profile,
                node,
                count,
            });
        }
    }
    if !(request.margin_mm.is_finite() && 0.0 <= request.margin_mm) {
        return Err(RequestError::Margin {
            mm: request.margin_mm,
        });
    }
    if let Some(beginning) = &request.begin_at
        && !freedom::alike(family, beginning)
    {
        return Err(RequestError::OtherBeginning);
    }
    let sound = |weight: &f64| weight.is_finite() && 0.0 < *weight;
    match request.weights.iter().find(|weight| !sound(weight)) {
        Some(&weight) => Err(RequestError::Weight { weight }),
        None => Ok(()),
    }
}

/// The target pairs, the lower index first, each once.
fn targets(family: &Family, target: &Target) -> Vec<(usize, usize)> {
    let count = family.profiles.len();
    let mut pairs = match target {
        Target::Pair(one, other) => vec![(*one, *other)],
        Target::Pairs(pairs) => pairs.clone(),
        Target::All => (0..count)
            .flat_map(|high| (0..high).map(move |low| (low, high)))
            .collect(),
    };
    for pair in &mut pairs {
        *pair = (pair.0.min(pair.1), pair.0.max(pair.1));
    }
    pairs.sort_unstable();
    pairs.dedup();
    pairs
}

/// Targets that are not clear, or clear by less than `margin_mm`.
fn open_pairs(table: &Table, targets: &[(usize, usize)], margin_mm: f64) -> Vec<(usize, usize)> {
    let falls_short = |low: usize, high: usize| {
        0.0 < margin_mm
            && table
                .margin(low, high)
                .is_none_or(|margin| margin.mm < margin_mm)
    };
    let is_open = |&(low, high): &(usize, usize)| {
        table.cell(low, high).verdict != Verdict::Clear || falls_short(low, high)
    };
    targets.iter().copied().filter(is_open).collect()
}

/// What moving nodes cannot help against.
fn hindrance(table: &Table, open: &[(usize, usize)]) -> Option<Hindrance> {
    open.iter()
        .find_map(|&pair| match table.cell(pair.0, pair.1).doubt {
            Some(Doubt::ProfileInvalid { profile, error }) => {
                Some(Hindrance::ProfileInvalid { profile, error })
            }
            Some(Doubt::CountsDiffer { .. }) => Some(Hindrance::CountsDiffer { pair }),
            _ => None,
        })
}

/// The profiles that move: those of open pairs that may.
fn active(family: &Family, request: &Request, open: &[(usize, usize)]) -> Vec<usize> {
    (0..family.profiles.len())
        .filter(|index| open.iter().any(|pair| pair.0 == *index || pair.1 == *index))
        .filter(|index| {
            let movable = request.movable.as_ref();
            movable.is_none_or(|movable| movable.contains(index))
        })
        .collect()
}

/// The pairs to look after: targets, and clear pairs of what moves.
fn in_play(table: &Table, targets: &[(usize, usize)], active: &[usize]) -> Vec<InPlay> {
    let mut in_play = Vec::new();
    for high in 0..table.size() {
        for low in 0..high {
            let pair = (low, high);
            let moves = active.contains(&low) || active.contains(&high);
            let is_target = targets.contains(&pair);
            let clear = table.cell(low, high).verdict == Verdict::Clear;
            if moves && (is_target || clear) {
                in_play.push(InPlay { pair, is_target });
            }
        }
    }
    in_play
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Settings;
    use loftkin_kernel::profile::{Node, Profile};

    fn arch(points: [(i32, i32); 5]) -> Profile {
        Profile::open(points.map(|(x, y)| Node::smooth(x, y)).to_vec())
    }

    /// Two arches; the second leans so far that it twists beyond the limit.
    fn faulty() -> Family {
        Family {
            profiles: vec![
                arch([(0, 0), (1500, 3000), (4000, 4200), (6500, 3000), (8000, 0)]),
                arch([(0, 0), (4500, 2500), (3000, 4500), (6800, 3200), (8000, 0)]),
                arch([(0, 0), (1400, 2800), (4100, 4000), (6400, 2900), (8000, 0)]),
            ],
            settings: Settings::default(),
            ..Family::default()
        }
    }

    fn go(family: &Family, request: &Request) -> Outcome {
        mend(family, request, &mut |_| ControlFlow::Continue(())).unwrap()
    }

    fn moved(request: &Request) -> Mended {
        match go(&faulty(), request) {
            Outcome::Moved(mended) => *mended,
            other => panic!("{other:?}"),
        }
    }

    fn request() -> Request {
        Request {
            remedies_first: false,
            ..Request::new(Target::All)
        }
    }

    #[test]
    fn a_mended_family_is_proved() {
        let before = Table::new(faulty()).unwrap();
        assert_eq!(before.verdict(), Verdict::Faulty);
        let mended = moved(&request());
        let after = Table::new(mended.family).unwrap();
        assert_eq!(after.verdict(), Verdict::Clear);
        assert!(0.0 < mended.largest_mm && !mended.moves.is_empty());
    }

    #[test]
    fn a_clear_family_moves_nothing() {
        let mut family = faulty();
        family.profiles.remove(1);
        assert_eq!(go(&family, &request()), Outcome::AlreadyClear);
    }

    #[test]
    fn pinned_nodes_and_held_profiles_stay() {
        let request = Request {
            movable: Some(vec![1]),
            pinned: vec![(1, 2)],
            keep_ends: true,
            ..request()
        };
        let mended = moved(&request);
        for moved in &mended.moves {
            assert_eq!(moved.profile, 1);
            assert!(matches!(moved.point, MovedPoint::Node(1 | 3)), "{moved:?}");
        }
    }

    #[test]
    fn height_and_width_are_kept() {
        let request = Request {
            keep_height: true,
            keep_width: true,
            ..request()
        };
        let mended = moved(&request);
        let pacing = faulty().settings.pacing;
        for (old, new) in faulty().profiles.iter().zip(&mended.family.profiles) {
            let curve = |profile| loftkin_kernel::curve::Curve::new(profile, pacing).unwrap();
            assert!(holds::keeps(&curve(new), &curve(old), &request));
        }
    }

    #[test]
    fn the_margin_asked_for_is_proved() {
        let request = Request {
            margin_mm: 0.2,
            ..request()
        };
        let mended = moved(&request);
        assert!(0.2 <= mended.margin_mm.unwrap());
    }

    #[test]
    fn nothing_that_may_move_is_no_mend() {
        let request = Request {
            pinned: (0..15).map(|k| (k / 5, k % 5)).collect(),
            ..request()
        };
        let Outcome::NotFound(approach) = go(&faulty(), &request) else {
            panic!("nothing may move")
        };
        assert_eq!(approach.hindrance, Hindrance::NothingMayMove);
    }

    #[test]
    fn the_caller_may_stop_it() {
        let outcome = mend(&faulty(), &request(), &mut |_| ControlFlow::Break(()));
        assert_eq!(outcome.unwrap(), Outcome::Cancelled);
    }
}
