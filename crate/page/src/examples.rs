//! The example families that come with the page: files of demo-curves.

/// One example.
pub struct Example {
    /// Its name in the list.
    pub name: &'static str,
    /// The family file.
    pub file: &'static str,
}

/// All examples, in the order of the list.
pub const EXAMPLES: [Example; 0] = [];
