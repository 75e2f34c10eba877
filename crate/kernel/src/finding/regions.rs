//! Regions: how far a fold or a crossing reaches, from the boxes that a survey
//! could not exclude.
//!
//! Every polyline of the double curve (see [`super::double_curve`]) is one region:
//! a fold where it reaches the diagonal, else a crossing. That no region is
//! missed rests on the survey; what is told of each is an estimate, good to
//! rounding.

use super::double_curve::{
    SAME, Uw, Vertex, chains, change, cross, differences, is_below_diagonal, over_seam,
    segments_of, vertex,
};
use crate::curve::Curve;
use crate::proof::Ready;
use crate::proof::search::{Memory, survey};
use crate::proof::telling;
use crate::verdict::{Contact, FaultKind, Region};
use nalgebra::Vector2;

/// Sizes of the boxes of a survey, as fractions along: the finer one when the
/// coarser shows too few boxes for a picture.
const RESOLUTIONS: [f64; 2] = [1.0 / 192.0, 1.0 / 2048.0];
/// Fewer boxes than this make no picture.
const FEWEST_BOXES: usize = 48;
/// The work of one survey.
const BUDGET: u32 = 40_000;
/// Steps along the diagonal when folds are looked for.
const DIAGONAL_STEPS: usize = 512;
/// How far those steps stand off the dyadic fractions, as a part of a step: the
/// golden section, which no small fraction comes near.
const DIAGONAL_OFFSET: f64 = 0.618_034;
/// More segments than this are no curve but a filled area: a collapse.
const MOST_SEGMENTS: usize = 4_000;

/// All regions of folds and crossings, and whether the work sufficed.
pub fn regions(pair: [&Ready; 2], memory: &mut Memory) -> (Vec<Region>, bool) {
    let curves = [&pair[0].curve, &pair[1].curve];
    let mut result = (Vec::new(), false);
    let mut resolution = RESOLUTIONS[0];
    for size in RESOLUTIONS {
        let survey = survey(pair, memory, size, BUDGET);
        let enough = FEWEST_BOXES <= survey.0.len() || !survey.1;
        (result, resolution) = (survey, size);
        if enough {
            break;
        }
    }
    let (boxes, complete) = result;
    let mut segments = Vec::new();
    for zero_box in boxes.iter().filter(|zero_box| is_below_diagonal(zero_box)) {
        segments.extend(segments_of(zero_box));
        if MOST_SEGMENTS < segments.len() {
            break;
        }
    }
    let complete = complete && segments.len() <= MOST_SEGMENTS;
    let folds = folds(curves);
    let mut met = vec![false; folds.len()];
    let mut regions: Vec<Region> = Vec::new();
    for group in over_seam(chains(segments), curves[0].is_closed()) {
        let parts = group
            .into_iter()
            .map(|chain| region(curves, chain, &folds, &mut met, resolution));
        regions.extend(parts.reduce(joined));
    }
    let alone = folds.iter().zip(met).filter(|(_, met)| !met);
    regions.extend(alone.map(|(&u, _)| fold_alone(curves, u)));
    regions.sort_by(|one, other| {
        let width = |region: &Region| region.across.1 - region.across.0;
        one.kind
            .cmp(&other.kind)
            .then(width(other).total_cmp(&width(one)))
    });
    (regions, complete)
}

/// Two parts of one region.
fn joined(one: Region, other: Region) -> Region {
    let worse = if one.angle < other.angle {
        &other
    } else {
        &one
    };
    let (place, angle) = (worse.place, worse.angle);
    let hull = |one: (f64, f64), other: (f64, f64)| (one.0.min(other.0), one.1.max(other.1));
    let mut curves = one.curves;
    curves.extend(other.curves);
    Region {
        kind: one.kind.min(other.kind),
        across: hull(one.across, other.across),
        along: hull(one.along, other.along),
        curves,
        place,
        angle,
    }
}

/// Where the slopes oppose exactly: the parameters at which folds are born.
fn folds(curves: [&Curve; 2]) -> Vec<f64> {
    let closed = curves[0].is_closed();
    let diagonal = |u: f64| {
        let u = if closed && 1.0 <= u { u - 1.0 } else { u };
        Uw::new(u, u)
    };
    let mut folds = Vec::new();
    for ends in cuts_of_diagonal(curves).windows(2) {
        // Short of the end, where a corner may jump.
        let (from, reach) = (ends[0], (ends[1] - ends[0]) * (1.0 - 1e-9));
        let along = |t: f64| diagonal(from + reach * t);
        let starts_negative = cross(curves, along(0.0)) < 0.0;
        if starts_negative == (cross(curves, along(1.0)) < 0.0) {
            continue;
        }
        let zero = along(change(|t| {
            (cross(curves, along(t)) < 0.0) == starts_negative
        }));
        let [a, b] = differences(curves, zero);
        // A joint of unequal speed may jump past zero without reaching it.
        let reached = a.perp(&b).abs() < 1e-6 * a.norm() * b.norm();
        if reached && a.dot(&b) < 0.0 {
            folds.push(zero.x);
        }
    }
    folds
}

/// Where the diagonal is cut in the search for folds, ascending: even steps at
/// an offset, since symmetric profiles fold exactly at halves and quarters, and
/// the corners. Of a closed pair it goes once round, beyond 1.
fn cuts_of_diagonal(curves: [&Curve; 2]) -> Vec<f64> {
    let closed = curves[0].is_closed();
    let step = |k: usize| (k as f64 + DIAGONAL_OFFSET) / DIAGONAL_STEPS as f64;
    let (start, end) = if closed {
        (step(0), 1.0 + step(0))
    } else {
        (0.0, 1.0)
    };
    let corners = curves.into_iter().flat_map(|curve| {
        let joints = curve.breaks()[..curve.span_count()].iter().enumerate();
        joints.filter_map(|(joint, &at)| curve.is_corner(joint).then_some(at))
    });
    let round = |at: f64| if at < start { at + 1.0 } else { at };
    let mut cuts: Vec<f64> = (0..DIAGONAL_STEPS).map(step).collect();
    cuts.extend(corners.map(round).filter(|&at| start < at && at < end));
    cuts.extend([start, end]);
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|later, earlier| *later - *earlier < 1e-12);
    cuts
}

