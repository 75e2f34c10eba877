//! The plan of a series as a document: where profiles stand, how they are
//! joined, what is asked of arrangements, and the piece that was chosen.
//!
//! A plan belongs to a family but does not hold it: it names profiles by their
//! place in the order. Like a family it may hold what cannot be used as it is,
//! stations that do not rise or a profile that is not there, so that nothing a
//! person entered is lost; [`SeriesPlan::layout`] and the series made of it say
//! what is wrong. It is written as a file here and as the second part of a link
//! by [`crate::share`].

mod file;
mod form;
pub mod words;
mod write;

pub use file::{MOST_BYTES, SeriesFileError, is_file, read};
pub use form::{FORMAT, VERSION};
pub use write::write;

use loftkin_form::blend::{Blend, Degree, Layout, LayoutError};
use loftkin_form::series::rules::Rules;
use loftkin_form::stations::{Setting, Station, Stations};
use loftkin_kernel::family::Placement;
use num_bigint::BigUint;

/// The blends and the one word for each.
pub const BLENDS: [(&str, Blend); 4] = [
    ("ruled", Blend::Ruled),
    ("eased", Blend::Eased),
    ("b-spline-2", Blend::BSpline(Degree::Two)),
    ("b-spline-3", Blend::BSpline(Degree::Three)),
];

/// The most digits of a piece number that are read: the largest series, 256
/// profiles over 24 stations, has 58.
const MOST_DIGITS: usize = 1000;

/// How many stations a plan begins with.
const FIRST_STATIONS: u8 = 5;

/// Stations, blend, rules and a chosen piece.
#[derive(Clone, Debug, PartialEq)]
pub struct SeriesPlan {
    /// Stack or ring, and whether the ring is joined all round.
    pub setting: Setting,
    /// How the stations are joined.
    pub blend: Blend,
    /// Whether a profile may not stand beside itself.
    pub no_equal_neighbours: bool,
    /// In order.
    pub stations: Vec<PlannedStation>,
    /// The number of the chosen piece, from 1, if one is chosen. Whether the
    /// series has so many is not known here.
    pub piece: Option<BigUint>,
}

/// A station and the profiles that may stand there.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedStation {
    /// Place (mm or degrees), scale, shift (mm) and turn (degrees).
    pub place: Station,
    /// From 0: those that alone may stand here; one fixes it, none at all
    /// (`None`) is any. An empty list is kept and refused by the rules.
    pub profiles: Option<Vec<usize>>,
}

impl PlannedStation {
    /// A station where any profile may stand.
    pub const fn any(place: Station) -> Self {
        Self {
            place,
            profiles: None,
        }
    }
}

impl SeriesPlan {
    /// A plan to begin with for a family of `placement`: five stations, ruled, any
    /// profile anywhere. A stack rises by `step` mm, a ring is joined all round.
    pub fn start(placement: Placement, step: f64) -> Self {
        let (setting, step) = match placement {
            Placement::Stack => (Setting::Stack, step),
            Placement::Ring => {
                let even = 360.0 / f64::from(FIRST_STATIONS);
                (Setting::Ring { all_round: true }, even)
            }
        };
        let places = (0..FIRST_STATIONS).map(|index| Station::at(f64::from(index) * step));
        Self {
            setting,
            blend: Blend::Ruled,
            no_equal_neighbours: false,
            stations: places.map(PlannedStation::any).collect(),
            piece: None,
        }
    }

    /// Where profiles stand, and how the stations are joined.
    ///
    /// # Errors
    /// [`LayoutError`]: stations that cannot be used, or too few for the blend.
    pub fn layout(&self) -> Result<Layout, LayoutError> {
        let places = self.stations.iter().map(|station| station.place).collect();
        let stations = match self.setting {
            Setting::Stack => Stations::stack(places)?,
            Setting::Ring { all_round } => Stations::ring(places, all_round)?,
        };
        Layout::new(stations, self.blend)
    }

    /// What is asked of arrangements. Lists that cannot be kept are refused by
    /// [`Rules::validate`], which a series asks.
    pub fn rules(&self) -> Rules {
        let lists = self.stations.iter();
        Rules {
            no_equal_neighbours: self.no_equal_neighbours,
            allowed: lists.map(|station| station.profiles.clone()).collect(),
        }
    }
}

/// The one word for `blend`.
pub fn blend_word(blend: Blend) -> &'static str {
    match blend {
        Blend::Ruled => BLENDS[0].0,
        Blend::Eased => BLENDS[1].0,
        Blend::BSpline(Degree::Two) => BLENDS[2].0,
        Blend::BSpline(Degree::Three) => BLENDS[3].0,
    }
}

/// The blend of `word`, if it is one.
pub fn blend_of(word: &str) -> Option<Blend> {
    let found = BLENDS.iter().find(|(known, _)| *known == word);
    found.map(|&(_, blend)| blend)
}

/// The piece number that `text` is: digits only, the first one not 0, at most
/// 1000 of them.
pub fn piece_number(text: &str) -> Option<BigUint> {
    let is_number = text.bytes().all(|byte| byte.is_ascii_digit())
        && !text.starts_with('0')
        && text.len() <= MOST_DIGITS;
    // The empty text is refused by the parser.
    is_number.then(|| text.parse().ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_form::stations::StationError;

    #[test]
    fn words_and_blends_belong_together() {
        for (word, blend) in BLENDS {
            assert_eq!((blend_word(blend), blend_of(word)), (word, Some(blend)));
        }
        assert_eq!(blend_of("cubic"), None);
    }

    #[test]
    fn piece_numbers_are_plain_digits_from_one() {
        assert_eq!(piece_number("117656"), Some(BigUint::from(117_656_u32)));
        let longest = "9".repeat(1000);
        assert_eq!(piece_number(&longest).unwrap().to_string(), longest);
        for text in ["", "0", "07", "-1", "+1", "1_000", "1 0", "1e3", "٣"] {
            assert_eq!(piece_number(text), None, "{text}");
        }
        assert_eq!(piece_number(&"9".repeat(1001)), None);
    }

    #[test]
    fn a_plan_to_begin_with_can_be_used() {
        let stack = SeriesPlan::start(Placement::Stack, 60.0);
        let layout = stack.layout().unwrap();
        assert!(!layout.stations().is_ring());
        assert_eq!(layout.stations().extent(), 240.0);
        assert_eq!(stack.rules().validate(5, 8), Ok(()));
        let ring = SeriesPlan::start(Placement::Ring, 60.0).layout().unwrap();
        assert!(ring.stations().is_all_round());
        assert_eq!(ring.stations().all()[1].at, 72.0);
    }

    #[test]
    fn what_cannot_be_used_is_kept_and_named() {
        let mut plan = SeriesPlan::start(Placement::Stack, 60.0);
        plan.stations[2].place.at = 60.0;
        assert!(matches!(
            plan.layout(),
            Err(LayoutError::Stations(StationError::NotRising {
                station: 3,
                ..
            }))
        ));
        plan.stations.truncate(2);
        plan.blend = Blend::BSpline(Degree::Two);
        assert!(matches!(plan.layout(), Err(LayoutError::TooFew { .. })));
        plan.stations[1].profiles = Some(Vec::new());
        assert!(plan.rules().validate(2, 8).is_err());
    }
}
