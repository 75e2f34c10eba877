//! The shell of a body: corners, edges, faces, and what they lie on.

use super::text::{Reference, Sheet, list, real};
use loftkin_form::solid::body::{Body, Face, Surface};
use loftkin_form::solid::spline::{Knot, SplineCurve, SplineSurface};
use nalgebra::Point3;
use std::io::{self, Write};

/// Writes all faces of `body`; `self_intersect` stands on curves and surfaces.
pub fn shell(
    sheet: &mut Sheet<impl Write>,
    body: &Body,
    self_intersect: &str,
) -> io::Result<Reference> {
    let corners = (body.corners.iter())
        .map(|corner| {
            let at = point(sheet, corner)?;
            sheet.put(&format!("VERTEX_POINT('',{at})"))
        })
        .collect::<io::Result<Vec<_>>>()?;
    let edges = (body.edges.iter())
        .map(|edge| {
            let curve = curve(sheet, &edge.curve, self_intersect)?;
            let (from, to) = (corners[edge.from], corners[edge.to]);
            sheet.put(&format!("EDGE_CURVE('',{from},{to},{curve},.T.)"))
        })
        .collect::<io::Result<Vec<_>>>()?;
    let faces = (body.faces.iter())
        .map(|one| face(sheet, one, &edges, self_intersect))
        .collect::<io::Result<Vec<_>>>()?;
    let kind = if body.solid {
        "CLOSED_SHELL"
    } else {
        "OPEN_SHELL"
    };
    sheet.put(&format!("{kind}('',{})", list(faces)))
}

/// A coordinate system: origin, z axis, x axis.
pub fn placement(
    sheet: &mut Sheet<impl Write>,
    origin: [f64; 3],
    axis: [f64; 3],
    along: [f64; 3],
) -> io::Result<Reference> {
    let origin = point(sheet, &Point3::from(origin))?;
    let mut direction = |of: [f64; 3]| sheet.put(&format!("DIRECTION('',{})", list(of.map(real))));
    let (axis, along) = (direction(axis)?, direction(along)?);
    sheet.put(&format!("AXIS2_PLACEMENT_3D('',{origin},{axis},{along})"))
}

fn point(sheet: &mut Sheet<impl Write>, at: &Point3<f64>) -> io::Result<Reference> {
    let coordinates = list(at.coords.iter().map(|&value| real(value)));
    sheet.put(&format!("CARTESIAN_POINT('',{coordinates})"))
}

fn points(sheet: &mut Sheet<impl Write>, all: &[Point3<f64>]) -> io::Result<String> {
    let written = all.iter().map(|at| point(sheet, at));
    Ok(list(written.collect::<io::Result<Vec<_>>>()?))
}

fn counts(knots: &[Knot]) -> String {
    list(knots.iter().map(|knot| knot.multiplicity))
}

fn places(knots: &[Knot]) -> String {
    list(knots.iter().map(|knot| real(knot.at)))
}

fn curve(
    sheet: &mut Sheet<impl Write>,
    curve: &SplineCurve,
    self_intersect: &str,
) -> io::Result<Reference> {
    let controls = points(sheet, &curve.controls)?;
    sheet.put(&format!(
        "B_SPLINE_CURVE_WITH_KNOTS('',{},{controls},.UNSPECIFIED.,.F.,{self_intersect},{},{},.UNSPECIFIED.)",
        curve.degree,
        counts(&curve.knots),
        places(&curve.knots),
    ))
}

fn skin(
    sheet: &mut Sheet<impl Write>,
    skin: &SplineSurface,
    self_intersect: &str,
) -> io::Result<Reference> {
    let rows = skin.controls.iter().map(|row| points(sheet, row));
    let controls = list(rows.collect::<io::Result<Vec<_>>>()?);
    sheet.put(&format!(
        "B_SPLINE_SURFACE_WITH_KNOTS('',{},{},{controls},.UNSPECIFIED.,.F.,.F.,{self_intersect},{},{},{},{},\
         .UNSPECIFIED.)",
        skin.degree_along,
        skin.degree_across,
        counts(&skin.knots_along),
        counts(&skin.knots_across),
        places(&skin.knots_along),
        places(&skin.knots_across),
    ))
}

fn face(
    sheet: &mut Sheet<impl Write>,
    face: &Face,
    edges: &[Reference],
    self_intersect: &str,
) -> io::Result<Reference> {
    let surface = match &face.surface {
        Surface::Spline(spline) => skin(sheet, spline, self_intersect)?,
        Surface::Plane {
            origin,
            normal,
            along,
        } => {
            let axes = placement(
                sheet,
                origin.coords.into(),
                normal.into_inner().into(),
                along.into_inner().into(),
            )?;
            sheet.put(&format!("PLANE('',{axes})"))?
        }
    };
    let sides = (face.sides.iter())
        .map(|side| {
            let edge = edges[side.edge];
            let sense = logical(side.forward);
            sheet.put(&format!("ORIENTED_EDGE('',*,*,{edge},{sense})"))
        })
        .collect::<io::Result<Vec<_>>>()?;
    let bound = sheet.put(&format!("EDGE_LOOP('',{})", list(sides)))?;
    let bound = sheet.put(&format!("FACE_OUTER_BOUND('',{bound},.T.)"))?;
    let sense = logical(face.same_sense);
    sheet.put(&format!("ADVANCED_FACE('',({bound}),{surface},{sense})"))
}

fn logical(value: bool) -> &'static str {
    if value { ".T." } else { ".F." }
}
