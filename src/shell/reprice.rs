//! `reprice`: which proposals below a folder are wrong by new prices, by how much and why; and new
//! revisions of those that are open.

use std::path::{Path, PathBuf};

use jiff::civil::Date;
use slableaf::base::source::SourceFile;
use slableaf::read::glance::glance;
use slableaf::read::job_text::with_date;
use slableaf::read::{self, Input, read_job};
use slableaf::reprice::{self, JobState, Outcome, Repriced, Side, assess, sheet};
use slableaf::results::reprice::RepriceForm;

use crate::shell::args::{JobFiles, NearFiles, Paper, Reprice, RepriceFormat};
use crate::shell::desk::Desk;
use crate::shell::folder::{self, Bundle, Candidate, Shelf};
use crate::shell::hands::{each, each_alone};
use crate::shell::materials::Materials;
use crate::shell::prices::prices;
use crate::shell::records::{Records, highest};
use crate::shell::stock::Stock;
use crate::shell::texts::shown;
use crate::shell::{Exit, batch, files, terminal};

pub fn reprice(wanted: &Reprice) -> Exit {
    repriced(wanted).unwrap_or_else(|exit| exit)
}

fn repriced(wanted: &Reprice) -> Result<Exit, Exit> {
    let on = wanted.on.unwrap_or_else(|| jiff::ZonedDateTime::now().date());
    if let Some(book) = &wanted.book {
        loads(book)?;
    }
    let candidates = batch::listed(&wanted.jobs)?;
    let Reprice { book, new_date, .. } = wanted;
    let round = Round { book: book.as_deref(), on, new_date: *new_date, shelf: Shelf::default() };
    let hands = wanted.jobs.hands();
    let mut outcomes = round.all(&candidates, hands);
    if !wanted.dry_run {
        let stock = Stock::default();
        let written = each_alone(&outcomes, hands, |one| rewrite(one, wanted, on, &stock));
        for (outcome, written) in outcomes.iter_mut().zip(written) {
            match written {
                Ok(written) => outcome.written = written.map(|path| shown(&path)),
                Err(why) => outcome.trouble = why,
            }
        }
    }
    match wanted.format {
        RepriceFormat::Table => println!("{}", prices(&outcomes, wanted.dry_run)),
        RepriceFormat::Json => println!("{}", terminal::json(&RepriceForm::of(&outcomes, on))),
        RepriceFormat::Csv => print!("{}", sheet(&outcomes)),
    }
    if let Some(book) = &wanted.book
        && outcomes.iter().any(|outcome| outcome.written.is_some())
        && !candidates.iter().all(|one| one.book.as_ref().is_some_and(|own| is_same(own, book)))
    {
        terminal::help("`write` takes each job's own book: put the new one in its place");
    }
    let trouble = outcomes.iter().any(|outcome| !outcome.trouble.is_empty());
    Ok(if trouble { Exit::Partly } else { Exit::Fine })
}

fn is_same(one: &Path, other: &Path) -> bool {
    let real = |path: &Path| std::fs::canonicalize(path).ok();
    real(one).is_some_and(|one| Some(one) == real(other))
}

/// Refuses a new book that does not load, before every job says so.
fn loads(book: &Path) -> Result<(), Exit> {
    let file = folder::read_text(book).map_err(|why| {
        terminal::error(&why);
        Exit::Input
    })?;
    read::read_book(&file).map(drop).map_err(|problems| {
        terminal::problems(&problems, &[file]);
        Exit::Input
    })
}

// ------------------------------------------------------------------------------------ working out

/// One run over many jobs.
struct Round<'a> {
    /// The new book; without it every job is held against what was issued last.
    book: Option<&'a Path>,
    on: Date,
    /// New papers are dated on that day.
    new_date: bool,
    shelf: Shelf,
}

