//! What the page asks of a family by itself, which may take longer than a
//! frame: a mend, a proof to write, what is to be said of the whole,
//! a series of pieces, a file to read.
//!
//! Nothing here knows the board or the web: families and plain values go in and
//! plain values come out, so that the page can do in place what is quick, and
//! its worker the rest.

#![forbid(unsafe_code)]

mod file;
mod mend;
mod nodes;
mod proof;
mod saying;
pub mod series;
mod whole;

pub use file::{FileMessage, read_file};
pub use mend::{AnswerMessage, Ending, MendWish, ProgressMessage, is_as_asked, mend, same_drawing};
pub use nodes::nodes;
pub use proof::{ProofMessage, proof};
pub use saying::SayingMessage;
pub use whole::{AnyBlendMessage, BlendMessage, ToleranceMessage, any_blend, sets, tolerance};
