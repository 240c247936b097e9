//! `write`: the customer's paper, issued once and never overwritten.

use std::path::Path;

use slableaf::input::Input;
use slableaf::job::Print;
use slableaf::judged::Judged;
use slableaf::layouts::Layouts;
use slableaf::proposal::page::Page;
use slableaf::proposal::writer::Writer;
use slableaf::proposal::{self, Issue, LOGO_PATH, photo_path};
use slableaf::typeset::{Document, Kind, Manuscript, PagesWanted};
use slableaf::words::Words;

use crate::shell::Exit;
use crate::shell::args::Write;
use crate::shell::files::{Kept, Pictures};
use crate::shell::issue::{Issued, issue, say_unchanged, typeset};
use crate::shell::{files, layouts, terminal};

pub fn write(write: &Write) -> Exit {
    written(write).unwrap_or_else(|exit| exit)
}

fn written(write: &Write) -> Result<Exit, Exit> {
    let (found, mut input) = files::load(&write.files)?;
    if write.large_print {
        input.job.print = Print::Large;
    }
    let judged = files::judged(&input)?;
    let pictures = files::pictures(&found, &input)?;
    let (layouts, words) = layouts::with_words(&found, &input)?;
    let out = write.out.clone().unwrap_or_else(|| found.job_folder.join("papers"));
    let desk = Desk {
        input: &input,
        judged: &judged,
        words: &words,
        layouts: &layouts,
        pictures: &pictures,
        drawn: write.png.map(|pages| PagesWanted { first: pages.first, last: pages.last }),
    };
    if write.draft {
        let (page, document) = desk.typeset(None)?;
        let path = out.join(format!("{}-draft.pdf", desk.name()));
        files::keep(&path, &document.pdf, true)?;
        report(&path, &document, &desk);
        page_pictures(&path, &document, true)?;
        return page_data(write, &path, &page);
    }
    let issued = desk.issue(&out)?;
    let (page, document) = &issued.made;
    page_pictures(&issued.path, document, false)?;
    page_data(write, &issued.path, page)
}

/// Everything that a revision is made of.
pub struct Desk<'a> {
    pub input: &'a Input,
    pub judged: &'a Judged<'a>,
    pub words: &'a Words,
    pub layouts: &'a Layouts,
    pub pictures: &'a Pictures,
    pub drawn: Option<PagesWanted>,
}

impl Desk<'_> {
    fn name(&self) -> String {
        format!("{}-proposal", self.input.job.number.0)
    }

    /// Issues the proposal into a folder, or finds its latest revision unchanged; says which.
    pub fn issue(&self, folder: &Path) -> Result<Issued<(Page, Document)>, Exit> {
        let issued = issue(folder, &self.name(), "pdf", |revision| {
            let (page, document) = self.typeset(Some(revision))?;
            Ok((document.pdf.clone(), (page, document)))
        })?;
        match issued.kept {
            Kept::Written => report(&issued.path, &issued.made.1, self),
            Kept::Exists => say_unchanged(&issued.path),
        }
        Ok(issued)
    }

    fn typeset(&self, revision: Option<u32>) -> Result<(Page, Document), Exit> {
        let Judged { case, findings, recommendation } = self.judged;
        let writer = Writer::new(case, findings, recommendation, self.words);
        let paper = Issue {
            revision,
            has_logo: self.pictures.logo.is_some(),
            photos: self.pictures.photos.len(),
        };
        let page = proposal::page(&writer, &paper)
            .map_err(|error| terminal::words(&error, self.layouts))?;
        let mut pictures: Vec<(String, Vec<u8>)> = vec![];
        pictures.extend(self.pictures.logo.iter().map(|logo| (LOGO_PATH.to_owned(), logo.clone())));
        let photos = self.pictures.photos.iter().enumerate();
        pictures.extend(photos.map(|(at, photo)| (photo_path(at), photo.clone())));
        let manuscript = Manuscript {
            kind: Kind::Proposal,
            page: &page,
            pictures,
            date: self.input.job.date,
            identity: format!("{} proposal {}", self.input.job.number.0, revision.unwrap_or(0)),
            drawn: self.drawn,
        };
        let document = typeset(manuscript, self.layouts)?;
        Ok((page, document))
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

/// Keeps pages as pictures beside their PDF. They are drawn from it, so that an issued paper has
/// the same ones every time.
fn page_pictures(pdf: &Path, document: &Document, overwrite: bool) -> Result<(), Exit> {
    for (number, png) in &document.pictures {
        let path = pdf.with_extension(format!("page-{number:02}.png"));
        match files::keep(&path, png, overwrite)? {
            Kept::Written => println!("wrote {}", path.display()),
            Kept::Exists => println!("there already: {}", path.display()),
        }
    }
    Ok(())
}
