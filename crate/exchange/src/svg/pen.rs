//! From path data to exact paths on the grid.
//!
//! All commands of SVG 2 (W3C, section 9.3) are followed. Lines and cubics are
//! kept, quadratics raised to cubics (exact), arcs become cubics within
//! [`ARC_TOLERANCE`]. Control points are mapped to mm and then rounded; what
//! has no length on the grid is left out and counted.

use crate::rounding::Rounding;
use kurbo::{Affine, Arc, Point, SvgArc, Vec2};
use loftkin_kernel::grid::{GridError, GridPoint};
use loftkin_kernel::profile::PathSpan;
use svgtypes::{PathParser, PathSegment};
use thiserror::Error;

/// How far the cubics of an arc may stand off it, in mm: a tenth of the grid.
pub const ARC_TOLERANCE: f64 = 0.001;

/// The largest radius of an arc, in mm: ten thousand times the reach of the
/// grid. It bounds the number of cubics of one arc (about a hundred).
const LARGEST_RADIUS: f64 = 1e9;

/// Ends of an arc nearer than this, in mm, are one point to it.
const SAME_END: f64 = 1e-9;

/// Why path data cannot be followed.
#[derive(Debug, PartialEq, Error)]
pub(super) enum PathError {
    /// The data break the grammar.
    #[error("its path data cannot be read, {0}")]
    Data(svgtypes::Error),
    /// A coordinate without a place on the grid.
    #[error("{0}")]
    Coordinate(#[from] GridError),
    /// A radius beyond [`LARGEST_RADIUS`] or not a number.
    #[error("an arc of it has a radius out of reach: keep below 1 000 000 000 mm")]
    Radius,
}

/// One subpath on the grid.
pub(super) struct Subpath {
    pub start: GridPoint,
    pub spans: Vec<PathSpan>,
    /// Whether a closing command ended it.
    pub closed: bool,
    /// How many spans had no length on the grid.
    pub dropped: usize,
    pub rounding: Rounding,
}

impl Subpath {
    /// The point that the next span starts from.
    pub fn end(&self) -> GridPoint {
        self.spans.last().map_or(self.start, |span| span.to())
    }

    fn add(&mut self, span: PathSpan) {
        let from = self.end();
        let empty = match span {
            PathSpan::Line { to } => to == from,
            PathSpan::Cubic { first, second, to } => first == from && second == from && to == from,
        };
        if empty {
            self.dropped += 1;
        } else {
            self.spans.push(span);
        }
    }
}

/// The subpaths of `data`, mapped to mm by `map`. Those without any span are
/// left out, as they draw nothing.
pub(super) fn subpaths(data: &str, map: Affine) -> Result<Vec<Subpath>, PathError> {
    let mut pen = Pen::new(map);
    for segment in PathParser::from(data) {
        pen.follow(segment.map_err(PathError::Data)?)?;
    }
    pen.lift(false);
    Ok(pen.done)
}

struct Pen {
    map: Affine,
    /// No less than the largest stretch of `map` (its Frobenius norm), mm a unit.
    stretch: f64,
    start: Point,
    at: Point,
    /// The handle that a smooth command mirrors, and whether of a cubic.
    handle: Option<(Point, bool)>,
    drawing: Option<Subpath>,
    done: Vec<Subpath>,
}

impl Pen {
    fn new(map: Affine) -> Self {
        let [a, b, c, d, ..] = map.as_coeffs();
        Self {
            map,
            stretch: a.hypot(b).hypot(c.hypot(d)),
            start: Point::ORIGIN,
            at: Point::ORIGIN,
            handle: None,
            drawing: None,
            done: Vec::new(),
        }
    }

    fn follow(&mut self, segment: PathSegment) -> Result<(), PathError> {
        let from = if segment.is_abs() {
            Vec2::ZERO
        } else {
            self.at.to_vec2()
        };
        let point = |x, y| Point::new(x, y) + from;
        let handle = self.handle.take();
        match segment {
            PathSegment::MoveTo { x, y, .. } => {
                self.lift(false);
                self.at = point(x, y);
                self.start = self.at;
            }
            PathSegment::LineTo { x, y, .. } => self.line(point(x, y))?,
            PathSegment::HorizontalLineTo { x, .. } => {
                self.line(Point::new(x + from.x, self.at.y))?;
            }
            PathSegment::VerticalLineTo { y, .. } => {
                self.line(Point::new(self.at.x, y + from.y))?;
            }
            PathSegment::CurveTo {
                x1,
                y1,
                x2,
                y2,
                x,
                y,
                ..
            } => self.cubic(point(x1, y1), point(x2, y2), point(x, y))?,
            PathSegment::SmoothCurveTo { x2, y2, x, y, .. } => {
                let first = self.mirrored(handle, true);
                self.cubic(first, point(x2, y2), point(x, y))?;
            }
            PathSegment::Quadratic { x1, y1, x, y, .. } => {
                self.quadratic(point(x1, y1), point(x, y))?;
            }
            PathSegment::SmoothQuadratic { x, y, .. } => {
                let middle = self.mirrored(handle, false);
                self.quadratic(middle, point(x, y))?;
            }
            PathSegment::EllipticalArc {
                rx,
                ry,
                x_axis_rotation,
                large_arc,
                sweep,
                x,
                y,
                ..
            } => self.arc(SvgArc {
                from: self.at,
                to: point(x, y),
                radii: Vec2::new(rx, ry),
                x_rotation: x_axis_rotation.to_radians(),
                large_arc,
                sweep,
            })?,
            PathSegment::ClosePath { .. } => {
                self.lift(true);
                self.at = self.start;
            }
        }
        Ok(())
    }

