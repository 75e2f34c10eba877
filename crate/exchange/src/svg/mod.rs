//! Drawings as SVG: one path a profile.
//!
//! Read are `path`, `line`, `polyline` and `polygon` with the `transform`
//! attributes around them; each subpath becomes an exact path, kept as drawn.
//! Everything else is left out and noted. Nothing outside the text is followed:
//! no document type, no reference, no style sheet, no script.

mod crowd;
mod pen;
mod units;
mod write;

pub use pen::ARC_TOLERANCE;
pub use write::write;

use crate::import::{Gathered, Import, Note, Take, TakeError};
use crate::words::counted;
use kurbo::Affine;
use loftkin_kernel::profile::{Outline, Profile};
use loftkin_kernel::quote::quoted;
use pen::Subpath;
use roxmltree::{Document, Node, ParsingOptions};
use std::collections::BTreeMap;
use std::str::FromStr;
use thiserror::Error;
use units::Units;

/// The largest drawing that is looked at, in bytes.
pub const MOST_BYTES: usize = 32 << 20;
/// The most elements, attributes aside, that are looked at.
const MOST_ELEMENTS: u32 = 500_000;
/// Nested deeper than this nothing is read.
const DEEPEST: usize = 200;
/// The most characters that are repeated of what the XML parser says.
const MOST_SAID: usize = 100;

/// Why a text gives no drawing at all.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SvgError {
    /// More than [`MOST_BYTES`].
    #[error("the drawing has {bytes} bytes: at most {MOST_BYTES} are read")]
    TooLarge {
        /// How many bytes there are.
        bytes: usize,
    },
    /// More attributes than any drawing needs, which would be read for ever.
    #[error(
        "an element at line {line} has more than {} attributes: delete those that draw nothing",
        crowd::MOST_ATTRIBUTES
    )]
    Crowded {
        /// Where it begins, from 1.
        line: usize,
    },
    /// Not well-formed XML.
    #[error("the drawing is no well-formed XML: {problem}")]
    Xml {
        /// What the parser says, with the place.
        problem: String,
    },
    /// A document type declaration.
    #[error(
        "the drawing declares a document type, which can hide content: delete the line that begins with <!DOCTYPE"
    )]
    DocumentType,
    /// XML of another kind.
    #[error("the outermost element is {element}, not svg")]
    NotSvg {
        /// Its name.
        element: String,
    },
    /// Nothing could be read.
    #[error("the drawing holds no profile that could be read: {problem}")]
    NoProfile {
        /// The first problem, or what is expected.
        problem: String,
    },
    /// Open and closed profiles, or too many.
    #[error("{0}")]
    Take(#[from] TakeError),
}

/// Reads the profiles of an SVG drawing, `take` of them where open and closed
/// ones are mixed.
///
/// # Errors
/// A [`SvgError`] when not one profile could be read. Paths that could not be
/// read beside others that could are told in the notes.
pub fn read(text: &str, take: Option<Take>) -> Result<Import, SvgError> {
    if MOST_BYTES < text.len() {
        return Err(SvgError::TooLarge { bytes: text.len() });
    }
    if let Some(line) = crowd::found(text) {
        return Err(SvgError::Crowded { line });
    }
    let options = ParsingOptions {
        allow_dtd: false,
        nodes_limit: MOST_ELEMENTS,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(text, options).map_err(|error| match error {
        roxmltree::Error::DtdDetected => SvgError::DocumentType,
        other => SvgError::Xml {
            problem: told(&other),
        },
    })?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(SvgError::NotSvg {
            element: quoted(root.tag_name().name()),
        });
    }
    let mut reading = Reading {
        gathered: Gathered::new(Vec::new()),
        problems: Vec::new(),
        skipped: BTreeMap::new(),
        too_deep: false,
        paths: 0,
    };
    reading.walk(root);
    reading.finish(tidy(title_of(root).unwrap_or("")), take)
}

