//! Proof files: certificates as JSON, for checkers that trust no code of ours.
//!
//! `proof-format.md` beside this crate describes the format. The file holds the
//! family itself, so that a checker can tell of which family it speaks. Numbers
//! are written with as many digits as give the same f64 back, so a checker has
//! the exact curves that were judged. Nothing is read or checked here.

use crate::family_json;
use crate::json::quoted;
use loftkin_kernel::certificate::{Certificate, Cut, certify};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::table::Table;
use loftkin_kernel::verdict::AnyBlend;

/// The version of the format. Version 1 did not name the family that it proved.
const VERSION: u32 = 2;

/// A proof file and what it holds.
pub struct ProofFile {
    /// The file's text.
    pub text: String,
    /// How many claims it proves.
    pub claims: usize,
    /// One sentence for each claim that could not be written out.
    pub left_out: Vec<String>,
}

/// Writes out the proof of a family: one claim for all blends when that is
/// proved, else one for every clear pair and every simple profile without one.
pub fn write(table: &Table) -> ProofFile {
    let mut claims = Claims {
        table,
        written: Vec::new(),
        left_out: Vec::new(),
    };
    let all: Vec<usize> = (0..table.size()).collect();
    let whole = table.any_blend() == AnyBlend::Proved && claims.try_one(&all).is_ok();
    if !whole {
        claims.by_pairs();
    }
    let profiles = all.iter().map(|&profile| curve_text(table, profile));
    let left_out = claims.left_out.iter().map(|sentence| quoted(sentence));
    let text = format!(
        "{{\"format\":\"loftkin proof\",\"version\":{VERSION},\"family\":{},\
         \"unit\":\"grid steps of 0.01 mm, each curve about its own centre\",\
         \"curves\":{},\"claims\":{},\"left_out\":{}}}",
        family_json::write(table.family()).trim_end(),
        list(profiles),
        list(claims.written.iter()),
        list(left_out),
    );
    ProofFile {
        text,
        claims: claims.written.len(),
        left_out: claims.left_out,
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
    left_out: Vec<String>,
}

impl Claims<'_> {
    fn try_one(&mut self, members: &[usize]) -> Result<(), String> {
        let curves: Result<Vec<&Curve>, _> = members
            .iter()
            .map(|&profile| self.table.prepared(profile).curve())
            .collect();
        let curves = curves.map_err(|error| error.to_string())?;
        let certificate = certify(&curves).map_err(|error| error.to_string())?;
        self.written.push(claim_text(members, &certificate));
        Ok(())
    }

    fn by_pairs(&mut self) {
        let size = self.table.size();
        let mut paired = vec![false; size];
        for second in 0..size {
            for first in 0..second {
                if self.table.cell(first, second).is_free() {
                    let written = self.try_one(&[first, second]);
                    self.note(&[first, second], &written);
                    paired[first] |= written.is_ok();
                    paired[second] |= written.is_ok();
                }
            }
        }
        let unpaired = (0..size).filter(|&profile| !paired[profile]);
        for profile in unpaired {
            if self.table.cell(profile, profile).is_free() {
                let written = self.try_one(&[profile]);
                self.note(&[profile], &written);
            }
        }
    }

    fn note(&mut self, members: &[usize], written: &Result<(), String>) {
        if let Err(why) = written {
            let numbers: Vec<String> = members.iter().map(|one| (one + 1).to_string()).collect();
            let what = if members.len() == 1 {
                "profile"
            } else {
                "pair"
            };
            self.left_out
                .push(format!("{what} {}: {why}", numbers.join("-")));
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
    let members = list(members.iter().map(ToString::to_string));
    format!(
        "{{\"curves\":{members},\"roots\":{}}}",
        cuts(&certificate.roots)
    )
}

fn cuts(parts: &[Cut]) -> String {
    list(parts.iter().map(cut_text))
}

fn cut_text(cut: &Cut) -> String {
    match cut {
        Cut::Proved(towards) => pair(towards.x, towards.y),
        Cut::Itself { at, parts } => {
            format!(
                "{{\"at\":{},\"parts\":{}}}",
                list([number(*at)]),
                cuts(parts)
            )
        }
        Cut::Both { one, other, parts } => {
            format!(
                "{{\"at\":{},\"parts\":{}}}",
                pair(*one, *other),
                cuts(parts)
            )
        }
        Cut::Charts(parts) => format!("{{\"charts\":{}}}", cuts(parts)),
        Cut::Halves {
            along_x: true,
            parts,
        } => format!("{{\"x\":{}}}", cuts(parts)),
        Cut::Halves {
            along_x: false,
            parts,
        } => format!("{{\"y\":{}}}", cuts(parts)),
    }
}
