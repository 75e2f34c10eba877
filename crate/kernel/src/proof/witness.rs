//! Witnesses: places where a blend of two curves certainly vanishes.
//!
//! Along a path in (u, w) the cross product of F_A and F_B is continuous. If
//! its signs at the two ends differ, beyond rounding, it vanishes between; if
//! their dot product is negative over the whole path, they are antiparallel
//! there and a blend of them is zero (intermediate value theorem). The dot
//! product of two vector polynomials is negative when those of all pairs of
//! their coefficients are. A path over several pieces is the chain of theirs;
//! across a corner the chain is bridged by the segments between its ends,
//! whose zeros are folds of the corner (see [`super::patch`]). One curve alone has
//! no such sign: see [`super::own_crossing`].

use super::bounds;
use super::net::Net;
use super::patch::Patch;
use super::piece::{Part, Piece, visit_pieces};
use super::prepared::{Ready, SAMPLES, sample_parameter};
use super::telling::{across, crossing_at, fold_at};
use crate::bezier;
use crate::curve::Curve;
use crate::verdict::Fault;
use nalgebra::{Point2, Vector2};

/// Where a bracket is cut: off the middle, for the same reason as a patch.
const CUT: f64 = 0.445_312_5;

/// Cuts of one bracket: each nearly halves it, so this reaches the rounding of
/// a parameter.
const MOST_CUTS: usize = 60;

/// What is compared at one place.
#[derive(Clone, Copy)]
struct Values {
    a: Vector2<f64>,
    b: Vector2<f64>,
}

impl Values {
    /// The sign of the cross product, 0 when rounding could change it.
    fn side(&self, errors: [f64; 2]) -> i8 {
        let cross = self.a.perp(&self.b);
        let error = error_of_product(self.a, self.b, errors);
        if error < cross {
            1
        } else if cross < -error {
            -1
        } else {
            0
        }
    }

    fn oppose(&self) -> bool {
        self.a.dot(&self.b) < 0.0
    }
}

/// Whether all dot products of `a` with `b` are negative beyond rounding.
fn all_oppose(a: &[Vector2<f64>], b: &[Vector2<f64>], errors: [f64; 2]) -> bool {
    a.iter()
        .all(|&a| b.iter().all(|&b| certainly_oppose(a, b, errors)))
}

fn certainly_oppose(a: Vector2<f64>, b: Vector2<f64>, errors: [f64; 2]) -> bool {
    a.dot(&b) < -error_of_product(a, b, errors)
}

/// Bound on the error of a dot or cross product of `a` and `b`, whose components
/// are off by `errors`: two products, each off by one factor, then the other.
pub fn error_of_product(a: Vector2<f64>, b: Vector2<f64>, errors: [f64; 2]) -> f64 {
    let (long_a, long_b) = (a.amax(), b.amax());
    4.0 * (long_a * errors[1] + long_b * errors[0] + errors[0] * errors[1])
        + bounds::PRODUCT * long_a * long_b
}

/// A certain zero in a patch.
#[derive(Clone, Copy, Debug)]
pub struct Zero {
    /// Where in the patch.
    pub x: f64,
    /// Where in the patch.
    pub y: f64,
    /// The fraction across of the vanishing blend.
    pub across: f64,
}

/// Looks for a zero on the four edges of `patch`.
pub fn on_edges(patch: &Patch, errors: [f64; 2]) -> Option<Zero> {
    const EDGES: [[usize; 4]; 4] = [
        [0, 1, 2, 3],
        [12, 13, 14, 15],
        [0, 4, 8, 12],
        [3, 7, 11, 15],
    ];
    let corner = |index: usize| Values {
        a: patch.nets[0].at(index),
        b: patch.nets[1].at(index),
    };
    for (number, edge) in EDGES.iter().enumerate() {
        // Such a zero is one at the side of the profile that was divided: the
        // next edge beside it shows where it comes from.
        if number == 0 && patch.uneven && patch.x.0 == 0.0 {
            continue;
        }
        let (from, to) = (corner(edge[0]), corner(edge[3]));
        let may_change = from.oppose() && to.oppose() && from.side(errors) * to.side(errors) < 0;
        if !may_change {
            continue;
        }
        let row = |net: &Net| edge.map(|index| net.at(index));
        if let Some((at, across)) = along_edge(row(&patch.nets[0]), row(&patch.nets[1]), errors) {
            let between = |(from, to): (f64, f64)| from + (to - from) * at;
            let (x, y) = match number {
                0 => (patch.x.0, between(patch.y)),
                1 => (patch.x.1, between(patch.y)),
                2 => (between(patch.x), patch.y.0),
                _ => (between(patch.x), patch.y.1),
            };
            return Some(Zero { x, y, across });
        }
    }
    None
}

