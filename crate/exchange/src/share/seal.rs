//! The seal around a body of bits: mark, version, length and checksum, as text.
//!
//! ```text
//! MARK version .  length  payload
//!                 |       base64url without padding (RFC 4648, section 5) of
//!                 |       CRC-32 of the body (4 bytes), then the body
//!                 digits of the same alphabet, five bits each, the lowest first; 32 is
//!                 added while more follow: how many characters the payload has
//! ```
//!
//! A CRC of 32 bits finds every change within 32 neighbouring bits, so any one
//! changed character is refused; the length tells a code that was cut short from
//! a damaged one.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use crc::{CRC_32_ISO_HDLC, Crc, NoTable};

const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
const CHECK_BYTES: usize = 4;

/// Computed bit by bit: a body has some hundreds of bytes, and a table is sent to every visitor of the page
/// (16 kB that do not compress, for the usual sixteen).
const CHECKSUM: Crc<u32, NoTable> = Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC);

/// One kind of code.
pub(super) struct Seal {
    /// What every code begins with, before its version.
    pub mark: &'static str,
    /// The version that is written and read, below 10.
    pub version: u32,
    /// The longest payload that is looked at.
    pub most_characters: usize,
}

/// Why a seal is not whole.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Broken {
    /// Another mark, or none.
    Foreign,
    /// A version that is not read.
    Newer { version: u32 },
    /// At least so many characters are missing at the end.
    CutShort { missing: usize },
    /// Characters were changed or added.
    Damaged,
}

impl Seal {
    /// `body` as text. Characters are those that a fragment may hold as they are
    /// (RFC 3986, section 3.5).
    pub(super) fn close(&self, body: &[u8]) -> String {
        let mut bytes = CHECKSUM.checksum(body).to_le_bytes().to_vec();
        bytes.extend(body);
        let payload = URL_SAFE_NO_PAD.encode(bytes);
        let length = length_digits(payload.len());
        format!("{}{}.{length}{payload}", self.mark, self.version)
    }

    /// The body of `code`.
    pub(super) fn open(&self, code: &str) -> Result<Vec<u8>, Broken> {
        let payload = self.checked_payload(self.versioned(code)?)?;
        let bytes = URL_SAFE_NO_PAD
            .decode(payload)
            .map_err(|_| Broken::Damaged)?;
        let (check, body) = bytes.split_at_checked(CHECK_BYTES).ok_or(Broken::Damaged)?;
        if check != CHECKSUM.checksum(body).to_le_bytes() {
            return Err(Broken::Damaged);
        }
        Ok(body.to_vec())
    }

    /// What follows the mark and this version.
    fn versioned<'a>(&self, code: &'a str) -> Result<&'a str, Broken> {
        let rest = code.strip_prefix(self.mark).ok_or(Broken::Foreign)?;
        let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
        let (number, rest) = rest.split_at(digits);
        let ours = "1.";
        if number.is_empty() || 4 < digits || number.starts_with('0') {
            return Err(Broken::Foreign);
        }
        let version: u32 = number.parse().map_err(|_| Broken::Foreign)?;
        if rest.is_empty() {
            return Err(Broken::CutShort {
                missing: ours.len(),
            });
        }
        let rest = rest.strip_prefix('.').ok_or(Broken::Foreign)?;
        if version == self.version {
            Ok(rest)
        } else {
            Err(Broken::Newer { version })
        }
    }

    /// The payload, once its length is what the digits before it say.
    fn checked_payload<'a>(&self, text: &'a str) -> Result<&'a str, Broken> {
        let mut length = 0_usize;
        for (index, byte) in text.bytes().enumerate() {
            let digit = ALPHABET
                .iter()
                .position(|&letter| letter == byte)
                .ok_or(Broken::Damaged)?;
            length |= (digit & 31) << (5 * index.min(5));
            if self.most_characters < length {
                return Err(Broken::Damaged);
            }
            if digit < 32 {
                let payload = &text[index + 1..];
                return match payload.len() {
                    have if have < length => Err(Broken::CutShort {
                        missing: length - have,
                    }),
                    have if have == length => Ok(payload),
                    _ => Err(Broken::Damaged),
                };
            }
        }
        Err(Broken::CutShort { missing: 1 })
    }
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
