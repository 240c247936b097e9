//! Scores of the papers by published instruments: every word that earns a point stands on its paper, the sums
//! follow from the items, and each paper reaches the bound that its file names.
//!
//! The instruments and where their items were read are named at the head of each file of scores.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use serde::Deserialize;

use crate::documents::{files, letters, paper};
use crate::fixture::Folder;
use crate::readers;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Scores {
    instrument: String,
    source: String,
    date: toml::value::Datetime,
    rater: String,
    claims: String,
    scoring: String,
    items: BTreeMap<String, String>,
    papers: BTreeMap<String, PaperScores>,
    #[serde(default)]
    questions: BTreeMap<String, Answers>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PaperScores {
    paper: String,
    example: String,
    bounds: BTreeMap<String, Bound>,
    scores: BTreeMap<String, Item>,
}

/// What a paper is to reach on a scale, in points of a hundred.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Bound {
    aim: usize,
    bound: usize,
    #[serde(default)]
    short_of: String,
}

/// What an item got; each has one reason.
#[derive(Deserialize)]
#[serde(untagged, deny_unknown_fields)]
enum Item {
    Earned { score: usize, words: String },
    Lost { score: usize, why: String },
    Trial { score: usize, trial: String },
    NotApplicable { na: String },
}

/// What a reader of the picture of page one alone took from it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Answers {
    recommended: String,
    reason: String,
    price: String,
    when: String,
    next: String,
}

const CLEAR: &str = include_str!("judges/scores/clear-communication.toml");
const PEMAT: &str = include_str!("judges/scores/pemat-p.toml");
const IPDAS: &str = include_str!("judges/scores/ipdas.toml");

/// The number of items of each instrument: 20; 17 on understanding and 7 on acting; 6, 6 and 23.
static ALL: LazyLock<[(Scores, usize); 3]> = LazyLock::new(|| {
    [(CLEAR, 20), (PEMAT, 24), (IPDAS, 35)]
        .map(|(text, items)| (toml::from_str(text).unwrap_or_else(|e| panic!("{e}")), items))
});

/// Everything that the scored papers say, each written once, without white space and hyphens.
static SAID: LazyLock<BTreeMap<(&str, &str), String>> = LazyLock::new(|| {
    let papers = ALL.iter().flat_map(|(scores, _)| scores.papers.values());
    let names: BTreeSet<_> = papers.map(|one| (one.paper.as_str(), one.example.as_str())).collect();
    names.into_iter().map(|name| (name, letters(&text_of(name.0, name.1)))).collect()
});

fn text_of(name: &str, example: &str) -> String {
    let folder = Folder::of(example);
    let written = |end: &str| {
        let name = files(&folder, "out").into_iter().find(|name| name.ends_with(end)).unwrap();
        folder.path("out").join(name)
    };
    match name {
        "proposal" => paper(example).pages.concat(),
        "mail" => {
            folder.run(&["mail", "job.toml", "--out", "out"]).success();
            std::fs::read_to_string(written(".txt")).unwrap()
        }
        "handover" => crate::after::handover_text(),
        _ => {
            folder.run(&["write", "job.toml", "--out", "out", "--paper", name]).success();
            readers::pages(&written(".pdf")).concat()
        }
    }
}

/// The scale that an item counts for.
fn scale_of(instrument: &str, item: &str) -> &'static str {
    const TO_ACT: &[&str] =
        &["action", "you", "steps", "tool", "sum_help", "chart_help", "picture_help"];
    match instrument.split([' ', ',']).next() {
        Some("Clear") => "index",
        Some("PEMAT-P") if TO_ACT.contains(&item) => "act",
        Some("PEMAT-P") => "understand",
        _ if item.starts_with("q_") => "qualifying",
        _ if item.starts_with("c_") => "certifying",
        _ => "quality",
    }
}

#[test]
fn every_word_that_earns_a_point_is_on_its_paper() {
    let mut missing = vec![];
    for (scores, _) in ALL.iter() {
        for (name, one) in &scores.papers {
            let said = &SAID[&(one.paper.as_str(), one.example.as_str())];
            for (item, score) in &one.scores {
                if let Item::Earned { words, .. } = score
                    && (words.is_empty() || !said.contains(&letters(words)))
                {
                    missing.push(format!("{}, {name}, {item}: {words}", scores.instrument));
                }
            }
        }
    }
    assert!(missing.is_empty(), "{missing:#?}");
}

#[test]
fn every_item_is_scored_on_every_paper_with_its_reason() {
    for (scores, items) in ALL.iter() {
        assert_eq!(scores.items.len(), *items, "{}", scores.instrument);
        for text in [&scores.source, &scores.rater, &scores.claims, &scores.scoring] {
            assert!(!text.is_empty(), "{}", scores.instrument);
        }
        assert!(scores.date.date.is_some(), "{}", scores.instrument);
        for (name, one) in &scores.papers {
            let scored: Vec<_> = one.scores.keys().collect();
            assert_eq!(scored, scores.items.keys().collect::<Vec<_>>(), "{name}");
            for (item, score) in &one.scores {
                let so = match score {
                    Item::Earned { score, words } => *score == 1 && !words.is_empty(),
                    Item::Lost { score, why } => *score == 0 && !why.is_empty(),
                    Item::Trial { score, trial } => *score == 0 && !trial.is_empty(),
                    Item::NotApplicable { na } => !na.is_empty(),
                };
                assert!(so, "{name}, {item}");
            }
        }
    }
}

#[test]
fn every_paper_reaches_its_bound_and_says_of_what_it_is_short() {
    for (scores, _) in ALL.iter() {
        for (name, one) in &scores.papers {
            let mut sums: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
            for (item, score) in &one.scores {
                let (points, of) = sums.entry(scale_of(&scores.instrument, item)).or_default();
                match score {
                    Item::Earned { .. } => (*points, *of) = (*points + 1, *of + 1),
                    Item::Lost { .. } => *of += 1,
                    Item::Trial { .. } | Item::NotApplicable { .. } => {}
                }
            }
            let scales: Vec<_> = one.bounds.keys().map(String::as_str).collect();
            assert_eq!(scales, sums.keys().copied().collect::<Vec<_>>(), "{name}");
            for (scale, (points, of)) in sums {
                let Bound { aim, bound, short_of } = &one.bounds[scale];
                let said = format!("{}, {name}, {scale}: {points} of {of}", scores.instrument);
                assert!(points * 100 >= bound * of, "{said}, not {bound} of a hundred");
                assert_eq!(points * 100 < aim * of, !short_of.is_empty(), "{said}: {short_of}");
                assert!(
                    bound >= aim || points * 100 < (bound + 1) * of,
                    "{said} is more than {bound}"
                );
            }
        }
    }
}

#[test]
fn a_reader_of_page_one_alone_has_five_answers() {
    let [(clear, _), ..] = &*ALL;
    let asked: Vec<_> = clear.questions.keys().map(String::as_str).collect();
    assert_eq!(asked, ["A", "B", "C"]);
    for (name, answers) in &clear.questions {
        let Answers { recommended, reason, price, when, next } = answers;
        for answer in [recommended, reason, price, when, next] {
            assert!(answer.split_whitespace().count() >= 2, "{name}: {answer}");
        }
    }
}
