//! `write`: the customer's paper, issued once and never overwritten.

use std::fs;
use std::path::{Path, PathBuf};

use slableaf::input::Input;
use slableaf::judged::Judged;
use slableaf::layouts::Layouts;
use slableaf::proposal::page::Page;
use slableaf::proposal::writer::Writer;
use slableaf::proposal::{self, Issue, LOGO_PATH, photo_path};
use slableaf::typeset::{Document, Failure, proposal_pdf};
use slableaf::words::Words;

use crate::shell::Exit;
use crate::shell::args::Write;
use crate::shell::files::{Kept, Pictures};
use crate::shell::{files, terminal};

/// Revisions of one job; more is a mistake in a loop.
const MOST_REVISIONS: u32 = 999;

pub fn write(write: &Write) -> Exit {
    written(write).unwrap_or_else(|exit| exit)
}

fn written(write: &Write) -> Result<Exit, Exit> {
    let (found, input) = files::load(&write.files)?;
    let judged = files::judged(&input)?;
    let pictures = files::pictures(&found, &input)?;
    let layouts = Layouts::default();
    let words =
        Words::read(&layouts, &input.shop.language).map_err(|error| terminal::words(&error))?;
    let out = write.out.clone().unwrap_or_else(|| found.job_folder.join("papers"));
    let desk = Desk {
        input: &input,
        judged: &judged,
        words: &words,
        layouts: &layouts,
        pictures: &pictures,
    };
    if write.draft {
        let (page, document) = desk.typeset(None)?;
        let path = out.join(format!("{}-proposal-draft.pdf", input.job.number.0));
        files::keep(&path, &document.pdf, true)?;
        report(&path, &document, &desk);
        return page_data(write, &path, &page);
    }
    let (path, page, document, kept) = desk.issue(&out)?;
    match kept {
        Kept::Written => report(&path, &document, &desk),
        Kept::Exists => {
            println!("unchanged: {} is the same to the byte; nothing was written", path.display())
        }
    }
    page_data(write, &path, &page)
}

/// Everything that a revision is made of.
struct Desk<'a> {
    input: &'a Input,
    judged: &'a Judged<'a>,
    words: &'a Words,
    layouts: &'a Layouts,
    pictures: &'a Pictures,
}

impl Desk<'_> {
    fn typeset(&self, revision: Option<u32>) -> Result<(Page, Document), Exit> {
        let Judged { case, findings, recommendation } = self.judged;
        let writer = Writer::new(case, findings, recommendation, self.words);
        let issue = Issue {
            revision,
            has_logo: self.pictures.logo.is_some(),
            photos: self.pictures.photos.len(),
        };
        let page = proposal::page(&writer, &issue).map_err(|error| terminal::words(&error))?;
        let mut pictures: Vec<(String, Vec<u8>)> = vec![];
        pictures.extend(self.pictures.logo.iter().map(|logo| (LOGO_PATH.to_owned(), logo.clone())));
        let photos = self.pictures.photos.iter().enumerate();
        pictures.extend(photos.map(|(at, photo)| (photo_path(at), photo.clone())));
        let identity = format!("{} proposal {}", self.input.job.number.0, revision.unwrap_or(0));
        match proposal_pdf(&page, self.layouts, pictures, self.input.job.date, &identity) {
            Ok(document) => Ok((page, document)),
            Err(failure @ Failure::Layout(_)) => {
                terminal::error(&format!("the layout cannot be printed\n{failure}"));
                Err(Exit::Paper)
            }
            Err(failure) => {
                terminal::error(&failure.to_string());
                Err(Exit::Paper)
            }
        }
    }

    /// The latest revision when it is the same to the byte, else the next one.
    fn issue(&self, out: &Path) -> Result<(PathBuf, Page, Document, Kept), Exit> {
        let path = |revision: u32| {
            out.join(format!("{}-proposal-r{revision}.pdf", self.input.job.number.0))
        };
        // The highest there is, also when an earlier one was moved away: a number is used once.
        let mut revision = (1..=MOST_REVISIONS).rev().find(|r| path(*r).exists()).unwrap_or(0);
        if revision > 0 {
            let (page, document) = self.typeset(Some(revision))?;
            let there = fs::read(path(revision))
                .map_err(|error| files::cannot("read", &path(revision), &error))?;
            if there == document.pdf {
                return Ok((path(revision), page, document, Kept::Exists));
            }
        }
        // Another process may take a number first; then the next one is ours.
        while revision < MOST_REVISIONS {
            revision += 1;
            let (page, document) = self.typeset(Some(revision))?;
            let kept = files::keep(&path(revision), &document.pdf, false)?;
            let same = || fs::read(path(revision)).is_ok_and(|there| there == document.pdf);
            if matches!(kept, Kept::Written) || same() {
                return Ok((path(revision), page, document, kept));
            }
        }
        terminal::error(&format!(
            "{} has {MOST_REVISIONS} revisions already",
            self.input.job.number.0
        ));
        Err(Exit::Files)
    }
}

fn report(path: &Path, document: &Document, desk: &Desk<'_>) {
    let Judged { case, recommendation, .. } = desk.judged;
    let noun = if document.pages == 1 { "page" } else { "pages" };
    println!("wrote {} ({} {noun})", path.display(), document.pages);
    let writer = Writer::new(case, &desk.judged.findings, recommendation, desk.words);
    match writer.recommended() {
        Some(choice) => {
            println!("  recommends {}, {}", choice.key(), writer.money(choice.quote.total))
        }
        None => println!("  offers nothing yet; `slableaf check` says why"),
    }
}

fn page_data(write: &Write, pdf: &Path, page: &Page) -> Result<Exit, Exit> {
    if write.page_data {
        let text = serde_json::to_string_pretty(page).unwrap_or_default();
        files::keep(&pdf.with_extension("page.json"), text.as_bytes(), true)?;
    }
    Ok(Exit::Fine)
}
