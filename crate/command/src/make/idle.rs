//! Options of an order that nothing in it uses: said, so that nobody takes for
//! checked what is only stated.

use crate::arguments::make::MakeOrder;

/// A sentence for each option that does nothing as it stands.
pub fn notes(order: &MakeOrder) -> Vec<&'static str> {
    let (sheet, checks) = (&order.sheet, &order.checks);
    let by_gauge = checks.bend_gauges.is_some()
        || checks.least_gauge.is_some()
        || checks.most_pressure.is_some()
        || checks.room;
    let by_edges = checks.cutter.is_some()
        || checks.bend_gauges.is_some()
        || checks.most_pressure.is_some()
        || checks.room;
    let idle = [
        (
            sheet.gauge.is_some() && sheet.density.is_none() && !by_gauge,
            GAUGE,
        ),
        (
            checks.flow_stress.is_some() && checks.most_pressure.is_none(),
            FLOW_STRESS,
        ),
        (
            !checks.draw.is_empty() && checks.least_draft.is_none(),
            DRAW,
        ),
        (checks.fillet.is_some() && !by_edges, FILLET),
    ];
    let said = idle.into_iter().filter(|(is_idle, _)| *is_idle);
    said.map(|(_, note)| note).collect()
}

const GAUGE: &str = "--gauge alone does nothing: add --density for masses, or a check that goes \
    by the gauge (--bend-gauges, --least-gauge, --most-pressure, --room)";
const FLOW_STRESS: &str = "--flow-stress alone does nothing: add --most-pressure with --gauge, \
    and the gas pressure for forming is checked";
const DRAW: &str = "--draw alone does nothing: add --least-draft, which goes by the direction";
const FILLET: &str = "--fillet alone does nothing: add a check that sharp edges decide about \
    (--cutter, --bend-gauges, --most-pressure, --room)";
