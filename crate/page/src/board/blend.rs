//! The blend of the family that meets itself: a picture of the answer that was
//! worked out for the drawing as it stands.

use super::{Board, Changes};
use loftkin_work::BlendMessage;
use nalgebra::{Point2, Vector2};

/// Places of the blend that are looked at to fit it into the window.
const FIT_STEPS: usize = 200;

/// A blend to be drawn, and the place where it meets itself.
#[derive(Clone, Debug, PartialEq)]
pub struct WorstBlend {
    /// Its profiles, from 0, with their weights, of sum one.
    pub parts: Vec<(usize, f64)>,
    /// Where it meets itself, in mm.
    pub point: Point2<f64>,
}

impl Board {
    /// Shows a blend of the profiles on the board, or none.
    pub fn show_blend(&mut self, blend: Option<&BlendMessage>) {
        let count = self.family().profiles.len();
        let shown = blend.and_then(|blend| {
            let parts: Vec<(usize, f64)> = blend
                .profiles
                .iter()
                .copied()
                .zip(blend.weights.iter().copied())
                .collect();
            let known = parts.iter().all(|&(profile, _)| profile < count);
            known.then_some(WorstBlend {
                parts,
                point: Point2::new(blend.x, blend.y),
            })
        });
        if shown != self.worst_blend {
            self.worst_blend = shown;
            self.changed(Changes::VIEW);
        }
    }

    /// The blend that is shown.
    pub fn worst_blend(&self) -> Option<&WorstBlend> {
        self.worst_blend.as_ref()
    }

    /// Shows all of the blend, as large as it can be.
    pub fn fit_blend(&mut self) {
        let points = self.blended(FIT_STEPS).unwrap_or_default();
        let bounds = points.iter().fold(None, |bounds, point| {
            let (low, high) = bounds.unwrap_or((*point, *point));
            Some((low.inf(point), high.sup(point)))
        });
        if let Some((low, high)) = bounds {
            self.view.fit(low, high);
            self.changed(Changes::VIEW);
        }
    }

    /// The shown blend as a curve of `steps` chords, in mm.
    pub fn blended(&self, steps: usize) -> Option<Vec<Point2<f64>>> {
        let blend = self.worst_blend.as_ref()?;
        let curves = blend
            .parts
            .iter()
            .map(|&(profile, weight)| Some((self.document.curve(profile)?, weight)))
            .collect::<Option<Vec<_>>>()?;
        let point = |step: usize| {
            let along = step as f64 / steps as f64;
            let sum = curves
                .iter()
                .fold(Vector2::zeros(), |sum, (curve, weight)| {
                    sum + curve.point_mm(along).coords * *weight
                });
            Point2::from(sum)
        };
        Some((0..=steps).map(point).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::examples::EXAMPLES;
    use loftkin_exchange::share;
    use loftkin_work::any_blend;

    #[test]
    fn the_worst_blend_goes_through_the_place_where_it_meets_itself() {
        let example = EXAMPLES
            .iter()
            .find(|one| one.name.contains("three at once"));
        let family = share::decode(example.unwrap().code).unwrap();
        let mut board = Board::new(family).unwrap();
        let message = any_blend(board.document().table().unwrap());
        let blend = message.blend.unwrap();
        board.show_blend(Some(&blend));
        assert_eq!(board.worst_blend().unwrap().parts.len(), 3);
        let place = board.worst_blend().unwrap().point;
        let points = board.blended(4000).unwrap();
        let nearest = |at: &Point2<f64>| (at - place).norm();
        let least = points.iter().map(nearest).fold(f64::INFINITY, f64::min);
        assert!(least < 0.05, "{least} mm");
        board.reverse().unwrap();
        assert!(board.worst_blend().is_none(), "it is of another drawing");
    }
}
