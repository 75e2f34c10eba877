//! Turns: the angle from one vector curve to another stays within a limit, or
//! a parameter shows that it does not.
//!
//! For vectors a(t), b(t) in Bernstein form the product conj(a) b has the turn
//! as its argument and is again in Bernstein form. If its coefficients span
//! less than a half turn of angles, their cone is convex and holds the product,
//! so the extreme angles of the coefficients bound the turn. Else halve. Twist
//! asks this of two hodographs, crease of the two sides of a joint.

use super::bounds;
use super::cone::wrapped;
use crate::bezier;
use crate::family::TenthsOfDegree;
use nalgebra::Vector2;
use std::f64::consts::PI;

/// Halvings of one piece.
const DEEPEST: u32 = 40;

const BINOMIAL_2: [f64; 3] = [1.0, 2.0, 1.0];
const BINOMIAL_4: [f64; 5] = [1.0, 4.0, 6.0, 4.0, 1.0];

/// Whether a turn stays within its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turn {
    /// Proved.
    Within,
    /// At this local parameter it does not: checked there.
    Beyond {
        /// The local parameter in \[0, 1\].
        at: f64,
        /// The turn in radians.
        turn: f64,
    },
    /// Neither, around this local parameter.
    Open {
        /// The local parameter in \[0, 1\].
        at: f64,
    },
}

/// The limit that is enforced for `limit`, in radians.
pub fn enforced(limit: TenthsOfDegree) -> f64 {
    (limit.degrees() + bounds::LIMIT_GRACE_DEGREES).to_radians()
}

/// The turn from `a` to `b`, radians in (-pi, pi].
pub fn turn(a: Vector2<f64>, b: Vector2<f64>) -> f64 {
    libm::atan2(a.perp(&b), a.dot(&b))
}

/// Judges the turn from the quadratic `a` to the quadratic `b` over \[0, 1\];
/// `scales` are the largest components that went into each, `limit` is in
/// radians, below pi.
pub fn stays_within(
    a: &[Vector2<f64>; 3],
    b: &[Vector2<f64>; 3],
    scales: [f64; 2],
    limit: f64,
) -> Turn {
    let mut state = Judge {
        scales,
        limit,
        budget: 400,
    };
    state.judge(a, b, 0.0, 1.0, 0)
}

/// The largest turn by size, in radians, and the parameter where it stands.
///
/// A box is left when the coefficients show that no turn in it is larger than
/// the best by more than [`bounds::ANGLE`], or where a vector vanishes.
#[derive(Clone, Copy)]
pub struct Largest {
    /// With its sign.
    pub turn: f64,
    /// The parameter.
    pub at: f64,
    boxes: u32,
}

impl Largest {
    /// None looked at yet; `boxes` may be looked at.
    pub fn new(boxes: u32) -> Self {
        Self {
            turn: 0.0,
            at: 0.0,
            boxes,
        }
    }

    /// Looks at the turn from the quadratic `a` to the quadratic `b`, which run
    /// from parameter `from` to `to`.
    pub fn climb(&mut self, [a, b]: [[Vector2<f64>; 3]; 2], (from, to): (f64, f64), depth: u32) {
        for (a, b, at) in [(a[0], b[0], from), (a[2], b[2], to)] {
            let turn = turn(a, b);
            if self.turn.abs() < turn.abs() {
                (self.turn, self.at) = (turn, at);
            }
        }
        let (least, most) = arguments(&product(&a, &b));
        let bounded =
            most - least < PI && most.max(-least).min(PI) <= self.turn.abs() + bounds::ANGLE;
        if bounded || depth == DEEPEST || self.boxes == 0 {
            return;
        }
        self.boxes -= 1;
        let ((a_low, a_high), (b_low, b_high)) = (halves(&a), halves(&b));
        let middle = f64::midpoint(from, to);
        self.climb([a_low, b_low], (from, middle), depth + 1);
        self.climb([a_high, b_high], (middle, to), depth + 1);
    }
}

/// The first parameter between `from` and `to` at which the turn is no larger
/// than `limit`.
pub fn first_within(
    [a, b]: [[Vector2<f64>; 3]; 2],
    (from, to): (f64, f64),
    limit: f64,
    depth: u32,
) -> Option<f64> {
    if turn(a[0], b[0]).abs() <= limit {
        return Some(from);
    }
    let (least, most) = arguments(&product(&a, &b));
    let beyond = |least: f64, most: f64| limit < least && most < 2.0 * PI - limit;
    if depth == DEEPEST || beyond(least, most) || beyond(-most, -least) {
        return (turn(a[2], b[2]).abs() <= limit).then_some(to);
    }
    let ((a_low, a_high), (b_low, b_high)) = (halves(&a), halves(&b));
    let middle = f64::midpoint(from, to);
    first_within([a_low, b_low], (from, middle), limit, depth + 1)
        .or_else(|| first_within([a_high, b_high], (middle, to), limit, depth + 1))
}

struct Judge {
    scales: [f64; 2],
    limit: f64,
    budget: u32,
}

