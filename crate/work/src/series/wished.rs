//! The films that come near a wished colour, with the voltages that grow them in
//! the person's bath.

use super::finish::FinishWish;
use loftkin_exchange::finish::colours::code;
use loftkin_exchange::finish::wished::{self as words, NoColour};
use loftkin_form::finish::bath::BathError;
use loftkin_form::finish::wished::{NearFilm, films};
use serde::Serialize;
use thiserror::Error;

/// Why no film is sought.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum WishedFailure {
    /// Text that is no colour.
    #[error(transparent)]
    NoColour(#[from] NoColour),
    /// The calibration.
    #[error(transparent)]
    Bath(#[from] BathError),
}

/// A film that comes near.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NearMessage {
    /// What it looks like, as #rrggbb.
    pub colour: String,
    /// The film, its volts and how far off it is.
    pub said: String,
    /// To the tenth of a volt.
    pub volts: f64,
}

/// What comes near a wished colour.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WishedMessage {
    /// The colour as #rrggbb.
    pub colour: String,
    /// How many films come near.
    pub said: String,
    /// From the thinnest.
    pub films: Vec<NearMessage>,
    /// What was looked at, and where figures come from: a sentence or two an entry.
    pub notes: Vec<String>,
}

/// The films that come near `colour`, as a person writes it, in the bath of `wish`.
///
/// # Errors
/// [`WishedFailure`].
pub fn wished(wish: &FinishWish, colour: &str) -> Result<WishedMessage, WishedFailure> {
    let colour = words::colour(colour)?;
    let bath = wish.bath();
    bath.validate()?;
    let near = films(&bath, colour);
    Ok(WishedMessage {
        colour: code(colour),
        said: words::said(colour, &near),
        films: near.iter().map(near_message).collect(),
        notes: vec![words::looked_at(&bath), words::SOURCE.to_owned()],
    })
}

fn near_message(near: &NearFilm) -> NearMessage {
    NearMessage {
        colour: code(near.colour),
        said: words::film(near),
        volts: (10.0 * near.volts).round() / 10.0,
    }
}
