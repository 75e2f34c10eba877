//! Making checks as maps: a value at each point of a piece's picture; how far the
//! proof of the draft reaches; where halves of a mould part.

use super::checks::{kind_of, seen_from};
use super::making::AT_THE_LINE_ONLY;
use super::picture::Grid;
use super::session::{SeriesFailure, SeriesSession};
use super::shop::ShopWish;
use loftkin_exchange::words;
use loftkin_form::body::cells::Cell;
use loftkin_form::making::band::{self, Band};
use loftkin_form::making::check::{Spot, values};
use loftkin_form::making::draft::{Draft, Halves, best_direction};
use loftkin_form::making::draft_proof::{Proof, proves, survey};
use loftkin_form::making::radius::ToolSide;
use loftkin_form::making::undercut::area::undercut_area;
use loftkin_form::making::undercut::{PartingLine, undercuts};
use loftkin_form::piece::Piece;
use serde::Serialize;

/// Places of a [`Reach`], along and across.
const WIDE: usize = 512;
const HIGH: usize = 256;

/// The most undercut regions that are told one by one.
const MOST_REGIONS: usize = 3;

/// Undercuts within so much of the deepest are as deep, by samples, degrees.
const LIKE_DEEPEST: f64 = 0.5;

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
    /// What the band beside the parting line makes of the check; none where there is
    /// no such band.
    pub band: Option<BandMessage>,
    /// All of it in words, a sentence an entry.
    pub said: Vec<String>,
}

/// What the check of the draft says once the band beside the parting line is known.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct BandMessage {
    /// Whether the limit is kept but for a band that is accepted.
    pub passes: bool,
    /// The same in words.
    pub kept: &'static str,
    /// How wide the band is, and where.
    pub side: String,
    /// What that is worth.
    pub basis: String,
    /// Empty: the place of the band is told with its width.
    pub place: String,
    /// Where it is widest in space, mm, and the direction that the skin faces there.
    pub at: Vec<f64>,
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
        let workshop = wish.workshop()?;
        let draft = workshop.draft();
        let piece = self.form(&self.number_in(number)?)?;
        Ok(match draft.halves {
            Halves::One => of_one(&piece, &draft),
            Halves::Two => of_two(&piece, &draft, workshop.most_band),
        })
    }

    /// The direction that makes the draft of piece `number` best, for a mould in
    /// one part, male or female as `wish` says.
    ///
    /// # Errors
    /// [`SeriesFailure`].
    pub fn best_draw(&self, number: &str, wish: &ShopWish) -> Result<BestMessage, SeriesFailure> {
        let is_female = wish.workshop()?.tool_side == ToolSide::Inside;
        let piece = self.form(&self.number_in(number)?)?;
        let Some(best) = best_direction(&piece) else {
            return Err(SeriesFailure::NoNormal);
        };
        // To the digits that are shown, so that what is taken is what is told.
        // A female mould, which is outside, is left the other way.
        let way = if is_female { -1.0 } else { 1.0 };
        let direction = best.direction.into_inner() * way;
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

/// The reach of a mould in one part.
fn of_one(piece: &Piece, draft: &Draft) -> Reach {
    let is_proved = proves(piece, draft);
    let proofs = spread(&survey(piece, draft));
    let mut said = vec![shares(piece, draft, &proofs, is_proved)];
    said.extend(regions(piece, draft));
    Reach {
        proofs,
        parting: Vec::new(),
        is_proved,
        band: None,
        said,
    }
}

/// The reach of two halves, of which a band of `most` mm is accepted.
fn of_two(piece: &Piece, draft: &Draft, most: f64) -> Reach {
    let band = band::band(piece, draft);
    let proof = |kept: bool| if kept { Proof::Drafted } else { Proof::Open };
    let cells = band.cells.iter().map(|(cell, kept)| (*cell, proof(*kept)));
    let proofs = spread(&cells.collect::<Vec<_>>());
    let mut said = vec![
        shares(piece, draft, &proofs, band.is_none()),
        parted(&band.lines),
    ];
    said.extend(words::band(&band, draft));
    let chords = band.lines.iter().flat_map(PartingLine::chords).flatten();
    Reach {
        proofs,
        parting: chords
            .flat_map(|point| [point.x, point.y, point.z])
            .collect(),
        is_proved: band.is_none(),
        band: beside(piece, draft, &band, most),
        said,
    }
}

/// What the check says when it knows of `band`.
fn beside(piece: &Piece, draft: &Draft, band: &Band, most: f64) -> Option<BandMessage> {
    let place = band.place.filter(|_| band.width.is_finite())?;
    let spot = Spot::new(piece.patch(place.along, place.across), piece.outward());
    let keeps = band.keeps(most);
    let passes = keeps == Some(true);
    let accepted = match most {
        0.0 => String::new(),
        most => format!("a band of {most} mm is accepted; "),
    };
    Some(BandMessage {
        passes,
        kept: match passes {
            true => "kept",
            false if most == 0.0 => AT_THE_LINE_ONLY,
            false if keeps.is_some() => "not proved",
            false => "seen wider",
        },
        side: format!("{accepted}{}", words::band_shortly(band, draft)),
        basis: words::band_basis(band),
        place: String::new(),
        at: seen_from(&spot),
    })
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

fn shares(piece: &Piece, draft: &Draft, proofs: &[u8], is_proved: bool) -> String {
    if is_proved {
        return "Proved: every place of the skin has at least the least draft.".to_owned();
    }
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
    let whole = undercut_area(piece, draft.direction).at_most;
    let mut said: Vec<String> = found
        .iter()
        .take(MOST_REGIONS)
        .map(|region| {
            // The deepest has the worst place, which the check tells sharpened.
            let place = if region.worst <= deepest + LIKE_DEEPEST {
                String::new()
            } else {
                format!(" at {}", words::point(&region.place.point))
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
    if !found.is_empty() {
        said.push(format!(
            "Undercut in all: at most {:.1} cm², by a bound to 5 % of it or 0.2 % of the skin.",
            whole / SQUARE
        ));
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
                line.length(),
                line.height
            )
        })
        .collect();
    let whole: f64 = lines.iter().map(PartingLine::length).sum();
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
