//! One number for all judgements of a fixed set of families: the same number
//! must come from every platform, in the native program and in the page's worker.
//!
//! Hashed are the bits, not rounded figures: verdict, faults with their places
//! and angles, doubt, boxes. FNV-1a, 64 bits (Fowler, Noll, Vo;
//! constants from memory: any good mixing would do).

use crate::generate::case;
use crate::shapes::wide;
use loftkin_kernel::family::{Family, Pacing, Settings};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::{Doubt, Judgement, Place};

const OFFSET: u64 = 0xcbf2_9ce4_8422_2325;
const PRIME: u64 = 0x0000_0100_0000_01b3;

/// How many generated pairs go into the number.
const PAIRS: u64 = 600;

/// The number. Takes some milliseconds.
pub fn fingerprint() -> u64 {
    let mut hash = OFFSET;
    for seed in 0..PAIRS {
        let case = case(seed);
        for settings in [wide(case.pacing), narrow(case.pacing)] {
            let family = Family {
                settings,
                profiles: vec![case.first.clone(), case.second.clone()],
                ..Family::default()
            };
            let Ok(table) = Table::new(family) else {
                continue;
            };
            for (first, second) in [(0, 0), (0, 1), (1, 1)] {
                add_judgement(&mut hash, table.cell(first, second));
            }
        }
    }
    hash
}

fn narrow(pacing: Pacing) -> Settings {
    Settings {
        pacing,
        ..Settings::default()
    }
}

/// Adds all bits of one judgement to `hash`.
pub fn add_judgement(hash: &mut u64, judgement: &Judgement) {
    add(hash, judgement.verdict as u64);
    add(hash, u64::from(judgement.boxes));
    for fault in judgement.faults() {
        add(hash, fault.kind as u64);
        add_place(hash, &fault.place);
        add(hash, fault.angle.to_bits());
    }
    match judgement.doubt {
        None => add(hash, 0),
        Some(Doubt::Contact { place, gap }) => {
            add(hash, 1);
            add_place(hash, &place);
            add(hash, gap.to_bits());
        }
        Some(Doubt::Limit { place }) => {
            add(hash, 2);
            add_place(hash, &place);
        }
        Some(Doubt::AtLimit { kind, place }) => {
            add(hash, 4);
            add(hash, kind as u64);
            add_place(hash, &place);
        }
        Some(Doubt::ProfileNotSimple { profile }) => add(hash, 0x10 + profile as u64),
        Some(Doubt::ProfileInvalid { profile, .. }) => add(hash, 0x20 + profile as u64),
        Some(Doubt::CountsDiffer { first, second }) => {
            add(hash, 3);
            add(hash, first as u64);
            add(hash, second as u64);
        }
    }
}

fn add_place(hash: &mut u64, place: &Place) {
    for value in [
        place.along,
        place.other_along,
        place.across,
        place.point.x,
        place.point.y,
    ] {
        add(hash, value.to_bits());
    }
}

fn add(hash: &mut u64, value: u64) {
    for byte in value.to_le_bytes() {
        *hash = (*hash ^ u64::from(byte)).wrapping_mul(PRIME);
    }
}
