//! What is said of a lift-out, and the words for colours and times.

use loftkin_form::finish::colour::Srgb;
use loftkin_form::finish::film::SOURCES;
use loftkin_form::finish::lift::{Hanging, LiftOut};

/// The spread of channels below which a colour is a grey, and below which pale.
const GREY: u8 = 24;
const PALE: u8 = 72;

/// Names of colours by hue, each up to so many degrees.
const HUES: [(f64, &str); 11] = [
    (15.0, "red"),
    (38.0, "bronze"),
    (52.0, "gold"),
    (75.0, "yellow"),
    (160.0, "green"),
    (200.0, "turquoise"),
    (255.0, "blue"),
    (290.0, "violet"),
    (325.0, "purple"),
    (345.0, "pink"),
    (360.0, "red"),
];

/// How the piece hangs and moves, what stops do not reach, how sure the colours are:
/// a sentence or two an entry.
pub fn said(lift: &LiftOut) -> Vec<String> {
    let mut said = vec![hanging(lift)];
    said.extend(beyond_stops(lift));
    said.push(calibration(lift));
    said
}

fn hanging(lift: &LiftOut) -> String {
    let how = match lift.hanging() {
        Hanging::AsDrawn => "as it is drawn, its top up",
        Hanging::TurnedOver => "turned over, its foot up",
    };
    format!(
        "Hang the piece {how}, so that its height of {:.2} mm leaves the bath first, and lift it at {} mm a minute: {:.2} mm in {} (min:s). The voltage never falls meanwhile; what is out keeps its colour.",
        lift.ends().0,
        hundredths(lift.speed()),
        lift.way(),
        clock(60.0 * lift.minutes()),
    )
}

/// Of each end of the piece that the outer stop does not meet.
fn beyond_stops(lift: &LiftOut) -> Vec<String> {
    let (before, after) = lift.beyond_stops();
    let ends = [
        ("first", before, lift.ends().0),
        ("last", after, lift.ends().1),
    ];
    let ends = ends.into_iter().filter(|(_, mm, _)| *mm != 0.0);
    ends.map(|(which, mm, end)| {
        let volts = hundredths(lift.volts(end));
        if 0.0 < mm {
            format!("The {which} stop is {mm:.2} mm from the end of the piece that leaves the bath {which}: that part keeps its {volts} V.")
        } else {
            format!("The {which} stop lies {:.2} mm beyond the piece: the end that leaves the bath {which} has {volts} V.", -mm)
        }
    })
    .collect()
}

fn calibration(lift: &LiftOut) -> String {
    let calibration = &lift.bath().calibration;
    let rate = hundredths(calibration.nm_per_volt);
    let (low, high) = calibration.range;
    let (less, more) = calibration.doubt();
    let doubt = format!(
        "Every film may be up to {:.0} % thinner or {:.0} % thicker, and its colour any between.",
        100.0 * less,
        100.0 * more
    );
    if calibration.is_of_sources() {
        return format!(
            "Not calibrated: sources say that the film grows by {low} to {high} nm a volt, and {rate} is their middle. {doubt} Grow one patch of a trial strip in your own bath, and calibrate by the nm per volt that it shows."
        );
    }
    let beside = if SOURCES.contains(&calibration.nm_per_volt) {
        String::new()
    } else {
        format!(
            " Sources say {:.1} to {:.1}: measure again before you rely on it.",
            SOURCES.start(),
            SOURCES.end()
        )
    };
    format!(
        "The film grows by {rate} nm a volt by your calibration, {} to {} as far as that is sure. {doubt}{beside}",
        hundredths(low),
        hundredths(high)
    )
}

/// Minutes and seconds: "4:05".
pub fn clock(seconds: f64) -> String {
    let whole = seconds.round() as u64;
    format!("{}:{:02}", whole / 60, whole % 60)
}