/// What the parser says, which repeats names of any length, and where.
fn told(error: &roxmltree::Error) -> String {
    let said = error.to_string();
    match said.char_indices().nth(MOST_SAID) {
        None => said.chars().flat_map(visible).collect(),
        Some((end, _)) => {
            let start: String = said[..end].chars().flat_map(visible).collect();
            format!("{start}… at {}", error.pos())
        }
    }
}

/// A letter of a sentence, control characters as escapes.
fn visible(c: char) -> impl Iterator<Item = char> {
    quoted(c.encode_utf8(&mut [0; 4]))
        .chars()
        .collect::<Vec<_>>()
        .into_iter()
}

/// What has been read so far.
struct Reading {
    gathered: Gathered,
    problems: Vec<String>,
    skipped: BTreeMap<String, usize>,
    too_deep: bool,
    paths: usize,
}

impl Reading {
    /// Goes through the drawing in its order without recursion.
    fn walk(&mut self, root: Node<'_, '_>) {
        let units = Units::of(root);
        if !units.stated {
            self.gathered.note(Note::general(
                "The drawing states no size: one unit of it was read as 1/96 inch (0.2646 mm), as SVG has it. Give the svg element a width in mm and a viewBox to choose another.",
            ));
        }
        let mut open = vec![(root, Ok(units.map), 0)];
        while let Some((element, outer, depth)) = open.pop() {
            let map = outer.and_then(|outer: Affine| Ok(outer * transform(element)?));
            match element.tag_name().name() {
                "path" | "line" | "polyline" | "polygon" => self.shape(element, map),
                "svg" | "g" | "a" | "switch"
                    if depth == 0 || element.tag_name().name() != "svg" =>
                {
                    if DEEPEST < depth {
                        self.too_deep = true;
                        continue;
                    }
                    let inner: Vec<_> = element
                        .children()
                        .filter(|child| child.is_element() && !is_silent(*child))
                        .collect();
                    let step = |child| (child, map.clone(), depth + 1);
                    open.extend(inner.into_iter().rev().map(step));
                }
                other => *self.skipped.entry(quoted(other)).or_default() += 1,
            }
        }
    }

    fn shape(&mut self, element: Node<'_, '_>, map: Result<Affine, String>) {
        if is_hidden(element) {
            *self.skipped.entry("hidden".to_owned()).or_default() += 1;
            return;
        }
        self.paths += 1;
        let name = name_of(element);
        let label = if name.is_empty() {
            format!("path {}", self.paths)
        } else {
            format!("path {} “{}”", self.paths, quoted(&name))
        };
        let read = map.and_then(|map| {
            let data = path_data(element)?;
            pen::subpaths(&data, map).map_err(|error| error.to_string())
        });
        match read {
            Err(problem) => self
                .problems
                .push(format!("{label} was left out: {problem}")),
            Ok(subpaths) if subpaths.is_empty() => {
                self.problems
                    .push(format!("{label} was left out: it draws nothing"));
            }
            Ok(subpaths) => {
                let several = 1 < subpaths.len();
                for (index, subpath) in subpaths.into_iter().enumerate() {
                    let name = if several && !name.is_empty() {
                        format!("{name} {}", index + 1)
                    } else {
                        name.clone()
                    };
                    self.profile(name, subpath);
                }
            }
        }
    }

    fn profile(&mut self, name: String, subpath: Subpath) {
        let index = self.gathered.next();
        let mut notes = Vec::new();
        let meets = !subpath.closed && subpath.end() == subpath.start;
        if meets {
            notes.push(Note::on_profile(
                index,
                "ends where it starts, so it was read as closed.",
            ));
        }
        if 0 < subpath.dropped {
            let spans = counted(subpath.dropped, "span", "spans");
            notes.push(Note::on_profile(
                index,
                format!("{spans} without length on the grid of 0.01 mm left out."),
            ));
        }
        notes.extend(subpath.rounding.note(index));
        let profile = Profile {
            name,
            closed: subpath.closed || meets,
            outline: Outline::Path {
                start: subpath.start,
                spans: subpath.spans,
            },
        };
        self.gathered.add(profile, notes);
    }

