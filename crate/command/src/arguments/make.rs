//! What can be asked of the order `make`. Pieces, stations and profiles are
//! counted from 1; lengths are mm, angles degrees.

use super::numbers::{self, List};
use super::series::StationOptions;
use super::{ListOptions, SettingOptions};
use clap::{Args, ValueEnum};
use loftkin_exchange::shop::files;
use loftkin_form::body::wall::Side;
use loftkin_form::making::draft;
use loftkin_form::making::radius::ToolSide;
use std::path::PathBuf;

#[derive(Args)]
pub struct MakeOrder {
    /// A family file, SVG drawing, point list, share link, or - for standard
    /// input.
    #[arg(value_name = "FAMILY")]
    pub source: String,
    /// The folder for the pieces and their manifest. The same order goes on
    /// where an earlier one was stopped.
    #[arg(short, long = "out", value_name = "FOLDER")]
    pub out: PathBuf,
    /// The pieces to make, by their numbers in the series, as 1-50000 or
    /// 7,12,40-60, or all; without it the piece that the series file or the link
    /// has chosen, else all.
    #[arg(long, value_name = "NUMBERS", conflicts_with = "choose")]
    pub pieces: Option<String>,
    /// Make this many different pieces, chosen by chance.
    #[arg(long, value_name = "COUNT", value_parser = numbers::whole::<usize>(0, u64::MAX))]
    pub choose: Option<usize>,
    /// The seed of that choice: the same seed, the same pieces.
    #[arg(long, value_name = "SEED", default_value_t = 1, value_parser = numbers::whole::<u64>(0, u64::MAX), requires = "choose")]
    pub seed: u64,
    /// Files to write of each piece; without any, pieces are measured only.
    #[arg(long, value_name = "FORMATS", value_delimiter = ',')]
    pub format: Vec<Format>,
    /// How far meshes may be from the piece, in mm.
    #[arg(long, value_name = "MM", default_value_t = 0.1, value_parser = numbers::decimal)]
    pub tolerance: f64,
    /// Make only this share of the pieces, as 3/8 for the third of eight, so that
    /// several machines can make one run.
    #[arg(long, value_name = "I/N", value_parser = shard, default_value = "1/1")]
    pub shard: Shard,
    #[command(flatten)]
    pub stations: StationOptions,
    #[command(flatten)]
    pub sheet: SheetOptions,
    #[command(flatten)]
    pub checks: CheckOptions,
    #[command(flatten)]
    pub lists: ListOptions,
    #[command(flatten)]
    pub settings: SettingOptions,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// Triangles, binary.
    Stl,
    /// Exact B-spline surfaces (ISO 10303).
    Step,
    /// 3D Manufacturing Format.
    #[value(name = "3mf")]
    ThreeMf,
    /// glTF, binary, for showing.
    Gltf,
    /// A drawing of the profiles at their stations, true size.
    #[value(name = "svg-profiles")]
    SvgProfiles,
    /// A drawing of where the formed sheet is trimmed, true size.
    #[value(name = "svg-trim")]
    SvgTrim,
    /// A drawing of the sheet laid flat, where it can be, true size.
    #[value(name = "svg-flat")]
    SvgFlat,
}

impl Format {
    /// The file that it asks for.
    pub fn file(self) -> files::Format {
        match self {
            Self::Stl => files::Format::Stl,
            Self::Step => files::Format::Step,
            Self::ThreeMf => files::Format::ThreeMf,
            Self::Gltf => files::Format::Gltf,
            Self::SvgProfiles => files::Format::Profiles,
            Self::SvgTrim => files::Format::Trim,
            Self::SvgFlat => files::Format::Flat,
        }
    }
}

/// The share `index` (from 1) of `count`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shard {
    pub index: u64,
    pub count: u64,
}

fn shard(text: &str) -> Result<Shard, String> {
    let parts = text
        .split_once('/')
        .map(|(index, count)| (index.parse(), count.parse()));
    match parts {
        Some((Ok(index), Ok(count))) if 0 < index && index <= count => Ok(Shard { index, count }),
        _ => Err("give a share as 3/8, the first number from 1 to the second".to_owned()),
    }
}

/// How a mould is parted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Halves {
    /// One mould that is drawn one way.
    #[default]
    One,
    /// Two halves that are drawn opposite ways.
    Two,
}

impl From<Halves> for draft::Halves {
    fn from(halves: Halves) -> Self {
        match halves {
            Halves::One => Self::One,
            Halves::Two => Self::Two,
        }
    }
}

/// Which mould a piece is formed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Mould {
    /// It stands inside the piece; the cutter works on it from outside.
    #[default]
    Male,
    /// It lies around the piece; the cutter works in it from inside.
    Female,
}

impl From<Mould> for ToolSide {
    fn from(mould: Mould) -> Self {
        match mould {
            Mould::Male => Self::Outside,
            Mould::Female => Self::Inside,
        }
    }
}

