//! How long verdicts take: the cases, their goals, and one way of timing them for native code and WebAssembly.
//!
//! Criterion (benches/verdicts.rs) compares one state of the code with another; what is here compares native code
//! with WebAssembly and both with their goals. Every case first proves that its answer is right.

pub mod cases;

pub mod chance;

pub mod clock;

pub mod families;

pub mod faulty;

pub mod least;
pub mod mending;
pub mod other_kinds;

pub mod runs;

pub mod slow_search;
pub mod thin;

#[cfg(target_arch = "wasm32")]
pub mod wasm;
