//! A series as the page asks for it: how many pieces, which one is number n,
//! one piece as a picture, its measures and checks, and its files.
//!
//! In reading order: [`wish`] (stations, blend and rules as the page sends
//! them), [`document`] (the same in a link and as a file), [`session`] (the
//! counted series, and pieces of it), [`picture`] (a piece as points), [`shop`] and
//! [`mod@materials`] (what a workshop has and wants), [`making`] with its parts
//! [`figures`], [`checks`] and [`forming`], [`map`] and [`room`] (the checks on the
//! skin), [`mod@finish`] and [`mod@wished`] (anodised colour), [`mod@file`] (files), [`packing`] (a zip of
//! several pieces), [`sketch`] (what small pictures of many are drawn from).

pub mod document;

mod checks;
mod figures;
mod file;
mod finish;
mod forming;
mod making;
mod map;
mod materials;
mod packing;
mod picture;
mod room;
mod session;
mod shop;
mod sketch;
mod wish;
mod wished;

#[cfg(test)]
mod edges_tests;
#[cfg(test)]
mod making_tests;
#[cfg(test)]
mod tests;

pub use checks::CheckMessage;
pub use figures::FigureMessage;
pub use file::FileFailure;
pub use finish::{
    BathRow, FinishFailure, FinishMessage, FinishWish, PatchWish, StopWish, calibrated, finish,
};
pub use forming::SkinMessage;
pub use making::MakingMessage;
pub use map::{BestMessage, Reach};
pub use materials::{MaterialMessage, materials};
pub use packing::Packing;
pub use picture::Picture;
pub use room::RoomMessage;
pub use session::{CountMessage, PieceMessage, SeriesFailure, SeriesSession};
pub use shop::{HalvesWish, ShopWish, SideWish};
pub use sketch::Sketch;
pub use wish::{BlendWish, SeriesWish, StationWish};
pub use wished::{NearMessage, WishedFailure, WishedMessage, wished};
