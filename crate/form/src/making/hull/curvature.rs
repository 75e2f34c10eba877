//! Bounds on the curvatures of a part of the skin.
//!
//! With m a unit vector, N·m is at most |N|. So no principal curvature exceeds k > 0
//! where k (N·m) I - B has no negative eigenvalue, I the first form and B the second
//! times |N|, all polynomials; and it has none anywhere when it has none at any
//! Bernstein coefficient, because such matrices form a convex cone. The least k is
//! the largest eigenvalue of B against (N·m) I over the coefficients.

use super::poly::Poly;
use super::{Fields, Part, ROUNDING, dot};
use nalgebra::Vector3;

/// Bounds on the principal curvatures in 1/mm, positive where the skin is hollow
/// seen from outside; infinite where the part is too large, or the skin is singular.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bends {
    /// None is more; at least 0.
    pub most: f64,
    /// None is less; at most 0.
    pub least: f64,
}

/// Forms of a part.
struct Forms {
    /// E, F and G.
    first: [Poly; 3],
    /// L, M and N, each times the length of the normal.
    second: [Poly; 3],
    /// At most the length of the normal.
    length: Poly,
}

impl Forms {
    /// None where the normals may not all lean to one side.
    fn new(part: &Part) -> Option<Self> {
        let Fields {
            along,
            across,
            cross,
        } = part.fields();
        let middle = mean(&cross).try_normalize(0.0)?;
        let length = along_of(&cross, &middle);
        let second = part.second().map(|second| dot(&second, &cross));
        Some(Self {
            first: [
                dot(&along, &along),
                dot(&along, &across),
                dot(&across, &across),
            ],
            second,
            length,
        })
    }
}

/// The mean of the coefficients of a vector polynomial.
pub(super) fn mean(field: &[Poly; 3]) -> Vector3<f64> {
    let mean = |poly: &Poly| {
        let coefficients = poly.coefficients();
        coefficients.iter().sum::<f64>() / coefficients.len() as f64
    };
    Vector3::new(mean(&field[0]), mean(&field[1]), mean(&field[2]))
}

/// The part of a field along a direction.
pub(super) fn along_of(field: &[Poly; 3], direction: &Vector3<f64>) -> Poly {
    let parts = field.iter().zip(direction.iter());
    parts.fold(Poly::constant(0.0), |sum, (poly, share)| {
        sum.plus(poly, *share)
    })
}

impl Part {
    /// Bounds on its principal curvatures.
    pub fn bends(&self) -> Bends {
        *self.bends.get_or_init(|| {
            let bends = Forms::new(self).and_then(|forms| pencil(&forms));
            bends.unwrap_or(Bends {
                most: f64::INFINITY,
                least: f64::NEG_INFINITY,
            })
        })
    }

    /// The sum of the principal curvatures is nowhere larger in size, 1/mm.
    ///
    /// It is (L G - 2 M F + N E) over |N| (E G - F²).
    pub fn most_mean_bend(&self) -> f64 {
        let Some(Forms {
            first: [e, f, g],
            second: [l, m, n],
            length,
        }) = Forms::new(self)
        else {
            return f64::INFINITY;
        };
        let sum = l.times(&g).plus(&m.times(&f), -2.0).plus(&n.times(&e), 1.0);
        let area = e.times(&g).plus(&f.times(&f), -1.0).times(&length);
        let size = larger(sum.size(), area.size());
        let (sum, area) = (
            sum.raised(size).coefficients(),
            area.raised(size).coefficients(),
        );
        let whole = area.iter().fold(0.0_f64, |most, area| most.max(area.abs()));
        let shares = sum.iter().zip(&area).map(|(sum, area)| {
            if *area <= ROUNDING * whole {
                f64::INFINITY
            } else {
                sum.abs() / area
            }
        });
        shares.fold(0.0, f64::max) * (1.0 + ROUNDING)
    }
}

fn larger(one: (usize, usize), other: (usize, usize)) -> (usize, usize) {
    (one.0.max(other.0), one.1.max(other.1))
}

/// The range of eigenvalues of the second form against the first at coefficients.
fn pencil(forms: &Forms) -> Option<Bends> {
    let scaled = forms.first.each_ref().map(|part| part.times(&forms.length));
    let all = scaled.iter().chain(&forms.second);
    let size = all.fold((1, 1), |size, poly| larger(size, poly.size()));
    let [e, f, g] = scaled.map(|poly| poly.raised(size).coefficients());
    let second = forms.second.each_ref();
    let [l, m, n] = second.map(|poly| poly.raised(size).coefficients());
    let size_of = |e: f64, g: f64| if 0.0 < e && 0.0 < g { e * g } else { 0.0 };
    let whole = e.iter().zip(&g).map(|(&e, &g)| size_of(e, g));
    let whole = whole.fold(0.0, f64::max);
    let mut bends = Bends {
        most: 0.0,
        least: 0.0,
    };
    for k in 0..e.len() {
        let (e, f, g) = (e[k], f[k], g[k]);
        let (l, m, n) = (l[k], m[k], n[k]);
        let squared = e * g - f * f;
        if squared.is_nan() || e <= 0.0 || g <= 0.0 || squared <= ROUNDING * whole {
            return None;
        }
        let mean = (l * g - 2.0 * m * f + n * e) / (2.0 * squared);
        let gauss = (l * n - m * m) / squared;
        let spread = libm::sqrt((mean * mean - gauss).max(0.0));
        bends.most = bends.most.max(mean + spread);
        bends.least = bends.least.min(mean - spread);
    }
    let wider = ROUNDING * bends.most.max(-bends.least);
    bends.most += wider;
    bends.least -= wider;
    Some(bends)
}
