//! Words for colours: a hue, with how light and how strong it is.
//!
//! The hue is that of sRGB; lightness and chroma are those of CIELAB, which agree with the
//! eye: by the spread of its channels a dark plum would pass for a pale purple.

use loftkin_form::finish::colour::Srgb;
use loftkin_form::finish::difference::Lab;

/// Below this chroma a colour is a grey, and below the next one dull.
const GREY: f64 = 8.0;
const DULL: f64 = 22.0;

/// Lightness, from 0 for black to 100 for white, below which a colour is dark, and above
/// which it is light.
const DARK: f64 = 36.5;
const LIGHT: f64 = 72.0;

/// A light colour of less chroma than this is pale.
const PALE: f64 = 42.0;

/// Names of colours by hue, each up to so many degrees.
const HUES: [(f64, &str); 11] = [
    (15.0, "red"),
    (38.0, "bronze"),
    (52.0, "gold"),
    (75.0, "yellow"),
    (160.0, "green"),
    (200.0, "turquoise"),
    (255.0, "blue"),
    (290.0, "violet"),
    (325.0, "purple"),
    (345.0, "pink"),
    (360.0, "red"),
];

/// A colour as pages and drawings name it: "#7d5a2b".
pub fn code(colour: Srgb) -> String {
    let Srgb { red, green, blue } = colour;
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// A colour in a plain word or two.
pub fn word(colour: Srgb) -> String {
    let seen = Lab::from(colour);
    let lightness = if seen.lightness < DARK {
        "dark "
    } else if LIGHT < seen.lightness {
        "pale "
    } else {
        ""
    };
    let hue = match colour.hue() {
        Some(hue) if GREY <= seen.chroma() => hue,
        _ => return format!("{lightness}grey"),
    };
    let name = HUES.iter().find(|(to, _)| hue < *to);
    let name = name.map_or("red", |(_, name)| name);
    let kind = match lightness {
        "pale " if PALE <= seen.chroma() => "",
        "" if seen.chroma() < DULL => "dull ",
        lightness => lightness,
    };
    format!("{kind}{name}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(rgb: u32) -> Srgb {
        let [_, red, green, blue] = rgb.to_be_bytes();
        Srgb { red, green, blue }
    }

    /// Named colours of CSS Color Module Level 4 (W3C), section 6.1, whose names say hue and
    /// lightness.
    #[test]
    fn words_agree_with_the_named_colours_of_the_web() {
        for (rgb, name) in [
            (0x80_8080, "grey"),
            (0xd3_d3d3, "pale grey"),
            (0x2f_4f4f, "dark turquoise"),
            (0xff_d700, "gold"),
            (0xda_a520, "gold"),
            (0xff_ff00, "yellow"),
            (0xff_0000, "red"),
            (0x8b_0000, "dark red"),
            (0x80_0080, "dark purple"),
            (0xdd_a0dd, "pale purple"),
            (0x00_0080, "dark blue"),
            (0xad_d8e6, "pale turquoise"),
            (0x41_69e1, "blue"),
            (0x40_e0d0, "turquoise"),
            (0x8a_2be2, "violet"),
            (0x00_6400, "dark green"),
            (0x98_fb98, "green"),
        ] {
            assert_eq!(word(of(rgb)), name, "#{rgb:06x} {:?}", Lab::from(of(rgb)));
        }
    }

    /// The least spread of channels took a dark colour for a pale one.
    #[test]
    fn a_dark_plum_is_no_pale_purple() {
        assert_eq!(word(of(0x4a_2a45)), "dark purple");
        assert_eq!(code(of(0x4a_2a45)), "#4a2a45");
    }
}
