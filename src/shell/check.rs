//! `check`: what could go wrong, most serious first.

use slableaf::checks::{self, Severity};
use slableaf::judged::{Judged, judge};
use slableaf::layouts::Layouts;
use slableaf::proposal::writer::Writer;
use slableaf::results;
use slableaf::words::{Words, WordsError};

use crate::shell::Exit;
use crate::shell::args::{Format, Look};
use crate::shell::{files, terminal};

pub fn check(look: &Look) -> Exit {
    let (_, input) = match files::load(&look.files) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let judged = judge(&input);
    let words = match Words::read(&Layouts::default(), &input.shop.language) {
        Ok(words) => words,
        Err(error) => return terminal::words(&error),
    };
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
    let mut out = vec![];
    for finding in &judged.findings {
        let Some(check) = checks::check(finding.check) else { continue };
        let notice = w.notice(finding, check.source)?;
        let about = finding.option.as_ref().map_or_else(String::new, |key| format!(" ({key})"));
        out.push(format!("{} {}{about}: {}", finding.severity.word(), finding.check, notice.title));
        out.push(terminal::wrapped(&notice.says, 2));
        if !notice.todo.is_empty() {
            out.push(terminal::wrapped(&format!("Do: {}", notice.todo), 2));
        }
        out.push(terminal::wrapped(&notice.basis, 2));
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
