//! The sentences on a lift-out, and times as they are read from a clock.

use loftkin_form::finish::charge::Demand;
use loftkin_form::finish::drain::Drainage;
use loftkin_form::finish::film::SOURCES;
use loftkin_form::finish::lift::{Hanging, LiftOut};

/// How the piece hangs and moves, what stops do not reach, how sure the colours are, what
/// bath and supply must do, and where the bath may stay: a sentence or two an entry.
pub fn said(lift: &LiftOut, demand: &Demand, drainage: Drainage) -> Vec<String> {
    let mut said = vec![hanging(lift)];
    said.extend(beyond_stops(lift));
    said.push(calibration(lift));
    said.push(before(lift));
    said.push(growth(lift));
    said.push(breakdown(lift));
    said.extend(supply(lift, demand));
    said.push(drained(drainage));
    said
}

/// The film before the first volt.
fn before(lift: &LiftOut) -> String {
    let start = lift.bath().calibration.start;
    if start == 0.0 {
        return "No film is counted before the first volt. Titanium has one of a few nm in air (2 to 7 nm, from memory): measure it, or count it in by the line through two patches.".to_owned();
    }
    format!(
        "{} nm of film are counted before the first volt.",
        hundredths(start)
    )
}

/// The range in which growth is linear.
fn growth(lift: &LiftOut) -> String {
    let most = hundredths(lift.most_volts());
    match lift.bath().supply.linear_to {
        None => format!(
            "The range in which the film grows linearly is not given, so films are told as if it reached to {most} V. Sources put its end differently: grow patches up to the highest voltage and give the last that lies on the line."
        ),
        Some(linear_to) if linear_to < lift.most_volts() => format!(
            "Growth is linear up to {linear_to} V by what you gave, but this lift goes to {most} V: films and colours above {linear_to} V are guesses."
        ),
        Some(linear_to) => format!(
            "Growth is linear up to {linear_to} V by what you gave; this lift stays within it."
        ),
    }
}

/// The voltage at which the bath breaks down; a lift that reaches it is refused.
fn breakdown(lift: &LiftOut) -> String {
    match lift.bath().supply.breakdown {
        None => "The voltage at which your bath breaks down is not given, so it is not checked. It depends on acid, strength and temperature: take it from the bath's data sheet or a trial, and stay below it; sparks heat the bath and roughen the film.".to_owned(),
        Some(volts) => format!("The bath breaks down at {volts} V by what you gave; this lift stays below it."),
    }
}

/// Charge, current and rise, with what the supply gives.
fn supply(lift: &LiftOut, demand: &Demand) -> Vec<String> {
    let given = lift.bath().supply;
    let mut said = vec![format!(
        "Charge for the film: {:.0} C in all on {:.0} cm², both faces of the sheet; {:.0} C of it before the lift. The lift takes up to {} A, most when the height of {:.2} mm leaves the bath (Faraday's law, four electrons for each TiO2, 3.9 g/cm³, the fastest growth that the calibration allows; areas by quadrature). A bath also makes oxygen: expect to need more.",
        demand.whole,
        demand.area,
        demand.first,
        amperes(demand.current),
        demand.at,
    )];
    let steepest = lift.steepest();
    said.push(match given.rise {
        None => format!("The voltage rises by up to {} V a second while the piece is lifted; how fast your supply can raise it is not given, so that is not checked.", thousandths(steepest)),
        Some(rise) => format!(
            "The voltage rises by up to {} V a second while the piece is lifted; the supply gives {rise}. At that pace the first voltage takes {:.0} s and {} A.",
            thousandths(steepest),
            lift.volts(lift.ends().0) / rise,
            amperes(demand.first_current.unwrap_or(0.0)),
        ),
    });
    if let Some(current) = given.current {
        let most = demand.current.max(demand.first_current.unwrap_or(0.0));
        said.push(if current < most {
            format!(
                "That is more than the {current} A of the supply: the film falls behind the voltage. Lift over at least {:.1} minutes and raise the first voltage over at least {:.0} s.",
                lift.minutes() * (demand.current / current).max(1.0),
                demand.first / current,
            )
        } else {
            format!("The supply has {current} A, which is enough for the film alone.")
        });
    }
    said
}

/// Where the bath may stay.
fn drained(drainage: Drainage) -> String {
    match drainage {
        Drainage::Drains => "Lifted out, the bath runs off the skin from every place: no section has a trough.".to_owned(),
        Drainage::OpenEnd { litres } => format!(
            "Lifted out, the bath runs off along the skin as long as the lower end is open. With a floor, a cap or a plate there the piece carries up to {litres:.2} l of acid with it, which goes on growing film inside, weighs down the fixture and spills: drill drain and vent holes, or hang it the other way."
        ),
        Drainage::MayHold => "Parts of this piece may hold liquid or air when it hangs so: acid that stays in a trough goes on growing film there and spills when the piece is turned. Tilt it, drill drain and vent holes, and rinse it out before it is handled.".to_owned(),
    }
}

/// Amperes with as many figures as they need.
fn amperes(current: f64) -> String {
    if current < 10.0 {
        format!("{current:.2}")
    } else {
        format!("{current:.0}")
    }
}

fn thousandths(value: f64) -> f64 {
    (1000.0 * value).round() / 1000.0
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

/// To the hundredth, without needless noughts.
fn hundredths(value: f64) -> f64 {
    (100.0 * value).round() / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_form::finish::bath::Bath;
    use loftkin_form::finish::film::Calibration;
    use loftkin_form::finish::lift::Pace;
    use loftkin_form::finish::programme::Stop;

    const DEMAND: Demand = Demand {
        area: 640.0,
        first: 80.0,
        whole: 220.0,
        first_current: None,
        current: 1.234,
        at: 30.0,
    };

    fn lift(bath: Bath, stops: [(f64, f64); 2]) -> Vec<String> {
        let stops = stops.map(|(height, volts)| Stop { height, volts });
        let stops = stops.to_vec();
        let (reach, pace) = ((0.0, 60.0), Pace::Minutes(4.0));
        let lift = LiftOut::new(bath, reach, Hanging::AsDrawn, stops, pace).unwrap();
        said(&lift, &DEMAND, Drainage::Drains)
    }

    #[test]
    fn a_lift_says_how_the_piece_moves_and_what_is_unsure() {
        let words = lift(Bath::default(), [(60.0, 20.0), (0.0, 60.0)]);
        assert_eq!(
            words[0],
            "Hang the piece as it is drawn, its top up, so that its height of 60.00 mm leaves the bath first, and lift it at 15 mm a minute: 60.00 mm in 4:00 (min:s). The voltage never falls meanwhile; what is out keeps its colour."
        );
        assert_eq!(words.len(), 8);
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
    fn times_have_their_words() {
        assert_eq!(clock(0.4), "0:00");
        assert_eq!(clock(59.6), "1:00");
        assert_eq!(clock(3725.0), "62:05");
    }
}
