//! Makes the customer's papers of a job: page, pictures, type.

use std::path::Path;

use serde::Serialize;
use slableaf::base::source::{Diagnostic, SourceFile, Span};
use slableaf::issued::{Agreed, IssueRecord, Options, Replaced};
use slableaf::model::job::Edition;
use slableaf::papers::after::{Handover, LaidFloor, failure_sheet, handover, laid_floors};
use slableaf::papers::change_order::change_page;
use slableaf::papers::family::{
    bid_sheet, care_sheet, care_sheets, leaflet, leaflets, what_if_sheet, years_sheet,
};
use slableaf::papers::proposal::page::Page;
use slableaf::papers::proposal::writer::Writer;
use slableaf::papers::proposal::{self, Issue, Spaces};
use slableaf::price::case::FloorOption;
use slableaf::read::{Input, read_job};
use slableaf::say::words::WordsError;
use slableaf::typeset::printable::printable;
use slableaf::typeset::{Document, Failure, Manuscript, PagesWanted};

use crate::shell::args::{JobFiles, NearFiles, Paper, PaperEdition};
use crate::shell::store::{
    Cache, INPUTS, JudgedJob, LoadedFiles, LoadedJob, OrderBasis, Originals, ShopLayouts,
    StoredRecord, agreed_of_record, basis_of_record, chosen_floor, judge_any, judge_for_work,
    nothing_offered, read_text, signed_money, writer,
};
use crate::shell::terminal::{Error, Exit, Report, Result, counted};

/// Everything that a revision is made of.
pub struct JobPapers<'a> {
    pub job: &'a LoadedJob,
    pub judged: &'a JudgedJob<'a>,
    pub drawn: Option<PagesWanted>,
    /// The floor that the care sheet is for.
    pub laid: Option<&'a FloorOption<'a>>,
    /// What the change order is made from.
    pub order: Option<&'a OrderBasis>,
    /// The agreement that a paper of the time after the work is made from.
    pub agreed: Option<&'a Agreed>,
    /// True when the leaflet has prices.
    pub prices: bool,
    /// True when large print was asked for beside the job.
    pub large_print: bool,
}

/// A paper's page data as JSON, and its document.
pub type PageAndDocument = (String, Document);

impl<'a> JobPapers<'a> {
    pub fn new(job: &'a LoadedJob, judged: &'a JudgedJob<'a>) -> Self {
        Self {
            job,
            judged,
            drawn: None,
            laid: None,
            order: None,
            agreed: None,
            prices: false,
            large_print: false,
        }
    }

    /// The same as when a recorded paper was made.
    pub fn of_record(
        job: &'a LoadedJob,
        judged: &'a JudgedJob<'a>,
        record: &IssueRecord,
    ) -> Result<Self> {
        let Options { large_print, prices, ref floor } = record.options;
        let laid = floor.as_deref().map(|floor| chosen_floor(judged, Some(floor))).transpose()?;
        let laid = laid.flatten();
        Ok(Self { laid, prices, large_print, ..Self::new(job, judged) })
    }

    /// The name of a paper's file, without its revision.
    pub fn name(&self, edition: PaperEdition) -> String {
        format!("{}-{}", self.job.input.job.number.0, edition.name())
    }

    /// The editions in which a paper is written: to print, and for a telephone where that is `wanted` beside
    /// the job or by the job itself.
    pub fn editions(&self, paper: Paper, wanted: bool) -> Vec<PaperEdition> {
        let phone = wanted || self.job.input.job.edition == Edition::Phone;
        let phone = paper.for_phone().filter(|_| phone);
        [paper.printed()].into_iter().chain(phone).collect()
    }

    /// The options of the command line that make a difference to a paper.
    pub fn options(&self, PaperEdition { paper, phone }: PaperEdition) -> Options {
        Options {
            large_print: self.large_print && !phone,
            prices: paper == Paper::Leaflet && self.prices,
            floor: self.laid.filter(|_| paper == Paper::Care).map(|laid| laid.key().0.clone()),
        }
    }

