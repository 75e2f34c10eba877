//! Chains of cubic Bézier spans as cubic B-splines, and back, with the distance
//! between the two.
//!
//! A profile drawn by nodes has continuous curvature, so between corners its
//! spans are one B-spline with single knots: fewer controls, and a reader sees
//! one smooth face. Rounding makes the joints of the f64 spans smooth to about
//! 1e-10 of the size only, so the distance is bounded here, not supposed; where
//! it is too large every joint keeps its own control points instead.

use super::net::blossom;
use super::spline::Knot;
use nalgebra::Point2;

/// The knots of one stretch of spans.
#[derive(Clone, Debug, PartialEq)]
pub struct StretchKnots {
    breaks: Vec<f64>,
    single: bool,
}

impl StretchKnots {
    /// Knots at `breaks` (two or more, ascending): `single`, or counted three
    /// times each so that the Bézier points stay the control points.
    pub fn new(breaks: &[f64], single: bool) -> Self {
        Self {
            breaks: breaks.to_vec(),
            single,
        }
    }

    /// The knots with their multiplicities, clamped.
    pub fn knots(&self) -> Vec<Knot> {
        let last = self.breaks.len() - 1;
        let inner = if self.single { 1 } else { 3 };
        let each = self.breaks.iter().enumerate();
        each.map(|(index, &at)| Knot {
            at,
            multiplicity: if index == 0 || index == last {
                4
            } else {
                inner
            },
        })
        .collect()
    }

    /// The B-spline's control points for a chain of `3 * spans + 1` Bézier points.
    pub fn controls(&self, chain: &[Point2<f64>]) -> Vec<Point2<f64>> {
        if !self.single {
            return chain.to_vec();
        }
        let spans = self.breaks.len() - 1;
        (0..spans + 3)
            .map(|index| self.control(chain, index))
            .collect()
    }

    /// Control `index` is the blossom at the three knots inside its support
    /// (see [`blossom`]). Any span within the support may give it; the longest one
    /// extrapolates least.
    fn control(&self, chain: &[Point2<f64>], index: usize) -> Point2<f64> {
        let spans = self.breaks.len() - 1;
        // Knot k of the clamped sequence: the first and the last break count four times.
        let knot = |k: usize| self.breaks[k.saturating_sub(3).min(spans)];
        let from = index.saturating_sub(3).min(spans - 1);
        let to = (index + 1).min(spans);
        let length = |span: usize| self.breaks[span + 1] - self.breaks[span];
        let longest = (from..to).fold(from, |best, span| {
            if length(best) < length(span) {
                span
            } else {
                best
            }
        });
        let local = |at: f64| (at - self.breaks[longest]) / length(longest);
        blossom(
            &chain[3 * longest..3 * longest + 4],
            [1, 2, 3].map(|step| local(knot(index + step))),
        )
    }

    /// The Bézier points of the B-spline with these control points: what
    /// [`Self::controls`] was made from, but for the joints' roughness.
    fn chain(&self, controls: &[Point2<f64>]) -> Vec<Point2<f64>> {
        let spans = self.breaks.len() - 1;
        let knot = |k: usize| self.breaks[k.saturating_sub(3).min(spans)];
        let mut chain = Vec::with_capacity(3 * spans + 1);
        for span in 0..spans {
            let (a, b) = (self.breaks[span], self.breaks[span + 1]);
            // On knots span + 3 and span + 4 the controls span .. span + 3 weigh.
            let point = |at: [f64; 3]| {
                let mut work = [0, 1, 2, 3].map(|i| controls[span + i].coords);
                for level in 1..=3 {
                    for i in (level..=3).rev() {
                        let (low, high) = (knot(span + i), knot(span + i + 4 - level));
                        let share = (at[level - 1] - low) / (high - low);
                        work[i] = work[i - 1] * (1.0 - share) + work[i] * share;
                    }
                }
                Point2::from(work[3])
            };
            if span == 0 {
                chain.push(point([a, a, a]));
            }
            chain.extend([point([a, a, b]), point([a, b, b]), point([b, b, b])]);
        }
        chain
    }

    /// A bound on the distance, at equal parameters, between a chain and its
    /// B-spline, mm: the largest distance of like Bézier points, since points of
    /// a curve are averages of them.
    pub fn roughness(&self, chain: &[Point2<f64>]) -> f64 {
        if !self.single {
            return 0.0;
        }
        let back = self.chain(&self.controls(chain));
        let pairs = chain.iter().zip(&back);
        pairs.fold(0.0, |most: f64, (a, b)| most.max((a - b).norm()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::curve::Curve;
    use loftkin_kernel::family::Pacing;
    use loftkin_kernel::profile::{Node, Profile};

    fn wave() -> (Vec<f64>, Vec<Point2<f64>>) {
        let nodes = [(0, 0), (700, 900), (760, 1000), (2500, 300), (4000, 1500)];
        let nodes = nodes.iter().map(|&(x, y)| Node::smooth(x, y)).collect();
        let curve = Curve::new(&Profile::open(nodes), Pacing::Parameter).unwrap();
        let mut chain = vec![curve.span_mm(0)[0]];
        for span in 0..curve.span_count() {
            chain.extend_from_slice(&curve.span_mm(span)[1..]);
        }
        (curve.breaks().to_vec(), chain)
    }

    #[test]
    fn a_drawn_profile_is_one_smooth_spline() {
        let (breaks, chain) = wave();
        let knots = StretchKnots::new(&breaks, true);
        assert_eq!(knots.controls(&chain).len(), 7);
        assert!(
            knots.roughness(&chain) < 1e-9,
            "{}",
            knots.roughness(&chain)
        );
    }

    #[test]
    fn a_kink_is_noticed() {
        let (breaks, mut chain) = wave();
        chain[4].x += 0.5;
        assert!(0.1 < StretchKnots::new(&breaks, true).roughness(&chain));
        let triple = StretchKnots::new(&breaks, false);
        assert_eq!(triple.controls(&chain), chain);
        assert_eq!(triple.knots()[1].multiplicity, 3);
    }

    #[test]
    fn a_sliver_between_two_joints_does_no_harm() {
        let (mut breaks, mut chain) = wave();
        // Cut the last span a hair after its beginning, as the joint of another profile may.
        let (from, to) = (breaks[3], breaks[4]);
        let t = 1e-7;
        breaks.insert(4, from + (to - from) * t);
        let span: Vec<_> = chain[9..13].to_vec();
        let cut = |at| blossom(&span, at);
        let spliced = [
            cut([0.0, 0.0, t]),
            cut([0.0, t, t]),
            cut([t, t, t]),
            cut([t, t, 1.0]),
            cut([t, 1.0, 1.0]),
        ];
        chain.splice(10..12, spliced);
        let knots = StretchKnots::new(&breaks, true);
        assert!(
            knots.roughness(&chain) < 1e-9,
            "{}",
            knots.roughness(&chain)
        );
    }
}
