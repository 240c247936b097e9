//! `check`: the findings on a job, most serious first.

use slableaf::judge::Judged;
use slableaf::judge::checks::Severity;
use slableaf::papers::proposal::Spaces;
use slableaf::papers::proposal::writer::Writer;
use slableaf::results::findings::{FindingsForm, SinceSigned};
use slableaf::say::words::WordsError;
use slableaf::site::standing::Settles;

use crate::shell::args::{Format, Look};
use crate::shell::commands::similar;
use crate::shell::store::{Cache, judge_any, read_for_shop, since_signed, writer};
use crate::shell::terminal::{Error, Exit, Report, Result, WIDTH, json, wrapped};

pub fn check(look: &Look, report: &mut Report) -> Result<Exit> {
    let (input, layouts) = read_for_shop(&look.files, report)?;
    let spaces = input.job.of_spaces();
    let judged = judge_any(&input, &spaces)?;
    let all = judged.all();
    let since = since_signed(&look.files.job, &Cache::default()).unwrap_or_else(|error| {
        let help = "bring the record back from a backup, or set `[accepted]` to what was signed";
        report.warn(&format!("what was signed cannot be looked up: {error}"), help);
        None
    });
    let json = |form| {
        let since_signed = since.as_ref().map(|since| SinceSigned {
            changed: since.scope.clone(),
            price_change: Some(since.change),
            due_back: since.back,
            floor_held: since.held.is_some(),
            signed_late: since.late.is_some(),
        });
        json(&FindingsForm { since_signed, ..form })
    };
    let text = match (look.format, judged.spaces(&layouts.words)) {
        (Format::Text, None) => text(judged.first(), &writer(judged.first(), &layouts.words)),
        (Format::Text, Some(spaces)) => of_spaces(&spaces),
        (Format::Json, None) => FindingsForm::of(&writer(judged.first(), &layouts.words)).map(json),
        (Format::Json, Some(spaces)) => FindingsForm::of_spaces(&spaces).map(json),
    };
    let text = text.map_err(|error| Error::words(&error, layouts.layouts()))?;
    report.print(format!("{text}\n"));
    if judged.spaces(&layouts.words).is_none() {
        let w = writer(judged.first(), &layouts.words);
        similar::ask(&look.files.job, judged.first(), &w.figures, report);
    }
    if input.job.accepted.is_none() && !input.job.orders.is_empty() {
        report.warn(
            "`[[order]]` changes what was signed, and the job has no `[accepted]`",
            "before a signature change the job itself, and `write` the next revision",
        );
    }
    if let Some(since) = &since {
        since.warn(&look.files.job, report);
    }
    let mut findings = all.iter().flat_map(|judged| &judged.findings);
    let changed = since.is_some_and(|since| since.is_changed());
    let held = changed || findings.any(|finding| finding.severity >= Severity::Wait);
    Ok(if held { Exit::Stop } else { Exit::Fine })
}

/// The findings of each space under its name.
fn of_spaces(s: &Spaces<'_>) -> Result<String, WordsError> {
    let mut out = vec![];
    for ((name, w), judged) in s.named().zip(&s.judged.spaces) {
        out.push(format!("== {name}"));
        out.push(text(judged, w)?);
        out.push(String::new());
    }
    out.pop();
    Ok(out.join("\n"))
}

fn text(judged: &Judged<'_>, w: &Writer<'_>) -> Result<String, WordsError> {
    let mut out = vec![];
    for group in w.grouped(judged.findings.iter()) {
        let notice = &group.notice;
        let severity = w.plain(&format!("crew.check.severity.{}", group.severity.word()));
        out.push(format!("{severity} {}: {}", group.check.name, notice.title));
        if !group.about.is_empty() {
            let floors: Vec<String> = group.about.iter().map(ToString::to_string).collect();
            let about = w.say("crew.check.about", [("floors", floors.join(", "))]);
            out.push(format!("  {about}"));
        }
        out.push(wrapped(&notice.says, WIDTH, 2));
        let acts = [("we", &notice.we), ("priced", &notice.priced), ("you", &notice.you)];
        for (who, does) in acts.into_iter().filter(|(_, does)| !does.is_empty()) {
            let does = w.say(&format!("crew.check.{who}"), [("does", does.as_str())]);
            out.push(wrapped(&does, WIDTH, 2));
        }
        out.push(wrapped(&notice.basis, WIDTH, 2));
        out.push(String::new());
    }
    let count = |severity| judged.findings.iter().filter(|f| f.severity == severity).count();
    let all = [Severity::Stop, Severity::Wait, Severity::Caution, Severity::Note];
    let counts = all.map(|severity| (severity.word(), count(severity)));
    out.push(w.say("crew.check.counts", counts));
    let recommendation = &judged.recommendation;
    out.push(match &recommendation.floor {
        Some(key) => {
            let sentence = match recommendation.state(key).waits_for() {
                None => "crew.check.recommended",
                Some(Settles::Test) => "crew.check.test",
                Some(Settles::Maker) => "crew.check.maker",
            };
            w.say(sentence, [("floor", key.to_string())])
        }
        None => w.plain("crew.check.nothing"),
    });
    w.checked(out.join("\n"))
}
