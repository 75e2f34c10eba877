//! The grid of samples by which undercuts and parting lines are found: n·d at
//! places that follow the joints of a piece.

use crate::body::cells::{breaks_within, strips};
use crate::making::check::Place;
use crate::piece::{Jet, Piece};
use nalgebra::{UnitVector3, Vector3};

/// Steps of the grid in a cell, along and across.
const STEPS: usize = 6;
/// Rounds when a crossing is sharpened; where the skin is smooth, five are enough.
const ROUNDS: u32 = 40;
/// A crossing is sharp at this share of a step, or this near to 0.
const SHARP: f64 = 1e-9;

/// A grid of n·d over (u, v).
#[derive(Clone)]
pub struct Grid<'a> {
    /// What is looked at.
    pub piece: &'a Piece,
    /// The direction of draw.
    pub direction: UnitVector3<f64>,
    outward: f64,
    /// Fractions along of the columns.
    pub along: Vec<f64>,
    /// Fractions across of the rows.
    pub across: Vec<f64>,
    /// S_u × S_v, outward, by row (across), then along.
    crosses: Vec<Vector3<f64>>,
    /// What n·d is counted from.
    level: f64,
    /// Its unit vector along the direction, n·d, from that level.
    values: Vec<f64>,
}

impl<'a> Grid<'a> {
    /// The grid of `piece`, six steps a cell.
    pub fn new(piece: &'a Piece, direction: UnitVector3<f64>) -> Self {
        let finer = |breaks: &[f64]| {
            let mut finer: Vec<f64> = breaks
                .windows(2)
                .flat_map(|ends| {
                    (0..STEPS).map(|k| ends[0] + (ends[1] - ends[0]) * k as f64 / STEPS as f64)
                })
                .collect();
            finer.extend(breaks.last());
            finer
        };
        let strips = strips(piece);
        let mut knots: Vec<f64> = strips.iter().map(|strip| strip.0).collect();
        knots.push(1.0);
        let mut breaks: Vec<f64> = strips
            .iter()
            .flat_map(|&strip| breaks_within(piece, strip))
            .collect();
        breaks.sort_by(f64::total_cmp);
        breaks.dedup();
        let mut grid = Self {
            piece,
            direction,
            outward: piece.outward(),
            along: finer(&breaks),
            across: finer(&knots),
            crosses: Vec::new(),
            level: 0.0,
            values: Vec::new(),
        };
        let columns = grid.along.iter();
        let stations = piece.arrangement().0.len();
        // A seam is one place: seen from both sides a jump there would be none.
        let once = |at: f64, is_closed: bool| if is_closed && at == 1.0 { 0.0 } else { at };
        let jets: Vec<Vec<Jet>> = columns
            .map(|&u| once(u, piece.is_closed_along()))
            .map(|u| (0..stations).map(|station| piece.jet(station, u)).collect())
            .collect();
        for &v in &grid.across {
            let across = piece.layout().across(once(v, piece.is_closed_across()));
            let cross = |jets: &Vec<Jet>| piece.patch_of(jets, &across).cross() * grid.outward;
            grid.crosses.extend(jets.iter().map(cross));
        }
        let value = |cross: &Vector3<f64>| grid.along_direction(cross);
        grid.values = grid.crosses.iter().map(value).collect();
        grid
    }

    /// The same with n·d counted from `level`.
    pub fn less(&self, level: f64) -> Self {
        let values = self.values.iter().map(|value| value - level).collect();
        Self {
            level,
            values,
            ..self.clone()
        }
    }

    /// The corners at which |n·d| is below `sine`.
    pub fn places_below(&self, sine: f64) -> impl Iterator<Item = Place> + '_ {
        let rows = self.across.iter().zip(self.values.chunks(self.along.len()));
        rows.flat_map(move |(&v, row)| {
            let below = self.along.iter().zip(row);
            let below = below.filter(move |(_, value)| value.abs() < sine);
            below.map(move |(&u, _)| self.place(u, v))
        })
    }

    /// n·d of a place with `cross` as its S_u × S_v; a wall along the direction is
    /// on one side of 0, whatever its roundings.
    fn along_direction(&self, cross: &Vector3<f64>) -> f64 {
        let value = cross.dot(&self.direction) / cross.norm();
        if value.abs() < SHARP { 0.0 } else { value }
    }

    /// n·d at any place.
    pub fn value(&self, u: f64, v: f64) -> f64 {
        self.along_direction(&(self.piece.patch(u, v).cross() * self.outward)) - self.level
    }

    /// n·d at a corner of the grid.
    pub fn at(&self, column: usize, row: usize) -> f64 {
        self.values[row * self.along.len() + column]
    }

    /// The area of a cell, by the trapezoidal rule.
    pub fn area(&self, column: usize, row: usize) -> f64 {
        let element =
            |x: usize, y: usize| self.crosses[(row + y) * self.along.len() + column + x].norm();
        let sum = element(0, 0) + element(1, 0) + element(0, 1) + element(1, 1);
        let (width, height) = (
            self.along[column + 1] - self.along[column],
            self.across[row + 1] - self.across[row],
        );
        sum / 4.0 * width * height
    }

    /// The place at fractions (u, v), in space.
    pub fn place(&self, u: f64, v: f64) -> Place {
        Place {
            along: u,
            across: v,
            point: self.piece.point(u, v),
        }
    }

    /// Cells along and across.
    pub fn size(&self) -> (usize, usize) {
        (self.along.len() - 1, self.across.len() - 1)
    }

    /// Where n·d changes its sign from one corner of the grid to another, by false
    /// position with the Illinois rule (Dowell and Jarratt, BIT 11, 1971): a bracket
    /// is kept, so that a jump at an edge is found too.
    pub fn zero_between(
        &self,
        (from, to): ((f64, f64), (f64, f64)),
        (mut low, mut high): (f64, f64),
    ) -> (f64, f64) {
        let at = |t: f64| (from.0 + (to.0 - from.0) * t, from.1 + (to.1 - from.1) * t);
        // A wall along the direction is 0 all over: it ends at a joint or a station,
        // which the grid has among its corners, and n·d jumps there.
        if low == 0.0 || high == 0.0 {
            let is_above = |t: f64| {
                let (u, v) = at(t);
                0.0 <= self.value(u, v)
            };
            if is_above(SHARP) != (0.0 <= low) {
                return at(0.0);
            }
            if is_above(1.0 - SHARP) != (0.0 <= high) {
                return at(1.0);
            }
        }
        let (mut left, mut right) = (0.0, 1.0);
        let (mut middle, mut before) = (0.5, None);
        for round in 0..ROUNDS {
            let secant = left + (right - left) * (low / (low - high));
            // Every third round halves, for the sake of jumps; and so does one
            // beside a singular place, where n is not a number.
            middle = if round % 3 == 2 || !secant.is_finite() {
                f64::midpoint(left, right)
            } else {
                secant
            };
            let (u, v) = at(middle);
            let value = self.value(u, v);
            if value.abs() < SHARP || right - left < SHARP {
                break;
            }
            let is_low = (0.0 <= value) == (0.0 <= low);
            let again = before == Some(is_low);
            before = Some(is_low);
            if is_low {
                (left, low) = (middle, value);
                high = if again { high / 2.0 } else { high };
            } else {
                (right, high) = (middle, value);
                low = if again { low / 2.0 } else { low };
            }
        }
        at(middle)
    }
}
