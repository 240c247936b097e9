//! Text, numbers and pictures made to do harm: they end as letters on a page or as a message.

mod bench;
mod bounds;
mod numbers;
mod output;
mod photos;
mod pictures;
mod shapes;
mod signs;
mod spaces;
mod strings;
mod structure;
mod sweep;
mod texts;
mod typed;

use crate::fixture::{Folder, Ran};

const DRAFT: &str = "papers/2026-0151-proposal-draft.pdf";

/// The dry job: all four floors are on offer, so that every part of the paper has something to say.
fn folder() -> Folder {
    Folder::of("dry-and-quick")
}

fn write_draft(folder: &Folder) -> Ran {
    folder.run(&["write", "--draft", "job.toml"])
}

/// No white space at all: a page breaks lines where it likes, also within a long word.
fn letters(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Replaces the value of a key at its nth place in a file, counted from 0.
#[track_caller]
fn set(folder: Folder, file: &str, key: &str, nth: usize, value: &str) -> Folder {
    let text = folder.read(file);
    let lead = format!("{key} = ");
    let starts = |(at, _): &(usize, &str)| *at == 0 || text.as_bytes()[at - 1] == b'\n';
    let Some((at, _)) = text.match_indices(&lead).filter(starts).nth(nth) else {
        panic!("no `{key}` number {nth} in {file}");
    };
    let end = at + text[at..].find('\n').unwrap();
    let changed = format!("{}{lead}{value}{}", &text[..at], &text[end..]);
    folder.write(file, changed)
}

/// A run that ended by itself: no panic, no fault of ours, no signal.
#[track_caller]
fn ends_well(ran: Ran) -> Ran {
    let errors = ran.stderr();
    assert!(!errors.contains("panicked"), "{errors}");
    assert!(!errors.contains("a fault in slableaf"), "{errors}");
    ran
}
