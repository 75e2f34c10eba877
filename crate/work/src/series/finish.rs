//! The finish of a piece: the lift-out programme for the bath, its colours along
//! the height with what the calibration leaves unsure, and the table to work by.

use super::session::{SeriesFailure, SeriesSession};
use loftkin_exchange::finish::colours::{code, word};
use loftkin_exchange::finish::table;
use loftkin_exchange::finish::words::{clock, said};
use loftkin_form::body::extent;
use loftkin_form::finish::bath::Bath;
use loftkin_form::finish::charge::{Wetted, demand};
use loftkin_form::finish::colour::{Srgb, colour};
use loftkin_form::finish::drain::drainage;
use loftkin_form::finish::film::{Calibration, CalibrationError};
use loftkin_form::finish::interference::Coating;
use loftkin_form::finish::lift::{Hanging, LiftError, LiftOut, Pace, Row};
use loftkin_form::finish::programme::{Finish, Stop};
use loftkin_form::finish::supply::Supply;
use loftkin_form::finish::wished::THICKEST;
use loftkin_form::finish::{CAUTIONS, MODEL};
use loftkin_form::piece::Piece;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// Colours of a strip along the height.
const STRIP: usize = 256;

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
    /// The angle from straight on for the colour seen aslant, degrees.
    pub aslant: f64,
    /// Up to which voltage growth is linear, V; none where it is not known.
    pub linear_to: Option<f64>,
    /// Where the bath breaks down, V.
    pub breakdown: Option<f64>,
    /// The fastest rise that the supply gives, V a second.
    pub rise: Option<f64>,
    /// The most current that it gives, A.
    pub current: Option<f64>,
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
    /// What the bath cannot do.
    #[error(transparent)]
    Lift(#[from] LiftError),
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
    /// The colour expected aslant, as #rrggbb and in words.
    pub aslant: [String; 2],
    /// Whether growth is linear there; none where that is not known.
    pub is_linear: Option<bool>,
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
    /// And of the film expected, seen aslant.
    pub aslant: Vec<String>,
    /// The table for the bath, in the order of the work.
    pub rows: Vec<BathRow>,
    /// The same as comma-separated values.
    pub csv: String,
    /// How the piece hangs and moves, uncertainty, where stops do not reach, and what
    /// the model leaves out: a sentence or two an entry.
    pub said: Vec<String>,
    /// Colours of films from 0 to [`FinishMessage::chart_to`] nm, one a nm.
    pub chart: Vec<String>,
    /// In nm.
    pub chart_to: f64,
    /// What can hurt.
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
            aslant: Bath::default().aslant,
            linear_to: None,
            breakdown: None,
            rise: None,
            current: None,
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
        finish(wish, &piece)
    }
}

/// What a patch of a trial strip says of the bath: nm per volt, least and most.
///
/// # Errors
/// [`CalibrationError`].
pub fn calibrated(patch: PatchWish) -> Result<[f64; 3], CalibrationError> {
    let found = Calibration::from_patch(patch.film, patch.volts, patch.percent)?;
    Ok([found.nm_per_volt, found.range.0, found.range.1])
}

/// The finish of `piece`.
///
/// # Errors
/// [`FinishFailure::Lift`].
pub fn finish(wish: &FinishWish, piece: &Piece) -> Result<FinishMessage, FinishFailure> {
    let (low, high) = extent(piece);
    let heights = (low.z, high.z);
    let lift = wish.lift(heights)?;
    let rows = lift.table(wish.rows)?;
    let even = |step: usize| step as f64 / (STRIP - 1) as f64;
    let strip: Vec<Finish> = (0..STRIP)
        .map(|step| lift.finish(heights.0 + (heights.1 - heights.0) * even(step)))
        .collect();
    let codes = |colour: fn(&Finish) -> Srgb| strip.iter().map(|at| code(colour(at))).collect();
    let coating = &lift.bath().coating;
    let taken = demand(&lift, &Wetted::of(piece));
    let runs_off = drainage(piece, lift.hanging());
    let mut said = said(&lift, &taken, runs_off);
    said.push(MODEL.to_owned());
    Ok(FinishMessage {
        heights: [heights.0, heights.1],
        strip: codes(|at| at.colour),
        thinnest: codes(|at| at.colour_range.0),
        thickest: codes(|at| at.colour_range.1),
        aslant: codes(|at| at.aslant),
        csv: table::csv(&rows),
        rows: rows.iter().map(bath_row).collect(),
        said,
        chart: (0..=THICKEST as usize)
            .map(|film| code(colour(coating, film as f64, 0.0)))
            .collect(),
        chart_to: THICKEST,
        cautions: CAUTIONS.map(str::to_owned).to_vec(),
    })
}

impl FinishWish {
    pub(super) fn bath(&self) -> Bath {
        Bath {
            calibration: Calibration {
                nm_per_volt: self.nm_per_volt,
                range: (self.lowest, self.highest),
                start: self.start,
            },
            coating: Coating::on_titanium(self.oxide),
            supply: Supply {
                linear_to: self.linear_to,
                breakdown: self.breakdown,
                rise: self.rise,
                current: self.current,
            },
            aslant: self.aslant,
        }
    }

    fn lift(&self, heights: (f64, f64)) -> Result<LiftOut, LiftError> {
        let hanging = if self.over {
            Hanging::TurnedOver
        } else {
            Hanging::AsDrawn
        };
        let stops = self
            .stops
            .iter()
            .map(|&StopWish { height, volts }| Stop { height, volts });
        let pace = Pace::Minutes(self.minutes);
        LiftOut::new(self.bath(), heights, hanging, stops.collect(), pace)
    }
}

fn bath_row(row: &Row) -> BathRow {
    let finish = &row.finish;
    let colours = [finish.colour, finish.colour_range.0, finish.colour_range.1];
    BathRow {
        height: row.height,
        volts: row.volts,
        time: clock(row.seconds),
        film: finish.film,
        range: [finish.film_range.0, finish.film_range.1],
        colours: colours.map(code),
        words: colours.map(word),
        aslant: [code(finish.aslant), word(finish.aslant)],
        is_linear: finish.is_linear,
    }
}
