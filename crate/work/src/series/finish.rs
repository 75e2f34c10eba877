//! The finish of a piece: the lift-out programme for the bath, its colours along
//! the height with what the calibration leaves unsure, and the table to work by.

use super::session::{SeriesFailure, SeriesSession};
use loftkin_form::body::extent;
use loftkin_form::finish::colour::{Srgb, colour};
use loftkin_form::finish::film::{Calibration, CalibrationError};
use loftkin_form::finish::interference::{Coating, Metal};
use loftkin_form::finish::programme::{Finish, Programme, ProgrammeError, Row, Stop};
use loftkin_form::finish::{CAUTION, MODEL};
use serde::{Deserialize, Serialize};
use std::fmt::Write as _;
use thiserror::Error;

/// Colours of a strip along the height, and of the chart of films.
const STRIP: usize = 256;

/// The thickest film of the chart, nm.
const CHART: f64 = 400.0;

/// The most lines of a table.
const MOST_ROWS: usize = 200;

/// The longest lift-out, minutes: a day.
const LONGEST: f64 = 1440.0;

/// Indices between which an oxide may lie.
const OXIDE: (f64, f64) = (1.5, 3.5);

/// The spread of channels below which a colour is a grey, and below which pale.
const GREY: u8 = 24;
const PALE: u8 = 72;

/// What is done in every shop, beside the cautions of the programme.
const HANDLING: &str = "Rinse in clean water before and after each bath, and let the piece dry before it is handled. Never mix baths, cleaners or etchants; add acid to water, never water to acid (common practice). Wear gloves, goggles and an apron made for the acid, and ventilate: the bath gives off hydrogen. Have the bath, its supply and its waste approved under local codes.";

/// Said of every colour.
const SCREEN: &str = "Colours on a screen are estimates: a screen, the light and the texture of the metal each change them. Judge by a trial strip in your own bath.";

/// A height of the piece with the voltage at which it leaves the bath.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct StopWish {
    /// Of the piece as it stands in space, mm.
    pub height: f64,
    /// V.
    pub volts: f64,
}

/// A lift-out to be worked out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct FinishWish {
    /// Film growth as measured.
    pub nm_per_volt: f64,
    /// The least and the most that it may be.
    pub lowest: f64,
    /// The most.
    pub highest: f64,
    /// The film before any voltage, nm.
    pub start: f64,
    /// The index of refraction of the oxide.
    pub oxide: f64,
    /// Whether the piece hangs upside down.
    pub over: bool,
    /// From what leaves the bath first.
    pub stops: Vec<StopWish>,
    /// How long the lift-out takes.
    pub minutes: f64,
    /// Lines of the table.
    pub rows: usize,
}

/// A patch of a trial strip.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct PatchWish {
    /// The film that its colour shows, nm.
    pub film: f64,
    /// The voltage that it was grown at.
    pub volts: f64,
    /// How unsure that is, percent.
    pub percent: f64,
}

/// Why there is no finish.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum FinishFailure {
    /// No such piece.
    #[error(transparent)]
    Series(#[from] SeriesFailure),
    /// The programme or the calibration.
    #[error(transparent)]
    Programme(#[from] ProgrammeError),
    /// A lift-out that takes no time, or days.
    #[error("a lift-out of {minutes} minutes: give above 0 to 1440")]
    Minutes {
        /// What was given.
        minutes: f64,
    },
    /// No oxide of titanium.
    #[error("an oxide of index {oxide}: give 1.5 to 3.5 (anodic oxide of titanium: 2.3 to 2.6)")]
    Oxide {
        /// What was given.
        oxide: f64,
    },
    /// A table that none can be worked by.
    #[error("a table of {rows} lines: give 2 to 200")]
    Rows {
        /// What was given.
        rows: usize,
    },
    /// A patch that tells nothing.
    #[error(
        "a patch of {film} nm at {volts} V, unsure by {percent} %: give a film and a voltage above 0, and 0 to 99 %"
    )]
    Patch {
        /// nm.
        film: f64,
        /// V.
        volts: f64,
        /// Percent.
        percent: f64,
    },
}

