//! Whether the sheet of a piece meets itself at a distance, in words.

use super::session::{SeriesFailure, SeriesSession};
use super::shop::ShopWish;
use loftkin_exchange::words;
use serde::Serialize;

/// The room for the sheet between parts of the skin.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RoomMessage {
    /// What was found.
    pub said: String,
    /// Whether nothing was found.
    pub passes: bool,
    /// The two places that come too near, mm; empty when none were found.
    pub line: Vec<f64>,
}

impl SeriesSession {
    /// Looks for places of piece `number` whose sheets of the gauge of `wish` meet.
    ///
    /// # Errors
    /// [`SeriesFailure`].
    pub fn room(&self, number: &str, wish: &ShopWish) -> Result<RoomMessage, SeriesFailure> {
        let workshop = wish.workshop()?;
        let piece = self.form(&self.number_in(number)?)?;
        let Some(meeting) = workshop.meeting(&piece) else {
            return Ok(RoomMessage {
                said: "No two parts of the skin were found whose sheets meet. Sampled: that is no proof."
                    .to_owned(),
                passes: true,
                line: Vec::new(),
            });
        };
        let (one, other) = (meeting.place.point, meeting.other.point);
        let apart = (one - other).norm();
        Ok(RoomMessage {
            said: format!(
                "The offset skin meets itself: between {} and {} the skin is only {} from itself, too little for the sheet on that side.",
                words::point(&one),
                words::point(&other),
                words::millimetres(apart)
            ),
            passes: false,
            line: vec![one.x, one.y, one.z, other.x, other.y, other.z],
        })
    }
}
