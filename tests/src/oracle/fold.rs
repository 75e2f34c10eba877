//! Folds: places where the tangents of the two profiles turn through exact
//! opposition, so that a section between them has none.
//!
//! At a joint the tangent turns from the one side's to the other's: its cone
//! is swept as well. A claimed fold is confirmed when the tangents turn through
//! opposition near the claimed place and a section beside it crosses itself.

use super::confirm::{TRUE_CONTACT, TRUE_PLACE, refine};
use super::pair::OraclePair;
use super::{Vector, cross};

/// A loop whose ends are farther than this from a fold, in u, is not its own.
const NEAR_FOLD: f64 = 0.2;

/// A tangent shorter than this fraction of the size is none.
const WITHOUT_TANGENT: f64 = 1e-9;

/// Steps over the cone of a joint.
const CONE_STEPS: usize = 64;

/// The tangents of both profiles at one parameter.
#[derive(Clone, Copy, Debug)]
struct Tangents {
    u: f64,
    first: Vector,
    second: Vector,
}

/// A fold seen at `samples` places a piece and over the cones of all joints:
/// its parameter and its fraction across.
pub fn search_fold(pair: &OraclePair, samples: usize) -> Option<(f64, f64)> {
    let count = pair.piece_count();
    // A profile without a handle has no tangent at that end; that it vanishes
    // there by itself folds nothing, and what rounding leaves has no direction.
    let is_told = |at: &Tangents| {
        let shorter = at.first.norm().min(at.second.norm());
        WITHOUT_TANGENT * pair.size < shorter
    };
    let found = (0..count).find_map(|index| {
        let row: Vec<Tangents> = (0..=samples)
            .map(|k| tangents(pair, index, k as f64 / samples as f64))
            .collect();
        let inside = row.windows(2).find_map(|ends| {
            turns_through(ends[0], ends[1])
                .then(|| bisected(pair, index, ends[0].u, ends[1].u))?
                .filter(is_told)
        });
        inside.or_else(|| {
            let joins = pair.closed || index + 1 < count;
            let mut cone = Vec::new();
            if joins {
                sweep_joint(
                    pair,
                    (index, (index + 1) % count),
                    pair.breaks[index + 1],
                    &mut cone,
                );
            }
            turning_points(&cone).find(is_told)
        })
    });
    found.map(|at| (pair.wrapped(at.u), across(&at)))
}

/// The turn through opposition between two parameters of one piece; none when
/// the tangents prove to turn the other way round between two samples.
fn bisected(pair: &OraclePair, index: usize, mut from: f64, mut to: f64) -> Option<Tangents> {
    let at = |u: f64| tangents(pair, index, (u - pair.breaks[index]) / pair.width(index));
    let side = |at: &Tangents| cross(at.first, at.second) < 0.0;
    let first = side(&at(from));
    for _ in 0..60 {
        let middle = at(0.5 * (from + to));
        if 0.0 <= middle.first.dot(&middle.second) {
            return None;
        }
        if side(&middle) == first {
            from = middle.u;
        } else {
            to = middle.u;
        }
    }
    Some(at(from))
}

fn tangents(pair: &OraclePair, index: usize, t: f64) -> Tangents {
    let (first, second) = pair.slopes(index, t);
    Tangents {
        u: pair.along(index, t),
        first,
        second,
    }
}

fn across(at: &Tangents) -> f64 {
    let (a, b) = (at.first.norm(), at.second.norm());
    if 0.0 < a + b { a / (a + b) } else { 0.5 }
}

/// Whether both oppose and lie on different sides.
fn turns_through(before: Tangents, after: Tangents) -> bool {
    let side = |at: &Tangents| cross(at.first, at.second) < 0.0;
    let against = |at: &Tangents| at.first.dot(&at.second) < 0.0;
    side(&before) != side(&after) && against(&before) && against(&after)
}

