//! Printed claims are true: random jobs, and an independent reading of their papers.
//!
//! Every claim of proposal, leaflet and mail is read from the printed words and figures, and held
//! against the results and the files that were given. Nothing here asks the program what it thinks.
//! The seed is fresh on every run and printed; `SLABLEAF_SEED` and `SLABLEAF_JOBS` repeat a run, and the
//! files of jobs that fail are kept.

mod dice;
mod evidence;
mod files;
mod job;
mod mended;
mod offer;
mod page_one;
mod papers;
mod reader;
mod said;
mod slab_page;
mod sums;
mod untruths;
mod ways;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::Mutex;

use papers::{Given, Papers};
use reader::Reader;

use crate::chance::{number, seed};

/// Reads the papers of a job: what is printed and not so, and how often each claim was held.
fn read(papers: &Papers) -> (Vec<String>, BTreeMap<&'static str, u32>) {
    let mut reader = Reader::new(papers);
    if papers.given.spanish {
        offer::options(&mut reader, &papers.page["glance"]["options"]);
    } else {
        page_one::read(&mut reader);
        mended::read(&mut reader);
        slab_page::read(&mut reader);
        said::read(&mut reader);
    }
    sums::read(&mut reader);
    ways::read(&mut reader);
    (reader.faults, reader.held)
}

/// The findings of a run over many jobs.
#[derive(Default)]
struct Found {
    read: u64,
    refused: BTreeMap<String, u32>,
    held: BTreeMap<&'static str, u32>,
    /// By claim: the first job that broke it, what it said, and how many did.
    faults: BTreeMap<String, (u64, String, u32)>,
}

impl Found {
    fn add(&mut self, seed: u64, papers: Result<Papers, String>) {
        let papers = match papers {
            Ok(papers) => papers,
            Err(why) => return *self.refused.entry(why).or_default() += 1,
        };
        self.read += 1;
        let (faults, held) = read(&papers);
        for (claim, count) in held {
            *self.held.entry(claim).or_default() += count;
        }
        for fault in faults {
            let claim = fault.split(": ").next().unwrap_or_default().to_owned();
            let known = self.faults.entry(claim);
            let first = known.or_insert_with(|| {
                keep(seed, &papers);
                (seed, fault, 0)
            });
            first.2 += 1;
        }
    }
}

/// Keeps the files of a job that fails, and what was printed, below the build's own folder.
fn keep(seed: u64, papers: &Papers) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("claims/{seed}"));
    fs::create_dir_all(&folder).expect("a folder");
    let given = &papers.given;
    let json = |value| serde_json::to_string_pretty(value).expect("text");
    let mut files = vec![
        ("job.toml".to_owned(), given.job.clone()),
        ("book.toml".to_owned(), given.book.clone()),
        ("shop.toml".to_owned(), given.shop.clone()),
        ("page.json".to_owned(), json(&papers.page)),
        ("leaflet.json".to_owned(), json(&papers.leaflet)),
        ("mail.json".to_owned(), json(&papers.mail)),
        ("results.json".to_owned(), json(&papers.form)),
    ];
    files.extend(given.systems.iter().map(|file| (file.name.clone(), file.text.clone())));
    for (name, text) in files {
        fs::write(folder.join(name), text).expect("a file");
    }
}

/// Claims that every run of many jobs has to come upon, so that none of them is held by never being read.
const COMMON: &[&str] = &[
    "reason clear",
    "reason near",
    "reason test",
    "reason maker",
    "reason only",
    "reason costs less",
    "reason sooner",
    "reason lasts longer",
    "reason against",
    "reason barrier",
    "close call",
    "what a floor hangs on is its own limit",
    "price lines sum to the total",
    "payments sum to the total",
    "films sum to their total",
    "areas sum as printed",
    "what is mended is what was found",
    "a floor waits for what is said",
    "so many of a hundred",
    "age of the last reading",
    "words at a limit",
    "the caption of a chart",
    "so many sheets",
    "we start only when it has changed",
    "too cold or too warm",
    "no coat holds a solvent",
    "tests that were done",
    "what it leaves to spare",
    "choices in the mail",
    "the leaflet counts the floors",
    "the leaflet says what waits",
];

/// The comparison and the leaf that is signed, alone: what is signed has to be right whatever else is not.
#[test]
fn ways_to_go_on_and_leaves_of_random_jobs_are_so() {
    let seed = seed();
    let jobs = number("SLABLEAF_JOBS").unwrap_or(300);
    let (mut faults, mut signed, mut compared) = (vec![], 0, 0);
    for at in 0..jobs {
        let Ok(papers) = Papers::of(Given::random(seed.wrapping_add(at))) else { continue };
        let mut reader = Reader::new(&papers);
        ways::read(&mut reader);
        signed += reader.held.get("payments of a floor sum to its price").copied().unwrap_or(0);
        compared += reader.held.get("the data sheet of a limit").copied().unwrap_or(0);
        faults.extend(
            reader.faults.iter().map(|fault| format!("{}: {fault}", seed.wrapping_add(at))),
        );
    }
    assert!(faults.is_empty(), "printed, and not so:\n{}", faults.join("\n"));
    assert!(jobs < 300 || (signed > 50 && compared > 50), "{signed} signed, {compared} compared");
}

#[test]
fn what_is_printed_of_random_jobs_is_so() {
    let seed = seed();
    let jobs =
        number("SLABLEAF_JOBS").unwrap_or(if cfg!(debug_assertions) { 1_000 } else { 5_000 });
    let found = Mutex::new(Found::default());
    let threads = std::thread::available_parallelism().map_or(1, usize::from) as u64;
    std::thread::scope(|scope| {
        for thread in 0..threads {
            let found = &found;
            scope.spawn(move || {
                for at in (thread..jobs).step_by(threads as usize) {
                    let seed = seed.wrapping_add(at);
                    let papers = Papers::of(Given::random(seed));
                    found.lock().expect("no panic").add(seed, papers);
                }
            });
        }
    });
    let found = found.into_inner().expect("no panic");
    println!("{} jobs read; refused: {:#?}; held: {:#?}", found.read, found.refused, found.held);
    assert!(found.read * 10 >= jobs * 7, "too few jobs can be read: {:#?}", found.refused);
    if jobs >= 4_000 {
        let missing: Vec<_> =
            COMMON.iter().filter(|claim| !found.held.contains_key(**claim)).collect();
        assert!(missing.is_empty(), "never came upon: {missing:?}");
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("claims");
    let line = |(seed, fault, times): &(u64, String, u32)| {
        format!("{times} x, SLABLEAF_SEED={seed} SLABLEAF_JOBS=1: {fault}\n")
    };
    let said: String = found.faults.values().map(line).collect();
    assert!(said.is_empty(), "printed, and not so (files in {}):\n{said}", folder.display());
}
