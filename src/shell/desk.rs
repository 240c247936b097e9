//! Where the customer's papers are made and issued.

use std::path::Path;

use serde::Serialize;
use slableaf::family::{care_sheet, leaflet};
use slableaf::input::Input;
use slableaf::judged::Judged;
use slableaf::layouts::Layouts;
use slableaf::options::Choice;
use slableaf::proposal::page::Page;
use slableaf::proposal::writer::Writer;
use slableaf::proposal::{self, Issue, LOGO_PATH, photo_path};
use slableaf::typeset::{Document, Manuscript, PagesWanted};
use slableaf::words::{Words, WordsError};

use crate::shell::Exit;
use crate::shell::args::Paper;
use crate::shell::files::{Kept, Pictures};
use crate::shell::issue::{Issued, issue, say_unchanged, typeset};
use crate::shell::terminal;

/// Everything that a revision is made of.
pub struct Desk<'a> {
    pub input: &'a Input,
    pub judged: &'a Judged<'a>,
    pub words: &'a Words,
    pub layouts: &'a Layouts,
    pub pictures: &'a Pictures,
    pub drawn: Option<PagesWanted>,
    /// The floor that the care sheet is for.
    pub laid: Option<&'a Choice<'a>>,
    /// True when the leaflet has prices.
    pub prices: bool,
}

/// A paper's page data as JSON, and its document.
pub type Made = (String, Document);

impl Desk<'_> {
    /// The name of a paper's file, without its revision.
    pub fn name(&self, paper: Paper) -> String {
        format!("{}-{}", self.input.job.number.0, paper.name())
    }

    /// Issues a paper into a folder, or finds its latest revision unchanged; says which.
    pub fn issue(&self, paper: Paper, folder: &Path) -> Result<Issued<Made>, Exit> {
        self.issued(paper, folder, |revision| self.made(paper, Some(revision)))
    }

    /// Issues the proposal, as [`Self::issue`] does; what a mail says comes from its page.
    pub fn issue_proposal(&self, folder: &Path) -> Result<Issued<(Page, Document)>, Exit> {
        self.issued(Paper::Proposal, folder, |revision| self.proposal(Some(revision)))
    }

    fn issued<P>(
        &self,
        paper: Paper,
        folder: &Path,
        make: impl Fn(u32) -> Result<(P, Document), Exit>,
    ) -> Result<Issued<(P, Document)>, Exit> {
        let issued = issue(folder, &self.name(paper), "pdf", |revision| {
            let (page, document) = make(revision)?;
            Ok((document.pdf.clone(), (page, document)))
        })?;
        match issued.kept {
            Kept::Written => self.report(paper, &issued.path, &issued.made.1),
            Kept::Exists => say_unchanged(&issued.path),
        }
        Ok(issued)
    }

    /// Makes a paper: a draft when it has no revision.
    pub fn made(&self, paper: Paper, revision: Option<u32>) -> Result<Made, Exit> {
        let issue = self.paper(revision, 0);
        match (paper, self.laid) {
            (Paper::Leaflet, _) => {
                let page = leaflet(&self.writer(), &issue, self.prices);
                self.small(paper, page, revision)
            }
            (Paper::Care, Some(laid)) => {
                let page = care_sheet(&self.writer(), laid, &issue);
                self.small(paper, page, revision)
            }
            (Paper::Proposal | Paper::Care, _) => {
                let (page, document) = self.proposal(revision)?;
                Ok((json(&page), document))
            }
        }
    }

    fn small<P: Serialize>(
        &self,
        paper: Paper,
        page: Result<P, WordsError>,
        revision: Option<u32>,
    ) -> Result<Made, Exit> {
        let page = page.map_err(|error| terminal::words(&error, self.layouts))?;
        let document = self.typeset(paper, &page, &[], revision)?;
        Ok((json(&page), document))
    }

    fn proposal(&self, revision: Option<u32>) -> Result<(Page, Document), Exit> {
        let photos = &self.pictures.photos;
        let page = proposal::page(&self.writer(), &self.paper(revision, photos.len()))
            .map_err(|error| terminal::words(&error, self.layouts))?;
        let document = self.typeset(Paper::Proposal, &page, photos, revision)?;
        Ok((page, document))
    }

    fn paper(&self, revision: Option<u32>, photos: usize) -> Issue {
        Issue { revision, has_logo: self.pictures.logo.is_some(), photos }
    }

    fn typeset<P: Serialize>(
        &self,
        paper: Paper,
        page: &P,
        photos: &[Vec<u8>],
        revision: Option<u32>,
    ) -> Result<Document, Exit> {
        let mut pictures: Vec<(String, Vec<u8>)> = vec![];
        pictures.extend(self.pictures.logo.iter().map(|logo| (LOGO_PATH.to_owned(), logo.clone())));
        let photos = photos.iter().enumerate();
        pictures.extend(photos.map(|(at, photo)| (photo_path(at), photo.clone())));
        let number = &self.input.job.number.0;
        let manuscript = Manuscript {
            kind: paper.kind(),
            page,
            pictures,
            date: self.input.job.date,
            identity: format!("{number} {} {}", paper.name(), revision.unwrap_or(0)),
            drawn: self.drawn,
        };
        typeset(manuscript, self.layouts)
    }

    /// Says what was written.
    pub fn report(&self, paper: Paper, path: &Path, document: &Document) {
        let noun = if document.pages == 1 { "page" } else { "pages" };
        println!("wrote {} ({} {noun})", path.display(), document.pages);
        let writer = self.writer();
        match (paper, self.laid, writer.recommended()) {
            (Paper::Care, Some(laid), _) => println!("  for {}", laid.key()),
            (Paper::Proposal, _, Some(choice)) => {
                println!("  recommends {}, {}", choice.key(), writer.money(choice.quote.total));
            }
            (_, _, None) => println!("  offers nothing yet; `slableaf check` says why"),
            _ => {}
        }
    }

    fn writer(&self) -> Writer<'_> {
        let Judged { case, findings, recommendation } = self.judged;
        Writer::new(case, findings, recommendation, self.words)
    }
}

fn json<P: Serialize>(page: &P) -> String {
    serde_json::to_string_pretty(page).unwrap_or_default()
}
