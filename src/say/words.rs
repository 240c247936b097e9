//! The words of a language, read once and checked when they are read: every check has its words,
//! and every sentence has a name.

use std::collections::BTreeMap;
use std::ops::Range;

use minijinja::Value;
use serde::{Deserialize, Serialize};
use toml::Table;

use crate::base::layouts::Layouts;
use crate::judge::checks::CHECKS;
use crate::model::system::SystemWords;
use crate::say::figures::FigureWords;
use crate::say::template::fill;
use crate::say::terms::{Term, Terms};

/// The language that every file is written in first.
const ENGLISH: &str = "en";

/// A fault in the words of a language.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WordsError {
    /// Which file, or file and key.
    pub place: String,
    pub message: String,
    pub spot: FaultSpot,
}

/// Place of a fault in the words, as far as it is known.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum FaultSpot {
    #[default]
    Unknown,
    /// Bytes of a file, by its path below `layouts/`.
    File { path: String, bytes: Range<usize> },
    /// Bytes of a template, which stands in one of the files.
    Template { text: String, bytes: Range<usize> },
}

impl WordsError {
    pub fn new(place: impl Into<String>, message: impl Into<String>) -> Self {
        Self { place: place.into(), message: message.into(), spot: FaultSpot::Unknown }
    }
}

impl std::fmt::Display for WordsError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.place, self.message)
    }
}

impl std::error::Error for WordsError {}

/// All words of one language.
#[derive(Debug, Clone)]
pub struct Words {
    pub language: String,
    /// True where all of them are the built-in ones, none a shop's own.
    pub as_made: bool,
    pub figures: FigureWords,
    /// Fixed words of the pages, handed to the layout as they are.
    pub labels: serde_json::Value,
    pub systems: BTreeMap<String, SystemWords>,
    pub checks: BTreeMap<String, CheckText>,
    /// Explanations of checks, by name.
    pub explain: BTreeMap<String, ExplainText>,
    pub explain_labels: ExplainLabels,
    pub claims: Claims,
    pub safety: SafetyText,
    pub promise: PromiseText,
    pub sources: SourcesText,
    pub terms: Terms,
    /// Fixed words of the papers for the shop.
    pub crew_labels: serde_json::Value,
    /// Fixed words of leaflet and care sheet, beside all those of the proposal.
    pub family_labels: serde_json::Value,
    /// By file: the fixed words of the papers that have one of their own, beside all those of the proposal.
    paper_labels: BTreeMap<&'static str, serde_json::Value>,
    /// Sentences of the pages, by part and name: `glance.price`.
    sentences: BTreeMap<String, Sentence>,
}

/// A sentence of the pages, or a list of them; all are templates.
#[derive(Debug, Clone)]
enum Sentence {
    One(String),
    List(Vec<String>),
}

/// Sentences for a check's findings; all are templates.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CheckText {
    pub title: String,
    pub says: String,
    /// The shop's part and the homeowner's; each may be empty.
    #[serde(default)]
    pub we: String,
    #[serde(default)]
    pub you: String,
    /// Word of [`crate::say::acts::Priced`] for the shop's part; empty when it does nothing.
    #[serde(default)]
    pub priced: String,
    /// The shop's part as a thing that the price leaves out; may be empty.
    pub left_out: Option<String>,
    /// One sentence for the first page.
    pub short: Option<String>,
    pub short_kind: Option<ShortKind>,
    /// The source of its limit, where the language puts it otherwise than the check.
    pub source: Option<String>,
    /// For a stop or a wait: why the floor is not offered, and what to do first.
    pub why_not: Option<String>,
    pub first: Option<String>,
}

#[derive(Debug, Clone, Copy, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "lowercase")]
pub enum ShortKind {
    /// Something that could not be known.
    Unknown,
    /// Something that can hurt people.
    Hurt,
    /// A measurement that no coat would stand: the work starts only when it has changed.
    Start,
}

