//! What is asked of a mend, and what comes back. Plain data; lengths are mm.

use loftkin_kernel::family::{Family, FamilyError};
use loftkin_kernel::profile::ProfileError;
use loftkin_kernel::verdict::{BadBlend, Hint};
use std::fmt;
use thiserror::Error;

/// What is to be clear. Indices count from 0, in either order. The profiles of
/// the pairs are to be clear themselves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// One pair.
    Pair(usize, usize),
    /// Some pairs.
    Pairs(Vec<(usize, usize)>),
    /// Every pair of the family.
    All,
    /// Every pair of the family, and beyond that any blend of all profiles is to
    /// be free of folds and crossings.
    AnyBlend,
}

/// What may move, and what must hold afterwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Request {
    /// The pairs to be clear.
    pub target: Target,
    /// The margin that every target pair must be proved to have, in mm; at 0
    /// it is enough that they are clear, and clear pairs move nothing. It is
    /// asked of pairs, not of blends of three and more.
    pub margin_mm: f64,
    /// Whether a change that costs nothing (reverse, seam, pacing) is offered
    /// before any node is moved.
    pub remedies_first: bool,
    /// The profiles that may move (from 0); none named: all of them.
    pub movable: Option<Vec<usize>>,
    /// Nodes that stay where they are, as (profile, node), both from 0; of an
    /// exact path the joints, each with its handles.
    pub pinned: Vec<(usize, usize)>,
    /// Where to begin, as the same family with nodes elsewhere (something tried
    /// by hand, for instance); movement counts from the family given.
    pub begin_at: Option<Family>,
    /// How dear it is to move each profile, above 0; profiles not reached by
    /// this list count 1. What is made least is the sum of weight times
    /// distance squared over all nodes.
    pub weights: Vec<f64>,
    /// First and last nodes of open profiles stay.
    pub keep_ends: bool,
    /// Open profiles keep the directions of their ends, to within
    /// [`END_TURN_DEGREES`] (nodes stand on a grid).
    pub keep_end_tangents: bool,
    /// Every profile keeps its total height, to within [`EXTENT_MM`].
    pub keep_height: bool,
    /// Every profile keeps its total width, to within [`EXTENT_MM`].
    pub keep_width: bool,
    /// Whether a profile that has a part in all that is not as asked moves alone,
    /// where that is enough, and all share the movement only where it is not.
    pub blame_first: bool,
}

/// How far a kept direction of an end may turn, in degrees.
pub const END_TURN_DEGREES: f64 = 0.5;

/// How far a kept height or width may be off, in mm.
pub const EXTENT_MM: f64 = 0.05;

impl Request {
    /// Mend `target`, free remedies first, with no more than clear
    /// asked for and nothing held.
    pub fn new(target: Target) -> Self {
        Self {
            target,
            margin_mm: 0.0,
            remedies_first: true,
            movable: None,
            pinned: Vec::new(),
            begin_at: None,
            weights: Vec::new(),
            keep_ends: false,
            keep_end_tangents: false,
            keep_height: false,
            keep_width: false,
            blame_first: false,
        }
    }

    /// Whether profile `index` may move.
    pub(crate) fn may_move(&self, index: usize) -> bool {
        let movable = self.movable.as_ref();
        movable.is_none_or(|movable| movable.contains(&index))
    }
}

/// Why a request cannot be taken up. Positions are shown from 1.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum RequestError {
    /// The family itself is not well formed.
    #[error(transparent)]
    Family(#[from] FamilyError),
    /// A profile that does not exist.
    #[error("there is no profile {}: the family has {count}", .profile + 1)]
    NoSuchProfile {
        /// The profile asked for, from 0.
        profile: usize,
        /// How many there are.
        count: usize,
    },
    /// A node that does not exist.
    #[error("profile {} has no node {}: it has {count}", .profile + 1, .node + 1)]
    NoSuchNode {
        /// The profile, from 0.
        profile: usize,
        /// The node asked for, from 0.
        node: usize,
        /// How many there are.
        count: usize,
    },
    /// A pair of a profile with itself.
    #[error("a pair needs two profiles, not profile {} twice", .profile + 1)]
    SameProfile {
        /// The profile, from 0.
        profile: usize,
    },
    /// A margin that is not a length.
    #[error("a margin of {mm} mm: give 0 or a positive length")]
    Margin {
        /// What was asked for.
        mm: f64,
    },
    /// A beginning that is not the same family with nodes elsewhere.
    #[error("the family to begin at is another one: it must have the same profiles and nodes")]
    OtherBeginning,
    /// A weight that is not above zero.
    #[error("a weight of {weight}: give a number above 0")]
    Weight {
        /// What was asked for.
        weight: f64,
    },
}

/// How far the work has come, told before each round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// The round about to begin, from 1.
    pub round: usize,
    /// The most rounds there will be.
    pub most_rounds: usize,
    /// Target pairs, and target profiles themselves, that are not yet as asked.
    pub open_pairs: usize,
    /// The best mend so far moves its farthest node so far, in mm.
    pub best_mm: Option<f64>,
}

