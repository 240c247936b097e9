//! Where the customer's papers are made: page, pictures, type.

use std::cell::OnceCell;
use std::path::Path;

use serde::Serialize;
use slableaf::issued::{IssueRecord, Options, Replaced};
use slableaf::judge::Judged;
use slableaf::papers::family::{care_sheet, leaflet};
use slableaf::papers::proposal::page::Page;
use slableaf::papers::proposal::writer::Writer;
use slableaf::papers::proposal::{self, Issue, LOGO_PATH, photo_path};
use slableaf::price::case::FloorOption;
use slableaf::read::Input;
use slableaf::say::words::WordsError;
use slableaf::typeset::{Document, Manuscript, PagesWanted};

use crate::shell::Exit;
use crate::shell::args::Paper;
use crate::shell::files::{self, Pictures};
use crate::shell::issue::typeset;
use crate::shell::materials::Materials;
use crate::shell::prepare::chosen;
use crate::shell::terminal;

/// Everything that a revision is made of.
pub struct Desk<'a> {
    pub materials: &'a Materials,
    pub judged: &'a Judged<'a>,
    pub drawn: Option<PagesWanted>,
    /// The floor that the care sheet is for.
    pub laid: Option<&'a FloorOption<'a>>,
    /// True when the leaflet has prices.
    pub prices: bool,
    /// True when large print was asked for beside the job.
    pub large_print: bool,
    /// Prepared when something is typeset.
    pictures: OnceCell<Pictures>,
}

/// A paper's page data as JSON, and its document.
pub type Made = (String, Document);

impl<'a> Desk<'a> {
    pub fn new(materials: &'a Materials, judged: &'a Judged<'a>) -> Self {
        Self {
            materials,
            judged,
            drawn: None,
            laid: None,
            prices: false,
            large_print: false,
            pictures: OnceCell::new(),
        }
    }

    /// The desk at which a recorded paper was made.
    pub fn of_record(
        materials: &'a Materials,
        judged: &'a Judged<'a>,
        record: &IssueRecord,
    ) -> Result<Self, Exit> {
        let Options { large_print, prices, floor } = &record.options;
        let laid = floor.as_deref().map(|floor| chosen(judged, Some(floor))).transpose()?;
        let (large_print, prices) = (*large_print, *prices);
        Ok(Self { laid, prices, large_print, ..Self::new(materials, judged) })
    }

    pub fn input(&self) -> &'a Input {
        &self.materials.input
    }

    /// The name of a paper's file, without its revision.
    pub fn name(&self, paper: Paper) -> String {
        format!("{}-{}", self.input().job.number.0, paper.name())
    }

    /// What of the command line makes a difference to a paper.
    pub fn options(&self, paper: Paper) -> Options {
        Options {
            large_print: self.large_print,
            prices: paper == Paper::Leaflet && self.prices,
            floor: self.laid.filter(|_| paper == Paper::Care).map(|laid| laid.key().0.clone()),
        }
    }

    /// Makes a paper: a draft when it has no revision.
    pub fn made(
        &self,
        paper: Paper,
        revision: Option<u32>,
        replaces: Option<&Replaced>,
    ) -> Result<Made, Exit> {
        let issue = self.paper(revision, replaces, 0);
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
                let page = self.proposal_page(revision, replaces)?;
                let photos = &self.pictures()?.photos;
                let document = self.typeset(Paper::Proposal, &page, photos, revision)?;
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
        let page = page.map_err(|error| self.no_words(&error))?;
        let document = self.typeset(paper, &page, &[], revision)?;
        Ok((json(&page), document))
    }

    /// The page of a proposal; what a mail says comes from it.
    pub fn proposal_page(
        &self,
        revision: Option<u32>,
        replaces: Option<&Replaced>,
    ) -> Result<Page, Exit> {
        let photos = self.input().job.photos.len();
        proposal::page(&self.writer(), &self.paper(revision, replaces, photos))
            .map_err(|error| self.no_words(&error))
    }

    fn paper(&self, revision: Option<u32>, replaces: Option<&Replaced>, photos: usize) -> Issue {
        let has_logo = self.input().shop.logo.is_some();
        Issue { revision, replaces: replaces.cloned(), has_logo, photos }
    }

    fn pictures(&self) -> Result<&Pictures, Exit> {
        if let Some(ready) = self.pictures.get() {
            return Ok(ready);
        }
        let ready = files::prepared(&self.materials.originals, &self.materials.found)?;
        Ok(self.pictures.get_or_init(|| ready))
    }

    fn typeset<P: Serialize>(
        &self,
        paper: Paper,
        page: &P,
        photos: &[Vec<u8>],
        revision: Option<u32>,
    ) -> Result<Document, Exit> {
        let mut pictures: Vec<(String, Vec<u8>)> = vec![];
        let logo = &self.pictures()?.logo;
        pictures.extend(logo.iter().map(|logo| (LOGO_PATH.to_owned(), logo.clone())));
        let photos = photos.iter().enumerate();
        pictures.extend(photos.map(|(at, photo)| (photo_path(at), photo.clone())));
        let number = &self.input().job.number.0;
        let manuscript = Manuscript {
            kind: paper.kind(),
            page,
            pictures,
            date: self.input().job.date,
            identity: format!("{number} {} {}", paper.name(), revision.unwrap_or(0)),
            drawn: self.drawn,
        };
        typeset(manuscript, &self.materials.house.renderer, &self.materials.found)
    }

    /// Says what was written.
    pub fn report(&self, paper: Paper, path: &Path, pages: usize) {
        let noun = if pages == 1 { "page" } else { "pages" };
        terminal::say(&format!("wrote {} ({pages} {noun})", path.display()));
        let writer = self.writer();
        match (paper, self.laid, writer.recommended()) {
            (Paper::Care, Some(laid), _) => terminal::say(&format!("  for {}", laid.key())),
            (Paper::Proposal, _, Some(option)) => {
                terminal::say(&format!(
                    "  recommends {}, {}",
                    option.key(),
                    writer.money(option.quote.total)
                ));
                if self.input().book.invented && !self.input().job.invented {
                    terminal::say("  marked as invented: the price book says `invented = true`");
                }
            }
            (_, _, None) if writer.first().is_some() => {
                terminal::say("  the floor that comes first waits; `slableaf check` says for what")
            }
            (_, _, None) => terminal::say("  offers nothing yet; `slableaf check` says why"),
            _ => {}
        }
    }

    pub fn writer(&self) -> Writer<'a> {
        let Judged { case, findings, recommendation } = self.judged;
        Writer::new(case, findings, recommendation, &self.materials.house.words)
    }

    pub fn no_words(&self, error: &WordsError) -> Exit {
        terminal::words(error, self.materials.house.layouts())
    }
}

fn json<P: Serialize>(page: &P) -> String {
    serde_json::to_string_pretty(page).unwrap_or_default()
}
