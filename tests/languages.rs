//! Every language says all that English says, and no English is left in it.

use std::collections::BTreeMap;

use serde_json::Value;
use slableaf::base::layouts::Layouts;
use slableaf::say::words::Words;

use crate::fixture::Folder;

const EXAMPLES: [&str; 6] = [
    "two-car-barrier",
    "dry-and-quick",
    "too-wet-yet",
    "metric-probes",
    "smallest",
    "three-spaces",
];

fn others() -> Vec<String> {
    let mut languages = Layouts::default().languages();
    languages.retain(|language| language != "en");
    assert!(!languages.is_empty());
    languages
}

/// The wording files of a language, by name, without those that only the shop reads.
fn files(language: &str) -> BTreeMap<String, toml::Value> {
    let folder = format!("words/{language}/");
    Layouts::default()
        .below(&folder)
        .map(|(path, text)| (path[folder.len()..].to_owned(), text.parse::<toml::Table>().unwrap()))
        .filter(|(name, _)| !name.starts_with("explain-") && !name.starts_with("interview"))
        .map(|(name, table)| (name, toml::Value::Table(table)))
        .collect()
}

/// Every text of a file with the way to it.
fn texts(value: &toml::Value, at: &str, found: &mut BTreeMap<String, String>) {
    match value {
        toml::Value::String(text) => {
            found.insert(at.to_owned(), text.clone());
        }
        toml::Value::Table(table) => {
            table.iter().for_each(|(key, value)| texts(value, &format!("{at}.{key}"), found));
        }
        toml::Value::Array(list) => {
            list.iter()
                .enumerate()
                .for_each(|(n, value)| texts(value, &format!("{at}.{n}"), found));
        }
        _ => {}
    }
}

fn all_texts(language: &str) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    files(language).iter().for_each(|(name, value)| texts(value, name, &mut found));
    found
}

#[test]
fn every_language_has_every_text() {
    let english = all_texts("en");
    for language in others() {
        let own = all_texts(&language);
        // A source may be put otherwise than the check puts it.
        let added = |key: &&String| !english.contains_key(*key) && !key.ends_with(".source");
        let missing: Vec<&String> = english.keys().filter(|key| !own.contains_key(*key)).collect();
        assert!(missing.is_empty(), "{language} lacks {missing:#?}");
        let unknown: Vec<&String> = own.keys().filter(added).collect();
        assert!(unknown.is_empty(), "{language} has {unknown:#?}");
        Words::read(&Layouts::default(), &language).unwrap();
    }
}

/// The values that a template uses.
fn used(text: &str) -> Vec<String> {
    let mut names: Vec<String> = text
        .split("{{")
        .skip(1)
        .filter_map(|rest| rest.split("}}").next())
        .map(|inside| inside.split('|').next().unwrap().trim().to_owned())
        // A option between words of the language.
        .filter(|inside| !inside.contains('\''))
        .collect();
    names.sort();
    names.dedup();
    names
}

#[test]
fn a_text_uses_no_value_that_the_english_one_does_not_get() {
    let english = all_texts("en");
    for language in others() {
        for (key, text) in all_texts(&language) {
            let Some(original) = english.get(&key) else { continue };
            for name in used(&text) {
                assert!(original.contains(&name), "{language}: {key} uses `{name}`");
            }
        }
    }
}

/// Texts of three words or more that are the same in both: names of standards and the like.
#[test]
fn no_text_is_left_in_english() {
    let english = all_texts("en");
    for language in others() {
        for (key, text) in all_texts(&language) {
            let plain: String =
                text.chars().map(|c| if c.is_alphabetic() { c } else { ' ' }).collect();
            let words = plain.split_whitespace().filter(|word| word.len() > 2).count();
            let same = english.get(&key) == Some(&text);
            // Words of the program and no text: the same in all languages.
            if key.ends_with(".priced") && key.starts_with("checks-") {
                assert!(same, "{language}: {key} = {text}");
                continue;
            }
            assert!(!same || words < 4 || text.contains("{{"), "{language}: {key} = {text}");
        }
    }
}

/// Words that no Spanish sentence holds.
const ENGLISH: &[&str] = &[
    "the", "and", "your", "with", "from", "this", "that", "of", "floor", "slab", "is", "are",
    "for", "not", "day", "days", "at", "or", "we", "you",
];

fn strings<'a>(value: &'a Value, found: &mut Vec<&'a str>) {
    match value {
        Value::String(text) => found.push(text),
        Value::Array(items) => items.iter().for_each(|item| strings(item, found)),
        Value::Object(fields) => fields.values().for_each(|field| strings(field, found)),
        _ => {}
    }
}

#[test]
fn a_paper_in_another_language_holds_no_english_of_ours() {
    for language in others() {
        for example in EXAMPLES {
            let folder = Folder::of(example).replace(
                "shop.toml",
                "language = \"en\"",
                &format!("language = \"{language}\""),
            );
            folder.run(&["write", "job.toml", "--draft", "--page-data", "--out", "out"]).success();
            let inputs: String =
                ["job.toml", "book.toml", "shop.toml"].map(|name| folder.read(name)).concat();
            let mut typed_parts: Vec<&str> =
                inputs.lines().flat_map(|line| line.split('"').skip(1).step_by(2)).collect();
            typed_parts.retain(|part| part.len() > 3);
            typed_parts.sort_by_key(|part| std::cmp::Reverse(part.len()));
            let mut pages = std::fs::read_dir(folder.path("out")).unwrap();
            let page = pages
                .find_map(|entry| {
                    let path = entry.unwrap().path();
                    path.to_string_lossy().ends_with(".json").then_some(path)
                })
                .unwrap();
            let page: Value = serde_json::from_slice(&std::fs::read(page).unwrap()).unwrap();
            let mut found = vec![];
            strings(&page, &mut found);
            assert!(found.len() > 150);
            for text in found {
                // What a person typed is taken out, the longest first.
                let mut left = text.to_owned();
                for part in &typed_parts {
                    left = left.replace(part, "");
                }
                let words: Vec<&str> =
                    left.split(|c: char| !c.is_alphabetic()).filter(|w| !w.is_empty()).collect();
                let english: Vec<&&str> =
                    words.iter().filter(|word| ENGLISH.contains(word)).collect();
                assert!(english.len() < 2, "{language}, {example}: {english:?} in `{text}`");
            }
        }
    }
}