/// Explanation of a check for the installer; templates with the limits that the check declares.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExplainText {
    pub name: String,
    pub what: String,
    pub why: String,
    pub limit: String,
    /// Condition for a finding of that severity: one for each severity of the check.
    pub stop: Option<String>,
    pub wait: Option<String>,
    pub caution: Option<String>,
    pub note: Option<String>,
    pub clear: String,
}

/// Headings of explanations.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExplainLabels {
    pub defer: String,
    pub or: String,
    pub places: BTreeMap<String, String>,
    pub parts: ExplainParts,
    pub columns: ExplainColumns,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExplainParts {
    pub what: String,
    pub why: String,
    pub limit: String,
    pub source: String,
    pub clear: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExplainColumns {
    pub name: String,
    pub what: String,
    pub severities: String,
    pub source: String,
}

/// The words of an interview; all are templates.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct InterviewText {
    /// Heads of files that were started, by the file's kind.
    pub heads: BTreeMap<String, String>,
    /// Headings, by topic.
    pub topics: BTreeMap<String, String>,
    /// Sentences on what the answers mean so far.
    pub view: BTreeMap<String, String>,
    pub ask: Questions,
}

/// Questions, by group and key. They stand in several files.
pub type Questions = BTreeMap<String, BTreeMap<String, QuestionText>>;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct QuestionText {
    pub ask: String,
    /// In place of `ask`, for the second line of a list and those that follow.
    pub next: Option<String>,
    /// Advice on the answer, in a line.
    pub hint: Option<String>,
    /// Text that `?` shows.
    pub help: Option<String>,
    /// Meaning of Enter alone, where it does not say that something is not known.
    pub enter: Option<String>,
    /// In place of the example of the key; `metric` in a job in metric units.
    pub example: Option<String>,
    pub metric: Option<String>,
    /// Meanings of the words that may be chosen.
    #[serde(default)]
    pub words: BTreeMap<String, String>,
}

/// Claims that a homeowner may hear, and questions for any shop: in a file of words as templates, on
/// a page with the figures of a job.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Claims {
    pub intro: String,
    #[serde(rename(deserialize = "claim"))]
    pub claims: Vec<Claim>,
    pub questions_intro: String,
    pub questions: Vec<String>,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Claim {
    #[serde(skip_serializing)]
    pub key: String,
    /// The claim as one hears it.
    pub heard: String,
    pub truth: String,
    pub leaves_out: String,
    /// Its meaning on this slab, with figures.
    pub here: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SafetyText {
    pub intro: String,
    pub always: Vec<String>,
    pub defer: String,
    pub air_intro: String,
    pub air_note: String,
    pub air_solvent: String,
    pub air_none: String,
    pub air_unknown: String,
    pub air_others: String,
    pub air_others_unknown: String,
    pub air_cleaner: String,
    pub extra: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PromiseText {
    pub cannot_intro: String,
    pub cannot: Vec<String>,
    pub care_intro: String,
    pub care: Vec<String>,
    pub included: Vec<String>,
    pub excluded: Vec<String>,
    pub terms: Vec<String>,
    /// The same where the moisture test alone can be ordered.
    pub test_terms: Vec<String>,
    pub cancellation: CancellationText,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CancellationText {
    pub statement: String,
    pub title: String,
    pub paragraphs: Vec<String>,
    pub lines: Vec<String>,
    pub copy: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SourcesText {
    pub intro: String,
    pub assumptions: Vec<String>,
    pub rows: SourceRowsText,
}

/// Sources of the figures on the paper.
#[derive(Debug, Clone, Deserialize)]
pub struct SourceRowsText {
    pub dew_point: String,
    pub film: String,
    pub cure: String,
    pub common: String,
}

/// A file of words: its path and its text.
type WordsFile<'a> = (String, &'a str);

fn file<'a>(layouts: &'a Layouts, language: &str, name: &str) -> Result<WordsFile<'a>, WordsError> {
    let path = format!("words/{language}/{name}.toml");
    match layouts.text(&path) {
        Some(text) => Ok((path, text)),
        None => Err(WordsError::new(path, "there is no such file")),
    }
}

/// Reads a file that only the shop reads, which may be left in English.
fn or_english<'a>(
    layouts: &'a Layouts,
    language: &str,
    name: &str,
) -> Result<WordsFile<'a>, WordsError> {
    file(layouts, language, name).or_else(|error| file(layouts, ENGLISH, name).map_err(|_| error))
}

