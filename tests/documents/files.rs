//! The files that `write` makes and leaves alone.

use super::files;
use crate::fixture::*;
use crate::readers;
use std::fs;
use std::process::{Command, Stdio};

pub const R1: &str = "2026-0142-proposal-r1.pdf";
const R2: &str = "2026-0142-proposal-r2.pdf";
const DRAFT: &str = "2026-0142-proposal-draft.pdf";
pub const WRITE: &[&str] = &["write", "job.toml", "--out", "out"];
const WRITE_DRAFT: &[&str] = &["write", "job.toml", "--out", "out", "--draft"];

/// A dearer wage, and with it a dearer floor.
fn dearer(folder: Folder) -> Folder {
    folder.replace("book.toml", "wage = \"$32.00/h\"", "wage = \"$29.00/h\"")
}

fn issued(folder: &Folder, name: &str) -> Vec<u8> {
    folder.bytes(&format!("out/{name}"))
}

#[test]
fn the_same_job_gives_the_same_bytes_wherever_it_lies() {
    for arguments in [WRITE, WRITE_DRAFT] {
        let (one, other) = (Folder::new(), Folder::new());
        one.run(arguments).success();
        // From elsewhere, by absolute paths, in another language and time zone.
        let status = Command::new(env!("CARGO_BIN_EXE_slableaf"))
            .arg("write")
            .arg(other.path("job.toml"))
            .arg("--out")
            .arg(other.path("out"))
            .args(&arguments[4..])
            .current_dir("/")
            .envs([
                ("TZ", "Asia/Tokyo"),
                ("LANG", "de_DE.UTF-8"),
                ("LC_ALL", "tr_TR.UTF-8"),
                ("SOURCE_DATE_EPOCH", "1"),
            ])
            .stdout(Stdio::null())
            .status()
            .unwrap();
        assert!(status.success());
        let name = &files(&one, "out")[0];
        assert_eq!(files(&one, "out"), files(&other, "out"));
        assert!(issued(&one, name) == issued(&other, name), "{name} differs");
    }
}

#[test]
fn a_second_run_says_unchanged_and_writes_nothing() {
    let folder = Folder::new();
    folder.run(WRITE).success().out_has("wrote out/2026-0142-proposal-r1.pdf");
    let stamp =
        |name: &str| fs::metadata(folder.path("out").join(name)).unwrap().modified().unwrap();
    let before = (issued(&folder, R1), stamp(R1));
    folder.run(WRITE).success().out_has("unchanged: out/2026-0142-proposal-r1.pdf");
    assert_eq!(files(&folder, "out"), [R1]);
    assert!(before == (issued(&folder, R1), stamp(R1)));
}

#[test]
fn a_new_price_is_a_new_revision_and_the_old_one_stays() {
    let folder = Folder::new();
    folder.run(WRITE).success();
    let before = issued(&folder, R1);
    let folder = dearer(folder);
    folder.run(WRITE).success().out_has(R2);
    assert_eq!(files(&folder, "out"), [R1, R2]);
    assert!(issued(&folder, R1) == before, "an issued paper was changed");
    let text = |name: &str| readers::text(&folder.path("out").join(name));
    assert!(text(R1).contains("Revision 1") && text(R1).contains("$5,410.20"));
    assert!(text(R2).contains("Revision 2"));
    // The old price stands once, in the sentence that says what changed.
    assert_eq!(text(R2).matches("$5,410.20").count(), 1);
    folder.run(WRITE).success().out_has("unchanged").out_has(R2);
    assert_eq!(files(&folder, "out"), [R1, R2]);
}

#[test]
fn a_draft_overwrites_a_draft_and_never_an_issued_paper() {
    let folder = Folder::new();
    folder.run(WRITE).success();
    let before = issued(&folder, R1);
    folder.run(WRITE_DRAFT).success().out_has(DRAFT);
    let draft = issued(&folder, DRAFT);
    folder.run(WRITE_DRAFT).success();
    assert!(issued(&folder, DRAFT) == draft, "the same draft twice");
    let folder = dearer(folder);
    folder.run(WRITE_DRAFT).success();
    assert_eq!(files(&folder, "out"), [DRAFT, R1]);
    assert!(issued(&folder, DRAFT) != draft, "the draft has the new price");
    assert!(issued(&folder, R1) == before, "a draft changed an issued paper");
}

#[test]
fn a_draft_is_marked_on_every_page() {
    let folder = Folder::new();
    folder.run(WRITE_DRAFT).success();
    folder.run(WRITE).success();
    for page in readers::pages(&folder.path("out").join(DRAFT)) {
        assert!(page.contains("Draft"), "{page}");
    }
    for page in readers::pages(&folder.path("out").join(R1)) {
        assert!(!page.contains("Draft"), "{page}");
    }
}

