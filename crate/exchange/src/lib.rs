//! Families and series in and out of Loftkin, pieces out to the shop, and the
//! words for what the kernel finds.
//!
//! Everything works on bytes and strings in memory: no file, no network and no
//! clock, so the same code serves the page and the command. The kernel's types
//! carry no wire format; each module here converts by hand, so that a file
//! format never freezes a kernel type. Nothing here judges a loft.

#![forbid(unsafe_code)]

pub mod words;

pub mod number;

pub mod family_words;

pub mod making_inputs;

pub mod import;
mod json;

mod rounding;

mod xml;

pub mod family_json;

pub mod series;

pub mod share;

pub mod svg;

pub mod point_list;

pub mod any;

pub mod proof_file;

pub mod shop;

pub mod finish;
