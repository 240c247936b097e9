//! `write`: the customer's papers, issued once and never overwritten.

use std::path::{Path, PathBuf};

use clap::ValueEnum as _;
use slableaf::base::lists::each_once;
use slableaf::model::job::Accepted;
use slableaf::typeset::{Document, PagesWanted};

use crate::shell::args::{JobFiles, Pages, Paper, PaperEdition, Write};
use crate::shell::commands::batch::{Done, each_job};
use crate::shell::commands::watch;
use crate::shell::store::{
    AfterFiles, Cache, Issued, JobPapers, JudgedJob, LoadedJob, OrderFiles, PageAndDocument,
    Records, Saved, Signed, all_jobs, chosen_floor, folder_of, judge_any, load_files, make_again,
    own_folder, parallel, put_out_copy, read_acceptance, read_alone, refuse_other_than_folder,
    since_signed, single_job, warn_of_age, write_file, write_new_file,
};
use crate::shell::terminal::{Error, Exit, Report, Result};

pub fn write(wanted: &Write, report: &mut Report) -> Result<Exit> {
    let papers = papers_wanted(wanted)?;
    refuse_pages_apart(wanted)?;
    let held = papers.iter().find(|paper| is_held_against_signature(**paper));
    if let (true, Some(held)) = (wanted.watch, held) {
        let name = held.name();
        let message =
            format!("the paper `{name}` is not watched: it is held against what was signed");
        return Err(Error::new(Exit::Line, message)
            .help("leave out `--watch`; `--draft` writes one to read"));
    }
    if wanted.watch {
        return watch::watch(wanted, &papers, report);
    }
    let cache = Cache::default();
    if let Some(job) = single_job(&wanted.jobs) {
        return write_one(wanted, job, &papers, &cache, report).map(|_| Exit::Fine);
    }
    let one_folder = wanted.out.is_some() || wanted.records.is_some();
    let work = |job: &Path, report: &mut Report| write_one(wanted, job, &papers, &cache, report);
    let jobs = all_jobs(&wanted.jobs)?;
    let threads = parallel::threads(wanted.jobs.at_a_time);
    Ok(each_job(jobs, threads, one_folder, work, report))
}

/// Refuses pages that were typed apart from their option, where they look like a job.
fn refuse_pages_apart(wanted: &Write) -> Result<()> {
    let is_pages = |path: &&PathBuf| {
        !path.exists() && path.to_str().is_some_and(|text| text.parse::<Pages>().is_ok())
    };
    let apart = wanted.jobs.paths.iter().find(is_pages);
    let Some(apart) = apart.filter(|_| wanted.png.is_some()) else { return Ok(()) };
    let apart = apart.display();
    Err(Error::new(Exit::Line, format!("`{apart}` is no job"))
        .help(format!("for pages, write `--png={apart}`")))
}

/// Writes the papers of one job.
fn write_one(
    wanted: &Write,
    job: &Path,
    papers: &[Paper],
    cache: &Cache,
    report: &mut Report,
) -> Result<Done> {
    let mut papers = papers.to_vec();
    let job_folder = folder_of(job);
    let records = own_folder(&job_folder, wanted.records.as_ref(), "records", "--records")?;
    let out = papers_folder(wanted, &job_folder)?;
    let mut done = Done::Unchanged;
    if papers.contains(&Paper::ChangeOrder) {
        done = write_change_order(wanted, job, &records, &out, cache, report)?;
        papers.retain(|paper| *paper != Paper::ChangeOrder);
        if papers.is_empty() {
            return Ok(done);
        }
    }
    for paper in Paper::value_variants().iter().copied().filter(|paper| paper.is_after_work()) {
        if papers.contains(&paper) {
            done = done.or(write_after_work(wanted, job, paper, &records, &out, cache, report)?);
            papers.retain(|one| *one != paper);
        }
    }
    if papers.is_empty() {
        return Ok(done);
    }
    if !wanted.draft
        && papers.contains(&Paper::Proposal)
        && let Some(signed) = read_acceptance(job)?
    {
        let records = Records::open(records.clone(), &signed.number)?;
        write_signed(wanted, &signed, &records, &out, cache, report)?;
        // Whatever cannot be held against it does not keep the signed paper from being put out.
        if let Ok(Some(since)) = since_signed(job, cache) {
            since.warn(job, report);
        }
        papers.retain(|paper| *paper != Paper::Proposal);
        if papers.is_empty() {
            return Ok(done);
        }
    }
    with_papers(wanted, job, &papers, cache, |job_papers| {
        job_papers.job.unprinted.warn(report);
        let job = &job_papers.job.input.job;
        if wanted.draft {
            let records = Records::to_read(records, &job.number.0);
            job_papers.job.originals.keep_beside(&records);
            write_drafts(wanted, job_papers, &papers, &out, report)?;
            warn_of_age(job, report);
            return Ok(Done::Written);
        }
        let records = Records::open(records, &job.number.0)?;
        job_papers.job.files.are_as_read()?;
        for paper in &papers {
            done = done.or(issue_all(wanted, job_papers, *paper, &records, &out, report)?);
        }
        if done == Done::Written {
            warn_of_age(job, report);
        }
        Ok(done)
    })
}

