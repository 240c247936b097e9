//! The content of a record.

use super::{NUMBER, VERIFY, WRITE, record, small, wage};
use crate::fixture::{Folder, all_files};
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs::{self};
use std::io::Write as _;
use std::path::PathBuf;
use std::process::{Command, Stdio};

#[test]
fn a_record_holds_what_was_read_and_what_came_out_to_the_byte() {
    let folder = Folder::new()
        .write("systems/spare.toml", fs::read("layouts/systems/barrier.toml").unwrap())
        .write("layouts/words/en/promise.toml", fs::read("layouts/words/en/promise.toml").unwrap());
    folder.run(WRITE).success();
    let record = "records/2026-0142-proposal-r1";
    for name in [
        "job.toml",
        "book.toml",
        "shop.toml",
        "logo.png",
        "photos/dome.jpg",
        "photos/crack.jpg",
        "photos/overview.jpg",
        "systems/spare.toml",
        "layouts/words/en/promise.toml",
    ] {
        assert_eq!(folder.bytes(&format!("{record}/inputs/{name}")), folder.bytes(name), "{name}");
    }
    let pdf = "2026-0142-proposal-r1.pdf";
    assert_eq!(
        folder.bytes(&format!("{record}/paper/{pdf}")),
        folder.bytes(&format!("papers/{pdf}"))
    );
    let results: Value =
        serde_json::from_str(&folder.read(&format!("{record}/results.json"))).unwrap();
    let shop = folder.run(&["estimate", "job.toml", "--format", "json"]).success().stdout();
    assert_eq!(results, serde_json::from_str::<Value>(&shop).unwrap());
    let text = folder.read(&format!("{record}/record.toml"));
    // No path of this machine.
    assert!(!text.contains(folder.path("").to_str().unwrap()), "{text}");
    let parsed: toml::Table = text.parse().unwrap();
    assert_eq!(parsed["number"].as_str(), Some("2026-0142"));
    assert_eq!(parsed["paper"]["pages"].as_integer(), Some(17));
    folder.run(VERIFY).success().out_has("1 record: 1 sound");
}

/// `sha256sum` of GNU coreutils is another reader of what a record says of its files.
#[test]
fn the_hashes_of_a_record_are_those_of_another_program() {
    let folder = small();
    folder.run(WRITE).success();
    let record = folder.path(&record(1));
    let table: toml::Table =
        fs::read_to_string(record.join("record.toml")).unwrap().parse().unwrap();
    let mut lines = String::new();
    let mut line = |leaf: &toml::Value| {
        let (path, hash) = (leaf["path"].as_str().unwrap(), leaf["sha256"].as_str().unwrap());
        lines.push_str(&format!("{hash}  {path}\n"));
    };
    line(&table["paper"]);
    line(&table["results"]);
    table["input"].as_array().unwrap().iter().for_each(&mut line);
    let mut child = Command::new("sha256sum")
        .args(["--check", "--strict", "--quiet"])
        .current_dir(record)
        .stdin(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(lines.as_bytes()).unwrap();
    assert!(child.wait().unwrap().success(), "{lines}");
}

#[test]
fn the_same_input_gives_the_same_record_wherever_it_lies() {
    let (one, other) = (small(), small());
    one.run(WRITE).success();
    other.run(&["write", "./job.toml", "--out", "elsewhere", "--records", "kept/here"]).success();
    let names = |folder: PathBuf| -> BTreeMap<PathBuf, Vec<u8>> {
        let files = all_files(&folder).into_iter();
        files.map(|(path, bytes)| (path.strip_prefix(&folder).unwrap().to_owned(), bytes)).collect()
    };
    let kept = format!("kept/here/{NUMBER}-proposal-r1");
    assert!(names(one.path(&record(1))) == names(other.path(&kept)));
}

#[test]
fn nothing_of_a_record_is_among_the_customers_papers() {
    let folder = Folder::new();
    folder
        .run(&["write", "job.toml", "--paper", "proposal", "--paper", "leaflet", "--paper", "care"])
        .success();
    let folder = wage(folder, 41);
    folder.run(WRITE).success();
    let names: Vec<String> = crate::documents::files(&folder, "papers");
    assert!(names.iter().all(|name| name.ends_with(".pdf")), "{names:?}");
    assert_eq!(names.len(), 4);
    let table: toml::Table =
        folder.read("records/2026-0142-proposal-r2/record.toml").parse().unwrap();
    let hash = table["input"][0]["sha256"].as_str().unwrap().as_bytes().to_vec();
    for (path, bytes) in all_files(&folder.path("papers")) {
        for inner in [&hash[..], b"record.toml", b"results.json", b"records/"] {
            assert!(!bytes.windows(inner.len()).any(|some| some == inner), "{}", path.display());
        }
    }
}
