//! The search for a proof by half-planes alone: cut until one direction serves.

use super::{CertificateError, Cut, MOST_BOXES};
use crate::curve::Curve;
use crate::proof::bounds;
use crate::proof::cone::Cone;
use crate::proof::net::Net;
use crate::proof::patch::blown_up;
use crate::proof::piece::parts_of;
use nalgebra::{Point2, Vector2};

/// Stretches longer than this are halved; shorter ones are cut at joints first.
const COARSE: f64 = 1.0 / 32.0;
/// Shorter stretches are not cut: the curves come closer than rounding tells.
const SHORTEST: f64 = 1.0 / 4_294_967_296.0;
/// The deepest cut of a chart.
const DEEPEST_CHART: u32 = 40;

/// The trees of a proof for `curves`, and how many boxes carry a direction.
pub(super) fn write(curves: &[&Curve]) -> Result<(Vec<Cut>, usize), CertificateError> {
    let sizes = curves.iter().map(|curve| curve.size()).collect();
    let mut writer = Writer {
        curves,
        sizes,
        boxes: 0,
    };
    let closed = curves.iter().all(|curve| curve.is_closed());
    let quarter = |k: u32| (f64::from(k) * 0.25, f64::from(k + 1) * 0.25);
    let roots = if closed {
        vec![
            writer.itself((0.0, 0.5))?,
            writer.itself((0.5, 1.0))?,
            writer.joint(quarter(1), quarter(2))?,
            writer.joint(quarter(3), quarter(0))?,
            writer.apart(quarter(0), quarter(2))?,
            writer.apart(quarter(1), quarter(3))?,
        ]
    } else {
        vec![writer.itself((0.0, 1.0))?]
    };
    Ok((roots, writer.boxes))
}

type Stretch = (f64, f64);

struct Writer<'a> {
    curves: &'a [&'a Curve],
    sizes: Vec<f64>,
    boxes: usize,
}

