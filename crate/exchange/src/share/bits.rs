//! A stream of bits, and whole numbers in exponential Golomb codes.
//!
//! The code of order k writes a number n as floor(log2(n / 2^k + 1)) zeros and
//! then the bits of n + 2^k (J. Teuhola, "A compression method for clustered
//! bit-vectors", Information Processing Letters 7, 1978). Short for small
//! numbers, never longer than twice the bits of a large one. The reader knows
//! nothing of families; it returns `None` past the end and on any number that
//! the writer could not have written.

/// The most leading zeros: numbers stay below 2^40, far above any difference
/// of coordinates (2^35 at most).
const MOST_ZEROS: u32 = 40;

/// Bits in the making, the first one highest in the first byte.
#[derive(Default)]
pub(super) struct BitWriter {
    bytes: Vec<u8>,
    used: u32,
}

impl BitWriter {
    pub(super) fn bit(&mut self, bit: bool) {
        if self.used == 0 {
            self.bytes.push(0);
        }
        if let Some(last) = self.bytes.last_mut() {
            *last |= u8::from(bit) << (7 - self.used);
        }
        self.used = (self.used + 1) % 8;
    }

    /// The lowest `count` bits of `value`, the highest of them first.
    pub(super) fn bits(&mut self, value: u64, count: u32) {
        for place in (0..count).rev() {
            self.bit(value >> place & 1 == 1);
        }
    }

    /// `value` below 2^40 in the code of order `order`.
    pub(super) fn golomb(&mut self, value: u64, order: u32) {
        let shifted = value + (1 << order);
        let length = 64 - shifted.leading_zeros();
        self.bits(0, length - order - 1);
        self.bits(shifted, length);
    }

    pub(super) fn into_bytes(self) -> Vec<u8> {
        self.bytes
    }
}

/// How many bits [`BitWriter::golomb`] takes.
pub(super) fn golomb_length(value: u64, order: u32) -> u32 {
    let length = 64 - (value + (1 << order)).leading_zeros();
    2 * length - order - 1
}

/// Bits to be read.
pub(super) struct BitReader<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> BitReader<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Self {
        Self { bytes, at: 0 }
    }

    /// How many bits are left.
    pub(super) fn left(&self) -> usize {
        8 * self.bytes.len() - self.at
    }

    pub(super) fn bit(&mut self) -> Option<bool> {
        let byte = self.bytes.get(self.at / 8)?;
        let bit = byte >> (7 - self.at % 8) & 1 == 1;
        self.at += 1;
        Some(bit)
    }

    pub(super) fn bits(&mut self, count: u32) -> Option<u64> {
        let mut value = 0;
        for _ in 0..count {
            value = value << 1 | u64::from(self.bit()?);
        }
        Some(value)
    }

    pub(super) fn golomb(&mut self, order: u32) -> Option<u64> {
        let mut zeros = 0;
        while !self.bit()? {
            zeros += 1;
            if MOST_ZEROS < zeros + order {
                return None;
            }
        }
        let rest = self.bits(zeros + order)?;
        Some((1 << (zeros + order) | rest) - (1 << order))
    }

    /// Whether nothing but the zero bits that fill the last byte is left.
    pub(super) fn is_finished(&self) -> bool {
        let filling = (1_u16 << self.left().min(8)) - 1;
        let last = u16::from(self.bytes.last().copied().unwrap_or(0));
        self.left() < 8 && last & filling == 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_come_back_in_every_order() {
        let numbers = [0, 1, 2, 3, 7, 8, 1000, 65_535, 1 << 34];
        for order in 0..24 {
            let mut writer = BitWriter::default();
            let mut length = 0;
            for number in numbers {
                writer.golomb(number, order);
                length += golomb_length(number, order) as usize;
            }
            let bytes = writer.into_bytes();
            assert_eq!(bytes.len(), length.div_ceil(8));
            let mut reader = BitReader::new(&bytes);
            for number in numbers {
                assert_eq!(reader.golomb(order), Some(number));
            }
            assert!(reader.is_finished());
        }
    }

    #[test]
    fn the_end_and_endless_zeros_give_nothing() {
        assert_eq!(BitReader::new(&[]).bit(), None);
        assert_eq!(BitReader::new(&[0; 64]).golomb(0), None);
        assert_eq!(BitReader::new(&[1]).golomb(0), None);
    }
}
