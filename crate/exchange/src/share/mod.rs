//! The share code: a whole family as text for the fragment of a link.
//!
//! ```text
//! loft1.  length  payload
//!         |       base64url without padding (RFC 4648, section 5) of
//!         |       CRC-32 of the body (4 bytes), then the body
//!         digits of the same alphabet, five bits each, the lowest first; 32 is
//!         added while more follow: how many characters the payload has
//! ```
//!
//! The body is a stream of bits: settings, names, flags, points. It carries
//! exactly the document, also one that cannot be judged. A CRC of 32 bits finds
//! every change within 32 neighbouring bits, so any one changed character is
//! refused; the length tells a code that was cut short from a damaged one.
//! Reading takes memory only for what is there, and stops at the most profiles
//! that a family may have.

mod bits;
mod body;
mod points;

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use loftkin_kernel::family::Family;
use thiserror::Error;

/// The version that is written and read here.
pub const VERSION: u32 = 1;
/// What every code begins with, before its version.
const MARK: &str = "loft";
const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
const CHECK_BYTES: usize = 4;
/// The longest payload that is looked at: 256 profiles of 200 cubic spans with
/// coordinates drawn by lot take 2.4 million characters.
const MOST_CHARACTERS: usize = 1 << 22;

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

/// `family` (of 256 profiles at most) as a share code, without the sign #. Characters are those that a
/// fragment may hold as they are (RFC 3986, section 3.5).
pub fn encode(family: &Family) -> String {
    let body = body::write(family);
    let mut bytes = crc32fast::hash(&body).to_le_bytes().to_vec();
    bytes.extend(body);
    let payload = URL_SAFE_NO_PAD.encode(bytes);
    format!("{MARK}{VERSION}.{}{payload}", length_digits(payload.len()))
}

/// The family of `code`: a share code, a fragment with its sign #, or a whole
/// link that ends in one. White space around it is ignored.
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
    let code = code.trim();
    let code = code.rsplit_once('#').map_or(code, |(_, fragment)| fragment);
    let payload = checked_payload(versioned(code)?)?;
    let bytes = URL_SAFE_NO_PAD
        .decode(payload)
        .map_err(|_| ShareError::Damaged)?;
    let (check, body) = bytes
        .split_at_checked(CHECK_BYTES)
        .ok_or(ShareError::Damaged)?;
    if check != crc32fast::hash(body).to_le_bytes() {
        return Err(ShareError::Damaged);
    }
    body::read(body).ok_or(ShareError::Damaged)
}

/// Whether `text` looks like a share code or a link with one, whole or not.
pub fn is_code(text: &str) -> bool {
    !matches!(decode(text), Err(ShareError::Foreign))
}

/// What follows the mark and this version.
fn versioned(code: &str) -> Result<&str, ShareError> {
    let rest = code.strip_prefix(MARK).ok_or(ShareError::Foreign)?;
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let (number, rest) = rest.split_at(digits);
    let ours = "1.";
    if number.is_empty() || 4 < digits || number.starts_with('0') {
        return Err(ShareError::Foreign);
    }
    let version: u32 = number.parse().map_err(|_| ShareError::Foreign)?;
    if rest.is_empty() {
        return Err(ShareError::CutShort {
            missing: ours.len(),
        });
    }
    let rest = rest.strip_prefix('.').ok_or(ShareError::Foreign)?;
    if version == VERSION {
        Ok(rest)
    } else {
        Err(ShareError::Newer { version })
    }
}

/// The payload, once its length is what the digits before it say.
fn checked_payload(text: &str) -> Result<&str, ShareError> {
    let mut length = 0_usize;
    for (index, byte) in text.bytes().enumerate() {
        let digit = ALPHABET
            .iter()
            .position(|&letter| letter == byte)
            .ok_or(ShareError::Damaged)?;
        length |= (digit & 31) << (5 * index.min(5));
        if MOST_CHARACTERS < length {
            return Err(ShareError::Damaged);
        }
        if digit < 32 {
            let payload = &text[index + 1..];
            return match payload.len() {
                have if have < length => Err(ShareError::CutShort {
                    missing: length - have,
                }),
                have if have == length => Ok(payload),
                _ => Err(ShareError::Damaged),
            };
        }
    }
    Err(ShareError::CutShort { missing: 1 })
}

fn length_digits(mut length: usize) -> String {
    let mut digits = String::new();
    loop {
        let more = if 32 <= length { 32 } else { 0 };
        digits.push(char::from(ALPHABET[(length & 31) + more]));
        length >>= 5;
        if more == 0 {
            return digits;
        }
    }
}
