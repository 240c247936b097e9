//! A finding is a block that is read at a glance: a title, what it means, and who does what, each short.
//!
//! The limits are the rules of this project. A figure, a date and a name count as one word each, as a
//! reader takes each in at once (common practice, no published source).

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use minijinja::{Environment, Value};
use regex::Regex;
use slableaf::base::layouts::Layouts;
use slableaf::judge::checks::{CHECKS, Check, FindingPlace};
use slableaf::say::acts::Acts;
use slableaf::say::template::fill;
use slableaf::say::words::{CheckText, Words};

use crate::fixture::{EXAMPLES, Folder};

/// The most words of each text of a check, in English.
const MOST_WORDS: [(&str, usize); 7] = [
    ("title", 6),
    ("says", 30),
    ("we", 22),
    ("you", 22),
    ("short", 16),
    ("why_not", 16),
    ("first", 16),
];
/// What can kill is said in full: who shuts off gas, who lights it again, and when.
const IN_FULL: [(&str, &str, usize); 1] = [("flammable-solvent", "you", 38)];
/// The most words of a sentence.
const SENTENCE: usize = 25;
/// The most sentences that say what a finding means.
const SENTENCES: usize = 2;

/// A limit in a language: Spanish takes up to a quarter more words for the same.
fn limit(language: &str, words: usize) -> usize {
    if language == "en" { words } else { words * 5 / 4 }
}

/// Words with a letter or a figure; what a no-break space joins is one.
fn count(text: &str) -> usize {
    let words = text.split([' ', '\n']);
    words.filter(|word| word.chars().any(char::is_alphanumeric)).count()
}

static DATE: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r"[A-Z][a-z]+ \d{1,2}, \d{4}|\d{1,2} de [a-z]+ de \d{4}").unwrap());
static SENTENCE_END: LazyLock<Regex> = LazyLock::new(|| Regex::new(r"[.?!]+(?: |$)").unwrap());
static HYPHEN_AS_MINUS: LazyLock<Regex> = LazyLock::new(|| Regex::new(r"(?:^|[ (])-\d").unwrap());
/// One of what stands in the plural; two spaces.
static ONE_OF_MANY: LazyLock<Regex> = LazyLock::new(|| {
    Regex::new(r"(?:^|[^\d.,])1[ \u{a0}](?:tests|dishes|probes|days|pruebas|platos|sondas|días|minutos|minutes)\b|  ")
        .unwrap()
});

/// Faults of a text of a check; `part` is one of [`MOST_WORDS`].
fn faults(language: &str, check: &str, part: &str, text: &str) -> Vec<String> {
    let date = DATE.replace_all(text, "date");
    // A figure with its unit is one word, and the point of an inch in Spanish ends no sentence.
    let text = date.replace("% RH", "%").replace("% HR", "%").replace("pulg. ", "pulg ");
    let in_full = IN_FULL.iter().find(|full| (full.0, full.1) == (check, part));
    let usual = MOST_WORDS.iter().find(|(name, _)| *name == part).unwrap().1;
    let most = limit(language, in_full.map_or(usual, |full| full.2));
    let told = |fault: String| format!("{language}: {check}.{part}: {fault}: {text}");
    let mut found = vec![];
    let words = count(&text);
    if words > most {
        found.push(told(format!("{words} words, the most are {most}")));
    }
    let sentences: Vec<&str> =
        SENTENCE_END.split(&text).filter(|sentence| count(sentence) > 0).collect();
    let longest = sentences.iter().map(|sentence| count(sentence)).max().unwrap_or(0);
    if longest > limit(language, SENTENCE) {
        found.push(told(format!("{longest} words in a sentence")));
    }
    if part == "says" && sentences.len() > SENTENCES {
        found.push(told(format!("{} sentences", sentences.len())));
    }
    if part != "title" && !text.is_empty() && !text.ends_with(['.', '?']) {
        found.push(told("no full stop".to_owned()));
    }
    if text.contains("..") {
        found.push(told("two full stops".to_owned()));
    }
    if text.contains('\'') || HYPHEN_AS_MINUS.is_match(&text) {
        found.push(told("a straight apostrophe, or a hyphen for a minus".to_owned()));
    }
    if let Some(wrong) = ONE_OF_MANY.find(&text) {
        found.push(told(format!("`{}`", wrong.as_str())));
    }
    found
}

