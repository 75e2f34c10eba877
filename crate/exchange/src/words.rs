//! The words for verdicts, faults, doubts, margins and remedies.
//!
//! The page and the command show the same sentences: what is wrong, where, and
//! what would be right. Pure strings from kernel values, no layout, no colour.
//! Lengths are mm, angles degrees, fractions along and across lie in \[0, 1\].
//! Profiles and nodes are counted from 1, as a person counts.

use loftkin_kernel::family::{Family, Pacing, Placement};
use loftkin_kernel::profile::ProfileError;
use loftkin_kernel::verdict::{
    Doubt, Fault, FaultKind, Finding, Hint, Judgement, Margin, Place, Region, Remedy, Verdict,
};

/// One thing to say, in three parts that a face may set apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saying {
    /// What is the matter: a whole sentence.
    pub what: String,
    /// Where it is, without a full stop; empty when it has no place.
    pub place: String,
    /// What would be right: a whole sentence; empty when there is nothing to do.
    pub right: String,
}

impl Saying {
    /// All parts as running text.
    pub fn text(&self) -> String {
        let mut text = self.what.clone();
        if !self.place.is_empty() {
            text.push_str(" Where: ");
            text.push_str(&self.place);
            text.push('.');
        }
        if !self.right.is_empty() {
            text.push(' ');
            text.push_str(&self.right);
        }
        text
    }
}

/// The family and the cell that a saying is about; on the diagonal both
/// indices (from 0) are the same profile.
#[derive(Clone, Copy)]
pub struct Cell<'a> {
    family: &'a Family,
    first: usize,
    second: usize,
}

impl<'a> Cell<'a> {
    /// The cell of profiles `first` and `second` (from 0) of `family`, in
    /// either order; places run from the lower index to the higher.
    pub fn new(family: &'a Family, first: usize, second: usize) -> Self {
        Self {
            family,
            first: first.min(second),
            second: first.max(second),
        }
    }

    /// "profile 3 “Brim”", or "the loft from profile 3 “Brim” to profile 5".
    pub fn label(&self) -> String {
        if self.is_diagonal() {
            return profile(self.family, self.first);
        }
        format!(
            "the loft from {} to {}",
            profile(self.family, self.first),
            profile(self.family, self.second)
        )
    }

    fn is_diagonal(&self) -> bool {
        self.first == self.second
    }

    fn pair(&self) -> String {
        format!(
            "{} and {}",
            profile(self.family, self.first),
            profile(self.family, self.second)
        )
    }
}

/// The one word for a verdict.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Clear => "clear",
        Verdict::Faulty => "faulty",
        Verdict::Unproven => "unproven",
    }
}

/// The one word for a kind of fault.
pub fn fault_kind(kind: FaultKind) -> &'static str {
    match kind {
        FaultKind::Fold => "fold",
        FaultKind::Crossing => "crossing",
        FaultKind::Axis => "axis",
        FaultKind::Twist => "twist",
        FaultKind::Crease => "crease",
    }
}

/// The one word for the rule of pacing.
pub fn pacing(pacing: Pacing) -> &'static str {
    match pacing {
        Pacing::Parameter => "parameter",
        Pacing::Node => "node",
    }
}

/// The one word for the placement.
pub fn placement(placement: Placement) -> &'static str {
    match placement {
        Placement::Stack => "stack",
        Placement::Ring => "ring",
    }
}

/// "profile 3", with its name where it has one. `index` counts from 0.
pub fn profile(family: &Family, index: usize) -> String {
    let name = family
        .profiles
        .get(index)
        .map_or("", |profile| profile.name.trim());
    if name.is_empty() {
        format!("profile {}", index + 1)
    } else {
        format!("profile {} “{}”", index + 1, shown(name))
    }
}

/// `text` without characters that would steer a terminal or turn the reading
/// direction of what follows: each becomes a space.
pub fn shown(text: &str) -> String {
    text.chars()
        .map(|c| if steers(c) { ' ' } else { c })
        .collect()
}

fn steers(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200e}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// A length: "12.34 mm". Below the grid as many places as it needs, down to
/// a millionth of a millimetre.
pub fn millimetres(mm: f64) -> String {
    let size = mm.abs();
    if size == 0.0 || 0.01 <= size {
        format!("{} mm", fixed(mm, 2))
    } else if 1e-6 <= size {
        format!("{mm:.6} mm")
    } else {
        "less than 0.000001 mm".to_owned()
    }
}

/// An angle: "12.3 degrees".
pub fn degrees(angle: f64) -> String {
    format!("{} degrees", fixed(angle, 1))
}

