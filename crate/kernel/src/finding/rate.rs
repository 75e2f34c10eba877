//! Rates: how far F may move over a patch when every control point moves by 1.
//!
//! * apart: each place moves by at most 1, and the chord between two places,
//!   an integral of 3 (step) over spans, by at most 2 times 3 times the spans
//!   between them; so 2 min(1, 3 spans);
//! * itself: three blossom values of steps, each moving by 2 times the share f
//!   of the span that the piece takes; so 6 f;
//! * joint: G and H are sums of three steps, of shares f and g; 6 (f + y g).

/// Added to a number of spans between two places: each is counted from the start,
/// up to 200, with a few roundings.
pub const ROUNDING: f64 = 1e-12;

/// How F of one curve moves with its control points.
#[derive(Clone, Copy)]
pub enum Rate {
    /// The same all over the patch: one piece.
    Even(f64),
    /// Two pieces that meet: at y, the first and y times the second.
    Joint(f64, f64),
    /// By the spans between the two places: start and length along x and y,
    /// and the spans of a whole closed curve.
    Between {
        x: (f64, f64),
        y: (f64, f64),
        round: Option<f64>,
    },
}

impl Rate {
    /// The greatest over a box of places.
    pub fn over(self, along_x: (f64, f64), along_y: (f64, f64)) -> f64 {
        match self {
            Self::Even(rate) => rate,
            Self::Joint(one, other) => one + along_y.1 * other,
            Self::Between { x, y, round } => {
                let forth = (y.0 + y.1 * along_y.1) - (x.0 + x.1 * along_x.0);
                // A closed curve may be shorter the other way round.
                let spans = round.map_or(forth, |round| {
                    let back = round - (y.0 + y.1 * along_y.0) + (x.0 + x.1 * along_x.1);
                    forth.min(back)
                });
                chord_rate(spans + ROUNDING)
            }
        }
    }
}

/// How far the chord between two places `spans` apart may move when every
/// control point moves by 1: the rate by which a margin in the chord becomes
/// one in the points.
pub fn chord_rate(spans: f64) -> f64 {
    2.0 * (3.0 * spans).min(1.0)
}
