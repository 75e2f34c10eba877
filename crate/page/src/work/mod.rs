//! Work that may take longer than a frame, on a family by itself.
//!
//! Nothing here knows the board: a family comes as a share code and an answer
//! goes back as plain values, so that the same work runs in a worker and, where
//! a browser gives the page none, in the page.

mod mend;
mod proof;
mod whole;

pub use mend::{AnswerMessage, Ending, MendWish, ProgressMessage, is_as_asked, mend, same_drawing};
pub use proof::{ProofMessage, proof};
pub use whole::{BlendMessage, WholeMessage, whole};
