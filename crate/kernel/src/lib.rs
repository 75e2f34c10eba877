//! The Loftkin kernel: from drawn profiles to proved verdicts.
//!
//! The modules stand in reading order. A [`Profile`](profile::Profile) is what
//! a person draws, on a grid of 0.01 mm; a [`Family`](family::Family) is the
//! ordered set of them with its settings; a [`Curve`](curve::Curve) is the
//! exact cubic path that a profile stands for; [`Table`](table::Table) judges
//! every pair and keeps the verdicts while one profile changes.
//!
//! No input or output, no web, no wire format and no platform mathematics live
//! here: the same family gives the same bits on every machine.

#![forbid(unsafe_code)]

pub mod quote;

pub mod grid;

pub mod profile;

pub mod family;

pub mod spline;

pub mod curve;

pub mod verdict;

pub mod remedy;

pub mod proof;

mod finding;

pub mod table;

pub mod blend;

pub mod placed;

pub mod bezier;
pub mod certificate;

pub mod loft;