/// A fraction in \[0, 1\] with three places: "0.412".
pub fn fraction(fraction: f64) -> String {
    fixed(fraction, 3)
}

/// `value` with `places` decimals and never a negative zero.
fn fixed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
        _ => text,
    }
}

/// Where a fault or doubt of `cell` is. On the diagonal there is no across.
pub fn place(cell: Cell<'_>, place: &Place) -> String {
    let mut text = if place.along == place.other_along {
        format!("{} along", fraction(place.along))
    } else {
        format!(
            "{} and {} along",
            fraction(place.along.min(place.other_along)),
            fraction(place.along.max(place.other_along))
        )
    };
    if !cell.is_diagonal() {
        text.push_str(&format!(", {} across", fraction(place.across)));
    }
    text.push_str(&format!(
        ", at x {} y {} mm",
        fixed(place.point.x, 2),
        fixed(place.point.y, 2)
    ));
    text
}

/// A fault of one cell.
pub fn fault(cell: Cell<'_>, fault: &Fault) -> Saying {
    let settings = &cell.family.settings;
    let (what, right) = match fault.kind {
        FaultKind::Fold if cell.is_diagonal() => (
            format!("{} turns back on itself in a cusp.", capital(&cell.label())),
            "Move the nodes or handles beside the cusp apart, or make the node a corner.".to_owned(),
        ),
        FaultKind::Fold => (
            format!(
                "{} folds: at that section the curve stops and turns back on itself.",
                capital(&cell.label())
            ),
            "Let the two profiles run more nearly the same way there, or turn one of them round."
                .to_owned(),
        ),
        FaultKind::Crossing if cell.is_diagonal() => (
            format!(
                "{} meets itself: two of its strands touch, {} apart in direction.",
                capital(&cell.label()),
                degrees(fault.angle)
            ),
            "Pull the two strands apart, or take out the loop between them.".to_owned(),
        ),
        FaultKind::Crossing => (
            format!(
                "{} crosses itself: two strands of that section touch, {} apart in direction.",
                capital(&cell.label()),
                degrees(fault.angle)
            ),
            "Bring the two profiles nearer to one another in shape there, or leave more room between the two strands.".to_owned(),
        ),
        FaultKind::Axis => (
            format!("{} reaches the axis of the ring.", capital(&cell.label())),
            "Keep every point at an x above 0 mm, its distance from the axis.".to_owned(),
        ),
        FaultKind::Twist => (
            format!(
                "{} twists by {} where {} is allowed.",
                capital(&cell.label()),
                degrees(fault.angle),
                degrees(settings.twist_limit.degrees())
            ),
            "Turn one profile nearer to the direction of the other there, or raise the twist limit if that much is meant.".to_owned(),
        ),
        FaultKind::Crease => (
            format!(
                "{} creases by {} at a smooth joint where {} is allowed.",
                capital(&cell.label()),
                degrees(fault.angle),
                degrees(settings.crease_limit.degrees())
            ),
            crease_remedy(settings.pacing),
        ),
    };
    Saying {
        what,
        place: place(cell, &fault.place),
        right,
    }
}

fn crease_remedy(pacing: Pacing) -> String {
    match pacing {
        Pacing::Node => "Pace by parameter, or space the nodes of the two profiles alike.",
        Pacing::Parameter => "Turn the imported path into a smooth profile, or give its handles on both sides of the joint the lengths that its spans have.",
    }
    .to_owned()
}

/// Why one cell is unproven.
pub fn doubt(cell: Cell<'_>, doubt: &Doubt) -> Saying {
    let label = capital(&cell.label());
    match doubt {
        Doubt::Contact { place: at, gap } => Saying {
            what: format!(
                "{label} comes within {} of touching itself, too near to be proved clear or faulty.",
                millimetres(*gap)
            ),
            place: place(cell, at),
            right: "Leave more room there.".to_owned(),
        },
        Doubt::AtLimit { kind, place: at } => Saying {
            what: match kind {
                FaultKind::Axis => format!(
                    "{label} comes so near the axis of the ring that rounding cannot tell whether it reaches it."
                ),
                _ => format!(
                    "The {} of {} is too near its limit to be proved within it or beyond it.",
                    fault_kind(*kind),
                    cell.label()
                ),
            },
            place: place(cell, at),
            right: match kind {
                FaultKind::Axis => "Move the profile away from the axis there.",
                _ => "Change the limit a little, or leave more room below it.",
            }
            .to_owned(),
        },
        Doubt::Limit { place: at } => Saying {
            what: format!(
                "{label} is undecided: the allowed work was used up before a proof was found."
            ),
            place: place(cell, at),
            right: "Move a node near this place by a little, or leave more room there.".to_owned(),
        },
        Doubt::ProfileNotSimple { profile: index } => Saying {
            what: format!(
                "{label} is not judged, since {} is not itself proved free of contact with itself.",
                profile(cell.family, *index)
            ),
            place: String::new(),
            right: "Mend that profile first.".to_owned(),
        },
        Doubt::ProfileInvalid {
            profile: index,
            error,
        } => Saying {
            what: format!(
                "{label} is not judged, since {} cannot be judged as drawn: {}.",
                profile(cell.family, *index),
                profile_error(error)
            ),
            place: String::new(),
            right: "Mend that profile first.".to_owned(),
        },
        Doubt::CountsDiffer { first, second } => Saying {
            what: format!(
                "{} cannot be paced by node: they have {first} and {second} spans.",
                capital(&cell.pair())
            ),
            place: String::new(),
            right: "Give both the same number of nodes, or pace the family by parameter."
                .to_owned(),
        },
    }
}

