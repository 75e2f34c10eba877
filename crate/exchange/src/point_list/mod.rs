//! Point lists: "x y" a line, in the common form of wing section files.
//!
//! A line without two numbers is a name and begins a profile; so does a blank
//! line. Lines that begin with #, % or ; are remarks. A line that names columns,
//! as "x;y" or "nr;x;y", chooses those of x and y. Two forms are described
//! in public by the UIUC Airfoil Coordinates Database: one run round the
//! section from the trailing edge, and two runs from the leading edge, after a
//! line with their numbers of points; the two runs are joined into the first
//! form. Points become smooth nodes; nothing is thinned or fitted.

mod line;

use crate::import::{Gathered, Import, Note, Take, TakeError};
use crate::rounding::Rounding;
use crate::words::counted;
use line::{Columns, Line, Parted, fields, line};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{MOST_NODES, Node, Profile, ProfileError};
use loftkin_kernel::quote::quoted;
use std::collections::VecDeque;
use thiserror::Error;

/// The largest list that is looked at, in bytes.
pub const MOST_BYTES: usize = 32 << 20;

/// The chord, in mm, that fractions of a chord are read at when nothing else
/// is asked for.
pub const USUAL_CHORD: f64 = 100.0;

/// No list of fractions of a chord reaches further than this, and no profile
/// in mm is likely to stay within.
const FRACTION_REACH: f64 = 1.5;

/// A closed profile that turns by more than this at its seam has a corner
/// there: a trailing edge, not a rounded one (common practice).
const SHARP_TURN_DEGREES: f64 = 60.0;

/// What the person decides about a list.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reading {
    /// How many mm one unit of the list is. Without it a list is read in mm,
    /// unless it looks like fractions of a chord: then at [`USUAL_CHORD`].
    pub scale: Option<f64>,
    /// Open or closed. Without it a profile is closed when its last point is
    /// its first.
    pub closed: Option<bool>,
    /// Which profiles of a list or a drawing that mixes open and closed ones.
    pub take: Option<Take>,
}

/// Why a text gives no profile at all. Lines count from 1.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PointsError {
    /// More than [`MOST_BYTES`].
    #[error("the list has {bytes} bytes: at most {MOST_BYTES} are read")]
    TooLarge {
        /// How many bytes there are.
        bytes: usize,
    },
    /// No line with two numbers.
    #[error(
        "no line of it holds a point: give x and y on each line, as in \"12.5 -3.75\" or \"12,5;-3,75\""
    )]
    NoPoint,
    /// A scale that is no length.
    #[error("a scale of {}: give the mm that one unit of the list is, above 0", quoted(&scale.to_string()))]
    Scale {
        /// The scale asked for.
        scale: f64,
    },
    /// There are points, but no profile could be made of them.
    #[error("the list holds no profile that could be read: {problem}")]
    NoProfile {
        /// The first problem.
        problem: String,
    },
    /// Open and closed profiles, or too many.
    #[error("{0}")]
    Take(#[from] TakeError),
}

/// Reads a point list.
///
/// # Errors
/// A [`PointsError`] when not one profile could be read. Profiles that could
/// not be read beside others that could are told in the notes.
pub fn read(text: &str, reading: Reading) -> Result<Import, PointsError> {
    if MOST_BYTES < text.len() {
        return Err(PointsError::TooLarge { bytes: text.len() });
    }
    if let Some(scale) = reading
        .scale
        .filter(|&scale| !(0.0 < scale && scale.is_finite()))
    {
        return Err(PointsError::Scale { scale });
    }
    let mut notes = Vec::new();
    let read = runs(text, &mut notes);
    let runs = joined(read, &mut notes);
    if runs.is_empty() {
        return Err(PointsError::NoPoint);
    }
    let scale = scale_of(&runs, reading.scale, &mut notes);
    let mut gathered = Gathered::new(notes);
    let mut problems = Vec::new();
    for run in &runs {
        match profile(run, scale, reading.closed, gathered.next()) {
            Ok((read, on_it)) => gathered.add(read, on_it),
            Err(problem) => problems.push(format!("{} was left out: {problem}", run.label())),
        }
    }
    if gathered.is_empty() {
        let problem = problems.into_iter().next().unwrap_or_default();
        return Err(PointsError::NoProfile { problem });
    }
    Ok(gathered.finish(String::new(), problems, reading.take)?)
}