    /// Makes a paper: a draft when it has no revision.
    pub fn make(
        &self,
        edition: PaperEdition,
        revision: Option<u32>,
        replaces: Option<&Replaced>,
    ) -> Result<PageAndDocument> {
        let issue = Issue { phone: edition.phone, ..self.issue_of(revision, replaces, 0) };
        match (edition.paper, self.laid) {
            (Paper::Leaflet, _) => {
                let page = match self.spaces() {
                    Some(spaces) => leaflets(&spaces, &issue, self.prices),
                    None => leaflet(&self.writer(), &issue, self.prices),
                };
                self.set(edition, page, false, revision)
            }
            (Paper::Care, Some(laid)) => {
                self.set(edition, care_sheet(&self.writer(), laid, &issue), false, revision)
            }
            (Paper::ChangeOrder, _) => {
                let unasked = || Error::new(Exit::Bug, "a change order without what was agreed");
                let basis = self.order.ok_or_else(unasked)?;
                let spaces = basis.signed.job.of_spaces();
                let signed = judge_for_work(&basis.signed, &spaces)?;
                let words = &self.job.layouts.words;
                let was = signed.work_state(&basis.signed.job, words);
                if was.floors.is_empty() {
                    let floor = &basis.order.before.floor;
                    let message = format!("the job that was signed has no floor `{floor}`");
                    return Err(Error::new(Exit::Input, message));
                }
                let is = self.judged.work_state(&self.job.input.job, words);
                let page = change_page(&self.writer(), &basis.order, &was, &is, &issue);
                self.set(edition, page, false, revision)
            }
            (Paper::WhatIf | Paper::Years, _) if !self.job.input.job.spaces.is_empty() => {
                let message = "this sheet is for a job of one space";
                Err(Error::new(Exit::Input, message)
                    .help("write the space that it is asked for as a job of its own"))
            }
            (Paper::WhatIf, _) => {
                let page = what_if_sheet(&self.writer(), &self.job.input, &issue);
                self.set(edition, page, false, revision)
            }
            (Paper::Years, _) => {
                let page = years_sheet(&self.writer(), &issue).transpose();
                self.set(edition, page.ok_or_else(nothing_offered)?, false, revision)
            }
            (Paper::Bids, _) => {
                let page = bid_sheet(&self.writer(), &issue).transpose().ok_or_else(|| {
                    Error::new(Exit::Input, "the job has no bid of another firm").help(
                        "write what a bid says under `[[bid]]`, and leave out what it does not say",
                    )
                })?;
                self.set(edition, page, false, revision)
            }
            (Paper::Care, None) if self.spaces().is_some() => {
                let sheets =
                    self.spaces().and_then(|spaces| care_sheets(&spaces, &issue).transpose());
                self.set(edition, sheets.ok_or_else(nothing_offered)?, false, revision)
            }
            (Paper::FailureSheet, _) => {
                let (w, spaces, job) = (self.writer(), self.spaces(), &self.job.input.job);
                let (floors, _) = self.laid_floors(&w, spaces.as_ref())?;
                let issue = Issue { photos: job.photos.len(), ..issue };
                self.set(edition, failure_sheet(&w, job, &floors, &issue), true, revision)
            }
            (Paper::Handover, _) => {
                let photos = self.job.input.job.photos.len();
                let page = self.handover(&Issue { photos, ..issue })?;
                self.set(edition, Ok(page), true, revision)
            }
            (Paper::Proposal | Paper::Care, _) => {
                let photos = self.job.input.job.photos.len();
                let page = self.page(&Issue { photos, ..issue })?;
                self.set(edition, Ok(page), true, revision)
            }
        }
    }

    /// The page of a handover; the words of a mail come from it.
    pub fn handover_page(
        &self,
        revision: Option<u32>,
        replaces: Option<&Replaced>,
    ) -> Result<Handover> {
        let photos = self.job.input.job.photos.len();
        self.handover(&self.issue_of(revision, replaces, photos))
    }

    fn handover(&self, issue: &Issue) -> Result<Handover> {
        let (w, spaces, job) = (self.writer(), self.spaces(), &self.job.input.job);
        let (floors, agreed) = self.laid_floors(&w, spaces.as_ref())?;
        handover(&w, job, &floors, agreed, issue).map_err(|error| self.no_words(&error))
    }

