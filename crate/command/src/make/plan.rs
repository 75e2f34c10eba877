//! The plan of a run: the series, the pieces selected, what is written of each,
//! and the description by which a folder knows its run again.

use super::checks::{Checks, ChecksError};
use crate::arguments::make::{BlendChoice, Format, MakeOrder, Shard, StationOptions};
use loftkin_exchange::share;
use loftkin_form::blend::{Blend, Degree, Layout, LayoutError};
use loftkin_form::body::wall::{Sheet, Side};
use loftkin_form::series::rules::Rules;
use loftkin_form::series::selection::{Selection, SelectionError};
use loftkin_form::series::{Series, SeriesError};
use loftkin_form::solid::mesh::{COARSEST, FINEST};
use loftkin_form::stations::{Station, StationError, Stations};
use loftkin_kernel::family::Placement;
use loftkin_kernel::table::Table;
use num_bigint::BigUint;
use serde_json::json;
use std::path::PathBuf;
use thiserror::Error;

/// The most pieces of one run.
const MOST_PIECES: u64 = 10_000_000;

/// How many pieces stand in one folder.
const IN_A_FOLDER: u64 = 1000;

/// Why there is nothing to make.
#[derive(Debug, Error)]
pub enum PlanError {
    /// Lists of another length than the stations.
    #[error("{given} values for {option}, but {stations} stations: give one a station")]
    Length {
        /// The option.
        option: &'static str,
        /// How many values it has.
        given: usize,
        /// How many stations there are.
        stations: usize,
    },
    /// A rule for a station that is not there.
    #[error("there is no station {station} to allow profiles at: there are {stations}")]
    NoSuchStation {
        /// From 1.
        station: usize,
        /// How many there are.
        stations: usize,
    },
    /// All round without a ring.
    #[error("only a ring can be joined all round: the family stands as a stack; see --placement")]
    StackAllRound,
    /// A chordal tolerance that no mesh can have.
    #[error("a tolerance of {mm} mm: choose from 0.001 to 100 mm")]
    Tolerance {
        /// What was asked for.
        mm: f64,
    },
    /// No piece is proved.
    #[error(
        "this series has no piece: no arrangement over these stations is proved and keeps the rules; see `loftkin check`"
    )]
    Empty,
    #[error("{0}")]
    Checks(#[from] ChecksError),
    #[error("{0}")]
    Stations(#[from] StationError),
    #[error("{0}")]
    Layout(#[from] LayoutError),
    #[error("{0}")]
    Series(#[from] SeriesError),
    #[error("{0} (see --pieces and --choose)")]
    Selection(#[from] SelectionError),
}

/// What one run makes.
pub struct Plan {
    /// The judged family.
    pub table: Table,
    /// All pieces that can be made.
    pub series: Series,
    /// Those to be made.
    pub selection: Selection,
    /// The files of each.
    pub formats: Vec<Format>,
    /// For meshes, in mm.
    pub tolerance: f64,
    /// What they are pressed from, if that is known.
    pub sheet: Option<Sheet>,
    /// What is checked of each.
    pub checks: Checks,
    /// The share of this process.
    pub shard: Shard,
    /// The description, the same for all shares.
    pub description: String,
}

impl Plan {
    /// The plan of `order` for the family of `table`.
    ///
    /// # Errors
    /// [`PlanError`].
    pub fn new(order: &MakeOrder, table: Table) -> Result<Self, PlanError> {
        let layout = layout(&order.stations, table.family().settings.placement)?;
        let rules = rules(&order.stations, layout.stations().count())?;
        if !(FINEST..=COARSEST).contains(&order.tolerance) {
            return Err(PlanError::Tolerance {
                mm: order.tolerance,
            });
        }
        let series = Series::new(&table, layout, &rules)?;
        if *series.count() == BigUint::ZERO {
            return Err(PlanError::Empty);
        }
        let selection = match (&order.pieces, order.choose) {
            (Some(text), _) => Selection::parse(text, series.count(), MOST_PIECES)?,
            (None, Some(wanted)) if MOST_PIECES < wanted as u64 => {
                let count = BigUint::from(wanted);
                let most = MOST_PIECES;
                return Err(SelectionError::TooMany { count, most }.into());
            }
            (None, Some(wanted)) => Selection::Chosen(series.choose(order.seed, wanted)),
            (None, None) => Selection::all(series.count(), MOST_PIECES)?,
        };
        let mut formats: Vec<Format> = Vec::new();
        for &format in &order.format {
            if !formats.contains(&format) {
                formats.push(format);
            }
        }
        let mut plan = Self {
            checks: Checks::new(&order.checks, &order.sheet)?,
            sheet: sheet(order),
            description: String::new(),
            tolerance: order.tolerance,
            shard: order.shard,
            formats,
            selection,
            series,
            table,
        };
        plan.description = plan.described(order);
        Ok(plan)
    }

    /// All that decides the bytes of the pieces.
    fn described(&self, order: &MakeOrder) -> String {
        let stations: Vec<_> = self
            .series
            .layout()
            .stations()
            .all()
            .iter()
            .map(|station| {
                json!({"at": station.at, "scale": station.scale, "turn": station.turn,
                    "shift": [station.shift.x, station.shift.y]})
            })
            .collect();
        let allowed: Vec<_> = order
            .stations
            .allow
            .iter()
            .map(|(station, profiles)| {
                let profiles: Vec<usize> = profiles.iter().map(|index| index + 1).collect();
                json!({"station": station + 1, "profiles": profiles})
            })
            .collect();
        let pieces = match (&order.pieces, order.choose) {
            (Some(text), _) => json!({"numbers": text}),
            (None, Some(count)) => json!({"choose": count, "seed": order.seed}),
            (None, None) => json!("all"),
        };
        let formats: Vec<&str> = self.formats.iter().map(|&format| word(format)).collect();
        let description = json!({
            "format": "loftkin-run",
            "version": 1,
            "program": env!("CARGO_PKG_VERSION"),
            "family": share::encode(self.table.family()),
            "stations": stations,
            "all_round": order.stations.all_round,
            "blend": blend_word(order.stations.blend),
            "no_equal_neighbours": order.stations.no_equal_neighbours,
            "allowed": allowed,
            "series": self.series.count().to_string(),
            "pieces": pieces,
            "files": formats,
            "tolerance": self.tolerance,
            "gauge": order.sheet.gauge,
            "density": order.sheet.density,
            "checks": self.checks.description(),
        });
        // Strings, numbers and lists only: nothing that serialising refuses.
        serde_json::to_string_pretty(&description).unwrap_or_default() + "\n"
    }

    /// How many pieces this share makes.
    pub fn count(&self) -> u64 {
        let all = self.selection.count();
        let before = self.shard.index - 1;
        all.saturating_sub(before).div_ceil(self.shard.count)
    }

    /// The number of the piece at `line` of this share, from 0.
    pub fn number(&self, line: u64) -> Option<BigUint> {
        self.selection.number(self.index(line))
    }

    /// Where the file of the piece at `line` stands below the folder of the run.
    pub fn file_name(&self, line: u64, number: &BigUint, format: Format) -> String {
        let folder = self.index(line) / IN_A_FOLDER;
        format!("{folder:05}/piece-{number}{}", format.file().ending())
    }

    /// The folders for files, below the folder of the run.
    pub fn folders(&self) -> impl Iterator<Item = PathBuf> + use<> {
        let folders = if self.formats.is_empty() {
            0
        } else {
            self.selection.count().div_ceil(IN_A_FOLDER)
        };
        (0..folders).map(|folder| PathBuf::from(format!("{folder:05}")))
    }

    fn index(&self, line: u64) -> u64 {
        self.shard.index - 1 + line * self.shard.count
    }

    /// The name of the manifest of this share.
    pub fn manifest_name(&self) -> String {
        match self.shard.count {
            1 => "manifest.csv".to_owned(),
            count => format!("manifest-{}-of-{count}.csv", self.shard.index),
        }
    }
}

/// What `format` is called in the manifest.
pub fn word(format: Format) -> &'static str {
    match format {
        Format::Stl => "stl",
        Format::Step => "step",
        Format::ThreeMf => "3mf",
        Format::Gltf => "glb",
        Format::SvgProfiles => "profiles_svg",
        Format::SvgTrim => "trim_svg",
        Format::SvgFlat => "flat_svg",
    }
}

fn blend_word(blend: BlendChoice) -> &'static str {
    match blend {
        BlendChoice::Ruled => "ruled",
        BlendChoice::Eased => "eased",
        BlendChoice::BSpline2 => "b-spline-2",
        BlendChoice::BSpline3 => "b-spline-3",
    }
}

fn layout(options: &StationOptions, placement: Placement) -> Result<Layout, PlanError> {
    let count = options.at.len();
    let column = |option, values: &[f64], usual: f64| match values.len() {
        0 => Ok(vec![usual; count]),
        given if given == count => Ok(values.to_vec()),
        given => Err(PlanError::Length {
            option,
            given,
            stations: count,
        }),
    };
    let scales = column("--scales", &options.scales, 1.0)?;
    let turns = column("--turns", &options.turns, 0.0)?;
    let right = column("--shifts-x", &options.shifts_x, 0.0)?;
    let up = column("--shifts-y", &options.shifts_y, 0.0)?;
    let stations = (0..count)
        .map(|index| {
            Station::at(options.at[index])
                .scaled(scales[index])
                .turned(turns[index])
                .shifted(right[index], up[index])
        })
        .collect();
    let stations = match placement {
        Placement::Stack if options.all_round => return Err(PlanError::StackAllRound),
        Placement::Stack => Stations::stack(stations)?,
        Placement::Ring => Stations::ring(stations, options.all_round)?,
    };
    let blend = match options.blend {
        BlendChoice::Ruled => Blend::Ruled,
        BlendChoice::Eased => Blend::Eased,
        BlendChoice::BSpline2 => Blend::BSpline(Degree::Two),
        BlendChoice::BSpline3 => Blend::BSpline(Degree::Three),
    };
    Ok(Layout::new(stations, blend)?)
}

fn rules(options: &StationOptions, stations: usize) -> Result<Rules, PlanError> {
    let mut rules = Rules {
        no_equal_neighbours: options.no_equal_neighbours,
        ..Rules::default()
    };
    for (station, profiles) in &options.allow {
        rules.allowed.resize(stations, None);
        let Some(list) = rules.allowed.get_mut(*station) else {
            return Err(PlanError::NoSuchStation {
                station: station + 1,
                stations,
            });
        };
        list.get_or_insert_default().extend(profiles);
    }
    Ok(rules)
}

/// What pieces weigh is known when both gauge and density are.
fn sheet(order: &MakeOrder) -> Option<Sheet> {
    let (gauge, density) = order.sheet.gauge.zip(order.sheet.density)?;
    Some(Sheet {
        gauge,
        density,
        side: Side::Middle,
        with_caps: false,
    })
}
