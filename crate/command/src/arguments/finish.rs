//! What can be asked of the order `finish`. Heights are mm of the piece as it is
//! drawn; voltages V.

use super::numbers::{self, List};
use super::series::StationOptions;
use super::{ListOptions, SettingOptions};
use clap::Args;
use loftkin_exchange::finish::wished;
use loftkin_form::finish::colour::Srgb;
use num_bigint::BigUint;
use std::path::PathBuf;

#[derive(Args)]
pub struct FinishOrder {
    /// A family file, SVG drawing, point list, share link, or - for standard
    /// input.
    #[arg(value_name = "FAMILY", required_unless_present = "colour")]
    pub source: Option<String>,
    /// No piece: look for the films that come near this colour, as 3f6fb0 (red, green,
    /// blue), and print the voltages that grow them.
    #[arg(long, value_name = "RRGGBB", value_parser = colour, conflicts_with_all = ["source", "stops", "piece", "html", "StationOptions", "ListOptions", "SettingOptions"])]
    pub colour: Option<Srgb>,
    /// The piece, by its number in the series; else the one that the series file
    /// or link has chosen, else the first.
    #[arg(long, value_name = "NUMBER", value_parser = number)]
    pub piece: Option<BigUint>,
    /// The voltages wanted at heights of the piece, as 0:20,180:90; straight
    /// between them.
    #[arg(long, value_name = "MM:V", value_parser = stops, required_unless_present = "colour")]
    pub stops: Vec<List<(f64, f64)>>,
    #[command(flatten)]
    pub bath: BathOptions,
    /// The file for the table, CSV; else it is printed.
    #[arg(short, long = "out", value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Write a page as well, with the table and the colours on the piece.
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// Let files be written over those that are there.
    #[arg(long)]
    pub overwrite: bool,
    #[command(flatten)]
    pub stations: StationOptions,
    #[command(flatten)]
    pub lists: ListOptions,
    #[command(flatten)]
    pub settings: SettingOptions,
}

/// The bath and the lift. Colours are estimates for design: a trial strip in the
/// real bath decides.
#[derive(Args)]
pub struct BathOptions {
    /// How many nm of film a volt grows, measured on a trial strip in your bath;
    /// without it, all that sources say (2.0 to 2.8).
    #[arg(long, value_name = "NM", value_parser = numbers::decimal)]
    pub nm_per_volt: Option<f64>,
    /// How far that measure may be off, in per cent.
    #[arg(
        long,
        value_name = "PER CENT",
        default_value_t = 10.0,
        value_parser = numbers::decimal,
        requires = "nm_per_volt"
    )]
    pub within: f64,
    /// How thick the film is before any voltage, in nm.
    #[arg(long, value_name = "NM", default_value_t = 0.0, value_parser = numbers::decimal)]
    pub film_before: f64,
    /// The index of refraction of the oxide: 2.3 to 2.6 by source.
    #[arg(long, value_name = "INDEX", default_value_t = 2.5, value_parser = numbers::decimal)]
    pub oxide: f64,
    /// The colour is also told as it is seen so many degrees from straight on: 0 to 80.
    #[arg(long, value_name = "DEGREES", default_value_t = 60.0, value_parser = numbers::decimal)]
    pub aslant: f64,
    /// Up to which voltage your trial strip grew along a straight line, in V.
    #[arg(long, value_name = "V", value_parser = numbers::decimal)]
    pub linear_to: Option<f64>,
    /// The voltage at which your bath breaks down, in V, from its data sheet or a trial; a
    /// lift that reaches it is refused.
    #[arg(long, value_name = "V", value_parser = numbers::decimal)]
    pub breakdown: Option<f64>,
    /// The fastest rise that your supply gives, in V a second; a lift that asks for more is
    /// refused.
    #[arg(long, value_name = "V/S", value_parser = numbers::decimal)]
    pub most_rise: Option<f64>,
    /// The most current that your supply gives, in A.
    #[arg(long, value_name = "A", value_parser = numbers::decimal)]
    pub most_current: Option<f64>,
    /// How fast the piece is lifted, in mm a minute.
    #[arg(long, value_name = "MM/MIN", default_value_t = 50.0, value_parser = numbers::decimal)]
    pub lift: f64,
    /// Rows of the table.
    #[arg(long, value_name = "COUNT", default_value_t = 25, value_parser = numbers::whole::<u16>(2, 2000))]
    pub rows: u16,
}

/// Heights and their voltages.
pub fn stops(text: &str) -> Result<List<(f64, f64)>, String> {
    numbers::list_of(text, |stop| {
        let parts = stop.split_once(':').ok_or_else(|| {
            "give a height in mm and a voltage with a colon between them, as 180:90".to_owned()
        })?;
        let number = |text| numbers::decimal(text).map_err(|error| error.to_string());
        Ok((number(parts.0)?, number(parts.1)?))
    })
}

fn colour(text: &str) -> Result<Srgb, String> {
    wished::colour(text).map_err(|error| error.to_string())
}

/// The number of a piece.
pub fn number(text: &str) -> Result<BigUint, String> {
    let number = text.trim().parse::<BigUint>();
    number.map_err(|_| "give the number of a piece, from 1".to_owned())
}
