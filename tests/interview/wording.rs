//! The words of questions and choices.

use super::{TEXT, Visit};
use slableaf::interview::{InterviewKind, Question};
use std::collections::{BTreeMap, BTreeSet};

/// Answers every question with something, so that all ways are gone.
pub fn all_ways(visit: &mut Visit<'_>, shape: &str, seen: &mut impl FnMut(&Question)) {
    let mut examples: BTreeMap<String, String> = BTreeMap::new();
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
            (_, "another") => ["", "yes", "no"][n - 1],
            (_, "shape") => shape,
            ("cutout", "corner") => ["0 ft, 0 ft", "1 ft, 0 ft", "1 ft, 1 ft", ""][n - 1],
            (_, "corner") => &corners[n - 1],
            ("cutout" | "steps", "at") => "1 ft, 1 ft",
            ("cutout", "length" | "width") => "1 ft",
            ("moisture", "method") => "both",
            ("dish", "surface") => "ground",
            ("sheet", "found") => "dry",
            ("slab", "poured") => "1994",
            ("spall", "area") if shape == "corners" => "",
            ("job", "offer") => "barrier, clear-epoxy",
            ("photo", "file") if n == 1 => "1",
            ("customer" | "garage" | "shop" | "job" | "photo", _) if n > 2 => "",
            _ if question.enter.is_some() && !examples.contains_key(&named) => "",
            _ => examples.get(&named).map_or("A name", String::as_str),
        };
        seen(&question);
        visit.takes(line);
    }
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
