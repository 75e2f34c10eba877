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

pub use caps::{Cap, place};
pub use exact::Corners;
pub use patch::Skin;
pub use search::Meeting;

use search::Search;

/// Where the mesh of `skin` and `caps` meets itself: none when it is embedded, else
/// some of its meetings.
pub fn meetings(skin: Skin, caps: &[Cap]) -> Vec<Meeting> {
    if !caps::close(caps, &skin) {
        let all = caps.iter().flat_map(|cap| cap.triangles);
        return all.map(|&triangle| [triangle, triangle]).collect();
    }
    let mut search = Search::new(skin);
    let mut found = search.run();
    for (index, cap) in caps.iter().enumerate() {
        found.extend(cap.is_even(&skin).err());
        found.extend(cap.against_skin(&skin, &search).err());
        let others = &caps[index + 1..];
        found.extend(
            others
                .iter()
                .filter_map(|other| cap.against_cap(other, &skin).err()),
        );
    }
    found
}

#[cfg(test)]
mod tests;
