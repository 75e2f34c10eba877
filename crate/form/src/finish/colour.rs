//! From reflectance to colour: daylight, the standard observer, sRGB.

use super::interference::Coating;

/// Relative power of illuminant D65 from 380 to 780 nm every 10 nm (ISO/CIE
/// 11664-2).
const D65: [f64; 41] = [
    49.9755, 54.6482, 82.7549, 91.486, 93.4318, 86.6823, 104.865, 117.008, 117.812, 114.861,
    115.923, 108.811, 109.354, 107.802, 104.79, 107.689, 104.405, 104.046, 100.0, 96.3342, 95.788,
    88.6856, 90.0062, 89.5991, 87.6987, 83.2886, 83.6992, 80.0268, 80.2146, 82.2778, 78.2842,
    69.7213, 71.6091, 74.349, 61.604, 69.8856, 75.087, 63.5927, 46.4182, 66.8054, 63.3828,
];

/// A colour in sRGB (IEC 61966-2-1), each from 0 to 255.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Srgb {
    /// Red.
    pub red: u8,
    /// Green.
    pub green: u8,
    /// Blue.
    pub blue: u8,
}

impl Srgb {
    /// The hue in degrees: 0 red, 120 green, 240 blue; none for greys.
    pub fn hue(self) -> Option<f64> {
        let [red, green, blue] = [self.red, self.green, self.blue].map(f64::from);
        let (most, least) = (red.max(green).max(blue), red.min(green).min(blue));
        let spread = most - least;
        if spread == 0.0 {
            return None;
        }
        let sixth = if most == red {
            (green - blue) / spread
        } else if most == green {
            2.0 + (blue - red) / spread
        } else {
            4.0 + (red - green) / spread
        };
        Some(if sixth < 0.0 {
            60.0 * sixth + 360.0
        } else {
            60.0 * sixth
        })
    }
}

/// The colour of a film of `film` nm in daylight at `incidence` degrees, against
/// a white that reflects everything.
pub fn colour(coating: &Coating, film: f64, incidence: f64) -> Srgb {
    let [red, green, blue] = shown(coating, film, incidence).map(encoded);
    Srgb { red, green, blue }
}

/// The same as linear red, green and blue, each from 0 to 1, before it is rounded.
pub fn shown(coating: &Coating, film: f64, incidence: f64) -> [f64; 3] {
    let seen = tristimulus(|wavelength| coating.reflectance(film, wavelength, incidence));
    let white = linear(tristimulus(|_| 1.0));
    let mut channels = linear(seen);
    for (channel, white) in channels.iter_mut().zip(white) {
        *channel /= white;
    }
    within_gamut(channels)
}

/// X, Y, Z of a reflectance in D65, Y = 1 for white.
pub fn tristimulus(reflectance: impl Fn(f64) -> f64) -> [f64; 3] {
    let mut sum = [0.0; 3];
    let mut whole = 0.0;
    for (index, power) in D65.iter().enumerate() {
        let wavelength = 380.0 + 10.0 * index as f64;
        let observed = observer(wavelength);
        let reflected = power * reflectance(wavelength);
        whole += power * observed[1];
        for (sum, share) in sum.iter_mut().zip(observed) {
            *sum += reflected * share;
        }
    }
    sum.map(|sum| sum / whole)
}

/// The CIE 1931 standard observer, by the fit of Wyman, Sloan and Shirley, Simple
/// analytic approximations to the CIE XYZ color matching functions, Journal of
/// Computer Graphics Techniques 2(2), 2013.
fn observer(wavelength: f64) -> [f64; 3] {
    let lobe = |height: f64, at: f64, below: f64, above: f64| {
        let width = if wavelength < at { below } else { above };
        let off = (wavelength - at) / width;
        height * libm::exp(-0.5 * off * off)
    };
    [
        lobe(1.056, 599.8, 37.9, 31.0) + lobe(0.362, 442.0, 16.0, 26.7)
            - lobe(0.065, 501.1, 20.4, 26.2),
        lobe(0.821, 568.8, 46.9, 40.5) + lobe(0.286, 530.9, 16.3, 31.1),
        lobe(1.217, 437.0, 11.8, 36.0) + lobe(0.681, 459.0, 26.0, 13.8),
    ]
}

/// Linear red, green and blue (IEC 61966-2-1).
fn linear([x, y, z]: [f64; 3]) -> [f64; 3] {
    [
        3.2406 * x - 1.5372 * y - 0.4986 * z,
        -0.9689 * x + 1.8758 * y + 0.0415 * z,
        0.0557 * x - 0.2040 * y + 1.0570 * z,
    ]
}

/// Colours beyond what a screen shows, brought in toward their own grey.
fn within_gamut(channels: [f64; 3]) -> [f64; 3] {
    let grey = 0.2126 * channels[0] + 0.7152 * channels[1] + 0.0722 * channels[2];
    let share = channels.iter().fold(1.0_f64, |share, &channel| {
        if channel < 0.0 {
            share.min(grey / (grey - channel))
        } else if 1.0 < channel {
            share.min((1.0 - grey) / (channel - grey))
        } else {
            share
        }
    });
    channels.map(|channel| grey + (channel - grey) * share)
}

fn encoded(channel: f64) -> u8 {
    let curved = if channel <= 0.003_130_8 {
        12.92 * channel
    } else {
        1.055 * libm::pow(channel, 1.0 / 2.4) - 0.055
    };
    // Within 0 to 255 by the clamp, so the conversion is exact.
    libm::round(255.0 * curved).clamp(0.0, 255.0) as u8
}

/// Linear again.
pub(super) fn decoded(channel: u8) -> f64 {
    let curved = f64::from(channel) / 255.0;
    if curved <= 0.040_45 {
        curved / 12.92
    } else {
        libm::pow((curved + 0.055) / 1.055, 2.4)
    }
}
