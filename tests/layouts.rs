//! A shop's own words and layouts over the built-in ones, file by file.

use slableaf::base::layouts::EMBEDDED;

use crate::fixture::Folder;
use crate::readers;

const WALK: &str = "A final walk-through with you and a care sheet";

fn copied(paths: &[&str]) -> Folder {
    let folder = Folder::new();
    folder.run(&[&["layouts", "--copy", "layouts"], paths].concat()).success();
    folder
}

fn draft(folder: &Folder) -> crate::fixture::Ran {
    folder.run(&["write", "job.toml", "--draft", "--out", "out"])
}

fn nothing_was_written(folder: &Folder) {
    assert!(!folder.path("out").exists());
}

#[test]
fn every_layout_is_listed_with_where_it_comes_from() {
    let folder = copied(&["words/en/promise.toml"]);
    let list = folder.run(&["layouts"]).success().stdout();
    assert_eq!(list.lines().count(), EMBEDDED.len());
    for (path, _) in EMBEDDED {
        let line = list.lines().find(|line| line.split_whitespace().next() == Some(path)).unwrap();
        assert_eq!(line.contains("built in"), *path != "words/en/promise.toml", "{line}");
    }
}

#[test]
fn copies_are_the_built_in_files_and_never_overwrite() {
    let folder = copied(&[]);
    for (path, text) in EMBEDDED {
        assert_eq!(folder.read(&format!("layouts/{path}")), *text, "{path}");
    }
    let folder = folder.write("layouts/theme.typ", "mine");
    folder.run(&["layouts", "--copy", "layouts", "theme.typ"]).success().out_has("there already");
    assert_eq!(folder.read("layouts/theme.typ"), "mine");
    folder.run(&["layouts", "nothing.typ"]).code(2).err_has("there is no layout of that name");
}

#[test]
fn a_paper_says_what_the_shop_has_put_in_other_words() {
    let folder = copied(&["words/en/promise.toml"]).replace(
        "layouts/words/en/promise.toml",
        WALK,
        "A walk, and coffee",
    );
    draft(&folder).success();
    let text = readers::text(&folder.path("out/2026-0142-proposal-draft.pdf"));
    assert!(text.contains("A walk, and coffee") && !text.contains(WALK));
}

/// One change to a copy of one file, and what `write` then says, to the letter. `@` stands for the
/// number of the line that is quoted.
#[track_caller]
fn broken(file: &str, from: &str, to: &str, code: i32, expected: &str) {
    let path = format!("layouts/{file}");
    let folder = copied(&[file]).replace(&path, from, to);
    let text = folder.read(&path);
    let numbered: Vec<String> =
        expected.split("\n\n").map(|block| with_line_number(block, &text)).collect();
    says(&folder, code, &numbered.join("\n\n"));
}

/// Puts the number that a quoted line has in a text in the place of `@`, and the margin to its width.
#[track_caller]
fn with_line_number(block: &str, text: &str) -> String {
    let Some(quoted) = block.lines().find_map(|line| line.strip_prefix("@ | ")) else {
        return block.to_owned();
    };
    let at = text.lines().position(|line| line == quoted).expect("the quoted line");
    let number = (at + 1).to_string();
    let margin = " ".repeat(number.len());
    let line = |line: &str| match line.strip_prefix(' ') {
        Some(rest) => format!("{margin}{}", rest.replace(":@:", &format!(":{number}:"))),
        None => line.replacen("@ |", &format!("{number} |"), 1),
    };
    block.lines().map(line).collect::<Vec<_>>().join("\n")
}

#[track_caller]
fn says(folder: &Folder, code: i32, expected: &str) {
    draft(folder).code(code).err_is(expected);
    nothing_was_written(folder);
}

