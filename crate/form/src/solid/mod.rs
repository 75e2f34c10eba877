//! The solid form of a piece: its faces for exchange formats and its mesh.
//!
//! In reading order: [`net`] (the piece as Bézier nets), [`spline`] (B-splines as
//! formats hold them), [`knots`], [`around`] and [`across`] (how nets become
//! B-splines, with bounds), [`body`] (faces, edges, corners), [`deviation`] and [`steps`] (how
//! fine a mesh must be, proved), [`lattice`], [`grid`], [`cap`] and [`mesh`] (triangles),
//! [`contact`] (whether they meet), [`refining`] (finer where they do), [`trim`] (where a sheet is trimmed, in plan) and [`flat`]
//! (skins laid flat, where that can be).
//!
//! Nothing here decides a verdict. The proof of a piece does not cover its mesh: a
//! diagonal of a cell is a blend that the piece does not have. So a mesh is checked
//! by itself, exactly and on the very coordinates that files hold, before anyone
//! gets it; [`contact`] says what is shown of it. That the mesh is near the piece
//! is proved apart from that ([`deviation`]).

pub mod net;

pub mod spline;

pub mod knots;

pub mod around;

pub mod across;

pub mod body;

pub mod deviation;

pub mod steps;

pub mod lattice;

pub mod grid;

pub mod mesh;

mod contact;

mod refining;

pub mod cap;

pub mod trim;

pub mod flat;