/// One line of the table for the bath.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct BathRow {
    /// The height of the piece at the surface of the bath, mm.
    pub height: f64,
    /// V.
    pub volts: f64,
    /// Since the first stop left the bath: minutes and seconds.
    pub time: String,
    /// nm.
    pub film: f64,
    /// The thinnest and the thickest that it may be, nm.
    pub range: [f64; 2],
    /// The colour as #rrggbb; then of the thinnest and of the thickest.
    pub colours: [String; 3],
    /// The same in words.
    pub words: [String; 3],
}

/// The finish of a piece.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct FinishMessage {
    /// The lowest and the highest place of the piece, mm.
    pub heights: [f64; 2],
    /// Colours as #rrggbb at even heights from the lowest to the highest.
    pub strip: Vec<String>,
    /// The same of the thinnest film that the calibration allows.
    pub thinnest: Vec<String>,
    /// And of the thickest.
    pub thickest: Vec<String>,
    /// The table for the bath, in the order of the work.
    pub rows: Vec<BathRow>,
    /// The same as comma-separated values.
    pub csv: String,
    /// Speed, uncertainty, and where stops do not reach: a sentence an entry.
    pub said: Vec<String>,
    /// Colours of films from 0 to [`FinishMessage::chart_to`] nm.
    pub chart: Vec<String>,
    /// In nm.
    pub chart_to: f64,
    /// What can hurt, and what the model leaves out.
    pub cautions: Vec<String>,
}

impl SeriesSession {
    /// A lift-out of piece `number` to start from: not calibrated, over its whole
    /// height.
    ///
    /// # Errors
    /// [`SeriesFailure`].
    pub fn usual_finish(&self, number: &str) -> Result<FinishWish, SeriesFailure> {
        let piece = self.form(&self.number_in(number)?)?;
        let (low, high) = extent(&piece);
        let usual = Calibration::default();
        // To the hundredth, outward, so that both ends are covered.
        let stop = |height: f64, volts| StopWish { height, volts };
        Ok(FinishWish {
            nm_per_volt: usual.nm_per_volt,
            lowest: usual.range.0,
            highest: usual.range.1,
            start: usual.start,
            oxide: Coating::default().oxide,
            over: false,
            stops: vec![
                stop((100.0 * high.z).ceil() / 100.0, 15.0),
                stop((100.0 * low.z).floor() / 100.0 + 0.0, 60.0),
            ],
            minutes: 5.0,
            rows: 13,
        })
    }

    /// The finish of piece `number` by the lift-out of `wish`.
    ///
    /// # Errors
    /// [`FinishFailure`].
    pub fn finish(&self, number: &str, wish: &FinishWish) -> Result<FinishMessage, FinishFailure> {
        let piece = self.form(&self.number_in(number)?)?;
        let (low, high) = extent(&piece);
        finish(wish, (low.z, high.z))
    }
}

/// What a patch of a trial strip says of the bath: nm per volt, least and most.
///
/// # Errors
/// [`FinishFailure::Patch`].
pub fn calibrated(patch: PatchWish) -> Result<[f64; 3], FinishFailure> {
    let PatchWish {
        film,
        volts,
        percent,
    } = patch;
    let is_told = 0.0 < film && 0.0 < volts && (0.0..=99.0).contains(&percent);
    if !(is_told && film.is_finite() && volts.is_finite()) {
        return Err(FinishFailure::Patch {
            film,
            volts,
            percent,
        });
    }
    let found = Calibration::from_patch(film, volts, percent / 100.0);
    Ok([found.nm_per_volt, found.range.0, found.range.1])
}