/// What is wrong with one profile in itself, with what would be right.
pub fn profile_error(error: &ProfileError) -> String {
    error.to_string()
}

/// One faulty region: its kind and its reach along and across.
pub fn region(cell: Cell<'_>, region: &Region) -> String {
    let along = span(region.along, "along");
    let mut text = format!("{} from {along}", capital(fault_kind(region.kind)));
    if !cell.is_diagonal() && region.kind != FaultKind::Twist {
        text.push_str(&format!(", from {}", span(region.across, "across")));
    }
    text.push_str(&format!(
        "; worst at {}, {}.",
        place(cell, &region.place),
        degrees(region.angle)
    ));
    text
}

fn span((from, to): (f64, f64), way: &str) -> String {
    format!("{} to {} {way}", fraction(from), fraction(to))
}

/// How true the tooling must be.
pub fn margin(cell: Cell<'_>, margin: &Margin) -> String {
    format!(
        "Every control point may move by {} and no fold or crossing can come; the tightest place found is at {}.",
        millimetres(margin.mm),
        place(cell, &margin.place)
    )
}

/// How far from clear a faulty pair is.
pub fn shortfall(mm: f64) -> String {
    format!(
        "Control points must move by at least {} before it can be clear.",
        millimetres(mm)
    )
}

/// The largest twist of a pair.
pub fn twist((angle, along): (f64, f64)) -> String {
    format!(
        "The largest twist is about {}, at {} along.",
        degrees(angle),
        fraction(along)
    )
}

/// What a remedy does, as an order to follow.
pub fn remedy(family: &Family, remedy: &Remedy) -> String {
    match *remedy {
        Remedy::Reverse { profile: index } => format!("Reverse {}", profile(family, index)),
        Remedy::MoveSeam {
            profile: index,
            node,
        } => format!(
            "Move the seam of {} to node {}",
            profile(family, index),
            node + 1
        ),
        Remedy::SwapPacing => format!(
            "Pace the family by {}",
            pacing(family.settings.pacing.swapped())
        ),
    }
}

/// A remedy with what it does to all pairs of the family.
pub fn hint(family: &Family, hint: &Hint) -> String {
    let lost = match hint.breaks {
        0 => "none is lost".to_owned(),
        1 => "1 that is clear now would not be".to_owned(),
        count => format!("{count} that are clear now would not be"),
    };
    format!(
        "{}: {} clear, {lost}.",
        remedy(family, &hint.remedy),
        counted(hint.mends, "pair becomes", "pairs become")
    )
}

/// "1 pair becomes" or "3 pairs become".
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// The sentence for a cell that is clear.
pub fn clear(cell: Cell<'_>) -> String {
    let label = capital(&cell.label());
    if cell.is_diagonal() {
        format!("{label} is clear: it never meets itself.")
    } else {
        format!(
            "{label} is clear: no section of it folds or crosses, and twist and creases stay within their limits."
        )
    }
}

/// All that a judgement says: one saying a fault, the worst first, then the
/// doubt; for a clear cell one saying without a place.
pub fn judgement(cell: Cell<'_>, judgement: &Judgement) -> Vec<Saying> {
    let mut sayings: Vec<Saying> = judgement.faults().map(|found| fault(cell, found)).collect();
    if let Some(open) = &judgement.doubt {
        sayings.push(doubt(cell, open));
    }
    if sayings.is_empty() {
        sayings.push(Saying {
            what: clear(cell),
            place: String::new(),
            right: String::new(),
        });
    }
    sayings
}

