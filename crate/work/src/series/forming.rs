//! Stretch and thinning of a formed sheet in words: skin by skin, and the closed
//! formulas that the local gauge is held against.

use super::checks::in_unit;
use super::picture::Grid;
use loftkin_exchange::words;
use loftkin_form::making::check::Unit;
use loftkin_form::making::stretch::{Stretch, dome, trough};
use loftkin_form::making::workshop::Workshop;
use loftkin_form::piece::Piece;
use serde::Serialize;

/// Places along and across from which the height and the width are taken.
const STEPS: usize = 32;

/// mm² in a cm².
const SQUARE: f64 = 100.0;

/// The stretch of one skin from flat.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SkinMessage {
    /// Which.
    pub what: String,
    /// Its area.
    pub area: String,
    /// How much larger that is than flat.
    pub stretch: String,
    /// The mean gauge after forming.
    pub mean: String,
}

/// The stretch of the whole sheet and of every skin of `piece`; nothing where no
/// one sheet is formed to it.
pub(super) fn skins(piece: &Piece, gauge: f64) -> Vec<SkinMessage> {
    let Some(stretch) = Stretch::new(piece) else {
        return Vec::new();
    };
    let told = |what: String, area: f64, grown: f64, mean: f64| SkinMessage {
        what,
        area: format!("{:.2} cm²", area / SQUARE),
        stretch: format!("{:.1} %", 100.0 * grown),
        mean: in_unit(mean, Unit::Millimetre),
    };
    let whole = told(
        format!(
            "The whole sheet, from a blank of {:.2} cm²",
            stretch.blank / SQUARE
        ),
        stretch.formed,
        stretch.stretch(),
        gauge * stretch.mean(),
    );
    let skins = stretch.skins.iter().enumerate().map(|(index, skin)| {
        let (from, to) = skin.across;
        told(
            format!(
                "Skin {}, {} to {} across",
                index + 1,
                words::fraction(from),
                words::fraction(to)
            ),
            skin.area,
            skin.stretch(),
            skin.mean_gauge(gauge),
        )
    });
    [whole].into_iter().chain(skins).collect()
}

/// What a free dome and a long trough as wide and as high as `piece` would keep
/// of the gauge.
pub(super) fn cross_checks(piece: &Piece, workshop: &Workshop) -> Vec<String> {
    let direction = workshop.direction.into_inner();
    let axis = direction.iamin();
    let mut aside = nalgebra::Vector3::zeros();
    aside[axis] = 1.0;
    let one = direction.cross(&aside).normalize();
    let other = direction.cross(&one);
    let grid = Grid::new(piece, STEPS, STEPS);
    let points: Vec<_> = grid.seen().map(|(u, v)| piece.point(u, v).coords).collect();
    let [height, width, depth] = [direction, one, other].map(|way| {
        let along = points.iter().map(|point| point.dot(&way));
        let ends = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
        ends.1 - ends.0
    });
    let half = width.min(depth) / 2.0;
    if !(0.0 < half && 0.0 < height) {
        return Vec::new();
    }
    let [blown, bent] = [dome(half, height), trough(half, height)];
    let left = |share: f64| in_unit(workshop.gauge * share, Unit::Millimetre);
    let mm = |length| in_unit(length, Unit::Millimetre);
    vec![
        format!(
            "To hold it against: a sheet blown to a free dome as wide and high as this piece (a = {}, h = {}) has the radius (a² + h²) / 2h = {}, the mean gauge t₀ / (1 + (h/a)²) = {} (Marciniak, Duncan and Hu, Mechanics of Sheet Metal Forming, 2002, 9.1) and at its pole t₀ / (1 + (h/a)²)² = {} (from memory: Jovane 1968; confirm it).",
            mm(half),
            mm(height),
            mm(blown.radius),
            left(blown.mean),
            left(blown.thinnest)
        ),
        format!(
            "A long free trough of that width and height keeps t₀ sin α / α with tan(α/2) = h/a: {} (derived: chord over arc).",
            left(bent.mean)
        ),
    ]
}
