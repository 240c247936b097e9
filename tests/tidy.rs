//! The project keeps the order that it promises: modules, checks and their words, layouts, examples.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use slableaf::base::layouts::{EMBEDDED, Layouts};
use slableaf::judge::checks::CHECKS;

use crate::fixture::{root, words};

/// Files below a folder of the project, by their paths in it.
pub fn files_below(folder: &str) -> Vec<PathBuf> {
    fn walk(folder: &Path, found: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            // What a run of the program leaves beside an example is no file of the project.
            let issued = ["records", "papers"].iter().any(|name| path.ends_with(name));
            match path.is_dir() {
                true if issued => {}
                true => walk(&path, found),
                false => found.push(path),
            }
        }
    }
    let mut found = vec![];
    walk(&root().join(folder), &mut found);
    found.sort();
    found.iter().map(|path| path.strip_prefix(root()).unwrap().to_owned()).collect()
}

pub fn text(path: &Path) -> String {
    fs::read_to_string(root().join(path))
        .unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn has_end(path: &Path, end: &str) -> bool {
    path.extension().is_some_and(|extension| extension == end)
}

/// Every file that people write in: code, words, layouts, examples, documents.
fn written_files() -> Vec<PathBuf> {
    let folders =
        ["src", "layouts", "examples", "tests", "benches", ".ci"].into_iter().flat_map(files_below);
    let single =
        ["Cargo.toml", "README.md", "DEVELOPERS.md", ".clippy.toml", ".rustfmt.toml", ".gitignore"];
    let pictures =
        |path: &PathBuf| !["png", "jpg", "otf", "ttf"].iter().any(|end| has_end(path, end));
    folders
        .chain(single.map(PathBuf::from))
        .filter(pictures)
        .filter(|path| root().join(path).exists())
        .collect()
}

/// The code of a file without its comments and its tests.
pub fn code(text: &str) -> String {
    let before_tests = text.split("#[cfg(test)]").next().unwrap();
    before_tests
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect::<Vec<_>>()
        .join("\n")
}

/// Names that follow a prefix in a text.
fn names_after<'a>(text: &'a str, prefix: &str) -> impl Iterator<Item = &'a str> {
    let end =
        |rest: &str| rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
    text.split(prefix).skip(1).map(move |rest| &rest[..end(rest)])
}

// ---------------------------------------------------------------------------------- modules

/// Names that a `mod.rs` or `lib.rs` gives to what is in it, in their order.
fn listed(file: &Path) -> Vec<String> {
    text(file)
        .lines()
        .filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'))
        .map(str::to_owned)
        .collect()
}

/// The rooms, in the order of the story; the last is part of the program and no module of the library.
fn rooms() -> Vec<String> {
    let mut rooms = listed(Path::new("src/lib.rs"));
    rooms.push("shell".into());
    rooms
}

fn room_of(path: &Path) -> String {
    path.iter().nth(1).unwrap().to_str().unwrap().trim_end_matches(".rs").to_owned()
}

/// Tests are read too: a test that needs a room below belongs there.
#[test]
fn a_room_names_only_rooms_above_it() {
    let rooms = rooms();
    let place = |name: &str| rooms.iter().position(|room| room == name);
    for path in files_below("src") {
        let Some(own) = place(&room_of(&path)) else { continue };
        let text = text(&path);
        for named in names_after(&text, "crate::").chain(names_after(&text, "slableaf::")) {
            let above = place(named).is_none_or(|named| named <= own);
            assert!(above, "{} names `{named}`", path.display());
        }
    }
}

/// Folders of the shell, in the order of its `mod.rs`.
#[test]
fn a_folder_of_the_shell_names_only_folders_above_it() {
    let text_of = |path: &str| text(Path::new(path));
    let folders: Vec<String> = text_of("src/shell/mod.rs")
        .lines()
        .filter_map(|line| Some(line.strip_suffix(';')?.split_once("mod ")?.1.to_owned()))
        .collect();
    assert_eq!(folders, ["args", "terminal", "store", "commands"]);
    for path in files_below("src/shell") {
        let own = path.iter().nth(2).unwrap().to_str().unwrap();
        let Some(own) = folders.iter().position(|folder| folder == own) else { continue };
        for named in names_after(&text(&path), "crate::shell::") {
            let above = folders.iter().position(|folder| folder == named).unwrap() <= own;
            assert!(above, "{} names `{named}`", path.display());
        }
    }
}

#[test]
fn every_file_of_the_library_is_in_a_room() {
    assert_eq!(rooms().len(), 14);
    for path in files_below("src") {
        let room = room_of(&path);
        let known = ["lib", "main"].contains(&room.as_str()) || rooms().contains(&room);
        assert!(known, "{}", path.display());
    }
}

