//! The plan of a run: the series, the pieces selected, what is written of each,
//! and the description by which a folder knows its run again.

use super::basis;
use super::checks::{Checks, ChecksError};
use super::columns;
use super::description::{self, AllowedForm, Description, StationForm};
use super::recovered::Order;
use crate::arguments::make::{Format, MakeOrder, Shard};
use crate::series::source::Counted;
use loftkin_exchange::series::{SeriesPlan, blend_word};
use loftkin_exchange::share;
use loftkin_form::body::wall::{Sheet, Side};
use loftkin_form::series::Series;
use loftkin_form::series::empty::Empty;
use loftkin_form::series::selection::{Selection, SelectionError};
use loftkin_form::solid::mesh::{COARSEST, FINEST};
use loftkin_kernel::table::Table;
use num_bigint::BigUint;
use serde_json::{Value, json};
use std::path::PathBuf;
use thiserror::Error;

/// The most pieces of one run.
const MOST_PIECES: u64 = 10_000_000;

/// How many pieces stand in one folder.
const IN_A_FOLDER: u64 = 1000;

/// What names all pieces, where the series has chosen one.
const ALL_PIECES: &str = "all";

/// Why there is nothing to make.
#[derive(Debug, Error)]
pub enum PlanError {
    /// A chordal tolerance that no mesh can have.
    #[error("a tolerance of {mm} mm: choose from 0.001 to 100 mm")]
    Tolerance {
        /// What was asked for.
        mm: f64,
    },
    /// No piece is proved.
    #[error("this series has no piece: {0}; see `loftkin check`")]
    Empty(Empty),
    #[error("{0}")]
    Checks(#[from] ChecksError),
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
    /// That of the folder, where its run has grown to this one.
    pub grown_from: Option<String>,
}

impl Plan {
    /// The plan of `order` for the series that it asks for.
    ///
    /// # Errors
    /// [`PlanError`].
    pub fn new(order: &MakeOrder, counted: Counted) -> Result<Self, PlanError> {
        if !(FINEST..=COARSEST).contains(&order.tolerance) {
            return Err(PlanError::Tolerance {
                mm: order.tolerance,
            });
        }
        let Counted {
            plan: asked,
            table,
            series,
            ..
        } = counted;
        if let Some(reason) = series.emptiness() {
            return Err(PlanError::Empty(reason));
        }
        let pieces = pieces(order, &asked);
        let selection = match (&pieces, order.choose) {
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
            grown_from: None,
            tolerance: order.tolerance,
            shard: order.shard,
            formats,
            selection,
            series,
            table,
        };
        plan.description = plan.described(order, &asked).text();
        Ok(plan)
    }

    /// All that decides the bytes of the pieces.
    fn described(&self, order: &MakeOrder, asked: &SeriesPlan) -> Description {
        let lists = asked.stations.iter().enumerate();
        let allowed = lists.filter_map(|(index, station)| {
            let profiles = station.profiles.as_ref()?.iter().map(|index| index + 1);
            Some(AllowedForm {
                station: index + 1,
                profiles: profiles.collect(),
            })
        });
        let formats = self
            .formats
            .iter()
            .map(|&format| columns::word(format).to_owned());
        let layout = self.series.layout().stations();
        Description {
            format: description::FORMAT.to_owned(),
            version: description::VERSION,
            program: env!("CARGO_PKG_VERSION").to_owned(),
            family: share::encode(self.table.family()),
            shares: self.shard.count,
            stations: layout.all().iter().map(StationForm::from).collect(),
            ring: layout.is_ring(),
            all_round: layout.is_all_round(),
            blend: blend_word(asked.blend).to_owned(),
            no_equal_neighbours: asked.no_equal_neighbours,
            allowed: allowed.collect(),
            series: self.series.count().to_string(),
            pieces: match (pieces(order, asked), order.choose) {
                (Some(text), _) => json!({"numbers": text}),
                (None, Some(count)) => json!({"choose": count, "seed": order.seed}),
                (None, None) => json!(ALL_PIECES),
            },
            files: formats.collect(),
            tolerance: self.tolerance,
            gauge: order.sheet.gauge,
            sheet: order
                .sheet
                .gauge
                .map(|_| Side::from(order.sheet.sheet).into()),
            density: order.sheet.density,
            checks: self.checks.limits(),
            columns: basis::table(&self.column_names()),
        }
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

    /// The names of the manifest's columns, files last.
    pub fn column_names(&self) -> Vec<String> {
        columns::names(self.sheet.is_some(), &self.checks, &self.formats)
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

    /// Goes on with the run that `described` tells, where this one asks for all of
    /// its pieces and otherwise for the same: those that are there keep their places.
    pub fn go_on_from(&mut self, described: &str) {
        let here = Description::read(described).zip(Description::read(&self.description));
        let Some((there, mut own)) = here else {
            return;
        };
        let Some(selection) = self.selected(&there.pieces) else {
            return;
        };
        let Some(grown) = selection.grown(&self.selection) else {
            return;
        };
        if grown != self.selection {
            own.pieces = json!({"numbers": grown.text()});
        }
        let description = own.text();
        own.pieces = there.pieces;
        if own.text() == described {
            self.selection = grown;
            self.description = description;
            self.grown_from = Some(described.to_owned());
        }
    }

    /// The ranges that a description names.
    fn selected(&self, pieces: &Value) -> Option<Selection> {
        let count = self.series.count();
        if *pieces == json!(ALL_PIECES) {
            return Selection::all(count, MOST_PIECES).ok();
        }
        Selection::parse_grown(pieces["numbers"].as_str()?, count, MOST_PIECES).ok()
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

impl Order for Plan {
    fn number_at(&self, place: u64) -> Option<String> {
        let number = (place < self.count()).then(|| self.number(place));
        Some(number.flatten()?.to_string())
    }

    fn place_of(&self, number: &str) -> Option<u64> {
        let index = self.selection.index(&number.parse().ok()?)?;
        let own = index.checked_sub(self.shard.index - 1)?;
        own.is_multiple_of(self.shard.count)
            .then_some(own / self.shard.count)
    }
}

/// The pieces that are named: by the order, else by the series; none for all of
/// them, and for a choice.
fn pieces(order: &MakeOrder, asked: &SeriesPlan) -> Option<String> {
    match (&order.pieces, order.choose) {
        (Some(text), _) if text.trim() == ALL_PIECES => None,
        (Some(text), _) => Some(text.clone()),
        (None, Some(_)) => None,
        (None, None) => asked.piece.as_ref().map(BigUint::to_string),
    }
}

/// What pieces weigh is known when both gauge and density are.
fn sheet(order: &MakeOrder) -> Option<Sheet> {
    let (gauge, density) = order.sheet.gauge.zip(order.sheet.density)?;
    Some(Sheet {
        gauge,
        density,
        side: order.sheet.sheet.into(),
        with_caps: false,
    })
}
