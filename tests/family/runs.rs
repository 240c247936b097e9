//! Revisions, refusals and files for screen readers.

use super::{care, leaflet, shows, written};
use crate::documents::{files, paper};
use crate::fixture::Folder;
use crate::readers;

#[test]
fn the_same_input_gives_the_same_bytes() {
    for more in [&["leaflet"][..], &["leaflet", "--with-prices"], &["care"]] {
        let bytes = || written(&Folder::new(), more).pdf;
        assert_eq!(bytes(), bytes(), "{more:?}");
    }
}

#[test]
fn each_paper_has_revisions_of_its_own() {
    let all = ["--paper", "proposal", "--paper", "leaflet", "--paper", "care", "--paper", "care"];
    let run = [&["write", "job.toml", "--out", "out"][..], &all[..]].concat();
    let folder = Folder::new();
    folder.run(&run).success().out_has("care-r1.pdf (2 pages)\n  for barrier");
    let firsts = ["2026-0142-care-r1.pdf", "2026-0142-leaflet-r1.pdf", "2026-0142-proposal-r1.pdf"];
    assert_eq!(files(&folder, "out"), firsts);
    folder.run(&run).success().out_has("unchanged: ");
    assert_eq!(files(&folder, "out"), firsts);
    let before = folder.bytes("out/2026-0142-leaflet-r1.pdf");
    let prices = ["write", "job.toml", "--out", "out", "--paper", "leaflet", "--with-prices"];
    folder.run(&prices).success().out_has("leaflet-r2.pdf");
    assert_eq!(folder.bytes("out/2026-0142-leaflet-r1.pdf"), before);
    assert_eq!(files(&folder, "out").len(), 4);
    // What the care sheet alone shows changes the care sheet alone.
    let folder = folder.replace("shop.toml", "A bag of your flake", "Two bags of your flake");
    folder.run(&run).success().out_has("care-r2.pdf").out_has("unchanged: ");
    let names = files(&folder, "out");
    assert!(names.contains(&"2026-0142-care-r2.pdf".to_owned()), "{names:?}");
    assert!(!names.contains(&"2026-0142-proposal-r2.pdf".to_owned()), "{names:?}");
}

#[test]
fn a_draft_of_a_small_paper_is_marked_and_may_be_written_over() {
    let folder = Folder::new();
    for _ in 0..2 {
        let run = ["write", "job.toml", "--out", "out", "--draft", "--paper", "leaflet"];
        folder.run(&run).success();
    }
    assert_eq!(files(&folder, "out"), ["2026-0142-leaflet-draft.pdf"]);
    let pages = readers::pages(&folder.path("out/2026-0142-leaflet-draft.pdf"));
    assert!(pages.iter().all(|page| page.contains("Draft")));
}

#[track_caller]
fn refused(folder: &Folder, more: &[&str], code: i32, message: &str) {
    let run = [&["write", "job.toml", "--out", "out"], more].concat();
    folder.run(&run).code(code).err_is(message);
    assert_eq!(files(folder, "out"), Vec::<String>::new(), "nothing is written");
}

#[test]
fn a_care_sheet_is_refused_for_a_floor_that_is_not_offered() {
    let folder = Folder::new();
    refused(
        &folder,
        &["--paper", "leaflet", "--paper", "care", "--floor", "barier"],
        2,
        "error: the job offers no floor `barier`\n  help: did you mean `barrier`?",
    );
    refused(
        &folder,
        &["--paper", "care", "--floor", "fast-cure"],
        1,
        "error: `fast-cure` is not offered and cannot be laid as things are\n  help: `slableaf check` says why",
    );
    refused(
        &Folder::of("too-wet-yet"),
        &["--paper", "care"],
        1,
        "error: no floor is offered for this job yet\n  help: `slableaf check` says why",
    );
}

#[test]
fn an_option_that_no_paper_uses_is_refused() {
    refused(
        &Folder::new(),
        &["--with-prices"],
        2,
        "error: `--with-prices` is for the leaflet alone, which is not asked for\n  help: add `--paper leaflet`; the proposal always has its prices",
    );
    refused(
        &Folder::new(),
        &["--paper", "leaflet", "--floor", "barrier"],
        2,
        "error: `--floor` is for the care sheet alone, which is not asked for\n  help: add `--paper care`; the other papers hold every floor on offer",
    );
}

/// A leaflet for a slab that has to dry first says what to do first, and no day or price.
#[test]
fn a_leaflet_of_a_job_without_an_offer_says_what_to_do_first() {
    let leaflet = leaflet("too-wet-yet");
    let steps = paper("too-wet-yet").page["glance"]["next"].clone();
    assert_eq!(leaflet.page["next"][0], steps[0]);
    shows(&leaflet, "We can lay neither of the two floors on it as it is.");
    for floor in crate::documents::list(&leaflet.page["floors"]) {
        assert_eq!(floor["facts"], serde_json::json!([]));
    }
}

/// Every drawing has a text in its place, every table its head: found in the file's own structure.
#[test]
fn drawings_have_texts_and_tables_have_heads() {
    for (small, drawings) in [(leaflet("dry-and-quick"), 9), (care("dry-and-quick", "barrier"), 6)]
    {
        let document = lopdf::Document::load_mem(&small.pdf).unwrap();
        let mut figures = 0;
        let mut heads = 0;
        for object in document.objects.values() {
            let Ok(dictionary) = object.as_dict() else { continue };
            match dictionary.get(b"S").and_then(lopdf::Object::as_name) {
                Ok(b"Figure") => {
                    figures += 1;
                    let alt = dictionary.get(b"Alt").and_then(lopdf::Object::as_str).unwrap();
                    assert!(!alt.is_empty());
                }
                Ok(b"TH") => heads += 1,
                _ => {}
            }
        }
        // The logo is one more.
        assert_eq!(figures, drawings + 1);
        assert!(heads >= 3, "{heads}");
    }
}
