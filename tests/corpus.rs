//! Inputs found by fuzzing: each in `fuzz/corpus` goes through the target of its name again, by the
//! same functions as there.

use std::fs;
use std::panic::catch_unwind;

use crate::fixture::root;

#[path = "../fuzz/src/targets/mod.rs"]
mod targets;

/// Runs every input of a target; at least `through` of them come all the way through, so that the
/// corpus does not only hold what is refused.
#[track_caller]
fn replay(name: &str, through: usize, target: fn(&[u8]) -> bool) {
    let folder = root().join("fuzz/corpus").join(name);
    let mut paths: Vec<_> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let mut came = 0;
    for path in &paths {
        let data = fs::read(path).unwrap();
        match catch_unwind(|| target(&data)) {
            Ok(true) => {
                println!("{} comes through", path.display());
                came += 1;
            }
            Ok(false) => {}
            Err(_) => panic!("{} does not do", path.display()),
        }
    }
    assert!(came >= through, "{came} of {} inputs come through", paths.len());
}

#[test]
fn jobs() {
    replay("job", 8, targets::job);
}

#[test]
fn books() {
    replay("book", 10, targets::book);
}

#[test]
fn records() {
    replay("record", 3, targets::record);
}

#[test]
fn values() {
    replay("lengths_and_quantities", 30, targets::lengths_and_quantities);
}

#[test]
fn word_files() {
    replay("wording", 3, targets::wording);
}

#[test]
fn mails() {
    replay("mail", 10, targets::mail);
}

#[test]
fn pages() {
    replay("page", 10, targets::page);
}
