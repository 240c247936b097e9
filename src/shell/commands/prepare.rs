//! `prepare`: the crew's papers for the floor that was chosen, and the customer's days.

use std::path::Path;

use jiff::civil::Date;
use serde::Serialize;
use slableaf::judge::Judged;
use slableaf::model::space::Place;
use slableaf::papers::prepare::{
    BuyingList, CrewSheet, buying_csv, buying_list, crew_days, crew_sheet, customer_days,
};
use slableaf::papers::proposal::Issue;
use slableaf::price::case::FloorOption;
use slableaf::say::words::WordsError;
use slableaf::typeset::{Manuscript, PaperKind};

use crate::shell::args::Prepare;
use crate::shell::store::{
    Cache, JudgedJob, LoadedFiles, Saved, ShopLayouts, Unprinted, floor_of, judge_for_work,
    keep_numbered, lies_in, load_files, nothing_offered, one_floor, say_unchanged, since_signed,
    typeset, writer,
};
use crate::shell::terminal::{Error, Exit, Report, Result, counted};

pub fn prepare(wanted: &Prepare, report: &mut Report) -> Result<Exit> {
    let cache = Cache::default();
    let (files, mut input) = load_files(&wanted.files, &cache)?;
    let crews = cache.layouts(&files.shop_folder, &input.shop.language)?;
    Unprinted::settle(&files, &mut input, &crews)?.warn(report);
    match since_signed(&wanted.files.job, &cache)? {
        Some(since) => {
            since.warn(&wanted.files.job, report);
            input = since.to_be_laid(&input);
        }
        None => report.warn(
            "nobody has signed this job: its papers are marked so, and nothing is agreed by them",
            "write what was signed under `[accepted]` in the job, then `prepare` again",
        ),
    }
    let spaces = input.job.of_spaces();
    let judged = judge_for_work(&input, &spaces)?;
    let customers = cache.layouts(&files.shop_folder, input.customers_language())?;
    let floors = floors(&judged, wanted.floor.as_deref())?;
    for (judged, option) in &floors {
        let accepted = judged.case.job.accepted.as_ref();
        if accepted.is_some_and(|accepted| accepted.floor != *option.key()) {
            let key = option.key();
            report.warn(
                &format!("`{key}` is not the floor that was signed: its papers are marked so"),
                "leave out `--floor` for the floor that was signed",
            );
        }
    }
    let inside = files.folder(wanted.out.as_ref(), "shop-only", "--out")?;
    let outside = files.folder(wanted.papers.as_ref(), "papers", "--papers")?;
    if lies_in(&inside, &outside) {
        let message = "the shop's papers would lie in the customer's folder";
        let help = "name two folders with `--out` and `--papers`";
        return Err(Error::new(Exit::Input, message).help(help));
    }
    let pages = CrewPages {
        folder: &inside,
        number: &input.job.number.0,
        date: input.job.date,
        layouts: &crews,
        files: &files,
    };
    let paper = |revision| Issue { revision: Some(revision), ..Issue::default() };
    let no_words = |error: WordsError| Error::words(&error, crews.layouts());

    for (judged, option) in &floors {
        let crew = writer(judged, &crews.words);
        let sheet = |revision| {
            let sheet = crew_sheet(&crew, option, &paper(revision)).map_err(no_words)?;
            // Notes are of the whole job.
            let notes = input.job.crew_notes.clone();
            Ok(match &judged.case.job.place {
                Some(place) => CrewSheet { floor: under(place, &sheet.floor), notes, ..sheet },
                None => sheet,
            })
        };
        pages.keep(PaperKind::CrewSheet, &in_place("crew sheet", judged), sheet, report)?;
    }
    // What is bought is bought for all floors of a visit, and is the same in the estimate of each.
    if let Some((judged, option)) = floors.last() {
        let crew = writer(judged, &crews.words);
        let all = floors.iter().filter_map(|(judged, option)| {
            let place = judged.case.job.place.as_ref()?;
            Some(under(place, &writer(judged, &crews.words).floor_name(option.key())))
        });
        let all: Vec<String> = all.collect();
        let list = |revision| {
            let list = buying_list(&crew, option, &paper(revision)).map_err(no_words)?;
            let floor = if all.is_empty() { list.floor.clone() } else { all.join("; ") };
            Ok(BuyingList { floor, ..list })
        };
        pages.keep(PaperKind::BuyingList, "buying list", list, report)?;
        let keys: Vec<&str> = floors.iter().map(|(_, option)| option.key().0.as_str()).collect();
        let csv = |_| Ok(Some(buying_csv(&judged.case, option, &keys.join(" "))));
        keep_text(&inside, &format!("{}-buying-list", pages.number), "csv", csv, report)?;
    }
    let mut dated = false;
    for (judged, option) in &floors {
        let crew_writer = writer(judged, &crews.words);
        let customer_writer = writer(judged, &customers.words);
        let name = |what: &str| format!("{}-{}", pages.number, in_place(what, judged));
        let crew = |revision| crew_days(&crew_writer, option, revision).map_err(no_words);
        let customer =
            |revision| customer_days(&customer_writer, option, revision).map_err(no_words);
        dated |= keep_text(&inside, &name("crew-days"), "ics", crew, report)?;
        keep_text(&outside, &name("days"), "ics", customer, report)?;
    }
    if !dated {
        report.say("no calendars: the job has no `start` under `[plan]` yet");
    }
    Ok(Exit::Fine)
}

/// The floors that are laid, each with the judgment of its space.
fn floors<'j, 'a>(
    judged: &'j JudgedJob<'a>,
    wanted: Option<&str>,
) -> Result<Vec<(&'j Judged<'a>, &'j FloorOption<'a>)>> {
    let JudgedJob::Spaces(_, all) = judged else {
        return Ok(vec![(judged.first(), floor_of(judged.first(), wanted)?)]);
    };
    if wanted.is_some() {
        return Err(one_floor());
    }
    let chosen = all.price.iter().flat_map(|price| price.floors.iter().zip(&all.spaces));
    let mut floors = vec![];
    for (floor, judged) in chosen {
        if let Some(floor) = floor {
            floors.push((judged, floor_of(judged, Some(&floor.0))?));
        }
    }
    if floors.is_empty() {
        return Err(nothing_offered());
    }
    Ok(floors)
}

/// The name of a paper, with the number of its space where the job has several.
fn in_place(what: &str, judged: &Judged<'_>) -> String {
    match &judged.case.job.place {
        Some(place) => format!("{what}-{}", place.number),
        None => what.to_owned(),
    }
}

fn under(place: &Place, says: &str) -> String {
    format!("{}: {says}", place.name)
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
