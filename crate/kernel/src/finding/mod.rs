//! Everything to say about one pair, worked out when it is selected: regions,
//! margin, shortfall, the largest twist, hints.

mod double_curve;
mod hints;
mod margin;
mod rate;
mod regions;
mod shortfall;
mod trials;
mod turned;

use crate::proof::{Memory, Ready};
use crate::verdict::{Fault, FaultKind, Finding, Judgement, Region, Verdict};
pub(crate) use hints::{Sheet, cell_index, hints};
pub(crate) use margin::{Below, margin, margin_below};
pub use rate::chord_rate;
pub(crate) use trials::Trials;
pub(crate) use turned::largest_twist;

/// The pair at hand: its judgement and the indices of its profiles.
pub(crate) struct Subject {
    /// What the table shows.
    pub judgement: Judgement,
    /// The lower index.
    pub first: usize,
    /// The higher index, or the same for a profile by itself.
    pub second: usize,
}

/// Works out the finding of `subject`.
pub(crate) fn work_out(sheet: &Sheet, subject: &Subject, memory: &mut Memory) -> Finding {
    let Subject {
        judgement,
        first,
        second,
    } = *subject;
    let mut finding = Finding {
        judgement,
        regions: Vec::new(),
        complete: true,
        margin: None,
        shortfall: None,
        twist: (0.0, 0.0),
        hints: Vec::new(),
    };
    let (Ok(one), Ok(other)) = (
        sheet.prepared[first].ready(),
        sheet.prepared[second].ready(),
    ) else {
        return finding;
    };
    let pair = [one, other];
    let contact = judgement.faults().find(|fault| is_contact(fault));
    if judgement.boxes == 0 {
        // Not judged: a profile is not simple, or the numbers of spans differ.
        return finding;
    }
    if first != second {
        finding.twist = largest_twist(pair);
    }
    match contact {
        Some(_) if first != second => {
            (finding.regions, finding.complete) = regions::regions(pair, memory);
            finding.shortfall = shortfall::shortfall(pair);
        }
        Some(fault) => finding.regions.push(at_witness(fault)),
        None if judgement.doubt.is_none() => finding.margin = margin(pair),
        None => {}
    }
    if finding.regions.is_empty() {
        finding.regions.extend(contact.map(at_witness));
    }
    let others = judgement.faults().filter(|fault| !is_contact(fault));
    finding.regions.extend(others.map(|fault| match fault.kind {
        FaultKind::Twist => turned::twisted(pair, fault, sheet.family.settings.twist_limit),
        _ => at_witness(fault),
    }));
    if first != second && judgement.verdict != Verdict::Clear {
        finding.hints = hints(sheet, (first, second), memory);
    }
    finding
}

fn is_contact(fault: &Fault) -> bool {
    matches!(fault.kind, FaultKind::Fold | FaultKind::Crossing)
}

/// A region that is no more than the witness itself.
fn at_witness(fault: &Fault) -> Region {
    let place = fault.place;
    Region {
        kind: fault.kind,
        across: (place.across, place.across),
        along: (place.along, place.other_along),
        curves: Vec::new(),
        place,
        angle: fault.angle,
    }
}

/// The two curves of a pair.
fn curves(pair: [&Ready; 2]) -> [&crate::curve::Curve; 2] {
    pair.map(|ready| &ready.curve)
}

#[cfg(test)]
mod tests {
    use crate::family::{Family, Settings, TenthsOfDegree};
    use crate::grid::GridPoint;
    use crate::profile::{Node, Outline, PathSpan, Profile};
    use crate::table::Table;
    use crate::verdict::{FaultKind, Remedy, Verdict};
    use proptest::prelude::*;
    use proptest::test_runner::{Config, TestRunner};

    fn loose() -> Settings {
        Settings {
            twist_limit: TenthsOfDegree(1799),
            crease_limit: TenthsOfDegree(900),
            ..Settings::default()
        }
    }

    fn table(profiles: Vec<Profile>) -> Table {
        Table::new(Family {
            name: String::new(),
            settings: loose(),
            profiles,
        })
        .unwrap()
    }

    /// e^(iu) + a e^(2iu), 10 m to the unit (so that the grid does not matter),
    /// seam moved by `turn` degrees, as cubic Hermite spans of equal length in u.
    fn limacon(a: f64, turn: f64, count: u32) -> Profile {
        let step = std::f64::consts::TAU / f64::from(count);
        let at = |u: f64, lead: f64| {
            let point = (
                libm::cos(u) + a * libm::cos(2.0 * u),
                libm::sin(u) + a * libm::sin(2.0 * u),
            );
            let slope = (
                -libm::sin(u) - 2.0 * a * libm::sin(2.0 * u),
                libm::cos(u) + 2.0 * a * libm::cos(2.0 * u),
            );
            let (x, y) = (point.0 + slope.0 * lead, point.1 + slope.1 * lead);
            GridPoint::from_mm(10_000.0 * x, 10_000.0 * y).unwrap()
        };
        let from = turn.to_radians();
        let start = at(from, 0.0);
        let spans = (0..count)
            .map(|k| {
                let u = from + step * f64::from(k);
                let last = k + 1 == count;
                PathSpan::Cubic {
                    first: at(u, step / 3.0),
                    second: at(u + step, -step / 3.0),
                    to: if last { start } else { at(u + step, 0.0) },
                }
            })
            .collect();
        Profile {
            name: String::new(),
            closed: true,
            outline: Outline::Path { start, spans },
        }
    }

