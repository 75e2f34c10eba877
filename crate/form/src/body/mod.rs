//! The body of a piece: volume, area, wall, centre of gravity, how it rests.
//!
//! In reading order: [`quadrature`] and [`cells`] (integrals over the surface),
//! [`sections`] (integrals over sections), [`measures`] (area, volume, centres),
//! [`wall`] (a sheet of some gauge), [`mod@extent`] and [`rest`] (standing without
//! tipping). All are estimates with their error said, not proofs.

pub mod cells;
pub mod extent;
pub mod measures;
pub mod quadrature;
pub mod rest;
pub mod sections;
pub mod wall;

pub use extent::extent;
pub use measures::{Enclosure, Estimate, Measures, Volume, measure};

#[cfg(test)]
mod tests;
