//! Closed rings up to turning and mirroring, counted after Burnside.
//!
//! When all stations are alike, turning a piece by one station gives a piece of
//! the series that looks the same, and mirroring it in a plane through the axis
//! gives its mirror image. The number of pieces that differ is the mean, over
//! all turns (and mirrorings), of the pieces that each leaves as they are
//! (Burnside, Theory of Groups of Finite Order, 1897, section 118; Cauchy 1845).
//! With M the matrix of neighbours: a turn by g stations leaves tr M^d, with d
//! the greatest common divisor of g and n; a mirroring leaves the walks of half
//! the ring, where a joint on the mirror wants a profile beside itself.

use super::grammar::Grammar;
use crate::blend::Layout;
use num_bigint::BigUint;
use thiserror::Error;

/// Angles between stations that differ by less count as equal, in degrees.
const EQUAL_STEP: f64 = 1e-9;

/// Pieces counted up to symmetry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Symmetry {
    /// Up to turning.
    pub turning: BigUint,
    /// Up to turning and mirroring.
    pub mirroring: BigUint,
}

/// Why turning a piece gives no piece of the series. Stations count from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum NotAlike {
    /// A stack or an open ring.
    #[error("only a ring that is closed all round can be turned into itself")]
    NotAllRound,
    /// A station that differs from the first in scale, shift or turn, in its
    /// allowed profiles or in the angle to the next.
    #[error(
        "station {station} is not like the others, so turning gives another piece: use equal angles, one scale, shift and turn, and the same allowed profiles"
    )]
    Station {
        /// Which one.
        station: usize,
    },
    /// Counted by threes, where this formula does not hold.
    #[error(
        "not counted for a B-spline over profiles that are not all proved for any blend together"
    )]
    ByThrees,
}

/// The pieces of `grammar` over `layout` up to symmetry.
///
/// # Errors
/// [`NotAlike`].
pub fn of(layout: &Layout, grammar: &Grammar) -> Result<Symmetry, NotAlike> {
    if !grammar.all_round {
        return Err(NotAlike::NotAllRound);
    }
    if grammar.reach != 2 {
        return Err(NotAlike::ByThrees);
    }
    let stations = layout.stations().all();
    let even = 360.0 / stations.len() as f64;
    for (index, station) in stations.iter().enumerate() {
        let next = stations
            .get(index + 1)
            .map_or(stations[0].at + 360.0, |next| next.at);
        let alike = station.stands_like(&stations[0])
            && (next - station.at - even).abs() < EQUAL_STEP
            && grammar.allowed[index] == grammar.allowed[0];
        if !alike {
            return Err(NotAlike::Station { station: index + 1 });
        }
    }
    Ok(counted(grammar))
}

fn counted(grammar: &Grammar) -> Symmetry {
    let matrix = Matrix { grammar };
    let count = grammar.allowed.len();
    let traces = matrix.traces(count);
    let turned: BigUint = (1..=count)
        .map(|turn| &traces[common_divisor(turn, count)])
        .sum();
    let mirrored = if count % 2 == 1 {
        // Every mirror runs through a station and a joint.
        let walks = matrix.walks(&matrix.ones(), &matrix.diagonal(), count / 2);
        walks * count
    } else {
        // Half of the mirrors run through two stations, half through two joints.
        let through_stations = matrix.walks(&matrix.ones(), &matrix.ones(), count / 2);
        let diagonal = matrix.diagonal();
        let through_joints = matrix.walks(&diagonal, &diagonal, count / 2 - 1);
        (through_stations + through_joints) * (count / 2)
    };
    Symmetry {
        mirroring: (&turned + mirrored) / (2 * count),
        turning: turned / count,
    }
}

fn common_divisor(a: usize, b: usize) -> usize {
    if b == 0 { a } else { common_divisor(b, a % b) }
}

/// The matrix of neighbours, all joints and stations being alike.
struct Matrix<'a> {
    grammar: &'a Grammar,
}

impl Matrix<'_> {
    fn holds(&self, first: usize, second: usize) -> bool {
        let allowed = &self.grammar.allowed[0];
        let beside = &self.grammar.beside[0];
        allowed[first] && allowed[second] && beside[first * self.grammar.size() + second]
    }

    fn times(&self, vector: &[BigUint]) -> Vec<BigUint> {
        let size = self.grammar.size();
        (0..size)
            .map(|row| {
                let met = (0..size).filter(|&column| self.holds(row, column));
                met.map(|column| &vector[column]).sum()
            })
            .collect()
    }

    fn ones(&self) -> Vec<BigUint> {
        let allowed = self.grammar.allowed[0].iter();
        allowed
            .map(|&allowed| BigUint::from(u8::from(allowed)))
            .collect()
    }

    fn diagonal(&self) -> Vec<BigUint> {
        (0..self.grammar.size())
            .map(|profile| BigUint::from(u8::from(self.holds(profile, profile))))
            .collect()
    }

    /// The traces of the powers 0 to `most`.
    fn traces(&self, most: usize) -> Vec<BigUint> {
        let size = self.grammar.size();
        let mut traces = vec![BigUint::ZERO; most + 1];
        for start in 0..size {
            let mut vector = vec![BigUint::ZERO; size];
            vector[start] = BigUint::from(1_u32);
            for trace in &mut traces {
                *trace += &vector[start];
                vector = self.times(&vector);
            }
        }
        traces
    }

    /// Walks of `steps` steps from `from` to `to`, weighted.
    fn walks(&self, from: &[BigUint], to: &[BigUint], steps: usize) -> BigUint {
        let walked = (0..steps).fold(to.to_vec(), |vector, _| self.times(&vector));
        from.iter().zip(&walked).map(|(from, to)| from * to).sum()
    }
}
