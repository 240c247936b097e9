//! Leaflet, care sheet and the sheet of bids: what they show is what the proposal shows, each keeps to its pages, and
//! neither says what the shop keeps to itself. Pages are read back through lopdf.

mod bids;
mod facts;
mod leaks;
mod pages;
mod runs;
mod truths;
mod what_if;
mod years;

use std::fs;

use serde_json::Value;

use crate::documents::{files, letters};
use crate::fixture::{EXAMPLES, Folder};
use crate::readers;

/// A written paper: its pages and its page data.
struct Small {
    pages: Vec<String>,
    page: Value,
    pdf: Vec<u8>,
}

#[track_caller]
fn written(folder: &Folder, more: &[&str]) -> Small {
    // A folder for each paper.
    let out = more[0];
    let common = ["write", "job.toml", "--out", out, "--page-data", "--paper"];
    folder.run(&[&common, more].concat()).success();
    let names = files(folder, out);
    let ending = |end: &str| {
        let mut found = names.iter().filter(|name| name.ends_with(end));
        let name = found.next().unwrap_or_else(|| panic!("no {end} among {names:?}"));
        assert_eq!(found.next(), None, "{names:?}");
        folder.path(out).join(name)
    };
    Small {
        pages: readers::pages(&ending(".pdf")),
        page: serde_json::from_slice(&fs::read(ending(".json")).unwrap()).unwrap(),
        pdf: fs::read(ending(".pdf")).unwrap(),
    }
}

fn leaflet(example: &str) -> Small {
    written(&Folder::of(example), &["leaflet"])
}

fn care(example: &str, floor: &str) -> Small {
    written(&Folder::of(example), &["care", "--floor", floor])
}

#[track_caller]
fn shows(paper: &Small, text: &str) {
    assert!(letters(&paper.pages.concat()).contains(&letters(text)), "no `{text}`");
}

fn all_examples() -> impl Iterator<Item = &'static str> {
    EXAMPLES.iter().copied().chain(["smallest"])
}