/// Starts several runs in one folder at once and waits for all.
#[track_caller]
fn at_once(folder: &Folder, runs: &[&[&str]]) {
    let start = |arguments: &&[&str]| {
        Command::new(env!("CARGO_BIN_EXE_slableaf"))
            .args(*arguments)
            .current_dir(folder.path("."))
            .stdout(Stdio::null())
            .spawn()
            .unwrap()
    };
    let children: Vec<_> = runs.iter().map(start).collect();
    for mut child in children {
        assert!(child.wait().unwrap().success());
    }
}

/// Text of each page of a paper that has to be whole.
fn whole(folder: &Folder, name: &str) -> String {
    readers::text(&folder.path("out").join(name))
}

#[test]
fn two_different_papers_at_once_are_both_kept() {
    let cheap = Folder::new();
    let book = cheap.read("book.toml").replace("$32.00/h", "$29.00/h");
    let folder = cheap.write("dear.toml", book);
    at_once(&folder, &[WRITE, &["write", "job.toml", "--out", "out", "--book", "dear.toml"]]);
    assert_eq!(files(&folder, "out"), [R1, R2]);
    let texts = [whole(&folder, R1), whole(&folder, R2)];
    // Whichever came second names the price of the first once.
    let is_cheap = |text: &String| text.matches("$5,410.20").count() > 1;
    assert_eq!(texts.iter().filter(|text| is_cheap(text)).count(), 1, "each price once");
}

#[test]
fn the_same_paper_twice_at_once_is_one_paper() {
    let folder = Folder::new();
    at_once(&folder, &[WRITE, WRITE, WRITE]);
    assert!(whole(&folder, R1).contains("Revision 1"));
    // Nothing has changed between the runs, so there is nothing to revise.
    assert_eq!(files(&folder, "out"), [R1]);
}

#[test]
fn drafts_at_once_leave_one_whole_draft() {
    let folder = Folder::new();
    at_once(&folder, &[WRITE_DRAFT, WRITE_DRAFT, WRITE_DRAFT]);
    assert_eq!(files(&folder, "out"), [DRAFT]);
    assert!(whole(&folder, DRAFT).contains("Draft"));
}

#[track_caller]
fn refuses(folder: &Folder, arguments: &[&str]) {
    folder.run(arguments).code(5).err_has("error: cannot write");
}

#[test]
fn a_file_in_the_way_of_the_folder_is_an_error_and_leaves_nothing() {
    let folder = Folder::new().write("out", "here first");
    let before = files(&folder, ".");
    refuses(&folder, WRITE);
    refuses(&folder, WRITE_DRAFT);
    refuses(&folder, &["write", "job.toml", "--out", "out/deeper"]);
    assert_eq!(files(&folder, "."), before);
    assert_eq!(folder.read("out"), "here first");
}

#[test]
fn a_folder_in_the_way_of_a_paper_is_an_error_and_leaves_nothing() {
    let folder = Folder::new().write(&format!("out/{DRAFT}/inside"), "");
    refuses(&folder, WRITE_DRAFT);
    assert_eq!(files(&folder, "out"), [DRAFT]);
    let folder = Folder::new().write(&format!("out/{R1}/inside"), "");
    folder.run(WRITE).code(5);
    assert_eq!(files(&folder, "out"), [R1]);
}

#[test]
fn papers_lie_beside_the_job_unless_told_otherwise() {
    let folder = Folder::new();
    folder.run(&["write", "job.toml"]).success();
    assert_eq!(files(&folder, "papers"), [R1]);
}

#[test]
fn page_data_lies_beside_its_paper() {
    let folder = Folder::new();
    folder.run(&["write", "job.toml", "--out", "out", "--page-data"]).success();
    assert_eq!(files(&folder, "out"), ["2026-0142-proposal-r1.page.json", R1]);
}

#[test]
fn check_and_estimate_write_no_file() {
    let folder = Folder::new();
    let before = files(&folder, ".");
    for format in ["text", "json"] {
        folder.run(&["check", "job.toml", "--format", format]).code(1);
        folder.run(&["estimate", "job.toml", "--format", format]).success();
    }
    assert_eq!(files(&folder, "."), before);
}

#[test]
fn a_mistake_in_the_job_writes_nothing() {
    let folder = Folder::new().replace("job.toml", "height = \"9 ft\"", "height = \"9 furlongs\"");
    folder.run(WRITE).code(2);
    assert!(!folder.path("out").exists());
}
