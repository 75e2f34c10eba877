//! The finish of a piece for people and sheets: its sentences, the words for its
//! colours, the table for the bath, and the films that come near a wished colour. How
//! it is worked out stands in `loftkin_form::finish`.

pub mod colours;
pub mod table;
pub mod wished;
pub mod words;