/// Writes what changes after a signature, to be signed too. What was signed already is put out again.
fn write_change_order(
    wanted: &Write,
    path: &Path,
    folder: &Path,
    out: &Path,
    cache: &Cache,
    report: &mut Report,
) -> Result<Done> {
    let job = read_alone(path)?;
    if job.accepted.is_none() {
        let message =
            "a change order is for a job that was signed, and this one has no `[accepted]`";
        return Err(Error::new(Exit::Input, message)
            .help("before a signature change the job itself, and `write` the next revision"));
    }
    let records = records_in(wanted, folder, &job.number.0)?;
    let Some(read) = OrderFiles::read(path, &records, cache)? else {
        return Ok(Done::Unchanged);
    };
    let order = &read.basis.order;
    if order.is_empty() {
        let Some(last) = order.before.orders.last() else {
            let message = "nothing differs from what was signed, so there is nothing to order";
            return Err(Error::new(Exit::Input, message).help(
                "write the change into the job first: areas, `[[item]]`, or an `[[order]]` with `floor` or `additions`",
            ));
        };
        let stored = records.revision(Paper::ChangeOrder.name(), *last)?;
        let (copy, ..) = put_out_copy(&stored, out)?;
        report.say(format!("signed: {} stays as it was signed", copy.display()));
        return Ok(Done::Unchanged);
    }
    let (mut loaded, basis) = read.load(cache)?;
    loaded.set_print(wanted.large_print);
    let spaces = loaded.input.job.of_spaces();
    let judged = OrderFiles::judge(&loaded.input, &spaces)?;
    let job_papers = JobPapers { order: Some(&basis), ..job_papers(wanted, &loaded, &judged) };
    if wanted.draft {
        write_drafts(wanted, &job_papers, &[Paper::ChangeOrder], out, report)?;
        return Ok(Done::Written);
    }
    let done = issue_all(wanted, &job_papers, Paper::ChangeOrder, &records, out, report)?;
    if done == Done::Written {
        warn_of_age(&loaded.input.job, report);
    }
    Ok(done)
}

/// The papers of a job as the line asks for them.
fn job_papers<'a>(wanted: &Write, job: &'a LoadedJob, judged: &'a JudgedJob<'a>) -> JobPapers<'a> {
    JobPapers {
        drawn: drawn_pages(wanted),
        prices: wanted.with_prices,
        large_print: wanted.large_print,
        ..JobPapers::new(job, judged)
    }
}

/// True for a paper that is made from what was signed.
fn is_held_against_signature(paper: Paper) -> bool {
    paper == Paper::ChangeOrder || paper.is_after_work()
}

/// Writes a paper of the time after the work.
fn write_after_work(
    wanted: &Write,
    path: &Path,
    paper: Paper,
    folder: &Path,
    out: &Path,
    cache: &Cache,
    report: &mut Report,
) -> Result<Done> {
    let records = records_in(wanted, folder, &read_alone(path)?.number.0)?;
    let read = AfterFiles::read(path, paper, &records, cache)?;
    let (mut loaded, agreed) = read.load(cache)?;
    loaded.set_print(wanted.large_print);
    loaded.unprinted.warn(report);
    let spaces = loaded.input.job.of_spaces();
    let judged = judge_any(&loaded.input, &spaces)?;
    // What differs is told, and is no part of what was agreed.
    if let Ok(Some(since)) = since_signed(path, cache) {
        since.warn(path, report);
    }
    let job_papers = JobPapers { agreed: Some(&agreed), ..job_papers(wanted, &loaded, &judged) };
    if wanted.draft {
        write_drafts(wanted, &job_papers, &[paper], out, report)?;
        return Ok(Done::Written);
    }
    issue_all(wanted, &job_papers, paper, &records, out, report)
}