impl Round<'_> {
    /// Works out the jobs among some files, on all cores, in the order of the files.
    fn all(&self, candidates: &[Candidate], hands: usize) -> Vec<Outcome> {
        each(candidates, hands, |candidate| self.one(candidate)).into_iter().flatten().collect()
    }

    /// One file: `None` when it is no job.
    fn one(&self, candidate: &Candidate) -> Option<Outcome> {
        let mut outcome = Outcome {
            path: shown(&candidate.path),
            number: String::new(),
            state: JobState::Unreadable,
            prices: None,
            trouble: String::new(),
            written: None,
        };
        let named_as_job = candidate.path.file_name().is_some_and(|name| name == "job.toml");
        let source = match folder::read_text(&candidate.path) {
            Ok(source) => source,
            Err(why) => {
                outcome.trouble = why;
                return named_as_job.then_some(outcome);
            }
        };
        let accepted = match glance(&source.text) {
            Some(seen) => {
                outcome.number = terminal::printable(&seen.number);
                seen.accepted
            }
            // A job that is no longer TOML is still meant as one.
            None if named_as_job => false,
            None => return None,
        };
        match self.sides(candidate, &source, &outcome.number) {
            Err(why) => outcome.trouble = why,
            Ok((before, after)) => match assess(before.as_ref(), &after, self.on, accepted) {
                Ok((state, prices)) => {
                    outcome.state = state;
                    outcome.prices = Some(prices);
                }
                Err(why) => outcome.trouble = format!("{}: {why}", source.name),
            },
        }
        Some(outcome)
    }

    /// The job as it was offered, and as it is to be.
    fn sides(
        &self,
        candidate: &Candidate,
        source: &SourceFile,
        number: &str,
    ) -> Result<(Option<Input>, Input), String> {
        let near = |path: &Option<PathBuf>, kind: &str| {
            path.clone().ok_or_else(|| {
                format!("no `{kind}.toml` in the folder of {} or any folder above it", source.name)
            })
        };
        let shop = near(&candidate.shop, "shop")?;
        let (own, new) = match self.book {
            Some(new) => (near(&candidate.book, "book")?, new.to_owned()),
            None => {
                let own = near(&candidate.book, "book")?;
                (own.clone(), own)
            }
        };
        let read = read_job(source);
        let mut after = joined(&*self.shelf.bundle(&new, &shop)?, source, |bundle| {
            bundle.shared.join(read.clone(), Some(self.on))
        })?;
        if self.new_date {
            after.job.date = after.job.date.max(self.on);
        }
        let before = if self.book.is_some() {
            let bundle = self.shelf.bundle(&own, &shop)?;
            Some(joined(&bundle, source, |bundle| bundle.shared.join(read, None))?)
        } else {
            self.issued(&candidate.path, number)?
        };
        Ok((before, after))
    }

    /// The inputs of a job's latest proposal, as they were kept beside it; `None` when none was.
    fn issued(&self, job: &Path, number: &str) -> Result<Option<Input>, String> {
        let records = files::folder_of(job).join("records");
        let Some(inputs) = latest(&records, number).map(|record| record.join("inputs")) else {
            return Ok(None);
        };
        let source = folder::read_text(&inputs.join("job.toml"))?;
        let bundle = self.shelf.read(&inputs.join("book.toml"), &inputs.join("shop.toml"))?;
        joined(&bundle, &source, |bundle| bundle.shared.join(read_job(&source), None)).map(Some)
    }
}

/// An input, or the first thing that is wrong with it.
fn joined(
    bundle: &Bundle,
    source: &SourceFile,
    join: impl FnOnce(&Bundle) -> Result<Input, Vec<slableaf::base::source::Diagnostic>>,
) -> Result<Input, String> {
    join(bundle).map_err(|problems| {
        let files: Vec<&SourceFile> = std::iter::once(source).chain(&bundle.files).collect();
        folder::in_a_line(&problems, &files)
    })
}