    #[test]
    fn the_faulty_interval_of_the_turned_limacon() {
        let mut settings = loose();
        settings.pacing = crate::family::Pacing::Node;
        let mut table = Table::new(Family {
            name: String::new(),
            settings,
            profiles: vec![limacon(0.45, 0.0, 48), limacon(0.45, 150.0, 48)],
        })
        .unwrap();
        let finding = table.finding(0, 1);
        println!(
            "complete {} shortfall {:?}",
            finding.complete, finding.shortfall
        );
        for region in &finding.regions {
            println!(
                "{:?} v {:?} u {:?} {} points",
                region.kind,
                region.across,
                region.along,
                region.curves.iter().map(Vec::len).sum::<usize>()
            );
        }
        assert_eq!(finding.judgement.verdict, Verdict::Faulty);
        let contacts = || {
            finding
                .regions
                .iter()
                .filter(|region| region.kind < FaultKind::Axis)
        };
        let low = contacts().map(|region| region.across.0).fold(1.0, f64::min);
        let high = contacts().map(|region| region.across.1).fold(0.0, f64::max);
        // The exact curve: 4 a^2 (1 - 4 w sin^2 t) <= 1 - 4 w sin^2(t/2), w = v (1-v).
        // 48 Hermite spans stay within h^4/384 of it, about 1e-6.
        assert!((low - 0.069_910_3).abs() < 1e-4, "{low}");
        assert!((high - 0.930_089_7).abs() < 1e-4, "{high}");
    }

    #[test]
    fn a_reversed_circle_is_mended_by_reversing() {
        let round = limacon(0.0, 0.0, 16);
        let mut table = table(vec![round.clone(), round.reversed(), round]);
        let finding = table.finding(0, 1);
        let best = finding.hints.first().expect("a hint");
        assert_eq!(best.remedy, Remedy::Reverse { profile: 1 });
        assert_eq!((best.mends, best.breaks), (2, 0));
    }

    #[test]
    fn a_seam_half_way_round_is_mended_by_moving_it() {
        let table = |seam: usize| {
            let round = limacon(0.2, 0.0, 16);
            table(vec![round.clone(), round.with_seam(seam).unwrap()])
        };
        let finding = table(8).finding(0, 1);
        assert_eq!(finding.judgement.verdict, Verdict::Faulty);
        assert!(finding.hints.iter().any(|hint| hint.remedy
            == Remedy::MoveSeam {
                profile: 1,
                node: 8
            }));
    }

    /// Both rims are symmetric about y = 0 and run opposite ways from x > 0, so
    /// the slopes oppose exactly at 0 and 1/2, and the double curve runs from
    /// the one fold to the other along u + w = 1.
    #[test]
    fn a_double_curve_between_two_folds_is_told_as_a_fold() {
        let round = [
            (15_000, 0),
            (10_607, 10_607),
            (0, 15_000),
            (-10_607, 10_607),
        ];
        let egg = [
            (15_400, 0),
            (12_516, 9094),
            (4710, 14_496),
            (-4366, 13_438),
            (-10_160, 7382),
        ];
        let rim = |upper: &[(i32, i32)], furthest: i32| {
            let lower = upper[1..].iter().rev().map(|&(x, y)| (x, -y));
            let all = upper.iter().copied().chain([(furthest, 0)]).chain(lower);
            Profile::closed(all.map(|(x, y)| Node::smooth(x, y)).collect())
        };
        let mut table = table(vec![rim(&round, -15_000), rim(&egg, -11_800).reversed()]);
        let finding = table.finding(0, 1);
        assert_eq!(finding.judgement.worst().unwrap().kind, FaultKind::Fold);
        let kinds: Vec<FaultKind> = finding.regions.iter().map(|region| region.kind).collect();
        assert_eq!(kinds, [FaultKind::Fold, FaultKind::Twist]);
        let contacts = finding.regions[0].curves.iter().flatten();
        let mut births: Vec<f64> = contacts
            .filter(|contact| contact.along == contact.other_along)
            .map(|contact| (contact.along + 0.25).fract() - 0.25)
            .collect();
        births.sort_by(f64::total_cmp);
        assert_eq!(births.len(), 2);
        assert!(
            births[0].abs() < 1e-9 && (births[1] - 0.5).abs() < 1e-9,
            "{births:?}"
        );
    }

