//! What can be asked of the order `series`, and the stations that other orders
//! take as well. Pieces, stations and profiles are counted from 1; lengths are
//! mm, angles degrees.

use super::numbers::{self, List};
use super::{ListOptions, SettingOptions};
use clap::{Args, ValueEnum};
use loftkin_exchange::series::piece_number;
use loftkin_form::blend::{Blend, Degree};
use num_bigint::BigUint;
use std::path::PathBuf;

#[derive(Args)]
pub struct SeriesOrder {
    /// A family file, SVG drawing, point list, share link, or - for standard
    /// input.
    #[arg(value_name = "FAMILY")]
    pub source: String,
    /// Tell the arrangement of this piece.
    #[arg(long, value_name = "NUMBER", value_parser = piece, conflicts_with_all = ["arrangement", "choose"])]
    pub piece: Option<BigUint>,
    /// Tell the number of the piece of this arrangement, one profile a station,
    /// as 1,4,2.
    #[arg(long, value_name = "PROFILES", value_parser = numbers::list_by(profile), conflicts_with = "choose")]
    pub arrangement: Vec<List<usize>>,
    /// Tell this many different pieces, chosen by chance.
    #[arg(long, value_name = "COUNT", value_parser = numbers::whole::<u32>(1, 100_000))]
    pub choose: Option<u32>,
    /// The seed of that choice: the same seed, the same pieces.
    #[arg(long, value_name = "SEED", default_value_t = 1, value_parser = numbers::whole::<u64>(0, u64::MAX), requires = "choose")]
    pub seed: u64,
    /// Write the series to this file, with the piece that was asked for by
    /// --piece or --arrangement; or to standard output for -.
    #[arg(short, long = "out", value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Let the file be written over one that is there.
    #[arg(long, requires = "out")]
    pub overwrite: bool,
    /// Print a report for programs, as series-report.schema.json describes it.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub stations: StationOptions,
    #[command(flatten)]
    pub lists: ListOptions,
    #[command(flatten)]
    pub settings: SettingOptions,
}

/// The number of a piece.
pub fn piece(text: &str) -> Result<BigUint, String> {
    piece_number(text)
        .ok_or_else(|| "give the number of one piece, a whole number from 1".to_owned())
}

/// A number from 1 as an index from 0.
fn profile(text: &str) -> Result<usize, String> {
    let index = text.trim().parse::<usize>().ok();
    let index = index.and_then(|number| number.checked_sub(1));
    index.ok_or_else(|| "give profiles as whole numbers from 1, one a station".to_owned())
}

/// Where profiles stand, and how the stations are joined.
#[derive(Args)]
pub struct StationOptions {
    /// A series file, or - for standard input, in place of --at and the options
    /// that go with it. Without either, a link that holds a series is followed.
    #[arg(long, value_name = "FILE")]
    pub series: Option<PathBuf>,
    /// The stations: heights in mm, or in a ring angles in degrees, rising, as
    /// 0,90,180. With semicolons or spaces between them a comma is a decimal mark,
    /// in every list of numbers: 0;90,5;180.
    #[arg(
        long,
        value_name = "PLACES",
        value_parser = numbers::list,
        conflicts_with = "series"
    )]
    pub at: Vec<List<f64>>,
    /// A scale for each station.
    #[arg(
        long,
        value_name = "SCALES",
        value_parser = numbers::list,
        requires = "at",
        conflicts_with = "series"
    )]
    pub scales: Vec<List<f64>>,
    /// A turn for each station, for closed profiles, in degrees.
    #[arg(
        long,
        value_name = "DEGREES",
        value_parser = numbers::list,
        requires = "at",
        conflicts_with = "series"
    )]
    pub turns: Vec<List<f64>>,
    /// A shift to the right for each station, in mm.
    #[arg(
        long,
        value_name = "MM",
        value_parser = numbers::list,
        requires = "at",
        conflicts_with = "series"
    )]
    pub shifts_x: Vec<List<f64>>,
    /// A shift upward for each station, in mm.
    #[arg(
        long,
        value_name = "MM",
        value_parser = numbers::list,
        requires = "at",
        conflicts_with = "series"
    )]
    pub shifts_y: Vec<List<f64>>,
    /// In a ring, join the last station to the first.
    #[arg(long, requires = "at", conflicts_with = "series")]
    pub all_round: bool,
    /// How stations are joined.
    #[arg(
        long,
        default_value = "ruled",
        requires = "at",
        conflicts_with = "series"
    )]
    pub blend: BlendChoice,
    /// No profile beside itself.
    #[arg(long, requires = "at", conflicts_with = "series")]
    pub no_equal_neighbours: bool,
    /// Profiles that alone may stand at a station, as 1:3 or 2:1+4+5 (station 2
    /// takes profile 1, 4 or 5).
    #[arg(
        long,
        value_name = "STATION:PROFILES",
        value_parser = numbers::list_by(allowed),
        requires = "at",
        conflicts_with = "series"
    )]
    pub allow: Vec<List<(usize, Vec<usize>)>>,
}

impl StationOptions {
    /// Whether anything is asked for here, and not left to a link.
    pub fn are_given(&self) -> bool {
        self.series.is_some() || !self.at.is_empty()
    }
}

#[derive(Clone, Copy, ValueEnum)]
pub enum BlendChoice {
    /// Straight from station to station.
    Ruled,
    /// Smoothly through every station.
    Eased,
    /// A B-spline of degree 2.
    #[value(name = "b-spline-2")]
    BSpline2,
    /// A B-spline of degree 3.
    #[value(name = "b-spline-3")]
    BSpline3,
}

impl From<BlendChoice> for Blend {
    fn from(choice: BlendChoice) -> Self {
        match choice {
            BlendChoice::Ruled => Self::Ruled,
            BlendChoice::Eased => Self::Eased,
            BlendChoice::BSpline2 => Self::BSpline(Degree::Two),
            BlendChoice::BSpline3 => Self::BSpline(Degree::Three),
        }
    }
}

fn allowed(text: &str) -> Result<(usize, Vec<usize>), String> {
    let number = |text: &str| text.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    let parts = text.split_once(':').and_then(|(station, profiles)| {
        let profiles: Option<Vec<usize>> = profiles.split('+').map(number).collect();
        Some((number(station)?, profiles?))
    });
    parts.ok_or_else(|| "give a station and its profiles, as 2:1+4+5".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_exchange::series::BLENDS;

    #[test]
    fn blends_are_called_as_in_a_series_file() {
        let choices = BlendChoice::value_variants().iter().map(|&choice| {
            let value = choice.to_possible_value().unwrap();
            (value.get_name().to_owned(), Blend::from(choice))
        });
        let words = BLENDS.map(|(word, blend)| (word.to_owned(), blend));
        assert_eq!(choices.collect::<Vec<_>>(), words);
    }
}
