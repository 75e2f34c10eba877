//! The page's side of Loftkin: the drawing board and the bridge to `www`.
//!
//! The document that the board edits is in `loftkin_editor`. The board's state
//! is plain Rust and is tested natively up to the paint call. Events and all
//! other DOM are the page's, which calls plain methods on one object; no
//! closure is handed into this crate.

pub mod board;

pub mod scene;

pub mod paint;

mod bounds;
pub mod picture;

pub mod measure;

pub mod why;

pub mod examples;

pub mod message;

pub mod fingerprint;

pub mod report;

pub mod bridge;
