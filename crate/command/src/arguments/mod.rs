//! What can be asked of the command. Here stand the orders on verdicts and
//! forms, and the options that all orders share.

pub mod finish;
pub mod make;
pub mod mend;
pub mod minus;
pub mod numbers;
pub mod refusal;
pub mod series;

use clap::{Args, Parser, Subcommand, ValueEnum};
use finish::{BathOptions, FinishOrder};
use loftkin_exchange::import::Take;
use loftkin_exchange::point_list::Reading;
use loftkin_kernel::family::{Family, FamilyError, Pacing, Placement, TenthsOfDegree};
use make::MakeOrder;
use mend::MendOrder;
use num_bigint::BigUint;
use numbers::List;
use series::{SeriesOrder, StationOptions};
use std::path::PathBuf;

/// Proves that the lofts between profile curves never fold, twist or cross
/// themselves, or shows where they do.
#[derive(Parser)]
#[command(name = "loftkin", version)]
pub struct Arguments {
    #[command(subcommand)]
    pub order: Order,
}

#[derive(Subcommand)]
pub enum Order {
    /// Judge every pair of each family. Exit code 0: all clear; 1: a fault;
    /// 2: bad input or use; 3: no fault, but something unproven; with
    /// --any-blend also 4: all pairs clear, but not proved for any blend.
    Check(CheckOrder),
    /// Find the least movement of nodes after which the pairs are proved clear.
    /// Exit code 0: proved, or clear already; 1: no mend found; 2: bad input or
    /// use.
    Mend(MendOrder),
    /// Count the pieces of the series that the family yields over stations, tell
    /// the arrangement of a piece number or the number of an arrangement, and
    /// write the series as a file. Exit code 0: told; 1: the series has no piece,
    /// or not the one asked for; 2: bad input or use.
    Series(Box<SeriesOrder>),
    /// Make pieces of the series that the family yields over stations: prove,
    /// measure, check and write them. Exit code 0: all made; 1: some lack a file
    /// or fail a check; 2: bad
    /// input or use; 3: stopped by the system (disk full, no permission), to go
    /// on when given again.
    Make(Box<MakeOrder>),
    /// Work out how to lift a piece out of an anodising bath for colour along its
    /// height: a table of voltage against height; or with --colour, which voltages
    /// come near a colour. Exit code 0: written; 1: no film comes near the colour;
    /// 2: bad input or use.
    Finish(Box<FinishOrder>),
    /// Print the share code of a family, with its series when one is given, for
    /// the fragment of a link. Exit code 0: printed; 2: bad input or use.
    Link(Box<LinkOrder>),
    /// Print a family in another form.
    Write(WriteOrder),
    /// Write a report: one page of HTML that needs nothing else, with tables,
    /// findings and pictures. Exit code 0: written; 2: bad input or use.
    Report(Box<ReportOrder>),
}

#[derive(Args)]
pub struct CheckOrder {
    /// Family files, SVG drawings, point lists, share links, or - for standard
    /// input.
    #[arg(required = true, value_name = "FAMILY")]
    pub sources: Vec<String>,
    /// Print a report for programs, as check-report.schema.json describes it.
    #[arg(long)]
    pub json: bool,
    /// Verdicts only: leave out regions, margins and remedies.
    #[arg(long)]
    pub brief: bool,
    /// Ask for every blend of all profiles too, not only for every pair: exit
    /// code 4 when all pairs are clear and some blend of three is not proved.
    #[arg(long)]
    pub any_blend: bool,
    /// Look how far nodes may move, the pace worked out anew, for every pair free
    /// of folds and crossings: the least movement found that breaks it, and what is
    /// proved. It takes up to a second a pair.
    #[arg(long, conflicts_with = "brief")]
    pub node_margins: bool,
    /// Write the proof to this file, for checkers of its own (one family only).
    #[arg(long, value_name = "FILE")]
    pub proof: Option<PathBuf>,
    #[command(flatten)]
    pub lists: ListOptions,
    #[command(flatten)]
    pub settings: SettingOptions,
}

#[derive(Args)]
pub struct LinkOrder {
    /// A family file, SVG drawing, point list, share link, or - for standard
    /// input.
    #[arg(value_name = "FAMILY")]
    pub source: String,
    /// Put the code behind the address of a page.
    #[arg(long, value_name = "URL")]
    pub page: Option<String>,
    /// The piece of the series that the link points at.
    #[arg(long, value_name = "NUMBER", value_parser = series::piece)]
    pub piece: Option<BigUint>,
    #[command(flatten)]
    pub stations: StationOptions,
    #[command(flatten)]
    pub lists: ListOptions,
    #[command(flatten)]
    pub settings: SettingOptions,
}

