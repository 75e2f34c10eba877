//! Making checks as maps: a value at each point of a piece's picture; how far the
//! proof of the draft reaches; where halves of a mould part.

use super::checks::{coordinates, kind_of};
use super::picture::Grid;
use super::session::{SeriesFailure, SeriesSession};
use super::shop::ShopWish;
use loftkin_exchange::words;
use loftkin_form::body::cells::Cell;
use loftkin_form::making::check::values;
use loftkin_form::making::draft::{Draft, Halves, best_direction};
use loftkin_form::making::draft_proof::{Proof, proves, survey};
use loftkin_form::making::undercut::{PartingLine, parting_lines, undercuts};
use loftkin_form::piece::Piece;
use serde::Serialize;

/// Places of a [`Reach`], along and across.
const WIDE: usize = 512;
const HIGH: usize = 256;

/// The most undercut regions that are told one by one.
const MOST_REGIONS: usize = 3;

/// Undercuts within so much of the deepest are as deep, by samples, degrees.
const LIKE_DEEPEST: f64 = 0.5;

/// Said of every parting line of a smooth skin.
const AT_PARTING: &str = "Where a smooth skin passes from one half to the other its draft is 0: right at the line no least draft is kept.";

/// mm² in a cm².
const SQUARE: f64 = 100.0;

/// How far the proof of the draft reaches, and the parting lines of two halves.
#[derive(Clone, Debug, PartialEq)]
pub struct Reach {
    /// What is proved at each place of an even grid of [`Reach::size`], row by row
    /// across, in each row along: 0 at least the least draft, 1 undercut, 2 neither.
    pub proofs: Vec<u8>,
    /// The chords of the parting lines, both ends of each in mm; none for a mould
    /// in one part.
    pub parting: Vec<f64>,
    /// Whether the least draft is proved on the whole skin.
    pub is_proved: bool,
    /// All of it in words, a sentence an entry.
    pub said: Vec<String>,
}

impl Reach {
    /// Places along and across.
    pub const fn size() -> (usize, usize) {
        (WIDE, HIGH)
    }
}

/// The direction that makes draft best.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BestMessage {
    /// In space.
    pub direction: [f64; 3],
    /// What it gives, in words.
    pub said: String,
}

impl SeriesSession {
    /// The values of the check that `word` asks for on piece `number`, one for each
    /// point of its [`Self::picture`] of as many `steps` and `rows`; not a number at
    /// a singular point, infinite where the check is unbounded.
    ///
    /// # Errors
    /// [`SeriesFailure`].
    pub fn map(
        &self,
        number: &str,
        wish: &ShopWish,
        word: &str,
        steps: usize,
        rows: usize,
    ) -> Result<Vec<f32>, SeriesFailure> {
        let kind = kind_of(word).ok_or_else(|| SeriesFailure::Check(word.to_owned()))?;
        let check = wish.workshop()?.check(kind);
        let piece = self.form(&self.number_in(number)?)?;
        let grid = Grid::new(&piece, steps, rows);
        let values = values(&piece, &*check, grid.seen());
        Ok(values.into_iter().map(|value| value as f32).collect())
    }

    /// How far the proof of the draft of piece `number` reaches.
    ///
    /// # Errors
    /// [`SeriesFailure`].
    pub fn reach(&self, number: &str, wish: &ShopWish) -> Result<Reach, SeriesFailure> {
        let draft = wish.workshop()?.draft();
        let piece = self.form(&self.number_in(number)?)?;
        let cells = surveyed(&piece, &draft);
        let is_proved = proves(&piece, &draft);
        let mut said = vec![shares(&piece, &draft, &cells, is_proved)];
        let mut parting = Vec::new();
        match draft.halves {
            Halves::One => said.extend(regions(&piece, &draft)),
            Halves::Two => {
                let lines = parting_lines(&piece, draft.direction);
                said.push(parted(&lines));
                if !lines.is_empty() {
                    said.push(AT_PARTING.to_owned());
                }
                parting = lines.iter().flat_map(chords).flatten().collect();
            }
        }
        Ok(Reach {
            proofs: spread(&cells),
            parting,
            is_proved,
            said,
        })
    }

    /// The direction that makes the draft of piece `number` best, for a mould in
    /// one part.
    ///
    /// # Errors
    /// [`SeriesFailure`].
    pub fn best_draw(&self, number: &str) -> Result<BestMessage, SeriesFailure> {
        let piece = self.form(&self.number_in(number)?)?;
        let Some(best) = best_direction(&piece) else {
            return Err(SeriesFailure::NoNormal);
        };
        // To the digits that are shown, so that what is taken is what is told.
        let direction = best.direction.into_inner();
        let direction = direction.map(|part| (part * 1e4).round() / 1e4 + 0.0);
        let [x, y, z] = direction.into();
        let worth = match best.bound {
            Some(bound) => format!(
                "gives, by samples of the skin, at least {:.2} degrees of draft, and no direction gives the samples more than {bound:.2} degrees",
                best.least
            ),
            None => format!(
                "is the best of those tried; by samples of the skin each of these leaves an undercut, this one down to about {:.1} degrees. A mould in one part does not come off: think of two halves, or of other profiles",
                best.least
            ),
        };
        Ok(BestMessage {
            direction: [x, y, z],
            said: format!("The direction {x}, {y}, {z} {worth}."),
        })
    }
}

