//! `mail`: a draft for the customer with the proposal attached, or what follows it.

use std::borrow::Cow;
use std::path::Path;

use slableaf::papers::mail::{self, Attached, AttachedEdition, DraftFault, Enclosed, Letter};
use slableaf::papers::proposal::writer::Writer;
use slableaf::read::limits::RECORD_BYTES;
use slableaf::say::words::WordsError;

use crate::shell::args::{Mail, Paper};
use crate::shell::commands::mail_handover::mail_handover;
use crate::shell::commands::mail_signed::{Folders, mail_signed};
use crate::shell::store::{
    Cache, Issued, JobPapers, LoadedJob, Records, judge_any, load_files, read_acceptance,
    read_plain, refuse_other_than_folder, warn_of_age, write_file,
};
use crate::shell::terminal::{Error, Exit, Report, Result};

pub fn mail(wanted: &Mail, report: &mut Report) -> Result<Exit> {
    let cache = Cache::default();
    let (files, now) = load_files(&wanted.files, &cache)?;
    // Nothing is issued for a mail that cannot be written.
    let sender = now.shop.email.as_deref();
    let fault = match sender.map(slableaf::base::address::address_fault) {
        None => Some(DraftFault::NoSender),
        Some(fault) => fault.map(DraftFault::Sender),
    };
    let shop_file = files.files.shop.name.clone();
    if let Some(fault) = fault {
        return Err(refusal(&fault, &shop_file));
    }
    let papers = files.folder(wanted.papers.as_ref(), "papers", "--papers")?;
    let folder = files.folder(wanted.records.as_ref(), "records", "--records")?;
    let out = wanted.out.as_ref().unwrap_or(&papers);
    refuse_other_than_folder(&papers)?;
    if let Some(signed) = read_acceptance(&wanted.files.job)? {
        let records = Records::open(folder, &signed.number)?;
        let folders = Folders { records: &records, papers: &papers, out };
        if let Some(exit) = mail_handover(wanted, &now, &folders, &shop_file, &cache, report)? {
            return Ok(exit);
        }
        return mail_signed(wanted, &signed, &now, &folders, &shop_file, &cache, report);
    }
    let job = LoadedJob::of(files, now, &cache)?;
    job.unprinted.warn(report);
    let spaces = job.input.job.of_spaces();
    let judged = judge_any(&job.input, &spaces)?;
    let job_papers = JobPapers::new(&job, &judged);
    let records = Records::open(folder, &job.input.job.number.0)?;
    job.files.are_as_read()?;
    let issued = job_papers.issue(Paper::Proposal, &records, &papers, report)?;
    // The paper that is sent bears the date, whether or not it was issued before.
    warn_of_age(&job.input.job, report);
    let phone =
        phone_edition(wanted, Paper::Proposal, &job_papers, &issued, &records, &papers, report)?;
    write_draft(&job_papers, &issued, phone.as_ref(), out, &shop_file, report)
}

/// A paper for a telephone: when it was asked for, or was issued already.
pub fn phone_edition(
    wanted: &Mail,
    paper: Paper,
    job_papers: &JobPapers<'_>,
    printed: &Issued,
    records: &Records,
    papers: &Path,
    report: &mut Report,
) -> Result<Option<Issued>> {
    let Some(edition) = paper.for_phone() else { return Ok(None) };
    let stored = &printed.stored;
    let asked_for = job_papers.editions(edition.paper, wanted.phone).contains(&edition);
    if asked_for || records.find(&edition.name(), stored.revision())?.is_some() {
        job_papers.issue_for_phone(edition.paper, stored, records, papers, report)
    } else {
        Ok(None)
    }
}

