//! The document that a person edits: its history, the edits of its profiles,
//! and what lies under a pointer.
//!
//! Nothing here paints, reads a file or knows the web. [`document`] holds the
//! state and its undo history, [`edit`] has the changes as functions from a
//! profile to a profile, and [`hit`] and [`grip`] tell what a point of the
//! screen, seen through a [`view`], belongs to.
//!
//! ```
//! use loftkin_editor::document::Document;
//! use loftkin_editor::identity::Rearrangement;
//! use loftkin_kernel::family::Family;
//! use loftkin_kernel::profile::{Node, Profile};
//!
//! let mut document = Document::new(Family::default())?;
//! let line = Profile::open(vec![Node::smooth(0, 0), Node::smooth(4000, 9000)]);
//! let family = Family {
//!     profiles: vec![line],
//!     ..Family::default()
//! };
//! document.rearrange(family, Rearrangement::Added { at: 0, count: 1 })?;
//! document.record("Draw profile 1");
//! assert_eq!(document.undo().as_deref(), Some("Draw profile 1"));
//! assert!(document.family().profiles.is_empty());
//! # Ok::<(), loftkin_kernel::family::FamilyError>(())
//! ```

#![forbid(unsafe_code)]

pub mod document;
pub mod history;
pub mod identity;

pub mod edit;
pub mod fit;

pub mod grip;
pub mod hit;
pub mod view;
