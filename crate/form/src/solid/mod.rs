//! The solid form of a piece: its faces for exchange formats and its mesh.
//!
//! In reading order: [`net`] (the piece as Bézier nets), [`spline`] (B-splines as
//! formats hold them), [`knots`], [`around`] and [`across`] (how nets become
//! B-splines, with bounds), [`body`] (faces, edges, corners), [`steps`] (how fine a mesh must be,
//! proved), [`mesh`] and [`cap`] (triangles), [`trim`] (where a sheet is trimmed,
//! in plan) and [`flat`] (skins laid flat, where that can be). Nothing here decides a verdict, and a
//! mesh is not covered by the proof of its piece: a quad's diagonal is a blend
//! that the piece does not have.

pub mod net;

pub mod spline;

pub mod knots;

pub mod around;

pub mod across;

pub mod body;

pub mod steps;

pub mod mesh;

pub mod cap;

pub mod trim;

pub mod flat;