impl Judge {
    fn judge(
        &mut self,
        a: &[Vector2<f64>; 3],
        b: &[Vector2<f64>; 3],
        from: f64,
        to: f64,
        depth: u32,
    ) -> Turn {
        if self.is_within(a, b) {
            return Turn::Within;
        }
        for (a, b, at) in [(a[0], b[0], from), (a[2], b[2], to)] {
            let turn = turn(a, b);
            if self.has_direction(a, 0) && self.has_direction(b, 1) && self.limit < turn.abs() {
                return Turn::Beyond { at, turn };
            }
        }
        if DEEPEST <= depth || self.budget == 0 {
            return Turn::Open { at: from };
        }
        self.budget -= 1;
        let ((a_left, a_right), (b_left, b_right)) = (halves(a), halves(b));
        let middle = f64::midpoint(from, to);
        let first = self.judge(&a_left, &b_left, from, middle, depth + 1);
        if matches!(first, Turn::Beyond { .. }) {
            return first;
        }
        match self.judge(&a_right, &b_right, middle, to, depth + 1) {
            Turn::Within => first,
            second => second,
        }
    }

    fn is_within(&self, a: &[Vector2<f64>; 3], b: &[Vector2<f64>; 3]) -> bool {
        let product = product(a, b);
        let mut errors = [0.0; 5];
        for (i, a) in a.iter().enumerate() {
            for (j, b) in b.iter().enumerate() {
                let weight = BINOMIAL_2[i] * BINOMIAL_2[j] / BINOMIAL_4[i + j];
                errors[i + j] += (a.amax() * self.scales[1] + b.amax() * self.scales[0]) * weight;
            }
        }
        // A coefficient so long that its error cannot turn it by more than a
        // tenth of the safety in every comparison of angles.
        let directed = product
            .iter()
            .zip(errors)
            .all(|(z, error)| bounds::TURN * error < z.amax());
        if !directed {
            return false;
        }
        let (least, most) = arguments(&product);
        most - least < PI - bounds::ANGLE && -self.limit < least && most < self.limit
    }

    fn has_direction(&self, vector: Vector2<f64>, side: usize) -> bool {
        bounds::DIRECTION_SHARE * self.scales[side] < vector.amax()
    }
}

/// The product conj(a) b in Bernstein form: dot and cross products.
pub fn product(a: &[Vector2<f64>; 3], b: &[Vector2<f64>; 3]) -> [Vector2<f64>; 5] {
    let mut product = [Vector2::zeros(); 5];
    for (i, a) in a.iter().enumerate() {
        for (j, b) in b.iter().enumerate() {
            let weight = BINOMIAL_2[i] * BINOMIAL_2[j] / BINOMIAL_4[i + j];
            product[i + j] += Vector2::new(a.dot(b), a.perp(b)) * weight;
        }
    }
    product
}

/// The least and the greatest argument of `product`, unwrapped from its first.
pub fn arguments(product: &[Vector2<f64>; 5]) -> (f64, f64) {
    let argument = |z: &Vector2<f64>| libm::atan2(z.y, z.x);
    let first = argument(&product[0]);
    let (mut least, mut most) = (first, first);
    for z in &product[1..] {
        let turn = first + wrapped(argument(z) - first);
        least = least.min(turn);
        most = most.max(turn);
    }
    (least, most)
}

/// Both halves of a quadratic.
pub fn halves(q: &[Vector2<f64>; 3]) -> ([Vector2<f64>; 3], [Vector2<f64>; 3]) {
    bezier::parts(*q, |a, b| (a + b) * 0.5)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ray(degrees: f64) -> Vector2<f64> {
        let angle = degrees.to_radians();
        Vector2::new(libm::cos(angle), libm::sin(angle))
    }

    #[test]
    fn a_turn_of_exactly_the_limit_is_within() {
        let (a, b) = ([ray(0.0); 3], [ray(90.0); 3]);
        let limit = enforced(TenthsOfDegree(900));
        assert_eq!(stays_within(&a, &b, [1.0; 2], limit), Turn::Within);
    }

    #[test]
    fn a_turn_beyond_the_limit_is_shown() {
        let (a, b) = ([ray(0.0); 3], [ray(80.0), ray(95.0), ray(100.0)]);
        let Turn::Beyond { at, turn } = stays_within(&a, &b, [1.0; 2], 1.6) else {
            panic!("it turns by 100 degrees")
        };
        assert!(0.5 < at && 1.6 < turn);
    }

    #[test]
    fn swings_of_both_curves_together_do_not_add() {
        let swing = [ray(-60.0), ray(0.0), ray(60.0)];
        let turn = stays_within(&swing, &swing, [1.0; 2], 0.2);
        assert_eq!(turn, Turn::Within);
    }

    #[test]
    fn a_constant_turn_just_below_the_limit_is_proved() {
        let swing = |by: f64| [ray(by - 20.0), ray(by), ray(by + 20.0)];
        let limit = enforced(TenthsOfDegree(1799));
        let turn = stays_within(&swing(0.0), &swing(179.899), [1.0; 2], limit);
        assert_eq!(turn, Turn::Within);
    }
}
