//! The films that come nearest to a wished colour: the table of a programme read
//! backward.
//!
//! Colours come round as the film grows, so several films may come near. An estimate,
//! by even steps refined: the model is smooth over a nanometre.

use super::bath::Bath;
use super::colour::{Srgb, colour, shown};
use super::difference::{Lab, difference};
use super::supply::MOST_VOLTS;

/// The thickest film that is looked at, nm.
pub const THICKEST: f64 = 400.0;

/// Beyond this difference two colours are seen as two (Mokrzycki and Tatol, Colour
/// difference ΔE: a survey, Machine Graphics and Vision 20(4), 2011, 383-411). They
/// say it of the formula of 1976, which tells vivid colours farther apart.
pub const ANOTHER: f64 = 5.0;

/// The least difference that is seen, by the same survey.
const JUST_SEEN: f64 = 1.0;

/// The step of the first search, nm.
const STEP: f64 = 1.0;

/// Thirds by which a step is narrowed: to below a hundredth of a nanometre.
const NARROWINGS: usize = 14;

/// Orders of interference are counted by the path through the film and back, each as
/// long as this wavelength, nm (as in charts of interference colours).
const GREEN: f64 = 550.0;

/// A film that comes near to a colour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NearFilm {
    /// nm.
    pub film: f64,
    /// What it looks like in daylight, straight on.
    pub colour: Srgb,
    /// CIEDE2000 from what was wished.
    pub difference: f64,
    /// The order of interference, from 1.
    pub order: u32,
    /// The voltage for it by the calibration.
    pub volts: f64,
    /// The least and the most that it may need.
    pub volts_range: (f64, f64),
}

/// The thinnest and the thickest film that are looked at: what the bath grows from 0 V to
/// [`most_volts`].
pub fn looked_at(bath: &Bath) -> (f64, f64) {
    let grown = |volts: f64| bath.calibration.film(volts).min(THICKEST);
    (grown(0.0), grown(most_volts(bath)))
}

/// The highest voltage that is looked at: 140 V, or where the bath breaks down before.
pub fn most_volts(bath: &Bath) -> f64 {
    bath.supply.breakdown.unwrap_or(MOST_VOLTS).min(MOST_VOLTS)
}

/// The films that come near `wished`, from the thinnest, each nearer than the films
/// beside it; when there is none, the nearest of all and what cannot be told from it
/// by its distance. Never empty.
pub fn films(bath: &Bath, wished: Srgb) -> Vec<NearFilm> {
    let wished = Lab::from(wished);
    let off = |film: f64| difference(Lab::of_linear(shown(&bath.coating, film, 0.0)), wished);
    let (thinnest, thickest) = looked_at(bath);
    let steps = ((thickest - thinnest) / STEP).ceil().max(1.0) as usize;
    let at = |step: usize| thinnest + (thickest - thinnest) * step as f64 / steps as f64;
    let offs: Vec<f64> = (0..=steps).map(|step| off(at(step))).collect();
    let is_lowest = |step: &usize| {
        let here = offs[*step];
        (*step == 0 || here < offs[step - 1]) && (*step == steps || here <= offs[step + 1])
    };
    let lowest = (0..=steps).filter(is_lowest);
    let films: Vec<(f64, f64)> = lowest
        .map(|step| lowest_between(off, at(step.saturating_sub(1)), at((step + 1).min(steps))))
        .collect();
    let best = films
        .iter()
        .fold(f64::INFINITY, |best, film| best.min(film.1));
    let limit = if best < ANOTHER {
        ANOTHER
    } else {
        best + JUST_SEEN
    };
    let near = films.into_iter().filter(|film| film.1 <= limit);
    near.map(|(film, difference)| near_film(bath, film, difference))
        .collect()
}

/// Where a function with one lowest place between two is lowest, and its value there.
fn lowest_between(off: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> (f64, f64) {
    for _ in 0..NARROWINGS {
        let third = (high - low) / 3.0;
        if off(low + third) <= off(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    let film = (low + high) / 2.0;
    (film, off(film))
}

fn near_film(bath: &Bath, film: f64, difference: f64) -> NearFilm {
    let Bath {
        calibration,
        coating,
        ..
    } = bath;
    let grown = film - calibration.start;
    let (low, high) = calibration.range;
    NearFilm {
        film,
        colour: colour(coating, film, 0.0),
        difference,
        // Whole and positive.
        order: (2.0 * coating.oxide * film / GREEN) as u32 + 1,
        volts: grown / calibration.nm_per_volt,
        volts_range: (grown / high, grown / low),
    }
}
