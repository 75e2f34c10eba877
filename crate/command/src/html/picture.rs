//! Pictures of the report, as SVG inside the page: the profiles of a family, and
//! the sections of a pair with the place of a fault. They are drawn from samples
//! and show; they prove nothing.

use loftkin_kernel::curve::Curve;
use loftkin_kernel::verdict::Place;
use nalgebra::{Point2, Vector2};
use std::fmt::Write;

/// Samples between two joints.
const SAMPLES: usize = 12;
/// Sections between the two profiles of a pair.
const SECTIONS: usize = 7;
/// Free room around a drawing, as a share of its size.
const EDGE: f64 = 0.06;
/// The sizes of lines and marks, as shares of the drawing's size.
const LINE: f64 = 0.004;
const MARK: f64 = 0.018;

/// A drawing that grows with what is put into it; y points up.
struct Drawing {
    low: Point2<f64>,
    high: Point2<f64>,
    shapes: Vec<Shape>,
}

enum Shape {
    Line {
        points: Vec<Point2<f64>>,
        class: String,
    },
    Mark {
        at: Point2<f64>,
    },
    Text {
        at: Point2<f64>,
        text: String,
    },
}

/// All `curves` in one drawing, each with its number on it.
pub fn profiles(curves: &[(usize, &Curve)]) -> String {
    let mut drawing = Drawing::new();
    let mut lines = Vec::new();
    for &(index, curve) in curves {
        let parameters = parameters(&[curve]);
        let points: Vec<Point2<f64>> = parameters.iter().map(|&u| curve.point_mm(u)).collect();
        drawing.line(points.clone(), format!("profile tone-{}", index % 6));
        lines.push((index, points));
    }
    for (index, at) in apart(&lines) {
        drawing.text(at, (index + 1).to_string());
    }
    drawing.text_of("The profiles of the family", "family")
}

/// A place on each line for its number, as far from all other lines and from the
/// numbers placed before as can be.
fn apart(lines: &[(usize, Vec<Point2<f64>>)]) -> Vec<(usize, Point2<f64>)> {
    let mut placed: Vec<(usize, Point2<f64>)> = Vec::new();
    for (index, line) in lines {
        let others = lines.iter().filter(|(other, _)| other != index);
        let others: Vec<&Point2<f64>> = others.flat_map(|(_, line)| line).collect();
        let free = |at: &Point2<f64>| {
            let to_lines = others.iter().map(|other| (at - **other).norm());
            // A number is larger than the gap between two lines may be.
            let to_numbers = placed.iter().map(|(_, other)| (at - other).norm() / 3.0);
            to_lines.chain(to_numbers).fold(f64::INFINITY, f64::min)
        };
        let best = line
            .iter()
            .map(|at| (free(at), at))
            .max_by(|one, other| one.0.total_cmp(&other.0));
        placed.extend(best.map(|(_, at)| (*index, *at)));
    }
    placed
}

/// The two profiles of a pair, sections between them, and the places of faults.
pub fn sections(first: &Curve, second: &Curve, places: &[Place]) -> String {
    let mut drawing = Drawing::new();
    let parameters = parameters(&[first, second]);
    let section = |across: f64| -> Vec<Point2<f64>> {
        let at = |&u: &f64| {
            Point2::from(
                first.point_mm(u).coords * (1.0 - across) + second.point_mm(u).coords * across,
            )
        };
        parameters.iter().map(at).collect()
    };
    for k in 1..=SECTIONS {
        let across = k as f64 / (SECTIONS + 1) as f64;
        drawing.line(section(across), "section".to_owned());
    }
    for place in places {
        drawing.line(section(place.across), "worst".to_owned());
    }
    drawing.line(section(0.0), "profile tone-0".to_owned());
    drawing.line(section(1.0), "profile tone-1".to_owned());
    for place in places {
        drawing.shapes.push(Shape::Mark { at: place.point });
    }
    drawing.text_of(
        "Sections from one profile to the other; a ring marks where they are at fault",
        "",
    )
}

/// Even parameters between all joints of `curves`, joints included.
pub fn parameters(curves: &[&Curve]) -> Vec<f64> {
    let mut joints: Vec<f64> = curves
        .iter()
        .flat_map(|curve| curve.breaks().iter().copied())
        .collect();
    joints.sort_by(f64::total_cmp);
    joints.dedup();
    let mut parameters: Vec<f64> = joints
        .windows(2)
        .flat_map(|ends| {
            let step = (ends[1] - ends[0]) / SAMPLES as f64;
            (0..SAMPLES).map(move |k| ends[0] + step * k as f64)
        })
        .collect();
    parameters.push(1.0);
    parameters
}

impl Drawing {
    fn new() -> Self {
        Self {
            low: Point2::new(f64::INFINITY, f64::INFINITY),
            high: Point2::new(f64::NEG_INFINITY, f64::NEG_INFINITY),
            shapes: Vec::new(),
        }
    }

    fn line(&mut self, points: Vec<Point2<f64>>, class: String) {
        for point in &points {
            self.low = self.low.inf(point);
            self.high = self.high.sup(point);
        }
        self.shapes.push(Shape::Line { points, class });
    }

    fn text(&mut self, at: Point2<f64>, text: String) {
        self.shapes.push(Shape::Text { at, text });
    }

    /// The drawing as SVG of a `class`, with `title` for those who do not see it.
    fn text_of(&self, title: &str, class: &str) -> String {
        let extent = self.high - self.low;
        let size = extent.max();
        if !size.is_finite() || size <= 0.0 {
            return String::new();
        }
        let edge = Vector2::repeat(EDGE * size);
        let (low, wide) = (self.low - edge, extent + edge * 2.0);
        let mut text = format!(
            "<svg class=\"{class}\" role=\"img\" viewBox=\"{:.2} {:.2} {:.2} {:.2}\"><title>{title}</title>\n",
            low.x,
            -(low.y + wide.y),
            wide.x,
            wide.y
        );
        for shape in &self.shapes {
            let _ = match shape {
                Shape::Line { points, class } => {
                    let list: Vec<String> = points.iter().map(pair).collect();
                    writeln!(
                        text,
                        "<polyline class=\"{class}\" stroke-width=\"{:.3}\" points=\"{}\"/>",
                        LINE * size,
                        list.join(" ")
                    )
                }
                Shape::Mark { at } => writeln!(
                    text,
                    "<circle class=\"mark\" stroke-width=\"{:.3}\" cx=\"{:.2}\" cy=\"{:.2}\" r=\"{:.3}\"/>",
                    1.5 * LINE * size,
                    at.x,
                    -at.y,
                    MARK * size
                ),
                Shape::Text { at, text: words } => writeln!(
                    text,
                    "<text x=\"{:.2}\" y=\"{:.2}\" font-size=\"{:.3}\" text-anchor=\"middle\" dominant-baseline=\"central\">{words}</text>",
                    at.x,
                    -at.y,
                    2.0 * MARK * size
                ),
            };
        }
        text + "</svg>\n"
    }
}

fn pair(point: &Point2<f64>) -> String {
    format!("{:.2},{:.2}", point.x, -point.y)
}
