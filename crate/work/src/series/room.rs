//! Whether the sheet of a piece meets itself at a distance, in words.

use super::checks::in_unit;
use super::session::{SeriesFailure, SeriesSession};
use super::shop::ShopWish;
use loftkin_exchange::words;
use loftkin_form::making::workshop::Kind;
use loftkin_form::making::worst::examine;
use serde::Serialize;

/// The room for the sheet between parts of the skin.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RoomMessage {
    /// What was found.
    pub said: String,
    /// Whether the sheet has room, in hollows too.
    pub passes: bool,
    /// The largest share of the room that it takes.
    pub worst: String,
    /// The two places that leave least, mm; empty when none were found.
    pub line: Vec<f64>,
}

impl SeriesSession {
    /// The room for the sheet of `wish` on piece `number`: in hollows, on sharp edges, and
    /// between parts of the skin that face one another.
    ///
    /// # Errors
    /// [`SeriesFailure`].
    pub fn room(&self, number: &str, wish: &ShopWish) -> Result<RoomMessage, SeriesFailure> {
        let workshop = wish.workshop()?;
        let piece = self.form(&self.number_in(number)?)?;
        let check = workshop.check(Kind::Offset);
        let report = examine(&piece, &[&*check])[0];
        let (report, walls) = workshop.with_walls(&piece, report);
        let report = workshop.over_edges(Kind::Offset, report, &workshop.edges(&piece));
        let worst = in_unit(report.worst, check.unit());
        let Some(meeting) = walls else {
            return Ok(RoomMessage {
                said: "Between parts of the skin that face one another the sheet was seen to take less than 0.8 of the room. Sampled: that is no proof."
                    .to_owned(),
                passes: report.passes,
                worst,
                line: Vec::new(),
            });
        };
        let (one, other) = (meeting.place.point, meeting.other.point);
        Ok(RoomMessage {
            said: format!(
                "Between {} and {} the skin is only {} from itself: the sheet takes {:.3} of that room{}.",
                words::point(&one),
                words::point(&other),
                words::millimetres(meeting.apart),
                meeting.share,
                if meeting.share < 1.0 {
                    ""
                } else {
                    ", so that it meets itself"
                }
            ),
            passes: report.passes,
            worst,
            line: vec![one.x, one.y, one.z, other.x, other.y, other.z],
        })
    }
}
