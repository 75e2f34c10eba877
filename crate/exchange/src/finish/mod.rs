//! The finish of a piece for people and sheets: its sentences, the words for its
//! colours, and the table for the bath. How it is worked out stands in
//! `loftkin_form::finish`.

pub mod table;
pub mod words;
