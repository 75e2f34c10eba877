//! The work of a run: what is there is verified, the rest is made, a batch at a
//! time.

use super::Failure;
use super::folder::Folder;
use super::manifest::{self, Anew, Entry, Manifest};
use super::piece::Maker;
use super::plan::Plan;
use super::recovered::Found;
use super::tally::Tally;
use crate::stop;
use indicatif::{HumanCount, ProgressBar, ProgressState, ProgressStyle};
use rayon::prelude::*;
use std::fmt::Write;
use std::path::Path;

/// Pieces made between two entries into the manifest.
const BATCH: u64 = 64;

/// A run under way.
pub struct Work<'a> {
    plan: &'a Plan,
    folder: Folder,
    maker: Maker<'a>,
    manifest: Manifest,
    /// Whole lines that the manifest had.
    found: Found,
    line: ProgressBar,
}

/// A piece that is whole: its line of the manifest, and what it lacks.
struct Whole {
    line: String,
    problem: Option<String>,
    repaired: bool,
}

impl Whole {
    /// As one that was there before.
    fn again(self) -> Self {
        let repaired = true;
        Self { repaired, ..self }
    }
}

impl<'a> Work<'a> {
    /// Begins in the folder `out`, or goes on there; nothing is made yet.
    ///
    /// # Errors
    /// The first [`Failure`].
    pub fn begin(plan: &'a Plan, out: &Path) -> Result<Self, Failure> {
        stop::listen();
        let folder = Folder::open(out, plan)?;
        let path = folder.path(&plan.manifest_name());
        let (manifest, found) = Manifest::open(&path, &plan.column_names(), plan)?;
        folder.tidy(plan)?;
        Ok(Self {
            maker: Maker::new(plan),
            line: progress(plan.count()),
            manifest,
            found,
            folder,
            plan,
        })
    }

    /// Makes the pieces that are not yet whole.
    ///
    /// # Errors
    /// The first [`Failure`]; `tally` says what was done until then.
    pub fn run(mut self, tally: &mut Tally) -> Result<(), Failure> {
        let ended = self.verify(tally).and_then(|()| self.go_on(tally));
        self.line.finish_and_clear();
        let path = self.folder.path(&self.plan.manifest_name());
        match ended {
            Err(Failure::System { .. }) if !path.exists() => Err(Failure::Gone { path }),
            Ok(()) => {
                self.folder.sync(self.plan);
                Ok(())
            }
            failed => failed,
        }
    }

    /// Compares every file that the lines met name with its checksum, and makes
    /// again what is damaged or gone, and the pieces whose lines are. Then the
    /// manifest is written anew.
    fn verify(&mut self, tally: &mut Tally) -> Result<(), Failure> {
        let count = self.found.count;
        let path = self.folder.path(&self.plan.manifest_name());
        let mut lines = self.found.lines(&path)?;
        let mut anew = match self.found.is_disturbed() {
            true => Some(Anew::begin(&self.manifest, self.folder.mark())?),
            false => None,
        };
        let mut from = 0;
        while from < count && !stop::asked() {
            let to = (from + BATCH).min(count);
            let batch: Vec<(u64, Option<String>)> = (from..to)
                .map(|place| {
                    let line = lines.next_line();
                    Ok((place, line.map_err(|error| Failure::at(&path, error))?))
                })
                .collect::<Result<_, Failure>>()?;
            let met: Vec<Result<Whole, Failure>> = batch
                .into_par_iter()
                .map(|(place, line)| match line {
                    Some(line) => self.met(place, line),
                    None => self.made(place).map(Whole::again),
                })
                .collect();
            let met: Vec<Whole> = met.into_iter().collect::<Result<_, _>>()?;
            if let Some(anew) = &mut anew {
                anew.add(met.iter().map(|whole| whole.line.as_str()))?;
            }
            for whole in met {
                tally.met += 1;
                tally.repaired += u64::from(whole.repaired);
                tally.note(self.plan, &whole.line, whole.problem);
            }
            from = to;
            self.line.set_position(from);
        }
        if let Some(anew) = anew
            && from == count
        {
            anew.end(&mut self.manifest)?;
        }
        // Time left is told by what is made, not by what was met.
        self.line.reset_eta();
        Ok(())
    }

