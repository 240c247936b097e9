//! `prepare`: the crew's papers for the floor that was chosen, and the customer's days.

use std::path::{Component, Path, PathBuf};

use slableaf::base::names::Key;
use slableaf::judge::Judged;
use slableaf::papers::prepare::{buying_csv, buying_list, crew_days, crew_sheet, customer_days};
use slableaf::papers::proposal::Issue;
use slableaf::papers::proposal::writer::Writer;
use slableaf::price::case::FloorOption;
use slableaf::read::suggest::nearest;
use slableaf::say::words::WordsError;
use slableaf::site::standing::Settles;
use slableaf::typeset::{Manuscript, PaperKind};

use crate::shell::Exit;
use crate::shell::args::Prepare;
use crate::shell::files::Kept;
use crate::shell::issue::{issue, say_unchanged, typeset};
use crate::shell::stock::Stock;
use crate::shell::{files, terminal};

pub fn prepare(prepare: &Prepare) -> Exit {
    prepared(prepare).unwrap_or_else(|exit| exit)
}

fn prepared(prepare: &Prepare) -> Result<Exit, Exit> {
    let stock = Stock::default();
    let (found, input) = files::load(&prepare.files, &stock)?;
    let judged = files::judged(&input)?;
    let crews = stock.house(&found, &input.shop.language)?;
    let customers = stock.house(&found, input.customers_language())?;
    let option = chosen(&judged, prepare.floor.as_deref())?;
    let Judged { case, findings, recommendation } = &judged;
    let writer = Writer::new(case, findings, recommendation, &crews.words);
    let inside = found.folder(prepare.out.as_ref(), "shop-only", "--out")?;
    let outside = found.folder(prepare.papers.as_ref(), "papers", "--papers")?;
    if lies_in(&inside, &outside) {
        terminal::error("the shop's papers would lie in the customer's folder");
        terminal::help("name two folders with `--out` and `--papers`");
        return Err(Exit::Input);
    }
    let number = &input.job.number.0;
    let name = |what: &str| format!("{number}-{what}");
    let date = input.job.date;
    let paper = |revision| Issue { revision: Some(revision), ..Issue::default() };
    let no_words = |error: WordsError| terminal::words(&error, crews.layouts());

    paged(&inside, &name("crew-sheet"), |revision| {
        let page = crew_sheet(&writer, option, &paper(revision)).map_err(no_words)?;
        let identity = format!("{number} crew sheet {revision}");
        let kind = PaperKind::CrewSheet;
        typeset(
            Manuscript { kind, page: &page, pictures: vec![], date, identity, drawn: None },
            &crews.renderer,
            &found,
        )
    })?;
    paged(&inside, &name("buying-list"), |revision| {
        let page = buying_list(&writer, option, &paper(revision)).map_err(no_words)?;
        let identity = format!("{number} buying list {revision}");
        let kind = PaperKind::BuyingList;
        typeset(
            Manuscript { kind, page: &page, pictures: vec![], date, identity, drawn: None },
            &crews.renderer,
            &found,
        )
    })?;
    plain(&inside, &name("buying-list"), "csv", |_| Ok(Some(buying_csv(case, option))))?;
    let crew = |revision| crew_days(&writer, option, revision).map_err(no_words);
    let for_customer = Writer::new(case, findings, recommendation, &customers.words);
    let customer = |revision| customer_days(&for_customer, option, revision).map_err(no_words);
    let dated = plain(&inside, &name("crew-days"), "ics", crew)?;
    plain(&outside, &name("days"), "ics", customer)?;
    if !dated {
        terminal::say("no calendars: the job has no `start` under `[plan]` yet");
    }
    Ok(Exit::Fine)
}

/// The floor that was asked for, the accepted one, or the recommended one; never one that has a stop.
pub fn chosen<'j>(
    judged: &'j Judged<'_>,
    wanted: Option<&str>,
) -> Result<&'j FloorOption<'j>, Exit> {
    let options = &judged.case.options;
    let accepted = judged.case.job.accepted.as_ref();
    let wanted = wanted.or(accepted.map(|accepted| accepted.floor.0.as_str()));
    let key = match (wanted, &judged.recommendation.floor) {
        (Some(wanted), _) => Key(wanted.to_owned()),
        (None, Some(first)) => first.clone(),
        (None, None) => {
            terminal::error("no floor is offered for this job yet");
            terminal::help("`slableaf check` says why");
            return Err(Exit::Stop);
        }
    };
    let Some(option) = options.iter().find(|option| *option.key() == key) else {
        terminal::error(&format!("the job offers no floor `{}`", key.0.escape_debug()));
        let known = || options.iter().map(|option| option.key().0.as_str());
        match nearest(&key.0, known()) {
            Some(near) => terminal::help(&format!("did you mean `{near}`?")),
            None => terminal::help(&format!("offered: {}", known().collect::<Vec<_>>().join(", "))),
        }
        return Err(Exit::Line);
    };
    if !judged.recommendation.offers(&key) {
        terminal::error(&match judged.recommendation.state(&key).waits_for() {
            Some(Settles::Test) => {
                format!("`{key}` waits for a moisture test and must not be laid before it")
            }
            Some(Settles::Maker) => {
                format!("`{key}` waits for a word from its maker and must not be laid before it")
            }
            None => format!("`{key}` is not offered and cannot be laid as things are"),
        });
        terminal::help("`slableaf check` says why");
        return Err(Exit::Stop);
    }
    Ok(option)
}

/// True when papers in `folder` would lie in `other` or below it.
fn lies_in(folder: &Path, other: &Path) -> bool {
    settled(folder).starts_with(settled(other))
}

/// A path without links, dots and detours, also of a folder that does not exist yet.
fn settled(path: &Path) -> PathBuf {
    let mut out = PathBuf::new();
    for part in std::path::absolute(path).unwrap_or_else(|_| path.to_owned()).components() {
        match part {
            Component::ParentDir => drop(out.pop()),
            Component::CurDir => {}
            part => out.push(part),
        }
        // A link is followed as soon as it is met, so that `..` behind it means the right folder.
        out = std::fs::canonicalize(&out).unwrap_or(out);
    }
    out
}

fn paged(
    folder: &Path,
    name: &str,
    make: impl Fn(u32) -> Result<slableaf::typeset::Document, Exit>,
) -> Result<(), Exit> {
    let issued = issue(folder, name, "pdf", |revision| {
        let document = make(revision)?;
        Ok((document.pdf, document.pages))
    })?;
    match issued.kept {
        Kept::Written => {
            let noun = if issued.made == 1 { "page" } else { "pages" };
            terminal::say(&format!("wrote {} ({} {noun})", issued.path.display(), issued.made));
        }
        Kept::Exists => say_unchanged(&issued.path),
    }
    Ok(())
}

/// Keeps a text, when there is one; tells whether there was.
fn plain(
    folder: &Path,
    name: &str,
    end: &str,
    make: impl Fn(u32) -> Result<Option<String>, Exit>,
) -> Result<bool, Exit> {
    if make(1)?.is_none() {
        return Ok(false);
    }
    let issued = issue(folder, name, end, |revision| {
        Ok((make(revision)?.unwrap_or_default().into_bytes(), ()))
    })?;
    match issued.kept {
        Kept::Written => terminal::say(&format!("wrote {}", issued.path.display())),
        Kept::Exists => say_unchanged(&issued.path),
    }
    Ok(true)
}
