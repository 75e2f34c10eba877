//! What the board shows, as a list of lines, marks and labels in pixels.
//!
//! Made from the board's state alone, so it is tested natively; `paint` puts
//! it on a canvas. Pictures only: nothing here takes part in a verdict.

use crate::board::{Board, FINEST_GRID};
use crate::edit::{handles, joints};
use crate::hit::{CHORDS, Hit, pixel, span_point};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Placement;
use loftkin_kernel::profile::Outline;
use loftkin_kernel::verdict::{Contact, FaultKind, Region};
use nalgebra::{Point2, Vector2};

/// Chords of the section that is shown.
const SECTION_STEPS: usize = 160;
/// Chords of a stretch that is shown as faulty.
const STRETCH_STEPS: usize = 48;
/// Fine grid lines to one labelled line.
const FINE_TO_BOLD: f64 = 5.0;
/// Above this many nodes they carry no numbers.
const MOST_NUMBERED: usize = 40;
/// Where the arrow of direction stands: the fraction along.
const ARROW_AT: f64 = 0.06;

/// The part that a colour plays; the page's theme gives the colour itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(usize)]
pub enum Ink {
    /// Fine grid lines.
    Grid,
    /// Labelled grid lines.
    GridBold,
    /// Lines of x = 0 and y = 0.
    Origin,
    /// Profiles that are neither active nor of the chosen pair.
    Sibling,
    /// The first profile of the chosen pair.
    First,
    /// The second profile of the chosen pair.
    Second,
    /// The active profile.
    Active,
    /// The section that is shown.
    Section,
    /// The faulty region.
    Fault,
    /// The ground, inside of marks.
    Ground,
    /// Chosen nodes.
    Chosen,
    /// Numbers and words.
    Label,
}

impl Ink {
    /// How many there are.
    pub const COUNT: usize = 12;
}

/// The shape of a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A smooth node.
    Round,
    /// A corner node.
    Square,
    /// The place of a fault.
    Diamond,
}

/// One thing to paint.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A polyline.
    Line {
        /// Its colour.
        ink: Ink,
        /// Its width in pixels.
        width: f64,
        /// Whether it is dashed.
        dashed: bool,
        /// How solid it is, from 0 to 1.
        strength: f64,
        /// Its points.
        points: Vec<Point2<f64>>,
    },
    /// A mark at a point.
    Mark {
        /// The colour of its rim.
        ink: Ink,
        /// The colour inside.
        fill: Ink,
        /// Its shape.
        shape: Shape,
        /// Half its size in pixels.
        radius: f64,
        /// Its middle.
        at: Point2<f64>,
    },
    /// A short text.
    Label {
        /// Its colour.
        ink: Ink,
        /// Where its first letter stands, on the base line.
        at: Point2<f64>,
        /// The text.
        text: String,
    },
}

/// Everything on the board, in painting order.
pub fn scene(board: &Board) -> Vec<Item> {
    let mut scene = Scene {
        board,
        items: Vec::new(),
    };
    scene.grid();
    scene.siblings();
    scene.section();
    scene.faulty_stretches();
    scene.active();
    scene.double_curves();
    scene.sketch();
    scene.items
}

struct Scene<'a> {
    board: &'a Board,
    items: Vec<Item>,
}

