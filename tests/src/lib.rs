//! What the outside tests share: an oracle that judges lofts by dense sections
//! along its own code path, exact integers for polylines, curves with closed
//! forms, and seeded generators aimed at trouble.
//!
//! Nothing here takes part in a verdict of the kernel. The oracle draws its own
//! spline, paces it itself and cuts it itself; of the kernel it reads only the
//! drawn profile (nodes, handles, corner flags).

#![forbid(unsafe_code)]

pub mod random;

pub mod shapes;

pub mod oracle;

pub mod generate;

pub mod families;

pub mod compare;

pub mod series;

pub mod polyline;

pub mod report;

pub mod setting;