fn contact(curves: [&Curve; 2], vertex: &Vertex) -> Contact {
    let Vertex { at, across } = *vertex;
    Contact {
        along: at.x,
        other_along: at.y,
        across,
        point: telling::place(curves, at.x, at.y, across).point,
    }
}

fn fold_alone(curves: [&Curve; 2], u: f64) -> Region {
    let contact = contact(curves, &vertex(curves, Uw::new(u, u)));
    Region {
        kind: FaultKind::Fold,
        across: (contact.across, contact.across),
        along: (u, u),
        curves: vec![vec![contact]],
        place: telling::fold_at(curves, u).place,
        angle: 180.0,
    }
}

fn region(
    curves: [&Curve; 2],
    mut chain: Vec<Vertex>,
    folds: &[f64],
    met: &mut [bool],
    resolution: f64,
) -> Region {
    let mut kind = FaultKind::Crossing;
    for end in [false, true] {
        let last = if end {
            chain[chain.len() - 1]
        } else {
            chain[0]
        }
        .at;
        let near = 4.0 * resolution;
        let over_seam = curves[0].is_closed() && 1.0 - near < last.y - last.x;
        if near <= last.y - last.x && !over_seam {
            continue;
        }
        // How far fold k lies from this end, the short way round its seam.
        let off = |k: usize| {
            let off = (folds[k] - f64::midpoint(last.x, last.y)).abs();
            if over_seam { (off - 0.5).abs() } else { off }
        };
        let nearest = (0..folds.len()).filter(|&k| off(k) < near);
        if let Some(k) = nearest.min_by(|&j, &k| off(j).total_cmp(&off(k))) {
            met[k] = true;
            kind = FaultKind::Fold;
            let fold = vertex(curves, Uw::new(folds[k], folds[k]));
            let reached = (last - fold.at).amax() < SAME;
            let at = if end { chain.len() } else { 0 };
            if reached {
                chain[at.saturating_sub(1)] = fold;
            } else {
                chain.insert(at, fold);
            }
        }
    }
    let contacts: Vec<Contact> = chain.iter().map(|vertex| contact(curves, vertex)).collect();
    let (low, high) = (extreme(curves, &chain, 1.0), extreme(curves, &chain, -1.0));
    let faults = chain
        .iter()
        .map(|vertex| vertex.at)
        .filter(|at| at.x < at.y)
        .map(|at| telling::crossing_at(curves, at.x, at.y));
    let worst = faults
        .filter(|fault| fault.place.across.is_finite())
        .max_by(|one, other| one.angle.total_cmp(&other.angle))
        .unwrap_or_else(|| telling::fold_across(curves, chain[0].at.x, chain[0].across));
    let alongs = || chain.iter().flat_map(|vertex| [vertex.at.x, vertex.at.y]);
    Region {
        kind,
        across: (low, high),
        along: (alongs().fold(1.0, f64::min), alongs().fold(0.0, f64::max)),
        curves: vec![contacts],
        place: worst.place,
        angle: if kind == FaultKind::Fold {
            180.0
        } else {
            worst.angle
        },
    }
}

/// The least fraction across on a chain (`way` 1) or the greatest (-1): at an
/// inner vertex sharpened along the curve of zeros.
fn extreme(curves: [&Curve; 2], chain: &[Vertex], way: f64) -> f64 {
    let best = (0..chain.len())
        .min_by(|&j, &k| (way * chain[j].across).total_cmp(&(way * chain[k].across)))
        .unwrap_or(0);
    if best == 0 || best + 1 == chain.len() {
        return chain[best].across;
    }
    let (mut from, mut to) = (chain[best - 1].at, chain[best + 1].at);
    let value = |at: Uw| way * vertex(curves, at).across;
    // Golden section along the chord, each place pulled onto the curve.
    for _ in 0..40 {
        let third = (to - from) * 0.381_966;
        let (one, other) = (
            onto_zero(curves, from + third, to - from),
            onto_zero(curves, to - third, to - from),
        );
        if value(one) < value(other) {
            to = other;
        } else {
            from = one;
        }
        if (to - from).amax() < 1e-9 {
            break;
        }
    }
    let sharpened = value(from + (to - from) * 0.5);
    if sharpened.is_finite() {
        way * sharpened.min(way * chain[best].across)
    } else {
        chain[best].across
    }
}

/// Pulls a place onto the curve of zeros, square to `run`, by the secant rule.
fn onto_zero(curves: [&Curve; 2], at: Uw, run: Vector2<f64>) -> Uw {
    let normal = Vector2::new(-run.y, run.x);
    let place = |s: f64| {
        let moved = at + normal * s;
        Uw::new(moved.x.clamp(0.0, 1.0), moved.y.clamp(0.0, 1.0))
    };
    let (mut s, mut t) = (0.0, 0.01);
    let (mut at_s, mut at_t) = (cross(curves, place(s)), cross(curves, place(t)));
    for _ in 0..12 {
        if at_t == at_s || at_t == 0.0 {
            break;
        }
        let next = (t - at_t * (t - s) / (at_t - at_s)).clamp(-1.0, 1.0);
        (s, at_s) = (t, at_t);
        (t, at_t) = (next, cross(curves, place(next)));
    }
    place(t)
}
