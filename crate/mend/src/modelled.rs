//! A beginning for the rounds where no other led to a mend: every profile that
//! moves is drawn after one model.
//!
//! Copies of one simple curve, larger or smaller and elsewhere, run the same way
//! at like points: their pairs are free and hardly twisted. That is far from the
//! drawing, but the rounds come back from there as far as the rows let them.

use crate::freedom::{points_of, shifted};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::{Family, Pacing};
use loftkin_kernel::profile::{Outline, PathSpan, Profile};
use nalgebra::{Point2, Vector2};

/// How often a copy is sampled anew: its own points change its pace.
const PASSES: usize = 3;

/// `family` with the `active` profiles drawn after each of `models` in turn, the
/// least movement first.
pub fn modelled(family: &Family, active: &[usize], models: &[usize]) -> Vec<Family> {
    let pacing = family.settings.pacing;
    let mut found: Vec<(f64, Family)> = Vec::new();
    for &model in models {
        let Ok(curve) = Curve::new(&family.profiles[model], pacing) else {
            continue;
        };
        let mut after = family.clone();
        let mut cost = 0.0;
        for &index in active.iter().filter(|&&index| index != model) {
            let drawn = &family.profiles[index];
            let Some(copy) = after_model(drawn, &curve, pacing) else {
                continue;
            };
            cost += apart(drawn, &copy);
            after.profiles[index] = copy;
        }
        found.push((cost, after));
    }
    found.sort_by(|one, other| one.0.total_cmp(&other.0));
    found.into_iter().map(|(_, family)| family).collect()
}

/// The points of `drawn` on a copy of `model` of its own size and place.
fn after_model(drawn: &Profile, model: &Curve, pacing: Pacing) -> Option<Profile> {
    let from: Vec<Vector2<f64>> = coordinates(drawn);
    let mut copy = drawn.clone();
    for _ in 0..PASSES {
        let own = Curve::new(&copy, pacing).ok()?;
        let sampled = sampled(&drawn.outline, own.breaks(), model);
        let (middle, size) = spread(&from);
        let (its_middle, its_size) = spread(&sampled);
        let scale = size / its_size;
        let shifts: Vec<[f64; 2]> = sampled
            .iter()
            .zip(&from)
            .map(|(at, from)| ((at - its_middle) * scale + middle - from).into())
            .collect();
        copy = shifted(drawn, &shifts);
    }
    Some(copy)
}

/// Where the points of `outline`, whose joints are at `breaks`, are on `model`: a
/// handle a third of its span along.
fn sampled(outline: &Outline, breaks: &[f64], model: &Curve) -> Vec<Vector2<f64>> {
    let at = |u: f64| model.point(u).coords;
    let spans = match outline {
        Outline::Nodes(nodes) => return (0..nodes.len()).map(|node| at(breaks[node])).collect(),
        Outline::Path { spans, .. } => spans,
    };
    let mut points = vec![at(breaks[0])];
    for (index, span) in spans.iter().enumerate() {
        let ends = [breaks[index], breaks[index + 1]];
        if let PathSpan::Cubic { .. } = span {
            let third = (ends[1] - ends[0]) / 3.0;
            let leaving = model.slopes_beside(ends[0]).1 * third;
            let arriving = model.slopes_beside(ends[1]).0 * third;
            points.extend([at(ends[0]) + leaving, at(ends[1]) - arriving]);
        }
        points.push(at(ends[1]));
    }
    points
}

fn coordinates(profile: &Profile) -> Vec<Vector2<f64>> {
    let points = points_of(&profile.outline).into_iter();
    points
        .map(|at| Point2::new(f64::from(at.x), f64::from(at.y)).coords)
        .collect()
}

/// The middle of points, and the root of their mean square from there.
fn spread(points: &[Vector2<f64>]) -> (Vector2<f64>, f64) {
    let count = points.len() as f64;
    let middle = points.iter().sum::<Vector2<f64>>() / count;
    let square: f64 = points.iter().map(|at| (at - middle).norm_squared()).sum();
    (middle, (square / count).sqrt())
}

fn apart(one: &Profile, other: &Profile) -> f64 {
    let both = coordinates(one).into_iter().zip(coordinates(other));
    both.map(|(one, other)| (one - other).norm_squared()).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chance::Chance;
    use loftkin_kernel::family::TenthsOfDegree;
    use loftkin_kernel::profile::Node;
    use loftkin_kernel::table::Table;
    use loftkin_kernel::verdict::Verdict;

    /// Outlines turned by any angle fold against each other; drawn after one of
    /// them they do not.
    #[test]
    fn profiles_drawn_after_one_model_agree() {
        let mut chance = Chance::new();
        let mut round = |turn: f64| {
            let nodes = (0..9).map(|k| {
                let angle = (40.0 * f64::from(k) + turn).to_radians();
                let radius = 5000.0 + 1200.0 * chance.either_way();
                let at = |value: f64| libm::round(radius * value) as i32;
                Node::smooth(at(libm::cos(angle)), at(libm::sin(angle)))
            });
            Profile::closed(nodes.collect())
        };
        let mut family = Family {
            profiles: [0.0, 170.0, 250.0].map(&mut round).to_vec(),
            ..Family::default()
        };
        family.settings.twist_limit = TenthsOfDegree(1790);
        assert_ne!(
            Table::new(family.clone()).unwrap().verdict(),
            Verdict::Clear
        );
        let after = modelled(&family, &[0, 1, 2], &[0, 1, 2]);
        assert_eq!(after.len(), 3);
        for family in after {
            assert_eq!(Table::new(family).unwrap().verdict(), Verdict::Clear);
        }
    }
}
