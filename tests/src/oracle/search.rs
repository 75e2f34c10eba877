//! The search for a contact: dense in v and in u, denser where tangents or
//! chords of the two profiles oppose each other.
//!
//! Pseudo-code: fractions across are taken evenly, and more where the two
//! profiles run against each other; every section is drawn as a polyline; where
//! it crosses itself the place is refined on the true curves. A crossing of
//! polylines that will not refine is reported as doubtful, never as a contact.

use super::Vector;
use super::confirm::{Contact, refine};
use super::cross;
use super::fold::search_fold;
use super::pair::OraclePair;
use super::section::{chords_cross, crossing_chords, parameters, points};

/// Chords narrower than this in u are not cut finer.
const NARROWEST: f64 = 1e-11;

/// Chord pairs looked at for one crossing of a polyline.
const MOST_LOOKS: usize = 200;

/// How densely to look.
#[derive(Clone, Copy, Debug)]
pub struct Density {
    /// Sections, evenly over \[0, 1\].
    pub sections: usize,
    /// Chords in each piece of a section.
    pub chords: usize,
    /// Places in each piece at which the two profiles are compared.
    pub places: usize,
}

/// For thousands of pairs.
pub const QUICK: Density = Density {
    sections: 96,
    chords: 16,
    places: 12,
};

/// For a pair in dispute.
pub const THOROUGH: Density = Density {
    sections: 400,
    chords: 48,
    places: 24,
};

/// What the search found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sight {
    /// No polyline crossed itself.
    Nothing,
    /// A contact of the true curves.
    Contact(Contact),
    /// A fold at u and v: the tangents turn through opposition there.
    Fold(f64, f64),
    /// Polylines crossed at (u, w, v), but no contact was reached.
    Doubtful(f64, f64, f64),
}

/// Looks for a section that meets itself.
pub fn search(pair: &OraclePair, density: Density) -> Sight {
    if let Some((u, v)) = search_fold(pair, 2 * density.places) {
        return Sight::Fold(u, v);
    }
    let aimed = opposed(pair, density.places);
    for &place in &aimed {
        if let Some(contact) = refine(pair, place, false) {
            return Sight::Contact(contact);
        }
    }
    let even = (0..=density.sections).map(|k| k as f64 / density.sections as f64);
    let fractions = even.chain(aimed.iter().map(|place| place.2));
    look_through(pair, density.chords, fractions)
}

/// Looks for a place where one profile meets itself; `pair` is it with itself.
pub fn search_alone(pair: &OraclePair, chords: usize) -> Sight {
    look_through(pair, chords, std::iter::once(0.0))
}

fn look_through(pair: &OraclePair, chords: usize, fractions: impl Iterator<Item = f64>) -> Sight {
    let parameters = parameters(pair, chords);
    let ends = points(pair, chords);
    let mut section: Vec<Vector> = Vec::with_capacity(ends.len());
    let mut found = Vec::new();
    let mut doubtful = Sight::Nothing;
    for v in fractions {
        section.clear();
        section.extend(ends.iter().map(|(a, b)| a * (1.0 - v) + b * v));
        crossing_chords(&section, pair.closed, &mut found);
        for &(i, j) in found.iter().take(12) {
            let chord = |k: usize| (parameters[k], parameters[k + 1]);
            let seen = zoom(pair, chord(i), chord(j), v);
            match seen {
                Sight::Contact(_) => return seen,
                Sight::Doubtful(..) => doubtful = seen,
                Sight::Nothing | Sight::Fold(..) => {}
            }
        }
    }
    doubtful
}

/// Looks closer at two crossing chords of section `v`: refines, else cuts both
/// chords finer and follows those that still cross. Chords that cross no more
/// once they are cut were an artefact of the polyline.
fn zoom(pair: &OraclePair, first: (f64, f64), second: (f64, f64), v: f64) -> Sight {
    let mut open = vec![(first, second)];
    let mut doubtful = Sight::Nothing;
    let mut looked = 0;
    while let Some((first, second)) = open.pop() {
        let place = (0.5 * (first.0 + first.1), 0.5 * (second.0 + second.1), v);
        if let Some(contact) = refine(pair, place, true) {
            return Sight::Contact(contact);
        }
        looked += 1;
        if first.1 - first.0 < NARROWEST || MOST_LOOKS < looked {
            doubtful = Sight::Doubtful(place.0, place.1, v);
            continue;
        }
        let (first, second) = (cut_finer(pair, first), cut_finer(pair, second));
        for a in first.windows(2) {
            for b in second.windows(2) {
                let shared = a[0] == b[1] || a[1] == b[0];
                let ends = [a[0], a[1], b[0], b[1]].map(|u| pair.point(u, v));
                if !shared && chords_cross(ends) {
                    open.push(((a[0], a[1]), (b[0], b[1])));
                }
            }
        }
    }
    doubtful
}

/// Eight even steps from end to end, and every joint between.
fn cut_finer(pair: &OraclePair, (from, to): (f64, f64)) -> Vec<f64> {
    let even = (0..=8).map(|k| from + (to - from) * f64::from(k) / 8.0);
    let joints = pair
        .breaks
        .iter()
        .copied()
        .filter(|&at| from < at && at < to);
    let mut all: Vec<f64> = even.chain(joints).collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

/// Places where the chords of the two profiles turn through opposition between
/// neighbouring samples, at most a few dozen of them.
fn opposed(pair: &OraclePair, places: usize) -> Vec<(f64, f64, f64)> {
    let row = parameters(pair, places);
    let ends = points(pair, places);
    let count = row.len() - usize::from(pair.closed);
    let mut found: Vec<(f64, f64, f64)> = Vec::new();
    let turn = |i: usize, j: usize| {
        let (a, b) = (ends[i].0 - ends[j].0, ends[i].1 - ends[j].1);
        (cross(a, b), a.dot(&b))
    };
    for i in 1..count {
        let mut before: Option<(f64, f64)> = None;
        for j in 0..i {
            let here = turn(i, j);
            if let Some((crossed, dot)) = before
                && (crossed < 0.0) != (here.0 < 0.0)
                && (dot < 0.0 || here.1 < 0.0)
            {
                let (u, w) = (row[i], 0.5 * (row[j - 1] + row[j]));
                found.push((u, w, pair.difference(u, w).balance()));
            }
            before = Some(here);
        }
    }
    // Spread over all that was found.
    let stride = found.len().div_ceil(24).max(1);
    found.into_iter().step_by(stride).collect()
}