/// Faults of a finding as `check --format json` prints it; what was typed in its files counts as one
/// word each.
pub fn faults_of_finding(
    language: &str,
    finding: &serde_json::Value,
    folder: &Folder,
) -> Vec<String> {
    let check = finding["check"].as_str().unwrap();
    let inputs: String =
        ["job.toml", "book.toml", "shop.toml"].map(|name| folder.read(name)).concat();
    let mut names: Vec<&str> =
        inputs.lines().flat_map(|line| line.split('"').skip(1).step_by(2)).collect();
    names.retain(|name| name.len() > 3 && name.contains(' '));
    names.sort_by_key(|name| std::cmp::Reverse(name.len()));
    let text = |part: &str| {
        let text = finding[part].as_str().unwrap().to_owned();
        names.iter().fold(text, |text, name| text.replace(name, "name"))
    };
    let mut found: Vec<String> = ["title", "says", "we", "you"]
        .iter()
        .flat_map(|part| faults(language, check, part, &text(part)))
        .collect();
    if text("we").is_empty() && text("you").is_empty() {
        found.push(format!("{language}: {check}: nobody acts"));
    }
    found
}

/// A paper for the shop alone may take more words.
fn for_customers(check: &Check) -> bool {
    check.place != FindingPlace::Shop
}

#[test]
fn the_findings_of_sample_jobs_are_short_and_somebody_acts() {
    let mut seen = 0;
    for language in Layouts::default().languages() {
        for example in EXAMPLES.iter().chain(&["smallest", "three-spaces"]) {
            let to = format!("language = \"{language}\"");
            let folder = Folder::of(example).replace("shop.toml", "language = \"en\"", &to);
            let run = folder.run(&["check", "job.toml", "--format", "json"]);
            let all: serde_json::Value = serde_json::from_str(&run.stdout()).unwrap();
            let findings = all["findings"].as_array().unwrap();
            let shown = findings.iter().filter(|finding| finding["place"] != "shop");
            let found: Vec<String> = shown
                .inspect(|_| seen += 1)
                .flat_map(|finding| faults_of_finding(&language, finding, &folder))
                .collect();
            assert!(found.is_empty(), "{example}: {found:#?}");
        }
    }
    assert!(seen > 100, "{seen} findings");
}

// --------------------------------------------------------------------- every case of the words