#[test]
fn words_that_are_no_toml_are_shown_with_their_place() {
    broken(
        "words/en/labels.toml",
        "[slab]",
        "[slab",
        2,
        "\
error: not TOML: unclosed table, expected `]`
 --> layouts/words/en/labels.toml:@:6
  |
@ | [slab
  |      ^

1 problem found; nothing was written",
    );
}

#[test]
fn a_key_that_is_missing_and_one_that_nobody_knows_are_shown() {
    broken(
        "words/en/labels.toml",
        "prepared_for =",
        "prepard_for =",
        2,
        "\
error: `glance.prepared_for` is missing
 --> layouts/words/en/labels.toml:@:1
  |
@ | [glance]
  | ^^^^^^^^
  |
  = help: a file of one’s own has every key of the built-in one
  = help: `slableaf layouts --copy DIR words/en/labels.toml` copies that out

error: unknown key `glance.prepard_for`
 --> layouts/words/en/labels.toml:@:1
  |
@ | prepard_for = \"Prepared for\"
  | ^^^^^^^^^^^
  |
  = help: did you mean `glance.prepared_for`?

2 problems found; nothing was written",
    );
}

#[test]
fn a_sentence_with_a_value_that_there_is_not_is_shown() {
    // The template engine names it where it was built to be debugged.
    let named = if cfg!(debug_assertions) { ": `floor.margin` is undefined" } else { "" };
    broken(
        "words/en/pages.toml",
        "recommend = \"We recommend {{ floor.the_name }}\"",
        "recommend = \"We recommend {{ floor.margin }}\"",
        4,
        &format!(
            "\
error: undefined value{named}
 --> layouts/words/en/pages.toml:@:30
  |
@ | recommend = \"We recommend {{{{ floor.margin }}}}\"
  |                              ^^^^^^^^^^^^

1 problem found; nothing was written"
        ),
    );
}

/// The sentence need not be one that this job uses.
#[test]
fn a_template_that_cannot_be_read_is_shown_before_anything_is_computed() {
    broken(
        "words/en/pages.toml",
        "recommend = \"We recommend {{ floor.the_name }}\"",
        "recommend = \"We recommend {{ floor.the_name }\"",
        2,
        "\
error: syntax error: unexpected `}`, expected end of variable block
 --> layouts/words/en/pages.toml:@:45
  |
@ | recommend = \"We recommend {{ floor.the_name }\"
  |                                             ^

1 problem found; nothing was written",
    );
}

#[test]
fn a_layout_that_cannot_be_printed_is_shown_with_its_place() {
    broken(
        "theme.typ",
        "#let gutter = 12pt",
        "#let gutter = 12pt)",
        4,
        "\
error: expected semicolon or line break
 --> layouts/theme.typ:@:19
  |
@ | #let gutter = 12pt)
  |                   ^

1 problem found; nothing was written",
    );
}

#[test]
fn a_fault_that_shows_in_a_built_in_layout_names_the_shops_own() {
    let folder = copied(&["theme.typ"]).replace(
        "layouts/theme.typ",
        "#let gutter = 12pt",
        "#let pulse = 12pt\n#let gutter-of = pulse",
    );
    draft(&folder)
        .code(4)
        .err_has("(built in) parts/")
        .err_has("look at the shop’s own layouts: layouts/theme.typ");
    nothing_was_written(&folder);
}

#[test]
fn a_file_of_no_known_name_is_refused() {
    says(
        &Folder::new().write("layouts/parts/glanc.typ", "").write("layouts/notes.txt", ""),
        2,
        "\
error: layouts/notes.txt replaces nothing: no built-in file is called `notes.txt`
 |
 = help: `slableaf layouts` lists all files

error: layouts/parts/glanc.typ replaces nothing: no built-in file is called `parts/glanc.typ`
 |
 = help: did you mean `parts/glance.typ`?

2 problems found; nothing was written",
    );
    let folder = Folder::new().write("layouts/systems/barrier.toml", "");
    folder.run(&["check", "job.toml"]).code(2).err_has("a floor system is no layout");
}

#[test]
fn a_file_that_is_too_large_or_no_text_is_refused() {
    let folder = Folder::new()
        .write("layouts/theme.typ", " ".repeat((1 << 20) + 1))
        .write("layouts/parts/slab.typ", b"\xFF\xFE");
    draft(&folder)
        .code(2)
        .err_has("theme.typ has 1048577 bytes, and the most accepted is 1048576")
        .err_has("parts/slab.typ is not UTF-8 text");
    nothing_was_written(&folder);
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_refused() {
    let folder = Folder::new().write("layouts/parts/.keep", "");
    std::os::unix::fs::symlink("/etc/passwd", folder.path("layouts/parts/glance.typ")).unwrap();
    folder.run(&["check", "job.toml"]).code(2).err_has("a link that leads out of the folder");
    let folder = Folder::new();
    std::os::unix::fs::symlink("/etc", folder.path("layouts")).unwrap();
    folder.run(&["check", "job.toml"]).code(2).err_has("a link that leads out of the folder");
}

/// A layout reads the page and nothing else: no cost has a place in it.
#[test]
fn a_layout_of_the_shop_can_read_nothing_but_the_page() {
    let folder = copied(&["proposal.typ"]);
    let reading = format!("#read(\"/book.toml\")\n{}", folder.read("layouts/proposal.typ"));
    let folder = folder.write("layouts/proposal.typ", reading);
    draft(&folder).code(4).err_has("file not found");
    nothing_was_written(&folder);
}
