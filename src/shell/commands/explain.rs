//! `explain`: the subject of a check, its reason, its limit, and how to clear it.

use slableaf::base::layouts::Layouts;
use slableaf::judge::checks::{self, CHECKS};
use slableaf::papers::proposal::writer::capital;
use slableaf::read::suggest::instead;
use slableaf::say::explain::{self, Explanation};
use slableaf::say::words::{Words, WordsError};

use crate::shell::args::{Explain, ExplainFormat};
use crate::shell::terminal::{Error, Exit, Report, Result, json, wrapped};

/// The language of explanations: no shop file is read that could name another.
const LANGUAGE: &str = "en";
/// Columns of a plain terminal window.
const COLUMNS: usize = 80;
/// Columns before the text of a part, which hold its heading.
const MARGIN: usize = 12;

pub fn explain(wanted: &Explain, report: &mut Report) -> Result<Exit> {
    let name = wanted.check.as_deref();
    if let Some(unknown) = name.filter(|name| checks::check(name).is_none()) {
        let names = CHECKS.iter().map(|check| check.name);
        let all = || "`slableaf explain` lists all checks".to_owned();
        return Err(Error::new(Exit::Line, format!("there is no check `{unknown}`"))
            .help(instead(unknown, names, all)));
    }
    let text = text(name, wanted.format);
    let text = text.map_err(|error| Error::words(&error, &Layouts::default()))?;
    report.print(format!("{text}\n"));
    Ok(Exit::Fine)
}

fn text(name: Option<&str>, format: ExplainFormat) -> Result<String, WordsError> {
    let words = Words::read(&Layouts::default(), LANGUAGE)?;
    if let Some(check) = name.and_then(checks::check) {
        let explanation = explain::explain(check, &words)?;
        return Ok(match format {
            ExplainFormat::Text => of_one(&explanation, &words),
            ExplainFormat::Json => json(&explain::json_of_one(&explanation)),
            ExplainFormat::Markdown => explain::markdown(&[explanation], &words),
        });
    }
    let all = explain::explain_all(&words)?;
    Ok(match format {
        ExplainFormat::Text => of_all(&all),
        ExplainFormat::Json => json(&explain::json_of_all(&all)),
        ExplainFormat::Markdown => explain::markdown(&all, &words),
    })
}

fn of_one(explanation: &Explanation, words: &Words) -> String {
    let labels = &words.explain_labels.parts;
    let mut out = vec![format!("{}: {}", explanation.name, explanation.title), String::new()];
    out.push(part(&labels.what, &explanation.what));
    out.push(part(&labels.why, &explanation.why));
    out.push(part(&labels.limit, &explanation.limit));
    out.push(part(&labels.source, &capital(&explanation.source)));
    for (severity, when) in &explanation.severities {
        out.push(part(&capital(severity.word()), when));
    }
    out.push(part(&labels.clear, &explanation.clear));
    out.push(String::new());
    out.push(wrapped(&words.explain_labels.defer, COLUMNS, 0));
    out.join("\n")
}

fn of_all(all: &[Explanation]) -> String {
    let widest = all.iter().map(|one| one.name.len()).max().unwrap_or(0);
    let mut out = vec![];
    let mut group = "";
    for one in all {
        if one.place != group {
            group = &one.place;
            let gap = if out.is_empty() { "" } else { "\n" };
            out.push(format!("{gap}{group}"));
        }
        out.push(format!("  {:<widest$}  {}", one.name, one.title));
    }
    out.join("\n")
}

/// A text behind its heading, which stands in the margin.
fn part(heading: &str, text: &str) -> String {
    let text = wrapped(text, COLUMNS, MARGIN);
    format!("  {heading:<width$}{}", text.trim_start(), width = MARGIN - 2)
}
