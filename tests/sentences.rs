//! Every sentence that the program names is in the words of the pages.

use slableaf::judge::checks::{CHECKS, Severity};
use slableaf::judge::recommend::{Band, Concern, MoistureRank, RuleStep};
use slableaf::model::job::{OldCoating, Wish};
use slableaf::say::acts::Priced;

use crate::tidy::{code, files_below, text};

use crate::fixture::words;

/// Names in quotes, such as `glance.price` or `severity.{}`, with the file that holds each.
fn names_in_code(parts: &[&str]) -> Vec<(String, String)> {
    let mut names = vec![];
    for path in files_below("src/papers").into_iter().chain(files_below("src/say")) {
        let code = code(&text(&path));
        for quoted in code.split('"').skip(1).step_by(2) {
            let plain = |c: char| c.is_ascii_alphanumeric() || "._-{}".contains(c);
            let part = quoted.split_once('.').map(|(part, _)| part);
            let of_pages = part.is_some_and(|part| parts.contains(&part));
            if of_pages
                && quoted.chars().all(plain)
                && !quoted.ends_with("ml")
                && !quoted.ends_with('.')
            {
                names.push((quoted.to_owned(), path.display().to_string()));
            }
        }
    }
    names
}

/// True for a name that a pattern such as `crew.ticks.{moment}.title` stands for.
fn is_like(name: &str, pattern: &str) -> bool {
    let (name, pattern) = (name.split('.'), pattern.split('.'));
    name.clone().count() == pattern.clone().count()
        && name.zip(pattern).all(|(name, pattern)| match pattern.split_once('{') {
            None => name == pattern,
            Some((before, _)) => name.starts_with(before),
        })
}

#[test]
fn every_sentence_that_the_code_names_is_in_the_words() {
    let words = words();
    let mut parts: Vec<&str> = words.names().filter_map(|name| name.split('.').next()).collect();
    parts.dedup();
    let named = names_in_code(&parts);
    assert!(named.len() > 300, "{} names found", named.len());
    for (name, file) in named {
        assert!(words.names().any(|known| is_like(known, &name)), "{file}: `{name}`");
    }
}

/// Names that the code puts together from a part and the word of a value.
#[test]
fn every_value_with_a_sentence_of_its_own_has_one() {
    let words = words();
    let known = |part: &str, word: &str| {
        let name = format!("{part}.{word}");
        assert!(words.names().any(|known| known == name), "`{name}`");
    };
    for check in CHECKS {
        check.severities.iter().for_each(|severity: &Severity| known("severity", severity.word()));
    }
    Priced::WORDS.iter().for_each(|(word, _)| known("acts", word));
    Concern::WORDS.iter().for_each(|(word, _)| known("compare.concern", word));
    OldCoating::WORDS.iter().for_each(|(word, _)| known("slab", word));
    Wish::WORDS.iter().for_each(|(word, _)| known("compare.wish", word));
    Wish::WORDS.iter().for_each(|(word, _)| known("wish.said", word));
    for band in [Band::Little, Band::Some, Band::Much] {
        known("rule.room", band.word());
    }
    use MoistureRank::{Clear, Close, CloseSafe, NotJudged, NotJudgedSafe, Over};
    for rank in [Clear, CloseSafe, NotJudgedSafe, Close, NotJudged, Over] {
        known("rule.rank", rank.word());
    }
    for step in
        [RuleStep::NotOffered, RuleStep::Moisture, RuleStep::LowestPrice, RuleStep::OrderOfOffer]
    {
        known("rule", step.word());
    }
}
