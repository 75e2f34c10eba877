//! One thing to say, in the parts that a face sets apart.

use loftkin_exchange::words::Saying;
use serde::Serialize;

/// One thing to say.
#[derive(Debug, PartialEq, Serialize)]
pub struct SayingMessage {
    /// What is the matter, without the name of the pair.
    pub what: String,
    /// Where; may be empty.
    pub place: String,
    /// What would be right; may be empty.
    pub right: String,
}

impl From<Saying> for SayingMessage {
    fn from(saying: Saying) -> Self {
        Self {
            what: saying.short,
            place: saying.place,
            right: saying.right,
        }
    }
}