/// One node, joint or handle that moved. Positions are from 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    /// The profile.
    pub profile: usize,
    /// Which of its points.
    pub point: MovedPoint,
    /// Where it was, x and y in mm.
    pub from_mm: (f64, f64),
    /// How far to the right, in mm.
    pub right_mm: f64,
    /// How far up, in mm.
    pub up_mm: f64,
}

/// A point of a profile's outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MovedPoint {
    /// A node, or a joint of an exact path.
    Node(usize),
    /// The handle at the start of a span of an exact path.
    FirstHandle(usize),
    /// The handle at the end of a span of an exact path.
    SecondHandle(usize),
}

/// A family whose targets were proved to be as asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Mended {
    /// The family after the moves, on the grid.
    pub family: Family,
    /// What moved.
    pub moves: Vec<Move>,
    /// The profiles to which the movement was left because they have a part in all
    /// that was not as asked; empty where all that may move share it.
    pub blamed: Vec<usize>,
    /// The farthest any node moved, in mm.
    pub largest_mm: f64,
    /// The root of the mean square over the nodes of all profiles that may
    /// move, in mm.
    pub rms_mm: f64,
    /// Target pairs that were not clear before.
    pub pairs_mended: Vec<(usize, usize)>,
    /// Profiles that were not clear themselves before.
    pub profiles_mended: Vec<usize>,
    /// Whether any blend of all profiles is proved to be free: true exactly
    /// when the target was [`Target::AnyBlend`].
    pub any_blend: bool,
    /// Pairs beyond the target that were clear and are not any more; empty
    /// unless no way was found that keeps them.
    pub pairs_broken: Vec<(usize, usize)>,
    /// What is proved to be a margin of all target pairs, in mm; none when it
    /// was not asked for.
    pub margin_mm: Option<f64>,
    /// How many rounds it took.
    pub rounds: usize,
}

/// Why no mend was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hindrance {
    /// The rounds were used up; the nearest approach is given.
    RoundsUsedUp,
    /// Nothing that may move has any part in the fault.
    NothingMayMove,
    /// A pair that is not as asked, or a profile (the same twice), of which no
    /// node may move; all else was mended as far as it could be.
    OutOfReach {
        /// The first of them, from 0.
        pair: (usize, usize),
    },
    /// A profile meets itself and may not move, or no way was found to draw it
    /// out.
    ProfileMeetsItself {
        /// Its index, from 0.
        profile: usize,
    },
    /// A profile cannot be judged as drawn: moving nodes is no answer to that.
    ProfileInvalid {
        /// Its index, from 0.
        profile: usize,
        /// What is wrong with it.
        error: ProfileError,
    },
    /// Paced by node, and the numbers of spans differ.
    CountsDiffer {
        /// The pair, from 0.
        pair: (usize, usize),
    },
}

impl fmt::Display for Hindrance {
    /// One sentence; positions are shown from 1.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::RoundsUsedUp => write!(out, "no mend was found in the rounds allowed"),
            Self::NothingMayMove => {
                write!(out, "nothing that may move has a part in the fault")
            }
            Self::OutOfReach { pair: (one, other) } if one == other => {
                write!(out, "profile {} is not clear and may not move", one + 1)
            }
            Self::OutOfReach { pair } => write!(
                out,
                "profiles {} and {} are not as asked, and neither may move",
                pair.0 + 1,
                pair.1 + 1
            ),
            Self::ProfileMeetsItself { profile } => write!(
                out,
                "profile {} meets itself and was not freed: draw it so that it does not",
                profile + 1
            ),
            Self::ProfileInvalid { profile, error } => {
                write!(out, "profile {} cannot be judged: {error}", profile + 1)
            }
            Self::CountsDiffer { pair } => write!(
                out,
                "profiles {} and {} are paced by node and have different numbers of spans: \
                 pace them by the parameter or give both as many nodes",
                pair.0 + 1,
                pair.1 + 1
            ),
        }
    }
}

/// The nearest that was reached without success: it is not clear.
#[derive(Clone, Debug, PartialEq)]
pub struct Approach {
    /// Why it ended.
    pub hindrance: Hindrance,
    /// The family at its nearest; as given, when nothing came nearer.
    pub family: Family,
    /// What moved to get there.
    pub moves: Vec<Move>,
    /// Target pairs that are still not as asked.
    pub open_pairs: Vec<(usize, usize)>,
    /// Target profiles that are still not clear themselves.
    pub open_profiles: Vec<usize>,
    /// The blend that still meets itself, where any blend was asked for and one
    /// is known.
    pub bad_blend: Option<BadBlend>,
    /// How many rounds were tried.
    pub rounds: usize,
}

/// How a mend ended.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// Every target is clear, with the margin asked for: nothing moves.
    AlreadyClear,
    /// A change that costs nothing was proved to make every target clear.
    Remedy(Hint),
    /// Moved, and proved.
    Moved(Box<Mended>),
    /// No mend was found: never to be read as one.
    NotFound(Box<Approach>),
    /// Stopped by the caller.
    Cancelled,
}