impl Scene<'_> {
    fn screen(&self, mm: Point2<f64>) -> Point2<f64> {
        self.board.view().to_screen(mm)
    }

    fn line(&mut self, ink: Ink, width: f64, points: Vec<Point2<f64>>) {
        self.items.push(Item::Line {
            ink,
            width,
            dashed: false,
            strength: 1.0,
            points,
        });
    }

    fn label(&mut self, ink: Ink, at: Point2<f64>, text: String) {
        self.items.push(Item::Label { ink, at, text });
    }

    fn grid(&mut self) {
        let view = *self.board.view();
        let fine = view.grid_step(FINEST_GRID);
        let bold = view.grid_step(FINEST_GRID * FINE_TO_BOLD);
        let (low, high) = (
            view.to_mm(Point2::new(0.0, view.size.y)),
            view.to_mm(Point2::new(view.size.x, 0.0)),
        );
        for (step, ink) in [(fine, Ink::Grid), (bold, Ink::GridBold)] {
            for x in multiples(low.x, high.x, step) {
                self.line(ink, 1.0, vec![self.crisp(x, low.y), self.crisp(x, high.y)]);
            }
            for y in multiples(low.y, high.y, step) {
                self.line(ink, 1.0, vec![self.crisp(low.x, y), self.crisp(high.x, y)]);
            }
        }
        self.origin(low, high);
        for x in multiples(low.x, high.x, bold) {
            let at = Point2::new(self.screen(Point2::new(x, 0.0)).x + 3.0, view.size.y - 6.0);
            self.label(Ink::Label, at, number(x, bold));
        }
        for y in multiples(low.y, high.y, bold) {
            let at = Point2::new(4.0, self.screen(Point2::new(0.0, y)).y - 3.0);
            self.label(Ink::Label, at, number(y, bold));
        }
    }

    fn origin(&mut self, low: Point2<f64>, high: Point2<f64>) {
        let ring = self.board.family().settings.placement == Placement::Ring;
        let width = if ring { 2.5 } else { 1.0 };
        let upright = vec![self.crisp(0.0, low.y), self.crisp(0.0, high.y)];
        self.line(Ink::Origin, width, upright);
        self.line(
            Ink::Origin,
            1.0,
            vec![self.crisp(low.x, 0.0), self.crisp(high.x, 0.0)],
        );
        if ring {
            let at = Point2::new(self.screen(Point2::origin()).x + 6.0, 16.0);
            self.label(Ink::Origin, at, "axis of the ring".to_owned());
        }
    }

    /// A point of a grid line, on the middle of a pixel.
    fn crisp(&self, x: f64, y: f64) -> Point2<f64> {
        self.screen(Point2::new(x, y))
            .map(|pixel| pixel.floor() + 0.5)
    }

    fn siblings(&mut self) {
        for index in 0..self.board.family().profiles.len() {
            if Some(index) == self.board.active() {
                continue;
            }
            let hovered = self.board.hover().map(Hit::profile) == Some(index);
            let (ink, width) = self.pair_ink(index).unwrap_or((Ink::Sibling, 1.25));
            let width = if hovered { width + 1.5 } else { width };
            if let Some(curve) = self.board.document().curve(index) {
                self.line(ink, width, self.polyline(curve));
                let start = self.screen(curve.point_mm(0.0)) + Vector2::new(-4.0, -8.0);
                self.label(ink, start, (index + 1).to_string());
            } else {
                self.bare_nodes(index, ink);
            }
        }
    }

    fn pair_ink(&self, index: usize) -> Option<(Ink, f64)> {
        let (first, second) = self.board.pair()?;
        if index == first {
            Some((Ink::First, 2.0))
        } else if index == second {
            Some((Ink::Second, 2.0))
        } else {
            None
        }
    }

    /// A profile that cannot be drawn as a curve still shows its nodes.
    fn bare_nodes(&mut self, index: usize, ink: Ink) {
        let nodes = self.board.document().profile(index).map(joints);
        let points = nodes.unwrap_or_default().into_iter().map(|node| {
            let (x, y) = node.at.to_mm();
            self.screen(Point2::new(x, y))
        });
        let points = points.collect();
        self.items.push(Item::Line {
            ink,
            width: 1.25,
            dashed: true,
            strength: 1.0,
            points,
        });
    }

    fn polyline(&self, curve: &Curve) -> Vec<Point2<f64>> {
        let mut points = vec![self.screen(curve.point_mm(0.0))];
        for span in 0..curve.span_count() {
            for step in 1..=CHORDS {
                let t = step as f64 / CHORDS as f64;
                points.push(self.screen(span_point(curve, span, t)));
            }
        }
        points
    }

    fn section(&mut self) {
        let Some(loft) = self.board.loft() else {
            return;
        };
        let points = loft.section(self.board.across(), SECTION_STEPS);
        let points = points.into_iter().map(|p| self.screen(p)).collect();
        self.items.push(Item::Line {
            ink: Ink::Section,
            width: 1.5,
            dashed: true,
            strength: 1.0,
            points,
        });
    }

    fn faulty_stretches(&mut self) {
        let (Some(finding), Some((first, second))) =
            (self.board.known_finding(), self.board.pair())
        else {
            return;
        };
        let stretches: Vec<(f64, f64, f64)> = finding
            .regions
            .iter()
            .flat_map(|region| {
                let strength = strength_of(region.kind);
                let stretches = stretches_of(region).into_iter();
                stretches.map(move |(from, to)| (from, to, strength))
            })
            .collect();
        for profile in [first, second] {
            for &(from, to, strength) in &stretches {
                let Some(curve) = self.board.document().curve(profile) else {
                    continue;
                };
                let points = (0..=STRETCH_STEPS)
                    .map(|i| from + (to - from) * i as f64 / STRETCH_STEPS as f64)
                    .map(|u| self.screen(curve.point_mm(u)))
                    .collect();
                self.items.push(Item::Line {
                    ink: Ink::Fault,
                    width: 9.0,
                    dashed: false,
                    strength,
                    points,
                });
            }
        }
    }

    fn active(&mut self) {
        let Some(index) = self.board.active() else {
            return;
        };
        let ink = self.pair_ink(index).map_or(Ink::Active, |(ink, _)| ink);
        if let Some(curve) = self.board.document().curve(index) {
            self.line(ink, 2.75, self.polyline(curve));
            self.arrow(curve, ink);
        } else {
            self.bare_nodes(index, ink);
        }
        self.nodes(index, ink);
    }

    fn arrow(&mut self, curve: &Curve, ink: Ink) {
        let slope = curve.slope(ARROW_AT);
        let direction = Vector2::new(slope.x, -slope.y);
        let length = direction.norm();
        if length <= 0.0 {
            return;
        }
        let forward = direction / length;
        let sideways = Vector2::new(-forward.y, forward.x);
        let tip = self.screen(curve.point_mm(ARROW_AT)) + forward * 5.0;
        let back = tip - forward * 10.0;
        self.line(
            ink,
            2.75,
            vec![back + sideways * 6.0, tip, back - sideways * 6.0],
        );
    }

    fn nodes(&mut self, index: usize, ink: Ink) {
        let Some(profile) = self.board.document().profile(index) else {
            return;
        };
        let nodes = joints(profile);
        for (_, at, joint) in handles(profile, self.board.chosen()) {
            let (at, joint) = (
                pixel(self.board.view(), at),
                pixel(self.board.view(), joint),
            );
            self.line(Ink::Chosen, 1.0, vec![joint, at]);
            self.items.push(Item::Mark {
                ink: Ink::Chosen,
                fill: Ink::Ground,
                shape: Shape::Round,
                radius: 4.0,
                at,
            });
        }
        let exact = matches!(profile.outline, Outline::Path { .. });
        for (number, node) in nodes.iter().enumerate() {
            let (x, y) = node.at.to_mm();
            let at = self.screen(Point2::new(x, y));
            let chosen = self.board.chosen().contains(&number);
            let under = Hit::Node {
                profile: index,
                node: number,
            };
            let grown = if self.board.hover() == Some(under) {
                2.0
            } else {
                0.0
            };
            let start = if number == 0 { 1.5 } else { 0.0 };
            self.items.push(Item::Mark {
                ink: if chosen { Ink::Chosen } else { ink },
                fill: if chosen { Ink::Chosen } else { Ink::Ground },
                shape: if node.corner {
                    Shape::Square
                } else {
                    Shape::Round
                },
                radius: if exact { 4.0 } else { 5.0 } + grown + start,
                at,
            });
            if nodes.len() <= MOST_NUMBERED {
                let beside = at + Vector2::new(9.0, -8.0);
                self.label(Ink::Label, beside, (number + 1).to_string());
            }
        }
    }

    fn double_curves(&mut self) {
        let Some(finding) = self.board.known_finding() else {
            return;
        };
        for region in &finding.regions {
            for curve in &region.curves {
                let points = curve.iter().map(|contact| self.screen(contact.point));
                let points = points.collect();
                self.line(Ink::Fault, 2.5, points);
            }
        }
        let places: Vec<Point2<f64>> = if finding.regions.is_empty() {
            finding
                .judgement
                .worst()
                .iter()
                .map(|fault| fault.place.point)
                .collect()
        } else {
            finding
                .regions
                .iter()
                .map(|region| region.place.point)
                .collect()
        };
        for place in places {
            self.items.push(Item::Mark {
                ink: Ink::Fault,
                fill: Ink::Ground,
                shape: Shape::Diamond,
                radius: 8.0,
                at: self.screen(place),
            });
        }
    }

    fn sketch(&mut self) {
        let Some(sketch) = self.board.sketch() else {
            return;
        };
        if let Some(curve) = sketch.curve() {
            self.line(Ink::Active, 2.25, self.polyline(&curve));
        }
        if !sketch.stroke.is_empty() {
            let points = sketch.stroke.iter().map(|&p| self.screen(p)).collect();
            self.line(Ink::Active, 2.25, points);
        }
        for node in &sketch.nodes {
            let (x, y) = node.to_mm();
            self.items.push(Item::Mark {
                ink: Ink::Active,
                fill: Ink::Ground,
                shape: Shape::Round,
                radius: 5.0,
                at: self.screen(Point2::new(x, y)),
            });
        }
    }
}