/// The records of a job: to look at for a draft, else to write.
fn records_in(wanted: &Write, folder: &Path, number: &str) -> Result<Records> {
    let folder = folder.to_owned();
    if wanted.draft { Ok(Records::to_read(folder, number)) } else { Records::open(folder, number) }
}

/// Issues a paper in each of its editions.
fn issue_all(
    wanted: &Write,
    job_papers: &JobPapers<'_>,
    paper: Paper,
    records: &Records,
    out: &Path,
    report: &mut Report,
) -> Result<Done> {
    let printed = job_papers.issue(paper, records, out, report)?;
    let done = beside(wanted, job_papers, paper.printed(), &printed, report)?;
    if job_papers.editions(paper, wanted.phone).len() == 1 {
        return Ok(done);
    }
    let phone = job_papers.issue_for_phone(paper, &printed.stored, records, out, report)?;
    let Some((edition, issued)) = paper.for_phone().zip(phone) else { return Ok(done) };
    Ok(done.or(beside(wanted, job_papers, edition, &issued, report)?))
}

/// Writes the files that were asked for beside an issued paper, and says whether this run issued it.
fn beside(
    wanted: &Write,
    job_papers: &JobPapers<'_>,
    edition: PaperEdition,
    issued: &Issued,
    report: &mut Report,
) -> Result<Done> {
    if wanted.page_data || wanted.png.is_some() {
        let record = &issued.stored.record;
        let again = || job_papers.make(edition, Some(record.revision), record.replaces.as_ref());
        match &issued.made {
            Some(content) => write_beside(wanted, &issued.path, content, report)?,
            None => write_beside(wanted, &issued.path, &again()?, report)?,
        }
    }
    Ok(if issued.is_new { Done::Written } else { Done::Unchanged })
}

/// The folder for the papers of a job.
pub fn papers_folder(wanted: &Write, job_folder: &Path) -> Result<PathBuf> {
    let out = own_folder(job_folder, wanted.out.as_ref(), "papers", "--out")?;
    refuse_other_than_folder(&out)?;
    Ok(out)
}

