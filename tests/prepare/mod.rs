//! The crew's papers: crew sheet, buying list, calendars. Calendars are read back by the crate
//! `icalendar`, tables by the crate `csv`, pages by `lopdf`; none of them had a part in writing.

mod buying;
mod crew_sheet;
mod days;
mod folders;
mod spaces;

use std::path::PathBuf;

use crate::documents::files;
use crate::fixture::Folder;
use crate::readers;

/// Liters of a US fluid ounce; 32 of them are a quart. NIST Handbook 44 (2024), appendix C.
const FLUID_OUNCE: f64 = 0.029_573_529_562_5;

fn arguments(floor: &str) -> [&str; 8] {
    ["prepare", "job.toml", "--floor", floor, "--out", "shop", "--papers", "papers"]
}

/// Prepares a floor into the folders `shop` and `papers`.
#[track_caller]
fn prepared(folder: Folder, floor: &str) -> Folder {
    folder.run(&arguments(floor)).success();
    folder
}

/// The one file of a folder that has this in its name.
#[track_caller]
fn named(folder: &Folder, within: &str, part: &str) -> PathBuf {
    let names = files(folder, within);
    let mut found = names.iter().filter(|name| name.contains(part));
    let name = found.next().unwrap_or_else(|| panic!("no {part} among {names:?}"));
    assert_eq!(found.next(), None, "{part} among {names:?}");
    folder.path(within).join(name)
}

/// A text without any white space: a page breaks lines where it likes.
fn letters(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

#[track_caller]
fn shows(page: &str, text: &str) {
    assert!(letters(page).contains(&letters(text)), "no `{text}` in\n{page}");
}

#[track_caller]
fn shows_not(page: &str, text: &str) {
    assert!(!letters(page).contains(&letters(text)), "`{text}` in\n{page}");
}

fn sheet(folder: &Folder) -> Vec<String> {
    readers::pages(&named(folder, "shop", "crew-sheet-r1.pdf"))
}

fn estimate(folder: &Folder, floor: &str) -> serde_json::Value {
    let ran = folder.run(&["estimate", "job.toml", "--format", "json"]);
    let all: serde_json::Value = serde_json::from_str(&ran.stdout()).unwrap();
    let floors = all["floors"].as_array().unwrap();
    floors.iter().find(|of| of["floor"] == floor).unwrap().clone()
}
