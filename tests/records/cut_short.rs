//! Runs that were cut short.

use super::at_once::start;
use super::{NUMBER, VERIFY, WRITE, paper, record, recorded, small, wage};
use crate::fixture::{Folder, all_files};
use std::collections::BTreeMap;
use std::fs::{self};
use std::path::PathBuf;
use std::thread::sleep;
use std::time::Duration;

/// After whatever happened: what is recorded is whole, and the next run makes it good.
#[track_caller]
pub fn comes_good(folder: &Folder, before: &BTreeMap<PathBuf, Vec<u8>>) {
    for name in recorded(&folder.path(".")).iter().filter(|name| !name.starts_with('.')) {
        assert!(name.starts_with(NUMBER), "{name}");
        let path = format!("records/{name}");
        folder.run(&["verify", &path]).success();
    }
    folder.run(WRITE).success();
    for (path, bytes) in before {
        assert!(fs::read(path).unwrap() == *bytes, "{} was changed", path.display());
    }
    let left: Vec<String> =
        recorded(&folder.path(".")).into_iter().filter(|name| name.starts_with('.')).collect();
    assert!(left.is_empty(), "{left:?}");
    let papers = crate::documents::files(folder, "papers");
    assert!(papers.iter().all(|name| name.ends_with(".pdf")), "{papers:?}");
    folder.run(VERIFY).success();
    folder.run(WRITE).success().out_has("unchanged: ");
}

#[test]
fn twenty_kills_at_growing_delays_leave_the_old_record_or_the_new_one() {
    let folder = small();
    folder.run(WRITE).success();
    let before = all_files(&folder.path(&record(1)));
    let mut cut = 0;
    let mut folder = folder;
    for point in 0..20_u64 {
        folder = wage(folder, 40 + u32::try_from(point).unwrap());
        let known = recorded(&folder.path(".")).len();
        let mut child = start(&folder, WRITE);
        sleep(Duration::from_millis(3 + point * 14));
        child.kill().unwrap();
        cut += usize::from(!child.wait().unwrap().success());
        let now = recorded(&folder.path("."));
        let whole = now.iter().filter(|name| !name.starts_with('.')).count();
        assert!(whole == known || whole == known + 1, "{now:?}");
        folder.run(WRITE).success();
    }
    assert!(cut >= 5, "only {cut} runs were cut short");
    comes_good(&folder, &before);
}

/// Every state that a run can be cut short in, built by hand: each prefix of what it writes, with the
/// last file whole, half or empty; then the record without its copy; then half a copy.
#[test]
fn every_prefix_of_the_file_operations_comes_good() {
    let done = wage(small(), 41);
    done.run(WRITE).success();
    let staged = done.path(&record(1));
    let files = all_files(&staged);
    let mut states: Vec<Vec<(PathBuf, Vec<u8>)>> = vec![vec![]];
    for at in 0..files.len() {
        let mut state: Vec<(PathBuf, Vec<u8>)> = vec![];
        for (path, bytes) in files.iter().take(at + 1) {
            state.push((path.strip_prefix(&staged).unwrap().to_owned(), bytes.clone()));
        }
        let mut torn = state.clone();
        let half = torn[at].1.len() / 2;
        torn[at].1.truncate(half);
        states.extend([torn, state]);
    }
    let folder = small();
    folder.run(WRITE).success();
    let before = all_files(&folder.path(&record(1)));
    let folder = wage(folder, 41);
    let unfinished = folder.path(&format!("records/.slableaf-{NUMBER}.tmp"));
    // One record suffices: what is left behind is cleared away before anything is looked at.
    folder.run(WRITE).success();
    for state in states {
        fs::create_dir(&unfinished).unwrap();
        for (path, bytes) in state {
            let path = unfinished.join(path);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, bytes).unwrap();
        }
        folder.run(WRITE).success().out_has("unchanged: ");
        assert!(!unfinished.exists());
    }
    // Renamed, and not yet copied; then with half a copy under its temporary name.
    let copy = folder.bytes(&paper(2));
    for half in [false, true] {
        fs::remove_file(folder.path(&paper(2))).unwrap();
        if half {
            let name = format!("papers/.slableaf-{NUMBER}-proposal-r2.pdf-Ab12Cd.tmp");
            fs::write(folder.path(&name), &copy[..copy.len() / 2]).unwrap();
        }
        comes_good(&folder, &before);
        assert!(folder.bytes(&paper(2)) == copy);
    }
}
