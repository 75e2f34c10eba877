//! Whether the bath runs off a piece that is lifted out, or stays in a hollow of it.
//!
//! A stack rises along every line of the loft, so what is on its skin runs down to the lower
//! end. In a ring a section may have a trough. Its heights are blends of the stations':
//! where all of them rise, or all fall, so does every blend, and where all are concave no
//! blend has a trough. What none of these decides is said to hold liquid.

use super::lift::Hanging;
use crate::body::{Enclosure, measure};
use crate::piece::Piece;
use loftkin_kernel::curve::Curve;

/// A trough shallower than this, mm, is none: less than a film of liquid.
const SHALLOW: f64 = 1e-6;

/// What the area of a piece is measured to, relative: only its volume is told here.
const ROUGH: f64 = 1e-3;

/// Parts of the stretch between two joints that are looked at one by one.
const PARTS: usize = 8;

/// What becomes of the bath on and in a piece that is lifted out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drainage {
    /// It runs off to an edge, from every place: proved.
    Drains,
    /// It runs off as long as the lower end is open, and stays in when that is closed.
    OpenEnd {
        /// What the piece holds then, litres.
        litres: f64,
    },
    /// Some sections may have a trough, or the skin closes round a hollow.
    MayHold,
}

/// How heights run along a stretch, in all stations alike.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Run {
    Rising,
    Falling,
    Arched,
    Unknown,
}

/// What becomes of the bath on `piece` when it hangs so.
pub fn drainage(piece: &Piece, hanging: Hanging) -> Drainage {
    const LITRES_PER_MM3: f64 = 1e-6;
    if !piece.layout().stations().is_ring() {
        let measures = measure(piece, ROUGH);
        return match &measures.volume {
            Some(volume) if measures.enclosure == Enclosure::Capped => Drainage::OpenEnd {
                litres: volume.by_sections * LITRES_PER_MM3,
            },
            _ => Drainage::Drains,
        };
    }
    if !piece.is_closed_along() && is_without_trough(piece, hanging) {
        return Drainage::Drains;
    }
    Drainage::MayHold
}

/// Whether every section of an open ring rises to one top and falls from it.
fn is_without_trough(piece: &Piece, hanging: Hanging) -> bool {
    let sign = match hanging {
        Hanging::AsDrawn => 1.0,
        Hanging::TurnedOver => -1.0,
    };
    let stations = piece.layout().stations().count();
    let mut slopes = vec![f64::INFINITY; stations];
    let mut before = Run::Rising;
    for (from, to) in parts(piece.breaks_along()) {
        let heights = |station| heights(piece.placed(station), from, to).map(|z| sign * z);
        let all: Vec<[f64; 4]> = (0..stations).map(heights).collect();
        let here = run(&all);
        let width = to - from;
        let arches_on = all
            .iter()
            .zip(&slopes)
            .all(|(z, &slope)| (z[1] - z[0]) / width <= slope + SHALLOW / width);
        let follows = match (before, here) {
            (_, Run::Unknown) | (Run::Falling, Run::Rising | Run::Arched) => false,
            (Run::Arched, Run::Rising) => false,
            (Run::Arched, Run::Arched) => arches_on,
            _ => true,
        };
        if !follows {
            return false;
        }
        before = here;
        for (slope, z) in slopes.iter_mut().zip(&all) {
            *slope = (z[3] - z[2]) / width;
        }
    }
    true
}

/// The stretches between neighbouring `breaks`, each in parts.
fn parts(breaks: &[f64]) -> impl Iterator<Item = (f64, f64)> {
    breaks.windows(2).flat_map(|pair| {
        let at = |part: usize| pair[0] + (pair[1] - pair[0]) * part as f64 / PARTS as f64;
        (0..PARTS).map(move |part| (at(part), at(part + 1)))
    })
}

/// How the `heights` of all stations run, by the signs of their control values.
fn run(heights: &[[f64; 4]]) -> Run {
    let all = |holds: fn(&[f64; 4]) -> bool| heights.iter().all(holds);
    if all(|z| (0..3).all(|k| -SHALLOW <= z[k + 1] - z[k])) {
        Run::Rising
    } else if all(|z| (0..3).all(|k| z[k + 1] - z[k] <= SHALLOW)) {
        Run::Falling
    } else if all(|z| (0..2).all(|k| z[k + 2] - 2.0 * z[k + 1] + z[k] <= SHALLOW)) {
        Run::Arched
    } else {
        Run::Unknown
    }
}

/// The control values of the heights of `curve` from `from` to `to`, which lie in one of
/// its spans, in mm.
fn heights(curve: &Curve, from: f64, to: f64) -> [f64; 4] {
    let (span, _) = curve.locate(f64::midpoint(from, to));
    let (start, end) = (curve.breaks()[span], curve.breaks()[span + 1]);
    let controls = curve.span_mm(span).map(|point| point.y);
    let local = |u: f64| (u - start) / (end - start);
    let (from, to) = (local(from), local(to));
    let between = |[a, b]: [f64; 2], t: f64| a + (b - a) * t;
    let blossom = |r: f64, s: f64, t: f64| {
        let first = [0, 1, 2].map(|k| between([controls[k], controls[k + 1]], r));
        let second = [0, 1].map(|k| between([first[k], first[k + 1]], s));
        between(second, t)
    };
    [
        blossom(from, from, from),
        blossom(from, from, to),
        blossom(from, to, to),
        blossom(to, to, to),
    ]
}
