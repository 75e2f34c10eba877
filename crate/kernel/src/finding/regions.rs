//! Regions: how far a fold or a crossing reaches, from the boxes that a survey
//! could not exclude.
//!
//! Every polyline of the double curve (see [`super::double_curve`]) is one region:
//! a fold where it reaches the diagonal, else a crossing. That no region is
//! missed rests on the survey; what is told of each is an estimate, good to
//! rounding.

use super::double_curve::{
    SAME, Uw, Vertex, chains, cross, is_below_diagonal, over_seam, segments_of, vertex,
};
use crate::curve::Curve;
use crate::proof::Ready;
use crate::proof::folds::folds;
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
    let folds: Vec<Vertex> = folds(curves)
        .into_iter()
        .map(|fold| Vertex {
            at: Uw::new(fold.along, fold.along),
            across: fold.across,
        })
        .collect();
    let mut met = vec![false; folds.len()];
    let mut regions: Vec<Region> = Vec::new();
    for group in over_seam(chains(segments), curves[0].is_closed()) {
        let parts = group
            .into_iter()
            .map(|chain| region(curves, chain, &folds, &mut met, resolution));
        regions.extend(parts.reduce(joined));
    }
    let alone = folds.iter().zip(met).filter(|(_, met)| !met);
    regions.extend(alone.map(|(fold, _)| fold_alone(curves, fold)));
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

fn contact(curves: [&Curve; 2], vertex: &Vertex) -> Contact {
    let Vertex { at, across } = *vertex;
    Contact {
        along: at.x,
        other_along: at.y,
        across,
        point: telling::place(curves, at.x, at.y, across).point,
    }
}

fn fold_alone(curves: [&Curve; 2], fold: &Vertex) -> Region {
    let (u, across) = (fold.at.x, fold.across);
    Region {
        kind: FaultKind::Fold,
        across: (across, across),
        along: (u, u),
        curves: vec![vec![contact(curves, fold)]],
        place: telling::fold_across(curves, u, across).place,
        angle: 180.0,
    }
}

fn region(
    curves: [&Curve; 2],
    mut chain: Vec<Vertex>,
    folds: &[Vertex],
    met: &mut [bool],
    resolution: f64,
) -> Region {
    let mut kind = FaultKind::Crossing;
    for end in [false, true] {
        let last = if end {
            chain[chain.len() - 1]
        } else {
            chain[0]
        };
        let (near, apart) = (4.0 * resolution, last.at.y - last.at.x);
        let over_seam = curves[0].is_closed() && 1.0 - near < apart;
        if near <= apart && !over_seam {
            continue;
        }
        // How far fold k lies from this end, the short way round its seam.
        let off = |k: usize| {
            let off = (folds[k].at.x - f64::midpoint(last.at.x, last.at.y)).abs();
            if over_seam { (off - 0.5).abs() } else { off }
        };
        let nearest = (0..folds.len()).filter(|&k| off(k) < near);
        // A bridge over a corner may hold two folds at one place.
        let off_across = |k: usize| (folds[k].across - last.across).abs();
        if let Some(k) = nearest.min_by(|&j, &k| {
            let nearer_across = off_across(j).total_cmp(&off_across(k));
            off(j).total_cmp(&off(k)).then(nearer_across)
        }) {
            met[k] = true;
            kind = FaultKind::Fold;
            let fold = folds[k];
            let reached = (last.at - fold.at).amax() < SAME;
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
