//! Words of the trade with their meaning: which of them a text uses, and which it does not explain.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// A word of the trade that a homeowner may not know.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Term {
    /// The term as a paper prints it.
    pub word: String,
    /// Its meaning, in a few plain words that stand behind a colon.
    pub means: String,
    /// Forms by which a text is known to use it.
    #[serde(skip_serializing)]
    found: Forms,
    /// Words with which a paper may tell its meaning by itself.
    #[serde(skip_serializing)]
    told: Forms,
}

/// Forms of one or more whole words, in small letters; in a file they stand between bars.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(from = "String")]
struct Forms(Vec<String>);

impl From<String> for Forms {
    fn from(text: String) -> Self {
        let forms = text.split('|').map(|form| form.trim().to_lowercase());
        Self(forms.filter(|form| !form.is_empty()).collect())
    }
}

impl Forms {
    /// The first place of a form in a text of small letters, as a byte.
    fn first_in(&self, text: &str) -> Option<usize> {
        self.0.iter().filter_map(|form| whole(text, form)).min()
    }
}

/// The first place where a form stands in a text as whole words.
fn whole(text: &str, form: &str) -> Option<usize> {
    text.match_indices(form).map(|(at, _)| at).find(|at| {
        let before = text[..*at].chars().next_back();
        let after = text[at + form.len()..].chars().next();
        // `fast-cure` is a name and no use of `cure`.
        ![before, after].iter().flatten().any(|c| c.is_alphanumeric() || *c == '-')
    })
}

/// All terms of a language, in the order of their words.
#[derive(Debug, Clone)]
pub struct Terms(Vec<Term>);

impl From<BTreeMap<String, Term>> for Terms {
    fn from(terms: BTreeMap<String, Term>) -> Self {
        let mut terms: Vec<Term> = terms.into_values().collect();
        terms.sort_by_key(|term| term.word.to_lowercase());
        Self(terms)
    }
}

impl Terms {
    pub fn all(&self) -> &[Term] {
        &self.0
    }

    /// Returns the terms that a text uses, in the order of their words.
    pub fn used_in(&self, text: &str) -> Vec<&Term> {
        let text = small(text);
        self.0.iter().filter(|term| term.found.first_in(&text).is_some()).collect()
    }

    /// Returns the terms that a text uses and does not explain by the end of the sentence in which
    /// each stands first, in the order of their words.
    pub fn unexplained_in(&self, text: &str) -> Vec<&Term> {
        let text = small(text);
        let unexplained = |term: &&Term| {
            let Some(used) = term.found.first_in(&text) else { return false };
            let rest = &text[used..];
            let end = [". ", "? ", "\n"].iter().filter_map(|end| rest.find(end)).min();
            let sentence = used + end.unwrap_or(rest.len());
            let told = [&term.told, &Forms::from(term.means.clone())];
            !told.iter().filter_map(|told| told.first_in(&text)).any(|at| at < sentence)
        };
        self.0.iter().filter(unexplained).collect()
    }
}

/// A text in small letters with plain spaces.
fn small(text: &str) -> String {
    text.to_lowercase().replace('\u{a0}', " ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::layouts::Layouts;
    use crate::say::words::Words;

    fn words_of(found: &[&Term]) -> Vec<String> {
        found.iter().map(|term| term.word.clone()).collect()
    }

    fn english() -> Terms {
        Words::read(&Layouts::default(), "en").expect("words").terms
    }

    #[test]
    fn a_term_is_found_as_whole_words_in_any_case() {
        let terms = english();
        let used = terms.used_in("UV-stable Topcoat, 12\u{a0}mils; a family of psittacines.");
        assert_eq!(words_of(&used), ["mil", "topcoat", "UV-stable"]);
        assert!(terms.used_in("We seal the door.").is_empty());
    }

    #[test]
    fn a_meaning_counts_only_up_to_the_end_of_the_sentence() {
        let terms = english();
        let early = "These chemicals can cause asthma. They are isocyanates.";
        assert!(terms.unexplained_in(early).is_empty());
        let same = "Some coats contain isocyanates, which can cause asthma. Stay out.";
        assert!(terms.unexplained_in(same).is_empty());
        let late = "Some coats contain isocyanates. They can cause asthma.";
        assert_eq!(words_of(&terms.unexplained_in(late)), ["isocyanates"]);
    }
}