/// What is proved cell by cell: of two halves, for the one or for the other.
fn surveyed(piece: &Piece, draft: &Draft) -> Vec<(Cell, Proof)> {
    let one = survey(piece, draft);
    if draft.halves == Halves::One {
        return one;
    }
    let other = Draft {
        direction: -draft.direction,
        ..*draft
    };
    // Below a proof of the one direction a finer one of the other may lie: the
    // proved cells of both are laid over the rest.
    let is_drafted = |(_, proof): &&(Cell, Proof)| *proof == Proof::Drafted;
    let open = one.iter().map(|(cell, _)| (*cell, Proof::Open));
    let mut cells: Vec<_> = open.collect();
    cells.extend(one.iter().filter(is_drafted));
    cells.extend(survey(piece, &other).iter().filter(is_drafted));
    cells
}

/// The cells as an even grid; later ones lie over earlier ones.
fn spread(cells: &[(Cell, Proof)]) -> Vec<u8> {
    let mut proofs = vec![2; WIDE * HIGH];
    for (cell, proof) in cells {
        let code = match proof {
            Proof::Drafted => 0,
            Proof::Undercut => 1,
            Proof::Open => 2,
        };
        let (from, to) = within(cell.along, WIDE);
        let (low, high) = within(cell.across, HIGH);
        for row in low..high {
            proofs[row * WIDE + from..row * WIDE + to].fill(code);
        }
    }
    proofs
}

/// The places of `count` whose middles lie in the interval.
fn within((from, to): (f64, f64), count: usize) -> (usize, usize) {
    let at = |t: f64| ((t * count as f64 - 0.5).ceil().max(0.0) as usize).min(count);
    (at(from), at(to))
}

fn shares(piece: &Piece, draft: &Draft, cells: &[(Cell, Proof)], is_proved: bool) -> String {
    if is_proved {
        return "Proved: every place of the skin has at least the least draft.".to_owned();
    }
    let proofs = spread(cells);
    let mut areas = [0.0_f64; 3];
    // A quarter of the places each way is enough for whole percents.
    const COARSE: usize = 4;
    for row in (COARSE / 2..HIGH).step_by(COARSE) {
        for column in (COARSE / 2..WIDE).step_by(COARSE) {
            let (u, v) = (
                (column as f64 + 0.5) / WIDE as f64,
                (row as f64 + 0.5) / HIGH as f64,
            );
            areas[usize::from(proofs[row * WIDE + column])] += piece.patch(u, v).cross().norm();
        }
    }
    let whole = areas.iter().sum::<f64>().max(f64::MIN_POSITIVE);
    let [drafted, under, _] = areas.map(|area| (1000.0 * area / whole).round() / 10.0);
    // The rest, so that the three make a whole.
    let open = (100.0 - drafted - under).max(0.0);
    let undercut = match draft.halves {
        Halves::One => format!("about {under:.1} % of the skin is proved undercut, "),
        Halves::Two => String::new(),
    };
    words::capital(&format!(
        "{undercut}about {drafted:.1} % proved to have the least draft{}; about {open:.1} % is left open by the bound: there the figures are sampled.",
        if draft.halves == Halves::Two {
            " to the one half or the other"
        } else {
            ""
        },
    ))
}

fn regions(piece: &Piece, draft: &Draft) -> Vec<String> {
    let found = undercuts(piece, draft.direction);
    let deepest = found
        .iter()
        .map(|region| region.worst)
        .fold(f64::INFINITY, f64::min);
    let mut said: Vec<String> = found
        .iter()
        .take(MOST_REGIONS)
        .map(|region| {
            // The deepest has the worst place, which the check tells sharpened.
            let place = if region.worst <= deepest + LIKE_DEEPEST {
                String::new()
            } else {
                format!(" at {}", coordinates(&region.place.point))
            };
            format!(
                "Undercut of about {:.1} cm², down to about {:.1} degrees{place}.",
                region.area / SQUARE,
                region.worst,
            )
        })
        .collect();
    let more = found.len().saturating_sub(MOST_REGIONS);
    if 0 < more {
        let regions = words::counted(more, "smaller undercut", "smaller undercuts");
        said.push(format!("{regions} more."));
    }
    said
}

fn parted(lines: &[PartingLine]) -> String {
    if lines.is_empty() {
        return "No parting line was found on the skin: all of it belongs to one half.".to_owned();
    }
    let told: Vec<String> = lines
        .iter()
        .take(MOST_REGIONS)
        .map(|line| {
            let run = if line.closed {
                "closed"
            } else {
                "from edge to edge"
            };
            format!(
                "{:.1} mm long, {run}, {:.2} mm off flat",
                length(line),
                line.height
            )
        })
        .collect();
    let whole: f64 = lines.iter().map(length).sum();
    let more = lines.len().saturating_sub(MOST_REGIONS);
    let more = if 0 < more {
        format!("; {more} shorter")
    } else {
        String::new()
    };
    format!(
        "{}, {whole:.1} mm in all, by sampled places: {}{more}.",
        words::counted(lines.len(), "parting line", "parting lines"),
        told.join("; ")
    )
}

/// The length of a parting line as it is drawn, mm.
fn length(line: &PartingLine) -> f64 {
    chords(line)
        .map(|[a, b, c, x, y, z]| nalgebra::Vector3::new(x - a, y - b, z - c).norm())
        .sum()
}

/// The chords of a parting line, both ends of each.
fn chords(line: &PartingLine) -> impl Iterator<Item = [f64; 6]> + '_ {
    let places = &line.places;
    let closing = line.closed.then(|| (places.last(), places.first()));
    let steps = places.windows(2).map(|ends| (ends.first(), ends.last()));
    steps.chain(closing).filter_map(|(from, to)| {
        let (from, to) = (from?.point, to?.point);
        Some([from.x, from.y, from.z, to.x, to.y, to.z])
    })
}