/// The finish of a piece that reaches from the one to the other of `heights`.
///
/// # Errors
/// [`FinishFailure`].
pub fn finish(wish: &FinishWish, heights: (f64, f64)) -> Result<FinishMessage, FinishFailure> {
    let (minutes, oxide, rows) = (wish.minutes, wish.oxide, wish.rows);
    if !(0.0 < minutes && minutes <= LONGEST) {
        return Err(FinishFailure::Minutes { minutes });
    }
    if !(OXIDE.0..=OXIDE.1).contains(&oxide) {
        return Err(FinishFailure::Oxide { oxide });
    }
    if !(2..=MOST_ROWS).contains(&rows) {
        return Err(FinishFailure::Rows { rows });
    }
    let bath = Bath::new(wish)?;
    let table = bath.table(minutes, rows)?;
    let even = |step: usize| step as f64 / (STRIP - 1) as f64;
    let strip: Vec<Finish> = (0..STRIP)
        .map(|step| bath.at(heights.0 + (heights.1 - heights.0) * even(step)))
        .collect();
    let hexes = |colour: fn(&Finish) -> Srgb| strip.iter().map(|at| hex(colour(at))).collect();
    Ok(FinishMessage {
        heights: [heights.0, heights.1],
        strip: hexes(|at| at.colour),
        thinnest: hexes(|at| at.colour_range.0),
        thickest: hexes(|at| at.colour_range.1),
        csv: csv(&table),
        rows: table,
        said: said(wish, &bath, heights),
        chart: (0..STRIP)
            .map(|step| hex(colour(&bath.coating, CHART * even(step), 0.0)))
            .collect(),
        chart_to: CHART,
        cautions: [SCREEN, CAUTION, HANDLING, MODEL]
            .map(str::to_owned)
            .to_vec(),
    })
}

/// A programme with the bath that it runs in. Heights of the programme rise in the
/// direction in which the piece is lifted.
struct Bath {
    programme: Programme,
    calibration: Calibration,
    coating: Coating,
    /// From heights of the piece to those of the programme, and back.
    sign: f64,
}

impl Bath {
    fn new(wish: &FinishWish) -> Result<Self, ProgrammeError> {
        let sign = if wish.over { -1.0 } else { 1.0 };
        let stops = wish.stops.iter().map(|stop| Stop {
            height: sign * stop.height,
            volts: stop.volts,
        });
        let calibration = Calibration {
            nm_per_volt: wish.nm_per_volt,
            range: (wish.lowest, wish.highest),
            start: wish.start,
        };
        calibration.validate()?;
        Ok(Self {
            programme: Programme::new(stops.collect())?,
            calibration,
            coating: Coating {
                oxide: wish.oxide,
                metal: Metal::titanium(),
            },
            sign,
        })
    }

    fn at(&self, height: f64) -> Finish {
        let height = self.sign * height;
        self.programme
            .finish(&self.calibration, &self.coating, height)
    }

    /// From the first stop to the last, mm.
    fn way(&self) -> f64 {
        let stops = self.programme.stops();
        stops[0].height - stops[stops.len() - 1].height
    }

    fn table(&self, minutes: f64, rows: usize) -> Result<Vec<BathRow>, ProgrammeError> {
        let speed = self.way() / minutes;
        let (calibration, coating) = (&self.calibration, &self.coating);
        let rows = self.programme.table(calibration, coating, speed, rows)?;
        Ok(rows.iter().map(|row| self.row(row)).collect())
    }

    fn row(&self, row: &Row) -> BathRow {
        let finish = &row.finish;
        let colours = [finish.colour, finish.colour_range.0, finish.colour_range.1];
        BathRow {
            height: self.sign * row.height + 0.0,
            volts: row.volts,
            time: clock(row.seconds),
            film: finish.film,
            range: [finish.film_range.0, finish.film_range.1],
            colours: colours.map(hex),
            words: colours.map(word),
        }
    }
}

