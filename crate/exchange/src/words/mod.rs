//! The words for verdicts, faults, doubts, margins and remedies.
//!
//! The page and the command show the same sentences: what is wrong, where, and
//! what would be right. Pure strings from kernel values, no layout, no colour.
//! Lengths are mm, angles degrees, fractions along and across lie in \[0, 1\].
//! Profiles and nodes are counted from 1, as a person counts.

mod band;
pub mod edges;
mod faults;
mod figures;
pub mod mending;
mod nodes;
mod remedies;

pub use band::{PARTING_LAND, band, band_basis, band_shortly, below, no_less, point};
pub use faults::{clear, doubt, fault, profile_error};
pub use figures::{capital, counted, degrees, fraction, millimetres, place, room};
pub use nodes::margin_of_nodes;
pub use remedies::{hint, margin, region, remedy, shortfall, twist};

use loftkin_kernel::family::{Family, Pacing, Placement};
use loftkin_kernel::verdict::{Doubt, Fault, FaultKind, Finding, Judgement, Region, Verdict};

/// One thing to say, in parts that a face may set apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saying {
    /// What is the matter: a whole sentence that names the profile or the loft.
    pub what: String,
    /// The same without the name, for where a heading names it.
    pub short: String,
    /// Where it is, without a full stop; empty when it has no place.
    pub place: String,
    /// What would be right: a whole sentence; empty when there is nothing to do.
    pub right: String,
}

impl Saying {
    /// All parts as running text.
    pub fn text(&self) -> String {
        self.beginning(&self.what)
    }

    /// All parts as running text, without the name.
    pub fn short_text(&self) -> String {
        self.beginning(&self.short)
    }