/// The local parameter of a certain zero along one edge, and its fraction across.
fn along_edge(
    mut a: [Vector2<f64>; 4],
    mut b: [Vector2<f64>; 4],
    errors: [f64; 2],
) -> Option<(f64, f64)> {
    let (mut from, mut to) = (0.0, 1.0);
    let first_side = Values { a: a[0], b: b[0] }.side(errors);
    let mut proved = false;
    for _ in 0..MOST_CUTS {
        proved = proved || all_oppose(&a, &b, errors);
        let ((a_low, a_high), (b_low, b_high)) = (cut_edge(&a), cut_edge(&b));
        let middle = Values {
            a: a_high[0],
            b: b_high[0],
        };
        let at = from + (to - from) * CUT;
        match middle.side(errors) {
            0 => return proved.then(|| (at, across(middle.a, middle.b))),
            side if side == first_side => (a, b, from) = (a_high, b_high, at),
            _ => (a, b, to) = (a_low, b_low, at),
        }
        if !middle.oppose() && !proved {
            return None;
        }
    }
    proved.then(|| (f64::midpoint(from, to), across(a[0], b[0])))
}

fn cut_edge(p: &[Vector2<f64>; 4]) -> ([Vector2<f64>; 4], [Vector2<f64>; 4]) {
    bezier::parts(*p, |a, b| a + (b - a) * CUT)
}

/// What is compared along a bracket of u: the slopes (a fold) or the chords to
/// a fixed place (a crossing).
#[derive(Clone, Copy)]
enum Strand {
    Slopes,
    ChordsTo { anchors: [Point2<f64>; 2] },
}

impl Strand {
    fn values(self, curves: [&Curve; 2], u: f64) -> Values {
        match self {
            Self::Slopes => Values {
                a: curves[0].slope(u),
                b: curves[1].slope(u),
            },
            Self::ChordsTo { anchors } => Values {
                a: curves[0].point(u) - anchors[0],
                b: curves[1].point(u) - anchors[1],
            },
        }
    }

    /// Coefficients whose hull holds the values over a part.
    fn hull(self, part: &Part, side: usize) -> [Vector2<f64>; 4] {
        match self {
            Self::Slopes => [part.steps[0], part.steps[1], part.steps[1], part.steps[2]],
            Self::ChordsTo { anchors } => part.points.map(|point| point - anchors[side]),
        }
    }

    fn errors(self, piece: &Piece, sizes: [f64; 2]) -> [f64; 2] {
        match self {
            Self::Slopes => [0, 1].map(|side| bounds::PATCH * piece.parts[side].reach),
            Self::ChordsTo { .. } => sizes.map(|size| bounds::PATCH * size),
        }
    }
}

/// A certain zero over the bracket `from`..`to`, or none found.
fn in_bracket(
    strand: Strand,
    curves: [&Curve; 2],
    sizes: [f64; 2],
    mut from: f64,
    mut to: f64,
) -> Option<f64> {
    let sign = |u: f64| {
        let values = strand.values(curves, u);
        (values.a.perp(&values.b), values.oppose())
    };
    let (first, _) = sign(from);
    let mut proved = false;
    for cut in 0..MOST_CUTS {
        // Checking costs more than cutting, and a shorter chain passes sooner.
        if !proved && cut % 3 == 0 {
            proved = chain_changes_side(strand, curves, sizes, from, to);
        }
        let at = from + (to - from) * CUT;
        if at <= from || to <= at {
            break;
        }
        let (cross, opposed) = sign(at);
        if !proved && !opposed {
            return None;
        }
        if (cross < 0.0) == (first < 0.0) {
            from = at;
        } else {
            to = at;
        }
    }
    proved.then_some(f64::midpoint(from, to))
}

