//! The flat ends of a mesh against its skin and against each other.

use super::Skin;
use super::patch::{Facts, parts};
use super::search::{Meeting, Search};
use nalgebra::{Point3, Vector3};

/// A flat end: triangles on the corners of one level.
#[derive(Clone, Copy, Debug)]
pub struct Cap<'a> {
    /// Its triangles.
    pub triangles: &'a [[u32; 3]],
    /// The level whose corners it fills.
    pub level: usize,
    /// The coordinate axis along which it was seen when it was filled.
    pub axis: usize,
}

impl Cap<'_> {
    /// Whether all its triangles turn one way as they are seen along its axis. With
    /// a rim that is seen as a simple polygon, which filling it made sure of, no two
    /// of them meet (the argument of [`Search`]'s windows).
    pub fn is_even(&self, skin: &Skin) -> Result<(), Meeting> {
        let turn = |&triangle: &[u32; 3]| skin.corners.normal(triangle)[self.axis];
        let run = self.triangles.first().map_or(0.0, turn);
        let odd = self.triangles.iter().find(|one| turn(one) * run <= 0.0);
        odd.map_or(Ok(()), |&one| Err([one, one]))
    }

    /// Looks at every pair of a triangle of the cap and one of the skin.
    pub fn against_skin(&self, skin: &Skin, search: &Search) -> Result<(), Meeting> {
        if self.has_skin_on_one_side(skin) {
            return Ok(());
        }
        self.triangles
            .iter()
            .try_for_each(|&triangle| search.against(triangle))
    }

    /// Whether the cap is square to its axis and all other corners of the skin are
    /// off its plane on one side: then the skin meets that plane in the rim alone,
    /// which is no part of the inside of the cap.
    fn has_skin_on_one_side(&self, skin: &Skin) -> bool {
        let columns = skin.grid.columns();
        let count = columns * skin.grid.levels();
        let rim = self.level * columns..(self.level + 1) * columns;
        let at = |corner: usize| skin.corners.at(corner as u32)[self.axis];
        let plane = at(rim.start);
        let mut others = (0..count).filter(|corner| !rim.contains(corner)).map(at);
        let is_flat = rim.clone().all(|corner| at(corner) == plane);
        let Some(first) = others.next() else {
            return false;
        };
        let above = plane < first;
        is_flat && first != plane && others.all(|value| (plane < value) == above && value != plane)
    }

    /// Looks at every pair of triangles of two caps.
    pub fn against_cap(&self, other: &Self, skin: &Skin) -> Result<(), Meeting> {
        let reach = |triangles: &[[u32; 3]]| {
            let mut facts = Facts::NONE;
            for corner in triangles.iter().flatten() {
                facts.reach(&parts(skin.corners.at(*corner).coords));
            }
            facts
        };
        let theirs = reach(other.triangles);
        if reach(self.triangles).are_apart(&theirs) {
            return Ok(());
        }
        for mine in self.triangles {
            let here = reach(&[*mine]);
            if here.are_apart(&theirs) {
                continue;
            }
            for their in other.triangles {
                if skin.corners.meet(*mine, *their) {
                    return Err([*mine, *their]);
                }
            }
        }
        Ok(())
    }
}

/// Whether each edge of the caps and of the skin's rims is run once in both
/// directions: all other edges of the skin are, by the numbering of its cells.
pub fn close(caps: &[Cap], skin: &Skin) -> bool {
    let edges = |[a, b, c]: [u32; 3]| [[a, b], [b, c], [c, a]];
    let columns = skin.grid.columns() as u32;
    caps.iter().all(|cap| {
        let rim = cap.level as u32 * columns..(cap.level as u32 + 1) * columns;
        let row = cap.level.min(skin.grid.cells_across - 1);
        let beside = (0..skin.grid.cells_along).flat_map(|column| skin.cell(column, row));
        let on_rim = beside
            .flat_map(edges)
            .filter(|edge| edge.iter().all(|corner| rim.contains(corner)));
        let inside = cap.triangles.iter().copied().flat_map(edges);
        let mut runs: Vec<[u32; 2]> = inside.chain(on_rim).collect();
        runs.sort_unstable();
        let is_single = runs.windows(2).all(|two| two[0] != two[1]);
        is_single
            && runs
                .iter()
                .all(|&[a, b]| runs.binary_search(&[b, a]).is_ok())
    })
}

/// The middle of what two triangles on `corners` both reach, mm.
pub fn place(corners: &[Point3<f64>], meeting: Meeting) -> Point3<f64> {
    let ends = meeting.map(|triangle| {
        let points = triangle.map(|corner| corners[corner as usize].coords);
        let low = points[0].inf(&points[1]).inf(&points[2]);
        let high = points[0].sup(&points[1]).sup(&points[2]);
        (low, high)
    });
    let low: Vector3<f64> = ends[0].0.sup(&ends[1].0);
    let high = ends[0].1.inf(&ends[1].1);
    ((low + high) * 0.5).into()
}
