//! The second part of a link: the plan of a series in few bits.
//!
//! The body, in order: ring, all round, blend, equal neighbours; the number of
//! stations; places, scales, shifts and turns, each as one row; the lists of
//! profiles; the piece number. A row of numbers with few decimals is written as
//! whole steps of the last one, foretold like points; any other as the bits of
//! its f64. So a plan comes back exactly.

use super::bits::{BitReader, BitWriter};
use super::body::{read_count, write_count};
use super::points::{read_row, write_row};
use super::seal::{Broken, Seal};
use crate::series::{BLENDS, PlannedStation, SeriesPlan};
use loftkin_form::stations::{Setting, Station};
use num_bigint::BigUint;
use thiserror::Error;

/// 24 stations with rows of any f64 that list 256 profiles drawn by lot take
/// below 20 000 characters.
const SEAL: Seal = Seal {
    mark: "series",
    version: 1,
    most_characters: 1 << 16,
};
/// The most decimals of a row of whole steps, and what marks any other row.
const MOST_DECIMALS: i32 = 6;
const ANY_ROW: u64 = 7;
/// Piece numbers of 1000 digits, the longest that are read, have 416 bytes.
const MOST_NUMBER_BYTES: usize = 416;

/// Why the series of a link cannot be read; the family beside it can.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum SeriesCodeError {
    /// Something else stands there.
    #[error("what follows the family in this link is no series: the family is read without it")]
    Foreign,
    /// A version that did not exist when this was built.
    #[error(
        "the series in this link is of version {version}, this program reads version 1: the family is read without it; open the link with a newer Loftkin to see the series"
    )]
    Newer {
        /// The version of the code.
        version: u32,
    },
    /// Characters are missing at the end.
    #[error(
        "the series in this link was cut short, {missing} characters are missing: the family is whole; copy the whole link once more for its series"
    )]
    CutShort {
        /// How many at least.
        missing: usize,
    },
    /// Characters were changed or added.
    #[error(
        "the series in this link is damaged: the family is whole; ask for the link once more for its series"
    )]
    Damaged,
}

impl From<Broken> for SeriesCodeError {
    fn from(broken: Broken) -> Self {
        match broken {
            Broken::Foreign => Self::Foreign,
            Broken::Newer { version } => Self::Newer { version },
            Broken::CutShort { missing } => Self::CutShort { missing },
            Broken::Damaged => Self::Damaged,
        }
    }
}

/// `plan` as the code that follows a family's.
pub fn encode_series(plan: &SeriesPlan) -> String {
    SEAL.close(&write(plan))
}

/// The plan of `code`, which is what follows the joint of a link.
///
/// # Errors
/// [`SeriesCodeError`]; never a plan that differs from the one that was shared.
pub fn decode_series(code: &str) -> Result<SeriesPlan, SeriesCodeError> {
    if SEAL.mark.starts_with(code) {
        let missing = SEAL.mark.len() - code.len() + 2;
        return Err(SeriesCodeError::CutShort { missing });
    }
    read(&SEAL.open(code)?).ok_or(SeriesCodeError::Damaged)
}

fn write(plan: &SeriesPlan) -> Vec<u8> {
    let mut writer = BitWriter::default();
    let (is_ring, all_round) = match plan.setting {
        Setting::Stack => (false, false),
        Setting::Ring { all_round } => (true, all_round),
    };
    writer.bit(is_ring);
    writer.bit(all_round);
    let blend = BLENDS.iter().position(|&(_, blend)| blend == plan.blend);
    writer.bits(blend.unwrap_or_default() as u64, 2);
    writer.bit(plan.no_equal_neighbours);
    write_count(&mut writer, plan.stations.len());
    let column = |of: fn(&Station) -> f64| -> Vec<f64> {
        let stations = plan.stations.iter();
        stations.map(|station| of(&station.place)).collect()
    };
    write_numbers(&mut writer, &column(|place| place.at));
    write_column(&mut writer, &column(|place| place.scale), 1.0);
    write_column(&mut writer, &column(|place| place.shift.x), 0.0);
    write_column(&mut writer, &column(|place| place.shift.y), 0.0);
    write_column(&mut writer, &column(|place| place.turn), 0.0);
    write_lists(&mut writer, plan);
    writer.bit(plan.piece.is_some());
    if let Some(number) = &plan.piece {
        let bytes = number.to_bytes_be();
        write_count(&mut writer, bytes.len());
        for byte in bytes {
            writer.bits(u64::from(byte), 8);
        }
    }
    writer.into_bytes()
}

