//! The signed clearance of a pair at one place (u, w), and how it changes.
//!
//! a and b are F_A and F_B over their rates, so a value of e survives every
//! movement of control points below e. Let `delta` be the angle from a to b,
//! unwrapped over (u, w) from its mean: the pair is free exactly when
//! |delta| < 180 degrees everywhere. So where it is free, the clearance is the
//! distance of 0 from the segment from a to b; where it is not, it is
//! (180 degrees - |delta|) |a| |b| / (|a| + |b|), which has the same value and
//! slope on the border. Unwrapping decides which way a pair is untwisted.

use nalgebra::Vector2;
use std::f64::consts::{PI, TAU};

/// A value with its derivative: it grows by `by[0].da + by[1].db`.
#[derive(Clone, Copy, Debug)]
pub struct Clearance {
    /// Grid steps.
    pub value: f64,
    /// By a and by b.
    pub by: [Vector2<f64>; 2],
}

/// The clearance at a place; `sheet` counts the whole turns that unwrapping
/// adds to the angle from a to b.
pub fn clearance(a: Vector2<f64>, b: Vector2<f64>, sheet: i8) -> Clearance {
    if sheet != 0 {
        return short_of(a, b, angle(a, b, sheet), PI);
    }
    let run = b - a;
    let square = run.norm_squared();
    let share = if 0.0 < square {
        -a.dot(&run) / square
    } else {
        0.0
    };
    if share <= 0.0 || 1.0 <= share {
        let (end, weights) = if share <= 0.0 {
            (a, [1.0, 0.0])
        } else {
            (b, [0.0, 1.0])
        };
        let value = end.norm();
        let towards = if 0.0 < value { end / value } else { end };
        return Clearance {
            value,
            by: weights.map(|weight| towards * weight),
        };
    }
    // Across the segment, away from 0: well defined even when 0 lies on it.
    let cross = a.perp(&b);
    let away = Vector2::new(run.y, -run.x) * (cross.signum() / square.sqrt());
    Clearance {
        value: cross.abs() / square.sqrt(),
        by: [away * (1.0 - share), away * share],
    }
}

/// The value of [`clearance`] alone.
pub fn clearance_value(a: Vector2<f64>, b: Vector2<f64>, sheet: i8) -> f64 {
    if sheet != 0 {
        return short_of(a, b, angle(a, b, sheet), PI).value;
    }
    let run = b - a;
    let square = run.norm_squared();
    let along = -a.dot(&run);
    if along <= 0.0 {
        a.norm()
    } else if square <= along {
        b.norm()
    } else {
        a.perp(&b).abs() / square.sqrt()
    }
}

/// How far `a`, of one curve alone, goes along the unit direction `towards`.
pub fn along(a: Vector2<f64>, towards: Vector2<f64>) -> Clearance {
    Clearance {
        value: a.dot(&towards),
        by: [towards, Vector2::zeros()],
    }
}

/// How far the angle `delta` from a to b stays short of `limit`, as a length.
pub fn short_of(a: Vector2<f64>, b: Vector2<f64>, delta: f64, limit: f64) -> Clearance {
    let (long_a, long_b) = (a.norm(), b.norm());
    if long_a == 0.0 || long_b == 0.0 {
        return Clearance {
            value: 0.0,
            by: [Vector2::zeros(); 2],
        };
    }
    let arm = long_a * long_b / (long_a + long_b);
    let turned = |c: Vector2<f64>, long: f64| Vector2::new(-c.y, c.x) / (long * long);
    let by = arm * delta.signum();
    Clearance {
        value: (limit - delta.abs()) * arm,
        by: [turned(a, long_a) * by, turned(b, long_b) * -by],
    }
}

/// The unwrapped angle from a to b, radians.
pub fn angle(a: Vector2<f64>, b: Vector2<f64>, sheet: i8) -> f64 {
    libm::atan2(a.perp(&b), a.dot(&b)) + TAU * f64::from(sheet)
}

/// How often a direction has passed the negative x axis upside down, counted
/// on over one step: `from` and `to` are less than half a turn apart.
pub fn next_sheet(sheet: i8, from: Vector2<f64>, to: Vector2<f64>) -> i8 {
    if (from.y < 0.0) == (to.y < 0.0) {
        return sheet;
    }
    // Where the segment from one to the other meets the axis of no cross.
    let across = (from.x * to.y - to.x * from.y) * (to.y - from.y);
    match (0.0 <= across, from.y < 0.0) {
        (true, _) => sheet,
        (false, false) => sheet.saturating_add(1),
        (false, true) => sheet.saturating_sub(1),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tests::ray;

    #[test]
    fn value_and_slope_run_on_over_the_border() {
        for side in [1.0, -1.0] {
            let (a, inside, outside) = (
                ray(20.0) * 3.0,
                ray(20.0 + side * 179.999) * 5.0,
                ray(20.0 + side * 180.001) * 5.0,
            );
            let one = clearance(a, inside, 0);
            let other = clearance(a, outside, if 0.0 < side { 1 } else { -1 });
            assert!(0.0 < one.value && other.value < 0.0);
            assert!((one.value + other.value).abs() < 1e-6);
            for k in 0..2 {
                assert!((one.by[k] - other.by[k]).norm() < 1e-3);
            }
        }
    }

    #[test]
    fn slopes_are_those_of_the_value() {
        let cases = [
            (ray(10.0) * 2.0, ray(150.0) * 3.0, 0),
            (ray(10.0) * 2.0, ray(-120.0), 0),
            (ray(0.0) * 2.0, ray(30.0) * 9.0, 0),
            (ray(10.0) * 2.0, ray(210.0) * 3.0, 1),
        ];
        for (a, b, sheet) in cases {
            let here = clearance(a, b, sheet);
            assert!((clearance_value(a, b, sheet) - here.value).abs() < 1e-12);
            for (da, db) in [(Vector2::x(), Vector2::zeros()), (Vector2::y(), ray(70.0))] {
                let moved = clearance(a + da * 1e-6, b + db * 1e-6, sheet).value;
                let foretold = here.by[0].dot(&da) + here.by[1].dot(&db);
                let found = (moved - here.value) / 1e-6;
                // Beyond the border the arm's own change is left out.
                let tolerance = if sheet == 0 { 1e-5 } else { 0.2 };
                assert!((found - foretold).abs() < tolerance, "{found} {foretold}");
            }
        }
    }

    #[test]
    fn sheets_follow_a_full_turn() {
        let mut sheet = 0;
        for step in 0..24 {
            let at = |k: f64| ray(30.0 * k);
            sheet = next_sheet(sheet, at(f64::from(step)), at(f64::from(step) + 1.0));
        }
        assert_eq!(sheet, 2);
    }
}
