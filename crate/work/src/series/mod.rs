//! A series as the page asks for it: how many pieces, which one is number n,
//! one piece as a picture, its measures and checks, and its files.
//!
//! In reading order: [`wish`] (stations, blend and rules as the page sends
//! them), [`document`] (the same in a link and as a file), [`session`] (the counted series, and pieces of it), [`picture`] (a
//! piece as points), [`making`] (measures and checks), [`mod@file`] (files),
//! [`packing`] (a zip of several pieces), [`sketch`] (what small pictures of
//! many are drawn from).

pub mod document;
mod file;
mod making;
mod packing;
mod picture;
mod session;
mod sketch;
mod wish;

#[cfg(test)]
mod tests;

pub use file::FileFailure;
pub use making::{
    CheckMessage, Draw, FigureMessage, MakingMessage, MaterialMessage, ShopWish, materials,
};
pub use packing::Packing;
pub use picture::Picture;
pub use session::{CountMessage, PieceMessage, SeriesFailure, SeriesSession};
pub use sketch::Sketch;
pub use wish::{BlendWish, SeriesWish, StationWish};
