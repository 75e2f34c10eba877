//! How far apart two colours are to the eye.
//!
//! Colours stand in CIELAB (ISO/CIE 11664-4), their distance is CIEDE2000 (ISO/CIE
//! 11664-6) with all weights 1, step by step as in Sharma, Wu and Dalal, The
//! CIEDE2000 color-difference formula: implementation notes, supplementary test data,
//! and mathematical observations, Color Research and Application 30(1), 2005, 21-30.

use super::colour::{Srgb, decoded};

/// 25⁷: colours of less chroma than 25 count as near grey.
const SEVENTH: f64 = 6_103_515_625.0;

/// A colour by lightness (0 to 100) and two opponent axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lab {
    /// L*, lightness.
    pub lightness: f64,
    /// a*, from green to red.
    pub red: f64,
    /// b*, from blue to yellow.
    pub yellow: f64,
}

impl From<Srgb> for Lab {
    fn from(colour: Srgb) -> Self {
        let channels = [colour.red, colour.green, colour.blue];
        Self::of_linear(channels.map(decoded))
    }
}

impl Lab {
    /// Of linear red, green and blue (IEC 61966-2-1), each 1 for white.
    pub fn of_linear([red, green, blue]: [f64; 3]) -> Self {
        let rows = [
            [0.4124, 0.3576, 0.1805],
            [0.2126, 0.7152, 0.0722],
            [0.0193, 0.1192, 0.9505],
        ];
        // By the rows' own sums, so that greys have no hue.
        let [x, y, z] =
            rows.map(|[r, g, b]: [f64; 3]| curved((r * red + g * green + b * blue) / (r + g + b)));
        Self {
            lightness: 116.0 * y - 16.0,
            red: 500.0 * (x - y),
            yellow: 200.0 * (y - z),
        }
    }

    /// How far from grey.
    pub fn chroma(self) -> f64 {
        libm::hypot(self.red, self.yellow)
    }
}

/// The cube root, straight near black.
fn curved(share: f64) -> f64 {
    let knee = 6.0 / 29.0;
    if knee * knee * knee < share {
        libm::cbrt(share)
    } else {
        share / (3.0 * knee * knee) + 4.0 / 29.0
    }
}

/// CIEDE2000: about 1 is the least difference that is seen.
pub fn difference(one: Lab, other: Lab) -> f64 {
    let stretch = 1.5 - 0.5 * weight((one.chroma() + other.chroma()) / 2.0);
    let [one, other] = [one, other].map(|colour| Lab {
        red: stretch * colour.red,
        ..colour
    });
    let (first, second) = (one.chroma(), other.chroma());
    let (turn, hue) = hues(one, other);
    let light = (one.lightness + other.lightness) / 2.0 - 50.0;
    let chroma = (first + second) / 2.0;
    let cosine = |times: f64, less: f64| libm::cos((times * hue - less).to_radians());
    let by_hue =
        1.0 - 0.17 * cosine(1.0, 30.0) + 0.24 * cosine(2.0, 0.0) + 0.32 * cosine(3.0, -6.0)
            - 0.20 * cosine(4.0, 63.0);
    let lighter = (other.lightness - one.lightness)
        / (1.0 + 0.015 * light * light / libm::sqrt(20.0 + light * light));
    let fuller = (second - first) / (1.0 + 0.045 * chroma);
    let turned = 2.0 * libm::sqrt(first * second) * libm::sin((turn / 2.0).to_radians())
        / (1.0 + 0.015 * chroma * by_hue);
    // Blues: chroma and hue are not told apart there.
    let off = (hue - 275.0) / 25.0;
    let blue = -2.0 * weight(chroma) * libm::sin((60.0 * libm::exp(-off * off)).to_radians());
    libm::sqrt(lighter * lighter + fuller * fuller + turned * turned + blue * fuller * turned)
}

/// √(C⁷ / (C⁷ + 25⁷)).
fn weight(chroma: f64) -> f64 {
    let power = libm::pow(chroma, 7.0);
    libm::sqrt(power / (power + SEVENTH))
}

/// The turn from the one hue to the other, the short way, and the hue between them;
/// degrees.
fn hues(one: Lab, other: Lab) -> (f64, f64) {
    let hue = |colour: Lab| {
        let degrees = libm::atan2(colour.yellow, colour.red).to_degrees();
        if degrees < 0.0 {
            degrees + 360.0
        } else {
            degrees
        }
    };
    let (first, second) = (hue(one), hue(other));
    if one.chroma() * other.chroma() == 0.0 {
        return (0.0, first + second);
    }
    let (turn, middle) = (second - first, (first + second) / 2.0);
    if turn.abs() <= 180.0 {
        (turn, middle)
    } else if middle < 180.0 {
        (turn - 360.0 * turn.signum(), middle + 180.0)
    } else {
        (turn - 360.0 * turn.signum(), middle - 180.0)
    }
}