/// Where the sheet lies against the drawn skin.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum SheetSide {
    /// Inside: the drawn skin is its outer face.
    Inside,
    /// Outside: the drawn skin is its inner face.
    Outside,
    /// Half to each side.
    #[default]
    Middle,
}

impl From<SheetSide> for Side {
    fn from(side: SheetSide) -> Self {
        match side {
            SheetSide::Inside => Self::Inside,
            SheetSide::Outside => Self::Outside,
            SheetSide::Middle => Self::Middle,
        }
    }
}

/// The sheet that pieces are pressed from.
#[derive(Args)]
pub struct SheetOptions {
    /// Where the sheet lies against the drawn skin: it decides about the inner bend
    /// radius, the room and the capacity.
    #[arg(
        long,
        value_enum,
        value_name = "SIDE",
        default_value_t,
        requires = "gauge"
    )]
    pub sheet: SheetSide,
    /// The gauge of the sheet, in mm.
    #[arg(long, value_name = "MM", value_parser = numbers::decimal)]
    pub gauge: Option<f64>,
    /// Its density, in g/cm³ (see the material's data sheet): adds to the
    /// manifest its mass as formed, its mass at the gauge of the flat sheet, and its
    /// capacity.
    #[arg(long, value_name = "G/CM3", value_parser = numbers::decimal, requires = "gauge")]
    pub density: Option<f64>,
}

/// Making checks: each limit that is given is checked on every piece. Estimates
/// for design: go by data sheets, local codes and licensed practice.
#[derive(Args)]
pub struct CheckOptions {
    /// The least draft to the direction of draw, in degrees. Undercuts and parting lines
    /// are told too.
    #[arg(long, value_name = "DEGREES", value_parser = numbers::decimal)]
    pub least_draft: Option<f64>,
    /// The direction in which the piece is drawn off its mould, as 0,0,1.
    #[arg(long, value_name = "X,Y,Z", value_parser = numbers::list)]
    pub draw: Vec<List<f64>>,
    /// Which mould the piece is formed on: it decides which hollows the cutter must
    /// reach, which edges are valleys, and which way the draft counts.
    #[arg(long, value_enum, value_name = "MOULD", default_value_t)]
    pub mould: Mould,
    /// How the mould comes off: in one part, or in two halves that part along a line
    /// and are drawn opposite ways. Right at the line a smooth skin has no draft: the
    /// width of the band without the least draft is told.
    #[arg(
        long,
        value_enum,
        value_name = "HALVES",
        default_value_t,
        requires = "least_draft"
    )]
    pub halves: Halves,
    /// The widest band without the least draft that is accepted beside the parting
    /// line of two halves, in mm along the skin.
    #[arg(long, value_name = "MM", value_parser = numbers::decimal, requires = "least_draft")]
    pub most_band: Option<f64>,
    /// The radius of the ball-nose cutter that mills the mould, in mm: hollows
    /// must be wider.
    #[arg(long, value_name = "MM", value_parser = numbers::decimal)]
    pub cutter: Option<f64>,
    /// What the cutter may leave at the bottom of a sharp valley, in mm; without it
    /// nothing, so that a sharp valley does not pass.
    #[arg(long, value_name = "MM", value_parser = numbers::decimal, requires = "cutter")]
    pub most_left: Option<f64>,
    /// The radius of a fillet that is assumed on every sharp edge, in mm; without it
    /// cutter, bend, pressure and room do not pass over sharp edges. It is not in the
    /// files: it must be made in the mould.
    #[arg(long, value_name = "MM", value_parser = numbers::decimal)]
    pub fillet: Option<f64>,
    /// From pass to pass of the cutter, in mm; passes lie in levels.
    #[arg(long, value_name = "MM", value_parser = numbers::decimal, requires = "cutter")]
    pub step_over: Option<f64>,
    /// The largest scallop between passes, in mm.
    #[arg(long, value_name = "MM", value_parser = numbers::decimal, requires = "step_over")]
    pub most_scallop: Option<f64>,
    /// The least inner bend radius of the sheet, in gauges.
    #[arg(long, value_name = "GAUGES", value_parser = numbers::decimal, requires = "gauge")]
    pub bend_gauges: Option<f64>,
    /// The least gauge after forming, in mm.
    #[arg(long, value_name = "MM", value_parser = numbers::decimal, requires = "gauge")]
    pub least_gauge: Option<f64>,
    /// The flow stress of the sheet when it is formed, in MPa.
    #[arg(long, value_name = "MPA", value_parser = numbers::decimal)]
    pub flow_stress: Option<f64>,
    /// The most gas pressure for forming, in MPa.
    #[arg(long, value_name = "MPA", value_parser = numbers::decimal, requires_all = ["flow_stress", "gauge"])]
    pub most_pressure: Option<f64>,
    /// Check that hollows, and walls of the skin that face one another, leave room for
    /// the gauge.
    #[arg(long, requires = "gauge")]
    pub room: bool,
}
