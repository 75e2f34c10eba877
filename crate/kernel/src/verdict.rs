//! Verdicts, faults, doubts: what the proof has to say about one pair.
//!
//! Plain data without a wire format; the faces dress it. Lengths are mm,
//! angles degrees, fractions along (u, w) and across (v) lie in \[0, 1\].

pub use crate::finding::chord_rate;
use crate::profile::ProfileError;
use nalgebra::Point2;

/// The three verdicts; *unproven* is never shown as clear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// Proved free of every fault.
    Clear,
    /// At least one fault with a checked witness.
    Faulty,
    /// Neither: closer than the tolerance, or not judged, for a stated reason.
    Unproven,
}

/// The kinds of fault, worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FaultKind {
    /// The surface has a singular point: a section's tangent vanishes.
    Fold,
    /// Two places of the skin touch.
    Crossing,
    /// A section reaches the axis of the ring.
    Axis,
    /// The tangents at like points differ by more than the twist limit.
    Twist,
    /// A section breaks at a smooth joint by more than the crease limit.
    Crease,
}

/// A place on a loft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Fraction along the profiles.
    pub along: f64,
    /// The other fraction along, where two places meet; else equal to `along`.
    pub other_along: f64,
    /// Fraction across, from the first profile (0) to the second (1).
    pub across: f64,
    /// The point of the section, in the plane of the drawing, in mm.
    pub point: Point2<f64>,
}

/// A fault with its witness: the place was checked, not sampled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fault {
    /// What is wrong.
    pub kind: FaultKind,
    /// Where: the witness.
    pub place: Place,
    /// How much, in degrees: the twist or crease; between the two strands of a
    /// crossing; 180 for a fold; 0 for the axis.
    pub angle: f64,
}

/// Why a pair is unproven.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doubt {
    /// Closer to a fault than the tolerance, and no fault proved.
    Contact {
        /// Where it comes closest, as far as looked.
        place: Place,
        /// How close, in mm (an estimate).
        gap: f64,
    },
    /// Closer to a limit that the person set (twist, crease) or to the axis of
    /// the ring than the tolerance.
    AtLimit {
        /// Which fault it would be.
        kind: FaultKind,
        /// Where.
        place: Place,
    },
    /// The allowed work was used up.
    Limit {
        /// A place that was left open.
        place: Place,
    },
    /// One of the two profiles is itself not proved simple.
    ProfileNotSimple {
        /// Its index in the family, from 0.
        profile: usize,
    },
    /// One of the two profiles cannot be judged as drawn.
    ProfileInvalid {
        /// Its index in the family, from 0.
        profile: usize,
        /// What is wrong with it.
        error: ProfileError,
    },
    /// Paced by node, but the numbers of spans differ.
    CountsDiffer {
        /// Spans of the first profile.
        first: usize,
        /// Spans of the second profile.
        second: usize,
    },
}

/// What is known of one pair (or of one profile with itself).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judgement {
    /// The summary.
    pub verdict: Verdict,
    /// The first fault found of each sort: fold or crossing, axis, twist, crease.
    faults: [Option<Fault>; 4],
    /// Why it is unproven, if it is, or what else stayed open beside a fault.
    pub doubt: Option<Doubt>,
    /// How many boxes the proof looked at.
    pub boxes: u32,
}

impl Judgement {
    /// A judgement from its parts: faulty with any fault, else unproven with a
    /// doubt, else clear.
    pub fn new(faults: [Option<Fault>; 4], doubt: Option<Doubt>, boxes: u32) -> Self {
        let verdict = if faults.iter().any(Option::is_some) {
            Verdict::Faulty
        } else if doubt.is_some() {
            Verdict::Unproven
        } else {
            Verdict::Clear
        };
        Self {
            verdict,
            faults,
            doubt,
            boxes,
        }
    }

    /// Unproven for `doubt`, without any work done.
    pub fn doubtful(doubt: Doubt) -> Self {
        Self::new([None; 4], Some(doubt), 0)
    }

    /// The faults found, the worst first.
    pub fn faults(&self) -> impl Iterator<Item = &Fault> {
        self.faults.iter().flatten()
    }

    /// Whether this judgement of one profile proves it free of self-contact
    /// (it may still reach the axis).
    pub fn is_simple(&self) -> bool {
        self.doubt.is_none() && self.faults[0].is_none()
    }

    /// Whether it is proved free of folds and crossings, whatever else.
    pub fn is_free(&self) -> bool {
        let is_limit = |doubt: Doubt| matches!(doubt, Doubt::AtLimit { .. });
        self.faults[0].is_none() && self.doubt.is_none_or(is_limit) && 0 < self.boxes
    }

