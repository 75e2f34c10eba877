//! What a search tells a recorder: each box that it excludes, and the reason.
//!
//! The search is generic over its recorder. With `()` it tells nobody and costs
//! nothing; with [`super::trace::Trace`] what it tells is the certificate.

use super::boxes::Task;
use nalgebra::Vector2;

/// Why a box of a chart is excluded; the tests are those of [`super::exclude`]
/// and [`super::sheaf`]. Only the directions count, not their lengths.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// All coefficients of all nets have a positive product with it.
    HalfPlane(Vector2<f64>),
    /// One direction a curve, in their order.
    Pencil(Vec<Vector2<f64>>),
    /// All coefficients of conj(F_A) F_B have a positive product with it, and
    /// its abscissa is not negative.
    Product(Vector2<f64>),
}

/// Whom a search tells of its boxes.
pub trait Recorder {
    /// A box of the tree is excluded; `towards` works out the direction.
    fn excluded(&mut self, task: Task, towards: impl FnOnce() -> Vector2<f64>);
    /// The charts of a box follow, each as its parts in preorder, the lower
    /// part first.
    fn opens(&mut self, task: Task);
    /// A part of a chart is excluded.
    fn free(&mut self, reason: impl FnOnce() -> Reason);
    /// A part of a chart is cut along x or along y.
    fn cut(&mut self, along_x: bool);
    /// A part of a chart is excluded by its corner blown up, whose own parts
    /// `tell` tells in the same way.
    fn corner(&mut self, tell: impl FnOnce(&mut Self));
}

impl Recorder for () {
    #[inline(always)]
    fn excluded(&mut self, _task: Task, _towards: impl FnOnce() -> Vector2<f64>) {}
    #[inline(always)]
    fn opens(&mut self, _task: Task) {}
    #[inline(always)]
    fn free(&mut self, _reason: impl FnOnce() -> Reason) {}
    #[inline(always)]
    fn cut(&mut self, _along_x: bool) {}
    #[inline(always)]
    fn corner(&mut self, _tell: impl FnOnce(&mut Self)) {}
}
