//! Puts a scene on a 2D canvas. Nothing is decided here.

use crate::scene::{Ink, Item, Shape};
use nalgebra::Point2;
use std::f64::consts::TAU;
use web_sys::CanvasRenderingContext2d;

/// The dash pattern in pixels, made once a painting.
struct Dashes {
    on: wasm_bindgen::JsValue,
    off: wasm_bindgen::JsValue,
}

/// Paints `items` with the theme's `colours`, one for each [`Ink`]. The canvas
/// is cleared first.
pub fn paint(
    context: &CanvasRenderingContext2d,
    items: &[Item],
    colours: &[String],
    (width, height): (f64, f64),
) {
    let dashes = Dashes {
        on: js_sys::Array::of2(&6.into(), &5.into()).into(),
        off: js_sys::Array::new().into(),
    };
    let colour = |ink: Ink| colours.get(ink as usize).map_or("gray", String::as_str);
    context.clear_rect(0.0, 0.0, width, height);
    context.set_line_join("round");
    context.set_line_cap("round");
    context.set_font("11px system-ui, sans-serif");
    for item in items {
        match item {
            Item::Line {
                ink,
                width,
                dashed,
                strength,
                points,
            } => {
                context.set_stroke_style_str(colour(*ink));
                context.set_line_width(*width);
                context.set_global_alpha(*strength);
                let pattern = if *dashed { &dashes.on } else { &dashes.off };
                // A pattern of finite positive numbers is never refused.
                let _ = context.set_line_dash(pattern);
                trace(context, points);
                context.stroke();
            }
            Item::Area {
                ink,
                strength,
                points,
            } => {
                context.set_fill_style_str(colour(*ink));
                context.set_global_alpha(*strength);
                trace(context, points);
                context.fill();
            }
            Item::Mark {
                ink,
                fill,
                shape,
                radius,
                at,
            } => {
                let _ = context.set_line_dash(&dashes.off);
                context.set_global_alpha(1.0);
                context.set_stroke_style_str(colour(*ink));
                context.set_fill_style_str(colour(*fill));
                context.set_line_width(2.0);
                outline(context, *shape, *radius, *at);
                context.fill();
                context.stroke();
            }
            Item::Label { ink, at, text } => {
                context.set_global_alpha(1.0);
                // A rim of the ground's colour keeps it legible across lines.
                let _ = context.set_line_dash(&dashes.off);
                context.set_line_width(3.0);
                context.set_stroke_style_str(colour(Ink::Ground));
                let _ = context.stroke_text(text, at.x, at.y);
                context.set_fill_style_str(colour(*ink));
                let _ = context.fill_text(text, at.x, at.y);
            }
        }
    }
    context.set_global_alpha(1.0);
}

fn trace(context: &CanvasRenderingContext2d, points: &[Point2<f64>]) {
    context.begin_path();
    for (index, point) in points.iter().enumerate() {
        if index == 0 {
            context.move_to(point.x, point.y);
        } else {
            context.line_to(point.x, point.y);
        }
    }
}

fn outline(context: &CanvasRenderingContext2d, shape: Shape, radius: f64, at: Point2<f64>) {
    context.begin_path();
    match shape {
        // A positive radius is never refused.
        Shape::Round => {
            let _ = context.arc(at.x, at.y, radius, 0.0, TAU);
        }
        Shape::Square => context.rect(at.x - radius, at.y - radius, 2.0 * radius, 2.0 * radius),
        Shape::Diamond => {
            context.move_to(at.x, at.y - radius);
            context.line_to(at.x + radius, at.y);
            context.line_to(at.x, at.y + radius);
            context.line_to(at.x - radius, at.y);
            context.close_path();
        }
        Shape::Pennant => {
            context.move_to(at.x - radius, at.y - radius);
            context.line_to(at.x + 1.2 * radius, at.y);
            context.line_to(at.x - radius, at.y + radius);
            context.close_path();
        }
    }
}
