//! Chance in tests: the seed of a run, and what laws are tried with.
//!
//! The seed is fresh on each run. A test that fails prints it, and `SLABLEAF_SEED=...` in front of
//! `cargo test` gives it back. An input on which a law failed is kept in `tests/regressions` and tried
//! first from then on.

use std::panic::Location;
use std::path::Path;
use std::sync::LazyLock;
use std::time::{SystemTime, UNIX_EPOCH};

use proptest::test_runner::{Config, FileFailurePersistence, RngSeed};

/// The seed of this run, printed among what a failing test has printed.
pub fn seed() -> u64 {
    static SEED: LazyLock<u64> = LazyLock::new(|| {
        number("SLABLEAF_SEED").unwrap_or_else(|| {
            SystemTime::now().duration_since(UNIX_EPOCH).expect("a clock").as_nanos() as u64
        })
    });
    println!("SLABLEAF_SEED={}", *SEED);
    *SEED
}

/// A whole number from the environment.
pub fn number(variable: &str) -> Option<u64> {
    std::env::var(variable).ok()?.parse().ok()
}

/// Tries a law on so many inputs.
#[track_caller]
pub fn tried(cases: u32) -> Config {
    let laws = Path::new(Location::caller().file()).with_extension("txt");
    let inside = laws.strip_prefix("tests").expect("a file of the tests");
    let failures = Path::new("tests/regressions").join(inside);
    let failures = failures.to_str().expect("plain names").to_owned().leak();
    Config {
        cases,
        rng_seed: RngSeed::Fixed(seed()),
        failure_persistence: Some(Box::new(FileFailurePersistence::Direct(failures))),
        ..Config::default()
    }
}
