//! A picture of the loft between two profiles, as an SVG file: its skin seen aslant from above, both profiles, and each
//! fault by the section through it and a ring at its witness. The witnesses are checked; the picture is drawn from
//! samples and proves nothing.

use super::escaped;
use super::facets::{Frame, View};
use super::picture::parameters;
use loftkin_form::piece::set_into_space;
use loftkin_form::stations::Setting;
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Placement;
use loftkin_kernel::verdict::Place;
use nalgebra::{Point2, Point3};
use std::fmt::Write;

/// Facets from one profile to the other.
const ACROSS: usize = 12;
/// The height of a stack, as a share of the size of its profiles: a family has no heights before it has stations.
const HEIGHT: f64 = 0.8;
/// The angle between the two half-planes of a ring, in degrees.
const ANGLE: f64 = 60.0;
/// The colours of the first profile, of the second and of faults, which show on light and on dark ground.
const COLOURS: [&str; 3] = ["#3d86ba", "#b57b30", "#d9482b"];
/// The radius of a ring at a fault, in units of the drawing.
const RING: f64 = 15.0;

/// The ruled loft between two curves, set into space.
pub struct Loft<'a> {
    /// The curves, in the order of the pair.
    curves: [&'a Curve; 2],
    /// How they stand.
    placement: Placement,
    /// The witnesses of its faults.
    faults: Vec<Place>,
    /// The distance from the first plane to the second: mm in a stack, degrees in a ring.
    apart: f64,
}

impl<'a> Loft<'a> {
    /// The loft of a pair of curves with the witnesses of its faults.
    pub fn new(curves: [&'a Curve; 2], placement: Placement, faults: Vec<Place>) -> Self {
        let apart = match placement {
            Placement::Stack => HEIGHT * size(&curves),
            Placement::Ring => ANGLE,
        };
        Self {
            curves,
            placement,
            faults,
            apart,
        }
    }

    /// The picture, with `title` for those who do not see it; none where the loft has no extent.
    pub fn picture(&self, title: &str) -> Option<String> {
        let along = parameters(&self.curves);
        // Every fourth of the twelve samples of a span, so that joints still fall between facets.
        let coarse: Vec<f64> = along.iter().copied().step_by(4).collect();
        let rows = (0..=ACROSS).map(|row| self.section(&coarse, row as f64 / ACROSS as f64));
        let rows: Vec<Vec<Point3<f64>>> = rows.collect();
        let view = View::new();
        let facets = view.facets(&rows);
        let frame = Frame::around(&facets, &view)?;
        let (wide, tall) = frame.size;
        let mut text = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {wide:.0} {tall:.0}\" fill=\"none\" \
             stroke-width=\"1.2\" stroke-linejoin=\"round\">\n  <title>{}</title>\n",
            escaped(title)
        );
        for facet in &facets {
            let [red, green, blue] = facet.sheet().map(|part| part as u8);
            let colour = format!("#{red:02x}{green:02x}{blue:02x}");
            let corners = frame.places(&facet.corners);
            // The line around a facet hides the seam to the next.
            let _ = writeln!(
                text,
                "  <polygon fill=\"{colour}\" stroke=\"{colour}\" points=\"{corners}\"/>"
            );
        }
        let [first, second, fault] = COLOURS;
        line(&mut text, &frame, &self.section(&along, 0.0), first);
        line(&mut text, &frame, &self.section(&along, 1.0), second);
        for place in &self.faults {
            line(
                &mut text,
                &frame,
                &self.section(&along, place.across),
                fault,
            );
            let at = frame.place(&self.in_space(place.point, place.across));
            let _ = writeln!(
                text,
                "  <circle stroke=\"{fault}\" stroke-width=\"4\" cx=\"{:.0}\" cy=\"{:.0}\" r=\"{RING}\"/>",
                at.x, at.y
            );
        }
        Some(text + "</svg>\n")
    }

    /// The section at the fraction `across`, at the fractions `along`, in space.
    fn section(&self, along: &[f64], across: f64) -> Vec<Point3<f64>> {
        let [first, second] = self.curves;
        let at = |&u: &f64| {
            let point =
                first.point_mm(u).coords * (1.0 - across) + second.point_mm(u).coords * across;
            self.in_space(point.into(), across)
        };
        along.iter().map(at).collect()
    }

    fn in_space(&self, point: Point2<f64>, across: f64) -> Point3<f64> {
        let setting = match self.placement {
            Placement::Stack => Setting::Stack,
            Placement::Ring => Setting::Ring { all_round: false },
        };
        set_into_space(setting, point, across * self.apart)
    }
}

/// The longer side of the box around both curves, in mm, as their samples show it.
fn size(curves: &[&Curve]) -> f64 {
    let along = parameters(curves);
    let points = curves
        .iter()
        .flat_map(|curve| along.iter().map(|&u| curve.point_mm(u)));
    let infinite = Point2::new(f64::INFINITY, f64::INFINITY);
    let (low, high) = points.fold((infinite, -infinite), |(low, high), point| {
        (low.inf(&point), high.sup(&point))
    });
    (high - low).max()
}

fn line(text: &mut String, frame: &Frame, points: &[Point3<f64>], colour: &str) {
    let _ = writeln!(
        text,
        "  <polyline stroke=\"{colour}\" stroke-width=\"4\" points=\"{}\"/>",
        frame.places(points)
    );
}
