//! From a family to pieces: which profiles stand where, and the form that
//! results.
//!
//! What a piece is and how many there are stands in `series`; its skins, solids
//! and measures in `solid`. Nothing here decides a verdict: that is the kernel's.
//! No input or output, no web, no wire format.

#![forbid(unsafe_code)]