fn parse<T: serde::de::DeserializeOwned>((path, text): WordsFile<'_>) -> Result<T, WordsError> {
    toml::from_str(text).map_err(|error| WordsError {
        place: path.clone(),
        message: error.message().to_owned(),
        spot: error.span().map_or(FaultSpot::Unknown, |bytes| FaultSpot::File { path, bytes }),
    })
}

impl InterviewText {
    /// Reads what `new` asks and says, in a language or else in English. It is apart from [`Words`],
    /// since no paper needs it.
    ///
    /// # Errors
    /// [`WordsError`] with the file and what is wrong in it.
    pub fn read(layouts: &Layouts, language: &str) -> Result<Self, WordsError> {
        let file = |name: &str| or_english(layouts, language, name);
        let mut interview: Self = parse(file("interview")?)?;
        for more in [
            "interview-measures",
            "interview-started",
            "interview-product",
            "interview-system",
            "interview-laid",
        ] {
            for (group, questions) in parse::<Questions>(file(more)?)? {
                interview.ask.entry(group).or_default().extend(questions);
            }
        }
        Ok(interview)
    }
}

impl Words {
    /// Reads the words of a language from its files.
    ///
    /// # Errors
    /// [`WordsError`] with the file and what is wrong in it.
    pub fn read(layouts: &Layouts, language: &str) -> Result<Self, WordsError> {
        let file = |name: &str| file(layouts, language, name);
        let or_english = |name: &str| or_english(layouts, language, name);
        let mut checks: BTreeMap<String, CheckText> = BTreeMap::new();
        for name in ["checks-moisture", "checks-slab", "checks-house", "checks-laid"] {
            checks.extend(parse::<BTreeMap<String, CheckText>>(file(name)?)?);
        }
        let mut explain: BTreeMap<String, ExplainText> = BTreeMap::new();
        for name in ["explain-slab", "explain-house", "explain-laid"] {
            explain.extend(parse::<BTreeMap<String, ExplainText>>(or_english(name)?)?);
        }
        for check in CHECKS {
            let known = [checks.contains_key(check.name), explain.contains_key(check.name)];
            if known.contains(&false) {
                return Err(WordsError::new(format!("checks: {}", check.name), "has no words"));
            }
        }
        let crew: Table = parse(file("crew")?)?;
        let labels: serde_json::Value = parse(file("labels")?)?;
        let family: Table = parse(file("family")?)?;
        let mut sentences = BTreeMap::new();
        add_sentences(&mut sentences, "", &parse(file("pages")?)?)?;
        add_sentences(&mut sentences, "", &parse(file("compare")?)?)?;
        add_sentences(&mut sentences, "", &parse(file("spaces")?)?)?;
        add_sentences(&mut sentences, "crew.", &crew)?;
        add_sentences(&mut sentences, "mail.", &parse(file("mail")?)?)?;
        add_sentences(&mut sentences, "family.", &family)?;
        let mut paper_labels = BTreeMap::new();
        for name in ["failure", "handover", "order", "visit", "years"] {
            let paper: Table = parse(file(name)?)?;
            add_sentences(&mut sentences, &format!("{name}."), &paper)?;
            paper_labels.insert(name, family_labels(&labels, &paper));
        }
        Ok(Self {
            language: language.to_owned(),
            as_made: layouts.are_as_made(&format!("words/{language}/")),
            figures: parse(file("figures")?)?,
            systems: parse(file("systems")?)?,
            checks,
            explain,
            explain_labels: parse(or_english("explain-labels")?)?,
            claims: parse(file("claims")?)?,
            safety: parse(file("safety")?)?,
            promise: parse(file("promise")?)?,
            sources: parse(file("sources")?)?,
            terms: parse::<BTreeMap<String, Term>>(file("terms")?)?.into(),
            crew_labels: crew_labels(&labels, &crew),
            family_labels: family_labels(&labels, &family),
            paper_labels,
            labels,
            sentences,
        })
    }