    /// The floors as they were laid, and what was agreed.
    fn laid_floors<'s>(
        &'s self,
        w: &'s Writer<'s>,
        spaces: Option<&'s Spaces<'s>>,
    ) -> Result<(Vec<LaidFloor<'s, 's>>, &'s Agreed)> {
        let missing = || Error::new(Exit::Bug, "a paper after the work without what was agreed");
        let agreed = self.agreed.ok_or_else(missing)?;
        let floors = laid_floors(w, spaces, agreed);
        if floors.is_empty() {
            let message = format!("the job that was signed has no floor `{}`", agreed.floor);
            return Err(Error::new(Exit::Input, message));
        }
        Ok((floors, agreed))
    }

    /// Typesets a page, with the job's photos or without.
    fn set<P: Serialize>(
        &self,
        edition: PaperEdition,
        page: Result<P, WordsError>,
        with_photos: bool,
        revision: Option<u32>,
    ) -> Result<PageAndDocument> {
        let page = page.map_err(|error| self.no_words(&error))?;
        let document = self.typeset(edition, &page, with_photos, revision)?;
        Ok((serde_json::to_string_pretty(&page).unwrap_or_default(), document))
    }

    /// The page of a proposal; the words of a mail come from it.
    pub fn proposal_page(
        &self,
        revision: Option<u32>,
        replaces: Option<&Replaced>,
    ) -> Result<Page> {
        let photos = self.job.input.job.photos.len();
        self.page(&self.issue_of(revision, replaces, photos))
    }

    /// The page of a proposal, of one space or of several.
    fn page(&self, issue: &Issue) -> Result<Page> {
        let page = match self.spaces() {
            Some(spaces) => proposal::page_of_spaces(&spaces, issue),
            None => proposal::page(&self.writer(), issue),
        };
        page.map_err(|error| self.no_words(&error))
    }

    fn issue_of(&self, revision: Option<u32>, replaces: Option<&Replaced>, photos: usize) -> Issue {
        let has_logo = self.job.input.shop.logo.is_some();
        Issue { revision, replaces: replaces.cloned(), has_logo, photos, ..Issue::default() }
    }

    fn typeset<P: Serialize>(
        &self,
        edition: PaperEdition,
        page: &P,
        with_photos: bool,
        revision: Option<u32>,
    ) -> Result<Document> {
        let number = &self.job.input.job.number.0;
        let manuscript = Manuscript {
            kind: edition.paper.kind(),
            page,
            pictures: self.job.originals.pictures(with_photos),
            date: self.job.input.job.date,
            identity: format!("{number} {} {}", edition.name(), revision.unwrap_or(0)),
            drawn: self.drawn,
        };
        typeset(manuscript, &self.job.layouts, &self.job.files, Some(&self.job.originals))
    }

    /// Adds to a report which paper was written.
    pub fn say_written(
        &self,
        edition: PaperEdition,
        path: &Path,
        pages: usize,
        report: &mut Report,
    ) {
        report.say(format!("wrote {} ({})", path.display(), counted(pages, "page")));
        if edition.phone {
            report.say("  the same on narrow pages for a telephone");
            return;
        }
        let writer = self.writer();
        if let (Paper::Proposal, Some(spaces)) = (edition.paper, self.spaces()) {
            for (name, w) in spaces.named() {
                report.say(match (w.recommended(), w.first()) {
                    (Some(floor), _) => {
                        let total = w.money(floor.quote.total);
                        format!("  {name}: recommends {}, {total}", floor.key())
                    }
                    (None, Some(floor)) => format!("  {name}: {} waits", floor.key()),
                    (None, None) => format!("  {name}: offers nothing yet"),
                });
            }
            report.say(format!("  in all {}", writer.money(spaces.total())));
            return;
        }
        match (edition.paper, self.laid, writer.recommended()) {
            (Paper::Care, Some(laid), _) => report.say(format!("  for {}", laid.key())),
            (Paper::ChangeOrder, ..) => {
                if let Some(OrderBasis { order, .. }) = self.order {
                    let change = signed_money(order.change, &writer.figures);
                    let total = writer.money(order.after.total());
                    report.say(format!("  {change}; the new price is {total}"));
                }
            }
            (Paper::Handover | Paper::FailureSheet, ..) => {}
            (Paper::Proposal, _, Some(option)) => {
                let total = writer.money(option.quote.total);
                report.say(format!("  recommends {}, {total}", option.key()));
                if self.job.input.book.invented && !self.job.input.job.invented {
                    report.say("  marked as invented: the price book says `invented = true`");
                }
            }
            (_, _, None) if writer.first().is_some() => {
                report.say("  the floor that comes first waits; `slableaf check` says for what")
            }
            (_, _, None) => report.say("  offers nothing yet; `slableaf check` says why"),
            _ => {}
        }
    }

    pub fn writer(&self) -> Writer<'a> {
        writer(self.judged.first(), &self.job.layouts.words)
    }

    /// What the pages are written from where the job has several spaces.
    pub fn spaces(&self) -> Option<Spaces<'a>> {
        self.judged.spaces(&self.job.layouts.words)
    }

    pub fn no_words(&self, error: &WordsError) -> Error {
        Error::words(error, self.job.layouts.layouts())
    }
}

/// Renders a recorded paper from its own inputs.
pub fn make_again(
    stored: &StoredRecord,
    cache: &Cache,
    drawn: Option<PagesWanted>,
) -> Result<PageAndDocument> {
    make_again_with(stored, cache, drawn, |_| Ok(())).map(|(made, ())| made)
}