/// Reads a job with all that belongs to it, and works with its papers.
pub fn with_papers<T>(
    wanted: &Write,
    job: &Path,
    papers: &[Paper],
    cache: &Cache,
    work: impl FnOnce(&JobPapers<'_>) -> Result<T>,
) -> Result<T> {
    let files = JobFiles { job: job.to_owned(), near: wanted.near.clone() };
    let (files, input) = load_files(&files, cache)?;
    refuse_after_choice(papers, input.job.accepted.as_ref())?;
    // A floor that cannot be cared for is refused before anything is written.
    let care = papers.contains(&Paper::Care);
    if care {
        let spaces = input.job.of_spaces();
        chosen_floor(&judge_any(&input, &spaces)?, wanted.floor.as_deref())?;
    }
    let mut job = LoadedJob::of(files, input, cache)?;
    job.set_print(wanted.large_print);
    let spaces = job.input.job.of_spaces();
    let judged = judge_any(&job.input, &spaces)?;
    let laid = if care { chosen_floor(&judged, wanted.floor.as_deref())? } else { None };
    work(&JobPapers { laid, ..job_papers(wanted, &job, &judged) })
}

/// Refuses a sheet that helps to choose a floor once one was signed for.
fn refuse_after_choice(papers: &[Paper], accepted: Option<&Accepted>) -> Result<()> {
    let helps = |paper: &&Paper| matches!(paper, Paper::Bids | Paper::WhatIf | Paper::Years);
    let found = papers.iter().find(helps).zip(accepted);
    let Some((paper, accepted)) = found else { return Ok(()) };
    let (name, on) = (paper.name(), accepted.on);
    let message = format!("the floor was signed for on {on}, and `{name}` helps to choose one");
    Err(Error::new(Exit::Input, message).help(
        "for another floor write an `[[order]]` with `floor`, and then `--paper change-order`",
    ))
}

/// Writes drafts over those that are there.
pub fn write_drafts(
    wanted: &Write,
    job_papers: &JobPapers<'_>,
    papers: &[Paper],
    out: &Path,
    report: &mut Report,
) -> Result<()> {
    let editions = papers.iter().flat_map(|paper| job_papers.editions(*paper, wanted.phone));
    for edition in editions {
        let content = job_papers.make(edition, None, None)?;
        let path = out.join(format!("{}-draft.pdf", job_papers.name(edition)));
        write_file(&path, &content.1.pdf)?;
        job_papers.say_written(edition, &path, content.1.pages, report);
        write_beside(wanted, &path, &content, report)?;
    }
    Ok(())
}

/// Puts out the proposal that was signed, and the files that were asked for beside it.
fn write_signed(
    wanted: &Write,
    signed: &Signed,
    records: &Records,
    out: &Path,
    cache: &Cache,
    report: &mut Report,
) -> Result<()> {
    let issued = signed.put_out(records, out, report)?;
    if wanted.large_print && !issued.stored.record.options.large_print {
        report.say("  `--large-print` changes nothing on it; `--draft` sets a copy to read");
    }
    if wanted.phone || signed.phone {
        match signed.put_out_for_phone(records, out)? {
            Some(phone) => report.say(format!("  for a telephone: {}", phone.path.display())),
            None if wanted.phone => report.say(
                "  no edition for a telephone was issued of it; `--draft --phone` sets a copy to read",
            ),
            None => {}
        }
    }
    if wanted.page_data || wanted.png.is_some() {
        let content = make_again(&issued.stored, cache, drawn_pages(wanted))?;
        if content.1.pdf != issued.pdf {
            let message = "this program would not print the accepted paper the same today";
            return Err(Error::new(Exit::Paper, message)
                .help("so it makes no page data or pictures of it; `slableaf verify` says more"));
        }
        write_beside(wanted, &issued.path, &content, report)?;
    }
    Ok(())
}

fn drawn_pages(wanted: &Write) -> Option<PagesWanted> {
    wanted.png.map(|pages| PagesWanted { first: pages.first, last: pages.last })
}

/// The papers that were asked for, each once; every option has to be of use to one.
fn papers_wanted(wanted: &Write) -> Result<Vec<Paper>> {
    let papers = each_once(wanted.papers.iter().copied());
    let of_no_use = |option: &str, paper: &str, help: &str| {
        let message = format!("`{option}` is for the {paper} alone, which is not asked for");
        Err(Error::new(Exit::Line, message).help(help))
    };
    if wanted.with_prices && !papers.contains(&Paper::Leaflet) {
        let help = "add `--paper leaflet`; the proposal always has its prices";
        return of_no_use("--with-prices", "leaflet", help);
    }
    if wanted.phone && papers.iter().all(|paper| paper.for_phone().is_none()) {
        let message = "`--phone` is for proposal and leaflet, and neither is asked for";
        return Err(Error::new(Exit::Line, message).help("add `--paper proposal`"));
    }
    if wanted.floor.is_some() && !papers.contains(&Paper::Care) {
        let help = "add `--paper care`; the other papers hold every floor on offer";
        return of_no_use("--floor", "care sheet", help);
    }
    Ok(papers)
}

/// Writes the files that were asked for beside a paper.
fn write_beside(
    wanted: &Write,
    pdf: &Path,
    (page, document): &PageAndDocument,
    report: &mut Report,
) -> Result<()> {
    write_pages(pdf, document, wanted.draft, report)?;
    if wanted.page_data {
        write_file(&pdf.with_extension("page.json"), page.as_bytes())?;
    }
    Ok(())
}

/// Writes pages as pictures beside their PDF. They are drawn from it, so that an issued paper has
/// the same ones every time.
fn write_pages(pdf: &Path, document: &Document, is_draft: bool, report: &mut Report) -> Result<()> {
    for (number, png) in &document.pictures {
        let path = pdf.with_extension(format!("page-{number:02}.png"));
        let saved = if is_draft {
            write_file(&path, png).map(|()| Saved::Written)
        } else {
            write_new_file(&path, png)
        };
        report.say(match saved? {
            Saved::Written => format!("wrote {}", path.display()),
            Saved::Exists => format!("there already: {}", path.display()),
        });
    }
    Ok(())
}
