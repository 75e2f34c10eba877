//! Whether a mesh meets itself: checked exactly, on the corners that files hold.
//!
//! The proof of a piece is about its surface. The triangles are another one: a
//! diagonal of a cell is a blend that the piece does not have, and a chord cuts
//! corners, so two walls that are nearer to each other than the chordal tolerance
//! may be meshed through each other. Hence every mesh is checked by itself, and
//! what passes is *embedded*:
//!
//! - no triangle is without area;
//! - two triangles have in common the corners and edges that they share by number,
//!   and nothing else; so no two corners are at one place;
//! - in a solid each edge is run once in both directions, so two triangles meet at
//!   it and all face outward or all inward. Of edges between cells this holds by
//!   their numbers; those of caps are counted.
//!
//! Corners are on a lattice (`solid::lattice`) that all formats hold without
//! rounding. So the check is of the mesh as it is written, and all its decisions
//! are exact: there is no tolerance in it, and a touch is a meeting.
//!
//! In reading order: [`exact`] (signs), [`patch`] (what is known of many cells at
//! once), [`search`] (the skin with itself), [`caps`].

mod caps;
mod exact;
mod patch;
mod search;

pub use caps::Cap;
pub use exact::Corners;
pub use patch::Skin;

use nalgebra::Point3;
use search::Search;

/// A place where the mesh of `skin` and `caps` meets itself, mm; none when it is
/// embedded.
pub fn place(skin: Skin, caps: &[Cap]) -> Option<Point3<f64>> {
    if !caps::close(caps, &skin) {
        let corner = caps[0].triangles.first().map_or(0, |triangle| triangle[0]);
        return Some(skin.corners.at(corner));
    }
    let mut search = Search::new(skin);
    let found = search.run().and_then(|()| {
        caps.iter().enumerate().try_for_each(|(index, cap)| {
            cap.is_even(&skin)?;
            cap.against_skin(&skin, &search)?;
            let others = &caps[index + 1..];
            others
                .iter()
                .try_for_each(|other| cap.against_cap(other, &skin))
        })
    });
    found.err().map(|meeting| caps::place(&skin, meeting))
}

#[cfg(test)]
mod tests;
