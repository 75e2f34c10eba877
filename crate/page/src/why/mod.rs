//! Why a pair is at fault: short pictures drawn from the pair itself.
//!
//! Each kind of fault has a file that makes its panels; `panel` says what a
//! panel is made of, `local` gives the stretches of sections that they show.
//! Pictures only: nothing here takes part in a verdict.

mod axis;
mod crease;
mod crossing;
mod fold;
mod local;
mod panel;
mod twist;

pub use panel::{Item, Panel, Part};

use crate::board::Board;
use local::Local;
use loftkin_kernel::verdict::{Doubt, Fault, FaultKind, Finding, Place};

/// The panels that explain saying `index` of the chosen pair's finding (faults
/// first, then the doubt); none where a picture would tell nothing.
pub fn panels(board: &mut Board, index: usize) -> Vec<Panel> {
    let Some(finding) = board.finding() else {
        return Vec::new();
    };
    let settings = board.family().settings;
    let Some(local) = Local::of(board) else {
        return Vec::new();
    };
    let faults: Vec<&Fault> = finding.judgement.faults().collect();
    if let Some(fault) = faults.get(index) {
        return of_fault(&local, &finding, fault, settings);
    }
    if index != faults.len() {
        return Vec::new();
    }
    match finding.judgement.doubt {
        Some(Doubt::Contact { place, gap }) => crossing::near(&local, &place, Some(gap)),
        Some(Doubt::Limit { place }) => crossing::near(&local, &place, None),
        Some(Doubt::AtLimit { kind, place }) => {
            let fault = at_limit(&local, kind, place, settings);
            of_fault(&local, &finding, &fault, settings)
        }
        _ => Vec::new(),
    }
}

fn of_fault(
    local: &Local<'_>,
    finding: &Finding,
    fault: &Fault,
    settings: loftkin_kernel::family::Settings,
) -> Vec<Panel> {
    match fault.kind {
        FaultKind::Fold => fold::panels(local, &finding.regions, fault),
        FaultKind::Crossing => crossing::panels(local, &finding.regions, fault),
        FaultKind::Axis => axis::panels(local, fault),
        FaultKind::Twist => twist::panels(local, fault, settings.twist_limit),
        FaultKind::Crease => crease::panels(local, fault),
    }
}

/// What stands at its limit, as the fault it would be.
fn at_limit(
    local: &Local<'_>,
    kind: FaultKind,
    place: Place,
    settings: loftkin_kernel::family::Settings,
) -> Fault {
    let angle = match kind {
        FaultKind::Twist => local.turn(place.along),
        FaultKind::Crease => settings.crease_limit.degrees(),
        _ => 0.0,
    };
    Fault { kind, place, angle }
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::{Family, Placement, TenthsOfDegree};
    use loftkin_kernel::profile::{Node, Profile};

    fn board(profiles: Vec<Profile>) -> Board {
        let mut family = Family {
            profiles,
            ..Family::default()
        };
        family.settings.twist_limit = TenthsOfDegree(900);
        Board::new(family).unwrap()
    }

    fn arch(rise: i32) -> Profile {
        Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(2000, rise),
            Node::smooth(5000, rise + 400),
            Node::smooth(9000, 0),
        ])
    }

    /// Every panel must show its items inside its frame, say something, and be
    /// made of finite numbers.
    fn check(panels: &[Panel]) {
        for panel in panels {
            let (low, high) = panel.frame;
            assert!(low.x < high.x && low.y < high.y, "{}", panel.title);
            assert!(panel.text.ends_with('.'), "{}", panel.text);
            assert!(!panel.items.is_empty(), "{}", panel.title);
            let points = panel.items.iter().flat_map(Item::points);
            assert!(points.clone().all(|p| p.x.is_finite() && p.y.is_finite()));
            let inside = |p: &nalgebra::Point2<f64>| {
                low.x <= p.x && p.x <= high.x && low.y <= p.y && p.y <= high.y
            };
            assert!(points.clone().any(|p| inside(&p)), "{}", panel.title);
        }
    }

    #[test]
    fn a_reversed_profile_is_explained_by_fold_and_twist() {
        let mut board = board(vec![arch(3000), arch(3600).reversed()]);
        let fold = panels(&mut board, 0);
        assert_eq!(fold.len(), 4);
        check(&fold);
        // The middle one stands at the fold's own fraction across.
        let finding = board.finding().unwrap();
        let across = finding.judgement.worst().unwrap().place.across;
        assert!(fold[1].title.contains(&format!("{across:.3}")));
        let twist = panels(&mut board, 1);
        check(&twist);
        assert!(
            twist
                .iter()
                .any(|panel| panel.text.contains("90.0 degrees"))
        );
        assert!(panels(&mut board, 2).is_empty());
    }

    #[test]
    fn a_profile_that_crosses_itself_shows_its_two_strands() {
        let loop_of = Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(6000, 3000),
            Node::smooth(3000, 6000),
            Node::smooth(0, 3000),
            Node::smooth(6000, 0),
        ]);
        let mut board = board(vec![arch(3000), loop_of]);
        board.choose_pair(1, 1).unwrap();
        let shown = panels(&mut board, 0);
        assert_eq!(shown.len(), 2, "no other section of one profile");
        check(&shown);
        let strands = |part| {
            let drawn = shown[1].items.iter().filter(|item| item.part() == part);
            drawn.count()
        };
        assert!(0 < strands(Part::Strand) && 0 < strands(Part::Other));
    }

    #[test]
    fn the_axis_is_shown_with_what_lies_beyond_it() {
        let line = |x: i32| Profile::open(vec![Node::smooth(x, 0), Node::smooth(x + 900, 4000)]);
        let mut board = board(vec![line(3000), line(-400)]);
        let mut settings = board.family().settings;
        settings.placement = Placement::Ring;
        board.set_settings(settings).unwrap();
        let shown = panels(&mut board, 0);
        check(&shown);
        let beyond = shown[0]
            .items
            .iter()
            .find(|item| item.part() == Part::Fault);
        assert!(beyond.unwrap().points().all(|p| p.x <= 1e-9));
    }

    #[test]
    fn a_clear_pair_has_nothing_to_explain() {
        let mut board = board(vec![arch(3000), arch(3600)]);
        assert!(panels(&mut board, 0).is_empty());
    }
}
