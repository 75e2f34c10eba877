//! A number for everything that the proof says of a family, witnesses
//! included, bit for bit: equal on every machine, or something is wrong.

use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Doubt, Fault, Judgement, Place};

/// FNV-1a, 64 bits (Fowler, Noll, Vo; constants from memory: any good mixing
/// would do).
const OFFSET: u64 = 0xcbf2_9ce4_8422_2325;
const PRIME: u64 = 0x0000_0100_0000_01b3;

/// The fingerprint of all judgements of `table`.
pub fn of(table: &Table) -> u64 {
    let mut hash = Hash(OFFSET);
    for second in 0..table.size() {
        for first in 0..=second {
            hash.judgement(table.cell(first, second));
        }
    }
    hash.0
}

struct Hash(u64);

impl Hash {
    fn number(&mut self, number: u64) {
        for byte in number.to_le_bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(PRIME);
        }
    }

    fn judgement(&mut self, judgement: &Judgement) {
        self.number(judgement.verdict as u64);
        self.number(u64::from(judgement.boxes));
        for fault in judgement.faults() {
            self.fault(fault);
        }
        match judgement.doubt {
            None => self.number(0),
            Some(Doubt::Contact { place, gap }) => {
                self.place(&place);
                self.number(gap.to_bits());
            }
            Some(Doubt::AtLimit { kind, place }) => {
                self.number(kind as u64 + 1);
                self.place(&place);
            }
            Some(Doubt::Limit { place }) => self.place(&place),
            Some(Doubt::ProfileNotSimple { profile } | Doubt::ProfileInvalid { profile, .. }) => {
                self.number(profile as u64 + 1);
            }
            Some(Doubt::CountsDiffer { first, second }) => {
                self.number(first as u64);
                self.number(second as u64);
            }
        }
    }

    fn fault(&mut self, fault: &Fault) {
        self.number(fault.kind as u64 + 1);
        self.place(&fault.place);
        self.number(fault.angle.to_bits());
    }

    fn place(&mut self, place: &Place) {
        for value in [
            place.along,
            place.other_along,
            place.across,
            place.point.x,
            place.point.y,
        ] {
            self.number(value.to_bits());
        }
    }
}
