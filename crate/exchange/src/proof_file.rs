//! Proof files: certificates as JSON, for checkers that trust no code of ours.
//!
//! `proof-format.md` beside this crate describes the format. The file holds the
//! family itself, so that a checker can tell of which family it speaks. Numbers
//! are written with as many digits as give the same f64 back, so a checker has
//! the exact curves that were judged. Nothing is read or checked here.

use crate::family_json;
use loftkin_kernel::certificate::{Certificate, Cut, Reason, certify};
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::AnyBlend;

/// The version of the format. Version 1 did not name the family that it proved,
/// version 2 knew half-planes only.
const VERSION: u32 = 3;

/// A proof file and what it holds.
pub struct ProofFile {
    /// The file's text.
    pub text: String,
    /// How many claims it proves.
    pub claims: usize,
}

/// Writes out the proof of a family: one claim for all blends when that is
/// proved, else one for every clear pair and every simple profile without one.
pub fn write(table: &Table) -> ProofFile {
    let mut claims = Claims {
        table,
        written: Vec::new(),
    };
    let all: Vec<usize> = (0..table.size()).collect();
    let whole = table.any_blend() == AnyBlend::Proved && claims.add(&all);
    if !whole {
        claims.by_pairs();
    }
    let profiles = all.iter().map(|&profile| curve_text(table, profile));
    let text = format!(
        "{{\"format\":\"loftkin proof\",\"version\":{VERSION},\"family\":{},\
         \"unit\":\"grid steps of 0.01 mm, each curve about its own centre\",\
         \"curves\":{},\"claims\":{}}}",
        family_json::write(table.family()).trim_end(),
        list(profiles),
        list(claims.written.iter()),
    );
    ProofFile {
        text,
        claims: claims.written.len(),
    }
}

/// JSON values as a list.
fn list(values: impl IntoIterator<Item = impl AsRef<str>>) -> String {
    let mut text = String::from("[");
    for value in values {
        if text.len() != 1 {
            text.push(',');
        }
        text.push_str(value.as_ref());
    }
    text.push(']');
    text
}

/// The shortest digits that read back as the same number.
fn number(number: f64) -> String {
    format!("{number:?}")
}

struct Claims<'a> {
    table: &'a Table,
    written: Vec<String>,
}

impl Claims<'_> {
    /// Adds the claim of `members`; false when they are not proved.
    fn add(&mut self, members: &[usize]) -> bool {
        let prepared = members.iter().map(|&profile| self.table.prepared(profile));
        let Some(certificate) = certify(&prepared.collect::<Vec<_>>()) else {
            return false;
        };
        self.written.push(claim_text(members, &certificate));
        true
    }

    fn by_pairs(&mut self) {
        let size = self.table.size();
        let mut paired = vec![false; size];
        for second in 0..size {
            for first in 0..second {
                if self.table.cell(first, second).is_free() && self.add(&[first, second]) {
                    paired[first] = true;
                    paired[second] = true;
                }
            }
        }
        let unpaired = (0..size).filter(|&profile| !paired[profile]);
        for profile in unpaired {
            if self.table.cell(profile, profile).is_free() {
                self.add(&[profile]);
            }
        }
    }
}

fn curve_text(table: &Table, profile: usize) -> String {
    match table.prepared(profile).curve() {
        Ok(curve) => format!(
            "{{\"closed\":{},\"breaks\":{},\"points\":{}}}",
            curve.is_closed(),
            list(curve.breaks().iter().copied().map(number)),
            list(curve.controls().iter().map(|point| pair(point.x, point.y))),
        ),
        Err(_) => "null".to_owned(),
    }
}

fn pair(x: f64, y: f64) -> String {
    list([number(x), number(y)])
}

fn claim_text(members: &[usize], certificate: &Certificate) -> String {
    format!(
        "{{\"curves\":{},\"leaves\":{},\"roots\":{}}}",
        list(members.iter().map(ToString::to_string)),
        certificate.leaves,
        cuts(&certificate.roots)
    )
}

fn cuts(parts: &[Cut]) -> String {
    list(parts.iter().map(cut_text))
}

fn cut_text(cut: &Cut) -> String {
    match cut {
        Cut::Proved(reason) => reason_text(reason),
        Cut::Stretches { at, parts } => {
            let at = at.iter().map(|at| at.map_or("null".to_owned(), number));
            format!("{{\"at\":{},\"parts\":{}}}", list(at), cuts(parts))
        }
        Cut::Charts(charts) => format!("{{\"charts\":{}}}", cuts(charts)),
        Cut::Halves { along_x, parts } => {
            let side = if *along_x { "x" } else { "y" };
            format!("{{\"{side}\":{}}}", cuts(parts))
        }
        Cut::Corner(below) => format!("{{\"corner\":{}}}", cut_text(below)),
    }
}

fn reason_text(reason: &Reason) -> String {
    match reason {
        Reason::HalfPlane(towards) => pair(towards.x, towards.y),
        Reason::Pencil(towards) => {
            let each = towards.iter().map(|one| pair(one.x, one.y));
            format!("{{\"pencil\":{}}}", list(each))
        }
        Reason::Product(towards) => {
            format!("{{\"product\":{}}}", pair(towards.x, towards.y))
        }
    }
}
