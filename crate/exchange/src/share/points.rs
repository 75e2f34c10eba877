//! Rows of grid points in few bits: each point is foretold, only the miss is
//! written.
//!
//! Three ways to foretell are tried for each row and the shortest is kept: from
//! the point before, from the two points before (a straight run), and from the
//! same step of the row before (siblings of a family look alike). Nothing is
//! lost: the points come back exactly.

use super::bits::{BitReader, BitWriter, golomb_length};
use loftkin_kernel::grid::GridPoint;

/// Orders of the Golomb code that are tried; written in five bits.
const ORDERS: u32 = 24;

#[derive(Clone, Copy)]
enum Foretelling {
    Standing,
    Straight,
    Sibling,
}

impl Foretelling {
    const ALL: [Self; 3] = [Self::Standing, Self::Straight, Self::Sibling];

    /// What coordinate `index` of a row should be, from those `before` it in
    /// the row and from the row before.
    fn foretell(self, before: &[i64], sibling: &[i64]) -> i64 {
        let index = before.len();
        let last = before.last().copied();
        match self {
            Self::Standing => last.unwrap_or(0),
            Self::Straight if 2 <= index => 2 * before[index - 1] - before[index - 2],
            Self::Straight => last.unwrap_or(0),
            Self::Sibling => match (sibling.get(index), last) {
                (Some(&here), None) => here,
                (Some(&here), Some(last)) => last + here - sibling[index - 1],
                (None, last) => last.unwrap_or(0),
            },
        }
    }
}

/// Writes `row`, whose length the reader must know; `sibling` is the row before.
pub(super) fn write(writer: &mut BitWriter, row: &[GridPoint], sibling: &[GridPoint]) {
    for (values, sibling) in axes(row).iter().zip(&axes(sibling)) {
        write_row(writer, values, sibling);
    }
}

/// Reads a row of `count` points. Takes memory only for points that are there.
pub(super) fn read(
    reader: &mut BitReader<'_>,
    count: usize,
    sibling: &[GridPoint],
) -> Option<Vec<GridPoint>> {
    // Every coordinate takes a bit at least.
    if reader.left() / 2 < count {
        return None;
    }
    let sibling = axes(sibling);
    let xs = read_row(reader, count, &sibling[0])?;
    let ys = read_row(reader, count, &sibling[1])?;
    let pair = |(x, y): (i64, i64)| {
        Some(GridPoint::new(
            i32::try_from(x).ok()?,
            i32::try_from(y).ok()?,
        ))
    };
    xs.into_iter().zip(ys).map(pair).collect()
}

fn axes(row: &[GridPoint]) -> [Vec<i64>; 2] {
    [
        row.iter().map(|point| i64::from(point.x)).collect(),
        row.iter().map(|point| i64::from(point.y)).collect(),
    ]
}

fn misses(way: Foretelling, values: &[i64], sibling: &[i64]) -> Vec<u64> {
    (0..values.len())
        .map(|index| zigzag(values[index] - way.foretell(&values[..index], sibling)))
        .collect()
}

/// Writes whole numbers of 32 bits, whose count the reader must know.
pub(super) fn write_row(writer: &mut BitWriter, values: &[i64], sibling: &[i64]) {
    let length = |misses: &[u64], order| -> u64 {
        misses
            .iter()
            .map(|&miss| u64::from(golomb_length(miss, order)))
            .sum()
    };
    let (mut way, mut order, mut shortest) = (0, 0, u64::MAX);
    for (index, &candidate) in Foretelling::ALL.iter().enumerate() {
        let misses = misses(candidate, values, sibling);
        for candidate in 0..ORDERS {
            let bits = length(&misses, candidate);
            if bits < shortest {
                (way, order, shortest) = (index, candidate, bits);
            }
        }
    }
    writer.bits(way as u64, 2);
    writer.bits(u64::from(order), 5);
    for miss in misses(Foretelling::ALL[way], values, sibling) {
        writer.golomb(miss, order);
    }
}

/// Reads a row of `count` numbers. The caller has seen that there are as many
/// bits.
pub(super) fn read_row(
    reader: &mut BitReader<'_>,
    count: usize,
    sibling: &[i64],
) -> Option<Vec<i64>> {
    let way = *Foretelling::ALL.get(reader.bits(2)? as usize)?;
    let order = reader.bits(5)? as u32;
    if ORDERS <= order {
        return None;
    }
    let mut values = Vec::with_capacity(count);
    for _ in 0..count {
        let miss = unzigzag(reader.golomb(order)?);
        let value = way.foretell(&values, sibling) + miss;
        // Keeps the next sum far from overflow.
        i32::try_from(value).ok()?;
        values.push(value);
    }
    Some(values)
}

/// 0, -1, 1, -2, 2 ... as 0, 1, 2, 3, 4 ...
fn zigzag(value: i64) -> u64 {
    ((value << 1) ^ (value >> 63)) as u64
}

fn unzigzag(value: u64) -> i64 {
    (value >> 1) as i64 ^ -((value & 1) as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_furthest_points_come_back() {
        let (low, high) = (i32::MIN, i32::MAX);
        let row = [
            GridPoint::new(low, high),
            GridPoint::new(high, low),
            GridPoint::new(low, high),
            GridPoint::new(0, -1),
        ];
        let mut writer = BitWriter::default();
        write(&mut writer, &row, &[]);
        write(&mut writer, &row[1..], &row);
        let bytes = writer.into_bytes();
        let mut reader = BitReader::new(&bytes);
        assert_eq!(read(&mut reader, 4, &[]).as_deref(), Some(&row[..]));
        assert_eq!(read(&mut reader, 3, &row).as_deref(), Some(&row[1..]));
    }

    #[test]
    fn a_count_beyond_the_bits_takes_no_memory() {
        let mut reader = BitReader::new(&[0xff; 4]);
        assert_eq!(read(&mut reader, usize::MAX / 4, &[]), None);
    }
}