/// The texts of a check by name; one that it has not is empty.
fn parts(text: &CheckText) -> [(&'static str, &str); 7] {
    fn some(text: &Option<String>) -> &str {
        text.as_deref().unwrap_or_default()
    }
    [
        ("title", &text.title),
        ("says", &text.says),
        ("we", &text.we),
        ("you", &text.you),
        ("short", some(&text.short)),
        ("why_not", some(&text.why_not)),
        ("first", some(&text.first)),
    ]
}

static COMPARED: LazyLock<Regex> = LazyLock::new(|| Regex::new(r"(\w+) [!=]= '([^']*)'").unwrap());
static DEFINED: LazyLock<Regex> = LazyLock::new(|| Regex::new(r"(\w+) is (?:un)?defined").unwrap());

/// Every way to fill in the texts of a check: each value that one of them compares with and one that
/// none does, with and without each value that may be missing, for every severity. A figure is in mils,
/// so that what explains them is there too.
fn cases(check: &Check, texts: &[(&str, &str)]) -> Vec<BTreeMap<String, String>> {
    let mut values: BTreeMap<String, BTreeSet<Option<String>>> = BTreeMap::new();
    for (_, text) in texts {
        for found in COMPARED.captures_iter(text) {
            let known = values.entry(found[1].to_owned()).or_default();
            known.extend([Some(found[2].to_owned()), Some("7\u{a0}mils".to_owned())]);
        }
        for found in DEFINED.captures_iter(text) {
            values.entry(found[1].to_owned()).or_default().insert(None);
        }
        let environment = Environment::new();
        let template = environment.template_from_str(text).unwrap();
        for name in template.undeclared_variables(false) {
            let known = values.entry(name).or_default();
            if known.iter().flatten().next().is_none() {
                known.insert(Some("7\u{a0}mils".to_owned()));
            }
        }
    }
    let severities = check.severities.iter().map(|severity| Some(severity.word().to_owned()));
    values.insert("severity".to_owned(), severities.collect());
    if let Some(us) = values.get_mut("us_rules") {
        us.insert(Some(String::new()));
    }
    values.into_iter().fold(vec![BTreeMap::new()], |all, (name, values)| {
        let with = |case: &BTreeMap<String, String>, value: &Option<String>| {
            let mut case = case.clone();
            case.extend(value.iter().map(|value| (name.clone(), value.clone())));
            case
        };
        all.iter().flat_map(|case| values.iter().map(|value| with(case, value))).collect()
    })
}

#[test]
fn every_text_of_a_check_is_short_in_every_case_and_somebody_acts() {
    let layouts = Layouts::default();
    for language in layouts.languages() {
        let words = Words::read(&layouts, &language).unwrap();
        let mut found = vec![];
        for check in CHECKS.iter().filter(|check| for_customers(check)) {
            let text = &words.checks[check.name];
            let parts = parts(text);
            let mut said = BTreeSet::new();
            for case in cases(check, &parts) {
                let values = Value::from_pairs(case);
                for (part, template) in parts {
                    // A case that no job brings about, such as neither coats nor fillers, has no text.
                    let Ok(filled) = fill(template, &values, check.name) else { continue };
                    said.insert((part, filled));
                }
                let acts = Acts::of(text, check, &values).unwrap();
                assert!(!acts.we.is_empty() || !acts.you.is_empty(), "{}", check.name);
            }
            let filled: BTreeSet<&str> = said.iter().map(|(part, _)| *part).collect();
            assert_eq!(filled.len(), parts.len(), "{}: {said:?}", check.name);
            let of = |(part, text): &(&str, String)| faults(&language, check.name, part, text);
            found.extend(said.iter().flat_map(of));
        }
        assert!(found.is_empty(), "{found:#?}");
    }
}

#[test]
fn the_cases_of_a_text_are_all_that_it_tells_apart() {
    let check = CHECKS.iter().find(|check| check.name == "oil").unwrap();
    let text =
        "{% if kind == 'new' %}{{ length }}{% endif %}{% if built is defined %}old{% endif %}";
    let found = cases(check, &[("says", text)]);
    assert_eq!(found.len(), 4 * check.severities.len());
    assert!(found.iter().all(|case| case["length"] == "7\u{a0}mils"));
    assert!(found.iter().any(|case| case["kind"] == "new" && !case.contains_key("built")));
}

#[test]
fn a_text_that_is_too_long_or_badly_set_is_found() {
    let of = |part: &str, text: &str| faults("en", "oil", part, text).len();
    assert_eq!(of("title", "Oil may spoil the bond"), 0);
    assert_eq!(of("title", "Oil in the slab may spoil the bond"), 1);
    assert_eq!(of("says", "There is oil. Coats bond poorly to oil."), 0);
    assert_eq!(of("says", "One. Two. Three."), 1);
    assert_eq!(of("says", "It was read on May 7, 2026: -3\u{a0}°F"), 2);
    assert_eq!(of("we", "We grind the owner's slab."), 1);
    assert_eq!(of("we", "We have 1 tests of 11 tests."), 1);
    assert_eq!(of("you", &"word ".repeat(26)), 3);
}
