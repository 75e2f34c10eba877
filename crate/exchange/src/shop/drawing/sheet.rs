//! A sheet of paths in true size: places them in rows, names them, writes SVG.

use crate::rounding::short;
use crate::xml::escaped;
use kurbo::{Affine, BezPath, ParamCurve, PathEl, Point, Rect, Shape as _, Vec2};
use std::fmt::Write;

/// Room about the sheet and between what stands on it, mm.
const GAP: f64 = 10.0;
/// The height of letters, mm, and of a line of them.
const LETTERS: f64 = 4.0;
const LINE: f64 = 6.0;
/// How wide a letter is at most, as a share of its height: for keeping room only.
const LETTER_WIDTH: f64 = 0.6;
/// Rows are filled up to this many times the side of a square of the same area.
const ROW_WIDTH: f64 = 1.6;

/// What a line is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Cut along it; its title stands below.
    Cut,
    /// Bend along it; its title stands at its middle.
    Bend,
    /// The next part joins on along it, likewise.
    Joint,
}

impl Mark {
    /// The layers of a drawing, in the order in which they are drawn.
    const ALL: [Self; 3] = [Self::Cut, Self::Bend, Self::Joint];

    /// The name of its layer, and how lines look there.
    fn layer(self) -> (&'static str, &'static str) {
        match self {
            Self::Cut => ("cut-lines", ""),
            Self::Bend => ("fold-lines", " stroke=\"#0050b0\" stroke-dasharray=\"3 2\""),
            Self::Joint => (
                "joint-lines",
                " stroke=\"#a03000\" stroke-dasharray=\"0.6 1.4\"",
            ),
        }
    }
}

/// One named path, mm, y downward.
pub struct Shape {
    pub id: String,
    pub title: String,
    pub path: BezPath,
    pub mark: Mark,
}

/// What is placed as one, with its bounds.
struct Group {
    shapes: Vec<Shape>,
    bounds: Rect,
}

/// A sheet under way.
pub struct Sheet {
    name: String,
    notes: Vec<String>,
    groups: Vec<Group>,
}

impl Sheet {
    pub fn new(name: &str, shows: &str) -> Self {
        Self {
            name: name.to_owned(),
            notes: vec![shows.to_owned()],
            groups: Vec::new(),
        }
    }

    /// A line of words on the sheet.
    pub fn note(&mut self, words: &str) {
        if !words.is_empty() {
            self.notes.push(words.to_owned());
        }
    }

    /// Shapes that keep their places to each other, beside what is there already.
    pub fn place(&mut self, shapes: Vec<Shape>) {
        let bounds = shapes.iter().map(|shape| shape.path.bounding_box());
        if let Some(bounds) = bounds.reduce(|one, other| one.union(other)) {
            self.groups.push(Group { shapes, bounds });
        }
    }