fn said(wish: &FinishWish, bath: &Bath, heights: (f64, f64)) -> Vec<String> {
    let mut said = vec![format!(
        "Lifted at {:.1} mm a minute, {} up.",
        bath.way() / wish.minutes,
        if wish.over { "its foot" } else { "its top" }
    )];
    let uncalibrated = is_uncalibrated(wish);
    let (less, more) = (
        100.0 * (1.0 - wish.lowest / wish.nm_per_volt),
        100.0 * (wish.highest / wish.nm_per_volt - 1.0),
    );
    said.push(format!(
        "{} every film may be up to {less:.0} % thinner or {more:.0} % thicker: what colours that makes is shown beside.",
        if uncalibrated { "By what sources say" } else { "By the calibration" }
    ));
    if uncalibrated {
        said.push("Not calibrated: these are the middle and the ends of what sources say. Grow one patch of a trial strip in your own bath and calibrate by it.".to_owned());
    }
    let stops = bath.programme.stops();
    let ends = [heights.0, heights.1].map(|height| bath.sign * height);
    let (bottom, top) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
    if stops[0].height < top {
        said.push(format!(
            "The first stop is {:.2} mm below the end that leaves the bath first: that part keeps its {} V.",
            top - stops[0].height,
            stops[0].volts
        ));
    }
    let last = stops[stops.len() - 1];
    if bottom < last.height {
        said.push(format!(
            "The last stop is {:.2} mm above the end that leaves the bath last: that part keeps its {} V.",
            last.height - bottom,
            last.volts
        ));
    }
    said
}

fn is_uncalibrated(wish: &FinishWish) -> bool {
    let usual = Calibration::default();
    (wish.lowest, wish.highest) == usual.range && wish.nm_per_volt == usual.nm_per_volt
}

/// The table as comma-separated values (RFC 4180), units in the head.
fn csv(rows: &[BathRow]) -> String {
    let mut text = String::from(
        "height in mm,volts,time in min:s,film in nm,thinnest in nm,thickest in nm,colour,colour of the thinnest,colour of the thickest\r\n",
    );
    for row in rows {
        let [seen, thin, thick] = [0, 1, 2].map(|k| format!("{} {}", row.words[k], row.colours[k]));
        // Writing to a string does not fail.
        let _ = write!(
            text,
            "{:.2},{:.1},{},{:.1},{:.1},{:.1},{seen},{thin},{thick}\r\n",
            row.height, row.volts, row.time, row.film, row.range[0], row.range[1]
        );
    }
    text
}

fn clock(seconds: f64) -> String {
    let whole = seconds.round() as u64;
    format!("{}:{:02}", whole / 60, whole % 60)
}

fn hex(colour: Srgb) -> String {
    format!("#{:02x}{:02x}{:02x}", colour.red, colour.green, colour.blue)
}

/// A colour in a plain word or two, by its hue.
fn word(colour: Srgb) -> String {
    let channels = [colour.red, colour.green, colour.blue];
    let spread = channels.iter().max().unwrap_or(&0) - channels.iter().min().unwrap_or(&0);
    let hue = match colour.hue() {
        Some(hue) if GREY <= spread => hue,
        _ => return "grey".to_owned(),
    };
    let names = [
        (15.0, "red"),
        (38.0, "bronze"),
        (52.0, "gold"),
        (75.0, "yellow"),
        (160.0, "green"),
        (200.0, "turquoise"),
        (255.0, "blue"),
        (290.0, "violet"),
        (325.0, "purple"),
        (345.0, "pink"),
    ];
    let name = names.iter().find(|(to, _)| hue < *to);
    let name = name.map_or("red", |(_, name)| name);
    if spread < PALE {
        format!("pale {name}")
    } else {
        name.to_owned()
    }
}

impl From<CalibrationError> for FinishFailure {
    fn from(error: CalibrationError) -> Self {
        Self::Programme(error.into())
    }
}