/// The library takes values and gives values; the shell alone meets disk, clock and terminal.
#[test]
fn the_library_never_names_the_shell_and_never_prints() {
    for path in files_below("src") {
        if path.starts_with("src/shell") || path.ends_with("main.rs") {
            continue;
        }
        let code = code(&text(&path));
        for word in [
            "crate::shell",
            "println!",
            "eprintln!",
            "std::fs",
            "std::env::",
            "dbg!",
            "todo!",
            "unimplemented!",
            "unsafe ",
        ] {
            assert!(!code.contains(word), "`{word}` in {}", path.display());
        }
    }
}

/// A file that one can read at a sitting.
const MOST_LINES: usize = 500;

#[test]
fn files_of_the_program_are_short() {
    for path in files_below("src").into_iter().chain(files_below("layouts")) {
        let lines = text(&path).lines().count();
        assert!(lines <= MOST_LINES, "{} has {lines} lines", path.display());
    }
}

#[test]
fn every_file_of_code_opens_with_what_it_is_for() {
    for path in files_below("src")
        .into_iter()
        .chain(files_below("tests"))
        .filter(|path| has_end(path, "rs"))
    {
        assert!(text(&path).starts_with("//! "), "{}", path.display());
    }
    for path in files_below("layouts") {
        let first = text(&path);
        let comment = match path.extension().and_then(|end| end.to_str()) {
            Some("typ") => "// ",
            Some("html") => "{# ",
            _ => "# ",
        };
        assert!(first.starts_with(comment), "{}", path.display());
    }
}

// ------------------------------------------------------------------------- checks and words

#[test]
fn every_check_has_words_and_all_words_have_a_check() {
    let checks: BTreeSet<&str> = CHECKS.iter().map(|check| check.name).collect();
    assert_eq!(checks.len(), CHECKS.len(), "a name stands twice");
    let words = words();
    assert_eq!(checks, words.checks.keys().map(String::as_str).collect());
    // A name is in one file only: the second would silently win.
    let tables = |name: &str| -> Vec<String> {
        let text = text(&Path::new("layouts/words/en").join(name));
        text.lines()
            .filter_map(|line| Some(line.strip_prefix('[')?.strip_suffix(']')?.to_owned()))
            .collect()
    };
    let files =
        ["checks-moisture.toml", "checks-slab.toml", "checks-house.toml", "checks-laid.toml"];
    let named: usize = files.iter().map(|file| tables(file).len()).sum();
    assert_eq!(named, checks.len());
}

#[test]
fn a_sentence_for_page_one_has_its_kind() {
    for (name, text) in words().checks {
        assert_eq!(text.short.is_some(), text.short_kind.is_some(), "{name}");
    }
}

#[test]
fn every_check_is_a_file_of_its_name_with_tests() {
    let files: BTreeSet<String> = files_below("src/judge/checks")
        .into_iter()
        .map(|path| path.file_stem().unwrap().to_str().unwrap().to_owned())
        .filter(|stem| !["mod", "testing"].contains(&stem.as_str()))
        .collect();
    assert_eq!(files, CHECKS.iter().map(|check| check.name.replace('-', "_")).collect());
    for file in files {
        let text = text(&Path::new("src/judge/checks").join(format!("{file}.rs")));
        let (_, tests) = text
            .split_once("#[cfg(test)]\nmod tests {")
            .unwrap_or_else(|| panic!("{file} has no tests"));
        // Rows of a table, or tests of their own. A check that always speaks has two weights.
        let told = ["Stop", "Wait", "Caution", "Note"].map(|weight| {
            tests.contains(&format!("Severity::{weight}")) || tests.contains(&weight.to_uppercase())
        });
        let told = told.into_iter().filter(|told| *told).count();
        let silent =
            ["SILENT", "expect_silent", "is_empty()"].iter().any(|word| tests.contains(word));
        assert!(told > 0, "{file}: no case in which it speaks");
        assert!(silent || told > 1, "{file}: no case in which it is silent");
        assert!(
            text.starts_with(&format!("//! `{}`: ", file.replace('_', "-"))),
            "{file} does not say what it is for"
        );
    }
}

#[test]
fn every_shipped_system_has_words_for_itself_and_all_its_coats() {
    let words = words();
    for (path, text) in Layouts::default().below("systems/") {
        let system: toml::Table = text.parse().unwrap();
        let key = system["key"].as_str().unwrap();
        assert_eq!(path, format!("systems/{key}.toml"));
        let said = &words.systems[key];
        for coat in system["coat"].as_array().unwrap() {
            assert!(said.coats.contains_key(coat["key"].as_str().unwrap()), "{key}: {coat}");
        }
        assert_eq!(
            said.coats.len(),
            system["coat"].as_array().unwrap().len(),
            "{key} has words for no coat"
        );
    }
}

// ---------------------------------------------------------------------------------- layouts

#[test]
fn every_layout_file_is_embedded() {
    let there: Vec<String> = files_below("layouts")
        .iter()
        .map(|path| path.strip_prefix("layouts").unwrap().to_str().unwrap().to_owned())
        .collect();
    let mut embedded: Vec<&str> = EMBEDDED.iter().map(|(path, _)| *path).collect();
    embedded.sort_unstable();
    assert_eq!(there, embedded);
}