    /// The SVG document.
    pub fn text(&self) -> String {
        let words = [&self.name].into_iter().chain(&self.notes);
        let words: Vec<&String> = words.filter(|line| !line.is_empty()).collect();
        let head = GAP + LINE * words.len() as f64;
        let (places, extent) = self.places(head);
        let longest = words.iter().map(|line| line.chars().count()).max();
        let lettered = longest.unwrap_or(0) as f64 * LETTERS * LETTER_WIDTH;
        let (width, height) = (extent.x.max(lettered + 2.0 * GAP), extent.y);
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" \
             fill=\"none\" stroke=\"black\" stroke-width=\"0.2\">\n<title>{}</title>\n",
            escaped(&self.name),
            w = short(width.ceil()),
            h = short(height.ceil()),
        );
        for (index, line) in words.iter().enumerate() {
            let y = GAP + LINE * index as f64;
            push_words(&mut svg, GAP, y, line);
        }
        for mark in Mark::ALL {
            self.push_layer(&mut svg, mark, &places);
        }
        svg.push_str("</svg>\n");
        svg
    }

    /// All lines of one mark, in a layer of their own.
    fn push_layer(&self, svg: &mut String, mark: Mark, places: &[Vec2]) {
        let groups = self.groups.iter();
        if !groups.clone().any(|group| group.has(mark)) {
            return;
        }
        let (name, look) = mark.layer();
        let _ = writeln!(svg, "<g id=\"{name}\"{look}>");
        for (group, place) in groups.zip(places) {
            push_group(svg, group, mark, *place);
        }
        svg.push_str("</g>\n");
    }

    /// Where each group's bounds begin, in rows below `head`, and the extent.
    fn places(&self, head: f64) -> (Vec<Vec2>, Vec2) {
        let sizes = self.groups.iter().map(|group| group.bounds.size());
        let area: f64 = sizes.clone().map(|size| size.area()).sum();
        let widest = sizes.clone().map(|size| size.width).fold(0.0, f64::max);
        let room = widest.max(ROW_WIDTH * area.sqrt());
        let (mut x, mut y, mut row_height, mut extent) = (GAP, head, 0.0, Vec2::new(0.0, head));
        let mut places = Vec::new();
        for (size, group) in sizes.zip(&self.groups) {
            let lines = LINE * named(group).count() as f64;
            if GAP < x && room + GAP < x + size.width {
                y += row_height + GAP;
                (x, row_height) = (GAP, 0.0);
            }
            places.push(Vec2::new(x, y));
            row_height = f64::max(row_height, size.height + lines + GAP);
            x += size.width + GAP;
            extent = Vec2::new(extent.x.max(x), extent.y.max(y + row_height));
        }
        (places, extent + Vec2::new(0.0, GAP))
    }
}

impl Group {
    fn has(&self, mark: Mark) -> bool {
        self.shapes.iter().any(|shape| shape.mark == mark)
    }
}

/// The shapes whose names stand below the group.
fn named(group: &Group) -> impl Iterator<Item = &Shape> {
    group.shapes.iter().filter(|shape| shape.mark == Mark::Cut)
}

fn push_group(svg: &mut String, group: &Group, mark: Mark, place: Vec2) {
    let shift = Affine::translate(place - group.bounds.origin().to_vec2());
    for shape in group.shapes.iter().filter(|shape| shape.mark == mark) {
        let _ = writeln!(
            svg,
            "<path id=\"{}\" d=\"{}\"><title>{}</title></path>",
            escaped(&shape.id),
            data(&(shift * &shape.path)),
            escaped(&shape.title)
        );
        if mark != Mark::Cut {
            let at = shift * middle(&shape.path);
            push_words(svg, at.x, at.y, &shape.title);
        }
    }
    if mark == Mark::Cut {
        let below = place.y + group.bounds.height() + LINE;
        for (index, shape) in named(group).enumerate() {
            push_words(svg, place.x, below + LINE * index as f64, &shape.title);
        }
    }
}

/// A point of a line about its middle.
fn middle(path: &BezPath) -> Point {
    let segments: Vec<_> = path.segments().collect();
    let inner = segments.get(segments.len() / 2);
    inner.map_or(Point::ORIGIN, |segment| {
        segment.eval(if segments.len() % 2 == 0 { 0.0 } else { 0.5 })
    })
}

fn push_words(svg: &mut String, x: f64, y: f64, words: &str) {
    let _ = writeln!(
        svg,
        "<text x=\"{}\" y=\"{}\" font-family=\"sans-serif\" font-size=\"{LETTERS}\" fill=\"black\" stroke=\"none\">{}</text>",
        short(x),
        short(y),
        escaped(words)
    );
}

/// Path data with a millionth of a millimetre.
fn data(path: &BezPath) -> String {
    let mut data = String::new();
    let mut push = |letter: char, points: &[Point]| {
        data.push(letter);
        for (index, point) in points.iter().enumerate() {
            let gap = if index == 0 { "" } else { " " };
            let _ = write!(data, "{gap}{} {}", short(point.x), short(point.y));
        }
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(to) => push('M', &[to]),
            PathEl::LineTo(to) => push('L', &[to]),
            PathEl::QuadTo(a, to) => push('Q', &[a, to]),
            PathEl::CurveTo(a, b, to) => push('C', &[a, b, to]),
            PathEl::ClosePath => push('Z', &[]),
        }
    }
    data
}
