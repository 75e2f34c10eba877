//! What can be asked of the order `mend`. Profiles and nodes are counted from
//! 1, as a person counts; lengths are mm.

use super::numbers::{self, List};
use super::{ListOptions, SettingOptions};
use clap::Args;
use std::path::PathBuf;

#[derive(Args)]
pub struct MendOrder {
    /// A family file, SVG drawing, point list, share link, or - for standard
    /// input.
    #[arg(value_name = "FAMILY")]
    pub source: String,
    /// Write the mended family to this file, or to standard output for -. It is
    /// written only when all that was asked for is proved.
    #[arg(short, long = "out", value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Let the file be written over one that is there.
    #[arg(long, requires = "out")]
    pub overwrite: bool,
    /// When no mend is found, write the nearest approach all the same. It is not
    /// proved, and the exit code stays 1.
    #[arg(long, requires = "out")]
    pub nearest: bool,
    /// Mend these pairs only, as 2-5 or 2-5,3-4; else the whole family.
    #[arg(long = "pair", value_name = "PAIRS", value_parser = numbers::list_by(pair))]
    pub pairs: Vec<List<(usize, usize)>>,
    /// Mend for any blend of all profiles, beyond every pair.
    #[arg(long, conflicts_with = "pairs")]
    pub any_blend: bool,
    /// The margin that must be proved, in mm: how far every control point may
    /// then move at a kept pace (tooling, not nodes drawn elsewhere). It is asked of
    /// pairs, not of blends of three. Without it 0.2 mm, which a workshop can
    /// commonly hold, or as much as the clear pairs of the family have; 0 asks for
    /// no more than clear.
    #[arg(long, value_name = "MM", value_parser = numbers::decimal)]
    pub margin: Option<f64>,
    /// Let all profiles of the fault share the movement: less of it in all. Else a
    /// profile that has a part in every fault moves alone, where that is enough.
    #[arg(long)]
    pub share: bool,
    /// Move these profiles only, as 3 or 3,4.
    #[arg(long, value_name = "PROFILES", value_parser = numbers::list_by(number))]
    pub only: Vec<List<usize>>,
    /// Leave these nodes where they are, as 2:5 for node 5 of profile 2.
    #[arg(long, value_name = "NODES", value_parser = numbers::list_by(node))]
    pub pin: Vec<List<(usize, usize)>>,
    /// Make a profile dearer or cheaper to move than the others, as 2:10 for
    /// profile 2 tenfold.
    #[arg(long, value_name = "WEIGHTS", value_parser = weights)]
    pub weight: Vec<List<(usize, f64)>>,
    /// Leave the first and last nodes of open profiles where they are.
    #[arg(long)]
    pub keep_ends: bool,
    /// Keep the directions in which open profiles begin and end.
    #[arg(long)]
    pub keep_end_tangents: bool,
    /// Keep the total height of every profile.
    #[arg(long)]
    pub keep_height: bool,
    /// Keep the total width of every profile.
    #[arg(long)]
    pub keep_width: bool,
    /// Move nodes even where reversing a profile, moving a seam or another
    /// pacing would be enough.
    #[arg(long)]
    pub no_remedies: bool,
    /// Print a report for programs, as mend-report.schema.json describes it.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub lists: ListOptions,
    #[command(flatten)]
    pub settings: SettingOptions,
}

/// A number from 1 as an index from 0.
fn number(text: &str) -> Result<usize, String> {
    match text.trim().parse::<usize>() {
        Ok(number) if 0 < number => Ok(number - 1),
        _ => Err("give whole numbers from 1".to_owned()),
    }
}

/// Two profiles, counted from 0.
pub fn pair(text: &str) -> Result<(usize, usize), String> {
    let parts = text
        .split_once('-')
        .map(|(one, other)| (number(one), number(other)));
    match parts {
        Some((Ok(one), Ok(other))) => Ok((one, other)),
        _ => Err("give two profiles with a hyphen between them, as 2-5".to_owned()),
    }
}

fn node(text: &str) -> Result<(usize, usize), String> {
    let parts = text
        .split_once(':')
        .map(|(profile, node)| (number(profile), number(node)));
    match parts {
        Some((Ok(profile), Ok(node))) => Ok((profile, node)),
        _ => Err("give a profile and its node with a colon between them, as 2:5".to_owned()),
    }
}

/// Profiles and their weights.
pub fn weights(text: &str) -> Result<List<(usize, f64)>, String> {
    numbers::list_of(text, |entry| {
        let parts = entry.split_once(':').ok_or_else(|| {
            "give a profile and a number with a colon between them, as 2:10".to_owned()
        })?;
        let weight = numbers::decimal(parts.1).map_err(|error| error.to_string());
        Ok((number(parts.0)?, weight?))
    })
}
