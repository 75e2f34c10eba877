//! A place on a loft, for programs.

use loftkin_kernel::verdict::Place;
use serde::Serialize;

#[derive(Serialize)]
pub struct PlaceReport {
    pub along: f64,
    pub other_along: f64,
    pub across: f64,
    pub x: f64,
    pub y: f64,
}

pub fn place(place: &Place) -> PlaceReport {
    PlaceReport {
        along: place.along,
        other_along: place.other_along,
        across: place.across,
        x: place.point.x,
        y: place.point.y,
    }
}