/// Writes the draft with what was issued: the proposal to print, and the one for a telephone if there is one.
fn write_draft(
    job_papers: &JobPapers<'_>,
    printed: &Issued,
    phone: Option<&Issued>,
    out: &Path,
    shop_file: &str,
    report: &mut Report,
) -> Result<Exit> {
    let record = &printed.stored.record;
    let page = job_papers.proposal_page(Some(record.revision), record.replaces.as_ref())?;
    let phone = phone.map(|phone| (AttachedEdition::Phone, phone));
    let issued: Vec<_> = [(AttachedEdition::Paper, printed)].into_iter().chain(phone).collect();
    let draft = Draft { job_papers, issued: &issued, revision: record.revision };
    // A draft has the number of its proposal: there is one kind of revision.
    let stem = format!("{}-mail-r{}", record.number, record.revision);
    draft.keep(|w, enclosed| mail::letter(w, &page, enclosed), &stem, out, shop_file, report)
}

/// A draft to be written, with what is attached.
pub struct Draft<'a> {
    pub job_papers: &'a JobPapers<'a>,
    /// The papers, the one that the mail is of first.
    pub issued: &'a [(AttachedEdition, &'a Issued)],
    pub revision: u32,
}

impl Draft<'_> {
    /// Writes the draft and its loose text, and says where.
    pub fn keep(
        &self,
        letter: impl FnOnce(&Writer<'_>, &Enclosed<'_>) -> std::result::Result<Letter, WordsError>,
        stem: &str,
        out: &Path,
        shop_file: &str,
        report: &mut Report,
    ) -> Result<Exit> {
        let Self { job_papers, issued, revision } = *self;
        let names: Vec<Cow<'_, str>> = issued.iter().map(|(_, one)| file_name(one)).collect();
        let papers = issued.iter().zip(&names).map(|((edition, one), name)| Attached {
            edition: *edition,
            name,
            pages: one.stored.record.paper.pages,
            pdf: &one.pdf,
        });
        let enclosed = Enclosed { revision, papers: papers.collect() };
        let writer = job_papers.writer();
        let no_words = |error| job_papers.no_words(&error);
        let letter = letter(&writer, &enclosed).map_err(no_words)?;
        let html = letter.html(job_papers.job.layouts.layouts()).map_err(no_words)?;
        let draft = mail::draft(&writer, &letter, html, &enclosed)
            .map_err(|fault| refusal(&fault, shop_file))?;
        let by_hand = letter.by_hand(&writer, &enclosed).map_err(no_words)?;
        keep_draft(&out.join(format!("{stem}.eml")), &draft, report)?;
        let to = job_papers.job.input.job.customer.mail_to();
        let to: Vec<&str> = to.map(|address| address.0.as_str()).collect();
        report.say(if to.is_empty() {
            "  opens unsent in a mail program; the job has no `email` under `[customer]`".to_owned()
        } else {
            format!("  opens unsent in a mail program, to {}", to.join(" and "))
        });
        keep_draft(&out.join(format!("{stem}.txt")), by_hand.as_bytes(), report)?;
        let paths = issued.iter().map(|(_, one)| one.path.display().to_string());
        let paths = paths.collect::<Vec<_>>().join(" and ");
        report.say(format!("  the same words, to send by hand with {paths} attached"));
        Ok(Exit::Fine)
    }
}

fn file_name(issued: &Issued) -> Cow<'_, str> {
    issued.path.file_name().unwrap_or_default().to_string_lossy()
}

/// Writes a draft. It is no issued paper: a new one takes its place.
fn keep_draft(path: &Path, bytes: &[u8], report: &mut Report) -> Result<()> {
    let before = read_plain(path, RECORD_BYTES).ok();
    if before.as_deref() == Some(bytes) {
        report.say(format!("unchanged: {}", path.display()));
        return Ok(());
    }
    write_file(path, bytes)?;
    let done = if before.is_some() { "wrote anew" } else { "wrote" };
    report.say(format!("{done} {}", path.display()));
    Ok(())
}

fn refusal(fault: &DraftFault, shop_file: &str) -> Error {
    let error = |exit| Error::new(exit, fault.to_string());
    match fault {
        DraftFault::NoSender | DraftFault::Sender(_) => error(Exit::Input)
            .help(format!("write `email = \"office@your-shop.example\"` in {shop_file}")),
        DraftFault::TooLarge(_) => error(Exit::Paper),
        DraftFault::Parts(_) => error(Exit::Bug),
    }
}
