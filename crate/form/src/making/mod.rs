//! Making checks: whether a piece can be moulded, cut, bent and formed.
//!
//! In reading order: [`check`] (what all have in common), [`hull`] (bounds over parts of
//! the skin), [`worst`] (the worst value, by samples and bounds), [`draft`],
//! [`draft_proof`], [`undercut`] and [`band`] (drawing off a mould), [`radius`], [`edges`],
//! [`fillet`] and [`scallop`] (cutting and bending), [`stretch`] and [`gas`] (forming),
//! [`offset`] and [`room`] (the gauge's room), [`materials`], [`temperature`], [`workshop`] (all
//! checks with one set of settings).
//!
//! All of this is design estimate. It refers to the data sheet of the material,
//! to local codes and to licensed practice wherever heat, pressure, gas, acid or
//! machines are involved; see [`DESIGN_ESTIMATE`].

pub mod band;
pub mod check;
pub mod draft;
pub mod draft_proof;
pub mod edges;
pub mod fillet;
pub mod gas;
pub mod hull;
pub mod materials;
pub mod offset;
pub mod radius;
pub mod room;
pub mod scallop;
pub mod stretch;
pub mod temperature;
pub mod undercut;
pub mod workshop;
pub mod worst;

/// What page and report say beside every making figure.
pub const DESIGN_ESTIMATE: &str = "These figures are estimates for design. Before anything is heated, pressed, cut or put under pressure, go by the material's data sheet, the maker's instructions for the machine, local codes and licensed practice.";

#[cfg(test)]
mod tests;
