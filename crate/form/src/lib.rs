//! From a family to pieces: which profiles stand where, and the form that
//! results.
//!
//! In reading order: [`stations`] (where profiles stand), [`blend`] (how they
//! are joined), [`patch`] (one place of a surface), [`piece`] (one arrangement of
//! profiles over the stations, as a surface in space), [`series`] (all pieces: how
//! many, which one is number n), [`solid`] (its faces and meshes), [`body`] (its
//! measures), [`making`] (whether it can be made), [`finish`] (anodised colour).
//! Nothing here decides a verdict: that is the kernel's. No input or output, no
//! web, no wire format.

#![forbid(unsafe_code)]

pub mod stations;

pub mod blend;

pub mod patch;

mod area;

pub mod piece;

pub mod series;

pub mod solid;

pub mod body;

pub mod making;

pub mod finish;
