//! A twist: the directions of the two profiles at like points, the angle
//! between them beside its limit, and that angle all the way along.

use super::local::Local;
use super::panel::{Item, Panel, Part, arc};
use loftkin_exchange::words::{degrees, fraction};
use loftkin_kernel::family::TenthsOfDegree;
use loftkin_kernel::verdict::Fault;
use nalgebra::{Point2, Rotation2, Vector2};

/// Half the stretch of each profile, along.
const HALF: f64 = 0.07;
/// Steps of the graph.
const STEPS: usize = 240;
/// Width and height of the graph, in its own units.
const GRAPH: (f64, f64) = (1.5, 1.0);

/// The panels for `fault`.
pub fn panels(local: &Local<'_>, fault: &Fault, limit: TenthsOfDegree) -> Vec<Panel> {
    let along = fault.place.along;
    vec![
        directions(local, along),
        angle(local, fault, limit.degrees()),
        graph(local, along, limit.degrees()),
    ]
}

fn directions(local: &Local<'_>, along: f64) -> Panel {
    let size = 0.22 * local.size();
    let mut items = vec![Item::Line(
        Part::Quiet,
        vec![local.point(along, 0.0), local.point(along, 1.0)],
    )];
    for (part, across) in [(Part::First, 0.0), (Part::Second, 1.0)] {
        items.push(Item::Line(part, local.stretch(along, HALF, across)));
        let at = local.point(along, across);
        if let Some(direction) = local.slope(along, across).try_normalize(1e-12) {
            items.push(Item::Arrow(part, at, at + direction * size));
        }
    }
    Panel::around(
        format!("Like points at {} along", fraction(along)),
        "The two profiles near the points that one ruling joins, each with the direction it runs in there.".to_owned(),
        items,
    )
}

fn angle(local: &Local<'_>, fault: &Fault, limit: f64) -> Panel {
    let origin = Point2::origin();
    let unit = |slope: Vector2<f64>| slope.try_normalize(1e-12).unwrap_or(Vector2::x());
    let [a, b] = local.slopes(fault.place.along).map(unit);
    let way = if a.perp(&b) < 0.0 { -1.0 } else { 1.0 };
    let allowed = Rotation2::new((limit * way).to_radians()) * a;
    // Half way round, unless the limit's own label stands there.
    let half = 0.5 * fault.angle.abs();
    let beside = if (half - limit).abs() < 30.0 {
        0.55 * half
    } else {
        half
    };
    let beside = Rotation2::new(beside.to_radians() * way) * a;
    let text = format!(
        "Set from one point, the two directions are {} apart; {} are allowed. At 180 degrees they would cancel, and the loft would fold.",
        degrees(fault.angle.abs()),
        degrees(limit)
    );
    Panel::about(
        "The angle between them".to_owned(),
        text,
        (origin, 1.0),
        vec![
            Item::Line(Part::Limit, vec![origin, origin + allowed]),
            Item::Label(
                Part::Limit,
                origin + allowed * 0.9,
                format!("limit {limit:.0}°"),
            ),
            Item::Arrow(Part::First, origin, origin + a),
            Item::Arrow(Part::Second, origin, origin + b),
            Item::Angle(Part::Fault, arc(origin, 0.4, a, b)),
            Item::Label(
                Part::Fault,
                origin + beside * 0.6,
                format!("{:.1}°", fault.angle.abs()),
            ),
        ],
    )
}

/// The twist from 0 to 180 degrees, over the way along.
fn graph(local: &Local<'_>, along: f64, limit: f64) -> Panel {
    let place =
        |u: f64, turn: f64| Point2::new(GRAPH.0 * u, GRAPH.1 * turn.abs().min(180.0) / 180.0);
    let points = (0..=STEPS)
        .map(|step| step as f64 / STEPS as f64)
        .map(|u| place(u, local.turn(u)));
    let across = |turn: f64| vec![place(0.0, turn), place(1.0, turn)];
    let items = vec![
        Item::Line(Part::Quiet, across(0.0)),
        Item::Line(Part::Quiet, across(180.0)),
        Item::Line(Part::Limit, across(limit)),
        Item::Line(Part::Section, points.collect()),
        Item::Label(Part::Quiet, place(0.0, 8.0), "0°".to_owned()),
        Item::Label(Part::Quiet, place(0.0, 168.0), "180°: fold".to_owned()),
        Item::Label(
            Part::Limit,
            place(0.0, limit + 5.0),
            format!("limit {limit:.0}°"),
        ),
        Item::Mark(place(along, local.turn(along))),
    ];
    Panel::around(
        "The twist all the way along".to_owned(),
        format!(
            "From the start of the profiles at the left to their end at the right, with the place found at {} along marked.",
            fraction(along)
        ),
        items,
    )
}