/// The same, and something beside it that is made of what the paper is made of.
pub fn make_again_with<T>(
    stored: &StoredRecord,
    cache: &Cache,
    drawn: Option<PagesWanted>,
    work: impl FnOnce(&JobPapers<'_>) -> Result<T>,
) -> Result<(PageAndDocument, T)> {
    let record = &stored.record;
    let Some(edition) = PaperEdition::all().find(|edition| edition.name() == record.kind) else {
        return Err(Error::new(Exit::Files, format!("no paper is called `{}`", record.kind)));
    };
    let mut job = job_of_record(stored, cache)?;
    let basis = match edition.paper {
        Paper::ChangeOrder => Some(basis_of_record(stored, &mut job.input, cache)?),
        _ => None,
    };
    let agreed = if edition.paper.is_after_work() {
        Some(agreed_of_record(stored, edition.paper, &mut job.input, cache)?)
    } else {
        None
    };
    let spaces = job.input.job.of_spaces();
    let judged = match edition.paper {
        Paper::ChangeOrder => judge_for_work(&job.input, &spaces)?,
        _ => judge_any(&job.input, &spaces)?,
    };
    let (agreed, order) = (agreed.as_ref(), basis.as_ref());
    let of_record = JobPapers::of_record(&job, &judged, record)?;
    let papers = JobPapers { agreed, drawn, order, ..of_record };
    let made = papers.make(edition, Some(record.revision), record.replaces.as_ref())?;
    Ok((made, work(&papers)?))
}

/// The job that a record keeps, read in the same way as a job's own files.
pub fn job_of_record(stored: &StoredRecord, cache: &Cache) -> Result<LoadedJob> {
    let file = |name: &str| stored.folder.join(INPUTS).join(name);
    let near = NearFiles { book: Some(file("book.toml")), shop: Some(file("shop.toml")) };
    let mut job = LoadedJob::read(&JobFiles { job: file("job.toml"), near }, cache)?;
    job.set_print(stored.record.options.large_print);
    Ok(job)
}

/// Reads the text files in the folder of a record, without its pictures.
pub fn input_of_record(folder: &Path, cache: &Cache) -> Result<Input> {
    let inputs = folder.join(INPUTS);
    let (source, _) = read_text(&inputs.join("job.toml"))?;
    let shared = cache.shared_files_of_record(&inputs)?;
    shared.join(&source, read_job(&source), None)
}

/// Typesets a document, with a stand-in for what no face prints.
///
/// # Errors
/// The reason why it cannot be done, with the place in the files that were read. `originals` has the places of
/// its pictures.
pub fn typeset<P: Serialize>(
    manuscript: Manuscript<'_, P>,
    shop: &ShopLayouts,
    read: &LoadedFiles,
    originals: Option<&Originals>,
) -> Result<Document> {
    let Manuscript { kind, page, pictures, date, identity, drawn } = manuscript;
    let page = printable(page, shop.faces(), &shop.words.figures.stand_in)
        .map_err(|error| Error::new(Exit::Bug, error.to_string()))?;
    let renderer = &shop.renderer;
    let manuscript = Manuscript { kind, page: &page, pictures, date, identity, drawn };
    shop.pdf(manuscript)?.map_err(|failure| {
        let layouts = || renderer.layouts().source_files("");
        let error = match &failure {
            Failure::Layout(faults) => Error::problems(faults.clone(), layouts()),
            Failure::Pictures(faults) => {
                let problems = originals.map_or_else(Vec::new, |all| all.problems(faults));
                return Error::problems(problems, read.all());
            }
            Failure::Uncovered { character, .. } => {
                let files = [read.all(), layouts()].concat();
                match first_place(*character, &files) {
                    Some(span) => {
                        let message = failure.to_string();
                        let (message, help) = message.rsplit_once("; ").unwrap_or((&message, ""));
                        let problem = Diagnostic::at(&span, message).help(help);
                        Error::problems(vec![problem], files)
                    }
                    None => Error::new(Exit::Paper, failure.to_string()),
                }
            }
            _ => Error::new(Exit::Paper, failure.to_string()),
        };
        error.exit(Exit::Paper)
    })
}

/// The first place of a character in files; `None` where it was written as an escape.
fn first_place(character: char, files: &[SourceFile]) -> Option<Span> {
    files.iter().find_map(|file| {
        let at = file.text.find(character)?;
        Some(Span { file: file.name.clone(), bytes: at..at + character.len_utf8() })
    })
}