/// The places of `row`, which is dense, at which the tangents turn through
/// opposition.
fn turning_points(row: &[Tangents]) -> impl Iterator<Item = Tangents> {
    row.windows(2)
        .filter(|ends| turns_through(ends[0], ends[1]))
        .map(|ends| turning_point(ends[0], ends[1]))
}

/// What a confirmed fold rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FoldGround {
    /// The tangents turn through opposition and a section beside meets itself.
    LoopBeside,
    /// The tangents turn through opposition; no loop was found beside it.
    Opposition,
    /// The tangents are exactly opposite or one vanishes: nothing turns.
    Standing,
}

/// The tangents at the turn itself, taken as straight between two samples (over
/// the cone of a joint they are).
fn turning_point(before: Tangents, after: Tangents) -> Tangents {
    let between = |share: f64| Tangents {
        u: before.u + (after.u - before.u) * share,
        first: before.first + (after.first - before.first) * share,
        second: before.second + (after.second - before.second) * share,
    };
    let side = |at: &Tangents| cross(at.first, at.second) < 0.0;
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if side(&between(middle)) == side(&before) {
            low = middle;
        } else {
            high = middle;
        }
    }
    between(low)
}

/// Confirms the claim that the section at `v` has a vanishing tangent at `u`.
pub fn confirm_fold(pair: &OraclePair, u: f64, v: f64) -> Option<FoldGround> {
    let spot = [1e-12, 1e-10, 1e-8, 1e-6, 1e-5, 1e-4, TRUE_PLACE]
        .iter()
        .find_map(|&reach| opposition(pair, (u, v), reach));
    let Some(spot) = spot else {
        return standing(pair, u, v).then_some(FoldGround::Standing);
    };
    Some(if loop_beside(pair, pair.wrapped(spot.u), v) {
        FoldGround::LoopBeside
    } else {
        FoldGround::Opposition
    })
}

fn sides(pair: &OraclePair, u: f64) -> Vec<(usize, f64)> {
    let (index, t) = pair.locate(u);
    let mut sides = vec![(index, t)];
    // The kernel rounds its joints by up to 1e-12, far along a short piece.
    let is_near = |fraction: f64| fraction < 1e-9 || fraction * pair.width(index) < 1e-11;
    if is_near(t) && (pair.closed || 0 < index) {
        sides.insert(
            0,
            ((index + pair.piece_count() - 1) % pair.piece_count(), 1.0),
        );
    } else if is_near(1.0 - t) && (pair.closed || index + 1 < pair.piece_count()) {
        sides.push(((index + 1) % pair.piece_count(), 0.0));
    }
    sides
}

fn standing(pair: &OraclePair, u: f64, v: f64) -> bool {
    sides(pair, u).iter().any(|&(index, t)| {
        let at = tangents(pair, index, t);
        let (a, b) = (at.first, at.second);
        let section = a * (1.0 - v) + b * v;
        let opposite = a.dot(&b) <= 0.0 && cross(a, b).abs() <= TRUE_CONTACT * a.norm() * b.norm();
        opposite && section.norm() <= TRUE_CONTACT * pair.size
    })
}

/// A parameter within `reach` of `u` about which the tangents turn through
/// opposition, balanced at `v`.
fn opposition(pair: &OraclePair, (u, v): (f64, f64), reach: f64) -> Option<Tangents> {
    let samples = 40;
    let mut row: Vec<Tangents> = Vec::new();
    let mut last = None;
    for k in -samples..=samples {
        let at = u + reach * f64::from(k) / f64::from(samples);
        if !pair.closed && !(0.0..=1.0).contains(&at) {
            continue;
        }
        let (index, t) = pair.locate(pair.wrapped(at));
        if let Some(last) = last.filter(|&last| last != index) {
            sweep_joint(pair, (last, index), pair.breaks[last + 1], &mut row);
        }
        last = Some(index);
        row.push(tangents(pair, index, t));
    }
    let reversed = opposed_at(&row, v);
    turning_points(&row).find(|at| reversed || (across(at) - v).abs() <= TRUE_PLACE)
}

