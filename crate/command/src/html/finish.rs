//! The part on finish: the piece in its colours, a strip with the voltages and
//! how sure the colours are, the table for the bath, and what to mind.

use super::{begun, escaped, paragraph, solid};
use crate::finish::bath::Worked;
use loftkin_exchange::finish::colours::code;
use loftkin_exchange::finish::words::{clock, said};
use loftkin_form::finish::colour::Srgb;
use loftkin_form::finish::lift::{LiftOut, Row};
use loftkin_form::finish::programme::Finish;
use loftkin_form::finish::{CAUTIONS, MODEL};
use loftkin_form::piece::Piece;
use std::fmt::Write;

/// Bands of the strip.
const BANDS: usize = 96;
/// Voltages told beside the strip.
const LABELS: usize = 8;
/// The height of the strip, in units of the drawing.
const TALL: f64 = 240.0;
/// The top of the strip, below its headings.
const HEAD: f64 = 16.0;

/// A page of its own for piece `number` of the family `name`.
pub fn page(name: &str, piece: &Piece, number: &str, worked: &Worked) -> String {
    let title = match name.trim() {
        "" => "Finish of a piece".to_owned(),
        name => format!("{name}: finish"),
    };
    let mut text = begun(&title);
    part(&mut text, piece, number, worked);
    text + "</body>\n</html>\n"
}

/// Adds the part on the finish of `piece`.
pub fn part(text: &mut String, piece: &Piece, number: &str, worked: &Worked) {
    let number = escaped(number);
    let _ = writeln!(text, "<h2>The finish of piece {number}</h2>");
    for sentence in CAUTIONS {
        paragraph(text, "caution", sentence);
    }
    let Worked {
        lift,
        rows,
        demand,
        drainage,
    } = worked;
    for sentence in said(lift, demand, *drainage) {
        paragraph(text, "", &sentence);
    }
    let expected = |height: f64| {
        let Finish { colour, .. } = lift.finish(height);
        [colour.red, colour.green, colour.blue]
    };
    let picture = solid::coloured(piece, &format!("Piece {number} in its colours"), expected);
    let _ = writeln!(
        text,
        "<div class=\"finish\">\n<figure>\n{picture}<figcaption>The colours expected, in daylight, seen straight on.</figcaption>\n</figure>\n<figure>\n{}<figcaption>By height: the thinnest film that the calibration allows, the one expected, the thickest.</figcaption>\n</figure>\n</div>",
        strip(lift)
    );
    table(text, rows, lift.bath().aslant);
    paragraph(text, "facts", MODEL);
}

/// Three columns of colour against height, with voltages.
fn strip(lift: &LiftOut) -> String {
    let (low, high) = lift.reach();
    let mut text = format!(
        "<svg role=\"img\" viewBox=\"0 0 230 {:.0}\"><title>Colour and voltage against height</title>\n",
        TALL + HEAD + 10.0
    );
    for (x, word) in [(60, "thinnest"), (110, "expected"), (160, "thickest")] {
        let _ = writeln!(
            text,
            "<text x=\"{}\" y=\"11\" font-size=\"9\" text-anchor=\"middle\">{word}</text>",
            x + 23
        );
    }
    let band = TALL / BANDS as f64;
    for index in 0..BANDS {
        let share = (index as f64 + 0.5) / BANDS as f64;
        let finish = lift.finish(high - share * (high - low));
        let (thinnest, thickest) = finish.colour_range;
        let colours = [thinnest, finish.colour, thickest];
        for (x, colour) in [60, 110, 160].into_iter().zip(colours) {
            // A little taller than a band, so that no line shows between two.
            let _ = writeln!(
                text,
                "<rect x=\"{x}\" y=\"{:.2}\" width=\"46\" height=\"{:.2}\" fill=\"{}\"/>",
                HEAD + index as f64 * band,
                band + if index + 1 < BANDS { 0.4 } else { 0.0 },
                code(colour)
            );
        }
    }
    for index in 0..=LABELS {
        let share = index as f64 / LABELS as f64;
        let height = high - share * (high - low);
        let y = HEAD + share * TALL + 3.0;
        let _ = writeln!(
            text,
            "<text x=\"54\" y=\"{y:.1}\" font-size=\"9\" text-anchor=\"end\">{height:.0} mm</text><text x=\"212\" y=\"{y:.1}\" font-size=\"9\">{:.0} V</text>",
            lift.volts(height)
        );
    }
    text + "</svg>\n"
}

fn table(text: &mut String, rows: &[Row], aslant: f64) {
    let _ = writeln!(
        text,
        "<h3>The table for the bath</h3>\n<div class=\"scroll\"><table>\n<thead><tr><th scope=\"col\">at, min:s</th><th scope=\"col\">lifted</th><th scope=\"col\">height at the surface</th><th scope=\"col\">voltage</th><th scope=\"col\">film</th><th scope=\"col\">thinnest, expected, thickest</th><th scope=\"col\">{aslant} degrees aslant</th></tr></thead>\n<tbody>"
    );
    for row in rows {
        let finish = &row.finish;
        let (thinnest, thickest) = finish.colour_range;
        let swatches = [thinnest, finish.colour, thickest].map(swatch).join(" ");
        let _ = writeln!(
            text,
            "<tr><th scope=\"row\">{}</th><td>{:.1} mm</td><td>{:.1} mm</td><td>{:.1} V</td><td>{:.0} nm ({:.0} to {:.0}{})</td><td>{swatches}</td><td>{}</td></tr>",
            clock(row.seconds),
            row.lifted,
            row.height,
            row.volts,
            finish.film,
            finish.film_range.0,
            finish.film_range.1,
            if finish.is_linear == Some(false) {
                ", not linear"
            } else {
                ""
            },
            swatch(finish.aslant),
        );
    }
    text.push_str("</tbody>\n</table></div>\n");
}

/// A field of `colour`.
fn swatch(colour: Srgb) -> String {
    let code = code(colour);
    format!(
        "<svg class=\"swatch\" role=\"img\" viewBox=\"0 0 2 1\"><title>{code}</title><rect width=\"2\" height=\"1\" fill=\"{code}\"/></svg>"
    )
}
