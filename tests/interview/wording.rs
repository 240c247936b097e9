//! The words of questions and choices.

use super::{LAID, POURED, TEXT, TODAY, Visit, WORDS};
use slableaf::base::layouts::Layouts;
use slableaf::base::source::SourceFile;
use slableaf::interview::{InterviewKind, Question, Setting, neutral};
use slableaf::read::Shared;
use std::collections::{BTreeMap, BTreeSet};

/// Answers every question with something, so that all ways are gone.
pub fn all_ways(visit: &mut Visit<'_>, shape: &str, seen: &mut impl FnMut(&Question)) {
    let mut examples: BTreeMap<String, String> = BTreeMap::new();
    let other = shape == "pigment" || shape == "film";
    let shape = if shape == "film" { "liquid" } else { shape };
    while let Some(question) = visit.interview.ask().unwrap() {
        let mut parts = question.id.split(' ');
        let named = parts.next().unwrap().to_owned();
        let n: usize = parts.next_back().map_or(1, |n| n.parse().unwrap());
        let list: usize = parts.next().map_or(1, |list| list.parse().unwrap());
        // Each further area lies beside the one before.
        let (from, to) = (40 * (list - 1), 40 * list - 10);
        let corners = [
            format!("{from} ft, 0 ft"),
            format!("{to} ft, 0 ft"),
            format!("{to} ft, 30 ft"),
            String::new(),
        ];
        examples.extend(question.example.clone().map(|example| (named.clone(), example)));
        let (group, key) = named.split_once('.').unwrap();
        let line = match (group, key) {
            (_, "any") => "yes",
            ("coat", "another") => {
                if n < 5 {
                    "yes"
                } else {
                    "no"
                }
            }
            (_, "another") => ["", "yes", "no"][n - 1],
            (_, "shape") => shape,
            ("cutout", "corner") => ["0 ft, 0 ft", "1 ft, 0 ft", "1 ft, 1 ft", ""][n - 1],
            (_, "corner") => &corners[n - 1],
            ("cutout" | "steps", "at") => "1 ft, 1 ft",
            ("cutout", "length" | "width") => "1 ft",
            ("moisture", "method") => "both",
            ("more", "what") => "color, contact, second-email, stay, item, discount, tax-exempt",
            ("dish", "surface") => "ground",
            ("sheet", "found") => "dry",
            ("slab", "poured") => "1994",
            ("spall", "area") if shape == "corners" => "",
            ("job", "offer") => "barrier, clear-epoxy",
            ("photo", "file") if n == 1 => "1",
            ("customer" | "garage" | "shop" | "job" | "photo", _) if n > 2 => "",
            // Each kind of product, each kind of coat, and both ways where an answer opens others.
            ("product", "kind") => shape,
            ("product", "key") => "a-new-one",
            ("resin", "spread") | ("pigment", "dose") if other => "",
            ("resin", "allergy" | "solvent" | "barrier") => "yes",
            ("resin", "moisture-test") => "either",
            ("resin", "sensitizers") => "1",
            ("resin", "opaque" | "water-based" | "uv-stable" | "isocyanate") => "no",
            ("filler", "flexible") => "no",
            ("coat", "product") => ["level-epoxy", "chips", "grit-fine", "matte-urethane"][n - 1],
            ("coat", "look") if n == 1 => "solid",
            ("coat", "pigment" | "broadcast" | "grit") => "1",
            ("coat", "spread") if n == 1 => "",
            ("coat", "is-extra") => "yes",
            ("payment", "share") => ["10 %", "40 %", "50 %"][n - 1],
            ("words", _) if n > 2 => "",
            ("laid", "batches" | "films") if n > 2 => "",
            _ if question.enter.is_some() && !examples.contains_key(&named) => "",
            _ => examples.get(&named).map_or("A name", String::as_str),
        };
        seen(&question);
        visit.takes(line);
    }
}

/// The setting of poured floors with a flake in the book.
fn with_chips() -> Setting {
    let chips = "\n[[product]]\nkey = \"chips\"\nname = \"Chips\"\nkit = [{ size = \"40 lb\", price = \"$100\" }]\n\n\
        [product.flake]\nfull = \"0.15 lb/ft2\"\nscattered = \"0.03 lb/ft2\"\nthickness = \"20 mil\"\n";
    let text = format!("{}{chips}", POURED.below);
    let (_, shop) = neutral();
    let book = SourceFile { name: "book.toml".into(), text };
    let shared = Shared::read(&book, &shop, &Layouts::default().source_files("systems/"));
    Setting::new("systems/new.toml".into(), TODAY, shared, &WORDS)
}

/// Every question has words, and all words have a question.
#[test]
fn every_question_has_its_words_and_all_words_are_asked() {
    let mut asked = BTreeSet::new();
    for shape in ["rectangle", "corners"] {
        for kind in [InterviewKind::Job, InterviewKind::Shop, InterviewKind::Book] {
            let mut visit = Visit::new(kind);
            all_ways(&mut visit, shape, &mut |question| {
                asked.insert(question.id.split(' ').next().unwrap().to_owned());
            });
            assert_eq!(visit.interview.troubles().unwrap(), [], "{kind:?}, {shape}");
        }
    }
    for kind in ["liquid", "film", "flake", "filler", "pigment", "grit"] {
        let mut visit = Visit::within(&POURED, InterviewKind::Product);
        all_ways(&mut visit, kind, &mut |question| {
            asked.insert(question.id.split(' ').next().unwrap().to_owned());
        });
        assert_eq!(visit.interview.troubles().unwrap(), [], "{kind}");
    }
    let mut doses = Visit::within(&POURED, InterviewKind::Product);
    doses.with(&[
        ("product.kind", "pigment"),
        ("product.name", "Red"),
        ("kit.mass 1", "2 lb"),
        ("kit.price 1", "30"),
        ("pigment.dose", "0.5 lb/gal"),
    ]);
    let chips = with_chips();
    let mut visit = Visit::within(&chips, InterviewKind::System);
    all_ways(&mut visit, "rectangle", &mut |question| {
        asked.insert(question.id.split(' ').next().unwrap().to_owned());
    });
    assert_eq!(visit.interview.troubles().unwrap(), []);
    let mut visit = Visit::within(&LAID, InterviewKind::Laid);
    all_ways(&mut visit, "rectangle", &mut |question| {
        asked.insert(question.id.split(' ').next().unwrap().to_owned());
    });
    assert_eq!(visit.interview.troubles().unwrap(), []);
    let told: BTreeSet<String> = TEXT
        .ask
        .iter()
        .flat_map(|(group, keys)| keys.keys().map(move |key| format!("{group}.{key}")))
        .collect();
    assert_eq!(asked, told);
}

#[test]
fn every_choice_says_what_it_means() {
    for kind in [InterviewKind::Job, InterviewKind::Shop, InterviewKind::Book] {
        let mut visit = Visit::new(kind);
        all_ways(&mut visit, "rectangle", &mut |question| {
            // Names of files and of days of the week say what they are.
            let plain = ["photo.file 1", "photo.file 2", "calendar.closed"];
            for (word, meaning) in &question.choices {
                let named = plain.contains(&question.id.as_str());
                assert!(named || !meaning.is_empty(), "{}: {word}", question.id);
            }
        });
    }
}
