//! The pages of each example.

use super::figures::papers_and;
use super::pdf::strings;
use super::{PAPERS, Paper, has_money, letters, list, paper, texts, word};
use crate::fixture::*;
use crate::readers;
use serde_json::Value;
use std::fs;

/// Enough for all parts, and not more than one reads at a kitchen table; what is torn off is not among them.
/// Four priced floors take the most.
const PAGES: std::ops::RangeInclusive<usize> = 5..=17;

/// The number of pages that are counted, as each of them says.
fn counted(paper: &Paper) -> usize {
    let first = letters(&paper.pages[0]);
    let says = |pages: &usize| first.contains(&letters(&format!("Page 1 of {pages}")));
    (1..=paper.pages.len()).rev().find(says).expect("a number of pages")
}

#[test]
fn every_example_makes_a_paper_of_a_few_pages() {
    for (name, paper) in EXAMPLES.iter().zip(PAPERS.iter()) {
        let pages = counted(paper);
        assert!(PAGES.contains(&pages), "{name} has {pages} pages");
        // The back of a sheet before one that is torn off may be blank.
        let blank = paper.pages[..pages].iter().filter(|page| letters(page).len() <= 100).count();
        assert!(blank <= 1, "{name} has an empty page");
    }
}

/// Whoever sees an empty page on a screen learns that nothing is missing.
#[test]
fn a_blank_back_says_that_it_is_blank_on_purpose() {
    let said = letters("Left blank on purpose: each copy is a sheet of its own.");
    let mut seen = 0;
    for paper in PAPERS.iter() {
        for page in paper.pages.iter().map(|page| letters(page)) {
            assert_eq!(page.contains(&said), page.len() <= 130, "{page}");
            seen += usize::from(page.contains(&said));
        }
    }
    assert!(seen > 0, "no paper has a blank back");
}

#[test]
fn every_page_names_the_job_and_its_number() {
    for paper in PAPERS.iter() {
        let pages = counted(paper);
        for (at, page) in paper.pages.iter().enumerate() {
            let page = letters(page);
            assert!(page.contains(&letters(word(&paper.page["head"]["job"]))));
            let number = format!("Page {} of {pages}", at + 1);
            assert!(at >= pages || page.contains(&letters(&number)), "{page}");
        }
    }
}

/// A part that does not apply to a job is not there, its heading neither.
#[test]
fn every_part_stands_under_its_heading() {
    for (name, paper) in EXAMPLES.iter().zip(PAPERS.iter()) {
        let labels = paper.page["labels"].as_object().unwrap();
        let titles: Vec<(&str, &str)> = labels
            .iter()
            .filter_map(|(part, labels)| Some((part.as_str(), labels["title"].as_str()?)))
            .collect();
        assert_eq!(titles.len(), 10, "parts of a proposal: {titles:?}");
        let priced = !paper.page["plan"].is_null();
        for (part, title) in titles {
            let always = ["slab", "details", "safety", "sources", "terms"].contains(&part);
            assert_eq!(paper.shows(title), always || priced, "part `{title}` in {name}");
        }
    }
}

/// A label that no paper ever prints is a leftover, or a part that got lost.
#[test]
fn every_label_is_printed_somewhere() {
    let draft = Folder::new();
    // In the edition for a telephone, and in large print.
    draft.run(&["write", "job.toml", "--out", "out", "--draft", "--phone"]).success();
    let large = ["write", "job.toml", "--out", "large", "--draft", "--large-print"];
    draft.run(&large).success();
    let drafts = ["out/2026-0142-proposal-draft", "out/2026-0142-proposal-phone-draft"];
    let drafts = drafts.into_iter().chain(["large/2026-0142-proposal-draft"]);
    let drafts = drafts.map(|name| readers::pages(&draft.path(&format!("{name}.pdf"))).concat());
    let mut printed = letters(&drafts.collect::<String>());
    papers_and(|paper| printed.push_str(&paper.letters));
    // A paper on which every floor waits.
    printed.push_str(&Paper::of(&Folder::of("smallest")).letters);
    // And one of several spaces, of which one waits.
    printed.push_str(&super::spaces::WAITS.letters);
    let missing: Vec<String> = leaves(&PAPERS[0].page["labels"], "labels")
        .into_iter()
        // Words in braces are filled in.
        .filter(|(_, text)| {
            !text.split(['{', '}']).step_by(2).all(|part| printed.contains(&letters(part)))
        })
        .map(|(path, text)| format!("{path} = {text}"))
        .collect();
    assert!(missing.is_empty(), "never printed: {missing:#?}");
}

fn leaves<'a>(value: &'a Value, path: &str) -> Vec<(String, &'a str)> {
    match value {
        Value::Object(fields) => {
            fields.iter().flat_map(|(key, value)| leaves(value, &format!("{path}.{key}"))).collect()
        }
        Value::String(text) => vec![(path.to_owned(), text)],
        _ => vec![],
    }
}

