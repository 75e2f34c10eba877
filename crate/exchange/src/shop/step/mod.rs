//! STEP: the exact B-spline faces of a piece, as ISO 10303-21 text by AP214.
//!
//! A solid is a MANIFOLD_SOLID_BREP on one closed shell, an open surface a
//! SHELL_BASED_SURFACE_MODEL on one open shell; faces share edges and corners.
//! Skins of a stack are the piece itself; those of a ring keep within the bound
//! that the product's description states (`loftkin_form::solid::around`).
//!
//! B_SPLINE_SURFACE_WITH_KNOTS has a field self_intersect. It says .F. only for a
//! stack whose loft is proved with a margin larger than what writing may move
//! its control points; in a ring the written faces are not the proved surface
//! itself, so it says .U., unknown, as it does for all that is not proved.

mod faces;
mod text;

use super::{Label, Standing, WRITER};
use loftkin_form::solid::body::{Body, Surface};
use std::io::{self, Write};
use text::{Reference, Sheet, real, string};

/// How far rounding may move a control point between the judged curve and the
/// file, mm: about a dozen roundings of coordinates below 1e5 mm, 1e-11 mm each.
const ROUNDING: f64 = 1e-9;

/// Writes `body` to `out`.
///
/// # Errors
/// Those of `out`.
pub fn write(out: impl Write, body: &Body, label: &Label, standing: Standing) -> io::Result<()> {
    let mut sheet = Sheet::new(out);
    header(&mut sheet, label)?;
    let (shape, context) = product(&mut sheet, body, label)?;
    let shell = faces::shell(&mut sheet, body, self_intersect(body, standing))?;
    let model = if body.solid {
        sheet.put(&format!(
            "MANIFOLD_SOLID_BREP({},{shell})",
            string(&label.name)
        ))?
    } else {
        sheet.put(&format!(
            "SHELL_BASED_SURFACE_MODEL({},({shell}))",
            string(&label.name)
        ))?
    };
    let origin = faces::placement(&mut sheet, [0.0; 3], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0])?;
    let kind = if body.solid {
        "ADVANCED_BREP_SHAPE_REPRESENTATION"
    } else {
        "MANIFOLD_SURFACE_SHAPE_REPRESENTATION"
    };
    let form = sheet.put(&format!("{kind}('',({origin},{model}),{context})"))?;
    sheet.put(&format!("SHAPE_DEFINITION_REPRESENTATION({shape},{form})"))?;
    sheet.raw("ENDSEC;\nEND-ISO-10303-21;\n")
}

/// What the field self_intersect may say.
fn self_intersect(body: &Body, standing: Standing) -> &'static str {
    match standing {
        Standing::Proved { margin } if !body.fitted && body.deviation + ROUNDING < margin => ".F.",
        _ => ".U.",
    }
}

fn header(sheet: &mut Sheet<impl Write>, label: &Label) -> io::Result<()> {
    let name = string(&label.name);
    let note = string(&label.note);
    let made = string(&label.made);
    let writer = string(WRITER);
    sheet.raw(&format!(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(({note}),'2;1');\n\
         FILE_NAME({name},{made},(''),(''),{writer},{writer},'');\n\
         FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n"
    ))
}

/// The product around the shape, and the units: mm, radians. Returns the
/// definition of its shape and the context of its geometry.
fn product(
    sheet: &mut Sheet<impl Write>,
    body: &Body,
    label: &Label,
) -> io::Result<(Reference, Reference)> {
    let name = string(&label.name);
    let note = string(&described(body, label));
    let application =
        sheet.put("APPLICATION_CONTEXT('core data for automotive mechanical design processes')")?;
    sheet.put(&format!(
        "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,{application})"
    ))?;
    let context = sheet.put(&format!("PRODUCT_CONTEXT('',{application},'mechanical')"))?;
    let product = sheet.put(&format!("PRODUCT({name},{name},{note},({context}))"))?;
    sheet.put(&format!(
        "PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,({product}))"
    ))?;
    let formation = sheet.put(&format!("PRODUCT_DEFINITION_FORMATION('','',{product})"))?;
    let design = sheet.put(&format!(
        "PRODUCT_DEFINITION_CONTEXT('part definition',{application},'design')"
    ))?;
    let definition = sheet.put(&format!(
        "PRODUCT_DEFINITION('design','',{formation},{design})"
    ))?;
    let shape = sheet.put(&format!("PRODUCT_DEFINITION_SHAPE('','',{definition})"))?;
    let length = sheet.put("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))")?;
    let angle = sheet.put("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))")?;
    let solid_angle = sheet.put("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())")?;
    let uncertainty = sheet.put(&format!(
        "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE({}),{length},'distance_accuracy_value',\
         'points closer than this are one')",
        real(1e-6)
    ))?;
    let geometry = sheet.put(&format!(
        "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT(({uncertainty}))\
         GLOBAL_UNIT_ASSIGNED_CONTEXT(({length},{angle},{solid_angle}))REPRESENTATION_CONTEXT('',''))"
    ))?;
    Ok((shape, geometry))
}

fn described(body: &Body, label: &Label) -> String {
    let skins = body.faces.iter();
    let skins = skins.filter(|face| matches!(face.surface, Surface::Spline(_)));
    let exact = if body.fitted {
        format!("within {:.1e} mm of the piece", body.deviation)
    } else {
        "exact but for rounding".to_owned()
    };
    let count = skins.count();
    let noun = if count == 1 { "skin" } else { "skins" };
    format!("{} {count} {noun}, {exact}.", label.note)
        .trim()
        .to_owned()
}
