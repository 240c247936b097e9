//! Words of the trade: their meanings are short, and the same terms are in every language.

use std::collections::BTreeSet;

use slableaf::base::layouts::Layouts;
use slableaf::say::words::Words;

/// The most words that a meaning may have, so that it fits behind its term on one line.
const MEANING_WORDS: usize = 14;

fn languages() -> Vec<Words> {
    let layouts = Layouts::default();
    let read = |language: &String| Words::read(&layouts, language).unwrap();
    layouts.languages().iter().map(read).collect()
}

#[test]
fn every_meaning_is_short_and_no_sentence() {
    for words in languages() {
        for term in words.terms.all() {
            let count = term.means.split_whitespace().count();
            assert!(count <= MEANING_WORDS, "{}: {count} words: {}", term.word, term.means);
            assert!(!term.means.ends_with('.'), "{}", term.word);
        }
    }
}

#[test]
fn a_term_is_found_by_its_own_word_and_by_no_other() {
    for words in languages() {
        let mut seen = BTreeSet::new();
        for term in words.terms.all() {
            let found = words.terms.used_in(&term.word);
            assert!(found.contains(&term), "{} is not found by its word", term.word);
            assert!(seen.insert(&term.word), "{} twice", term.word);
        }
    }
}