/// What a finding adds to its judgement, one sentence an entry: regions,
/// margin or shortfall, twist, remedies.
pub fn finding(cell: Cell<'_>, finding: &Finding) -> Vec<String> {
    let mut lines: Vec<String> = finding
        .regions
        .iter()
        .map(|found| region(cell, found))
        .collect();
    if !finding.complete && finding.judgement.verdict == Verdict::Faulty {
        lines.push("There may be further regions that were not reached.".to_owned());
    }
    lines.extend(finding.margin.as_ref().map(|found| margin(cell, found)));
    lines.extend(finding.shortfall.map(shortfall));
    if !cell.is_diagonal() {
        lines.push(twist(finding.twist));
    }
    lines.extend(finding.hints.iter().map(|found| hint(cell.family, found)));
    lines
}

/// `text` with its first letter in upper case.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::profile::{Node, Profile};

    fn family() -> Family {
        let line = Profile::open(vec![Node::smooth(0, 0), Node::smooth(900, 0)]);
        Family {
            profiles: vec![line.clone().named("Brim"), line],
            ..Family::default()
        }
    }

    fn at(along: f64, other_along: f64, across: f64) -> Place {
        let mut place = Place {
            along,
            other_along,
            across,
            point: Default::default(),
        };
        place.point.x = 12.345;
        place.point.y = -0.001;
        place
    }

    #[test]
    fn a_fault_says_what_where_and_what_would_be_right() {
        let family = family();
        let crossing = Fault {
            kind: FaultKind::Crossing,
            place: at(0.75, 0.25, 0.5),
            angle: 33.333,
        };
        assert_eq!(
            fault(Cell::new(&family, 1, 0), &crossing).text(),
            "The loft from profile 1 “Brim” to profile 2 crosses itself: two strands of that section touch, \
             33.3 degrees apart in direction. Where: 0.250 and 0.750 along, 0.500 across, at x 12.35 y 0.00 mm. \
             Bring the two profiles nearer to one another in shape there, or leave more room between the two strands."
        );
    }

    #[test]
    fn the_diagonal_speaks_of_one_profile_and_no_across() {
        let family = family();
        for kind in [FaultKind::Fold, FaultKind::Crossing, FaultKind::Axis] {
            let place = at(0.5, 0.5, 0.0);
            let words = fault(
                Cell::new(&family, 0, 0),
                &Fault {
                    kind,
                    place,
                    angle: 180.0,
                },
            );
            assert!(words.what.starts_with("Profile 1 “Brim” "), "{words:?}");
            assert!(!words.text().contains("across"), "{words:?}");
            assert!(!words.text().contains("loft"), "{words:?}");
        }
    }

    #[test]
    fn every_doubt_ends_in_advice() {
        let family = family();
        let doubts = [
            Doubt::Contact {
                place: at(0.1, 0.1, 0.2),
                gap: 1e-9,
            },
            Doubt::Limit {
                place: at(0.1, 0.1, 0.2),
            },
            Doubt::ProfileNotSimple { profile: 1 },
            Doubt::ProfileInvalid {
                profile: 0,
                error: ProfileError::TooFewNodes { count: 1 },
            },
            Doubt::CountsDiffer {
                first: 3,
                second: 4,
            },
        ];
        for open in doubts {
            let words = doubt(Cell::new(&family, 0, 1), &open);
            assert!(
                words.what.ends_with('.') && words.right.ends_with('.'),
                "{words:?}"
            );
        }
    }

    #[test]
    fn remedies_count_what_they_mend_and_break() {
        let hint_of = |mends, breaks| Hint {
            remedy: Remedy::Reverse { profile: 0 },
            mends,
            breaks,
        };
        assert_eq!(
            hint(&family(), &hint_of(1, 0)),
            "Reverse profile 1 “Brim”: 1 pair becomes clear, none is lost."
        );
        assert_eq!(
            hint(&family(), &hint_of(3, 2)),
            "Reverse profile 1 “Brim”: 3 pairs become clear, 2 that are clear now would not be."
        );
    }

    #[test]
    fn lengths_show_no_false_zero() {
        assert_eq!(millimetres(0.0), "0.00 mm");
        assert_eq!(millimetres(1.234), "1.23 mm");
        assert_eq!(millimetres(0.00123), "0.001230 mm");
        assert_eq!(millimetres(1e-12), "less than 0.000001 mm");
        assert_eq!(fraction(-0.0), "0.000");
    }

    #[test]
    fn a_name_cannot_steer_the_terminal() {
        let mut family = family();
        family.profiles[0].name = "a\u{1b}[31m\u{202e}b".to_owned();
        assert_eq!(profile(&family, 0), "profile 1 “a [31m b”");
    }
}
