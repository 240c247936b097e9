//! `prepare`: the crew's papers for the floor that was chosen, and the customer's days.

use std::path::Path;

use jiff::civil::Date;
use serde::Serialize;
use slableaf::papers::prepare::{buying_csv, buying_list, crew_days, crew_sheet, customer_days};
use slableaf::papers::proposal::Issue;
use slableaf::say::words::WordsError;
use slableaf::typeset::{Manuscript, PaperKind};

use crate::shell::args::Prepare;
use crate::shell::store::{
    Cache, LoadedFiles, Saved, ShopLayouts, Unprinted, chosen_floor, judge_job, keep_numbered,
    lies_in, load_files, say_unchanged, typeset, writer,
};
use crate::shell::terminal::{Error, Exit, Report, Result, counted};

pub fn prepare(wanted: &Prepare, report: &mut Report) -> Result<Exit> {
    let cache = Cache::default();
    let (files, mut input) = load_files(&wanted.files, &cache)?;
    let crews = cache.layouts(&files.shop_folder, &input.shop.language)?;
    Unprinted::settle(&files, &mut input, &crews)?.warn(report);
    let judged = judge_job(&input)?;
    let customers = cache.layouts(&files.shop_folder, input.customers_language())?;
    let option = chosen_floor(&judged, wanted.floor.as_deref())?;
    let crew_writer = writer(&judged, &crews.words);
    let customer_writer = writer(&judged, &customers.words);
    let inside = files.folder(wanted.out.as_ref(), "shop-only", "--out")?;
    let outside = files.folder(wanted.papers.as_ref(), "papers", "--papers")?;
    if lies_in(&inside, &outside) {
        let message = "the shop's papers would lie in the customer's folder";
        return Err(
            Error::new(Exit::Input, message).help("name two folders with `--out` and `--papers`")
        );
    }
    let pages = CrewPages {
        folder: &inside,
        number: &input.job.number.0,
        date: input.job.date,
        layouts: &crews,
        files: &files,
    };
    let name = |what: &str| format!("{}-{what}", pages.number);
    let paper = |revision| Issue { revision: Some(revision), ..Issue::default() };
    let no_words = |error: WordsError| Error::words(&error, crews.layouts());

    let sheet = |revision| crew_sheet(&crew_writer, option, &paper(revision)).map_err(no_words);
    pages.keep(PaperKind::CrewSheet, "crew sheet", sheet, report)?;
    let list = |revision| buying_list(&crew_writer, option, &paper(revision)).map_err(no_words);
    pages.keep(PaperKind::BuyingList, "buying list", list, report)?;
    let csv = |_| Ok(Some(buying_csv(&judged.case, option)));
    keep_text(&inside, &name("buying-list"), "csv", csv, report)?;
    let crew = |revision| crew_days(&crew_writer, option, revision).map_err(no_words);
    let customer = |revision| customer_days(&customer_writer, option, revision).map_err(no_words);
    let dated = keep_text(&inside, &name("crew-days"), "ics", crew, report)?;
    keep_text(&outside, &name("days"), "ics", customer, report)?;
    if !dated {
        report.say("no calendars: the job has no `start` under `[plan]` yet");
    }
    Ok(Exit::Fine)
}

/// Everything that the pages for the crew of one job have in common.
struct CrewPages<'a> {
    folder: &'a Path,
    number: &'a str,
    date: Date,
    layouts: &'a ShopLayouts,
    files: &'a LoadedFiles,
}

impl CrewPages<'_> {
    /// Typesets a paper and keeps it, unless its latest revision is the same.
    fn keep<P: Serialize>(
        &self,
        kind: PaperKind,
        what: &str,
        page: impl Fn(u32) -> Result<P>,
        report: &mut Report,
    ) -> Result<()> {
        let Self { folder, number, date, layouts, files } = *self;
        let name = format!("{number}-{}", what.replace(' ', "-"));
        let paper = keep_numbered(folder, &name, "pdf", |revision| {
            let identity = format!("{number} {what} {revision}");
            let page = &page(revision)?;
            let manuscript =
                Manuscript { kind, page, pictures: vec![], date, identity, drawn: None };
            let document = typeset(manuscript, layouts, files, None)?;
            Ok((document.pdf, document.pages))
        })?;
        match paper.saved {
            Saved::Exists => say_unchanged(&paper.path, report),
            Saved::Written => {
                let pages = counted(paper.made, "page");
                report.say(format!("wrote {} ({pages})", paper.path.display()));
            }
        }
        Ok(())
    }
}

/// Keeps a text, when there is one; returns whether there was.
fn keep_text(
    folder: &Path,
    name: &str,
    end: &str,
    make: impl Fn(u32) -> Result<Option<String>>,
    report: &mut Report,
) -> Result<bool> {
    if make(1)?.is_none() {
        return Ok(false);
    }
    let text = keep_numbered(folder, name, end, |revision| {
        Ok((make(revision)?.unwrap_or_default().into_bytes(), ()))
    })?;
    match text.saved {
        Saved::Written => report.say(format!("wrote {}", text.path.display())),
        Saved::Exists => say_unchanged(&text.path, report),
    }
    Ok(true)
}
