//! `check`: what could go wrong, most serious first.

use slableaf::checks::{self, Severity};
use slableaf::judged::{Judged, judge};
use slableaf::proposal::writer::Writer;
use slableaf::results;
use slableaf::words::{Words, WordsError};

use crate::shell::Exit;
use crate::shell::args::{Format, Look};
use crate::shell::{files, terminal};

pub fn check(look: &Look) -> Exit {
    let (input, words) = match files::load_with_words(&look.files) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let judged = judge(&input);
    let text = match look.format {
        Format::Text => text(&judged, &words),
        Format::Json => results::findings(&judged, &words).map(|value| terminal::json(&value)),
    };
    match text {
        Ok(text) => println!("{text}"),
        Err(error) => return terminal::words(&error),
    }
    let stop = judged.findings.iter().any(|finding| finding.severity == Severity::Stop);
    if stop { Exit::Stop } else { Exit::Fine }
}

fn text(judged: &Judged<'_>, words: &Words) -> Result<String, WordsError> {
    let w = Writer::new(&judged.case, &judged.findings, &judged.recommendation, words);
    // Findings that say the same of several floors are printed once.
    let mut entries: Vec<(String, Vec<String>, String)> = vec![];
    for finding in &judged.findings {
        let Some(check) = checks::check(finding.check) else { continue };
        let notice = w.notice(finding, check.source)?;
        let head = format!("{} {}: {}", finding.severity.word(), finding.check, notice.title);
        let mut lines = vec![terminal::wrapped(&notice.says, 2)];
        if !notice.todo.is_empty() {
            lines.push(terminal::wrapped(&format!("Do: {}", notice.todo), 2));
        }
        lines.push(terminal::wrapped(&notice.basis, 2));
        let body = lines.join("\n");
        let about = finding.option.as_ref().map(ToString::to_string);
        match entries.iter_mut().find(|entry| entry.0 == head && entry.2 == body) {
            Some(entry) => entry.1.extend(about),
            None => entries.push((head, about.into_iter().collect(), body)),
        }
    }
    let mut out = vec![];
    for (head, about, body) in entries {
        out.push(head);
        if !about.is_empty() {
            out.push(format!("  For: {}", about.join(", ")));
        }
        out.push(body);
        out.push(String::new());
    }
    let count = |severity| judged.findings.iter().filter(|f| f.severity == severity).count();
    out.push(format!(
        "{} stop, {} caution, {} note",
        count(Severity::Stop),
        count(Severity::Caution),
        count(Severity::Note)
    ));
    out.push(match &judged.recommendation.floor {
        Some(key) => format!("recommended: {key}"),
        None => "recommended: nothing yet".to_owned(),
    });
    Ok(out.join("\n"))
}
