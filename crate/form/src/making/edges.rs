//! Sharp edges of the skin: where it breaks at a corner of a profile or at a
//! station. No radius lives there, so checks of radii list them apart.

use super::check::{Place, Spot};
use crate::body::cells::{breaks_within, strips};
use crate::piece::Piece;
use nalgebra::Vector3;

/// How far from an edge its two sides are looked at, as a fraction of [0, 1].
const BESIDE: f64 = 1e-9;
/// Places looked at on an edge, in each cell it passes.
const STEPS: usize = 4;

/// Along which line an edge runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Line {
    /// Across the piece at this fraction along: a corner of profiles.
    AtAlong(f64),
    /// Along the profiles at this fraction across: a station.
    AtAcross(f64),
}

/// A sharp edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// The line it runs on.
    pub line: Line,
    /// The largest break of the skin on it, degrees: above 0 a ridge, below 0 a
    /// valley, seen from outside.
    pub angle: f64,
    /// Where.
    pub place: Place,
}

/// The edges that break by more than `least` degrees somewhere, the sharpest
/// first. Sampled along each line.
pub fn sharp_edges(piece: &Piece, least: f64) -> Vec<Edge> {
    let mut edges = corners(piece);
    edges.extend(seams(piece));
    edges.retain(|edge| least < edge.angle.abs());
    edges.sort_by(|one, other| other.angle.abs().total_cmp(&one.angle.abs()));
    edges
}

fn even(from: f64, to: f64) -> impl Iterator<Item = f64> {
    (0..STEPS).map(move |k| from + (to - from) * (k as f64 + 0.5) / STEPS as f64)
}

/// Edges across the piece, at joints of the profiles.
fn corners(piece: &Piece) -> Vec<Edge> {
    let mut edges: Vec<Edge> = Vec::new();
    for strip in strips(piece) {
        for u in breaks_within(piece, strip) {
            let is_end = u == 0.0 || u == 1.0;
            if is_end && (u == 1.0 || !piece.is_closed_along()) {
                continue;
            }
            let before = if u == 0.0 { 1.0 } else { u };
            for v in even(strip.0, strip.1) {
                let sides = [(before - BESIDE, v), (u + BESIDE, v)];
                let way = |spot: &Spot| spot.patch.along;
                keep(
                    &mut edges,
                    Line::AtAlong(u),
                    found(piece, sides, (u, v), way),
                );
            }
        }
    }
    edges
}

/// Edges along the profiles, where strips meet.
fn seams(piece: &Piece) -> Vec<Edge> {
    let mut edges: Vec<Edge> = Vec::new();
    let knots = piece.breaks_across();
    let inner = knots[1..knots.len() - 1].iter().copied();
    let seam = piece.is_closed_across().then_some(0.0);
    let breaks = piece.breaks_along();
    for v in inner.chain(seam) {
        let before = if v == 0.0 { 1.0 } else { v };
        for ends in breaks.windows(2) {
            for u in even(ends[0], ends[1]) {
                let sides = [(u, before - BESIDE), (u, v + BESIDE)];
                let way = |spot: &Spot| spot.patch.across;
                keep(
                    &mut edges,
                    Line::AtAcross(v),
                    found(piece, sides, (u, v), way),
                );
            }
        }
    }
    edges
}

/// The break between two sides at a place: angle in degrees.
fn found(
    piece: &Piece,
    sides: [(f64, f64); 2],
    (u, v): (f64, f64),
    way: impl Fn(&Spot) -> Vector3<f64>,
) -> (f64, Place) {
    let outward = piece.outward();
    let [one, other] = sides.map(|(u, v)| Spot::new(piece.patch(u, v), outward));
    let angle = libm::atan2(
        one.normal.cross(&other.normal).norm(),
        one.normal.dot(&other.normal),
    );
    // On a ridge the normals part on the way over it.
    let parted = (other.normal - one.normal).dot(&(way(&one) + way(&other)));
    let angle = if parted < 0.0 { -angle } else { angle };
    let place = Place {
        along: u,
        across: v,
        point: piece.point(u, v),
    };
    (angle.to_degrees(), place)
}

fn keep(edges: &mut Vec<Edge>, line: Line, (angle, place): (f64, Place)) {
    match edges.iter_mut().find(|edge| edge.line == line) {
        Some(edge) if edge.angle.abs() < angle.abs() => *edge = Edge { line, angle, place },
        Some(_) => {}
        None => edges.push(Edge { line, angle, place }),
    }
}
