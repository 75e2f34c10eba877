//! A piece as points for a picture: its skin, and its stations as lines.
//!
//! x runs to the right and y up the stack or along the axis of the ring, the
//! middle at the origin and the size about 1, as the picture of a pair has it.

use super::session::{SeriesFailure, SeriesSession};
use loftkin_form::piece::Piece;
use nalgebra::{Point3, Vector3};

/// How far beside a joint the skin is looked at, as a share of what lies between
/// two joints: the two sides of a corner face differently.
const BESIDE: f64 = 1e-9;

/// A skin as a grid of points.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Picture {
    /// x, y, z of each point, row by row across, in each row along.
    pub points: Vec<f32>,
    /// The direction that the skin faces at each point; zero at a singular one.
    pub facing: Vec<f32>,
    /// The fraction along of each point of a row; a joint stands twice.
    pub along: Vec<f64>,
    /// The fraction across of each row.
    pub across: Vec<f64>,
    /// The profiles at the stations, one line a station, each of as many points
    /// as a row.
    pub stations: Vec<f32>,
    /// The middle of the picture (x, y, z as it has them) and what is 1 in it, mm.
    pub frame: Vec<f64>,
}

/// A place where the skin is drawn, and the one beside it where it is looked at.
type Column = (f64, f64);

/// Where the skin of a piece is drawn: places along and across.
pub(super) struct Grid {
    along: Vec<Column>,
    across: Vec<Column>,
}

impl Grid {
    /// About `steps` places along and `rows` across.
    pub(super) fn new(piece: &Piece, steps: usize, rows: usize) -> Self {
        Self {
            along: places(piece.breaks_along(), steps),
            across: places(&piece.breaks_across(), rows),
        }
    }

    /// Where the skin is looked at for each point of a picture, in its order.
    pub(super) fn seen(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let row = |&(_, v): &Column| self.along.iter().map(move |&(_, u)| (u, v));
        self.across.iter().flat_map(row)
    }
}

impl SeriesSession {
    /// The skin of piece `number`, about `steps` by `rows` points.
    ///
    /// # Errors
    /// [`SeriesFailure`].
    pub fn picture(
        &self,
        number: &str,
        steps: usize,
        rows: usize,
    ) -> Result<Picture, SeriesFailure> {
        let piece = self.form(&self.number_in(number)?)?;
        Ok(picture(&piece, steps, rows))
    }
}

fn picture(piece: &Piece, steps: usize, rows: usize) -> Picture {
    let grid = Grid::new(piece, steps, rows);
    let columns = &grid.along;
    let mut picture = Picture {
        along: columns.iter().map(|&(at, _)| at).collect(),
        across: grid.across.iter().map(|&(at, _)| at).collect(),
        ..Picture::default()
    };
    let mut points = Vec::with_capacity(columns.len() * grid.across.len());
    for &(v, _) in &grid.across {
        points.extend(columns.iter().map(|&(u, _)| turned(piece.point(u, v))));
    }
    for (u, v) in grid.seen() {
        let cross = piece.patch(u, v).cross() * piece.outward();
        let facing = turned(cross.into()).coords.try_normalize(1e-9);
        picture.facing.extend(single(&facing.unwrap_or_default()));
    }
    let frame = Frame::of(&points);
    let line = |index: usize| {
        let at = piece.layout().stations().all()[index].at;
        let section = |&(u, _): &Column| piece.placed(index).point_mm(u);
        columns
            .iter()
            .map(move |column| turned(piece.in_space(section(column), at)))
            .collect::<Vec<_>>()
    };
    let count = piece.layout().stations().count();
    picture.stations = (0..count)
        .flat_map(line)
        .flat_map(|point| frame.place(&point))
        .collect();
    let middle = frame.middle;
    picture.frame = vec![middle.x, middle.y, middle.z, frame.size];
    picture.points = points.iter().flat_map(|point| frame.place(point)).collect();
    picture
}

/// From space as pieces stand in it, z up, to the picture's.
fn turned(point: Point3<f64>) -> Point3<f64> {
    Point3::new(point.x, point.z, -point.y)
}

fn single(vector: &Vector3<f64>) -> [f32; 3] {
    [vector.x as f32, vector.y as f32, vector.z as f32]
}

/// About `wanted` places over [0, 1], each joint twice.
fn places(breaks: &[f64], wanted: usize) -> Vec<Column> {
    let mut places = Vec::new();
    for ends in breaks.windows(2) {
        let (low, length) = (ends[0], ends[1] - ends[0]);
        let steps = ((wanted as f64 * length).ceil() as usize).max(2);
        places.extend((0..=steps).map(|step| {
            let share = step as f64 / steps as f64;
            let seen = share.clamp(BESIDE, 1.0 - BESIDE);
            (low + length * share, low + length * seen)
        }));
    }
    places
}

/// The middle of a picture, and what is 1 in it.
struct Frame {
    middle: Point3<f64>,
    size: f64,
}

impl Frame {
    fn of(points: &[Point3<f64>]) -> Self {
        let far = Vector3::repeat(f64::INFINITY);
        let (low, high) = points.iter().fold((far, -far), |(low, high), point| {
            (low.inf(&point.coords), high.sup(&point.coords))
        });
        Self {
            middle: ((low + high) / 2.0).into(),
            size: (high - low).max().max(1e-6),
        }
    }

    fn place(&self, point: &Point3<f64>) -> [f32; 3] {
        single(&((point - self.middle) / self.size))
    }
}
