//! The films that come near to a wished colour, in words and as a table; and a
//! colour as a person writes it.

use super::colours::{code, word};
use crate::words::counted;
use loftkin_form::finish::bath::Bath;
use loftkin_form::finish::colour::Srgb;
use loftkin_form::finish::wished::{self, ANOTHER, NearFilm};
use std::fmt::Write;
use thiserror::Error;

/// Where the figures and the words for them come from.
pub const SOURCE: &str = "Differences are CIEDE2000 (ISO/CIE 11664-6); what the eye makes of them after Mokrzycki and Tatol, Colour difference ΔE: a survey, Machine Graphics and Vision 20(4), 2011, who say it of the older formula of 1976. Orders count the path through the film and back in wavelengths of 550 nm.";

/// Below so much, what the eye makes of a difference.
const SEEN: [(f64, &str); 4] = [
    (1.0, "not told apart"),
    (2.0, "told apart by a practised eye"),
    (3.5, "told apart side by side"),
    (ANOTHER, "told apart at a glance"),
];

const ORDERS: [&str; 5] = ["first", "second", "third", "fourth", "fifth"];

/// Text that is no colour.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("“{0}” is no colour: give red, green and blue as six hexadecimal digits, as #3f6fb0")]
pub struct NoColour(pub String);

/// A colour from "#3f6fb0"; the sign may be left out.
///
/// # Errors
/// [`NoColour`].
pub fn colour(text: &str) -> Result<Srgb, NoColour> {
    let digits = text.trim().trim_start_matches('#');
    let channel = |at: usize| {
        let pair = digits.get(at..at + 2)?;
        u8::from_str_radix(pair, 16).ok()
    };
    let is_digits = digits.len() == 6 && digits.bytes().all(|byte| byte.is_ascii_hexdigit());
    let channels = is_digits
        .then_some([0, 2, 4])
        .map(|places| places.map(channel));
    match channels {
        Some([Some(red), Some(green), Some(blue)]) => Ok(Srgb { red, green, blue }),
        _ => Err(NoColour(loftkin_kernel::quote::quoted(text))),
    }
}

/// Whether one of `films` looks like what was wished.
pub fn is_near(films: &[NearFilm]) -> bool {
    films.iter().any(|film| film.difference < ANOTHER)
}

/// How many films come near `wished`.
pub fn said(wished: Srgb, films: &[NearFilm]) -> String {
    let shown = format!("{} ({})", code(wished), word(wished));
    let near = films.iter().filter(|film| film.difference < ANOTHER);
    match near.count() {
        0 => format!(
            "No film comes near {shown}: the nearest is seen as another colour. What comes next to it:"
        ),
        count => format!(
            "{} near {shown}.",
            counted(count, "film comes", "films come")
        ),
    }
}

/// Among which films they were sought, and how far to trust that.
pub fn looked_at(bath: &Bath) -> String {
    let (thinnest, thickest) = wished::looked_at(bath);
    let doubt = if bath.calibration.is_of_sources() {
        " The bath is not calibrated: try the range of volts on a strip."
    } else {
        ""
    };
    format!(
        "Looked at: films of {thinnest:.0} to {thickest:.0} nm, which 0 to 140 V grow.{doubt} Colours on a screen are estimates."
    )
}

/// "45 nm, first order, blue (#2a4fb3): 18.7 V (16.0 to 22.4 V, as far as the growth is
/// known); 0.2 off, not told apart."
pub fn film(near: &NearFilm) -> String {
    let order = ORDERS.get(near.order as usize - 1);
    let order = order.map_or_else(|| format!("{}th", near.order), |order| (*order).to_owned());
    let seen = SEEN.iter().find(|(below, _)| near.difference < *below);
    let seen = seen.map_or("seen as another colour", |(_, words)| words);
    format!(
        "{:.0} nm, {order} order, {} ({}): {:.1} V ({:.1} to {:.1} V, as far as the growth is known); {:.1} off, {seen}.",
        near.film,
        word(near.colour),
        code(near.colour),
        near.volts,
        near.volts_range.0,
        near.volts_range.1,
        near.difference,
    )
}

/// A line a film, as comma-separated values (RFC 4180).
pub fn csv(films: &[NearFilm]) -> String {
    let mut text =
        "film_nm,order,difference,colour,word,volts,volts_least,volts_most\r\n".to_owned();
    for near in films {
        // Writing to a string does not fail.
        let _ = write!(
            text,
            "{:.1},{},{:.2},{},{},{:.2},{:.2},{:.2}\r\n",
            near.film,
            near.order,
            near.difference,
            code(near.colour),
            word(near.colour),
            near.volts,
            near.volts_range.0,
            near.volts_range.1,
        );
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_form::finish::colour as seen;

    #[test]
    fn a_colour_is_six_digits() {
        let blue = Srgb {
            red: 0x3f,
            green: 0x6f,
            blue: 0xb0,
        };
        for text in ["#3f6fb0", "3F6FB0", " #3f6fb0 "] {
            assert_eq!(colour(text), Ok(blue));
        }
        for text in [
            "",
            "#",
            "#3f6fb",
            "#3f6fb00",
            "blue",
            "+1+2+3",
            "#3f6f\u{e9}",
        ] {
            assert_eq!(colour(text), Err(NoColour(text.to_owned())));
        }
    }

    #[test]
    fn films_are_told_with_their_volts_and_how_far_off_they_are() {
        let bath = Bath::default();
        let blue = seen::colour(&bath.coating, 45.0, 0.0);
        let films = wished::films(&bath, blue);
        assert!(is_near(&films));
        let words = film(&films[0]);
        // 2.4 nm a volt, by sources 2.0 to 2.8.
        for part in [
            "45 nm, first order, blue (#",
            ": 18.",
            "16.1 to 22.5 V",
            "not told apart",
        ] {
            assert!(words.contains(part), "{part}: {words}");
        }
        assert!(said(blue, &films).contains(" near #"));
        assert!(looked_at(&bath).contains("films of 0 to 336 nm"));
        assert_eq!(csv(&films).matches("\r\n").count(), films.len() + 1);
    }

    #[test]
    fn no_film_is_scarlet() {
        let bath = Bath::default();
        let scarlet = colour("#ff0000").unwrap();
        let films = wished::films(&bath, scarlet);
        assert!(!is_near(&films));
        assert!(said(scarlet, &films).starts_with("No film comes near #ff0000 (red)"));
        assert!(film(&films[0]).ends_with("seen as another colour."));
    }
}
