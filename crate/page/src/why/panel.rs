//! What a panel is made of: lines, arrows, angles, marks and labels in mm of
//! the drawing, with a title and a sentence.

use nalgebra::{Point2, Vector2};

/// The part that a thing plays in a panel; the page gives it its colour and
/// its dashes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The section.
    Section,
    /// The first profile of the pair.
    First,
    /// The second profile of the pair.
    Second,
    /// One strand of a section that meets itself.
    Strand,
    /// The other strand.
    Other,
    /// What stands behind: rulings, axes of a graph.
    Quiet,
    /// A limit.
    Limit,
    /// What is wrong.
    Fault,
}

impl Part {
    /// Its name for the page.
    pub fn name(self) -> &'static str {
        match self {
            Self::Section => "section",
            Self::First => "first",
            Self::Second => "second",
            Self::Strand => "strand",
            Self::Other => "other",
            Self::Quiet => "quiet",
            Self::Limit => "limit",
            Self::Fault => "fault",
        }
    }
}

/// One thing in a panel.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A polyline.
    Line(Part, Vec<Point2<f64>>),
    /// An arrow from its first point to its second.
    Arrow(Part, Point2<f64>, Point2<f64>),
    /// An arc from one direction to another about a point: a polyline that the
    /// page draws thin.
    Angle(Part, Vec<Point2<f64>>),
    /// The place of the fault.
    Mark(Point2<f64>),
    /// A short text.
    Label(Part, Point2<f64>, String),
}

impl Item {
    /// Its part.
    pub fn part(&self) -> Part {
        match self {
            Self::Line(part, _)
            | Self::Arrow(part, ..)
            | Self::Angle(part, _)
            | Self::Label(part, ..) => *part,
            Self::Mark(_) => Part::Fault,
        }
    }

    /// All its points.
    pub fn points(&self) -> impl Iterator<Item = Point2<f64>> + Clone + '_ {
        let (many, one, two) = match self {
            Self::Line(_, points) | Self::Angle(_, points) => (points.as_slice(), None, None),
            Self::Arrow(_, from, to) => (&[][..], Some(*from), Some(*to)),
            Self::Mark(at) | Self::Label(_, at, _) => (&[][..], Some(*at), None),
        };
        many.iter().copied().chain(one).chain(two)
    }
}

/// One picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// A few words above it.
    pub title: String,
    /// One or two sentences below it; also what is read aloud for it.
    pub text: String,
    /// Its lowest and highest corner, in mm.
    pub frame: (Point2<f64>, Point2<f64>),
    /// What it shows, in painting order.
    pub items: Vec<Item>,
}

impl Panel {
    /// A panel that shows all of `items`, with some air around them.
    pub fn around(title: String, text: String, items: Vec<Item>) -> Self {
        let mut points = items.iter().flat_map(Item::points);
        let first = points.next().unwrap_or(Point2::origin());
        let (low, high) = points.fold((first, first), |(low, high), p| (low.inf(&p), high.sup(&p)));
        let air = 0.12 * (high - low).amax().max(1e-6);
        let air = Vector2::new(air, air);
        Self {
            title,
            text,
            frame: (low - air, high + air),
            items,
        }
    }

    /// A panel of half width `half` (mm) about `middle`.
    pub fn about(
        title: String,
        text: String,
        (middle, half): (Point2<f64>, f64),
        items: Vec<Item>,
    ) -> Self {
        let reach = Vector2::new(half, half) * 1.15;
        Self {
            title,
            text,
            frame: (middle - reach, middle + reach),
            items,
        }
    }
}

/// The arc of `radius` about `centre` from direction `from` to `to`, the short
/// way round.
pub fn arc(
    centre: Point2<f64>,
    radius: f64,
    from: Vector2<f64>,
    to: Vector2<f64>,
) -> Vec<Point2<f64>> {
    const STEPS: usize = 24;
    let turn = from.perp(&to).atan2(from.dot(&to));
    let start = from.y.atan2(from.x);
    (0..=STEPS)
        .map(|step| start + turn * step as f64 / STEPS as f64)
        .map(|angle| centre + Vector2::new(angle.cos(), angle.sin()) * radius)
        .collect()
}
