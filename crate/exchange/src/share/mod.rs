//! The share code: a whole family as text for the fragment of a link, and after
//! it, where there is one, the plan of a series.
//!
//! ```text
//! loft1. family  ~  series1. plan
//! ```
//!
//! Each part is a stream of bits under a seal of its own (version, length and
//! checksum, see [`seal`]), so what befalls the series does not touch the family.
//! The family's body holds settings, names, flags, points: exactly the document,
//! also one that cannot be judged. Reading takes memory only for what is there,
//! and stops at the most profiles that a family may have.

mod bits;
mod body;
mod points;
mod seal;
mod series;

pub use series::{SeriesCodeError, decode_series, encode_series};

use crate::series::SeriesPlan;
use loftkin_kernel::family::Family;
use seal::{Broken, Seal};
use thiserror::Error;

/// The version that is written and read here.
pub const VERSION: u32 = 1;
/// What stands between the code of the family and that of the series. It is
/// never escaped where the rules are kept (RFC 3986, section 2.3), and no code
/// has it.
pub const JOINT: char = '~';
/// The joint as programs write it that escape more than they should.
const ESCAPED_JOINT: [&str; 2] = ["%7E", "%7e"];
/// 256 profiles of 200 cubic spans with coordinates drawn by lot take 2.4 million
/// characters.
const SEAL: Seal = Seal {
    mark: "loft",
    version: VERSION,
    most_characters: 1 << 22,
};

/// Why a text is not a share code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum ShareError {
    /// No code of this program at all.
    #[error(
        "this link carries no Loftkin family: a share code begins with \"loft1.\" after the sign #"
    )]
    Foreign,
    /// A version that did not exist when this was built.
    #[error(
        "the link is of version {version}, this program reads version {VERSION}: open it with a newer Loftkin"
    )]
    Newer {
        /// The version of the code.
        version: u32,
    },
    /// Characters are missing at the end.
    #[error(
        "the link was cut short, {missing} characters are missing: copy the whole of it once more"
    )]
    CutShort {
        /// How many at least.
        missing: usize,
    },
    /// Characters were changed or added.
    #[error("the link is damaged, some of its characters were changed: ask for it once more")]
    Damaged,
}

impl From<Broken> for ShareError {
    fn from(broken: Broken) -> Self {
        match broken {
            Broken::Foreign => Self::Foreign,
            Broken::Newer { version } => Self::Newer { version },
            Broken::CutShort { missing } => Self::CutShort { missing },
            Broken::Damaged => Self::Damaged,
        }
    }
}

/// All that a link carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Shared {
    /// The family.
    pub family: Family,
    /// The series, or why it cannot be read, if the link has one.
    pub series: Option<Result<SeriesPlan, SeriesCodeError>>,
}

/// `family` (of 256 profiles at most) as a share code, without the sign #. Characters are those that a
/// fragment may hold as they are (RFC 3986, section 3.5).
pub fn encode(family: &Family) -> String {
    SEAL.close(&body::write(family))
}

/// `family` and `plan` as one share code, without the sign #.
///
/// ```
/// use loftkin_exchange::series::SeriesPlan;
/// use loftkin_exchange::share::{Shared, decode, decode_all, encode_with_series};
/// use loftkin_kernel::family::{Family, Placement};
///
/// let family = Family::default();
/// let plan = SeriesPlan::start(Placement::Ring, 0.0);
/// let link = format!("https://example.org/board/#{}", encode_with_series(&family, &plan));
/// let shared = decode_all(&link)?;
/// assert_eq!((&shared.family, shared.series), (&family, Some(Ok(plan))));
/// assert_eq!(decode(&link), Ok(family));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn encode_with_series(family: &Family, plan: &SeriesPlan) -> String {
    format!("{}{JOINT}{}", encode(family), encode_series(plan))
}

/// The family of `code`: a share code, a fragment with its sign #, or a whole
/// link that ends in one. White space around it is ignored, and a series after
/// the family passed over.
///
/// ```
/// use loftkin_exchange::share::{decode, encode};
/// use loftkin_kernel::family::Family;
/// use loftkin_kernel::profile::{Node, Profile};
///
/// let hood = Profile::open(vec![Node::smooth(0, 24_000), Node::smooth(15_000, 0)]);
/// let family = Family {
///     profiles: vec![hood.named("Harbour hood")],
///     ..Family::default()
/// };
/// let link = format!("https://example.org/board/#{}", encode(&family));
/// assert_eq!(decode(&link), Ok(family));
/// ```
///
/// # Errors
/// A [`ShareError`]; never a family that differs from the one that was shared.
pub fn decode(code: &str) -> Result<Family, ShareError> {
    let (family, _) = parts(code);
    body::read(&SEAL.open(family)?).ok_or(ShareError::Damaged)
}

/// The family of `code`, read as by [`decode`], and the series after it.
///
/// # Errors
/// A [`ShareError`] when the family cannot be read. A series that cannot is no
/// error: its reason stands in its place.
pub fn decode_all(code: &str) -> Result<Shared, ShareError> {
    let (_, series) = parts(code);
    Ok(Shared {
        family: decode(code)?,
        series: series.map(decode_series),
    })
}

/// The code of the family and that of the series, if there is one, as they stand
/// in `code` (which may be a whole link); neither is read.
pub fn parts(code: &str) -> (&str, Option<&str>) {
    let code = code.trim();
    let code = code.rsplit_once('#').map_or(code, |(_, fragment)| fragment);
    let escaped = || {
        let mut ways = ESCAPED_JOINT.iter();
        ways.find_map(|way| code.split_once(way))
    };
    match code.split_once(JOINT).or_else(escaped) {
        Some((family, series)) => (family, Some(series)),
        None => (code, None),
    }
}

/// Whether `text` looks like a share code or a link with one, whole or not.
pub fn is_code(text: &str) -> bool {
    !matches!(decode(text), Err(ShareError::Foreign))
}
