//! A piece as faces, edges and corners that exchange formats can hold: B-spline
//! skins, and flat caps where closed outlines end.
//!
//! Between two breaks of the outline (a *stretch*) and two breaks across (a *strip*)
//! stands one face with four edges, so that faces are smooth inside and no face
//! meets itself along a seam: a closed outline without corners is shown in two
//! stretches. A ruled blend breaks at every station. Neighbours share
//! their edges, so a closed body is closed by its structure.
//!
//! In a stack the faces are the piece itself but for rounding; in a ring they
//! stand within [`Body::deviation`] of it (see `solid::around` for why).

mod builder;

use super::net::Net;
use super::spline::{SplineCurve, SplineSurface};
use builder::Builder;
use nalgebra::{Point3, UnitVector3};

/// A tolerance for the skins of rings, in mm, that suits files: volumes and areas
/// keep to about a part in a billion, and a full turn takes a few dozen parts.
pub const FIT: f64 = 1e-6;

/// A curve on the boundary of faces.
#[derive(Clone, Debug, PartialEq)]
pub struct Edge {
    /// The corner where it starts.
    pub from: usize,
    /// The corner where it ends.
    pub to: usize,
    /// The curve between them.
    pub curve: SplineCurve,
}

/// An edge as a face uses it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Side {
    /// Which edge.
    pub edge: usize,
    /// Whether it is run from its start to its end.
    pub forward: bool,
}

/// What a face lies on.
#[derive(Clone, Debug, PartialEq)]
pub enum Surface {
    /// A skin.
    Spline(SplineSurface),
    /// A cap: the plane through a point, square to the normal.
    Plane {
        /// A point of the plane, mm.
        origin: Point3<f64>,
        /// The normal; the face looks along it.
        normal: UnitVector3<f64>,
        /// A direction in the plane.
        along: UnitVector3<f64>,
    },
}

/// A face with one boundary.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// What it lies on.
    pub surface: Surface,
    /// Whether the face looks along the surface's normal (S_u × S_v of a skin).
    pub same_sense: bool,
    /// Its boundary, counterclockwise for one who looks against the face.
    pub sides: Vec<Side>,
}

/// A piece by its boundary.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// The corners, mm.
    pub corners: Vec<Point3<f64>>,
    /// The edges.
    pub edges: Vec<Edge>,
    /// The faces; those of a solid look outward.
    pub faces: Vec<Face>,
    /// Whether the faces close a solid, or form an open surface.
    pub solid: bool,
    /// Whether the skins are fitted to the piece (a ring) or the piece itself but
    /// for rounding (a stack).
    pub fitted: bool,
    /// A proved bound on the distance between faces and piece, mm, without the
    /// rounding of single operations.
    pub deviation: f64,
}

impl Body {
    /// The body of `net`; in a ring, faces keep within `tolerance` mm of it.
    pub fn new(net: &Net, tolerance: f64) -> Self {
        Builder::new(net, tolerance).build()
    }
}
