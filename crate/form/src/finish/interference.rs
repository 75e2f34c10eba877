//! Reflectance of a thin oxide film on metal.
//!
//! r = (r₀₁ + r₁₂ e^{2iβ}) / (1 + r₀₁ r₁₂ e^{2iβ}), β = 2π n d cos θ₁ / λ, with the
//! Fresnel coefficients of both faces for each polarisation; unpolarised light
//! takes the mean of both (Born and Wolf, Principles of Optics, 1999, 1.6 and
//! 14.4). Indices are n + ik.

use nalgebra::Complex;
use std::f64::consts::TAU;
use std::ops::RangeInclusive;
use thiserror::Error;

/// Indices between which an oxide of titanium may lie.
const OXIDE: RangeInclusive<f64> = 1.5..=3.5;

/// Index of refraction of the metal below the film.
#[derive(Clone, Debug, PartialEq)]
pub struct Metal(Vec<(f64, f64, f64)>);

/// Film and metal.
#[derive(Clone, Debug, PartialEq)]
pub struct Coating {
    /// The index of the oxide; anodic TiO₂ is amorphous, 2.3 to 2.6 by source.
    pub oxide: f64,
    /// The metal.
    pub metal: Metal,
}

impl Default for Coating {
    /// Titanium below oxide of index 2.5.
    fn default() -> Self {
        Self::on_titanium(2.5)
    }
}

/// Why a film is none.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum CoatingError {
    /// No oxide of titanium.
    #[error("an oxide of index {oxide}: give 1.5 to 3.5 (anodic oxide of titanium: 2.3 to 2.6)")]
    Oxide {
        /// What was given.
        oxide: f64,
    },
}

/// Wavelength in nm, n and k of titanium at room temperature: Johnson and
/// Christy, Optical constants of transition metals, Phys. Rev. B 9, 1974,
/// 5056-5070, as tabulated in the public-domain refractive index database.
const TITANIUM: [(f64, f64, f64); 16] = [
    (368.0, 1.90, 2.90),
    (381.0, 1.99, 2.93),
    (397.0, 2.08, 2.95),
    (413.0, 2.14, 2.98),
    (431.0, 2.21, 3.01),
    (451.0, 2.27, 3.04),
    (471.0, 2.32, 3.10),
    (496.0, 2.36, 3.19),
    (521.0, 2.44, 3.30),
    (549.0, 2.54, 3.43),
    (582.0, 2.60, 3.58),
    (617.0, 2.67, 3.72),
    (659.0, 2.76, 3.84),
    (704.0, 2.86, 3.96),
    (756.0, 3.00, 4.01),
    (821.0, 3.21, 4.01),
];

impl Metal {
    /// Titanium.
    pub fn titanium() -> Self {
        Self(TITANIUM.to_vec())
    }

    /// A metal of index `n` + i`k` at every wavelength.
    pub fn even(n: f64, k: f64) -> Self {
        Self(vec![(550.0, n, k)])
    }

    /// The index at `wavelength` nm, straight between table places; beyond the
    /// table its ends.
    pub fn index(&self, wavelength: f64) -> Complex<f64> {
        let after = self.0.partition_point(|row| row.0 < wavelength);
        let before = self.0[after.saturating_sub(1)];
        let after = self.0[after.min(self.0.len() - 1)];
        let width = after.0 - before.0;
        let t = if 0.0 < width {
            (wavelength - before.0) / width
        } else {
            0.0
        };
        Complex::new(
            before.1 + (after.1 - before.1) * t,
            before.2 + (after.2 - before.2) * t,
        )
    }
}

impl Coating {
    /// Oxide of index `oxide` on titanium.
    pub fn on_titanium(oxide: f64) -> Self {
        Self {
            oxide,
            metal: Metal::titanium(),
        }
    }

    /// Checks the index.
    ///
    /// # Errors
    /// [`CoatingError`].
    pub fn validate(&self) -> Result<(), CoatingError> {
        let oxide = self.oxide;
        if !OXIDE.contains(&oxide) {
            return Err(CoatingError::Oxide { oxide });
        }
        Ok(())
    }

    /// The share of unpolarised light of `wavelength` nm that a film of `film` nm
    /// reflects at `incidence` degrees from the normal (0 to below 90).
    pub fn reflectance(&self, film: f64, wavelength: f64, incidence: f64) -> f64 {
        let angle = incidence.to_radians();
        let sine = Complex::from(libm::sin(angle));
        let one = Complex::from(1.0);
        let indices = [one, Complex::from(self.oxide), self.metal.index(wavelength)];
        // Snell's law: the sine in each medium is the outer one over its index.
        let cosines = indices.map(|index| root(one - sine * sine / (index * index)));
        let phase = cosines[1] * (2.0 * TAU * self.oxide * film / wavelength);
        let turn = turned(phase);
        let through = |face: &dyn Fn(usize) -> Complex<f64>| {
            let (outer, inner) = (face(0), face(1) * turn);
            ((outer + inner) / (one + outer * inner)).norm_sqr()
        };
        let square = |k: usize| {
            let (here, next) = (indices[k] * cosines[k], indices[k + 1] * cosines[k + 1]);
            (here - next) / (here + next)
        };
        let parallel = |k: usize| {
            let (here, next) = (indices[k + 1] * cosines[k], indices[k] * cosines[k + 1]);
            (here - next) / (here + next)
        };
        (through(&square) + through(&parallel)) / 2.0
    }
}

/// e^{iz}, by platform-free functions.
fn turned(z: Complex<f64>) -> Complex<f64> {
    let shrunk = libm::exp(-z.im);
    Complex::new(shrunk * libm::cos(z.re), shrunk * libm::sin(z.re))
}

/// The root with a positive real part (or on the positive imaginary axis).
fn root(z: Complex<f64>) -> Complex<f64> {
    let length = libm::hypot(z.re, z.im);
    let real = libm::sqrt((length + z.re) / 2.0);
    let imaginary = libm::sqrt((length - z.re) / 2.0);
    Complex::new(real, if z.im < 0.0 { -imaginary } else { imaginary })
}