/// How solid a stretch is painted: a passed limit is paler than a contact.
fn strength_of(kind: FaultKind) -> f64 {
    match kind {
        FaultKind::Twist | FaultKind::Crease => 0.14,
        FaultKind::Fold | FaultKind::Crossing | FaultKind::Axis => 0.34,
    }
}

/// The stretches along that a region touches: both strands of its double
/// curve, or its whole reach where it has none.
fn stretches_of(region: &Region) -> Vec<(f64, f64)> {
    if region.curves.is_empty() {
        return vec![region.along];
    }
    let contacts = || region.curves.iter().flatten();
    let reach = |pick: fn(&Contact) -> f64| {
        contacts()
            .map(pick)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), u| {
                (low.min(u), high.max(u))
            })
    };
    let (one, two) = (reach(|c| c.along), reach(|c| c.other_along));
    if one.0.max(two.0) <= one.1.min(two.1) {
        vec![(one.0.min(two.0), one.1.max(two.1))]
    } else {
        vec![one, two]
    }
}

/// The multiples of `step` from `low` to `high`.
fn multiples(low: f64, high: f64, step: f64) -> impl Iterator<Item = f64> {
    let (from, to) = ((low / step).ceil() as i64, (high / step).floor() as i64);
    (from..=to).map(move |i| i as f64 * step)
}