/// Points that belong together, as the text gives them.
#[derive(Default)]
struct Run {
    name: String,
    first_line: usize,
    points: Vec<[f64; 2]>,
    /// The first line of it that cannot be read, and why.
    problem: Option<String>,
}

impl Run {
    fn label(&self) -> String {
        if self.name.is_empty() {
            format!("the profile at line {}", self.first_line)
        } else {
            format!("“{}” at line {}", quoted(&self.name), self.first_line)
        }
    }

    fn is_empty(&self) -> bool {
        self.points.is_empty() && self.problem.is_none()
    }
}

/// What has been read of the lines so far.
#[derive(Default)]
struct Runs {
    done: Vec<Run>,
    open: Run,
    columns: Option<Columns>,
    notes: Vec<Note>,
}

impl Runs {
    fn end(&mut self) {
        if !self.open.is_empty() {
            self.done.push(std::mem::take(&mut self.open));
        }
    }

    fn take(&mut self, number: usize, text: &str) {
        let line = line(text, self.columns);
        if matches!(line, Line::Point(_) | Line::Wrong(_)) {
            if self.open.is_empty() && heads(&self.open.name, text) {
                let name = quoted(&std::mem::take(&mut self.open.name));
                self.notes.push(Note::general(format!(
                    "Line {}, “{name}”, was read as the head of the columns, not as a name.",
                    self.open.first_line
                )));
            }
            if self.open.is_empty() && self.open.name.is_empty() {
                self.open.first_line = number;
            }
        }
        match line {
            Line::Remark => {}
            Line::Blank => self.end(),
            Line::Head(columns) => {
                self.end();
                self.notes.push(Note::general(columns.told(number)));
                self.columns = Some(columns);
            }
            Line::Name(name) => {
                self.end();
                self.open.name = name;
                self.open.first_line = number;
            }
            Line::Point(point) => self.open.points.push(point),
            Line::Wrong(problem) => {
                let problem = format!("line {number}: {problem}");
                self.open.problem.get_or_insert(problem);
            }
        }
    }
}

/// Whether `name` heads the columns of the line `first` below it: as many
/// fields, parted alike and by no mere spaces.
fn heads(name: &str, first: &str) -> bool {
    let (Ok((names, parted)), Ok((values, alike))) = (fields(name), fields(first.trim())) else {
        return false;
    };
    let is_word = |field: &&str| !field.contains(char::is_whitespace);
    let is_list = match parted {
        Parted::Semicolons | Parted::Tabs => true,
        Parted::Commas => names.iter().all(is_word),
        Parted::Spaces => false,
    };
    is_list && parted == alike && 1 < names.len() && names.len() == values.len()
}

fn runs(text: &str, notes: &mut Vec<Note>) -> Vec<Run> {
    let mut runs = Runs::default();
    for (index, text) in text.lines().enumerate() {
        runs.take(index + 1, text);
    }
    runs.end();
    notes.append(&mut runs.notes);
    runs.done
}

/// Joins the three runs of the two-run form: the counts, then the upper and
/// the lower run, both from the leading edge.
fn joined(runs: Vec<Run>, notes: &mut Vec<Note>) -> Vec<Run> {
    let mut rest = VecDeque::from(runs);
    let mut done: Vec<Run> = Vec::new();
    while let Some(mut run) = rest.pop_front() {
        if is_two_runs(&run, rest.front(), rest.get(1)) {
            let (upper, lower) = (rest.pop_front(), rest.pop_front());
            let (upper, lower) = (upper.unwrap_or_default(), lower.unwrap_or_default());
            run.points = upper.points.into_iter().rev().collect();
            let shared = run.points.last() == lower.points.first();
            run.points
                .extend(lower.points.into_iter().skip(usize::from(shared)));
            notes.push(Note::on_profile(
                done.len(),
                "given as two runs from the leading edge, joined into one from the trailing edge.",
            ));
        }
        done.push(run);
    }
    done
}

