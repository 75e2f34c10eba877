//! The task runner behind the cargo aliases: picks one task by name and runs it.

fn main() {}
