//! An issued paper is recorded, stays as it is, and comes through whatever ends a run early.

mod accepted;
mod at_once;
mod chain;
mod cut_short;
pub mod disks;
mod kept_once;
mod prepared;
mod recorded;
mod revisions;
mod verify;

use std::fs::{self};
use std::path::Path;

use crate::fixture::Folder;
use crate::readers;

const WRITE: &[&str] = &["write", "job.toml"];
const VERIFY: &[&str] = &["verify", "job.toml"];
const NUMBER: &str = "2026-0170";

/// A small job: no photo, so that it is typeset in no time.
fn small() -> Folder {
    Folder::tested()
}

fn wage(folder: Folder, wage: u32) -> Folder {
    let book = folder.read("book.toml");
    let line = book.lines().find(|line| line.starts_with("wage = ")).unwrap().to_owned();
    let wage = 1200.0 / f64::from(wage);
    let book = book.replacen(&line, &format!("wage = \"${wage:.2}/h\""), 1);
    folder.write("book.toml", book)
}

fn paper(revision: u32) -> String {
    format!("papers/{NUMBER}-proposal-r{revision}.pdf")
}

fn record(revision: u32) -> String {
    format!("records/{NUMBER}-proposal-r{revision}")
}

/// The revisions that are recorded, and every other name in the folder but the lock.
fn recorded(folder: &Path) -> Vec<String> {
    let Ok(entries) = fs::read_dir(folder.join("records")) else { return vec![] };
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names.filter(|name| !name.ends_with(".lock")).collect();
    names.sort();
    names
}

fn page_one(folder: &Folder, revision: u32) -> String {
    let text = readers::pages(&folder.path(&paper(revision))).remove(0);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Changes the file of a record and seals it again, as whoever may write there can.
fn sealed_anew(folder: Folder, record: &str, change: impl Fn(&str) -> String) -> Folder {
    let path = format!("{record}/record.toml");
    let text = folder.read(&path);
    let (body, _) = text.split_once("\n[seal]").unwrap();
    let changed = change(body);
    assert_ne!(changed, body);
    folder.write(&path, slableaf::issued::sealed(&changed))
}