    /// Beside the tips of such triangles the nets vary along one way alone: slivers
    /// as fine as rounding once took all the work of the survey.
    #[test]
    fn the_regions_of_thin_triangles_are_complete() {
        let triangle = |nodes: [(i32, i32); 3]| {
            Profile::closed(nodes.map(|(x, y)| Node::corner(x, y)).to_vec())
        };
        let mut table = table(vec![
            triangle([(-4335, -2236), (4335, 2236), (513, 268)]),
            triangle([(4706, 1413), (-4706, -1413), (2811, 809)]),
        ]);
        let finding = table.finding(0, 1);
        assert_eq!(finding.judgement.verdict, Verdict::Faulty);
        assert!(finding.complete && !finding.regions.is_empty());
    }

    fn arch(rise: i32, lean: i32) -> Profile {
        Profile::open(vec![
            Node::smooth(0, 0),
            Node::smooth(2000 + lean, rise),
            Node::smooth(5000 + lean, rise + 400),
            Node::smooth(9000, 0),
        ])
    }

    fn moved(profile: &Profile, moves: &[(i32, i32)]) -> Profile {
        let Outline::Nodes(nodes) = &profile.outline else {
            unreachable!("drawn by nodes")
        };
        let nodes = nodes
            .iter()
            .zip(moves)
            .map(|(node, (x, y))| Node::smooth(node.at.x + x, node.at.y + y))
            .collect();
        Profile::open(nodes)
    }

    /// Moving straight-line control points: a pair of polylines has its control
    /// points on its chords, so nodes moved by e move every one by e at most.
    #[test]
    fn within_the_margin_a_pair_stays_clear() {
        let zigzag = |lift: i32| {
            let nodes = [
                (0, 0),
                (3000, 2500 + lift),
                (2600, 5200),
                (6000, 8000 + lift),
            ];
            Profile::open(nodes.iter().map(|&(x, y)| Node::corner(x, y)).collect())
        };
        let (one, other) = (zigzag(0), zigzag(900));
        let mut table = table(vec![one.clone(), other.clone()]);
        let margin = table.finding(0, 1).margin.expect("a margin");
        println!("{margin:?}");
        let reach = (margin.mm * 100.0 * std::f64::consts::FRAC_1_SQRT_2).floor() as i32;
        assert!(50 < reach);
        let moves = || prop::collection::vec((-reach..=reach, -reach..=reach), 4);
        TestRunner::new(Config::with_cases(500))
            .run(&(moves(), moves()), |(first, second)| {
                let corner = |profile: Profile| {
                    let Outline::Nodes(mut nodes) = profile.outline else {
                        unreachable!("drawn by nodes")
                    };
                    nodes.iter_mut().for_each(|node| node.corner = true);
                    Profile::open(nodes)
                };
                let pair = vec![corner(moved(&one, &first)), corner(moved(&other, &second))];
                let table = self::table(pair);
                prop_assert_eq!(table.cell(0, 1).verdict, Verdict::Clear);
                Ok(())
            })
            .unwrap();
    }

    #[test]
    fn a_clear_pair_of_arches_has_a_margin_and_no_hints() {
        let mut table = table(vec![arch(3000, 0), arch(4200, 300)]);
        let finding = table.finding(0, 1);
        println!("{finding:?}");
        assert_eq!(finding.judgement.verdict, Verdict::Clear);
        assert!(0.1 < finding.margin.unwrap().mm);
        assert!(finding.hints.is_empty() && finding.regions.is_empty());
    }

    #[test]
    fn below_the_shortfall_a_pair_stays_faulty() {
        let corner = |nodes: &[(i32, i32)]| {
            Profile::open(nodes.iter().map(|&(x, y)| Node::corner(x, y)).collect())
        };
        let one = [(0, 0), (4000, 0), (4000, 3000), (8000, 3000)];
        let other = [(8000, 3000), (5000, 2500), (4500, 0), (0, 500)];
        let mut table = table(vec![corner(&one), corner(&other)]);
        let finding = table.finding(0, 1);
        println!("{:?} {:?}", finding.judgement, finding.shortfall);
        let needed = finding.shortfall.expect("a shortfall");
        let reach = (needed * 100.0 * std::f64::consts::FRAC_1_SQRT_2).floor() as i32;
        assert!(100 < reach);
        let moves = || prop::collection::vec((-reach..=reach, -reach..=reach), 4);
        TestRunner::new(Config::with_cases(300))
            .run(&(moves(), moves()), |(first, second)| {
                let shift = |nodes: &[(i32, i32)], moves: &[(i32, i32)]| {
                    let moved: Vec<_> = nodes
                        .iter()
                        .zip(moves)
                        .map(|(a, b)| (a.0 + b.0, a.1 + b.1))
                        .collect();
                    corner(&moved)
                };
                let table = self::table(vec![shift(&one, &first), shift(&other, &second)]);
                if table.cell(0, 0).is_simple() && table.cell(1, 1).is_simple() {
                    prop_assert_eq!(
                        table
                            .cell(0, 1)
                            .worst()
                            .map(|fault| fault.kind < FaultKind::Axis),
                        Some(true)
                    );
                }
                Ok(())
            })
            .unwrap();
    }
}
