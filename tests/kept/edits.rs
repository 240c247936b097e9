//! Edits of a book in its place: several at once, cut short, on a full disk.

use std::fs;
use std::process::{Child, Command, Stdio};

use crate::fixture::Folder;
use crate::records::disks::Mounted;

fn change(folder: &Folder, percent: &str) -> Child {
    Command::new(env!("CARGO_BIN_EXE_slableaf"))
        .args(["book", "change", "book.toml", "--from", "2027-01-01", "--in-place", "--percent"])
        .arg(percent)
        .current_dir(folder.path("."))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

/// Names in the folder of the book that are none of the user's.
fn strangers(folder: &Folder) -> Vec<String> {
    let entries = fs::read_dir(folder.path(".")).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names.filter(|name| name.starts_with('.')).collect()
}

#[test]
fn eight_changes_at_once_all_stand_in_the_book() {
    let folder = Folder::of("smallest");
    let percents: Vec<String> = (1..=8).map(|n| format!("+{n}.25 %")).collect();
    let runs: Vec<Child> = percents.iter().map(|percent| change(&folder, percent)).collect();
    for mut run in runs {
        assert!(run.wait().unwrap().success());
    }
    let book = folder.read("book.toml");
    for percent in &percents {
        assert_eq!(book.matches(&format!("\"{percent}\"")).count(), 1, "{percent}\n{book}");
    }
    assert_eq!(strangers(&folder), [""; 0]);
}

/// A killed run leaves at most its unfinished file, and the next run takes it away.
#[test]
fn what_a_killed_change_left_is_swept() {
    let folder = Folder::of("smallest").write(".slableaf-book.toml-Ab12Cd.tmp", "half a bo");
    let other = ".slableaf-job.toml-Ab12Cd.tmp";
    let folder = folder.write(other, "of a run that may be at work");
    assert!(change(&folder, "+1 %").wait().unwrap().success());
    assert_eq!(strangers(&folder), [other]);
    for wait in [1, 3, 6, 10, 15, 25] {
        let mut run = change(&folder, "+2 %");
        std::thread::sleep(std::time::Duration::from_millis(wait));
        run.kill().unwrap();
        run.wait().unwrap();
        // The book is whole, before or after.
        folder.run(&["check", "job.toml"]).code(1);
    }
    assert!(change(&folder, "+3 %").wait().unwrap().success());
    assert_eq!(strangers(&folder), [other]);
}

/// A draft that was cut short long ago is swept when its paper is written again; a fresh one may be
/// that of a run at work.
#[test]
fn an_old_unfinished_draft_is_swept() {
    let folder = Folder::tested();
    folder.run(&["write", "job.toml", "--draft"]).success();
    let unfinished =
        |name: &str| format!("papers/.slableaf-2026-0170-proposal-draft.pdf-{name}.tmp");
    let folder = folder.write(&unfinished("old"), "half").write(&unfinished("new"), "half");
    let old = fs::File::options().write(true).open(folder.path(&unfinished("old"))).unwrap();
    let hours = std::time::Duration::from_secs(2 * 3600);
    old.set_modified(std::time::SystemTime::now() - hours).unwrap();
    folder.run(&["write", "job.toml", "--draft"]).success();
    assert!(!folder.path(&unfinished("old")).exists());
    assert!(folder.path(&unfinished("new")).exists());
}

#[test]
fn a_full_disk_names_the_file_that_was_wanted() {
    let folder = Folder::tested();
    if let Some(_disk) = Mounted::new(folder.path("disk"), "8k") {
        folder.run(&["write", "job.toml", "--draft", "--out", "disk"]).code(5).err_has(
            "cannot write disk/2026-0170-proposal-draft.pdf: No space left on device (os error 28)\n",
        );
    }
    // Much the same where no file system can be mounted: the most bytes that a file may have.
    let run = "trap '' XFSZ; ulimit -f 4; exec \"$0\" write job.toml --draft";
    let output = Command::new("sh")
        .args(["-c", run, env!("CARGO_BIN_EXE_slableaf")])
        .current_dir(folder.path("."))
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(
        said.contains("cannot write papers/2026-0170-proposal-draft.pdf: File too large"),
        "{said}"
    );
    assert!(!said.contains(".tmp"), "{said}");
}