#[derive(Args)]
pub struct ReportOrder {
    /// A family file, SVG drawing, point list, share link, or - for standard
    /// input.
    #[arg(value_name = "FAMILY")]
    pub source: String,
    /// The file for the report; else it is printed.
    #[arg(short, long = "out", value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Let the file be written over one that is there.
    #[arg(long, requires = "out")]
    pub overwrite: bool,
    /// Tell how far nodes may move as well, as the order check does.
    #[arg(long)]
    pub node_margins: bool,
    /// Tell of the pieces in this folder as well, which `loftkin make` made.
    #[arg(long, value_name = "FOLDER")]
    pub run: Option<PathBuf>,
    /// Tell of the finish of a piece of the run as well: its voltages at heights
    /// in mm, as 0:20,180:90 (see the order finish).
    #[arg(long, value_name = "MM:V", value_parser = finish::stops, requires = "run")]
    pub stops: Vec<List<(f64, f64)>>,
    /// That piece, by its number in the series.
    #[arg(long, value_name = "NUMBER", default_value = "1", value_parser = finish::number, requires = "stops")]
    pub piece: BigUint,
    #[command(flatten)]
    pub bath: BathOptions,
    #[command(flatten)]
    pub lists: ListOptions,
    #[command(flatten)]
    pub settings: SettingOptions,
}

#[derive(Args)]
pub struct WriteOrder {
    /// A family file, SVG drawing, point list, share link, or - for standard
    /// input.
    #[arg(value_name = "FAMILY")]
    pub source: String,
    /// The form to print.
    #[arg(long = "as", value_name = "FORM", default_value = "family")]
    pub form: Form,
    /// Print instead an SVG picture of the loft between two profiles, as 2-5, with
    /// its faults: drawn from samples, it proves nothing.
    #[arg(long, value_name = "PAIR", conflicts_with = "form", value_parser = mend::pair)]
    pub loft: Option<(usize, usize)>,
    #[command(flatten)]
    pub lists: ListOptions,
    #[command(flatten)]
    pub settings: SettingOptions,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum Form {
    /// The family file, JSON.
    Family,
    /// An SVG drawing of the profiles.
    Svg,
}

/// How point lists and drawings are to be read.
#[derive(Args)]
pub struct ListOptions {
    /// For point lists: how many mm one unit is, as the chord of a wing section.
    #[arg(long, value_name = "MM", value_parser = numbers::decimal)]
    pub scale: Option<f64>,
    /// For point lists: read every profile as closed, or as open.
    #[arg(long, value_name = "YES|NO")]
    pub closed: Option<YesNo>,
    /// Of a drawing or list that mixes open and closed profiles, take only these.
    #[arg(long, value_name = "KIND")]
    pub take: Option<TakeChoice>,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum TakeChoice {
    /// The open profiles.
    Open,
    /// The closed profiles.
    Closed,
}

#[derive(Clone, Copy, PartialEq, ValueEnum)]
pub enum YesNo {
    /// Closed.
    Yes,
    /// Open.
    No,
}

impl ListOptions {
    pub fn reading(&self) -> Reading {
        Reading {
            scale: self.scale,
            closed: self.closed.map(|answer| answer == YesNo::Yes),
            take: self.take.map(|choice| match choice {
                TakeChoice::Open => Take::Open,
                TakeChoice::Closed => Take::Closed,
            }),
        }
    }
}

/// Settings to put in place of those that the family brings.
#[derive(Args)]
pub struct SettingOptions {
    /// Which point of one profile meets which of another.
    #[arg(long)]
    pub pacing: Option<PacingChoice>,
    /// Profiles in parallel planes, or in half-planes around an axis.
    #[arg(long)]
    pub placement: Option<PlacementChoice>,
    /// The largest twist allowed, above 0 and below 180.
    #[arg(long, value_name = "DEGREES", value_parser = tenths)]
    pub twist_limit: Option<TenthsOfDegree>,
    /// The largest crease allowed at a smooth joint, above 0, at most 90.
    #[arg(long, value_name = "DEGREES", value_parser = tenths)]
    pub crease_limit: Option<TenthsOfDegree>,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum PacingChoice {
    /// By chord length.
    Parameter,
    /// Node by node; all profiles need the same number.
    Node,
}

#[derive(Clone, Copy, ValueEnum)]
pub enum PlacementChoice {
    /// Parallel planes.
    Stack,
    /// Half-planes around an axis, x the distance from it.
    Ring,
}

impl SettingOptions {
    /// Puts what was asked for in place of the settings of `family`.
    pub fn apply(&self, family: &mut Family) -> Result<(), FamilyError> {
        let settings = &mut family.settings;
        match self.pacing {
            Some(PacingChoice::Parameter) => settings.pacing = Pacing::Parameter,
            Some(PacingChoice::Node) => settings.pacing = Pacing::Node,
            None => {}
        }
        match self.placement {
            Some(PlacementChoice::Stack) => settings.placement = Placement::Stack,
            Some(PlacementChoice::Ring) => settings.placement = Placement::Ring,
            None => {}
        }
        settings.twist_limit = self.twist_limit.unwrap_or(settings.twist_limit);
        settings.crease_limit = self.crease_limit.unwrap_or(settings.crease_limit);
        settings.validate()
    }
}

fn tenths(text: &str) -> Result<TenthsOfDegree, String> {
    let degrees = numbers::decimal(text).map_err(|error| error.to_string())?;
    let tenths = (degrees * 10.0).round();
    if (0.0..=65_535.0).contains(&tenths) && (tenths / 10.0 - degrees).abs() < 1e-9 {
        Ok(TenthsOfDegree(tenths as u16))
    } else {
        Err("give degrees above 0 with one decimal at most".to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn options_do_not_clash() {
        Arguments::command().debug_assert();
    }
}