    /// The piece of `line`, its files as the line says.
    fn met(&self, place: u64, line: String) -> Result<Whole, Failure> {
        let entries = manifest::entries(&line, self.plan.formats.len());
        let missing = entries.iter().any(|entry| entry.name.is_empty());
        let repaired = !entries.iter().all(|entry| self.folder.holds(entry));
        if repaired && self.made(place)?.line != line {
            let path = self.folder.path(&entries[0].name);
            return Err(Failure::NotTheSame { path });
        }
        let number = line.split(',').next().unwrap_or_default();
        let problem = missing.then(|| format!("piece {number}: a file could not be made as asked"));
        Ok(Whole {
            line,
            problem,
            repaired,
        })
    }

    /// Makes the pieces after the lines met.
    fn go_on(&mut self, tally: &mut Tally) -> Result<(), Failure> {
        let mut from = self.found.count;
        while from < self.plan.count() && !stop::asked() {
            let to = (from + BATCH).min(self.plan.count());
            let batch: Vec<Result<Whole, Failure>> = (from..to)
                .into_par_iter()
                .map(|place| self.made(place))
                .collect();
            // What is whole before the first failure is kept.
            let (mut whole, mut failed) = (Vec::new(), None);
            for made in batch {
                match made {
                    Ok(made) if failed.is_none() => whole.push(made),
                    Ok(_) => {}
                    Err(failure) => failed = failed.or(Some(failure)),
                }
            }
            self.manifest
                .add(whole.iter().map(|made| made.line.as_str()))?;
            tally.made += whole.len() as u64;
            self.line.inc(whole.len() as u64);
            for made in whole {
                tally.note(self.plan, &made.line, made.problem);
            }
            if let Some(failure) = failed {
                return Err(failure);
            }
            from = to;
        }
        Ok(())
    }

    /// Makes and writes the piece at `place` of the share.
    fn made(&self, place: u64) -> Result<Whole, Failure> {
        let plan = self.plan;
        let number = plan.number(place).unwrap_or_default();
        let Some(made) = self.maker.make(&number) else {
            return Ok(Whole {
                line: format!("{number}{}", ",".repeat(plan.column_names().len() - 1)),
                problem: Some(format!("piece {number} could not be formed")),
                repaired: false,
            });
        };
        let mut columns = vec![made.columns];
        for (bytes, &format) in made.files.iter().zip(&plan.formats) {
            columns.push(match bytes {
                Some(bytes) => {
                    let name = plan.file_name(place, &number, format);
                    let Entry { name, length, sum } = self.folder.write(name, bytes)?;
                    format!("{name},{length},{sum}")
                }
                None => ",,".to_owned(),
            });
        }
        Ok(Whole {
            line: columns.join(","),
            problem: made.problem.map(|why| format!("piece {number}: {why}")),
            repaired: false,
        })
    }
}

/// A line at a terminal that shows how far the run has come, and the time left.
fn progress(count: u64) -> ProgressBar {
    let line = ProgressBar::new(count);
    let template = "{wide_bar} {human_pos} of {human_len} pieces, {a_minute} a minute, {eta} left";
    let a_minute = |state: &ProgressState, out: &mut dyn Write| {
        let _ = write!(out, "{}", HumanCount((60.0 * state.per_sec()) as u64));
    };
    // The template is a constant of this file and well formed.
    if let Ok(style) = ProgressStyle::with_template(template) {
        let style = style.with_key("a_minute", a_minute);
        line.set_style(style.progress_chars("=> "));
    }
    line
}
