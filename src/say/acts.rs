//! The acts that answer a finding: the shop's part, the homeowner's, and whether the shop's part
//! is in the price.
//!
//! The sentences are in the files of words. What is promised there has to be what the estimate
//! holds: grinding, an old coating that comes off and all that the job lists for repair have hours
//! and material in it. Tests, and oil, salts or weak concrete that come out, have none.

use minijinja::Value;

use crate::base::names::choices;
use crate::judge::checks::{Check, FindingPlace};
use crate::read::suggest::in_backquotes;
use crate::say::template::fill;
use crate::say::words::{CheckText, WordsError};

choices! {
    /// The answer to whether the shop's part about a finding is in the price.
    Priced {
        /// The price holds it, or it costs nothing.
        InPrice = "in-price",
        /// It has to be done, and the price does not hold it.
        NotInPrice = "not-in-price",
        /// The price holds one round of it; more has to be paid for.
        OnceInPrice = "once-in-price",
        /// It is done for a customer who asks for it, at a price of its own.
        OnRequest = "on-request",
    }
}

/// The part of each side about a finding. At least one of the two does something.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Acts {
    /// The shop's part; may be empty.
    pub we: String,
    /// The homeowner's part; may be empty.
    pub you: String,
    /// `None` where the shop does nothing, and where the finding is for the shop alone.
    pub priced: Option<Priced>,
}

impl Acts {
    /// The acts of a check's words, with a finding's values put in.
    ///
    /// # Errors
    /// [`WordsError`] when a template cannot be filled in, when nobody acts, when `priced` is none of
    /// the known words, or when it does not go with what the shop does.
    pub fn of(text: &CheckText, check: &Check, values: &Value) -> Result<Self, WordsError> {
        let place = format!("checks: {}", check.name);
        let wrong = |message: String| Err(WordsError::new(&place, message));
        let filled = |template: &str| fill(template, values, &place);
        let (we, you, word) = (filled(&text.we)?, filled(&text.you)?, filled(&text.priced)?);
        if we.is_empty() && you.is_empty() {
            return wrong("`we` and `you` are empty: say who does something about it".to_owned());
        }
        let priced = Priced::WORDS.iter().find(|(known, _)| *known == word).map(|(_, one)| *one);
        let known = || in_backquotes(Priced::WORDS.iter().map(|(word, _)| *word));
        match (priced, !we.is_empty() && check.place != FindingPlace::Shop) {
            (Some(_), true) => {}
            (None, false) if word.is_empty() => {}
            (None, _) if !word.is_empty() => {
                return wrong(format!("`priced` is `{word}`, which is none of {}", known()));
            }
            (None, _) => {
                return wrong(format!("`we` says what is done, so `priced` has to be {}", known()));
            }
            (Some(_), false) => {
                return wrong(format!("`priced` is `{word}`, and there is nothing to price"));
            }
        }
        Ok(Self { we, you, priced })
    }
}

#[cfg(test)]
mod tests {
    use std::collections::{BTreeMap, BTreeSet};

    use minijinja::Environment;

    use super::*;
    use crate::base::layouts::Layouts;
    use crate::judge::checks::{CHECKS, check};
    use crate::say::words::Words;

    fn acts(name: &str, we: &str, you: &str, priced: &str) -> Result<Acts, String> {
        let text =
            format!("title = ''\nsays = ''\nwe = '{we}'\nyou = '{you}'\npriced = '{priced}'");
        let text: CheckText = toml::from_str(&text).unwrap();
        let values = Value::from_pairs([("severity", "note")]);
        Acts::of(&text, check(name).unwrap(), &values).map_err(|error| error.message)
    }

