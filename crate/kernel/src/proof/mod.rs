//! The proof that a loft is free of faults, or a witness that it is not.
//!
//! At height v the section of a loft is C_v = (1-v) A + v B. The surface is
//! free of self-contact exactly when every C_v is simple, that is, when no
//! blend of F_A and F_B vanishes, F being the difference of two places of a
//! curve over their distance along it. For some v the blend vanishes exactly
//! when F_A and F_B are antiparallel, so v needs no search of its own.
//!
//! In reading order: [`bounds`] (all tolerances), [`cone`] and [`spread`]
//! (bounds of directions and of places), [`piece`] (exact cutting),
//! [`prepared`] (what is kept of a profile), [`stretch`] (the tree of a pair),
//! [`boxes`] (how the square of places is divided),
//! [`net`], [`patch`] and [`exclude`] (polynomials and the tests on them),
//! [`witness`], [`own_crossing`] and [`exact`] (certain zeros), [`telling`] (what is said of
//! them), [`search`], [`folds`], [`turn`] with [`twist`] and [`crease`],
//! [`axis`],
//! and [`judge`], which puts a judgement together. [`bundle`], [`sheaf`],
//! [`surround`] and [`any_blend`] ask the same of all blends of many curves. Both
//! searches tell a [`recorder`] of every box; its [`trace`] is the certificate.
//!
//! A clear verdict covers parallel planes (or half-planes of a ring), rulings
//! at equal parameters and the smooth surface; a triangulated export needs a
//! check of its own, for its diagonals are blends that no ruling has.

pub(crate) mod any_blend;
mod axis;
pub(crate) mod bounds;
pub(crate) mod boxes;
mod bundle;
pub(crate) mod cone;
mod crease;
mod exact;
pub(crate) mod exclude;
pub(crate) mod extremes;
pub(crate) mod folds;
mod judge;
pub(crate) mod net;
mod own_crossing;
pub(crate) mod patch;
pub(crate) mod piece;
mod prepared;
pub(crate) mod recorder;
pub(crate) mod search;
mod sheaf;
pub(crate) mod spread;
mod stretch;
mod surround;
pub(crate) mod telling;
pub(crate) mod trace;
pub(crate) mod turn;
mod twist;
pub(crate) mod witness;

pub(crate) use judge::{is_clear_pair, judge_pair, judge_profile};
pub use prepared::Prepared;
pub(crate) use prepared::Ready;
pub(crate) use search::Memory;