#[test]
fn page_one_answers_what_how_much_how_long_and_how_damp() {
    for (name, floor, total, days, reading) in [
        ("two-car-barrier", "vapor-barrier floor", "$5,410.20", "2 days", "7.7 lb"),
        ("dry-and-quick", "fast-cure floor", "$4,808.48", "1 day", "1.6 lb"),
        ("metric-probes", "vapor-barrier floor", "€6,739.70", "2 days", "74% RH"),
    ] {
        let paper = paper(name);
        paper.page_one_must_show(&format!("We recommend the {floor}"));
        paper.page_one_must_show(total);
        paper.page_one_must_show(days);
        paper.page_one_must_show(reading);
        paper.page_one_must_show("Good until ");
    }
    paper("too-wet-yet").page_one_must_show("24.7 lb");
}

#[test]
fn page_one_says_what_is_not_known() {
    for (name, sentence) in [
        ("two-car-barrier", "We could not tell if a plastic sheet lies under your slab."),
        ("metric-probes", "We could not tell if a plastic sheet lies under your slab."),
        ("too-wet-yet", "We have no pull test, so we do not know how strong the surface is."),
    ] {
        paper(name).page_one_must_show(sentence);
    }
    for paper in PAPERS.iter() {
        for sentence in list(&paper.page["glance"]["unknown"]) {
            paper.page_one_must_show(word(sentence));
        }
    }
}

#[test]
fn page_one_says_what_can_hurt_somebody() {
    for paper in PAPERS.iter() {
        let hurt = list(&paper.page["glance"]["hurt"]);
        assert!(!hurt.is_empty());
        for sentence in hurt {
            paper.page_one_must_show(word(sentence));
        }
    }
}

/// Words of the trade stand with their meaning in the list of the last pages, where no sentence gives it.
#[test]
fn words_of_the_trade_have_their_meaning() {
    for paper in PAPERS.iter() {
        let terms = list(&paper.page["terms"]);
        assert!(!terms.is_empty());
        for term in terms {
            paper.must_show(&format!("{}: {}", word(&term["word"]), word(&term["means"])));
        }
    }
}

#[test]
fn an_invented_example_says_so_on_page_one() {
    for paper in PAPERS.iter() {
        paper.page_one_must_show("An invented example.");
    }
}

#[test]
fn a_paper_that_says_not_yet_has_no_price_and_nothing_to_sign() {
    let paper = paper("too-wet-yet");
    paper.page_one_must_show("Not yet");
    paper.page_one_must_show(word(&paper.page["labels"]["glance"]["next"]));
    paper.page_one_must_show(
        "Find where the water comes from, let the slab dry, and call us to test again.",
    );
    assert!(!has_money(&paper.text()), "an amount in {}", paper.text());
    assert!(texts(&paper.page).iter().all(|text| !has_money(text)), "an amount in the page data");
    assert!(!has_money(&strings(&paper.document())), "an amount in the file's own texts");
    let accept = &paper.page["labels"]["accept"];
    for label in ["sign", "options", "terms"] {
        assert!(!paper.shows(word(&accept[label])), "`{}` is on the pages", accept[label]);
    }
    assert!(list(&paper.page["accept"]["signatures"]).is_empty());
    assert!(paper.page["accept"]["cancellation"].is_null());
    assert!(paper.check["recommended"].is_null());
}

/// The finder of amounts finds amounts, or the test above says nothing.
#[test]
fn a_paper_with_an_offer_has_prices_and_lines_to_sign() {
    for name in ["two-car-barrier", "dry-and-quick", "metric-probes"] {
        let paper = paper(name);
        assert!(has_money(&paper.text()));
        paper.must_show(word(&paper.page["labels"]["accept"]["sign"]));
        assert!(list(&paper.page["accept"]["signatures"]).len() >= 2);
    }
}

pub fn temporary(bytes: &[u8]) -> tempfile::TempPath {
    let file = tempfile::NamedTempFile::new().unwrap();
    fs::write(file.path(), bytes).unwrap();
    file.into_temp_path()
}

#[test]
fn all_four_floors_are_priced_drawn_and_explained_in_the_examples() {
    for key in ["barrier", "fast-cure", "clear-epoxy", "water-kit"] {
        let priced = PAPERS.iter().any(|paper| {
            paper
                .floors()
                .iter()
                .any(|(floor, name)| floor["floor"] == key && paper.price_table(name).is_some())
        });
        assert!(priced, "no example's paper has a price for `{key}`");
    }
    let paper = paper("dry-and-quick");
    let stacks = list(&paper.page["layers"]["stacks"]);
    assert_eq!(stacks.len(), 4);
    for stack in stacks {
        paper.must_show(word(&stack["name"]));
        paper.must_show(word(&stack["summary"]));
        for coat in list(&stack["coats"]) {
            paper.must_show(word(&coat["name"]));
            paper.must_show(word(&coat["does"]));
        }
    }
    for way in list(&paper.page["compare"]["ways"]) {
        for sentence in [&way["better_at"], &way["harder_at"]].into_iter().flat_map(list) {
            paper.must_show(word(sentence));
        }
        paper.must_show(word(&way["choose_if"]));
    }
}