    /// Whether it is proved clear.
    pub fn is_clear(&self) -> bool {
        self.verdict == Verdict::Clear
    }

    /// The worst fault, if any.
    pub fn worst(&self) -> Option<&Fault> {
        self.faults().next()
    }
}

/// A point of the double curve: the section at `across` meets itself there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Fraction along of the one strand.
    pub along: f64,
    /// Fraction along of the other strand; equal at a fold.
    pub other_along: f64,
    /// Fraction across.
    pub across: f64,
    /// The point in the plane of the drawing, in mm.
    pub point: Point2<f64>,
}

/// One connected region of a fault: refined boxes that could not be excluded.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    /// What is wrong there: a region that reaches the diagonal is a fold.
    pub kind: FaultKind,
    /// The faulty fractions across, from and to.
    pub across: (f64, f64),
    /// The fractions along that it touches, lowest and highest.
    pub along: (f64, f64),
    /// The double curve as polylines in (u, w, v); empty for twist and crease.
    pub curves: Vec<Vec<Contact>>,
    /// The worst place of it.
    pub place: Place,
    /// The worst angle, as in [`Fault::angle`].
    pub angle: f64,
}

/// How true the tooling must be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    /// A proved lower bound, in mm, on how far every control point may move at
    /// a kept pace with the pair still free of folds and crossings. It covers
    /// tooling; nodes drawn elsewhere change the curve, and by parameter pace
    /// where its points are along.
    pub mm: f64,
    /// Where it is smallest.
    pub place: Place,
}

/// A change that costs nothing, proved to make the pair clear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Remedy {
    /// Run through `profile` (index in the family) the other way.
    Reverse {
        /// Index in the family.
        profile: usize,
    },
    /// Move the seam of `profile` to `node`.
    MoveSeam {
        /// Index in the family.
        profile: usize,
        /// The node (from 0) that becomes the first.
        node: usize,
    },
    /// Pace the family by the other rule.
    SwapPacing,
}

/// A remedy with what it does to all pairs of the family.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hint {
    /// What to do.
    pub remedy: Remedy,
    /// Pairs not clear now that become clear.
    pub mends: usize,
    /// Pairs clear now that would not be.
    pub breaks: usize,
}

/// Everything to say about one pair, worked out when it is selected.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The verdict that the table shows.
    pub judgement: Judgement,
    /// All faulty regions, the worst first.
    pub regions: Vec<Region>,
    /// Whether `regions` is known to hold every region (the work sufficed).
    pub complete: bool,
    /// For a pair free of folds and crossings: its margin.
    pub margin: Option<Margin>,
    /// For a pair that folds or crosses: a proved lower bound, in mm, on how
    /// far control points must move before it can be clear.
    pub shortfall: Option<f64>,
    /// The largest twist in degrees and the fraction along where it stands
    /// (an estimate; the limit itself is proved).
    pub twist: (f64, f64),
    /// Remedies that cost nothing and were proved to work.
    pub hints: Vec<Hint>,
}

/// Whether every blend of a set of profiles is free of folds and crossings:
/// ruled, eased or B-spline stacks of any length and order.
#[derive(Clone, Debug, PartialEq)]
pub enum AnyBlend {
    /// Proved for all weights that are not negative.
    Proved,
    /// A blend of two or three profiles meets itself: checked.
    Refuted(BadBlend),
    /// Neither proved nor refuted, near this place.
    Unproven {
        /// The lower fraction along.
        along: f64,
        /// The higher one; the same for a fold.
        other_along: f64,
    },
    /// A profile cannot be judged or is not proved simple itself.
    ProfileFirst {
        /// Its index in the family, from 0.
        profile: usize,
    },
    /// Paced by node, but the numbers of spans differ.
    CountsDiffer,
}

/// A blend that meets itself.
#[derive(Clone, Debug, PartialEq)]
pub struct BadBlend {
    /// Two or three indices in the family, from 0.
    pub profiles: Vec<usize>,
    /// Their weights, of sum one, in the same order.
    pub weights: Vec<f64>,
    /// The lower fraction along.
    pub along: f64,
    /// The higher one; the same for a fold.
    pub other_along: f64,
    /// The point of the blend, in the plane of the drawing, in mm.
    pub point: Point2<f64>,
}

impl BadBlend {
    /// A fold when one place, a crossing when two places meet.
    pub fn kind(&self) -> FaultKind {
        if self.along == self.other_along {
            FaultKind::Fold
        } else {
            FaultKind::Crossing
        }
    }
}
