//! The native command `loftkin`. (Being built.)

fn main() {}
