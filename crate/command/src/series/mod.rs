//! The order `series`: counts the pieces of a series, goes from a piece number to
//! its arrangement and back, and writes the series as a file.

pub mod asked;
mod form;
pub mod source;

use crate::arguments::numbers::all;
use crate::arguments::series::SeriesOrder;
use crate::wrap::wrapped;
use crate::{BAD_INPUT, complain, file, print, remark};
use loftkin_exchange::import::Import;
use loftkin_exchange::series::{self, SeriesPlan, words as sentences};
use loftkin_exchange::words;
use loftkin_form::piece::Arrangement;
use loftkin_form::series::Series;
use loftkin_form::series::walks::NumberError;
use loftkin_kernel::family::Family;
use num_bigint::BigUint;
use source::{Counted, NoSeries, Notes};
use std::io;
use std::path::Path;
use thiserror::Error;

/// The exit code when the series has no piece, or not the one asked for.
const NO_SUCH_PIECE: u8 = 1;
/// The name of standard output.
const STANDARD: &str = "-";

/// Why nothing could be told.
#[derive(Debug, Error)]
enum ToldError {
    #[error("{0}")]
    NoSeries(#[from] NoSeries),
    #[error("the report and the series cannot both go to standard output: name a file with -o")]
    BothOnStandard,
    #[error("{path} is there already: choose another name, or add --overwrite")]
    IsThere { path: String },
    #[error("the series could not be written to {path}: {error}")]
    Out { path: String, error: io::Error },
}

/// A counted series, and what was asked of it.
struct Answer {
    import: Import,
    plan: SeriesPlan,
    series: Series,
    /// In the order asked for.
    pieces: Vec<(BigUint, Arrangement)>,
    /// Why the piece asked for is none.
    no_such: Option<NumberError>,
}

/// Runs the order and returns the exit code.
pub fn run(order: &SeriesOrder) -> u8 {
    let answer = match answered(order) {
        Ok(answer) => answer,
        Err(error) => {
            let sentence = error.to_string();
            complain(&order.source, &sentence);
            if order.json {
                print(&form::problem(order, sentence));
            }
            return BAD_INPUT;
        }
    };
    if let Some(error) = &answer.no_such {
        let unwritten = match order.out {
            Some(_) => "; nothing is written",
            None => "",
        };
        complain(&order.source, &format!("{error}{unwritten}"));
    }
    if order.json {
        print(&form::report(order, &answer));
    } else if to_standard(order) {
        remark(&plain(&answer));
    } else {
        print(&plain(&answer));
    }
    match answer.no_such.is_some() || *answer.series.count() == BigUint::ZERO {
        true => NO_SUCH_PIECE,
        false => 0,
    }
}

fn answered(order: &SeriesOrder) -> Result<Answer, ToldError> {
    check_out(order)?;
    let options = (&order.lists, &order.settings);
    let notes = if order.json { Notes::Kept } else { Notes::Told };
    let Counted {
        import,
        plan,
        series,
        ..
    } = source::needed(&order.source, options, &order.stations, notes)?;
    let mut answer = Answer {
        import,
        plan,
        series,
        pieces: Vec::new(),
        no_such: None,
    };
    match answer.asked_for(order) {
        Ok(pieces) => answer.pieces = pieces,
        Err(error) => answer.no_such = Some(error),
    }
    if let Some(out) = &order.out
        && answer.no_such.is_none()
    {
        write(out, &answer.plan, order.overwrite)?;
    }
    Ok(answer)
}

impl Answer {
    /// The pieces that `order` asks for; a single one is the chosen one of the
    /// plan from then on.
    fn asked_for(
        &mut self,
        order: &SeriesOrder,
    ) -> Result<Vec<(BigUint, Arrangement)>, NumberError> {
        let series = &self.series;
        let of_number = |number: BigUint| Ok((number.clone(), series.arrangement(&number)?));
        if let Some(wanted) = order.choose {
            let numbers = series.choose(order.seed, wanted as usize);
            return numbers.into_iter().map(of_number).collect();
        }
        let one = if order.arrangement.is_empty() {
            match order.piece.clone().or(self.plan.piece.clone()) {
                Some(number) => of_number(number)?,
                None => return Ok(Vec::new()),
            }
        } else {
            let arrangement = Arrangement(all(&order.arrangement));
            (series.number(&arrangement)?, arrangement)
        };
        self.plan.piece = Some(one.0.clone());
        Ok(vec![one])
    }

    fn family(&self) -> &Family {
        &self.import.family
    }
}

/// The answer for people.
fn plain(answer: &Answer) -> String {
    let family = answer.family();
    let mut text = String::new();
    let name = words::shown(&family.name);
    if !name.is_empty() {
        text.push_str(&format!("{name}\n"));
    }
    text.push_str(&wrapped(&sentences::facts(&answer.plan), "", ""));
    for list in sentences::lists(family, &answer.plan) {
        text.push_str(&wrapped(&list, "  ", "    "));
    }
    for sentence in sentences::count(&answer.series) {
        text.push_str(&wrapped(&sentence, "", ""));
    }
    if *answer.series.count() != BigUint::ZERO {
        text.push_str(&wrapped(sentences::grounds(&answer.series), "", ""));
    }
    for (number, arrangement) in &answer.pieces {
        let told = sentences::arrangement(family, arrangement);
        text.push_str(&wrapped(&told, &format!("Piece {number}: "), "  "));
    }
    text
}

/// Refuses before any work what could only fail after it.
fn check_out(order: &SeriesOrder) -> Result<(), ToldError> {
    let Some(out) = &order.out else {
        return Ok(());
    };
    if to_standard(order) {
        return match order.json {
            true => Err(ToldError::BothOnStandard),
            false => Ok(()),
        };
    }
    if out.is_file() && !order.overwrite {
        return Err(ToldError::IsThere { path: shown(out) });
    }
    Ok(())
}

fn to_standard(order: &SeriesOrder) -> bool {
    order.out.as_deref() == Some(Path::new(STANDARD))
}

fn write(out: &Path, plan: &SeriesPlan, overwrite: bool) -> Result<(), ToldError> {
    let text = series::write(plan);
    if out == Path::new(STANDARD) {
        print(&text);
        return Ok(());
    }
    file::write(out, text.as_bytes(), overwrite).map_err(|error| ToldError::Out {
        path: shown(out),
        error,
    })
}

fn shown(path: &Path) -> String {
    words::shown(&path.display().to_string())
}