    /// The handle mirrored in the current point; the current point itself when
    /// the command before was of another kind.
    fn mirrored(&self, handle: Option<(Point, bool)>, cubic: bool) -> Point {
        match handle {
            Some((handle, kind)) if kind == cubic => self.at + (self.at - handle),
            _ => self.at,
        }
    }

    fn line(&mut self, to: Point) -> Result<(), PathError> {
        let end = self.on_grid(to)?;
        self.at = to;
        self.add(PathSpan::Line { to: end });
        Ok(())
    }

    fn cubic(&mut self, first: Point, second: Point, to: Point) -> Result<(), PathError> {
        let span = PathSpan::Cubic {
            first: self.on_grid(first)?,
            second: self.on_grid(second)?,
            to: self.on_grid(to)?,
        };
        self.at = to;
        self.handle = Some((second, true));
        self.add(span);
        Ok(())
    }

    fn quadratic(&mut self, middle: Point, to: Point) -> Result<(), PathError> {
        let first = self.at + (middle - self.at) * (2.0 / 3.0);
        let second = to + (middle - to) * (2.0 / 3.0);
        self.cubic(first, second, to)?;
        self.handle = Some((middle, false));
        Ok(())
    }

    /// Arcs are cut in units of about 1 mm, so that the tolerance and the
    /// library's own limits mean the same in every drawing.
    fn arc(&mut self, arc: SvgArc) -> Result<(), PathError> {
        let to = arc.to;
        let stretched = SvgArc {
            from: (arc.from.to_vec2() * self.stretch).to_point(),
            to: (arc.to.to_vec2() * self.stretch).to_point(),
            radii: arc.radii * self.stretch,
            ..arc
        };
        // Places a span on the grid before anything is cut, so that the ends
        // are known to be within reach.
        self.on_grid(to)?;
        let largest = stretched.radii.x.abs().max(stretched.radii.y.abs());
        if !(largest <= LARGEST_RADIUS && arc.x_rotation.is_finite()) {
            return Err(PathError::Radius);
        }
        if (stretched.to - stretched.from).hypot() < SAME_END {
            return self.line(to);
        }
        let Some(cut) = Arc::from_svg_arc(&stretched) else {
            return self.line(to);
        };
        let mut cubics = Vec::new();
        let back = 1.0 / self.stretch;
        cut.to_cubic_beziers(ARC_TOLERANCE, |first, second, end| {
            cubics.push([first, second, end].map(|point| (point.to_vec2() * back).to_point()));
        });
        // The end is given, not what the angles add up to.
        if let Some(last) = cubics.last_mut() {
            last[2] = to;
        }
        for [first, second, end] in cubics {
            self.cubic(first, second, end)?;
        }
        self.handle = None;
        Ok(())
    }

    fn on_grid(&mut self, point: Point) -> Result<GridPoint, GridError> {
        let (map, at) = (self.map, self.at);
        let drawing = match &mut self.drawing {
            Some(drawing) => drawing,
            None => {
                let mut rounding = Rounding::default();
                let start = place(map * at, "its start", &mut rounding)?;
                self.drawing.insert(Subpath {
                    start,
                    spans: Vec::new(),
                    closed: false,
                    dropped: 0,
                    rounding,
                })
            }
        };
        let part = format!("span {}", drawing.spans.len() + 1);
        place(map * point, &part, &mut drawing.rounding)
    }

    fn add(&mut self, span: PathSpan) {
        if let Some(drawing) = &mut self.drawing {
            drawing.add(span);
        }
    }

    /// Ends the subpath that is being drawn.
    fn lift(&mut self, closed: bool) {
        let Some(mut drawing) = self.drawing.take() else {
            return;
        };
        if closed && drawing.end() != drawing.start {
            drawing.spans.push(PathSpan::Line { to: drawing.start });
        }
        drawing.closed = closed;
        if !drawing.spans.is_empty() {
            self.done.push(drawing);
        }
    }
}

fn place(at: Point, part: &str, rounding: &mut Rounding) -> Result<GridPoint, GridError> {
    rounding.point([at.x, at.y], part)
}
