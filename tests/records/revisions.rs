//! Unchanged input, and the next revision.

use super::{NUMBER, VERIFY, WRITE, page_one, paper, record, recorded, small, wage};
use crate::fixture::{Folder, all_files};
use crate::readers;
use serde_json::Value;
use std::fs::{self};

#[test]
fn unchanged_input_is_told_by_its_hashes_and_typesets_nothing() {
    let folder = small();
    folder.run(WRITE).success();
    let before = all_files(&folder.path("."));
    folder.run(WRITE).success().out_has(&format!("unchanged: {}", paper(1)));
    assert!(all_files(&folder.path(".")).into_iter().all(|(path, bytes)| {
        path.extension().is_some_and(|end| end == "lock") || before[&path] == bytes
    }));
}

#[test]
fn input_that_prints_the_same_is_unchanged_too() {
    let folder = small();
    folder.run(WRITE).success();
    let job = format!("# A comment changes nothing on paper.\n{}", folder.read("job.toml"));
    let folder = folder.write("job.toml", job);
    folder.run(WRITE).success().out_has("unchanged: ");
    assert_eq!(recorded(&folder.path(".")), [format!("{NUMBER}-proposal-r1")]);
}

#[track_caller]
fn says(folder: &Folder, revision: u32, sentence: &str) {
    folder.run(WRITE).success().out_has(&paper(revision));
    let page = page_one(folder, revision);
    assert!(page.contains(sentence), "{page}");
}

#[test]
fn page_one_of_a_revision_says_what_it_replaces_and_what_changed() {
    let folder = small();
    folder.run(WRITE).success();
    assert!(!page_one(&folder, 1).contains("replaces"));
    let folder = wage(folder, 41);
    let total = |revision: u32| {
        let path = format!("{}/results.json", record(revision));
        let results: Value = serde_json::from_str(&folder.read(&path)).unwrap();
        let key = results["recommended"].clone();
        let floors = results["floors"].as_array().unwrap().clone();
        let floor = floors.into_iter().find(|floor| floor["floor"] == key).unwrap();
        crate::documents::on_page("", floor["total"].as_str().unwrap())
    };
    folder.run(WRITE).success();
    says(
        &folder,
        2,
        &format!(
            "This proposal replaces revision 1 of May 12, 2026. The price of the floor we recommend \
             goes from ${} to ${}.",
            total(1),
            total(2)
        ),
    );
    // The job's date moves with it, and is the date that the next one names.
    let folder = folder.replace("job.toml", "date = 2026-05-12", "date = 2026-05-14").replace(
        "job.toml",
        "name = \"Ana Quill\"",
        "name = \"Ana Quillon\"",
    );
    says(&folder, 3, "replaces revision 2 of May 12, 2026. The name or the address has changed.");
    let folder = folder.replace("job.toml", "start = 2026-05-26", "start = 2026-06-02");
    says(&folder, 4, "replaces revision 3 of May 14, 2026. The work now starts on June 2, 2026.");
    let folder = folder.replace("job.toml", "width = \"21 ft\"", "width = \"19 ft\"");
    says(&folder, 5, "The floor area has changed.");
    let folder = folder.write(
        "layouts/words/en/promise.toml",
        fs::read_to_string("layouts/words/en/promise.toml").unwrap().replacen(
            "We ",
            "We, too, ",
            1,
        ),
    );
    says(&folder, 6, "Only the wording or the layout has changed.");
    let job = format!("print = \"large\"\n{}", folder.read("job.toml"));
    let folder = folder.write("job.toml", job);
    says(
        &folder,
        7,
        "Some details have changed. The floors on offer and their prices are as before.",
    );
    folder.run(VERIFY).success().out_has("7 records: 7 sound");
}

#[test]
fn another_reading_and_another_recommendation_are_told() {
    let folder = Folder::of("too-wet-yet");
    folder.run(WRITE).success();
    let drier = Folder::of("dry-and-quick").read("job.toml");
    let number =
        folder.read("job.toml").lines().find(|l| l.starts_with("number")).unwrap().to_owned();
    let old = drier.lines().find(|line| line.starts_with("number")).unwrap().to_owned();
    let folder = folder.write("job.toml", drier.replace(&old, &number));
    for photo in ["overview.jpg", "dome.jpg"] {
        let from = format!("examples/dry-and-quick/photos/{photo}");
        fs::copy(from, folder.path("photos").join(photo)).unwrap();
    }
    let said = folder.run(WRITE).success().stdout();
    let path = said.split_whitespace().nth(1).unwrap();
    let text = readers::pages(&folder.path(path)).remove(0);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("We can now recommend the fast-cure floor."), "{text}");
    assert!(text.contains("Also changed: ") && text.contains("the moisture readings"), "{text}");
}

