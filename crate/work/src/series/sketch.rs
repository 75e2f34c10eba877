//! What small pictures of many pieces are drawn from, without asking again for
//! each: the profiles at the stations, and how sections are blended of them.

use super::session::SeriesSession;
use loftkin_form::blend::{Blend, Layout};
use loftkin_form::piece::{judged_curves, set_into_space};
use loftkin_form::stations::Setting;
use nalgebra::{Point2, Point3};

/// Stretches between two stations where a line across is not straight.
const CURVED: usize = 6;

/// The widest stretch of a ring, degrees.
const WIDEST: f64 = 12.0;

/// What all pieces of a series are sketched from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sketch {
    /// x and y of each point of each profile at each station, in mm of the
    /// drawing: station by station, in each profile by profile, all with the same
    /// number of points.
    pub sections: Vec<f32>,
    /// Levels across, [`Sketch::LEVEL`] numbers each: the origin of the drawing
    /// and its two directions in space, then the four stations that weigh on the
    /// section, then their weights.
    pub levels: Vec<f32>,
    /// The levels nearest to the stations, one a station.
    pub stations: Vec<u32>,
}

impl Sketch {
    /// Numbers of one level.
    pub const LEVEL: usize = 17;
}

impl SeriesSession {
    /// A sketch with `steps` + 1 points a profile.
    pub fn sketch(&self, steps: usize) -> Sketch {
        let layout = self.series.layout();
        let stations = layout.stations();
        let mut sketch = Sketch::default();
        let curves = judged_curves(&self.table);
        for index in 0..stations.count() {
            let stand = stations.stand(index);
            for placed in curves.iter().map(|curve| curve.placed(&stand)) {
                for step in 0..=steps {
                    let point = placed.point_mm(step as f64 / steps as f64);
                    sketch.sections.extend([point.x as f32, point.y as f32]);
                }
            }
        }
        sketch.push_levels(layout);
        sketch
    }
}

impl Sketch {
    fn push_levels(&mut self, layout: &Layout) {
        let stations = layout.stations();
        let joints = stations.joint_count();
        for joint in 0..joints {
            self.stations.push(self.count());
            let from = layout.fraction_of(joint);
            let to = if joint + 1 < stations.count() {
                layout.fraction_of(joint + 1)
            } else {
                1.0
            };
            let steps = stretches(layout, from, to);
            for step in 0..steps {
                self.push_level(layout, from + (to - from) * step as f64 / steps as f64);
            }
        }
        if !stations.is_all_round() {
            self.stations.push(self.count());
        }
        self.push_level(layout, 1.0);
    }

    fn count(&self) -> u32 {
        (self.levels.len() / Self::LEVEL) as u32
    }

    fn push_level(&mut self, layout: &Layout, v: f64) {
        let across = layout.across(v);
        let setting = layout.stations().setting();
        let place = |x, y| set_into_space(setting, Point2::new(x, y), across.place[0]);
        let origin = place(0.0, 0.0);
        let directions = [place(1.0, 0.0) - origin, place(0.0, 1.0) - origin];
        self.push_space(origin);
        for direction in directions {
            self.push_space(direction.into());
        }
        let weights = across.weights().iter();
        let mut padded = [(0, 0.0); 4];
        for (slot, weight) in padded.iter_mut().zip(weights) {
            *slot = (weight.station, weight.value);
        }
        self.levels
            .extend(padded.map(|(station, _)| station as f32));
        self.levels.extend(padded.map(|(_, weight)| weight as f32));
    }

    fn push_space(&mut self, point: Point3<f64>) {
        self.levels
            .extend(point.coords.iter().map(|part| *part as f32));
    }
}

/// Into how many straight stretches a line across is cut between two fractions.
fn stretches(layout: &Layout, from: f64, to: f64) -> usize {
    let turned = match layout.stations().setting() {
        Setting::Stack => 1,
        Setting::Ring { .. } => {
            let degrees = layout.across(to).place[0] - layout.across(from).place[0];
            (degrees / WIDEST).ceil() as usize
        }
    };
    match layout.blend() {
        Blend::Ruled => turned.max(1),
        Blend::Eased | Blend::BSpline(_) => turned.max(CURVED),
    }
}