/// A colour as pages and drawings name it: "#7d5a2b".
pub fn code(colour: Srgb) -> String {
    let Srgb { red, green, blue } = colour;
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// A colour in a plain word or two, by its hue.
pub fn word(colour: Srgb) -> String {
    let channels = [colour.red, colour.green, colour.blue];
    let spread = channels.iter().max().unwrap_or(&0) - channels.iter().min().unwrap_or(&0);
    let hue = match colour.hue() {
        Some(hue) if GREY <= spread => hue,
        _ => return "grey".to_owned(),
    };
    let name = HUES.iter().find(|(to, _)| hue < *to);
    let name = name.map_or("red", |(_, name)| name);
    if spread < PALE {
        format!("pale {name}")
    } else {
        name.to_owned()
    }
}

/// To the hundredth, without needless noughts.
fn hundredths(value: f64) -> f64 {
    (100.0 * value).round() / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_form::finish::film::Calibration;
    use loftkin_form::finish::lift::{Bath, Pace};
    use loftkin_form::finish::programme::Stop;

    fn lift(bath: Bath, stops: [(f64, f64); 2]) -> Vec<String> {
        let stops = stops.map(|(height, volts)| Stop { height, volts });
        let stops = stops.to_vec();
        let (reach, pace) = ((0.0, 60.0), Pace::Minutes(4.0));
        said(&LiftOut::new(bath, reach, Hanging::AsDrawn, stops, pace).unwrap())
    }

    #[test]
    fn a_lift_says_how_the_piece_moves_and_what_is_unsure() {
        let words = lift(Bath::default(), [(60.0, 20.0), (0.0, 60.0)]);
        assert_eq!(
            words[0],
            "Hang the piece as it is drawn, its top up, so that its height of 60.00 mm leaves the bath first, and lift it at 15 mm a minute: 60.00 mm in 4:00 (min:s). The voltage never falls meanwhile; what is out keeps its colour."
        );
        assert_eq!(words.len(), 2);
        assert!(words[1].starts_with("Not calibrated"), "{}", words[1]);
        assert!(words[1].contains("17 % thinner or 17 % thicker"));
    }

    #[test]
    fn what_stops_miss_is_said_of_each_end() {
        let words = lift(Bath::default(), [(50.0, 20.0), (-20.0, 55.0)]);
        assert_eq!(
            words[1..3],
            [
                "The first stop is 10.00 mm from the end of the piece that leaves the bath first: that part keeps its 20 V.",
                "The last stop lies 20.00 mm beyond the piece: the end that leaves the bath last has 45 V."
            ]
        );
    }

    #[test]
    fn a_calibration_beside_the_sources_is_doubted() {
        for (rate, is_doubted) in [(2.2, false), (3.5, true)] {
            let bath = Bath {
                calibration: Calibration::measured(rate, 10.0).unwrap(),
                ..Bath::default()
            };
            let words = lift(bath, [(60.0, 20.0), (0.0, 30.0)]);
            let last = &words[1];
            assert_eq!(last.contains("measure again"), is_doubted, "{last}");
            assert!(last.contains("10 % thinner or 10 % thicker"), "{last}");
        }
    }

    #[test]
    fn colours_and_times_have_their_words() {
        let colour = |red, green, blue| Srgb { red, green, blue };
        for (seen, name, shown) in [
            (colour(128, 128, 128), "grey", "#808080"),
            (colour(200, 150, 30), "gold", "#c8961e"),
            (colour(40, 70, 200), "blue", "#2846c8"),
            (colour(170, 215, 210), "pale turquoise", "#aad7d2"),
            (colour(250, 0, 40), "red", "#fa0028"),
        ] {
            assert_eq!((word(seen).as_str(), code(seen).as_str()), (name, shown));
        }
        assert_eq!(clock(0.4), "0:00");
        assert_eq!(clock(59.6), "1:00");
        assert_eq!(clock(3725.0), "62:05");
    }
}
