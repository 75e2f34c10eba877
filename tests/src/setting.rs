//! Sizes of seeded tests that a longer run sets by the environment.

/// The whole number that the variable `name` holds, or `usual` where it holds none.
pub fn setting(name: &str, usual: u64) -> u64 {
    std::env::var(name)
        .ok()
        .and_then(|value| value.parse().ok())
        .unwrap_or(usual)
}