#[test]
fn floors_that_come_and_go_are_named() {
    let folder = Folder::of("dry-and-quick");
    folder.run(WRITE).success();
    let job = folder.read("job.toml");
    let offer = job.lines().find(|line| line.starts_with("offer = ")).unwrap();
    let one = job.replace(offer, "offer = [\"barrier\"]");
    let asked =
        "\n[[asked]]\non = 2026-06-09\nby = \"Mrs. Okonjo\"\nwhat = \"One floor is enough.\"\n";
    let one = format!("{one}{asked}");
    let folder = folder.write("job.toml", one);
    folder.run(WRITE).success();
    let page = |revision: u32| {
        let path = format!("papers/2026-0151-proposal-r{revision}.pdf");
        let text = readers::pages(&folder.path(&path)).remove(0);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let changed = "We now recommend the vapor-barrier floor; before, it was the";
    assert!(page(2).contains(changed), "{}", page(2));
    let asked = "On June 9, 2026, Mrs. Okonjo asked for a change: “One floor is enough.”";
    assert!(page(2).contains(asked), "{}", page(2));
    fs::write(folder.path("job.toml"), &job).unwrap();
    folder.run(WRITE).success();
    assert!(page(3).contains("We now recommend the fast-cure floor;"), "{}", page(3));
    assert!(page(3).contains("the floors on offer"), "{}", page(3));
}

#[test]
fn page_one_of_a_revision_is_one_page_in_both_languages() {
    for language in ["en", "es"] {
        let folder = Folder::new();
        let chosen = format!("language = \"{language}\"");
        let folder = folder.replace("shop.toml", "language = \"en\"", &chosen);
        let before = |revision: u32| {
            let path = format!("papers/2026-0142-proposal-r{revision}.pdf");
            readers::pages(&folder.path(&path))
        };
        folder.run(WRITE).success();
        let job = folder.read("job.toml").replace("start = 2026-05-26", "start = 2026-06-02");
        fs::write(folder.path("job.toml"), job.replace("Tannenwald", "Tannenwalder")).unwrap();
        let book = folder.read("book.toml").replace("$32.00/h", "$29.00/h");
        fs::write(folder.path("book.toml"), book).unwrap();
        folder.run(WRITE).success();
        let (first, second) = (before(1), before(2));
        assert_eq!(first.len(), second.len(), "{language}");
        let words = if language == "en" { "Also changed" } else { "También cambió" };
        assert!(second[0].contains(words), "{}", second[0]);
    }
}

#[test]
fn a_missing_copy_is_put_out_again_from_the_record() {
    let folder = small();
    folder.run(WRITE).success();
    let before = folder.bytes(&paper(1));
    fs::remove_file(folder.path(&paper(1))).unwrap();
    folder.run(WRITE).success().out_has("unchanged: ").out_has("written again from its record");
    assert!(folder.bytes(&paper(1)) == before);
}

#[test]
fn a_file_of_that_name_with_other_bytes_is_never_overwritten() {
    let folder = small().write(&paper(3), "mine");
    folder.run(WRITE).success().out_has(&paper(4));
    assert_eq!(folder.read(&paper(3)), "mine");
    let folder = folder.write(&paper(4), "scribbled over");
    folder.run(WRITE).code(5).err_has("is not what was issued").err_has("move it away");
    assert_eq!(folder.read(&paper(4)), "scribbled over");
}

#[test]
fn a_paper_from_before_there_were_records_is_recorded_as_it_is() {
    let folder = small();
    folder.run(WRITE).success();
    fs::remove_dir_all(folder.path("records")).unwrap();
    let before = folder.bytes(&paper(1));
    folder.run(WRITE).success().out_has("recorded: ");
    assert!(folder.bytes(&paper(1)) == before);
    folder.run(VERIFY).success().out_has("1 record: 1 sound");
}

#[test]
fn a_draft_records_nothing() {
    let folder = small();
    folder.run(&["write", "job.toml", "--draft"]).success();
    assert!(!folder.path("records").exists());
}
