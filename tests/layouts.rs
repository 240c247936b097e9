//! A shop's own words and layouts over the built-in ones, file by file.

use slableaf::layouts::EMBEDDED;

use crate::fixture::Folder;
use crate::readers;

const WALK: &str = "A last walk over the floor with you, and a care sheet";

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

#[test]
fn words_that_cannot_be_read_are_named_with_their_place() {
    let folder = copied(&["words/en/promise.toml"]);
    let broken = format!("{}\nx = = 1\n", folder.read("layouts/words/en/promise.toml"));
    let lines = broken.lines().count();
    let folder = folder.write("layouts/words/en/promise.toml", broken);
    draft(&folder)
        .code(4)
        .err_has(&format!("line {lines}, column 5"))
        .err_has("it is in your own")
        .err_has("promise.toml");
    nothing_was_written(&folder);
}

#[test]
fn a_layout_that_cannot_be_printed_is_named_with_its_place() {
    let folder = copied(&["parts/glance.typ"]);
    let broken = format!("{}\n#foo(\n", folder.read("layouts/parts/glance.typ"));
    let folder = folder.write("layouts/parts/glance.typ", broken);
    draft(&folder).code(4).err_has("parts/glance.typ:").err_has("unclosed delimiter");
    nothing_was_written(&folder);
}

#[test]
fn a_sentence_with_a_value_that_there_is_not_is_named() {
    let folder = copied(&["words/en/pages.toml"]).replace(
        "layouts/words/en/pages.toml",
        "recommend = \"We recommend {{ floor.the_name }}\"",
        "recommend = \"We recommend {{ floor.margin }}\"",
    );
    draft(&folder).code(4).err_has("glance.recommend");
    nothing_was_written(&folder);
}

#[test]
fn a_file_of_no_known_name_is_refused() {
    let folder = Folder::new().write("layouts/parts/glanc.typ", "");
    folder.run(&["check", "job.toml"]).code(2).err_has("did you mean `parts/glance.typ`?");
    let folder = Folder::new().write("layouts/systems/barrier.toml", "");
    folder.run(&["check", "job.toml"]).code(2).err_has("a floor system is no layout");
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_refused() {
    let folder = Folder::new().write("layouts/parts/readme.txt", "");
    std::os::unix::fs::symlink("/etc/passwd", folder.path("layouts/parts/glance.typ")).unwrap();
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
