//! A place on a loft, for programs.

use serde::Serialize;

#[derive(Serialize)]
pub struct PlaceReport {
    pub along: f64,
    pub other_along: f64,
    pub across: f64,
    pub x: f64,
    pub y: f64,
}