/// The plan, or nothing when the bits are none that [`write()`] makes.
fn read(bytes: &[u8]) -> Option<SeriesPlan> {
    let mut reader = BitReader::new(bytes);
    let setting = match (reader.bit()?, reader.bit()?) {
        (false, false) => Setting::Stack,
        (false, true) => return None,
        (true, all_round) => Setting::Ring { all_round },
    };
    let (_, blend) = BLENDS[reader.bits(2)? as usize];
    let no_equal_neighbours = reader.bit()?;
    let count = read_count(&mut reader)?;
    let at = read_numbers(&mut reader, count)?;
    let scale = read_column(&mut reader, count, 1.0)?;
    let right = read_column(&mut reader, count, 0.0)?;
    let up = read_column(&mut reader, count, 0.0)?;
    let turn = read_column(&mut reader, count, 0.0)?;
    let lists = read_lists(&mut reader, count)?;
    let stations = lists.into_iter().enumerate();
    let stations = stations.map(|(index, profiles)| PlannedStation {
        place: Station::at(at[index])
            .scaled(scale[index])
            .shifted(right[index], up[index])
            .turned(turn[index]),
        profiles,
    });
    let plan = SeriesPlan {
        setting,
        blend,
        no_equal_neighbours,
        stations: stations.collect(),
        piece: read_piece(&mut reader)?,
    };
    reader.is_finished().then_some(plan)
}

fn read_piece(reader: &mut BitReader<'_>) -> Option<Option<BigUint>> {
    if !reader.bit()? {
        return Some(None);
    }
    let count = read_count(reader).filter(|&count| count <= MOST_NUMBER_BYTES)?;
    let bytes: Option<Vec<u8>> = (0..count)
        .map(|_| reader.bits(8).map(|byte| byte as u8))
        .collect();
    let number = BigUint::from_bytes_be(&bytes?);
    (number != BigUint::ZERO).then_some(Some(number))
}

/// A bit alone when all `values` are `usual`.
fn write_column(writer: &mut BitWriter, values: &[f64], usual: f64) {
    let differs = values
        .iter()
        .any(|value| value.to_bits() != usual.to_bits());
    writer.bit(differs);
    if differs {
        write_numbers(writer, values);
    }
}

fn read_column(reader: &mut BitReader<'_>, count: usize, usual: f64) -> Option<Vec<f64>> {
    match reader.bit()? {
        true => read_numbers(reader, count),
        false => Some(vec![usual; count]),
    }
}

fn write_numbers(writer: &mut BitWriter, values: &[f64]) {
    let in_steps = (0..=MOST_DECIMALS).find_map(|decimals| {
        let steps: Option<Vec<i64>> = values
            .iter()
            .map(|&value| whole_steps(value, decimals))
            .collect();
        Some((decimals, steps?))
    });
    match in_steps {
        Some((decimals, steps)) => {
            writer.bits(decimals as u64, 3);
            write_row(writer, &steps, &[]);
        }
        None => {
            writer.bits(ANY_ROW, 3);
            for value in values {
                writer.bits(value.to_bits(), 64);
            }
        }
    }
}

fn read_numbers(reader: &mut BitReader<'_>, count: usize) -> Option<Vec<f64>> {
    let kind = reader.bits(3)?;
    let least_bits = if kind == ANY_ROW { 64 } else { 1 };
    if reader.left() / least_bits < count {
        return None;
    }
    if kind == ANY_ROW {
        return (0..count)
            .map(|_| reader.bits(64).map(f64::from_bits))
            .collect();
    }
    let steps = read_row(reader, count, &[])?;
    Some(
        steps
            .into_iter()
            .map(|steps| steps as f64 / power_of_ten(kind as i32))
            .collect(),
    )
}

/// `value` as whole steps of its last decimal, if it is exactly so many.
fn whole_steps(value: f64, decimals: i32) -> Option<i64> {
    let scale = power_of_ten(decimals);
    let steps = (value * scale).round();
    let is_exact = steps.abs() <= f64::from(i32::MAX) && {
        // -0 and what rounding hid differ here.
        (steps as i64 as f64 / scale).to_bits() == value.to_bits()
    };
    is_exact.then_some(steps as i64)
}

/// Exact up to 10^22.
fn power_of_ten(exponent: i32) -> f64 {
    (0..exponent).fold(1.0, |power, _| 10.0 * power)
}

fn write_lists(writer: &mut BitWriter, plan: &SeriesPlan) {
    let any_list = plan
        .stations
        .iter()
        .any(|station| station.profiles.is_some());
    writer.bit(any_list);
    if !any_list {
        return;
    }
    for station in &plan.stations {
        writer.bit(station.profiles.is_some());
        if let Some(profiles) = &station.profiles {
            write_count(writer, profiles.len());
            let row: Vec<i64> = profiles
                .iter()
                // No family has profiles beyond this; the rules refuse it as well.
                .map(|&index| i64::from(i32::try_from(index).unwrap_or(i32::MAX)))
                .collect();
            write_row(writer, &row, &[]);
        }
    }
}

fn read_lists(reader: &mut BitReader<'_>, count: usize) -> Option<Vec<Option<Vec<usize>>>> {
    if !reader.bit()? {
        return Some(vec![None; count]);
    }
    (0..count)
        .map(|_| {
            if !reader.bit()? {
                return Some(None);
            }
            let length = read_count(reader)?;
            if reader.left() < length {
                return None;
            }
            let row = read_row(reader, length, &[])?;
            let profiles: Result<Vec<usize>, _> = row.into_iter().map(usize::try_from).collect();
            profiles.ok().map(Some)
        })
        .collect()
}