    fn beginning(&self, what: &str) -> String {
        let mut text = what.to_owned();
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

    /// "profile 3 “Brim”", or "profile 3 “Brim” with profile 5".
    pub fn heading(&self) -> String {
        let first = profile(self.family, self.first);
        if self.is_diagonal() {
            return first;
        }
        format!("{first} with {}", profile(self.family, self.second))
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

/// What a margin covers, wherever one is told.
pub const MARGIN_COVERS: &str = "A margin covers tooling, the surface as it is at a kept pace; nodes that are drawn elsewhere change the curve and may change its pace.";

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

/// All that a judgement says: one saying a fault, the worst first, then the
/// doubt; for a clear cell one saying without a place.
pub fn judgement(cell: Cell<'_>, judgement: &Judgement) -> Vec<Saying> {
    let faults = judgement.faults().map(|found| fault(cell, found));
    sayings(cell, faults.collect(), judgement)
}

/// The sayings of the faults, then of the doubt of `judgement`.
fn sayings(cell: Cell<'_>, mut sayings: Vec<Saying>, judgement: &Judgement) -> Vec<Saying> {
    if let Some(open) = &judgement.doubt {
        sayings.push(doubt(cell, open));
    }
    if sayings.is_empty() {
        sayings.push(clear(cell));
    }
    sayings
}

/// What the judgement of a finding says, as [`judgement`] does, with a twist
/// told where it is worst: a witness is any place beyond the limit.
pub fn found(cell: Cell<'_>, finding: &Finding) -> Vec<Saying> {
    let faults = finding.judgement.faults();
    let told = faults.map(|found| fault(cell, &at_worst(found, finding)));
    sayings(cell, told.collect(), &finding.judgement)
}

/// The fault itself, or the place where that twist is worst: an estimate, where the
/// witness is checked.
pub fn at_worst(found: &Fault, finding: &Finding) -> Fault {
    let mut regions = finding.regions.iter();
    let worse = regions.find(|region| {
        let twists = [region.kind, found.kind] == [FaultKind::Twist; 2];
        twists && found.angle.abs() < region.angle.abs()
    });
    worse.map_or(*found, |region| Fault {
        kind: found.kind,
        place: region.place,
        angle: region.angle,
    })
}

/// Whether a judgement looked at the pair at all, rather than stop at what one
/// of its profiles is by itself.
pub fn is_judged(judgement: &Judgement) -> bool {
    !matches!(
        judgement.doubt,
        Some(
            Doubt::ProfileNotSimple { .. }
                | Doubt::ProfileInvalid { .. }
                | Doubt::CountsDiffer { .. }
        )
    )
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
    let told = |region: &Region| region.kind == FaultKind::Twist;
    if !cell.is_diagonal() && is_judged(&finding.judgement) && !finding.regions.iter().any(told) {
        lines.push(twist(finding.twist));
    }
    lines.extend(finding.hints.iter().map(|found| hint(cell.family, found)));
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::TenthsOfDegree;
    use loftkin_kernel::profile::{Node, Profile, ProfileError};
    use loftkin_kernel::verdict::{Doubt, Fault, Hint, Place, Remedy};

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
            Doubt::AtLimit {
                kind: FaultKind::Crease,
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
        for (mm, shown) in [
            (4.259, "4.25 mm"),
            (4.261, "4.26 mm"),
            (0.0012348, "0.001234 mm"),
        ] {
            assert_eq!(room(mm), shown);
        }
        assert_eq!(fraction(-0.0), "0.000");
    }

    #[test]
    fn a_name_cannot_steer_the_terminal() {
        let mut family = family();
        family.profiles[0].name = "a\u{1b}[31m\u{202e}b".to_owned();
        assert_eq!(profile(&family, 0), "profile 1 “a [31m b”");
    }

    #[test]
    fn an_angle_just_above_its_limit_shows_that_it_is() {
        let mut family = family();
        family.settings.twist_limit = TenthsOfDegree(900);
        let twist = |angle| Fault {
            kind: FaultKind::Twist,
            place: at(0.5, 0.5, 0.5),
            angle,
        };
        let cell = Cell::new(&family, 0, 1);
        assert_eq!(
            fault(cell, &twist(-90.001)).short,
            "Twists by 90.001000 degrees where 90.0 degrees are allowed."
        );
        assert_eq!(
            fault(cell, &twist(112.34)).place,
            "0.500 along, the middle of that ruling at x 12.35 y 0.00 mm"
        );
    }

    /// The finding of a level profile and one that runs `other`.
    fn found_beside(other: Vec<Node>) -> (Family, Finding) {
        let mut family = family();
        family.profiles[0] = Profile::open(vec![Node::smooth(0, 0), Node::smooth(3000, 0)]);
        family.profiles[1] = Profile::open(other);
        family.settings.twist_limit = TenthsOfDegree(100);
        let mut table = loftkin_kernel::table::Table::new(family.clone()).unwrap();
        let finding = table.finding(0, 1);
        (family, finding)
    }

    #[test]
    fn a_twist_is_told_where_it_is_worst() {
        let nodes = [(0, 1000), (1000, 1600), (2000, 1400), (3000, 3000)];
        let (family, finding) = found_beside(nodes.map(|(x, y)| Node::smooth(x, y)).to_vec());
        let cell = Cell::new(&family, 0, 1);
        let worst = finding
            .regions
            .iter()
            .find(|one| one.kind == FaultKind::Twist);
        let angle = degrees(worst.unwrap().angle.abs());
        let sayings = found(cell, &finding);
        assert!(sayings[0].what.contains(&angle), "{sayings:?} {angle}");
        let place = figures::place_of(cell, FaultKind::Twist, &worst.unwrap().place);
        assert_eq!(sayings[0].place, place);
    }

    #[test]
    fn no_twist_is_told_of_a_pair_that_was_not_judged() {
        let nodes = [(0, 1000), (3000, 2000), (3000, 1000), (0, 2000)];
        let (family, finding) = found_beside(nodes.map(|(x, y)| Node::corner(x, y)).to_vec());
        assert!(!is_judged(&finding.judgement), "{finding:?}");
        let lines = super::finding(Cell::new(&family, 0, 1), &finding);
        assert!(
            lines.iter().all(|line| !line.contains("twist")),
            "{lines:?}"
        );
    }
}
