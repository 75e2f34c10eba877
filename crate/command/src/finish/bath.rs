//! The lift-out of a piece as the command is asked for it: stops in any order, and
//! the piece hung so that the end with the lower voltage leaves the bath first.

use crate::arguments::finish::BathOptions;
use loftkin_form::body::extent;
use loftkin_form::finish::bath::{Bath, BathError};
use loftkin_form::finish::charge::{Demand, Wetted, demand};
use loftkin_form::finish::drain::{Drainage, drainage};
use loftkin_form::finish::film::Calibration;
use loftkin_form::finish::interference::Coating;
use loftkin_form::finish::lift::{Hanging, LiftError, LiftOut, Pace, Row};
use loftkin_form::finish::programme::Stop;
use loftkin_form::finish::supply::Supply;
use loftkin_form::piece::Piece;

/// A lift-out with the lines of its table, what it takes of the supply, and whether the bath
/// runs off.
pub struct Worked {
    pub lift: LiftOut,
    pub rows: Vec<Row>,
    pub demand: Demand,
    pub drainage: Drainage,
}

/// Lifts `piece` by `stops`, heights (mm) with voltages.
pub fn worked(
    piece: &Piece,
    stops: &[(f64, f64)],
    options: &BathOptions,
) -> Result<Worked, LiftError> {
    let (lowest, highest) = extent(piece);
    let reach = (lowest.z, highest.z);
    let stops = stops.iter().map(|&(height, volts)| Stop { height, volts });
    let (hanging, stops) = Hanging::of_stops(stops.collect(), reach)?;
    let pace = Pace::Speed(options.lift);
    let lift = LiftOut::new(bath(options)?, reach, hanging, stops, pace)?;
    let rows = lift.table(usize::from(options.rows))?;
    Ok(Worked {
        demand: demand(&lift, &Wetted::of(piece)),
        drainage: drainage(piece, lift.hanging()),
        lift,
        rows,
    })
}

/// The bath that was asked for.
pub fn bath(options: &BathOptions) -> Result<Bath, LiftError> {
    let measured = options
        .nm_per_volt
        .map(|rate| Calibration::measured(rate, options.within));
    let measured = measured.transpose().map_err(BathError::from)?;
    Ok(Bath {
        calibration: Calibration {
            start: options.film_before,
            ..measured.unwrap_or_default()
        },
        coating: Coating::on_titanium(options.oxide),
        supply: Supply {
            linear_to: options.linear_to,
            breakdown: options.breakdown,
            rise: options.most_rise,
            current: options.most_current,
        },
        aslant: options.aslant,
    })
}