/// The record of a job's latest proposal: the folder `NUMBER-proposal-rN` of the highest N.
fn latest(records: &Path, number: &str) -> Option<PathBuf> {
    let stem = format!("{number}-proposal");
    let revision = highest(records, &stem, "").ok().filter(|revision| *revision > 0)?;
    Some(records.join(format!("{stem}-r{revision}")))
}

// ---------------------------------------------------------------------------------------- writing

/// Writes a new revision of an open job whose price has changed; says which paper, or what was wrong.
fn rewrite(
    outcome: &Outcome,
    wanted: &Reprice,
    on: Date,
    stock: &Stock,
) -> Result<Option<PathBuf>, String> {
    let changed = outcome.prices.as_ref().filter(|prices| prices.changed());
    let (Some(prices), JobState::Open) = (changed, outcome.state) else {
        // What was wrong before stays so.
        return if outcome.trouble.is_empty() { Ok(None) } else { Err(outcome.trouble.clone()) };
    };
    let job = Path::new(&outcome.path);
    let revised = || {
        let book = wanted.book.as_deref();
        let (revised, said) = terminal::kept(|| revise(job, book, &prices.repriced, stock));
        // The first line says what was wrong; the rest is advice for a single job.
        let first = said.complaints.lines().next().map(str::to_owned);
        revised.map_err(|why| first.map_or(why, |line| line.replace("error: ", "")))
    };
    let written = if wanted.new_date { dated(job, on, revised) } else { revised() };
    written.map_err(|why| format!("{}: {why}", outcome.path))
}

/// Sets the date of a job, unless it is a later one, and does what is to be done with it; puts the
/// file back as it was when that cannot be done.
fn dated<T>(job: &Path, on: Date, make: impl FnOnce() -> Result<T, String>) -> Result<T, String> {
    let cannot = |_: Exit| "its date could not be set".to_owned();
    let was = folder::read_text(job)?.text;
    let no_date = || "it has no `date` that could be set".to_owned();
    let later = glance(&was).and_then(|seen| seen.date).is_some_and(|date| date >= on);
    if later {
        return make();
    }
    let is = with_date(&was, on).ok_or_else(no_date)?;
    files::keep(job, is.as_bytes(), true).map_err(cannot)?;
    let made = make();
    if made.is_err() {
        files::keep(job, was.as_bytes(), true).map_err(cannot)?;
    }
    made
}

/// Writes the proposal of a job as `write` does, without a word of success. `None` when its latest
/// revision is the same to the byte. Either the whole paper is written or nothing of it, and
/// nothing that has other prices than were listed.
fn revise(
    job: &Path,
    book: Option<&Path>,
    listed: &Repriced,
    stock: &Stock,
) -> Result<Option<PathBuf>, String> {
    let near = NearFiles { book: book.map(Path::to_owned), shop: None };
    let wanted = JobFiles { job: job.to_owned(), near };
    let cannot = |_: Exit| "its new paper could not be written".to_owned();
    let materials = Materials::read(&wanted, stock).map_err(cannot)?;
    let judged = files::judged(&materials.input).map_err(cannot)?;
    let now = reprice::reprice(None, Side { input: &materials.input, judged: &judged });
    if !now.offers_as(listed) {
        return Err(format!(
            "the new price is for papers of a later day than {}; to write them, add `--new-date`",
            materials.input.job.date
        ));
    }
    issued(&Desk::new(&materials, &judged)).map_err(cannot)
}

fn issued(desk: &Desk<'_>) -> Result<Option<PathBuf>, Exit> {
    let found = &desk.materials.found;
    let papers = found.folder(None, "papers", "--out")?;
    files::may_hold_papers(&papers)?;
    let records = found.folder(None, "records", "--records")?;
    let records = Records::open(records, &desk.input().job.number.0)?;
    let issued = desk.issue(Paper::Proposal, &records, &papers)?;
    Ok(issued.is_new.then_some(issued.path))
}
