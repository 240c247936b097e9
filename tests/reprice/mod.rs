//! Changes of prices: many jobs below a folder held against another book, announced changes, and
//! edits of a book. Spreadsheets are read back by the crate `csv`.

mod changes;
mod jobs;
mod report;
mod writing;

use serde_json::Value;

use crate::fixture::{Folder, Ran};

const LETTER: &str =
    "\n[[change]]\nfrom = 2026-05-20\nsupplier = \"Invented Resins\"\npercent = \"+4.5 %\"\n";

/// The smallest example, which has no photos, under a number of its own.
fn job(number: &str) -> String {
    Folder::of("smallest").read("job.toml").replace("2026-0170", number)
}

/// A shop's folder with jobs below `jobs` and a dearer book `new.toml` beside the book.
fn shop(jobs: &[(&str, String)]) -> Folder {
    let folder = Folder::of("smallest");
    let dearer = folder.read("book.toml").replace("$276.00", "$290.00");
    let folder = folder.write("new.toml", dearer);
    jobs.iter().fold(folder, |folder, (path, text)| folder.write(&format!("jobs/{path}"), text))
}

/// One job in each state there is.
fn of_every_state() -> Folder {
    let accepted =
        job("A-2") + "\n[accepted]\nrevision = 1\nfloor = \"barrier\"\non = 2026-05-14\n";
    let expired = job("A-3")
        .replace("date = 2026-05-12", "date = 2026-04-12")
        .replace("measured = 2026-05-08", "measured = 2026-04-08");
    let stopped = Folder::of("too-wet-yet").read("job.toml").replace("2026-0158", "A-4");
    let stopped = stopped.split("[[photo]]").next().unwrap().to_owned();
    shop(&[
        ("a/job.toml", job("A-1")),
        ("b/job.toml", accepted),
        ("c/job.toml", expired),
        ("d/job.toml", stopped),
        ("e/job.toml", job("A-5").replace("units = \"us\"", "units = \"imperial\"")),
    ])
}

const ASK: [&str; 6] = ["reprice", "jobs", "--book", "new.toml", "--on", "2026-05-20"];

fn dry(folder: &Folder, more: &[&str]) -> Ran {
    folder.run(&[&ASK[..], &["--dry-run"], more].concat())
}

fn json(ran: &Ran) -> Value {
    serde_json::from_str(&ran.stdout()).unwrap()
}

fn cents(value: &Value) -> i64 {
    value.as_str().unwrap().replace('.', "").parse().unwrap()
}
