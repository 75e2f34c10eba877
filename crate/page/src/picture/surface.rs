//! The surface of the chosen pair as a grid of points for the page to draw,
//! with what concerns each point and the figure that the map shows.

use super::skin::Skin;
use super::standing::Standing;
use crate::board::Board;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::loft::Loft;
use loftkin_kernel::verdict::{Contact, FaultKind, Region};

/// How far beside a corner the skin is taken, as a fraction along: the two
/// sides face differently there.
const BESIDE: f64 = 1e-9;

/// What the colours of the surface tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Map {
    /// Nothing but the form and its faults.
    Nothing,
    /// The twist in degrees, without a sign.
    Twist,
    /// The Gaussian curvature in 1/mm^2.
    Curvature,
}

/// The surface as a grid of points in space.
pub struct Surface {
    /// x, y, z of each point, row by row across, in each row along.
    pub points: Vec<f32>,
    /// The direction that the skin faces at each point; zero at a singular one.
    pub facing: Vec<f32>,
    /// How far the point is concerned, one a point: 0 not, 1 within a limit
    /// passed (twist, crease), 2 on a folded patch.
    pub concern: Vec<u8>,
    /// The figure of the map at each point; empty without a map.
    pub figures: Vec<f64>,
    /// The fraction along of each point of a row; a corner stands twice.
    pub along: Vec<f64>,
}

/// The surface of the chosen pair: `steps` along (and all joints), `rows` across.
pub fn surface(board: &Board, steps: usize, rows: usize, map: Map) -> Option<Surface> {
    let (loft, standing) = (board.loft()?, Standing::of(board)?);
    let skin = Skin::of(board)?;
    let (first, second) = board.pair()?;
    let curves = [
        board.document().curve(first)?,
        board.document().curve(second)?,
    ];
    let along = columns(&loft, curves, steps);
    let regions = board
        .known_finding()
        .map_or(&[][..], |finding| &finding.regions);
    let count = along.len() * (rows + 1);
    let mut surface = Surface {
        points: Vec::with_capacity(3 * count),
        facing: Vec::with_capacity(3 * count),
        concern: Vec::with_capacity(count),
        figures: Vec::new(),
        along: along.iter().map(|&(at, _)| at).collect(),
    };
    for row in 0..=rows {
        let across = row as f64 / rows as f64;
        let stretches: Vec<_> = regions
            .iter()
            .flat_map(|region| concerned(region, across))
            .collect();
        for &(at, seen_at) in &along {
            surface
                .points
                .extend(standing.place(loft.point(at, across), across));
            let spot = skin.at(seen_at, across);
            let facing = spot.facing().unwrap_or_default();
            surface
                .facing
                .extend(facing.iter().map(|&part| part as f32));
            let worst = stretches
                .iter()
                .filter(|&&(from, to, _)| from <= at && at <= to)
                .map(|&(_, _, concern)| concern)
                .max();
            surface.concern.push(worst.unwrap_or(0));
            match map {
                Map::Nothing => {}
                Map::Twist => surface.figures.push(spot.twist),
                Map::Curvature => surface.figures.push(spot.curvature),
            }
        }
    }
    Some(surface)
}

/// The fractions along of a row, each with the place beside it where the skin
/// is looked at: a corner stands once for either side.
fn columns(loft: &Loft<'_>, curves: [&Curve; 2], steps: usize) -> Vec<(f64, f64)> {
    let corners: Vec<f64> = curves
        .iter()
        .flat_map(|curve| {
            let joints = curve.breaks().iter().enumerate().take(curve.span_count());
            joints.filter_map(|(joint, &at)| curve.is_corner(joint).then_some(at))
        })
        .collect();
    let mut columns = Vec::new();
    for at in loft.parameters(steps) {
        let corner = corners.contains(&at) && 0.0 < at;
        if corner {
            columns.push((at, at - BESIDE));
        }
        columns.push((at, if at < 1.0 { at } else { 1.0 - BESIDE }));
    }
    columns
}

/// The stretches along, with their concern, in which a region touches the
/// section at `across`. A crossing of two distant strands has its double curve
/// only: what lies between them is not at fault.
fn concerned(region: &Region, across: f64) -> Vec<(f64, f64, u8)> {
    let (low, high) = region.across;
    if across < low || high < across {
        return Vec::new();
    }
    let (from, to) = region.along;
    match region.kind {
        FaultKind::Twist | FaultKind::Crease => vec![(from, to, 1)],
        FaultKind::Axis => vec![(from, to, 2)],
        FaultKind::Crossing => Vec::new(),
        FaultKind::Fold => region
            .curves
            .iter()
            .flat_map(|curve| curve.windows(2))
            .filter_map(|chord| between_strands(&chord[0], &chord[1], across))
            .map(|(from, to)| (from, to, 2))
            .collect(),
    }
}

/// Where the double curve passes the section at `across`: the fractions along
/// of its two strands.
fn between_strands(one: &Contact, two: &Contact, across: f64) -> Option<(f64, f64)> {
    let (low, high) = (one.across.min(two.across), one.across.max(two.across));
    if across < low || high < across || low == high {
        return None;
    }
    let t = (across - one.across) / (two.across - one.across);
    let a = one.along + (two.along - one.along) * t;
    let b = one.other_along + (two.other_along - one.other_along) * t;
    Some((a.min(b), a.max(b)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Point2;

    #[test]
    fn a_folded_patch_lies_between_the_strands_and_a_crossing_has_none() {
        let contact = |along, other_along, across| Contact {
            along,
            other_along,
            across,
            point: Point2::origin(),
        };
        let mut region = Region {
            kind: FaultKind::Fold,
            across: (0.2, 0.6),
            along: (0.3, 0.7),
            curves: vec![vec![contact(0.5, 0.5, 0.2), contact(0.3, 0.7, 0.6)]],
            place: loftkin_kernel::verdict::Place {
                along: 0.5,
                other_along: 0.5,
                across: 0.2,
                point: Point2::origin(),
            },
            angle: 180.0,
        };
        let found = concerned(&region, 0.4);
        assert_eq!(found.len(), 1);
        let (from, to, concern) = found[0];
        assert!((from - 0.4).abs() < 1e-12 && (to - 0.6).abs() < 1e-12 && concern == 2);
        assert!(concerned(&region, 0.7).is_empty());
        region.kind = FaultKind::Crossing;
        assert!(concerned(&region, 0.4).is_empty());
    }
}