    /// Returns a sentence of the pages, `part.name`, with values put in.
    ///
    /// # Errors
    /// [`WordsError`] when there is no such sentence, or it uses a value that it is not given.
    pub fn sentence(&self, name: &str, values: &Value) -> Result<String, WordsError> {
        let place = place_of(name);
        match self.sentences.get(name) {
            Some(Sentence::One(template)) => fill(template, values, &place),
            Some(Sentence::List(_)) => Err(WordsError::new(place, "is not a text")),
            None => Err(WordsError::new(place, "is missing")),
        }
    }

    /// Returns the sentences of a list of the pages; those that come out empty do not apply.
    ///
    /// # Errors
    /// [`WordsError`] when there is no such list, or it uses a value that it is not given.
    pub fn sentences(&self, name: &str, values: &Value) -> Result<Vec<String>, WordsError> {
        let Some(Sentence::List(templates)) = self.sentences.get(name) else {
            return Err(WordsError::new(place_of(name), "is not a list"));
        };
        let filled = templates.iter().map(|template| fill(template, values, name));
        let lines: Vec<String> = filled.collect::<Result<_, _>>()?;
        Ok(lines.into_iter().filter(|line| !line.is_empty()).collect())
    }

    /// Returns the fixed words of a paper that has a file of words of its own.
    pub fn labels_of(&self, file: &str) -> serde_json::Value {
        self.paper_labels.get(file).cloned().unwrap_or_default()
    }

    /// Returns the names of all sentences and lists of sentences.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.sentences.keys().map(String::as_str)
    }
}

/// The file and the name in it of a sentence.
fn place_of(name: &str) -> String {
    match name.split_once('.') {
        Some((
            file @ ("crew" | "mail" | "family" | "failure" | "handover" | "order" | "visit"
            | "years"),
            name,
        )) => format!("{file}.toml: {name}"),
        Some(("space", _)) => format!("spaces.toml: {name}"),
        Some(("compare" | "way" | "wish" | "rule" | "even", _)) => format!("compare.toml: {name}"),
        _ => format!("pages.toml: {name}"),
    }
}

/// Adds the sentences of a table, each by its name after that of the table.
fn add_sentences(
    all: &mut BTreeMap<String, Sentence>,
    above: &str,
    table: &Table,
) -> Result<(), WordsError> {
    for (key, value) in table {
        let name = format!("{above}{key}");
        let texts = |list: &toml::value::Array| -> Option<Vec<String>> {
            list.iter().map(|text| text.as_str().map(str::to_owned)).collect()
        };
        let sentence = match value {
            toml::Value::Table(part) => {
                add_sentences(all, &format!("{name}."), part)?;
                continue;
            }
            toml::Value::String(text) => Some(Sentence::One(text.clone())),
            toml::Value::Array(list) => texts(list).map(Sentence::List),
            _ => None,
        };
        let sentence = sentence.ok_or_else(|| WordsError::new(place_of(&name), "is not text"))?;
        all.insert(name, sentence);
    }
    Ok(())
}

/// The fixed words of the papers for the shop: their own, and those that stand on every page.
fn crew_labels(labels: &serde_json::Value, crew: &Table) -> serde_json::Value {
    let own = crew.get("labels").and_then(|own| serde_json::to_value(own).ok());
    let mut all = own.unwrap_or_default();
    if let (Some(all), Some(page)) = (all.as_object_mut(), labels.get("page")) {
        all.insert("page".into(), page.clone());
    }
    all
}

/// The fixed words of the proposal's family: they share its pieces, and so its words.
fn family_labels(labels: &serde_json::Value, family: &Table) -> serde_json::Value {
    let mut all = labels.clone();
    let own = family.get("labels").and_then(|own| serde_json::to_value(own).ok());
    if let (Some(all), Some(serde_json::Value::Object(own))) = (all.as_object_mut(), own) {
        all.extend(own);
    }
    all
}