    fn finish(mut self, name: String, take: Option<Take>) -> Result<Import, SvgError> {
        for (kind, count) in &self.skipped {
            let elements = counted(*count, "element", "elements");
            self.problems.push(match kind.as_str() {
                "hidden" => format!("{elements} left out, since hidden"),
                _ => format!("{elements} of kind {kind} left out: turn each into a path first"),
            });
        }
        if self.too_deep {
            self.problems.push(format!(
                "what is nested deeper than {DEEPEST} groups was left out"
            ));
        }
        if self.gathered.is_empty() {
            let expected = "draw each profile as one path".to_owned();
            let problem = self.problems.into_iter().next().unwrap_or(expected);
            return Err(SvgError::NoProfile { problem });
        }
        Ok(self.gathered.finish(name, self.problems, take)?)
    }
}

fn transform(element: Node<'_, '_>) -> Result<Affine, String> {
    let Some(text) = element.attribute("transform") else {
        return Ok(Affine::IDENTITY);
    };
    let read = svgtypes::Transform::from_str(text)
        .map_err(|error| format!("a transform around it cannot be read, {error}"))?;
    Ok(Affine::new([
        read.a, read.b, read.c, read.d, read.e, read.f,
    ]))
}

/// Elements that draw nothing by themselves: no loss, so no note.
fn is_silent(element: Node<'_, '_>) -> bool {
    let foreign = !matches!(
        element.tag_name().namespace(),
        None | Some("http://www.w3.org/2000/svg")
    );
    let silent = [
        "title",
        "desc",
        "metadata",
        "style",
        "script",
        "defs",
        "symbol",
        "clipPath",
        "mask",
        "marker",
        "pattern",
        "linearGradient",
        "radialGradient",
        "filter",
        "view",
    ];
    foreign || silent.contains(&element.tag_name().name())
}

/// Whether `element` or a group around it is not shown, as far as its own
/// attributes say.
fn is_hidden(element: Node<'_, '_>) -> bool {
    element.ancestors().any(|around| {
        let style = around.attribute("style").unwrap_or("");
        let style: String = style.chars().filter(|c| !c.is_whitespace()).collect();
        around.attribute("display") == Some("none") || style.contains("display:none")
    })
}

/// The title of a shape, else its id, else nothing.
fn name_of(element: Node<'_, '_>) -> String {
    let name = title_of(element)
        .or_else(|| element.attribute("id"))
        .unwrap_or("");
    tidy(name)
}

fn title_of<'a>(element: Node<'a, '_>) -> Option<&'a str> {
    element
        .children()
        .find(|child| child.tag_name().name() == "title")?
        .text()
}

fn tidy(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The path data of a shape; the simple ones are paths too (SVG 2, chapter 10).
fn path_data(element: Node<'_, '_>) -> Result<String, String> {
    let attribute = |name: &str| element.attribute(name).unwrap_or("").trim();
    let number = |name: &str| match attribute(name) {
        "" => Ok(0.0),
        text => text
            .parse::<f64>()
            .map_err(|_| format!("its {name} is \"{}\", not a number", quoted(text))),
    };
    let points = || {
        let points = attribute("points");
        match points
            .chars()
            .find(|c| c.is_ascii_alphabetic() && *c != 'e' && *c != 'E')
        {
            Some(letter) => Err(format!("its points hold the letter {letter}")),
            None => Ok(points),
        }
    };
    Ok(match element.tag_name().name() {
        "line" => format!(
            "M{} {}L{} {}",
            number("x1")?,
            number("y1")?,
            number("x2")?,
            number("y2")?
        ),
        "polyline" => format!("M{}", points()?),
        "polygon" => format!("M{}Z", points()?),
        _ => attribute("d").to_owned(),
    })
}