fn is_two_runs(counts: &Run, upper: Option<&Run>, lower: Option<&Run>) -> bool {
    let (&[[first, second]], Some(upper), Some(lower)) = (counts.points.as_slice(), upper, lower)
    else {
        return false;
    };
    let fits = |run: &Run, count: f64| {
        run.problem.is_none() && run.name.is_empty() && run.points.len() as f64 == count
    };
    counts.problem.is_none() && fits(upper, first) && fits(lower, second)
}

fn scale_of(runs: &[Run], asked: Option<f64>, notes: &mut Vec<Note>) -> f64 {
    if let Some(scale) = asked {
        return scale;
    }
    let reach = runs
        .iter()
        .flat_map(|run| run.points.iter().flatten())
        .fold(0.0_f64, |reach, value| reach.max(value.abs()));
    if FRACTION_REACH < reach {
        return 1.0;
    }
    notes.push(Note::general(format!(
        "No coordinate is above {FRACTION_REACH}, so the list was read as fractions of a chord of {USUAL_CHORD} mm: give a scale to choose another length."
    )));
    USUAL_CHORD
}

fn profile(
    run: &Run,
    scale: f64,
    closed: Option<bool>,
    index: usize,
) -> Result<(Profile, Vec<Note>), String> {
    if let Some(problem) = &run.problem {
        return Err(problem.clone());
    }
    let mut rounding = Rounding::default();
    let mut points: Vec<GridPoint> = Vec::with_capacity(run.points.len().min(MOST_NODES + 1));
    let mut repeated = 0;
    for (position, [x, y]) in run.points.iter().enumerate() {
        let part = format!("point {}", position + 1);
        let at = rounding
            .point([x * scale, y * scale], &part)
            .map_err(|error| format!("{part}: {error}"))?;
        if points.last() == Some(&at) {
            repeated += 1;
        } else {
            points.push(at);
        }
    }
    let returns = 2 < points.len() && points.first() == points.last();
    let closed = closed.unwrap_or(returns);
    if closed && returns {
        points.pop();
    }
    // Not thinned: which points may go is the person's to say.
    if MOST_NODES < points.len() {
        let count = points.len();
        return Err(format!(
            "{}: keep every second point, or every third, and the curve through them stays the same to the eye",
            ProfileError::TooManyNodes { count }
        ));
    }
    let corner_at_seam = closed && turns_sharply(&points);
    let mut notes = Vec::new();
    let mut note = |text: String| notes.push(Note::on_profile(index, text));
    if 0 < repeated {
        let points = counted(repeated, "point that repeats", "points that repeat");
        note(format!(
            "{points} the one before on the grid of 0.01 mm left out."
        ));
    }
    if corner_at_seam {
        note(format!(
            "turns by more than {SHARP_TURN_DEGREES} degrees at its seam, so the first node was made a corner."
        ));
    }
    notes.extend(rounding.note(index));
    let nodes = points
        .iter()
        .enumerate()
        .map(|(position, &at)| Node {
            at,
            corner: corner_at_seam && position == 0,
        })
        .collect();
    let drawn = if closed {
        Profile::closed(nodes)
    } else {
        Profile::open(nodes)
    };
    Ok((drawn.named(&run.name), notes))
}

fn turns_sharply(points: &[GridPoint]) -> bool {
    let (&[seam, next, ..], Some(last)) = (points, points.last()) else {
        return false;
    };
    let way = |from: GridPoint, to: GridPoint| {
        let (from, to) = (from.to_mm(), to.to_mm());
        (to.0 - from.0, to.1 - from.1)
    };
    let (a, b) = (way(*last, seam), way(seam, next));
    let (dot, cross) = (a.0 * b.0 + a.1 * b.1, a.0 * b.1 - a.1 * b.0);
    SHARP_TURN_DEGREES < cross.abs().atan2(dot).to_degrees()
}