/// Whether the chain of pieces over `from`..`to` opposes throughout and its
/// ends lie on different sides.
fn chain_changes_side(
    strand: Strand,
    curves: [&Curve; 2],
    sizes: [f64; 2],
    from: f64,
    to: f64,
) -> bool {
    let mut first_side = None;
    let mut last_side = 0;
    let mut last: Option<(Values, [f64; 2])> = None;
    let opposed = visit_pieces(curves, from, to, |piece| {
        let a = strand.hull(&piece.parts[0], 0);
        let b = strand.hull(&piece.parts[1], 1);
        let errors = strand.errors(&piece, sizes);
        // Like ends are compared with their pieces; these are the other two.
        let bridged = last.is_none_or(|(last, its)| {
            certainly_oppose(last.a, b[0], [its[0], errors[1]])
                && certainly_oppose(a[0], last.b, [errors[0], its[1]])
        });
        first_side.get_or_insert(Values { a: a[0], b: b[0] }.side(errors));
        let end = Values { a: a[3], b: b[3] };
        last_side = end.side(errors);
        last = Some((end, errors));
        bridged && all_oppose(&a, &b, errors)
    });
    opposed && first_side.is_some_and(|first| first * last_side < 0)
}

/// A certain fold along the diagonal, found from the samples.
pub fn fold(pair: [&Ready; 2]) -> Option<Fault> {
    let curves = [&pair[0].curve, &pair[1].curve];
    let sizes = [pair[0].size, pair[1].size];
    let mut from = (0.0, slopes_at(curves, 0.0));
    for index in 0..=SAMPLES {
        let to = if index < SAMPLES {
            let values = Values {
                a: pair[0].slopes[index],
                b: pair[1].slopes[index],
            };
            (sample_parameter(index), values)
        } else {
            (1.0, slopes_at(curves, 1.0))
        };
        if changes(&from.1, &to.1)
            && let Some(u) = in_bracket(Strand::Slopes, curves, sizes, from.0, to.0)
        {
            return Some(fold_at(curves, u));
        }
        from = to;
    }
    None
}

fn slopes_at(curves: [&Curve; 2], u: f64) -> Values {
    Strand::Slopes.values(curves, u)
}

fn changes(from: &Values, to: &Values) -> bool {
    from.oppose() && to.oppose() && (from.a.perp(&from.b) < 0.0) != (to.a.perp(&to.b) < 0.0)
}

/// A certain crossing, found from the samples.
pub fn crossing(pair: [&Ready; 2]) -> Option<Fault> {
    let chords = |i: usize, j: usize| Values {
        a: pair[0].points[i] - pair[0].points[j],
        b: pair[1].points[i] - pair[1].points[j],
    };
    for j in 2..SAMPLES {
        let mut before = chords(0, j);
        for i in 1..j {
            let here = chords(i, j);
            if changes(&before, &here)
                && let Some(fault) = crossing_in(pair, j, i - 1)
            {
                return Some(fault);
            }
            if i + 1 < j {
                let nearer = chords(i, j - 1);
                if changes(&nearer, &here)
                    && let Some(fault) = crossing_in(pair, i, j - 1)
                {
                    return Some(fault);
                }
            }
            before = here;
        }
    }
    None
}

/// A certain zero of the chords from sample `anchor` to a place between sample
/// `from` and the next.
fn crossing_in(pair: [&Ready; 2], anchor: usize, from: usize) -> Option<Fault> {
    let curves = [&pair[0].curve, &pair[1].curve];
    let sizes = [pair[0].size, pair[1].size];
    let anchors = [pair[0].points[anchor], pair[1].points[anchor]];
    let bracket = (sample_parameter(from), sample_parameter(from + 1));
    let u = in_bracket(
        Strand::ChordsTo { anchors },
        curves,
        sizes,
        bracket.0,
        bracket.1,
    )?;
    let w = sample_parameter(anchor);
    Some(crossing_at(curves, u.min(w), u.max(w)))
}