impl Writer<'_> {
    fn proved(&mut self, towards: Vector2<f64>) -> Result<Cut, CertificateError> {
        self.boxes += 1;
        if MOST_BOXES < self.boxes {
            return Err(CertificateError::TooLarge);
        }
        Ok(Cut::Proved(towards))
    }

    fn itself(&mut self, stretch: Stretch) -> Result<Cut, CertificateError> {
        if let Some(towards) = self.common_heading(&[stretch]) {
            return self.proved(towards);
        }
        let at = self.cut_of(stretch)?;
        let (low, high) = ((stretch.0, at), (at, stretch.1));
        let parts = vec![
            self.itself(low)?,
            self.itself(high)?,
            self.joint(low, high)?,
        ];
        Ok(Cut::Itself { at, parts })
    }

    fn joint(&mut self, before: Stretch, after: Stretch) -> Result<Cut, CertificateError> {
        if let Some(towards) = self.common_heading(&[before, after]) {
            return self.proved(towards);
        }
        if self.is_one_span(before) && self.is_one_span(after) && self.has_corner(after.0) {
            return self.charts(before, after);
        }
        let (one, other) = (self.cut_of(before)?, self.cut_of(after)?);
        let (a, b) = ((before.0, one), (one, before.1));
        let (c, d) = ((after.0, other), (other, after.1));
        let parts = vec![
            self.apart(a, c)?,
            self.apart(a, d)?,
            self.joint(b, c)?,
            self.apart(b, d)?,
        ];
        Ok(Cut::Both { one, other, parts })
    }

    fn apart(&mut self, first: Stretch, second: Stretch) -> Result<Cut, CertificateError> {
        if let Some(towards) = self.separation(first, second) {
            return self.proved(towards);
        }
        let (one, other) = (self.cut_of(first)?, self.cut_of(second)?);
        let (a, b) = ((first.0, one), (one, first.1));
        let (c, d) = ((second.0, other), (other, second.1));
        let parts = vec![
            self.apart(a, c)?,
            self.apart(a, d)?,
            self.apart(b, c)?,
            self.apart(b, d)?,
        ];
        Ok(Cut::Both { one, other, parts })
    }

    /// The middle, or for a short stretch the joint inside it nearest to that.
    fn cut_of(&self, (from, to): Stretch) -> Result<f64, CertificateError> {
        let middle = f64::midpoint(from, to);
        if COARSE < to - from {
            return Ok(middle);
        }
        if to - from < SHORTEST {
            return Err(CertificateError::TooClose);
        }
        let inside = self
            .curves
            .iter()
            .flat_map(|curve| curve.breaks())
            .filter(|at| from < **at && **at < to);
        let nearest =
            inside.min_by(|one, other| (**one - middle).abs().total_cmp(&(**other - middle).abs()));
        Ok(nearest.copied().unwrap_or(middle))
    }

    fn is_one_span(&self, (from, to): Stretch) -> bool {
        let inside = |at: &f64| from < *at && *at < to;
        !self
            .curves
            .iter()
            .any(|curve| curve.breaks().iter().any(inside))
    }

    fn has_corner(&self, at: f64) -> bool {
        self.curves.iter().any(|curve| {
            let joints = curve.breaks().iter().enumerate();
            joints
                .into_iter()
                .any(|(joint, &here)| here == at && curve.is_corner(joint))
        })
    }

    /// A direction in which all curves run forward over all `stretches`.
    fn common_heading(&self, stretches: &[Stretch]) -> Option<Vector2<f64>> {
        let mut cone: Option<Cone> = None;
        let mut all: Vec<(Vector2<f64>, f64)> = Vec::new();
        for curve in self.curves {
            for &(from, to) in stretches {
                for part in parts_of(curve, from, to) {
                    let here = Cone::of(part.headings(), part.reach);
                    let joined = cone.map_or(here, |cone| cone.joined(here));
                    if !joined.is_narrow() {
                        return None;
                    }
                    cone = Some(joined);
                    let steps = part.headings().iter();
                    all.extend(steps.map(|&step| (step, bounds::PATCH * part.reach)));
                }
            }
        }
        let cone = cone?;
        let middle = cone.from + cone.sweep * 0.5;
        let towards = short(Vector2::new(libm::cos(middle), libm::sin(middle)));
        let forward = |(step, error): &(Vector2<f64>, f64)| 2.0 * error < towards.dot(step);
        all.iter().all(forward).then_some(towards)
    }

    /// A direction that separates the stretches in all curves.
    fn separation(&self, first: Stretch, second: Stretch) -> Option<Vector2<f64>> {
        let points = |curve: &Curve, (from, to): Stretch| -> Vec<Point2<f64>> {
            let parts = parts_of(curve, from, to);
            parts.iter().flat_map(|part| part.points).collect()
        };
        let hulls: Vec<[Vec<Point2<f64>>; 2]> = self
            .curves
            .iter()
            .map(|curve| [points(curve, first), points(curve, second)])
            .collect();
        let headings: Vec<Vector2<f64>> = hulls
            .iter()
            .map(|[one, other]| (mean(one) - mean(other)).try_normalize(0.0))
            .collect::<Option<_>>()?;
        let separates = |towards: Vector2<f64>| {
            hulls.iter().zip(&self.sizes).all(|([one, other], size)| {
                let along = |point: &Point2<f64>| towards.dot(&point.coords);
                let low = one.iter().map(along).fold(f64::INFINITY, f64::min);
                let high = other.iter().map(along).fold(f64::NEG_INFINITY, f64::max);
                2.0 * bounds::SEPARATION * size < low - high
            })
        };
        let bisector = headings.iter().sum::<Vector2<f64>>().try_normalize(0.0);
        let around = (0..32).map(|k| {
            let angle = f64::from(k) * std::f64::consts::PI / 16.0;
            Vector2::new(libm::cos(angle), libm::sin(angle))
        });
        bisector
            .into_iter()
            .chain(around)
            .map(short)
            .find(|&towards| separates(towards))
    }

    fn charts(&mut self, before: Stretch, after: Stretch) -> Result<Cut, CertificateError> {
        let mut nets: Vec<[(Net, bool); 2]> = Vec::new();
        let mut errors = Vec::new();
        for curve in self.curves {
            let over = |(from, to): Stretch| parts_of(curve, from, to);
            let (one, other) = (over(before), over(after));
            nets.push(blown_up(&one[0], &other[0]).map(|(net, [first, _])| (net, first)));
            errors.push(bounds::PATCH * one[0].reach.max(other[0].reach));
        }
        let charts = [0, 1].map(|k| nets.iter().map(|nets| nets[k]).collect::<Vec<_>>());
        let [first, second] = charts.map(|nets| self.chart(&nets, &errors, 0));
        Ok(Cut::Charts(vec![first?, second?]))
    }

    /// A part of a chart; each net with whether it begins with a zero for want of
    /// a handle, at the chart's own corner.
    fn chart(
        &mut self,
        nets: &[(Net, bool)],
        errors: &[f64],
        depth: u32,
    ) -> Result<Cut, CertificateError> {
        let sum = nets.iter().map(|(net, _)| {
            let total = (0..16).fold(Vector2::zeros(), |sum, k| sum + net.at(k));
            total.try_normalize(0.0).unwrap_or_else(Vector2::zeros)
        });
        let towards = sum.sum::<Vector2<f64>>().try_normalize(0.0).map(short);
        let proves = |towards: Vector2<f64>| {
            nets.iter().zip(errors).all(|((net, bare), error)| {
                let mut asked = usize::from(*bare)..16;
                asked.all(|k| 2.0 * error < towards.dot(&net.at(k)))
            })
        };
        if let Some(towards) = towards.filter(|&towards| proves(towards)) {
            return self.proved(towards);
        }
        if DEEPEST_CHART <= depth {
            return Err(CertificateError::TooClose);
        }
        let (x, y) = nets
            .iter()
            .map(|(net, _)| net.variation())
            .fold((0.0, 0.0), |sum, (x, y)| (sum.0 + x, sum.1 + y));
        let along_x = y <= x;
        let halves = nets.iter().map(|(net, bare)| {
            let (low, high) = net.middle_halves(along_x);
            ((low, *bare), (high, false))
        });
        let (low, high): (Vec<_>, Vec<_>) = halves.unzip();
        let parts = vec![
            self.chart(&low, errors, depth + 1)?,
            self.chart(&high, errors, depth + 1)?,
        ];
        Ok(Cut::Halves { along_x, parts })
    }
}

/// A direction with few digits: any one near serves, and it is written out.
fn short(towards: Vector2<f64>) -> Vector2<f64> {
    const DIGITS: f64 = 4096.0;
    towards.map(|value| libm::round(value * DIGITS) / DIGITS)
}

fn mean(points: &[Point2<f64>]) -> Vector2<f64> {
    points
        .iter()
        .fold(Vector2::zeros(), |sum, point| sum + point.coords)
        / points.len() as f64
}