/// Whether the tangents of `row` stay opposite over a range of fractions
/// across that holds `v`: a joint whose whole cone is reversed.
fn opposed_at(row: &[Tangents], v: f64) -> bool {
    let opposite = |at: &&Tangents| {
        let (a, b) = (at.first, at.second);
        a.dot(&b) < 0.0 && cross(a, b).abs() <= TRUE_PLACE * a.norm() * b.norm()
    };
    let mut fractions = row.iter().filter(opposite).map(across);
    let Some(first) = fractions.next() else {
        return false;
    };
    let (low, high) = fractions.fold((first, first), |(low, high), at| {
        (low.min(at), high.max(at))
    });
    low - TRUE_PLACE <= v && v <= high + TRUE_PLACE
}

/// Adds the cone of the joint between two pieces: every share of the tangents
/// on either side, evenly by angle.
fn sweep_joint(pair: &OraclePair, (last, index): (usize, usize), u: f64, row: &mut Vec<Tangents>) {
    let (a0, b0) = pair.slopes(last, 1.0);
    let (a1, b1) = pair.slopes(index, 0.0);
    let quarter = std::f64::consts::FRAC_PI_2;
    let even = (0..=CONE_STEPS).map(|k| quarter * k as f64 / CONE_STEPS as f64);
    // The cross product over the cone is a quadratic form; its extreme is looked
    // at too, lest a narrow dip fall between two steps.
    let mixed = cross(a0, b1) + cross(a1, b0);
    let extreme = 0.5 * mixed.atan2(cross(a0, b0) - cross(a1, b1));
    let extremes = [extreme, extreme + quarter, extreme - quarter];
    // So are both sides of its zeros: next to a short tangent a long one leaves
    // opposition within less than a step.
    let (first, last) = (cross(a0, b0), cross(a1, b1));
    let root = (mixed * mixed - 4.0 * first * last).sqrt();
    let half = -0.5 * (mixed + root.copysign(mixed));
    let (low, high) = (half / last, first / half);
    let offs = [1e-3, 1e-5, 1e-7, 1e-9].into_iter();
    let beside =
        offs.flat_map(|off| [low, high].map(|zero| [zero * (1.0 - off), zero * (1.0 + off)]));
    let between = [-0.5, 0.5, 1.5].map(|share| low + (high - low) * share);
    let zeros = beside.flatten().chain(between).map(f64::atan);
    let inside = |angle: &f64| 0.0 < *angle && *angle < quarter;
    let more = extremes.into_iter().chain(zeros).filter(inside);
    let mut angles: Vec<f64> = even.chain(more).collect();
    angles.sort_by(f64::total_cmp);
    for angle in angles {
        let (s, t) = (angle.cos(), angle.sin());
        row.push(Tangents {
            u,
            first: a0 * s + a1 * t,
            second: b0 * s + b1 * t,
        });
    }
}

/// Whether a section close to `v` meets itself on either side of `u`: just
/// beyond a fold it runs through a small loop, whose ends are looked for at a
/// ladder of distances.
fn loop_beside(pair: &OraclePair, u: f64, v: f64) -> bool {
    let offs = [1e-3, 1e-2, 1e-4, 5e-2, 1e-5, 1e-6, 0.2];
    let sides = offs.into_iter().flat_map(|off| [v - off, v + off]);
    sides
        .filter(|across| (0.0..=1.0).contains(across))
        .any(|across| (0..16).any(|rung| loop_of_reach(pair, u, across, 0.25 * 0.5f64.powi(rung))))
}

fn loop_of_reach(pair: &OraclePair, u: f64, v: f64, reach: f64) -> bool {
    let contact = refine(pair, (u + reach, u - reach, v), true);
    contact.is_some_and(|at| pair.way(u, at.u).abs().max(pair.way(u, at.w).abs()) < NEAR_FOLD)
}