/// A grid label: as many decimals as the step needs.
fn number(value: f64, step: f64) -> String {
    let places = if 1.0 <= step {
        0
    } else if 0.1 <= step {
        1
    } else {
        2
    };
    format!("{value:.places$}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use loftkin_kernel::family::Family;
    use loftkin_kernel::profile::{Node, Profile};

    fn board() -> Board {
        let arch = |rise| {
            Profile::open(vec![
                Node::smooth(0, 0),
                Node::corner(2000, rise),
                Node::smooth(4000, 0),
            ])
        };
        let family = Family {
            profiles: vec![arch(1500), arch(2500), arch(3500)],
            ..Family::default()
        };
        Board::new(family).unwrap()
    }

    fn marks(items: &[Item], wanted: Shape) -> usize {
        let is = |item: &&Item| matches!(item, Item::Mark { shape, .. } if *shape == wanted);
        items.iter().filter(is).count()
    }

    #[test]
    fn only_the_active_profile_shows_its_nodes() {
        let mut board = board();
        let items = scene(&board);
        assert_eq!(marks(&items, Shape::Round), 2);
        assert_eq!(marks(&items, Shape::Square), 1);
        board.choose(1, false);
        let chosen = |item: &&Item| {
            matches!(
                item,
                Item::Mark {
                    fill: Ink::Chosen,
                    ..
                }
            )
        };
        assert_eq!(scene(&board).iter().filter(chosen).count(), 1);
    }

    #[test]
    fn the_chosen_pair_and_its_section_stand_out() {
        let mut board = board();
        board.choose_pair(1, 2).unwrap();
        let items = scene(&board);
        let lines = |wanted: Ink| {
            let is = |item: &&Item| matches!(item, Item::Line { ink, .. } if *ink == wanted);
            items.iter().filter(is).count()
        };
        // The first profile is active: its curve and its arrow.
        assert_eq!((lines(Ink::First), lines(Ink::Second)), (2, 1));
        assert_eq!((lines(Ink::Section), lines(Ink::Sibling)), (1, 1));
    }

    #[test]
    fn two_strands_are_two_stretches_and_a_fold_is_one() {
        let contact = |along, other_along| Contact {
            along,
            other_along,
            across: 0.5,
            point: Point2::origin(),
        };
        let region = |contacts| Region {
            kind: FaultKind::Crossing,
            across: (0.4, 0.6),
            along: (0.1, 0.9),
            curves: vec![contacts],
            place: loftkin_kernel::verdict::Place {
                along: 0.2,
                other_along: 0.8,
                across: 0.5,
                point: Point2::origin(),
            },
            angle: 30.0,
        };
        let crossing = region(vec![contact(0.1, 0.9), contact(0.3, 0.7)]);
        assert_eq!(stretches_of(&crossing), [(0.1, 0.3), (0.7, 0.9)]);
        let fold = region(vec![contact(0.3, 0.7), contact(0.5, 0.5)]);
        assert_eq!(stretches_of(&fold), [(0.3, 0.7)]);
    }

    #[test]
    fn labels_have_the_decimals_of_the_grid() {
        assert_eq!(number(20.0, 10.0), "20");
        assert_eq!(number(0.30000000000000004, 0.1), "0.3");
        let found: Vec<f64> = multiples(-1.2, 2.0, 0.5).collect();
        assert_eq!(found, [-1.0, -0.5, 0.0, 0.5, 1.0, 1.5, 2.0]);
    }
}
