//! What is printed is so: random jobs, and an independent reading of their papers.
//!
//! Every claim of proposal, leaflet and mail is read from the printed words and figures, and held
//! against the results and the files that were given. Nothing here asks the program what it thinks.
//! The seed is fresh on every run and printed; `CLAIMS_SEED` and `CLAIMS_JOBS` repeat a run, and the
//! files of a job that fails are kept.

mod dice;
mod files;
mod job;
mod papers;

use std::collections::BTreeMap;
use std::time::{SystemTime, UNIX_EPOCH};

use papers::{Given, Papers};

fn number(name: &str) -> Option<u64> {
    std::env::var(name).ok()?.parse().ok()
}

#[test]
fn random_jobs_are_jobs() {
    let now = SystemTime::now().duration_since(UNIX_EPOCH).expect("a clock").as_nanos() as u64;
    let seed = number("CLAIMS_SEED").unwrap_or(now);
    let jobs = number("CLAIMS_JOBS").unwrap_or(if cfg!(debug_assertions) { 150 } else { 5_000 });
    println!("CLAIMS_SEED={seed} CLAIMS_JOBS={jobs}");
    let mut kinds: BTreeMap<String, u32> = BTreeMap::new();
    let mut refused: BTreeMap<String, u32> = BTreeMap::new();
    for at in 0..jobs {
        match Papers::of(Given::random(seed.wrapping_add(at))) {
            Ok(papers) => *kinds.entry(papers.form["headline"].to_string()).or_default() += 1,
            Err(why) => *refused.entry(why).or_default() += 1,
        }
    }
    println!("{kinds:#?} {refused:#?}");
    assert!(kinds.values().sum::<u32>() as u64 * 10 >= jobs * 9);
}
