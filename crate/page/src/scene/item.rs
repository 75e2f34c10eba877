//! One thing to paint: its colour, shape and place, in pixels.

use nalgebra::Point2;

/// The part that a colour plays; the page's theme gives the colour itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(usize)]
pub enum Ink {
    /// Fine grid lines.
    Grid,
    /// Labelled grid lines.
    GridBold,
    /// Lines of x = 0 and y = 0.
    Origin,
    /// Profiles that are neither active nor of the chosen pair.
    Sibling,
    /// The first profile of the chosen pair.
    First,
    /// The second profile of the chosen pair.
    Second,
    /// The active profile.
    Active,
    /// The section that is shown.
    Section,
    /// The faulty region.
    Fault,
    /// The ground, inside of marks.
    Ground,
    /// Chosen nodes.
    Chosen,
    /// Numbers and words.
    Label,
    /// How sharply a curve bends.
    Bend,
    /// A mend on trial.
    Mend,
    /// The blend of the family that meets itself.
    Blend,
}

impl Ink {
    /// How many there are.
    pub const COUNT: usize = 15;
}

/// The shape of a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A smooth node.
    Round,
    /// A corner node.
    Square,
    /// The place of a fault.
    Diamond,
    /// The mark of a seam.
    Pennant,
}

/// One thing to paint.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A polyline.
    Line {
        /// Its colour.
        ink: Ink,
        /// Its width in pixels.
        width: f64,
        /// Whether it is dashed.
        dashed: bool,
        /// How solid it is, from 0 to 1.
        strength: f64,
        /// Its points.
        points: Vec<Point2<f64>>,
    },
    /// A filled region.
    Area {
        /// Its colour.
        ink: Ink,
        /// How solid it is, from 0 to 1.
        strength: f64,
        /// Its corners.
        points: Vec<Point2<f64>>,
    },
    /// A mark at a point.
    Mark {
        /// The colour of its rim.
        ink: Ink,
        /// The colour inside.
        fill: Ink,
        /// Its shape.
        shape: Shape,
        /// Half its size in pixels.
        radius: f64,
        /// Its middle.
        at: Point2<f64>,
    },
    /// A short text.
    Label {
        /// Its colour.
        ink: Ink,
        /// Where its first letter stands, on the base line.
        at: Point2<f64>,
        /// The text.
        text: String,
    },
}