/// A word as a word, so that `print(` is no `int(`.
fn calls<'a>(text: &'a str, name: &'a str) -> impl Iterator<Item = &'a str> {
    text.match_indices(name).filter_map(move |(at, _)| {
        let before = text[..at].chars().next_back();
        let inside = before.is_some_and(|c| c.is_alphanumeric() || matches!(c, '-' | '_' | '.'));
        (!inside).then(|| &text[at + name.len()..])
    })
}

/// A layout places, it never computes a figure. What it may reckon is room on the page.
#[test]
fn layouts_compute_no_figures() {
    const OF_ROOM: &[&str] = &["min(", "max(", "abs(", "rem(", "pow(", "sqrt("];
    for (path, text) in Layouts::default().sources() {
        let text = code(text);
        for name in ["eval(", "int(", "float(", "decimal(", "plugin(", "read(", "datetime.today"] {
            assert_eq!(calls(&text, name).count(), 0, "`{name}` in {path}");
        }
        for rest in calls(&text, "calc.") {
            assert!(
                OF_ROOM.iter().any(|of_room| rest.starts_with(of_room)),
                "{path}: calc.{}",
                rest.lines().next().unwrap()
            );
        }
    }
}

/// Every word of a page comes from the words: a layout has none of its own.
#[test]
fn layouts_hold_no_words() {
    for (path, text) in Layouts::default().sources() {
        for line in code(text).lines() {
            // Typst's own quotes: names of tones, of units, of keys, of faces.
            let quoted = line.split('"').skip(1).step_by(2);
            let words: Vec<&str> = quoted
                .filter(|quoted| quoted.trim().contains(' ') && *quoted != "Noto Serif")
                .collect();
            assert!(words.is_empty(), "{path} says {words:?}");
        }
    }
}

// --------------------------------------------------------------------------- texts in general

/// Pieces of words, so that this list does not find itself.
const NOT_OURS: &[(&str, &str)] = &[
    ("/ho", "me/"),
    ("/Use", "rs/"),
    ("/ro", "ot/"),
    ("FIX", "ME"),
    ("XX", "X"),
    ("lorem", " ipsum"),
    ("place", "holder"),
    ("language ", "model"),
    ("chat", "bot"),
    ("sub-", "agent"),
    (".libr", "ary/"),
    ("brief", ".md"),
];

#[test]
fn no_file_names_a_machine_or_what_is_not_of_the_project() {
    for path in written_files() {
        let text = text(&path).to_lowercase();
        for (one, other) in NOT_OURS {
            let word = format!("{one}{other}").to_lowercase();
            assert!(!text.contains(&word), "`{word}` in {}", path.display());
        }
    }
}

/// Documents that are read from the beginning to the end.
#[test]
fn documents_are_short() {
    for (name, most) in [("README.md", 20 * 1024), ("DEVELOPERS.md", 22 * 1024)] {
        let bytes = text(Path::new(name)).len();
        assert!(bytes <= most, "{name} has {bytes} bytes");
    }
}

#[test]
fn the_top_level_is_the_agreed_one() {
    let known: BTreeSet<&str> = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "src",
        "layouts",
        "fonts",
        "examples",
        "tests",
        "benches",
        "fuzz",
        "deny.toml",
        ".ci",
        ".gitignore",
        ".clippy.toml",
        ".rustfmt.toml",
    ]
    .into();
    // What git does not keep is no part of the project.
    let made = ["target", "out", ".git"];
    for entry in fs::read_dir(root()).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(known.contains(name.as_str()) || made.contains(&name.as_str()), "{name}");
    }
}

#[test]
fn every_example_opens_with_what_it_shows() {
    for path in files_below("examples").into_iter().filter(|path| has_end(path, "toml")) {
        let text = text(&path);
        let comment: String = text.lines().take_while(|line| line.starts_with('#')).collect();
        assert!(comment.len() > 50, "{} opens with no comment", path.display());
    }
}

/// Demo data is invented and says so: on the page, and to whoever reads the file.
#[test]
fn every_example_says_that_it_is_invented() {
    for path in files_below("examples").into_iter().filter(|path| has_end(path, "toml")) {
        assert!(text(&path).contains("invented"), "{}", path.display());
    }
}

#[test]
fn people_of_the_examples_can_be_reached_by_nobody() {
    for path in files_below("examples").into_iter().filter(|path| has_end(path, "toml")) {
        for line in text(&path).lines() {
            if line.starts_with("email") {
                assert!(line.contains(".example\""), "a domain that could exist: {line}");
            }
            if line.starts_with("phone") {
                assert!(
                    line.contains("555") && line.contains("01"),
                    "a number that could ring: {line}"
                );
            }
        }
    }
}
