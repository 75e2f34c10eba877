//! Bounds on which way a part of the skin faces, and on where it lies.

use super::curvature::mean;
use super::{Part, ROUNDING, coefficients};
use nalgebra::Vector3;

/// The coefficients of N, outward, with what their roundings are counted in.
#[derive(Debug)]
pub struct Normals {
    coefficients: Vec<Vector3<f64>>,
    middle: Vector3<f64>,
    error: f64,
}

impl Part {
    /// Its normals; none where they may not all lean to one side.
    pub fn normals(&self) -> Option<&Normals> {
        self.normals.get_or_init(|| self.worked_out()).as_ref()
    }

    fn worked_out(&self) -> Option<Normals> {
        let cross = self.fields().cross;
        let middle = mean(&cross).try_normalize(0.0)?;
        let coefficients = coefficients(&cross);
        let most = coefficients.iter().map(Vector3::norm).fold(0.0, f64::max);
        let error = ROUNDING * most;
        let leans = |b: &Vector3<f64>| error < b.dot(&middle);
        coefficients.iter().all(leans).then_some(Normals {
            coefficients,
            middle,
            error,
        })
    }

    /// How far it reaches along `direction` (a unit vector in space): from, to, mm.
    pub fn reach(&self, direction: &Vector3<f64>) -> (f64, f64) {
        let directions = self.directions(direction);
        let points = self.points();
        let heights = points
            .iter()
            .flat_map(|point| directions.iter().map(move |way| way.dot(point)));
        heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        })
    }

    /// Its area is at most this, mm²: the mean of |N| is at most that of the sizes of
    /// its coefficients.
    pub fn most_area(&self) -> f64 {
        let anew;
        let coefficients = match self.normals() {
            Some(normals) => &normals.coefficients,
            None => {
                anew = coefficients(&self.fields().cross);
                &anew
            }
        };
        let sizes = coefficients.iter().map(Vector3::norm);
        sizes.sum::<f64>() / coefficients.len() as f64 * (1.0 + ROUNDING)
    }
}

impl Normals {
    /// n·d is nowhere less than this for any of `directions`, of which the true one
    /// lies in their hull.
    ///
    /// With h = N·m, |N| is at least h, and at most h + p²/2q, p the largest part of
    /// a coefficient square to m and q the least along it.
    pub fn least_facing(&self, directions: &[Vector3<f64>]) -> f64 {
        let parts = || self.coefficients.iter().map(|b| b.dot(&self.middle));
        let forward = parts().fold(f64::INFINITY, f64::min) - self.error;
        let aside = self
            .coefficients
            .iter()
            .map(|b| (b - self.middle * b.dot(&self.middle)).norm())
            .fold(0.0, f64::max)
            + self.error;
        let longer = aside * aside / (2.0 * forward);
        let shares = self.coefficients.iter().flat_map(|b| {
            let ahead = b.dot(&self.middle);
            directions.iter().map(move |direction| {
                let facing = b.dot(direction) - self.error;
                // A negative share is largest in size over the shortest normal.
                if facing < 0.0 {
                    facing / (ahead - self.error)
                } else {
                    facing / (ahead + longer + self.error)
                }
            })
        });
        shares.fold(1.0, f64::min).max(-1.0)
    }

    /// |n·d| is nowhere more than this.
    pub fn most_facing(&self, directions: &[Vector3<f64>]) -> f64 {
        let shares = self.coefficients.iter().flat_map(|b| {
            let ahead = b.dot(&self.middle) - self.error;
            directions
                .iter()
                .map(move |direction| (b.dot(direction).abs() + self.error) / ahead)
        });
        shares.fold(0.0, f64::max).min(1.0)
    }
}
