//! Explanation of a check: what it looks at, its reason, its limit, and how to clear it.

use std::collections::BTreeMap;

use minijinja::Value;
use serde_json::json;

use crate::base::figure::Figure;
use crate::judge::checks::{CHECKS, Check, Severity, Source};
use crate::model::job::Units;
use crate::say::figures::Figures;
use crate::say::template::fill;
use crate::say::words::{Words, WordsError};

/// Version of the shape that programs read.
const VERSION: u32 = 1;

/// A check in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Explanation {
    pub name: &'static str,
    /// The heading of the group that it is listed in.
    pub place: String,
    pub title: String,
    pub what: String,
    pub why: String,
    pub limit: String,
    pub source: String,
    /// Severities that a finding may have, most serious first, each with its condition.
    pub severities: Vec<(Severity, String)>,
    pub clear: String,
}

/// Every check in words, grouped as the paper groups them.
///
/// # Errors
/// [`WordsError`] when a check has no words, or they use a limit that it does not declare.
pub fn explain_all(words: &Words) -> Result<Vec<Explanation>, WordsError> {
    let mut checks = CHECKS.to_vec();
    checks.sort_by_key(|check| check.place);
    checks.into_iter().map(|check| explain(check, words)).collect()
}

/// One check in words.
///
/// # Errors
/// [`WordsError`] when the check has no words, or they use a limit that it does not declare.
pub fn explain(check: &Check, words: &Words) -> Result<Explanation, WordsError> {
    let place = format!("explain: {}", check.name);
    let missing = |what: &str| WordsError::new(place.as_str(), format!("{what} is missing"));
    let text = words.explain.get(check.name).ok_or_else(|| missing("the table"))?;
    let limits = limits(check, words);
    let fill = |template: &str| fill(template, &limits, &place);
    let severities = check.severities.iter().map(|severity| {
        let when = match severity {
            Severity::Stop => &text.stop,
            Severity::Wait => &text.wait,
            Severity::Caution => &text.caution,
            Severity::Note => &text.note,
        };
        let when = when.as_ref().ok_or_else(|| missing(severity.word()))?;
        Ok((*severity, fill(when)?))
    });
    let heading = words.explain_labels.places.get(check.place.word());
    Ok(Explanation {
        name: check.name,
        place: heading.ok_or_else(|| missing(check.place.word()))?.clone(),
        title: fill(&text.name)?,
        what: fill(&text.what)?,
        why: fill(&text.why)?,
        limit: fill(&text.limit)?,
        source: source_name(check.source, words)?,
        severities: severities.collect::<Result<_, WordsError>>()?,
        clear: fill(&text.clear)?,
    })
}

/// The limits that a check declares, by name, as texts. No job says which units it is measured in,
/// so a figure that differs stands in both.
fn limits(check: &Check, words: &Words) -> Value {
    let write = |units: Units, figure: &Figure| {
        Figures { units, currency: "", words: &words.figures }.write(figure)
    };
    let values: BTreeMap<&str, Value> = check
        .limits
        .iter()
        .map(|(name, limit)| {
            let value = match &limit.value {
                // A year or a small number, which has no thousands to mark off.
                Figure::Count(count) => Value::from(*count),
                figure => {
                    let (us, metric) = (write(Units::Us, figure), write(Units::Metric, figure));
                    Value::from(if us == metric { us } else { format!("{us} ({metric})") })
                }
            };
            (*name, value)
        })
        .collect();
    Value::from_pairs(values)
}

fn source_name(source: Source, words: &Words) -> Result<String, WordsError> {
    let plain = |name: &str| words.sentence(name, &Value::UNDEFINED);
    let values = |name: &str| Value::from_pairs([("name", name)]);
    match source {
        Source::Published(name) => Ok(name.to_owned()),
        Source::Rule(_, name) => words.sentence("sources.us_rule", &values(name)),
        Source::Unverified(name) => words.sentence("sources.unverified", &values(name)),
        Source::DataSheet => plain("sources.data_sheet"),
        Source::Shop => plain("sources.shop"),
        Source::CommonPractice => plain("sources.common"),
    }
}

impl Explanation {
    /// `stop or caution`.
    fn severity_words(&self, words: &Words) -> String {
        let each: Vec<&str> = self.severities.iter().map(|(severity, _)| severity.word()).collect();
        each.join(&words.explain_labels.or)
    }

    fn fields(&self) -> serde_json::Value {
        let when: serde_json::Map<String, serde_json::Value> = self
            .severities
            .iter()
            .map(|(severity, when)| (severity.word().to_owned(), when.as_str().into()))
            .collect();
        json!({
            "name": self.name,
            "place": self.place,
            "title": self.title,
            "what": self.what,
            "why": self.why,
            "limit": self.limit,
            "source": self.source,
            "severities": self.severities.iter().map(|(severity, _)| severity.word()).collect::<Vec<_>>(),
            "when": when,
            "clear": self.clear,
        })
    }
}

/// One check for a program.
pub fn json_of_one(explanation: &Explanation) -> serde_json::Value {
    let mut fields = explanation.fields();
    fields["version"] = VERSION.into();
    fields
}

/// A list of checks for a program.
pub fn json_of_all(explanations: &[Explanation]) -> serde_json::Value {
    let checks: Vec<serde_json::Value> = explanations.iter().map(Explanation::fields).collect();
    json!({ "version": VERSION, "checks": checks })
}

/// The list as a Markdown table, one check a row.
pub fn markdown(explanations: &[Explanation], words: &Words) -> String {
    let head = &words.explain_labels.columns;
    let row = |cells: [&str; 4]| {
        let cells = cells.map(|cell| cell.replace('|', "\\|"));
        format!("| {} |", cells.join(" | "))
    };
    let mut rows =
        vec![row([&head.name, &head.what, &head.severities, &head.source]), row(["---"; 4])];
    rows.extend(explanations.iter().map(|explanation| {
        let name = format!("`{}`", explanation.name);
        let severities = explanation.severity_words(words);
        row([&name, &explanation.what, &severities, &explanation.source])
    }));
    rows.join("\n")
}