    #[test]
    fn what_the_shop_does_is_priced_and_what_the_homeowner_does_is_not() {
        for (word, priced) in Priced::WORDS {
            let found = acts("oil", "We grind.", "", word).unwrap();
            assert_eq!(found.priced, Some(*priced));
        }
        assert_eq!(acts("oil", "", "Ask.", "").unwrap().priced, None);
        assert!(acts("oil", "We grind.", "", "").unwrap_err().contains("has to be"));
        assert!(acts("oil", "", "Ask.", "in-price").unwrap_err().contains("nothing to price"));
        assert!(acts("oil", "We grind.", "", "free").unwrap_err().contains("none of"));
    }

    /// Every way to fill in templates: each value that one of them compares with and one that none
    /// does, for every severity of the check, and any text for a figure.
    fn cases(check: &Check, templates: &[&str]) -> Vec<BTreeMap<String, String>> {
        let mut compared: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        let mut figures = BTreeSet::new();
        for template in templates {
            let tokens: Vec<&str> = template.split_whitespace().collect();
            for three in tokens.windows(3) {
                if let (name, "==" | "!=", word) = (three[0], three[1], three[2]) {
                    let known = compared.entry(name).or_insert_with(|| ["another"].into());
                    known.insert(word.split('\'').nth(1).unwrap());
                }
            }
            let environment = Environment::new();
            let template = environment.template_from_str(template).unwrap();
            figures.extend(template.undeclared_variables(false));
        }
        compared.insert("severity", check.severities.iter().map(|s| s.word()).collect());
        let any: BTreeMap<String, String> =
            figures.into_iter().map(|name| (name, "a figure".to_owned())).collect();
        compared.into_iter().fold(vec![any], |all, (name, words)| {
            let with = |case: &BTreeMap<String, String>, word: &str| {
                let mut case = case.clone();
                case.insert(name.to_owned(), word.to_owned());
                case
            };
            all.iter().flat_map(|case| words.iter().map(move |word| with(case, word))).collect()
        })
    }

    #[test]
    fn in_every_case_of_every_check_somebody_acts_and_the_shops_part_is_priced() {
        let layouts = Layouts::default();
        for language in layouts.languages() {
            let words = Words::read(&layouts, &language).unwrap();
            for check in CHECKS {
                let text = &words.checks[check.name];
                let cases = cases(check, &[&text.we, &text.you, &text.priced]);
                assert!(cases.len() >= check.severities.len(), "{}", check.name);
                for case in cases {
                    let told = || format!("{language}: {} with {case:?}", check.name);
                    let values = Value::from_pairs(case.clone());
                    let acts = Acts::of(text, check, &values)
                        .unwrap_or_else(|error| panic!("{}: {error}", told()));
                    assert!(!acts.we.is_empty() || !acts.you.is_empty(), "{}", told());
                    let by_shop = !acts.we.is_empty() && check.place != FindingPlace::Shop;
                    assert_eq!(acts.priced.is_some(), by_shop, "{}", told());
                    assert!(check.place != FindingPlace::Shop || acts.you.is_empty(), "{}", told());
                }
            }
        }
    }

    #[test]
    fn the_cases_of_templates_are_all_that_they_tell_apart() {
        let check = check("oil").unwrap();
        let found = cases(check, &["{% if kind == 'new' %}{{ length }}{% endif %}"]);
        assert_eq!(found.len(), 2 * check.severities.len());
        assert!(found.iter().all(|case| case["length"] == "a figure"));
        assert!(found.iter().any(|case| case["kind"] == "new" && case["severity"] == "note"));
    }

    #[test]
    fn somebody_acts() {
        assert!(acts("oil", "", "", "").unwrap_err().contains("who does"));
        let template = "{% if severity == \"stop\" %}in-price{% endif %}";
        assert_eq!(acts("oil", "", "Ask.", template).unwrap().priced, None);
    }

    #[test]
    fn the_shop_puts_no_price_on_what_it_does_for_itself() {
        assert_eq!(acts("book-expired", "Use another book.", "", "").unwrap().priced, None);
        let error = acts("book-expired", "Use another book.", "", "in-price").unwrap_err();
        assert!(error.contains("nothing to price"), "{error}");
    }
}
