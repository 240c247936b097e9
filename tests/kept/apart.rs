//! A shop's own layouts are set in a process apart: the same papers, and bounds of memory and time.

use std::fs;
use std::time::{Duration, Instant};

use crate::fixture::{Folder, all_files};

/// A job of a shop with its own theme, which is the built-in one with some code behind it.
fn with_theme(example: &str, code: &str) -> Folder {
    let folder = Folder::of(example);
    let theme = fs::read_to_string(crate::fixture::root().join("layouts/theme.typ")).unwrap();
    folder.write("layouts/theme.typ", format!("{theme}\n{code}\n"))
}

#[test]
fn papers_are_the_same_to_the_byte() {
    for example in ["two-car-barrier", "dry-and-quick"] {
        let (apart, plain) = (with_theme(example, ""), Folder::of(example));
        let papers = ["--paper", "proposal", "--paper", "leaflet", "--paper", "care", "--phone"];
        for folder in [&apart, &plain] {
            let write = [&["write", "job.toml", "--draft", "--png=1-2"], &papers[..]].concat();
            folder.run(&write).success();
            folder.run(&["prepare", "job.toml", "--floor", "barrier"]).success();
        }
        let made = |folder: &Folder| {
            let mut files = all_files(&folder.path("papers"));
            files.append(&mut all_files(&folder.path("shop-only")));
            let root = folder.path("");
            let inside = |path: &std::path::Path| path.strip_prefix(&root).unwrap().to_owned();
            files.iter().map(|(path, bytes)| (inside(path), bytes.clone())).collect::<Vec<_>>()
        };
        assert!(made(&apart).len() >= 7);
        assert!(made(&apart) == made(&plain), "{example}");
    }
}

const GREEDY: &[&str] = &[
    "#let all = \"a\" * 100000000000",
    "#{ let a = \"aaaaaaaaaaaaaaaa\"; let n = 0; while n < 40 { a += a; n += 1 } }",
    "#let all = range(1000000000).map(i => (i, i))",
];

#[cfg(target_os = "linux")]
#[test]
fn layouts_that_ask_for_all_memory_end_in_an_error() {
    for code in GREEDY {
        let folder = with_theme("smallest", code);
        folder
            .run(&["write", "job.toml"])
            .code(4)
            .err_has("the shop's own layouts ended the typesetter (signal: ")
            .err_has("perhaps they ask for more memory than the 1024 MB that they may have")
            .err_has("look at what is new in layouts/theme.typ");
        assert!(!folder.path("papers").exists());
    }
}

/// In a batch it is the trouble of that shop's jobs alone.
#[cfg(target_os = "linux")]
#[test]
fn greedy_layouts_of_one_shop_stop_no_job_of_another() {
    let good = Folder::of("smallest");
    let mut folder = with_theme("smallest", GREEDY[1]);
    for (shop, files) in [("good", &good), ("bad", &folder)].map(|(shop, f)| {
        let files = ["job.toml", "book.toml", "shop.toml", "logo.png"];
        (shop, files.map(|name| (name, f.bytes(name))))
    }) {
        for (name, bytes) in files {
            folder = folder.write(&format!("shops/{shop}/{name}"), bytes);
        }
    }
    let theme = folder.read("layouts/theme.typ");
    let folder = folder.write("shops/bad/layouts/theme.typ", theme);
    folder
        .run(&["write", "shops"])
        .code(3)
        .err_has("shops/bad/job.toml: not written")
        .out_has("2 jobs: 1 written, 0 unchanged, 1 not written");
}

#[test]
fn a_fault_in_a_layout_has_its_place_as_ever() {
    let folder = with_theme("smallest", "#let x = calc.nothing");
    folder
        .run(&["write", "job.toml"])
        .code(4)
        .err_has("error: module `calc` does not contain `nothing`")
        .err_has("layouts/theme.typ:")
        .err_has("#let x = calc.nothing");
}

#[test]
#[ignore = "waits for half a minute"]
fn layouts_without_an_end_are_ended() {
    let all = "range(9999)";
    let endless =
        format!("#for a in {all} {{ for b in {all} {{ for c in {all} {{ let d = a }} }} }}");
    let folder = with_theme("smallest", &endless);
    let start = Instant::now();
    folder
        .run(&["write", "job.toml"])
        .code(4)
        .err_has("need more than the 30 seconds that they may have");
    assert!(start.elapsed() < Duration::from_secs(60));
}
